#include <math.h>
#include <string.h>

#include "ledger_inside.h"

/* One toxicant held against the rules. */

/* Sums of products: a figure that is the limit itself does not pass it for its last bits. */
static const double ROUNDING = 1e-9;

/* [eu_2019_787] art. 2: a spirit drink has this strength at least, % vol */
static const double SPIRIT_DRINK = 15.0, WEAK = 25.0;

/* ---- which rules speak of it ---- */

static bool begins(const char *text, const char *with)
{
    return text && strncmp(text, with, strlen(with)) == 0;
}

bool st_is_artemisia(const struct st_ingredient *in)
{
    return begins(in->botanical, "Artemisia");
}

bool st_is_mint(const struct st_ingredient *in)
{
    return begins(in->botanical, "Mentha");
}

bool st_rule_names(const struct st_rule *rule, const struct st_ingredient *in)
{
    if (st_rule_lists(rule->plant, in->slug) || st_rule_lists(rule->plant, in->like))
        return true;
    char slug[80];
    for (const char *p = in->made_of; p && *p; p += strspn(p, ", ")) {
        const size_t n = strcspn(p, ", ");
        if (n > 0 && n < sizeof slug) {
            memcpy(slug, p, n);
            slug[n] = '\0';
            if (st_rule_lists(rule->plant, slug))
                return true;
        }
        p += n;
    }
    return false;
}

/* Strength from low (not it, when open) to high: of an interval that reaches in and out nobody knows. */
static bool strength_in(const struct st_interval *q, double low, bool open, double high, bool *maybe)
{
    if (!q->known) {
        *maybe = true;
        return true;
    }
    const bool reaches = (open ? q->high > low : q->high >= low) && q->low <= high;
    const bool inside = (open ? q->low > low : q->low >= low) && q->high <= high;
    *maybe = *maybe || (reaches && !inside);
    return reaches;
}

bool st_rule_speaks(const struct st_rule *rule, const struct st_drink_facts *d, bool *maybe)
{
    const double no_end = HUGE_VAL;
    *maybe = false;
    switch (rule->scope) {
    case ST_SCOPE_ANY: return true;
    case ST_SCOPE_TO_25: return strength_in(&d->strength, 0.0, false, WEAK, maybe);
    case ST_SCOPE_OVER_25: return strength_in(&d->strength, WEAK, true, no_end, maybe);
    case ST_SCOPE_SPIRIT_DRINK: return strength_in(&d->strength, SPIRIT_DRINK, false, no_end, maybe);
    case ST_SCOPE_UNDER_15: /* what is not surely 15 % */
        *maybe = !d->strength.known || (d->strength.low < SPIRIT_DRINK && !(d->strength.high < SPIRIT_DRINK));
        return !d->strength.known || d->strength.low < SPIRIT_DRINK;
    case ST_SCOPE_ARTEMISIA: return d->artemisia;
    case ST_SCOPE_NOT_ARTEMISIA: return true; /* in a drink with some, of the other carriers */
    case ST_SCOPE_MINT: return d->mint;
    case ST_SCOPE_BITTER:
    case ST_SCOPE_NOT_BITTER: *maybe = true; return true;
    case ST_SCOPE_INGREDIENT:
    case ST_SCOPE_BASE_SPIRIT:
    case ST_SCOPE_ADDED:
    case ST_SCOPE_OTHER_FOOD:
    case ST_NSCOPE: break;
    }
    return false;
}

static const struct st_ingredient *what_of(const struct st_recipe *r, const struct st_carrier *c)
{
    return r->step[c->step].line[c->line].what;
}

static bool is_there(const char *text)
{
    return text && *text;
}

/* A carrier that found no room may be one of the plants. */
static bool has_plant(const struct st_recipe *r, const struct st_rule *rule, const struct st_ledger_entry *e,
                      bool *maybe)
{
    if (!is_there(rule->plant))
        return true;
    for (int i = 0; i < e->n_carrier; i++)
        if (st_rule_names(rule, what_of(r, &e->carrier[i])))
            return true;
    *maybe = *maybe || e->n_more > 0;
    return e->n_more > 0;
}

