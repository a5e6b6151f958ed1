#ifndef ST_TEXT_TRY_CHANGES_H
#define ST_TEXT_TRY_CHANGES_H

#include "model/foresee.h"
#include "util/arena.h"
#include "util/buf.h"

/* The difference of two tries of a recipe: what was changed, each as a clause ("30 g less sugar"), and what that does
 * ("sugar 212 -> 188 g/L"), the largest effect first. */

enum st_try_what {
    /* lines */
    ST_TRY_ADDED,    /* in the second recipe only */
    ST_TRY_LEFT_OUT, /* in the first only */
    ST_TRY_MOVED,    /* in another step */
    ST_TRY_INSTEAD,  /* one spirit, sugar or fruit for another, the line as a whole */
    ST_TRY_FIGURES,  /* the recipe gives other figures for this ingredient */
    ST_TRY_AMOUNT,
    ST_TRY_MEASURED, /* the same amount with another tool */
    ST_TRY_STRENGTH,
    ST_TRY_TRIMMED, /* weighed as bought or trimmed */
    ST_TRY_WARM,    /* temperature while it was measured */
    ST_TRY_CUT,     /* no figure hangs on it, the pace does */
    ST_TRY_PRICE,
    /* steps */
    ST_TRY_STEP_ADDED,
    ST_TRY_STEP_LEFT_OUT,
    ST_TRY_ORDER, /* of the steps; step -1 */
    ST_TRY_KIND,
    ST_TRY_TIME,
    ST_TRY_TEMPERATURE,
    ST_TRY_PRESS,
    ST_TRY_DRAINED,
    ST_TRY_EXCHANGED,
    ST_TRY_BOIL,
    ST_TRY_LOSS,
    ST_TRY_VESSEL,
    ST_TRY_BOTTLE,
    /* the recipe */
    ST_TRY_SERVING,
    ST_TRY_TOOLS,
    ST_TRY_WISH,
    ST_TRY_CURRENCY,
    ST_TRY_ASSAYS,
    /* how it is said, which changes nothing in the jar */
    ST_TRY_NAME,  /* of a step */
    ST_TRY_WORDS, /* of a step */
    ST_TRY_SAID,  /* of a line */
    ST_TRY_TITLE,
    ST_TRY_NOTE,
    ST_NTRY
};
const char *st_try_what_name(enum st_try_what what); /* "amount"; for documents */
bool st_try_is_wording(enum st_try_what what);

/* How much is known of what a change does by itself. */
enum st_try_alone {
    ST_TRY_NOT_RUN,  /* the first recipe gives no figures, or there are too many changes */
    ST_TRY_RUN,      /* y holds */
    ST_TRY_TOGETHER, /* runs with the change before it, of which it is a part */
    ST_TRY_REFUSED   /* by itself it cannot be made; does says why */
};

struct st_try_change {
    enum st_try_what what;
    int step[2], line[2]; /* in the first and in the second recipe, -1 none */
    bool whole;           /* one of those that change what the steps are and take: they only go together */
    enum st_try_alone alone;
    double y[ST_NFIG]; /* nominal figures of the first recipe with this change alone; NAN not known */
    double weight;     /* how much that is; only for the order */
    char text[280];    /* "30 g less sugar (200 g instead of 230 g)" */
    char does[320];    /* "sugar 212 -> 188 g/L, volume 1040 -> 1021 mL"; "no figure moves" */
};

/* What all changes do together to one figure. */
struct st_try_figure {
    enum st_figure of;
    struct st_interval is[2], by; /* by: what they differ by, reckoned draw by draw (model/differ.h) */
    bool told;                    /* 0 lies outside by: a difference that could be told */
    char text[400];               /* "sugar 242 -> 223 g/L: 19 g/L less sugar, likely between 15 and 23 (...)" */
};

struct st_try_changes {
    struct st_try_change *change; /* largest effect first, wording last */
    int n, n_wording;             /* n_wording of the n */
    struct st_try_figure figure[ST_NFIG];
    int n_figure;          /* those that move, or 0 */
    struct st_problem why; /* why there are no figures; what is "" when there are */
    double before[ST_NFIG];
    const struct st_recipe *recipe[2];
    struct st_try_match *match;
};

/* Find the changes from a to b, and what they do.
 *
 * Given:    a, b, which must outlive *out; fa, fb: as foretold with draws, or NULL: then without intervals; units: for
 *           volumes
 * Returned: *out, to be freed with st_try_changes_done
 * Notes:
 *   1. What a change does by itself is found by running the first recipe's plan with nothing but that change; so the
 *      effects need not add up to those of all together.
 *   2. The order of lines within a step is no change, unless one of them fills up to a volume or is left open. */
void st_try_changes(const struct st_recipe *a, const struct st_recipe *b, const struct st_foretold *fa,
                    const struct st_foretold *fb, uint64_t seed, enum st_measures units, struct st_try_changes *out);
/* The same without any figures: the list of changes in the order of the recipe. */
void st_try_find(const struct st_recipe *a, const struct st_recipe *b, struct st_try_changes *out);
void st_try_changes_done(struct st_try_changes *c);

/* The first recipe with those changes take[n] says, the others left as they were; whole changes go all when one does.
 * In the arena; it lends from both recipes. */
struct st_recipe *st_try_apply(const struct st_try_changes *c, const bool take[], struct st_arena *arena);

/* Words of several steps that were changed alike are told with the first of them. */
bool st_try_said_before(const struct st_try_changes *c, int k);
/* As sentences, one a line: the changes, then what all do together; "Nothing changed." */
void st_try_changes_print(const struct st_try_changes *c, struct st_buf *out);

#endif
