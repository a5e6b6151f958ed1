#include "ledger.h"

#include <math.h>
#include <string.h>

#include "ledger_inside.h"
#include "unweighed.h"

/* The ledger: which lines bring what, summed by toxicant. */

enum { ST_BITS = 64 }; /* toxicants past the last bit share it */

/* A line that is in the drink. */
struct brings {
    struct st_spread of;
    uint64_t what; /* a bit each toxicant that it may carry */
};

struct work {
    const struct st_recipe *r;
    const struct st_foretold *f;
    const struct st_rule_books *books;
    const struct st_assay *assay;
    int n_assay;
    struct st_drink_facts drink;
    struct st_flows flows;
    struct brings line[ST_LEDGER_LINES];
};

/* ---- lines ---- */

static uint64_t bit_of(int toxicant)
{
    return UINT64_C(1) << (toxicant < ST_BITS ? toxicant : ST_BITS - 1);
}

static uint64_t may_carry(const struct st_rule_books *b, const struct st_ingredient *in)
{
    uint64_t what = 0;
    for (int t = 0; t < b->n_toxicant; t++)
        if (st_toxicant_flagged(&b->toxicant[t], in))
            what |= bit_of(t);
    for (int i = 0; i < in->n_own; i++) {
        const struct st_toxicant *t = st_toxicant_named(b, in->own[i].toxicant);
        if (t)
            what |= bit_of((int)(t - b->toxicant));
    }
    for (int i = 0; i < b->n_content; i++) {
        const struct st_toxicant *t =
            st_content_is_of(&b->content[i], in) ? st_toxicant_find(b, b->content[i].toxicant) : NULL;
        if (t)
            what |= bit_of((int)(t - b->toxicant));
    }
    return what;
}

static struct brings brings_of(const struct work *w, int step, int line)
{
    const struct st_ingredient *in = w->r->step[step].line[line].what;
    if (!in)
        return (struct brings){ .what = 0 };
    return (struct brings){ st_flows_spread(w->r, &w->flows, step, line), may_carry(w->books, in) };
}

/* Of the at-th line of the recipe; lines past the room are looked at each time. */
static struct brings line_at(const struct work *w, int at, int step, int line)
{
    return at < ST_LEDGER_LINES ? w->line[at] : brings_of(w, step, line);
}

static void look_at_lines(struct work *w, struct st_drink_facts *drink)
{
    int at = 0;
    st_flows_find(w->r, w->f, &w->flows);
    for (int s = 0; s < w->r->n_step; s++)
        for (int i = 0; i < w->r->step[s].n_line; i++, at++) {
            const struct st_ingredient *in = w->r->step[s].line[i].what;
            const struct brings b = brings_of(w, s, i);
            if (at < ST_LEDGER_LINES)
                w->line[at] = b;
            if (!in || !(b.of.share > 0.0))
                continue;
            drink->artemisia = drink->artemisia || st_is_artemisia(in);
            drink->mint = drink->mint || st_is_mint(in);
        }
}

/* ---- the drink ---- */

static struct st_interval figure(const struct st_foretold *f, enum st_figure which)
{
    struct st_interval x = { .known = false };
    if (!f || !f->fig[which].known || !isfinite(f->fig[which].value))
        return x;
    x = f->fig[which];
    x.low = fmin(x.low, x.value);
    x.high = fmax(x.high, x.value);
    return x;
}

static double per(double of, double amount)
{
    return amount > 0.0 ? of / amount : (double)NAN;
}

static struct st_drink_facts facts_of(const struct st_foretold *f, const struct st_drinker *who)
{
    const struct st_interval ml = figure(f, ST_FIG_VOLUME), g = figure(f, ST_FIG_MASS), rho = figure(f, ST_FIG_DENSITY);
    struct st_drink_facts d = { .strength = figure(f, ST_FIG_STRENGTH),
                                .serving_l = who->serving_ml * 1e-3,
                                .body_kg = who->body_weight_kg };
    d.per_l = ml.known ? per(1000.0, ml.value) : (double)NAN;
    d.high_per_l = ml.known ? per(1000.0, ml.low) : (double)NAN;
    d.per_kg = g.known ? per(1000.0, g.value) : (double)NAN;
    d.high_per_kg = g.known ? per(1000.0, g.low) : (double)NAN;
    d.g_ml = rho.known ? rho.value * 1e-3 : HUGE_VAL;
    d.high_g_ml = rho.known ? rho.high * 1e-3 : HUGE_VAL;
    d.kg_l = rho.known && rho.low > 0.0 ? rho.low * 1e-3 : (double)NAN;
    return d;
}