static bool is_of(const struct st_rule *rule, const struct st_ledger_entry *e)
{
    return is_there(rule->toxicant) && strcmp(rule->toxicant, e->toxicant->slug) == 0;
}

/* ---- in the rule's unit ---- */

double st_serving_mg(double mg, double mg_l, double serving_l)
{
    const double x = mg_l * serving_l;
    return x > mg ? mg : x;
}

/* mg in the drink, in a kilogram and in a litre, in the rule's unit at a strength. */
static double in_unit(enum st_rule_unit unit, const struct st_drink_facts *d, double mg, double kg, double l,
                      double pct)
{
    const double ethanol =
        d->strength.known && pct > 0.0 ? l * 100.0 / pct : (double)NAN; /* mg in 1 L of pure alcohol */
    switch (unit) {
    case ST_RULE_MG_KG: return kg;
    case ST_RULE_MG_KG_PER_PCT_VOL: return d->strength.known && pct > 0.0 ? kg / pct : (double)NAN;
    case ST_RULE_MG_L: return l;
    case ST_RULE_MG_KG_BW_DAY: return st_serving_mg(mg, l, d->serving_l) / d->body_kg;
    case ST_RULE_MG_PERSON_DAY: return st_serving_mg(mg, l, d->serving_l);
    case ST_RULE_G_HL_ALCOHOL: return ethanol * 100.0 / 1000.0;
    case ST_RULE_G_L_ETHANOL: return ethanol / 1000.0;
    case ST_RULE_PRESENT:
    case ST_RULE_NUNIT: break;
    }
    return (double)NAN;
}

static double as_written(enum st_rule_unit unit, const struct st_drink_facts *d, const struct st_held *x)
{
    return in_unit(unit, d, x->mg, x->kg, x->l, d->strength.value);
}

static double at_most(enum st_rule_unit unit, const struct st_drink_facts *d, const struct st_held *x)
{
    return in_unit(unit, d, x->high_mg, x->high_kg, x->high_l, d->strength.low);
}

/* Without what may stay where it is. */
static struct st_held firm_of(const struct st_ledger_sum *sum)
{
    const struct st_held *a = &sum->all, *s = &sum->shut;
    return (struct st_held){ a->mg - s->mg, a->high_mg - s->high_mg, a->kg - s->kg, a->high_kg - s->high_kg,
                             a->l - s->l,   a->high_l - s->high_l };
}

static enum st_verdict verdict_of(const struct st_rule *rule, const struct st_test *t, bool unknown)
{
    const double edge = t->limit * (rule->at_least ? 1.0 - ROUNDING : 1.0 + ROUNDING);
    if (rule->at_least ? t->is >= edge : t->is > edge)
        return ST_PASSES;
    if (rule->at_least ? t->high >= edge : t->high > edge)
        return ST_MAY_PASS;
    return unknown || isnan(t->is) || isnan(t->high) || isnan(t->limit) ? ST_NOT_ASSESSED : ST_WITHIN;
}

static struct st_test test_of(const struct st_rule *rule, const struct st_drink_facts *d,
                              const struct st_ledger_sum *sum)
{
    struct st_test t = { .rule = rule, .limit = rule->limit, .is = (double)NAN, .high = (double)NAN };
    if (rule->unit == ST_RULE_PRESENT) {
        const bool none = !is_there(rule->plant) && sum->n_unknown == 0 && !(sum->all.high_mg > 0.0);
        t.limit = (double)NAN;
        t.verdict = none ? ST_WITHIN : ST_PASSES;
        return t;
    }
    t.is = as_written(rule->unit, d, &sum->all);
    t.high = at_most(rule->unit, d, &sum->all);
    t.verdict = verdict_of(rule, &t, sum->n_unknown > 0);
    if ((t.verdict == ST_PASSES || t.verdict == ST_MAY_PASS) && sum->shut.high_mg > 0.0) {
        const struct st_held held = firm_of(sum);
        struct st_test firm = t;
        firm.is = as_written(rule->unit, d, &held);
        firm.high = at_most(rule->unit, d, &held);
        const enum st_verdict v = verdict_of(rule, &firm, sum->n_unknown > 0);
        t.verdict = v == ST_PASSES || v == ST_MAY_PASS ? v : ST_IF_OPENED;
    }
    return t;
}

