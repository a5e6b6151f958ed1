#include <math.h>
#include <string.h>

#include "correct_inside.h"

/* What would make a target reachable that is not: more of something, a thing that is not at hand, a draw-off, a jar. */

enum { DRAW = ST_CORRECT_THINGS };

/* What spirits are sold at, % vol: common practice, no source. */
static const double SOLD[] = { 20.0, 30.0, 37.5, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 96.0 };
enum { NSOLD = sizeof SOLD / sizeof *SOLD };

/* More than half drawn off is another batch. */
static const double MOST_DRAWN = 0.5;

/* A scale for pinches, where the one at hand is too coarse for what is dry. */
static const double FINE_G = 0.1;

struct needing {
    double z, digit_g; /* digit_g: of a finer scale that is needed, 0 none */
    bool sharp;
    struct st_correct_found *out;
};

/* x: what all of it takes, the ask's own things first. */
static void tell(const struct needing *n, enum st_correct_need_of of, int index, double amount, double strength,
                 const double x[ST_CORRECT_VARIABLES])
{
    if (n->out->n_need == ST_CORRECT_NEEDS)
        return;
    struct st_correct_need *to = &n->out->need[n->out->n_need++];
    *to = (struct st_correct_need){ .of = of,
                                    .index = index,
                                    .amount = amount,
                                    .strength = strength,
                                    .draw_ml = x[DRAW],
                                    .digit_g = n->digit_g,
                                    .sharp = n->sharp };
    memcpy(to->with, x, sizeof to->with);
}

/* One more thing; its number, -1: no room. */
static int add(struct st_correct_ask *a, enum st_correct_kind kind, double strength)
{
    if (a->n_thing == ST_CORRECT_THINGS)
        return -1;
    struct st_correct_thing *t = &a->thing[a->n_thing];
    memset(t, 0, sizeof *t);
    t->kind = kind;
    t->have = a->batch.ml; /* more than the batch again of one thing is another drink */
    t->cost = (double)NAN;
    const struct st_correct_liquid l = { .strength = strength, .strength_u = kind == ST_ADD_SPIRIT ? 0.15 : 0.0 };
    if (kind == ST_ADD_SUGAR || kind == ST_ADD_ACID)
        st_correct_dry(kind == ST_ADD_SUGAR ? ST_SUCROSE : ST_ACID, t);
    else if (st_correct_poured(&l, t) < 0)
        return -1;
    return a->n_thing++;
}

static void try_more(const struct needing *n, const struct st_correct_ask *ask)
{
    double x[ST_CORRECT_VARIABLES];
    for (int i = 0; i < ask->n_thing; i++) {
        struct st_correct_ask a = *ask;
        a.thing[i].have = fmax(a.thing[i].have, ask->batch.ml);
        if (isfinite(ask->thing[i].have) && st_correct_meets(&a, n->z, x))
            tell(n, ST_NEED_MORE, i, x[i], 0.0, x);
    }
}

static void try_room(const struct needing *n, const struct st_correct_ask *ask)
{
    double x[ST_CORRECT_VARIABLES];
    struct st_correct_ask a = *ask;
    a.draw_most_ml = MOST_DRAWN * ask->batch.ml;
    if (a.draw_most_ml > ask->draw_most_ml && st_correct_meets(&a, n->z, x))
        tell(n, ST_NEED_DRAW, -1, x[DRAW], 0.0, x);
    a = *ask;
    a.jar_ml = 0.0;
    if (!(ask->jar_ml > 0.0) || !st_correct_meets(&a, n->z, x))
        return;
    double stands = ask->batch.ml - x[DRAW];
    for (int i = 0; i < ask->n_thing; i++)
        stands += x[i] * (ask->thing[i].by_weight ? ST_CORRECT_DRY_ML : 1.0);
    tell(n, ST_NEED_JAR, -1, stands, 0.0, x);
}

static bool has(const struct st_correct_ask *ask, enum st_correct_kind kind)
{
    for (int i = 0; i < ask->n_thing; i++)
        if (ask->thing[i].kind == kind)
            return true;
    return false;
}

