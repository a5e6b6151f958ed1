#ifndef ST_MODEL_TOAST_H
#define ST_MODEL_TOAST_H

#include "core/toasting.h"
#include "model/foresee.h"
#include "model/jar.h"

/* What a recipe's toast step does to its pieces: how warm they get inside, and how much toasted flavour that is, to be
 * compared with another toast.
 *
 * Nothing of this header may be used for a bound, a caution or a marker: toasting lowers none (core/cyanogen.h). */

enum { ST_TOAST_PIECES = 32, ST_TOAST_TIMES = 11, ST_TOAST_DRAWS = 400 };

/* What gives the heat.  All of it from memory, W/(m2 K): still oven air 10..25 (middle 16), moved air 15..45 (26), a
 * dry pan by contact, with stirring, 20..150 (55); nobody said: all of these. */
enum st_toast_way { ST_TOAST_UNSAID, ST_TOAST_OVEN, ST_TOAST_FAN, ST_TOAST_PAN, ST_NTOAST };
const char *st_toast_way_name(enum st_toast_way w); /* "oven", "fan oven", "pan"; "" when unsaid */
struct st_range st_toast_heat(enum st_toast_way w);

/* Why there are no figures of a piece. */
enum st_toast_why {
    ST_TOAST_RECKONED,
    ST_TOAST_NO_TEMPERATURE,
    ST_TOAST_NO_TIME,
    ST_TOAST_NEITHER,
    ST_TOAST_WET,     /* more than a fifth water: it stays near 100 C until that is gone */
    ST_TOAST_NO_SIZE, /* no row of the sheet of habits has its kind */
    ST_TOAST_MADE,    /* what an earlier step made that is no toast */
    ST_TOAST_OUTSIDE, /* beyond what core/toasting.h takes: -20..300 C, a day */
    ST_NTOAST_WHY
};

struct st_toast_piece {
    int step, line;                   /* of the recipe: where it was put in */
    const struct st_ingredient *what; /* NULL with ST_TOAST_MADE */
    const char *name;                 /* of the ingredient, or of the step that made it */
    bool again;                       /* an earlier toast step had it before; this is of the later one alone */
    enum st_cut cut;
    bool cut_said;
    enum st_body body;
    struct st_spread half_m; /* half thickness or radius, with its spread */
    enum st_toast_why why;
    bool cyanogenic; /* the sheet has that caution; amygdalin: with amygdalin in it */
    bool amygdalin;
    /* with ST_TOAST_RECKONED: */
    struct st_interval core_K;  /* when it comes out */
    struct st_interval index;   /* 1: ten minutes at 150 C inside */
    double t_s[ST_TOAST_TIMES]; /* from 0 to the middle of the time told */
    struct st_interval path_K[ST_TOAST_TIMES];
    double left_low, left_high; /* share of amygdalin that may be left; only where amygdalin */
};

struct st_toast_told {
    int step;
    enum st_toast_way way;
    struct st_range temperature_K; /* as told */
    struct st_amount time;
    int n_piece, more; /* more: pieces there was no room for */
    struct st_toast_piece piece[ST_TOAST_PIECES];
};

/* One toast step.
 *
 * Given:
 *   books     habits, and the reader of cuts (NULL: as bought)
 *   r, step   a step of kind ST_DO_TOAST
 *   way       what gives the heat (text/toast_words.h reads it)
 *   seed      of the draws
 * Returned:
 *   *out      each solid of the step, and of toast steps that it takes from
 * Status:
 *   ST_ESTIMATED   always, where anything was reckoned
 *   ST_E_REFUSED   the step is no toast
 * Notes:
 *   1. The oven or pan is as hot as told from the first moment to the last (preheated); a range of temperature or time
 *      is drawn from.  A temperature or time that nobody told is not invented: the piece then has no figures.
 *   2. A piece begins at 20 C and lies in one layer, heat from all sides: a ball of radius a warms as a slab of half
 *      thickness a/3, a rod as one of a/2 (volume over face).
 *   3. 95 % intervals from ST_TOAST_DRAWS draws of heat transfer, size, density, heat capacity, temperature, time and
 *      activation energy.  Heat capacity 1700..2900 (middle 2000) and density 900..1100 (1000), from memory; the upper
 *      end of the first holds the heat that a twentieth of water takes away with it.
 *   4. left_low is of the hottest and longest toast told, left_high of the coolest and shortest with the slowest piece:
 *      ends, no quantiles.
 * Source: core/toasting.h.  Checks: tests/unit/test_toast.c */
enum st_status st_toast_step(const struct st_jar_books *books, const struct st_recipe *r, int step,
                             enum st_toast_way way, uint64_t seed, struct st_toast_told *out);

/* Toast steps from which something comes into this step, directly or by other steps, in order: how many were put into
 * toast[max]. */
int st_toasts_for(const struct st_recipe *r, int step, int toast[], int max);

#endif
