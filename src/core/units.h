#ifndef ST_CORE_UNITS_H
#define ST_CORE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

#include "status.h"

/* The one table of units: everything that people write is turned into base units here and nowhere else.
 *
 * Base units: g (mass), mL (volume), 1 (pieces), K (temperature), s (time), % vol at 20 C (strength). */

enum st_dimension {
    ST_DIM_MASS,
    ST_DIM_VOLUME,
    ST_DIM_PIECE,
    ST_DIM_TEMPERATURE,
    ST_DIM_TIME,
    ST_DIM_STRENGTH,
    ST_DIM_OPEN /* no fixed quantity ("to taste"); as a wish in st_unit_match: any dimension */
};

/* Whose measures.  NONE on a unit: the same everywhere; as a declaration: not declared. */
enum st_measures { ST_MEASURES_NONE, ST_MEASURES_US, ST_MEASURES_METRIC, ST_MEASURES_IMPERIAL };

/* The tool a unit implies; its tolerance is the business of model/amount.h. */
enum st_tool {
    ST_TOOL_NONE,
    ST_TOOL_CUP,
    ST_TOOL_TABLESPOON,
    ST_TOOL_TEASPOON,
    ST_TOOL_JIGGER,
    ST_TOOL_JUG,
    ST_TOOL_SCALE,
    ST_TOOL_BOTTLE,
    ST_TOOL_DROPPER,
    ST_TOOL_COUNT_PIECES,
    ST_TOOL_HAND,
    ST_TOOL_VESSEL,
    ST_NTOOL
};

/* How a value in the unit becomes a base value. */
enum st_scale {
    ST_SCALE_LINEAR,  /* base = value*factor + offset */
    ST_SCALE_PROOF,   /* US proof, twice the % vol at 60 F: through the density of ethanol-water (strength.h) */
    ST_SCALE_MASS_PCT /* % mass of an unsweetened spirit: likewise */
};

/* Marks: 'd' by definition of its base, 'r' read in the source named, 'm' from memory, 'p' common practice without
 * source. */
struct st_unit {
    const char *key;     /* unique, ASCII, never shown: "cup_us" */
    const char *name;    /* singular as printed */
    const char *plural;  /* as printed */
    const char *aliases; /* what people write besides key, name and plural; parted by '|' */
    enum st_dimension dim;
    enum st_measures system; /* NONE: one size everywhere */
    enum st_tool tool;
    enum st_scale scale;
    double factor;    /* to the base unit; the nominal 0.5 and 1 for ST_SCALE_PROOF and ST_SCALE_MASS_PCT */
    double low, high; /* factor as met in practice (vague measures); both equal to factor when exact */
    double offset;    /* base units; zero but for temperatures */
    const char *source;
    char mark;
};

/* The table: number of rows, row i (NULL past the end), the row with this key (NULL if none; exact, case counts). */
size_t st_unit_count(void);
const struct st_unit *st_unit_at(size_t i);
const struct st_unit *st_unit_by_key(const char *key);

/* Which units a written word can mean.
 *
 * Given:
 *   text, n   the word as written, n bytes of UTF-8, no terminator needed
 *   declared  measures the writer declared, or ST_MEASURES_NONE
 *   want      dimension wanted, or ST_DIM_OPEN for any
 *   max       room in out
 * Returned:
 *   out[]     the candidates in table order, at most one for each dimension and system
 * Result:
 *   how many candidates there are (it may exceed max): 0 unknown, 1 clear, more: ask, or narrow by `want`.
 * Notes:
 *   1. If the declared system, or no system (NONE), has a unit of that name in a dimension, other systems' units of
 *      that dimension are left out.  "pint" under metric measures stays two candidates: nobody declared which.
 *   2. Letter case is ignored, but for words of one letter: "T" is a tablespoon, "t" a teaspoon, "C" Celsius, "c" a
 *      cup.  Dots are ignored; space, hyphen and underscore are alike.  A final "s" is tried away.
 *   3. "oz" can be the ounce weight or a fluid ounce: two dimensions, so the caller decides by the ingredient.
 */
size_t st_unit_match(const char *text, size_t n, enum st_measures declared, enum st_dimension want,
                     const struct st_unit *out[], size_t max);

/* A value in unit u into base units, and back.
 *
 * Given:
 *   u         a row of the table
 *   x         the value, finite; may be negative for temperatures only
 * Returned:
 *   *base     g, mL, 1, K, s or % vol; untouched when the status is negative
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN  x negative (temperatures: below absolute zero), above the pure spirit (strengths), NaN or infinite
 * Notes:
 *   1. US proof and % mass are turned through the density of ethanol-water, so they mean an unsweetened spirit.
 *   2. A gas mark is nominal: 25 F a mark from 1 = 275 F; marks below 1 do not follow the line and are refused.
 */
enum st_status st_unit_to_base(const struct st_unit *u, double x, double *base);
enum st_status st_unit_from_base(const struct st_unit *u, double base, double *x);

/* The range in base units that x of a vague unit may mean.  *low = *high when the unit is exact.
 * Status as st_unit_to_base. */
enum st_status st_unit_range(const struct st_unit *u, double x, double *low, double *high);

/* True when low and high of the unit differ: "handful", "dash", "month". */
bool st_unit_is_vague(const struct st_unit *u);

/* "g", "mL", "", "K", "s", "% vol", "": static text. */
const char *st_dimension_base(enum st_dimension dim);

#endif
