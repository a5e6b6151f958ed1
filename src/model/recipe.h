#ifndef ST_MODEL_RECIPE_H
#define ST_MODEL_RECIPE_H

#include "model/assay.h"
#include "model/ingredient.h"
#include "model/problem.h"

/* A recipe as read: plain structs, owned by whoever read them (one arena); nothing here is computed. */

enum st_do { ST_DO_TOAST, ST_DO_STEEP, ST_DO_SYRUP, ST_DO_BLEND, ST_DO_REST, ST_DO_RACK, ST_DO_FINE, ST_DO_FILTER, ST_DO_BOTTLE, ST_NDO };
const char *st_do_name(enum st_do d); /* "toast" ... */

/* What of an earlier step is taken. */
enum st_part_of { ST_LIQUOR, /* what was strained off, or the liquid */ ST_SPENT /* the drained fruit or spice, with the liquor it keeps */ };

struct st_line {
    struct st_place at;
    const char *text;                 /* the maker's own words */
    const char *said;                 /* what a pasted recipe said here, before it was read as `text`; "" or NULL: none.  Only kept */
    const struct st_ingredient *what; /* NULL when it takes from a step */
    int from_step;                    /* index of an earlier step, or -1 */
    enum st_part_of part;
    struct st_amount amount;          /* from a step: dim ST_DIM_OPEN/ST_OPEN_SOME means all of it,
                                       * dim ST_DIM_PIECE that share of what the step gave ("half of jar": 0.5) */
    struct st_range strength;         /* "vodka 40 %": known when written on the line */
    bool gross;                       /* weighed as bought (with stones, peel); net otherwise */
    bool weighing_unsaid;             /* a weight of which nobody said whether it is as bought or trimmed; gross is false then */
    struct st_range trimmed_share;    /* known: net/gross of this line, overrides the ingredient's */
    struct st_range temperature_K;    /* known when the line says so (hot syrup) */
    double price;                     /* for the amount on the line, in the recipe's currency; NAN unknown */
};

/* One warmth of several, one after another. */
enum { ST_WARM_PARTS = 8 };
struct st_warm_part {
    double T_K, time_s;               /* how long; of the last 0: to the end */
};

struct st_step {
    struct st_place at;
    const char *id, *words;           /* words: the maker's own instruction, may be "" */
    enum st_do kind;
    struct st_line *line; int n_line;
    struct st_amount time;            /* dim ST_DIM_OPEN when not given */
    struct st_range temperature_K;             /* of several: from the coldest to the warmest, which is the value */
    struct st_warm_part warm[ST_WARM_PARTS]; int n_warm; /* steep: "30 C for 3 days, then 12 C"; 0: temperature_K throughout */
    bool press; struct st_range press_share;   /* share of the kept liquor won back by pressing */
    struct st_range drained_solids_g;          /* maker's own weighing of the strained solids, replaces retention */
    bool drained_read;                         /* it is a reading of one batch: a worst case holds without it too (unweighed.h) */
    struct st_range exchanged;                 /* share of fruit water, sugar, acid already exchanged; default end state */
    struct st_range boil_off_g;                /* syrup: water lost */
    struct st_amount boil_down_to;             /* syrup: "boil down to 500 mL"; ST_DIM_OPEN when not given */
    struct st_range loss_share;                /* rack, fine, filter, bottle, rest: share lost; default by kind */
    struct st_range loss_ml;                   /* plus absolute loss */
    double vessel_ml;                          /* 0 unknown */
    double bottle_ml; int bottles;             /* bottle: size; bottles 0 = as many as it gives */
};

struct st_recipe {
    const char *file, *title, *note, *currency, *author;
    const char *original;             /* the whole text the recipe was read from; "" none.  Only kept */
    int schema_version;
    enum st_measures measures;
    struct st_tools tools;
    const char **unreckoned; int n_unreckoned; /* what went in besides and is in no figure, in words that say so: only told */
    struct st_step *step; int n_step;  /* in order; a step only takes from earlier ones; the last is the drink */
    struct { double strength_low, strength_high, sugar_low, sugar_high; bool has_strength, has_sugar; } wish; /* targets, for exit 1 */
    double serving_ml;                 /* 40 unless said */
    struct st_assay *assay; int n_assay; /* `assays:`, in the file's order */
};

#endif