/* ---- carriers ---- */

/* The highest of the maker's own results for it. */
static const struct st_assay *assay_of(const struct work *w, const struct st_ingredient *in,
                                       const struct st_toxicant *t)
{
    const struct st_assay *best = NULL;
    for (int i = 0; i < w->n_assay; i++) {
        const struct st_assay *a = &w->assay[i];
        if (!a->ingredient || !in->slug || strcmp(a->ingredient, in->slug) != 0 || !isfinite(a->mg_kg) ||
            !(a->mg_kg >= 0.0) || st_toxicant_named(w->books, a->toxicant) != t)
            continue;
        if (!best || a->mg_kg > best->mg_kg)
            best = a;
    }
    return best;
}

static enum st_stones stones_of(const struct work *w, int step, int line)
{
    return w->books->stones ? w->books->stones(w->r, step, line) : ST_STONES_OPENED;
}

/* What of it is in a kilogram: all of it in the least that there is, or what a gram may hold, whichever is less; the latter too
 * where nothing may be left. */
static double in_part(double all, double share, double per, double spread)
{
    const double x = all * share * per, y = all * spread;
    return y < x || (isnan(x) && isfinite(y)) ? y : x;
}

static struct st_held held_of(const struct st_carrier *c, const struct st_spread *s, const struct st_drink_facts *d)
{
    const double mg = c->source_g * st_carrier_mg_kg(c) * 1e-3, high = c->source_high_g * st_carrier_mg_kg(c) * 1e-3;
    return (struct st_held){ .mg = c->mg,
                             .high_mg = c->high_mg,
                             .kg = in_part(mg, s->share, d->per_kg, s->per_g * 1e3),
                             .high_kg = in_part(high, s->share, d->high_per_kg, s->high_per_g * 1e3),
                             .l = in_part(mg, s->share, d->per_l, s->per_g * 1e3 * d->g_ml),
                             .high_l = in_part(high, s->share, d->high_per_l, s->high_per_g * 1e3 * d->high_g_ml) };
}

static struct st_carrier carrier_of(const struct work *w, const struct st_toxicant *t, int step, int line, double share)
{
    const struct st_ingredient *in = w->r->step[step].line[line].what;
    const struct st_range g = st_ledger_carried(w->r, w->f, step, line);
    struct st_carrier c = { .step = step, .line = line, .share = share };
    c.content = st_content_find(w->books, in, NULL, t->slug);
    c.assay = assay_of(w, in, t);
    c.shut =
        c.content && c.content->stones && !c.assay && (c.content->shut || stones_of(w, step, line) == ST_STONES_SHUT);
    c.source_g = g.known ? g.value : (double)NAN;
    c.source_high_g = g.known ? fmax(g.high, g.value) : (double)NAN;
    c.mg = c.source_g * share * st_carrier_mg_kg(&c) * 1e-3;
    c.high_mg = c.source_high_g * share * st_carrier_mg_kg(&c) * 1e-3;
    return c;
}

static void add_held(struct st_held *sum, const struct st_held *x)
{
    sum->mg += x->mg;
    sum->high_mg += x->high_mg;
    sum->kg += x->kg;
    sum->high_kg += x->high_kg;
    sum->l += x->l;
    sum->high_l += x->high_l;
}

static void add_to(struct st_ledger_sum *sum, const struct st_carrier *c, const struct st_held *x)
{
    sum->n++;
    if (isnan(c->high_mg)) {
        sum->n_unknown++;
        return;
    }
    add_held(&sum->all, x);
    if (c->shut)
        add_held(&sum->shut, x);
}

