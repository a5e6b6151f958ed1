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

struct needing {
    double z;
    bool sharp;
    struct st_correct_found *out;
};

/* The least that meets it, x; false none. */
static bool meets(const struct st_correct_ask *ask, double z, double x[ST_CORRECT_VARIABLES])
{
    struct st_correct_base b;
    struct st_correct_search s;
    const char *what;
    if (st_correct_begin(ask, &b, &what) < 0)
        return false;
    (void)st_correct_way(&b, ST_BY_LEAST, &s);
    s.z = z;
    return st_correct_cheapest(&s, x) >= 0;
}

static void tell(const struct needing *n, enum st_correct_need_of of, int index, double amount, double strength,
                 double draw_ml)
{
    if (n->out->n_need < ST_CORRECT_NEEDS)
        n->out->need[n->out->n_need++] = (struct st_correct_need){
            .of = of, .index = index, .amount = amount, .strength = strength, .draw_ml = draw_ml, .sharp = n->sharp
        };
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
        if (isfinite(ask->thing[i].have) && meets(&a, n->z, x))
            tell(n, ST_NEED_MORE, i, x[i], 0.0, x[DRAW]);
    }
}

static void try_room(const struct needing *n, const struct st_correct_ask *ask)
{
    double x[ST_CORRECT_VARIABLES];
    struct st_correct_ask a = *ask;
    a.draw_most_ml = MOST_DRAWN * ask->batch.ml;
    if (a.draw_most_ml > ask->draw_most_ml && meets(&a, n->z, x))
        tell(n, ST_NEED_DRAW, -1, x[DRAW], 0.0, x[DRAW]);
    a = *ask;
    a.jar_ml = 0.0;
    if (!(ask->jar_ml > 0.0) || !meets(&a, n->z, x))
        return;
    double stands = ask->batch.ml - x[DRAW];
    for (int i = 0; i < ask->n_thing; i++)
        stands += x[i] * (ask->thing[i].by_weight ? ST_CORRECT_DRY_ML : 1.0);
    tell(n, ST_NEED_JAR, -1, stands, 0.0, x[DRAW]);
}

static bool has(const struct st_correct_ask *ask, enum st_correct_kind kind)
{
    for (int i = 0; i < ask->n_thing; i++)
        if (ask->thing[i].kind == kind)
            return true;
    return false;
}

static void try_thing(const struct needing *n, const struct st_correct_ask *ask, enum st_correct_kind kind,
                      enum st_correct_need_of of)
{
    double x[ST_CORRECT_VARIABLES];
    struct st_correct_ask a = *ask;
    const int i = has(ask, kind) ? -1 : add(&a, kind, 0.0);
    if (i >= 0 && meets(&a, n->z, x) && x[i] > 0.0)
        tell(n, of, -1, x[i], 0.0, x[DRAW]);
}

/* The weakest that is sold and does it: a stronger one does too. */
static void try_spirit(const struct needing *n, const struct st_correct_ask *ask)
{
    double x[ST_CORRECT_VARIABLES], found[ST_CORRECT_VARIABLES];
    int low = -1, high = NSOLD - 1, index = ask->n_thing;
    struct st_correct_ask a = *ask;
    if (add(&a, ST_ADD_SPIRIT, SOLD[high]) < 0 || !meets(&a, n->z, found) || !(found[index] > 0.0))
        return;
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        a = *ask;
        if (add(&a, ST_ADD_SPIRIT, SOLD[middle]) >= 0 && meets(&a, n->z, x)) {
            high = middle;
            memcpy(found, x, sizeof found);
        } else
            low = middle;
    }
    if (found[index] > 0.0)
        tell(n, ST_NEED_SPIRIT, -1, found[index], SOLD[high], found[DRAW]);
}

static void try_all(const struct needing *n, const struct st_correct_ask *ask)
{
    try_more(n, ask);
    try_room(n, ask);
    try_thing(n, ask, ST_ADD_WATER, ST_NEED_WATER);
    try_thing(n, ask, ST_ADD_SUGAR, ST_NEED_SUGAR);
    try_thing(n, ask, ST_ADD_ACID, ST_NEED_ACID);
    try_spirit(n, ask);
}

/* First alone, then with a draw-off besides; and if it is the readings too, as if they were exact. */
void st_correct_needs(const struct st_correct_base *b, double z, struct st_correct_found *out)
{
    for (int pass = 0; pass < (out->by_reading ? 2 : 4) && out->n_need == 0; pass++) {
        const struct needing n = { .z = z, .sharp = pass >= 2, .out = out };
        struct st_correct_ask a = *b->ask;
        if (pass % 2)
            a.draw_most_ml = fmax(a.draw_most_ml, MOST_DRAWN * a.batch.ml);
        if (n.sharp)
            a.batch.ml_u = a.batch.is.strength_u = a.batch.is.sugar_u = a.batch.is.acid_u = 0.0;
        try_all(&n, &a);
    }
}