/* ---- worst first ---- */

static int rank(enum st_verdict v)
{
    switch (v) {
    case ST_PASSES: return 4;
    case ST_MAY_PASS: return 3;
    case ST_IF_OPENED: return 2;
    case ST_NOT_ASSESSED: return 1;
    case ST_WITHIN:
    case ST_NVERDICT: break;
    }
    return 0;
}

bool st_verdict_is_worse(enum st_verdict a, enum st_verdict b)
{
    return rank(a) > rank(b);
}

/* How far it is past its limit; what has no figure counts as far past when it passes. */
static double ratio_of(const struct st_test *t)
{
    const double x = t->high / t->limit;
    return !isnan(x) ? x : t->verdict == ST_PASSES ? HUGE_VAL : 0.0;
}

/* Declarations last, then by verdict, then rules in force, then by how far. */
static bool is_worse(const struct st_test *a, const struct st_test *b)
{
    if (a->rule->at_least != b->rule->at_least)
        return b->rule->at_least;
    if (rank(a->verdict) != rank(b->verdict))
        return rank(a->verdict) > rank(b->verdict);
    if (a->rule->in_force != b->rule->in_force)
        return a->rule->in_force;
    return ratio_of(a) > ratio_of(b);
}

static void put_test(struct st_ledger_entry *e, const struct st_test *t)
{
    int at = e->n_test;
    while (at > 0 && is_worse(t, &e->test[at - 1]))
        at--;
    e->cut = e->cut || e->n_test == ST_MAX_TESTS;
    if (at == ST_MAX_TESTS)
        return;
    if (e->n_test < ST_MAX_TESTS)
        e->n_test++;
    memmove(&e->test[at + 1], &e->test[at], (size_t)(e->n_test - 1 - at) * sizeof e->test[0]);
    e->test[at] = *t;
}

double st_entry_ratio(const struct st_ledger_entry *e)
{
    return e->n_test > 0 && !e->test[0].rule->at_least ? ratio_of(&e->test[0]) : 0.0;
}

/* ---- as sold ---- */

double st_carrier_mg_kg(const struct st_carrier *c)
{
    return c->assay ? c->assay->mg_kg : c->content ? c->content->ceiling_mg_kg : (double)NAN;
}

static enum st_verdict sold_verdict(const struct st_rule *rule, const struct st_carrier *c, double is)
{
    const double edge = rule->limit * (1.0 + ROUNDING);
    const bool surely =
        c->assay ? is > edge : c->content && c->content->found_mg_kg.known && c->content->found_mg_kg.low > edge;
    if (surely)
        return ST_PASSES;
    return isnan(is) || isnan(rule->limit) ? ST_NOT_ASSESSED : is > edge ? ST_MAY_PASS : ST_WITHIN;
}

static void hold_as_sold(const struct st_recipe *r, const struct st_rule *rule, struct st_ledger_entry *e)
{
    for (int i = 0; i < e->n_carrier; i++) {
        const struct st_carrier *c = &e->carrier[i];
        const bool made = c->content && c->content->mark == 'u'; /* a drink made before is not sold as its plants are */
        if (rule->unit != ST_RULE_MG_KG || made || !st_rule_names(rule, what_of(r, c)))
            continue;
        if (e->n_sold == ST_MAX_SOLD) {
            e->cut = true;
            return;
        }
        const double is = st_carrier_mg_kg(c);
        e->sold[e->n_sold++] = (struct st_sold){ rule, i, is, sold_verdict(rule, c, is) };
    }
}

/* ---- how much there may be ---- */

/* Grams of the main carrier that a litre of the drink may hold all of: what the others leave of the limit; and of how many it
 * may hold all now.  Both by the worst case in the rule's unit: it is past the limit just where the one is more than the other. */
struct doses {
    double most, is;
};