/* A thing that the ask has not: it stands behind the ask's own in x. */
static void tell_added(const struct needing *n, const struct st_correct_ask *ask, enum st_correct_need_of of,
                       double amount, double strength, const double x[ST_CORRECT_VARIABLES])
{
    double own[ST_CORRECT_VARIABLES];
    memcpy(own, x, sizeof own);
    own[ask->n_thing] = 0.0;
    tell(n, of, -1, amount, strength, own);
}

/* Of the ask's own things no more than the batch again: else a pinch of acid would "do" with seven litres of water, of
 * which nothing is said. */
static void hold_back(struct st_correct_ask *a)
{
    for (int i = 0; i < a->n_thing; i++)
        a->thing[i].have = fmin(a->thing[i].have, a->batch.ml);
}

static void try_thing(const struct needing *n, const struct st_correct_ask *ask, enum st_correct_kind kind,
                      enum st_correct_need_of of)
{
    double x[ST_CORRECT_VARIABLES];
    struct st_correct_ask a = *ask;
    hold_back(&a);
    const int i = has(ask, kind) ? -1 : add(&a, kind, 0.0);
    if (i >= 0 && st_correct_meets(&a, n->z, x) && x[i] > 0.0)
        tell_added(n, ask, of, x[i], 0.0, x);
}

/* Sugar and acid are named for what they are wished for, never to thin what is too strong. */
static void try_dry(const struct needing *n, const struct st_correct_ask *ask)
{
    if (ask->wish[ST_CORRECT_SUGAR].asked)
        try_thing(n, ask, ST_ADD_SUGAR, ST_NEED_SUGAR);
    if (ask->wish[ST_CORRECT_ACID].asked)
        try_thing(n, ask, ST_ADD_ACID, ST_NEED_ACID);
}

/* The weakest that is sold and does it: a stronger one does too. */
static void try_spirit(const struct needing *n, const struct st_correct_ask *ask)
{
    double x[ST_CORRECT_VARIABLES], found[ST_CORRECT_VARIABLES];
    int low = -1, high = NSOLD - 1, index = ask->n_thing;
    struct st_correct_ask a = *ask;
    hold_back(&a);
    if (add(&a, ST_ADD_SPIRIT, SOLD[high]) < 0 || !st_correct_meets(&a, n->z, found) || !(found[index] > 0.0))
        return;
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        a = *ask;
        hold_back(&a);
        if (add(&a, ST_ADD_SPIRIT, SOLD[middle]) >= 0 && st_correct_meets(&a, n->z, x)) {
            high = middle;
            memcpy(found, x, sizeof found);
        } else
            low = middle;
    }
    if (found[index] > 0.0)
        tell_added(n, ask, ST_NEED_SPIRIT, found[index], SOLD[high], found);
}

static void try_all(const struct needing *n, const struct st_correct_ask *ask)
{
    try_more(n, ask);
    try_room(n, ask);
    try_thing(n, ask, ST_ADD_WATER, ST_NEED_WATER);
    try_dry(n, ask);
    try_spirit(n, ask);
}

/* First alone, then with a draw-off besides; and if it is the readings too, as if they were exact.  Each way first with the
 * scale at hand, then what is dry with a finer one. */
void st_correct_needs(const struct st_correct_base *b, double z, struct st_correct_found *out)
{
    for (int pass = 0; pass < (out->by_reading ? 2 : 4) && out->n_need == 0; pass++) {
        struct needing n = { .z = z, .sharp = pass >= 2, .out = out };
        struct st_correct_ask a = *b->ask;
        if (pass % 2)
            a.draw_most_ml = fmax(a.draw_most_ml, MOST_DRAWN * a.batch.ml);
        if (n.sharp)
            a.batch.ml_u = a.batch.is.strength_u = a.batch.is.sugar_u = a.batch.is.acid_u = 0.0;
        try_all(&n, &a);
        if (out->n_need > 0 || !(a.digit_g > FINE_G || a.digit_g == 0.0)) /* 0: a scale of 1 g */
            continue;
        n.digit_g = a.digit_g = FINE_G;
        try_dry(&n, &a);
    }
}
