#ifndef ST_MODEL_AMOUNT_H
#define ST_MODEL_AMOUNT_H

#include <stdbool.h>

#include "core/units.h"

/* A figure that is not sharply known: low and high hold 19 cases of 20 (the 2.5 and 97.5 % points), value is
 * the middle (median).  Drawn as a split normal through the three points, clipped to lo_clip..hi_clip. */
struct st_range {
    double value, low, high;
    bool known;         /* false: nobody told; never read value then */
    char mark;          /* 'r' read in a source, 'm' from memory, 'c' computed, 'p' common practice no source, 'u' the user's own */
    const char *source; /* key or words; lent by whoever owns the range; "" when none */
};

/* An amount as a maker wrote it.  Mass in g, volume in mL at 20 C, pieces as counted, time in s, temperature in K,
 * strength in % vol.  low..high is the writer's own range ("1-2 weeks"), low == value == high when none. */
struct st_amount {
    enum st_dimension dim;
    double value, low, high;      /* in the base unit of dim */
    double written;               /* the number as written, in the unit as written (1.5 for "1 1/2 cup") */
    const struct st_unit *unit;   /* as written; NULL for bare counts and open amounts */
    enum st_tool tool;            /* what it was measured with */
    double fills;                 /* how often the tool was filled: 3 for "3 cups", 2 for "1 1/2 cup" (a cup, a half cup) */
    bool vague;                   /* "about", "a pinch", "a handful": range given above */
    bool heaped, scant;           /* spoon or cup; value is the level measure when low == high, else the range holds it */
    bool make_up_to;              /* "water to 1000 mL": the total, not the addition */
    enum st_open { ST_CLOSED, ST_OPEN_COVER, ST_OPEN_FILL, ST_OPEN_TASTE, ST_OPEN_TOP_UP, ST_OPEN_SOME } open;
    double fill_share;            /* ST_OPEN_FILL: share of the vessel, e.g. 2/3, "to the shoulder" 0.85 (range in low/high);
                                   * value is then the vessel's volume, mL, when the words tell it ("a 2 L jar"), else 0 */
};

/* How wrong a tool may be.  scale: one relative error common to every use of the same tool (rectangular half
 * width); fill: relative error of one filling (rectangular half width, new for each filling); step: absolute
 * half width of one reading in g, mL or pieces (rectangular, applied twice for a scale: zero and load). */
struct st_tolerance {
    double scale, fill, step;
    char mark;
    const char *source;
};

/* What the maker declares about own tools; zero fields take the defaults of st_tolerance_default(). */
struct st_tools {
    struct st_tolerance of[ST_NTOOL];
    bool given[ST_NTOOL];
    double scale_digit_g; /* resolution of the kitchen scale, default 1 g */
};

/* Default tolerance of a tool kind for an amount of the given size (g or mL); sources in the table. */
struct st_tolerance st_tolerance_default(enum st_tool tool, double size);

/* Name of a tool as said in advice: "cup", "kitchen scale", "bottle as sold", ... */
const char *st_tool_name(enum st_tool tool);

#endif
