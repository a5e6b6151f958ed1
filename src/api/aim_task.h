#ifndef ST_API_AIM_TASK_H
#define ST_API_AIM_TASK_H

#include "api/doc.h"
#include "api/wished.h"
#include "util/buf.h"

/* One aim from the wishes to the recipe as it would be written. */

struct st_call; /* call.h */

enum { ST_AIM_WAYS = 2, ST_AIM_HELD = 6 };

/* A limit that holds the amounts back, or that they pass. */
struct st_aim_held {
    const struct st_toxicant *toxicant;
    const struct st_rule *rule;
    double high, limit;     /* worst case and what the rule lets be, in its unit */
    bool passed, as_written; /* as_written: the recipe itself is past it, and this is no worse */
    char text[400], most[200]; /* most: "at most 2.1 g of cherry stones a litre stays within all of them", or "" */
};

struct st_aim_task {
    /* given */
    const char *text; /* of the recipe file */
    size_t size;
    const struct st_recipe_file *file;
    enum st_measures units; /* whose cup is meant where the recipe is silent */
    struct st_watch watch;  /* what the cautions are held against; no books: none is reckoned */
    uint64_t seed;
    int draws;
    struct st_wished wished;
    struct st_aim aim;
    char because[320]; /* how the wish came about; "" */
    char jar[48];      /* "3 L": the vessel of every steep instead of the recipe's; "" */
    double jar_ml;
    double times; /* everything by this factor and nothing else: a batch; else 0 */

    /* solved; exact */
    struct st_aim_found found;

    /* the recipe as it would be written: rounded to what can be measured, edited, read again, foretold */
    double value[ST_MAX_DIALS];     /* of each dial, as written */
    struct st_buf changed;          /* its text; empty where the file cannot be changed in place */
    struct st_problem why_not;      /* then */
    const struct st_recipe *recipe; /* what was foretold */
    struct st_foretold out;
    struct st_cautions cautions;
    struct st_aim_odds odds;
    double miss[ST_AIM_WISHES];
    bool met;
    struct st_aim_held held[ST_AIM_HELD]; /* st_aim_watch */
    int n_held;
    bool over;                 /* what was written passes a limit in force, or may: the program then ends with 1 */
    int watched;               /* how often it was held against them */
    struct st_ledger *written; /* of the recipe as written; NULL until something passes */

    const struct st_ingredient *stop; /* what must not go into a drink: then nothing is solved and nothing is proposed */

    struct st_aim_way way[ST_AIM_WAYS];
    struct st_buf way_recipe[ST_AIM_WAYS]; /* each as a changed recipe, empty when it cannot be written */
    int n_way;

    /* what lives as long as the task */
    struct st_recipe_file again;
    struct st_catalogue *own;
    struct st_recipe *made;
    struct st_aim_kitchen *kitchen; /* aim_kitchen.h; NULL: amounts are rounded one by one */
};

/* Whether something in the recipe says stop (text/stops.h): then what was foretold is the recipe as it is, and the task
 * proposes no amounts, no ways and no recipe.  Asked before anything is solved.  False too, with *problem, when it gives
 * no figures. */
bool st_aim_stopped(struct st_aim_task *t, struct st_problem *problem);

/* The strength of what amount k pours, as it was found; 0 where it is no spirit.  And of what a way pours instead, where
 * the way asks for another spirit. */
double st_aim_poured(const struct st_aim_task *t, int k);
double st_aim_way_poured(const struct st_aim_way *w);

/* Round, edit, read again, foretell, judge; then the ways round.  catalogue: for reading the changed text; it may be
 * changed by definitions of the recipe.  False and *problem when these amounts give no figures. */
bool st_aim_write(struct st_aim_task *t, struct st_catalogue *catalogue, struct st_problem *problem);
/* The last of that: foretell this recipe and judge it. */
bool st_aim_foretell(struct st_aim_task *t, const struct st_recipe *r, struct st_problem *problem);
/* Hold what was written against the limits in force (watch).  True: it passes one that the recipe as written keeps, or
 * passes it further; the aim has got limits, what was written is thrown away: solve and write again.  False: it is the
 * last word; held and over say what binds, and met is false where a limit is passed that was not before.  Without a
 * wish (a batch) always false. */
bool st_aim_watch(struct st_aim_task *t);
/* The ways round, solved; those that would pass a limit are left out. */
void st_aim_find_ways(struct st_aim_task *t);
void st_aim_write_ways(struct st_aim_task *t);
void st_aim_task_done(struct st_aim_task *t); /* frees what it holds, not t */

/* The same amounts measured another way: weighed instead of by the cup, where that brings more makings into the wish.
 * Best first, at most three. */
json_t *st_aim_alternatives(struct st_call *c, const struct st_aim_task *t);

json_t *st_doc_aim(const struct st_aim_task *t);
json_t *st_doc_aim_held(const struct st_aim_task *t); /* "limits" of it */

#endif
