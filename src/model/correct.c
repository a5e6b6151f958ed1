#include "correct.h"

#include <math.h>
#include <string.h>

#include "correct_inside.h"
#include "random.h"
#include "text.h"

/* The ways beside one another, and the nearest when there is none. */

enum { DRAW = ST_CORRECT_THINGS, SEND_ON = 5 };

static void made_of(struct st_correct_draws *d, const struct st_correct_base *b, const double x[],
                    struct st_correct_made *out)
{
    struct st_correct_point p;
    st_correct_weighed(b, x, x[DRAW], &p);
    for (int i = 0; i < b->ask->n_thing; i++)
        if (!(x[i] > 0.0))
            p.with[i] = (struct st_correct_measure){ 0.0, 0.0, ST_TOOL_NONE };
    if (st_correct_draw(d, &p, out) < 0)
        memset(out, 0, sizeof *out);
}

/* Under a thousandth of a gram it is rounding of the search. */
static void tidy(const struct st_correct_base *b, double x[])
{
    for (int i = 0; i < b->ask->n_thing; i++)
        if (x[i] * b->g_of[i] < 1e-3 * fmin(1.0, b->ask->batch.ml * 1e-3))
            x[i] = 0.0;
    if (x[DRAW] < 1e-3)
        x[DRAW] = 0.0;
}

/* What the answer does not use has no error of measuring either: once more without it, which can only be better. */
static enum st_status cheapest(const struct st_correct_search *s, double x[])
{
    struct st_correct_search own = *s;
    const enum st_status status = st_correct_cheapest(s, x);
    double again[ST_CORRECT_VARIABLES];
    if (status < 0)
        return status;
    tidy(s->base, x);
    for (int i = 0; i < ST_CORRECT_VARIABLES; i++)
        own.most[i] = x[i] > 0.0 ? s->most[i] : 0.0;
    if (st_correct_cheapest(&own, again) >= 0) {
        memcpy(x, again, sizeof again);
        tidy(s->base, x);
    }
    return status;
}

/* The search, and what draws say of it; where they say less than was asked it is sent a little further. */
static bool find(struct st_correct_draws *d, const struct st_correct_search *s, struct st_correct_made *out)
{
    const double asked = s->base->ask->certainty, z = st_normal_from_uniform(asked);
    struct st_correct_search t = *s;
    double x[ST_CORRECT_VARIABLES];
    t.z = z;
    double last = z;
    for (int turn = 0; turn < SEND_ON; turn++) {
        if (cheapest(&t, x) < 0) { /* sent too far */
            if (turn == 0)
                return false;
            t.z = 0.5 * (last + t.z);
            continue;
        }
        last = t.z;
        made_of(d, s->base, x, out);
        if (out->met)
            return true;
        if (out->all >= asked) /* it does not dissolve: more certainty does not help */
            return false;
        t.z += fmin(z - st_normal_from_uniform(fmax(out->all, 1e-6)), 1.0) + 0.005;
    }
    return false;
}

static bool alike(const struct st_correct_base *b, const struct st_correct_made *x, const struct st_correct_made *y)
{
    const double near = 1.0 + 0.01 * fmax(x->g, y->g);
    bool same = fabs(x->draw_ml - y->draw_ml) <= 1.0 + 0.01 * x->draw_ml;
    for (int i = 0; i < b->ask->n_thing; i++)
        same = same && fabs(x->amount[i] - y->amount[i]) * b->g_of[i] <= near;
    return same;
}

/* The least first: it is the easiest to be careful with. */
static void order(const struct st_correct_base *b, struct st_correct_option *o)
{
    o->n_order = 0;
    for (int i = 0; i < b->ask->n_thing; i++) {
        if (!(o->made.amount[i] > 0.0))
            continue;
        int at = o->n_order++;
        while (at > 0 &&
               o->made.amount[o->order[at - 1]] * b->g_of[o->order[at - 1]] > o->made.amount[i] * b->g_of[i]) {
            o->order[at] = o->order[at - 1];
            at--;
        }
        o->order[at] = i;
    }
}

