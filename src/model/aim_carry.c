#include "aim_carry.h"

#include <math.h>

#include "core/least_squares.h"
#include "ledger_inside.h"

/* Rounded amounts miss the exact ones by up to half a hundredth; most limits are met at once with less. */
static const double FOR_ROUNDING = 0.003;

bool st_carry_counts(const struct st_test *t)
{
    return (t->verdict == ST_PASSES || t->verdict == ST_MAY_PASS) && t->rule->in_force && !t->rule->at_least;
}

/* ---- what it may be ---- */

/* Without what stones that stay shut hold: they pass no limit (ST_IF_OPENED). */
static double firm_high(const struct st_ledger_entry *e, const struct st_test *t)
{
    return !t->part && e->shut_high_mg > 0.0 ? t->high * (1.0 - e->shut_high_mg_kg / e->high_mg_kg) : t->high;
}

/* What the same test finds in another ledger, where it counts; NAN: it does not. */
static double was_past(const struct st_ledger *l, const struct st_toxicant *x, const struct st_rule *rule)
{
    for (int i = 0; l && i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_test && l->entry[i].toxicant == x; k++)
            if (l->entry[i].test[k].rule == rule && st_carry_counts(&l->entry[i].test[k]))
                return firm_high(&l->entry[i], &l->entry[i].test[k]);
    return (double)NAN;
}

double st_carry_allowed(const struct st_toxicant *x, const struct st_test *t, const struct st_ledger *written,
                        bool *as_written)
{
    const double was = was_past(written, x, t->rule);
    *as_written = was > t->limit;
    return *as_written ? was : t->limit;
}

/* By how much it is past what it may be, as a part of that; 0 where it is not. */
static double excess(const struct st_ledger_entry *e, const struct st_test *t, const struct st_ledger *written)
{
    bool as_written;
    const double high = firm_high(e, t);
    if (!st_carry_counts(t) || isnan(high) || isnan(t->limit))
        return 0.0;
    const double allowed = st_carry_allowed(e->toxicant, t, written, &as_written);
    return high > allowed * (as_written ? ST_CARRY_SAME : 1.0) ? high / allowed : 0.0;
}

bool st_carry_is_worse(const struct st_ledger *made, const struct st_ledger *written)
{
    for (int i = 0; i < made->n_entry; i++)
        for (int k = 0; k < made->entry[i].n_test; k++)
            if (excess(&made->entry[i], &made->entry[i].test[k], written) > 0.0)
                return true;
    return false;
}

/* ---- as a limit ---- */

static enum st_figure figure_of(enum st_rule_unit u)
{
    return u == ST_RULE_MG_KG || u == ST_RULE_MG_KG_PER_PCT_VOL ? ST_FIG_MASS : ST_FIG_VOLUME;
}

static bool is_per_strength(enum st_rule_unit u)
{
    return u == ST_RULE_MG_KG_PER_PCT_VOL || u == ST_RULE_G_HL_ALCOHOL || u == ST_RULE_G_L_ETHANOL;
}

static double dial_at(const struct st_aim *a, const double value[], int step, int line)
{
    for (int k = 0; k < a->n_dial; k++)
        if (a->dial[k].dial.of == ST_DIAL_AMOUNT && a->dial[k].dial.step == step && a->dial[k].dial.line == line)
            return value[k];
    return 1.0;
}

