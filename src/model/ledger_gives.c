#include <math.h>
#include <string.h>

#include "ledger_inside.h"

/* What a step gives at least and at most: the foretold middle, and how far each range may move it, all at their worse end at
 * once.  Liquor is what came in, less what solids keep and what is lost; each of these moves it by no more than it moves
 * itself, so the distances add up. */

/* The densest that is filled up with: honey, syrup; g/mL. */
static const double MOST_G_ML = 1.45;
/* The middles and ends of plan_steep.c: how far pieces give themselves up, what pressing wins back. */
static const double EXCHANGED_LOW = 0.06, EXCHANGED_HIGH = 0.02;
static const struct st_range PRESSED = { 0.4, 0.3, 0.5, true, 'm', "" };

/* What came into a step. */
struct income {
    bool known, pieces, made_up;
    double g, less, more; /* g */
    double keeps, keeps_low, keeps_high;
    double soluble; /* g in the pieces that may or may not come out */
    double swap;
    double liquid_g, liquid_low_g;             /* what is "to so much" counts as nothing */
    double solid_g, solid_low_g, solid_most_g; /* pieces */
};

static double sum_of(const double g[ST_NCOMP])
{
    double s = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        s += g[c];
    return s;
}

static double up_to(const struct st_range r)
{
    return r.known ? fmax(r.high - r.value, 0.0) : 0.0;
}

static double down_to(const struct st_range r)
{
    return r.known ? fmax(r.value - r.low, 0.0) : 0.0;
}

static void add_grams(struct income *in, double g, double low, double solid, double solid_low, double solid_most)
{
    in->liquid_g += fmax(g - solid_most, 0.0);
    in->liquid_low_g += fmax(low - solid_most, 0.0);
    in->solid_g += solid;
    in->solid_low_g += solid_low;
    in->solid_most_g += solid_most;
}

/* ---- lines ---- */

/* g of 1 g that may be something else than in the middle. */
static bool composition(const struct st_line *l, double *swap)
{
    struct st_ingredient in = *l->what;
    struct st_range part[ST_NCOMP];
    if (l->strength.known)
        in.strength = l->strength;
    if (!st_ledger_composition(&in, part, swap))
        return false;
    if (st_kind_is_solid(in.kind)) {
        const struct st_range x = st_ingredient_extract_share(&in);
        *swap += part[ST_SOLIDS].value * fmax(up_to(x), down_to(x));
    }
    return true;
}

static void add_pieces(const struct st_line *l, struct st_range g, double swap, struct income *in)
{
    const struct st_range keeps = st_ingredient_retention(l->what);
    in->pieces = true;
    in->known = in->known && keeps.known;
    in->keeps += g.value * keeps.value;
    in->keeps_low += g.low * fmin(keeps.low, keeps.value);
    in->keeps_high += g.high * fmax(keeps.high, keeps.value);
    in->soluble += g.high;
    in->less += g.high * swap; /* more of it may not dissolve */
    in->more += g.high * swap;
}

static void add_line(const struct st_recipe *r, const struct st_foretold *f, int step, int line, struct income *in)
{
    const struct st_line *l = &r->step[step].line[line];
    double swap;
    if (!composition(l, &swap)) {
        in->known = false;
        return;
    }
    if (l->amount.make_up_to) { /* its own grams are what the others leave */
        const struct st_range m = st_ledger_measured(r, &l->amount);
        const double g = l->amount.dim == ST_DIM_VOLUME ? MOST_G_ML : 1.0;
        in->known = in->known && m.known;
        in->made_up = true;
        in->less += g * down_to(m);
        in->more += g * up_to(m);
        in->swap += g * m.high * swap;
        return;
    }
    const struct st_range g = st_ledger_grams(r, f, step, line);
    in->known = in->known && g.known;
    if (!g.known)
        return;
    const bool unsaid = l->weighing_unsaid && g.high > g.low; /* with stones or without: the middle is nobody's */
    in->less += unsaid ? g.high - g.low : down_to(g);
    in->more += unsaid ? g.high - g.low : up_to(g);
    in->swap += g.high * swap;
    if (!st_kind_is_solid(l->what->kind)) {
        add_grams(in, g.value, g.low, 0.0, 0.0, 0.0);
        return;
    }
    add_grams(in, g.value, g.low, g.value, g.low, g.high);
    add_pieces(l, g, swap, in);
}

/* ---- takes ---- */

struct left {
    struct st_taken of[2]; /* liquor, spent: shares by weight not yet taken */
};

static bool is_all(const struct st_amount *a)
{
    return a->dim == ST_DIM_OPEN || a->open == ST_OPEN_SOME;
}