/* What brings most first, what nobody knows last; the least gives way, and stays in the sums. */
static void put_carrier(struct st_ledger_entry *e, const struct st_carrier *c)
{
    int at = e->n_carrier;
    while (at > 0 && !isnan(c->high_mg) && !(e->carrier[at - 1].high_mg >= c->high_mg))
        at--;
    if (e->n_carrier == ST_MAX_SOURCES) {
        e->n_more++;
        e->cut = true;
    } else
        e->n_carrier++;
    if (at == ST_MAX_SOURCES)
        return;
    memmove(&e->carrier[at + 1], &e->carrier[at], (size_t)(e->n_carrier - 1 - at) * sizeof e->carrier[0]);
    e->carrier[at] = *c;
}

/* ---- entries ---- */

static void gather(const struct work *w, int t, struct st_ledger_entry *e, struct st_ledger_sum *all,
                   struct st_ledger_sum *others)
{
    const struct st_toxicant *toxicant = &w->books->toxicant[t];
    int at = 0;
    for (int s = 0; s < w->r->n_step; s++)
        for (int i = 0; i < w->r->step[s].n_line; i++, at++) {
            const struct brings b = line_at(w, at, s, i);
            if (!(b.of.share > 0.0) || !(b.what & bit_of(t)))
                continue;
            struct st_carrier c = carrier_of(w, toxicant, s, i, b.of.share);
            const struct st_held held = held_of(&c, &b.of, &w->drink);
            const struct st_ingredient *in = w->r->step[s].line[i].what;
            if (!c.content && !c.assay && !st_toxicant_flagged(toxicant, in)) /* of the last bit, another's */
                continue;
            if (c.content && c.content->stones && !c.content->shut && stones_of(w, s, i) == ST_STONES_OUT)
                continue;
            e->n_shut += c.shut;
            c.high_mg_l = held.high_l;
            c.high_mg_kg = held.high_kg;
            add_to(all, &c, &held);
            if (!st_is_artemisia(in))
                add_to(others, &c, &held);
            put_carrier(e, &c);
        }
    e->toxicant = toxicant;
    e->n_unknown = all->n_unknown;
}

static void tell_amounts(const struct st_drink_facts *d, const struct st_ledger_sum *sum, struct st_ledger_entry *e)
{
    const struct st_held *x = &sum->all;
    e->mg = x->mg;
    e->high_mg = x->high_mg;
    e->shut_mg = sum->shut.mg;
    e->shut_high_mg = sum->shut.high_mg;
    e->mg_l = x->l;
    e->high_mg_l = x->high_l;
    e->mg_kg = x->kg;
    e->high_mg_kg = x->high_kg;
    e->shut_high_mg_kg = sum->shut.high_kg;
    e->serving_mg = st_serving_mg(x->mg, x->l, d->serving_l);
    e->high_serving_mg = st_serving_mg(x->high_mg, x->high_l, d->serving_l);
}

static bool is_worse(const struct st_ledger_entry *a, const struct st_ledger_entry *b)
{
    if (a->verdict != b->verdict)
        return st_verdict_is_worse(a->verdict, b->verdict);
    if (a->benchmark != b->benchmark)
        return st_verdict_is_worse(a->benchmark, b->benchmark);
    return st_entry_ratio(a) > st_entry_ratio(b);
}

static void put_entry(struct st_ledger *l, const struct st_ledger_entry *e)
{
    int at = l->n_entry;
    while (at > 0 && is_worse(e, &l->entry[at - 1]))
        at--;
    if (st_verdict_is_worse(e->verdict, l->verdict))
        l->verdict = e->verdict;
    if (l->n_entry == ST_MAX_TOXICANTS)
        l->cut = true;
    else
        l->n_entry++;
    if (at == ST_MAX_TOXICANTS)
        return;
    memmove(&l->entry[at + 1], &l->entry[at], (size_t)(l->n_entry - 1 - at) * sizeof l->entry[0]);
    l->entry[at] = *e;
}

/* ---- plants ---- */

/* True when an entry tells of it. */
static bool is_told(const struct work *w, const struct st_rule *rule, uint64_t carries)
{
    const struct st_toxicant *t = st_toxicant_find(w->books, rule->toxicant);
    return t && (carries & bit_of((int)(t - w->books->toxicant)));
}

static void put_plant(struct st_ledger *l, const struct st_rule *rule, int step, int line)
{
    if (!rule->at_least && rule->in_force)
        l->verdict = ST_PASSES;
    if (l->n_plant == ST_MAX_PLANTS) {
        l->cut = true;
        return;
    }
    l->plant[l->n_plant++] = (struct st_plant_rule){ rule, step, line };
}