/* The sources of an entry, in mg of the lines as written; *now: what they bring altogether. */
static void add_sources(const struct st_aim *a, const double value[], const struct st_ledger_entry *e, bool part,
                        struct st_aim_limit *l, double *now)
{
    double listed = 0.0;
    for (int i = 0; i < e->n_carrier; i++) {
        const struct st_carrier *c = &e->carrier[i];
        const double at = dial_at(a, value, c->step, c->line);
        if (isnan(c->high_mg) || c->shut)
            continue;
        listed += c->high_mg;
        if (part && st_is_artemisia(a->recipe->step[c->step].line[c->line].what))
            continue;
        *now += c->high_mg;
        if (l->n_source < ST_AIM_SOURCES && at > 0.0)
            l->source[l->n_source++] = (struct st_aim_source){ c->step, c->line, c->high_mg / at };
        else
            l->rest += c->high_mg;
    }
    const double rest = e->high_mg - e->shut_high_mg - listed;
    if (!part && e->n_more > 0 && rest > 0.0) { /* those that found no room in the entry */
        l->rest += rest;
        *now += rest;
    }
}

/* So that its fill is `is` with the amounts that f foretells.  False where the drink or its sources are not known. */
static bool limit_of(const struct st_aim *a, const double value[], const struct st_foretold *f,
                     const struct st_ledger_entry *e, const struct st_test *t, double is, struct st_aim_limit *l)
{
    double now = 0.0;
    *l = (struct st_aim_limit){ .of = ST_LIMIT_CARRY,
                                .most = 1.0,
                                .per = figure_of(t->rule->unit),
                                .per_strength = is_per_strength(t->rule->unit),
                                .toxicant = e->toxicant,
                                .rule = t->rule };
    add_sources(a, value, e, t->part, l, &now);
    const double drink = f->fig[l->per].value * (l->per_strength ? f->fig[ST_FIG_STRENGTH].value : 1.0);
    const double scale = is * drink / now;
    if (!(now > 0.0) || !isfinite(scale))
        return false;
    l->rest *= scale;
    for (int i = 0; i < l->n_source; i++)
        l->source[i].part *= scale;
    return true;
}

static bool is_same(const struct st_aim_limit *a, const struct st_aim_limit *b)
{
    return a->of == ST_LIMIT_CARRY && a->toxicant == b->toxicant && a->per == b->per &&
           a->per_strength == b->per_strength;
}

static bool put(struct st_aim *a, const struct st_aim_limit *l)
{
    int i = 0;
    while (i < a->n_limit && !is_same(&a->limit[i], l))
        i++;
    if (i == a->n_limit && (i == ST_AIM_LIMITS || a->n_dial + a->n_wish + i >= (int)ST_LS_MAX))
        return false;
    a->n_limit += i == a->n_limit;
    a->limit[i] = *l;
    return true;
}

/* The furthest past of the tests of an entry that are reckoned on the same. */
static const struct st_test *furthest(const struct st_ledger_entry *e, const struct st_ledger *written,
                                      enum st_figure per, bool per_strength, double *most)
{
    const struct st_test *at = NULL;
    *most = 0.0;
    for (int k = 0; k < e->n_test; k++) {
        const struct st_test *t = &e->test[k];
        const double x = excess(e, t, written);
        if (figure_of(t->rule->unit) != per || is_per_strength(t->rule->unit) != per_strength || !(x > *most))
            continue;
        at = t;
        *most = x;
    }
    return at;
}

int st_aim_carry(struct st_aim *a, const double value[], const struct st_foretold *f, const struct st_ledger *made,
                 const struct st_ledger *written, int round)
{
    int n = 0;
    for (int i = 0; i < made->n_entry; i++)
        for (int shape = 0; shape < 4; shape++) {
            const struct st_ledger_entry *e = &made->entry[i];
            struct st_aim_limit l;
            double past;
            const struct st_test *t =
                furthest(e, written, shape & 1 ? ST_FIG_VOLUME : ST_FIG_MASS, (shape & 2) != 0, &past);
            bool as_written = false;
            if (!t)
                continue;
            (void)st_carry_allowed(e->toxicant, t, written, &as_written);
            const double spare = as_written ? 0.0 : FOR_ROUNDING * (round + 1);
            if (!limit_of(a, value, f, e, t, past * (1.0 + spare), &l))
                continue;
            l.as_written = as_written;
            n += put(a, &l);
        }
    return n;
}