static struct st_taken held(struct st_taken t, struct st_taken left)
{
    t.share = fmin(t.share, left.share);
    t.low = fmax(fmin(t.low, left.low), 0.0);
    t.high = t.high < left.high ? t.high : left.high; /* NaN: what is left */
    t.high = fmax(t.high, t.low);
    return t;
}

static struct st_taken part_of(const struct st_recipe *r, const struct st_line *l, const struct st_gives *from,
                               struct st_taken left)
{
    const struct st_amount *a = &l->amount;
    if (is_all(a))
        return left;
    if (a->dim == ST_DIM_PIECE)
        return held((struct st_taken){ a->value, fmin(a->low, a->value), fmax(a->high, a->value) }, left);
    const bool spent = l->part == ST_SPENT, ml = a->dim == ST_DIM_VOLUME;
    const double whole = spent ? from->spent_g : ml ? from->ml : from->g;
    const double less = spent ? from->spent_less_g : ml ? from->less_ml : from->less_g;
    const double more = spent ? from->spent_more_g : ml ? from->more_ml : from->more_g;
    const struct st_range m = st_ledger_measured(r, a);
    if (!from->known || !m.known || !(whole > 0.0))
        return (struct st_taken){ left.share, 0.0, left.high };
    const double least = whole - less;
    return held((struct st_taken){ m.value / whole, m.low / (whole + more), least > 0.0 ? m.high / least : 1.0 }, left);
}

static void take_off(struct st_taken *left, struct st_taken t)
{
    left->share = fmax(left->share - t.share, 0.0);
    left->low = fmax(left->low - t.high, 0.0);
    left->high = fmax(left->high - t.low, 0.0);
}

static void add_taken(const struct st_gives *from, enum st_part_of part, struct st_taken t, struct income *in)
{
    const bool spent = part == ST_SPENT;
    const double g = spent ? from->spent_g : from->g;
    const double less = spent ? from->spent_less_g : from->less_g, more = spent ? from->spent_more_g : from->more_g;
    in->known = in->known && from->known;
    in->less += fmax(t.share * g - t.low * fmax(g - less, 0.0), 0.0);
    in->more += fmax(t.high * (g + more) - t.share * g, 0.0);
    in->swap += t.high * from->swap_g;
    const double low = t.low * fmax(g - less, 0.0);
    if (spent)
        add_grams(in, t.share * g, low, t.share * g, low, t.high * (g + more));
    else
        add_grams(in, t.share * g, low, 0.0, 0.0, t.high * from->solid_most_g);
    if (!spent && !from->pieces)
        return;
    in->pieces = true;
    in->keeps += t.share * from->keeps;
    in->keeps_low += t.low * from->keeps_low;
    in->keeps_high += t.high * from->keeps_high;
    in->soluble += t.high * (g + more);
}

/* ---- a step ---- */

static double high_share(struct st_range press)
{
    return 1.0 - fmin(press.low, press.value);
}

/* How much more, and less, of the liquor the solids may keep. */
static void kept(const struct st_step *s, const struct income *in, double *more, double *less)
{
    if (s->drained_solids_g.known) { /* what the pieces are lighter, the liquor in the weighing is more */
        *more = up_to(s->drained_solids_g) + in->less;
        *less = down_to(s->drained_solids_g) + in->more;
        return;
    }
    const struct st_range p = s->press_share.known ? s->press_share : PRESSED;
    const double value = s->press ? 1.0 - p.value : 1.0, high = s->press ? high_share(p) : 1.0;
    const double low = s->press ? 1.0 - fmax(p.high, p.value) : 1.0;
    *more = fmax(in->keeps_high * high - in->keeps * value, 0.0);
    *less = fmax(in->keeps * value - in->keeps_low * low, 0.0);
}

/* Every prior of a loss has its high end at most at twice its middle (plan_steps.c, plan_steep.c); what a maker said has
 * its own. */
static double lost_more(const struct st_recipe *r, const struct st_step *s, const struct st_balance *b)
{
    double more = sum_of(b->lost_g) + up_to(s->loss_share) * sum_of(b->in_g) + up_to(s->loss_ml) * MOST_G_ML +
                  up_to(s->boil_off_g);
    if (s->boil_down_to.dim == ST_DIM_VOLUME)
        more += MOST_G_ML * down_to(st_ledger_measured(r, &s->boil_down_to));
    return more;
}

static double lost_less(const struct st_recipe *r, const struct st_step *s, const struct st_balance *b)
{
    double less = sum_of(b->lost_g);
    if (s->boil_down_to.dim == ST_DIM_VOLUME)
        less += MOST_G_ML * up_to(st_ledger_measured(r, &s->boil_down_to));
    return less;
}