/* The surest there is within the search. */
static void find_surest(struct st_correct_draws *d, const struct st_correct_search *within, double reach,
                        struct st_correct_option *o)
{
    struct st_correct_base *b = within->base;
    struct st_correct_search s = *within;
    double x[ST_CORRECT_VARIABLES] = { 0.0 };
    s.z = reach - fmax(0.02, 0.01 * fabs(reach)); /* the top is flat: the least that comes near it */
    if (cheapest(&s, x) < 0)
        memset(x, 0, sizeof x);
    made_of(d, b, x, &o->made);
    order(b, o);
    st_correct_kitchen(b, d, &s, o);
}

/* Where one way is bound to what is honest, its surest is told even if that is not what was asked for. */
static void less_sure(struct st_correct_draws *d, const struct st_correct_search *s, struct st_correct_option *o)
{
    struct st_correct_search t = *s;
    t.z = st_normal_from_uniform(s->base->ask->certainty);
    find_surest(d, s, st_correct_reach(&t), o);
    o->none = ST_NONE_LESS;
}

static bool is_again(struct st_correct_base *b, enum st_correct_by by, struct st_correct_found *out)
{
    struct st_correct_option *o = &out->option[by];
    for (int k = 0; k < (int)by; k++)
        if (st_correct_shown(&out->option[k]) && alike(b, &out->option[k].made, &o->made)) {
            o->none = ST_NONE_SAME;
            o->same = (enum st_correct_by)k;
            return true;
        }
    return false;
}

static bool draws_nothing(const struct st_correct_base *b, const struct st_correct_found *out)
{
    const struct st_correct_option *least = &out->option[ST_BY_LEAST];
    return b->ask->hold && st_correct_shown(least) && !(least->made.draw_ml > 0.0);
}

static void find_option(struct st_correct_base *b, struct st_correct_draws *d, enum st_correct_by by,
                        struct st_correct_found *out)
{
    struct st_correct_option *o = &out->option[by];
    struct st_correct_search s;
    bool found = false;
    o->none = st_correct_honest(b, by, false, &s); /* nothing is drawn off that need not be */
    if (o->none == ST_NONE_NOT_APPLIES)
        return;
    if (by == ST_BY_NO_DRAW && draws_nothing(b, out)) {
        o->none = ST_NONE_SAME;
        o->same = ST_BY_LEAST;
        return;
    }
    found = o->none == ST_NONE_HERE && find(d, &s, &o->made);
    /* what is honest draws off only where not even the middle comes inside without */
    if (!found && (!b->ask->hold || o->none == ST_NONE_REACHED) && b->ask->draw_most_ml > 0.0) {
        o->none = st_correct_honest(b, by, true, &s);
        found = o->none == ST_NONE_HERE && s.most[DRAW] > 0.0 && find(d, &s, &o->made);
    }
    if (!found && o->none == ST_NONE_HERE && b->ask->hold && (by == ST_BY_LEAST || by == ST_BY_HELD)) {
        less_sure(d, &s, o);
        (void)is_again(b, by, out);
        return;
    }
    if (!found) {
        o->none = o->none == ST_NONE_HERE ? ST_NONE_REACHED : o->none;
        return;
    }
    if (is_again(b, by, out))
        return;
    o->none = ST_NONE_HERE;
    out->met = true;
    order(b, o);
    st_correct_kitchen(b, d, &s, o);
}

static double moved(const struct st_correct_base *b, const struct st_correct_made *m)
{
    return m->g + m->draw_ml * b->batch_g_ml;
}

/* Near what can be reached at all a search may fail where another came through: the least is then the least of those. */
static void fill_least(const struct st_correct_base *b, struct st_correct_found *out)
{
    int at = -1;
    for (int by = 0; by < ST_CORRECT_NBY && out->option[ST_BY_LEAST].none == ST_NONE_REACHED; by++)
        if (out->option[by].none == ST_NONE_HERE &&
            (at < 0 || moved(b, &out->option[by].made) < moved(b, &out->option[at].made)))
            at = by;
    if (at < 0)
        return;
    out->option[ST_BY_LEAST] = out->option[at];
    out->option[at].none = ST_NONE_SAME;
    out->option[at].same = ST_BY_LEAST;
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        if (out->option[by].none == ST_NONE_SAME && (int)out->option[by].same == at)
            out->option[by].same = ST_BY_LEAST;
}

/* ---- near enough ---- */

static bool lies_inside(const struct st_correct_ask *ask, const struct st_correct_made *m)
{
    bool in = true;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        in = in &&
             (!ask->wish[f].asked || (m->fig[f].value >= ask->wish[f].low && m->fig[f].value <= ask->wish[f].high));
    return in;
}