static struct doses doses_of(const struct st_rule *rule, const struct st_drink_facts *d,
                             const struct st_ledger_sum *sum, const struct st_carrier *main)
{
    /* a serving is no less than a serving here: more of the plant may be in more of the drink */
    const double part = in_unit(rule->unit, d, HUGE_VAL, main->high_mg_kg, main->high_mg_l, d->strength.low);
    const double all = in_unit(rule->unit, d, HUGE_VAL, sum->all.high_kg, sum->all.high_l, d->strength.low);
    const double of_g =
        in_unit(rule->unit, d, HUGE_VAL, 1.0 / d->kg_l, 1.0, d->strength.low) * st_carrier_mg_kg(main) * 1e-3;
    const double most = (rule->limit - fmax(all - part, 0.0)) / of_g;
    return (struct doses){ most < 0.0 ? 0.0 : most, part / of_g };
}

/* The strictest of them; one that cannot be told leaves it unknown. */
static void bind(struct st_ledger_entry *e, const struct st_rule *rule, struct doses x)
{
    if (e->binds && (isnan(e->most_g_l) || x.most >= e->most_g_l))
        return;
    e->most_g_l = x.most;
    e->is_g_l = x.is;
    e->binds = rule;
}

/* ---- the whole ---- */

static void count_verdict(struct st_ledger_entry *e, const struct st_test *t, bool first[2])
{
    if (t->rule->at_least)
        return;
    enum st_verdict *v = t->rule->in_force ? &e->verdict : &e->benchmark;
    bool *is_first = &first[t->rule->in_force];
    if (*is_first || st_verdict_is_worse(t->verdict, *v))
        *v = t->verdict;
    *is_first = false;
}

/* True unless the rule speaks of the drink at an end of its strength alone. */
static bool as_foretold(const struct st_rule *rule, const struct st_drink_facts *d)
{
    struct st_drink_facts middle = *d;
    bool maybe;
    middle.strength.low = middle.strength.high = middle.strength.value;
    return st_rule_speaks(rule, &middle, &maybe);
}

static void hold(const struct st_recipe *r, const struct st_rule *rule, const struct st_drink_facts *d,
                 const struct st_ledger_sum *all, const struct st_ledger_sum *others, bool first[2],
                 struct st_ledger_entry *e)
{
    const bool part = rule->scope == ST_SCOPE_NOT_ARTEMISIA && d->artemisia;
    const struct st_ledger_sum *sum = part ? others : all;
    bool maybe;
    if (!st_rule_speaks(rule, d, &maybe) || !has_plant(r, rule, e, &maybe) || sum->n == 0)
        return;
    struct st_test t = test_of(rule, d, sum);
    if (t.verdict == ST_PASSES && maybe && !as_foretold(rule, d))
        t.verdict = ST_MAY_PASS;
    t.maybe = maybe;
    t.part = part;
    count_verdict(e, &t, first);
    put_test(e, &t);
    const struct st_carrier *main = &e->carrier[0];
    if (rule->at_least || !rule->in_force || rule->unit == ST_RULE_PRESENT || !(main->high_mg > 0.0) ||
        (part && st_is_artemisia(what_of(r, main))))
        return;
    bind(e, rule, e->n_unknown > 0 ? (struct doses){ (double)NAN, (double)NAN } : doses_of(rule, d, sum, main));
}

void st_ledger_judge(const struct st_recipe *r, const struct st_rule_books *books, unsigned places,
                     const struct st_drink_facts *drink, const struct st_ledger_sum *all,
                     const struct st_ledger_sum *others, struct st_ledger_entry *e)
{
    bool first[2] = { true, true };
    e->verdict = e->benchmark = ST_NOT_ASSESSED;
    e->most_g_l = e->is_g_l = (double)NAN;
    for (int i = 0; i < books->n_rule; i++) {
        const struct st_rule *rule = &books->rule[i];
        if (!(rule->places & places) || !is_of(rule, e))
            continue;
        if (rule->scope == ST_SCOPE_INGREDIENT)
            hold_as_sold(r, rule, e);
        else
            hold(r, rule, drink, all, others, first, e);
    }
    if (e->binds && isnan(e->most_g_l))
        e->binds = NULL;
}