/* Of several things nobody knows which are in a part. */
static double dry_of(const struct st_step *s, const struct st_balance *b, const struct income *in)
{
    const bool alone =
        s->kind == ST_DO_TOAST && s->n_line == 1 && s->line[0].what && st_kind_is_solid(s->line[0].what->kind);
    return alone && in->known ? sum_of(b->in_g) - b->in_g[ST_WATER] - in->swap : 0.0;
}

static bool strains(enum st_do kind)
{
    return kind == ST_DO_STEEP || kind == ST_DO_SYRUP || kind == ST_DO_FILTER;
}

static void give(const struct st_recipe *r, int step, const struct st_balance *b, const struct income *in,
                 struct st_gives *out)
{
    const struct st_step *s = &r->step[step];
    const double down = in->less + (in->made_up ? in->more : 0.0), up = in->more + (in->made_up ? in->less : 0.0);
    const bool lies = in->pieces && !strains(s->kind) && s->kind != ST_DO_FINE;
    double kept_more = 0.0, kept_less = 0.0, stays = 0.0, comes = 0.0;
    if (in->pieces && strains(s->kind)) {
        kept(s, in, &kept_more, &kept_less);
        stays = in->soluble * (s->exchanged.known ? down_to(s->exchanged) : EXCHANGED_LOW);
        comes = in->soluble * (s->exchanged.known ? up_to(s->exchanged) : EXCHANGED_HIGH);
    }
    *out = (struct st_gives){ .known = in->known && b->status >= 0,
                              .pieces = lies,
                              .solid_most_g = lies ? in->solid_most_g : 0.0,
                              .dry_g = dry_of(s, b, in),
                              .g = sum_of(b->mass_g),
                              .less_g = down + kept_more + stays + lost_more(r, s, b),
                              .more_g = up + kept_less + comes + lost_less(r, s, b),
                              .ml = b->volume_ml,
                              .spent_g = sum_of(b->spent_g),
                              .spent_less_g = down + kept_less + comes,
                              .spent_more_g = up + kept_more + stays,
                              .keeps = in->keeps,
                              .keeps_low = in->keeps_low,
                              .keeps_high = in->keeps_high,
                              .swap_g = in->swap };
    out->less_ml = ST_MOST_ML_G * out->less_g + ST_SWAP_ML_G * out->swap_g;
    out->more_ml = ST_MOST_ML_G * out->more_g + ST_SWAP_ML_G * out->swap_g;
}

static bool takes(const struct st_line *l, int step)
{
    return !l->what && l->from_step >= 0 && l->from_step < step;
}

/* ---- how thin it becomes ---- */

/* m of m + beside, the most of it: m_low .. m_high. */
static double most_of(double m_low, double m_high, double beside)
{
    const double m = beside >= 0.0 ? m_high : m_low;
    return m + beside > 0.0 ? m / (m + beside) : HUGE_VAL;
}

/* What of a step's liquor is taken; what the step loses or keeps back may be the solvent alone. */
static struct st_thinned thinned(const struct st_recipe *r, int step, const struct st_balance *b,
                                 const struct income *in, const struct st_gives *to, const struct st_gives *from,
                                 struct st_taken t)
{
    const struct st_step *s = &r->step[step];
    const double g = t.share * from->g, low = t.low * fmax(from->g - from->less_g, 0.0);
    const double solid = t.high * from->solid_most_g, high = t.high * (from->g + from->more_g);
    double beside = in->liquid_g - fmax(g - solid, 0.0), beside_low = in->liquid_low_g - fmax(low - solid, 0.0);
    if (!from->known || !to->known)
        return (struct st_thinned){ HUGE_VAL, HUGE_VAL };
    /* the difference of two sums: what is nothing is nothing */
    beside = beside < 1e-9 * in->liquid_g ? 0.0 : beside;
    beside_low = beside_low < 1e-9 * in->liquid_g ? 0.0 : beside_low;
    beside -= sum_of(b->lost_g);
    beside_low -= sum_of(b->lost_g) + lost_more(r, s, b);
    if (in->pieces && strains(s->kind)) {
        beside += in->solid_g - to->spent_g;
        beside_low += in->solid_low_g - to->spent_g - to->spent_more_g;
    }
    return (struct st_thinned){ most_of(g, g, beside), most_of(fmax(low - solid, 0.0), high, beside_low) };
}