static const double LITTLE = 0.005, SURER = 0.1; /* correct.h Note 9; our own choice */

/* Nothing is to be done where what would be is too little to be worth it. */
static void leave_enough(const struct st_correct_base *b, struct st_correct_found *out)
{
    struct st_correct_option *least = &out->option[ST_BY_LEAST];
    const double digit = b->ask->digit_g > 0.0 ? b->ask->digit_g : 1.0;
    if (!b->ask->hold || !st_correct_shown(least) || !lies_inside(b->ask, &out->before) || least->n_order == 0 ||
        out->before.all < least->made.all - SURER ||
        moved(b, &least->made) > fmax(LITTLE * b->ask->batch.ml * b->batch_g_ml, digit))
        return;
    out->enough = out->met = true;
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        if (out->option[by].none != ST_NONE_NOT_APPLIES)
            out->option[by] = (struct st_correct_option){ .none = ST_NONE_SAME, .same = ST_BY_LEAST };
    *least = (struct st_correct_option){ .none = ST_NONE_HERE, .made = out->before };
}

/* ---- when none is met ---- */

/* A draw-off is worth it for more than a twentieth in certainty. */
static const double WORTH_DRAWING = 0.05;

static void find_nearest(struct st_correct_base *b, struct st_correct_draws *d, double z, struct st_correct_found *out)
{
    struct st_correct_search s, dry;
    if (out->option[ST_BY_LEAST].none == ST_NONE_LESS) {
        out->nearest = out->option[ST_BY_LEAST];
        return;
    }
    st_correct_near(b, true, &s);
    st_correct_near(b, false, &dry);
    s.z = dry.z = z;
    const double with = st_correct_reach(&s), without = s.most[DRAW] > 0.0 ? st_correct_reach(&dry) : with;
    const bool far = with < ST_CORRECT_FAR; /* there all certainties are none: by how far it is missed */
    const bool is_dry =
        far ? without >= 1.05 * with : st_normal_probability(without) > st_normal_probability(with) - WORTH_DRAWING;
    find_surest(d, is_dry ? &dry : &s, is_dry ? without : with, &out->nearest);
}

/* Which wish is in most doubt, and where its doubt comes from. */
static void share_out(struct st_correct_base *b, const struct st_correct_made *m, struct st_correct_found *out)
{
    struct st_correct_point p;
    struct st_correct_linear l;
    double least = 2.0, sum = 0.0;
    st_correct_weighed(b, m->amount, m->draw_ml, &p);
    if (st_correct_linearise(b, &p, &l) < 0)
        return;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (b->ask->wish[f].asked && m->each[f] < least) {
            least = m->each[f];
            out->about = (enum st_correct_figure)f;
        }
    for (int j = 0; j < ST_CORRECT_INPUTS; j++) {
        const double v = l.by[j][out->about] * l.by[j][out->about];
        const enum st_doubt_of of = j == 0   ? ST_DOUBT_VOLUME
                                    : j == 1 ? ST_DOUBT_STRENGTH
                                    : j == 2 ? ST_DOUBT_SUGAR
                                    : j == 3 ? ST_DOUBT_ACID
                                             : ST_DOUBT_ADDED;
        out->share[of] += v;
        sum += v;
    }
    for (int k = 0; k < ST_NDOUBT && sum > 0.0; k++)
        out->share[k] /= sum;
}

/* The ask with its readings better by a factor: all, or one of them. */
static struct st_correct_ask sharper(const struct st_correct_ask *ask, enum st_doubt_of of, double by)
{
    struct st_correct_ask a = *ask;
    const bool all = of == ST_NDOUBT;
    a.batch.is.strength_u *= all || of == ST_DOUBT_STRENGTH ? by : 1.0;
    a.batch.is.sugar_u *= all || of == ST_DOUBT_SUGAR ? by : 1.0;
    a.batch.is.acid_u *= all || of == ST_DOUBT_ACID ? by : 1.0;
    a.batch.ml_u *= all || of == ST_DOUBT_VOLUME ? by : 1.0;
    return a;
}

static bool can_be_met(const struct st_correct_ask *ask, double z)
{
    double x[ST_CORRECT_VARIABLES];
    return st_correct_meets(ask, z, x);
}