static void look_at_plant(const struct work *w, unsigned places, const struct st_drink_facts *drink, int at, int step,
                          int line, struct st_ledger *out)
{
    const struct st_ingredient *in = w->r->step[step].line[line].what;
    const struct brings b = line_at(w, at, step, line);
    bool maybe;
    for (int i = 0; in && b.of.share > 0.0 && i < w->books->n_rule; i++) {
        const struct st_rule *rule = &w->books->rule[i];
        if (rule->unit == ST_RULE_PRESENT && (rule->places & places) && st_rule_names(rule, in) &&
            !is_told(w, rule, b.what) && st_rule_speaks(rule, drink, &maybe))
            put_plant(out, rule, step, line);
    }
}

static void look_at_plants(const struct work *w, unsigned places, const struct st_drink_facts *drink,
                           struct st_ledger *out)
{
    int at = 0;
    for (int s = 0; s < w->r->n_step; s++)
        for (int i = 0; i < w->r->step[s].n_line; i++, at++)
            look_at_plant(w, places, drink, at, s, i, out);
}

/* ---- the whole ---- */

/* False: nothing brings it. */
static bool entry_of(const struct work *w, unsigned places, int t, struct st_ledger_entry *e)
{
    struct st_ledger_sum all = { .n = 0 }, others = { .n = 0 };
    *e = (struct st_ledger_entry){ .n_carrier = 0 };
    gather(w, t, e, &all, &others);
    if (e->n_carrier == 0)
        return false;
    tell_amounts(&w->drink, &all, e);
    st_ledger_judge(w->r, w->books, places, &w->drink, &all, &others, e);
    return true;
}

/* The figure that is told is the higher one, wherever the verdict is the same. */
static bool is_higher(const struct st_ledger_entry *a, const struct st_ledger_entry *b)
{
    return a->verdict != b->verdict ? st_verdict_is_worse(a->verdict, b->verdict) : a->high_mg_kg > b->high_mg_kg;
}

/* plain: the same drink without the readings of drained solids, or NULL. */
static void put_entries(const struct work *w, const struct work *plain, unsigned places, struct st_ledger *out)
{
    for (int t = 0; t < w->books->n_toxicant; t++) {
        struct st_ledger_entry e, other;
        if (!entry_of(w, places, t, &e))
            continue;
        if (plain && entry_of(plain, places, t, &other) && is_higher(&other, &e))
            e = other;
        out->cut = out->cut || e.cut;
        put_entry(out, &e);
    }
}

/* Of the drink that f was foretold of; a part of a recipe has no figures of its own. */
static struct st_unweighed *without_readings(const struct st_recipe *r, const struct st_foretold *f)
{
    enum { SEED = 1 }; /* the same figure wherever it is told */
    return f && f->n_balance == r->n_step ? st_unweighed_create(r, SEED, f->draws) : NULL;
}

enum st_status st_ledger_make(const struct st_recipe *r, const struct st_foretold *f, const struct st_rule_books *books,
                              unsigned places, const struct st_drinker *who, const struct st_assay *assay, int n_assay,
                              struct st_ledger *out)
{
    if (!(who->serving_ml > 0.0 && isfinite(who->serving_ml)) ||
        !(who->body_weight_kg > 0.0 && isfinite(who->body_weight_kg)))
        return ST_E_DOMAIN;
    struct work w = { .r = r, .f = f, .books = books, .assay = assay, .n_assay = n_assay, .drink = facts_of(f, who) };
    struct st_unweighed *x = without_readings(r, f);
    struct work plain = w;
    look_at_lines(&w, &w.drink);
    if (x) {
        plain.r = &x->recipe;
        plain.f = &x->out;
        plain.drink = facts_of(&x->out, who);
        look_at_lines(&plain, &plain.drink);
    }
    out->n_entry = out->n_plant = 0;
    out->verdict = ST_WITHIN;
    out->cut = false;
    put_entries(&w, x ? &plain : NULL, places, out);
    look_at_plants(&w, places, &w.drink, out);
    if (out->cut && out->verdict == ST_WITHIN)
        out->verdict = ST_NOT_ASSESSED;
    st_unweighed_free(x);
    return ST_OK;
}