static void find_thinned(const struct st_recipe *r, const struct st_foretold *f, int step, int at,
                         const struct income *in, struct st_flows *out)
{
    const struct st_step *s = &r->step[step];
    const struct st_gives *to = &out->gives[step];
    if (st_flows_takes_before(r, step))
        out->thins_whole[step] = thinned(r, step, &f->balance[step], in, to, &out->gives[step - 1], out->whole[step]);
    for (int i = 0; i < s->n_line; i++)
        if (takes(&s->line[i], step))
            out->thins[at + i] =
                thinned(r, step, &f->balance[step], in, to, &out->gives[s->line[i].from_step], out->take[at + i]);
}

/* The least that there is of a step of which parts are taken. */
static void find_least(const struct st_recipe *r, const struct st_foretold *f, int step, struct st_gives *g)
{
    bool part = false;
    for (int s = step + 1; s < r->n_step && !part; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            part = part || (!l->what && l->from_step == step && l->part == ST_LIQUOR && !is_all(&l->amount));
        }
    g->liquid_g = g->known ? fmax(g->g - g->solid_most_g, 0.0) : 0.0;
    g->least_g = g->known ? fmax(g->g - g->less_g - g->solid_most_g, 0.0) : 0.0;
    if (part)
        g->least_g = fmax(g->least_g, st_flows_least(r, f, step));
}

/* ---- the recipe ---- */

bool st_flows_takes_before(const struct st_recipe *r, int step)
{
    const struct st_step *s = &r->step[step];
    if (step == 0 || s->kind == ST_DO_STEEP || s->kind == ST_DO_SYRUP || s->kind == ST_DO_BLEND ||
        s->kind == ST_DO_TOAST)
        return false;
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what)
            return false;
    return true;
}

/* True when some take is of a part; elsewhere there is nothing to reckon. */
static bool has_parts(const struct st_recipe *r, int *n_line)
{
    bool part = false;
    *n_line = 0;
    for (int s = 0; s < r->n_step; s++) {
        *n_line += r->step[s].n_line;
        for (int i = 0; i < r->step[s].n_line; i++)
            part = part || (!r->step[s].line[i].what && !is_all(&r->step[s].line[i].amount));
    }
    return part;
}

/* The part by weight is the part of what is dissolved; pieces may all go with any part.  Of pieces of one thing a part is that
 * part, but for the water each has lost: the most when they have lost all. */
static double carries(const struct st_gives *from, enum st_part_of part, struct st_taken t)
{
    if (part == ST_SPENT)
        return 1.0;
    if (from->pieces)
        return from->dry_g > 0.0 ? fmin(t.high * from->g / from->dry_g, 1.0) : 1.0;
    return fmin(t.high, 1.0);
}

static void take_line(const struct st_recipe *r, const struct st_line *l, int at, struct left left[],
                      struct st_flows *out, struct income *in)
{
    const struct st_gives *from = &out->gives[l->from_step];
    const int part = l->part == ST_SPENT;
    out->take[at] = part_of(r, l, from, left[l->from_step].of[part]);
    out->carries[at] = carries(from, l->part, out->take[at]);
    take_off(&left[l->from_step].of[part], out->take[at]);
    add_taken(from, l->part, out->take[at], in);
}

static void take_before(int step, struct left left[], struct st_flows *out, struct income *in)
{
    const struct st_gives *from = &out->gives[step - 1];
    out->whole[step] = left[step - 1].of[0];
    out->carries_whole[step] = carries(from, ST_LIQUOR, out->whole[step]);
    take_off(&left[step - 1].of[0], out->whole[step]);
    add_taken(from, ST_LIQUOR, out->whole[step], in);
}

void st_flows_find(const struct st_recipe *r, const struct st_foretold *f, struct st_flows *out)
{
    static const struct st_taken ALL = { 1.0, 1.0, 1.0 };
    struct left left[ST_LEDGER_STEPS];
    int n_line, at = 0;
    out->fits = false;
    if (!has_parts(r, &n_line) || !f || !f->balance || f->n_balance != r->n_step || r->n_step > ST_LEDGER_STEPS ||
        n_line > ST_LEDGER_LINES)
        return;
    out->fits = true;
    for (int s = 0; s < r->n_step; s++) {
        struct income in = { .known = true };
        left[s] = (struct left){ { ALL, ALL } };
        if (st_flows_takes_before(r, s))
            take_before(s, left, out, &in);
        for (int i = 0; i < r->step[s].n_line; i++, at++) {
            const struct st_line *l = &r->step[s].line[i];
            if (l->what)
                add_line(r, f, s, i, &in);
            else if (takes(l, s))
                take_line(r, l, at, left, out, &in);
        }
        give(r, s, &f->balance[s], &in, &out->gives[s]);
        find_thinned(r, f, s, at - r->step[s].n_line, &in, out);
        find_least(r, f, s, &out->gives[s]);
    }
}