static double reading_u(const struct st_correct_ask *ask, enum st_doubt_of of)
{
    const struct st_correct_liquid *l = &ask->batch.is;
    return of == ST_DOUBT_STRENGTH ? l->strength_u
           : of == ST_DOUBT_SUGAR  ? l->sugar_u
           : of == ST_DOUBT_ACID   ? l->acid_u
                                   : ask->batch.ml_u;
}

static void ask_readings(const struct st_correct_ask *ask, double z, struct st_correct_found *out)
{
    struct st_correct_ask a = sharper(ask, ST_NDOUBT, 0.0);
    out->by_reading = can_be_met(&a, z);
    a.draw_most_ml = 0.0;
    struct st_correct_ask dry = *ask; /* what helps without drawing off is told, where there is such a thing */
    if (can_be_met(&a, z)) {
        dry.draw_most_ml = 0.0;
        ask = &dry;
    }
    int most = 0;
    for (int k = 1; k < ST_DOUBT_ADDED; k++)
        most = out->share[k] > out->share[most] ? k : most;
    a = sharper(ask, (enum st_doubt_of)most, 0.0);
    if (!out->by_reading || !can_be_met(&a, z))
        return;
    double low = 0.0, high = 1.0;
    for (int turn = 0; turn < 7; turn++) {
        const double by = 0.5 * (low + high);
        a = sharper(ask, (enum st_doubt_of)most, by);
        *(can_be_met(&a, z) ? &low : &high) = by;
    }
    out->needs_u = low * reading_u(ask, (enum st_doubt_of)most);
}

/* ---- all of it ---- */

static void has_no_meaning(const char *what, struct st_problem *problem)
{
    memset(problem, 0, sizeof *problem);
    st_say(problem->what, sizeof problem->what, what, NULL, NULL);
    st_say(problem->why, sizeof problem->why, "no liquid is like that, or nothing is asked of it", NULL, NULL);
    st_say(problem->try_, sizeof problem->try_, "look at the figures again", NULL, NULL);
}

enum st_status st_correct(const struct st_correct_ask *ask, struct st_correct_found *out, struct st_problem *problem)
{
    struct st_correct_base b;
    const char *what;
    const enum st_status s = st_correct_begin(ask, &b, &what);
    if (s < 0) {
        has_no_meaning(what, problem);
        return ST_E_DOMAIN;
    }
    struct st_correct_draws *d = st_correct_draws_create(&b);
    if (!d) {
        has_no_meaning("the figures of the batch", problem);
        return ST_E_DOMAIN;
    }
    const double nothing[ST_CORRECT_VARIABLES] = { 0.0 }, z = st_normal_from_uniform(ask->certainty);
    memset(out, 0, sizeof *out);
    made_of(d, &b, nothing, &out->before);
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        find_option(&b, d, (enum st_correct_by)by, out);
    fill_least(&b, out);
    leave_enough(&b, out);
    if (!out->met)
        find_nearest(&b, d, z, out);
    share_out(&b, out->met ? &out->option[ST_BY_LEAST].made : &out->nearest.made, out);
    if (!out->met || out->option[ST_BY_LEAST].none == ST_NONE_LESS)
        ask_readings(ask, z, out);
    if (!out->met && (!out->by_reading || !lies_inside(ask, &out->nearest.made)))
        st_correct_needs(&b, z, out);
    out->evaluations = b.evaluations;
    st_correct_draws_free(d);
    return s;
}

enum st_status st_correct_foretell(const struct st_correct_ask *ask, const double amount[], double draw_ml,
                                   struct st_correct_made *out)
{
    struct st_correct_base b;
    const char *what;
    double x[ST_CORRECT_VARIABLES] = { 0.0 };
    const enum st_status s = st_correct_begin(ask, &b, &what);
    if (s < 0 || !(draw_ml >= 0.0 && draw_ml < ask->batch.ml))
        return ST_E_DOMAIN;
    for (int i = 0; i < ask->n_thing; i++) {
        if (!(amount[i] >= 0.0) || !isfinite(amount[i]))
            return ST_E_DOMAIN;
        x[i] = amount[i];
    }
    x[DRAW] = draw_ml;
    struct st_correct_draws *d = st_correct_draws_create(&b);
    if (!d)
        return ST_E_NOCONV;
    made_of(d, &b, x, out);
    st_correct_draws_free(d);
    return s;
}
