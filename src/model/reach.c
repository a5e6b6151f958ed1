#include "reach.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reach_inside.h"

static const struct st_range NOT_KNOWN = { .known = false, .source = "" };
static const double NOTHING = 1e-9; /* of a line: rounding */

/* What is left of each lot when all takes little, the middle, much. */
enum { LEAST, MIDDLE, MOST, NCASE };

struct reaching {
    const struct st_recipe *r;
    const struct st_holding *held;
    int n;
    long today;
    double (*left)[NCASE]; /* untouched */
    double (*cut)[NCASE];  /* of which a part was taken: never more than the most of its parts */
    double (*took)[NCASE]; /* by each use in out; grows with it */
    struct st_fit *fit;    /* [n] room for the lots of one line */
    int room;              /* for uses, in out */
    double water_ml;       /* of the recipe, that may still be left out for what a weaker spirit brings along */
    struct st_reach *out;
};

/* ---- how much a line takes ---- */

static bool open_need(const struct st_foretold *f, int step, int line, struct st_range *need)
{
    for (int i = 0; f && i < f->n_note; i++) {
        const struct st_note *n = &f->note[i];
        if (n->code == ST_NOTE_OPEN && n->step == step && n->line == line) {
            *need = (struct st_range){ n->is, fmin(n->low, n->is), fmax(n->limit, n->is), true, 'm', "" };
            return true;
        }
    }
    return false;
}

static struct st_range closed_need(const struct st_amount *a)
{
    if (a->low < a->high)
        return (struct st_range){ a->value, fmin(a->low, a->value), fmax(a->high, a->value), true, 'u', "" };
    if (a->heaped) /* as plan_lines.c */
        return (struct st_range){ 1.45 * a->value, 1.3 * a->value, 1.6 * a->value, true, 'm', "" };
    if (a->scant)
        return (struct st_range){ 0.9 * a->value, 0.85 * a->value, 0.95 * a->value, true, 'm', "" };
    return (struct st_range){ a->value, a->value, a->value, true, 'u', "" };
}

static void need_of(const struct st_line *l, const struct st_foretold *f, struct st_reach_line *x)
{
    const struct st_amount *a = &l->amount;
    x->need = NOT_KNOWN;
    x->dim = a->dim;
    if (a->make_up_to)
        return;
    if (a->open != ST_CLOSED || a->dim == ST_DIM_OPEN) {
        x->net = open_need(f, x->step, x->line, &x->need);
        x->dim = ST_DIM_MASS;
        return;
    }
    if (a->dim <= ST_DIM_PIECE && a->value >= 0.0 && a->value < 1e9)
        x->need = closed_need(a);
}

/* ---- one line ---- */

static double of_case(const struct st_range *r, int c)
{
    return c == LEAST ? r->low : c == MIDDLE ? r->value : r->high;
}

static struct st_range range_of(const double x[NCASE])
{
    return (struct st_range){ x[MIDDLE], fmin(x[LEAST], x[MIDDLE]), fmax(x[MOST], x[MIDDLE]), true, 'c', "" };
}

static double price_of(const struct st_holding *h, double amount)
{
    if (!(h->price >= 0.0) || !(h->bought > 0.0))
        return (double)NAN;
    return h->price / h->bought * amount;
}

/* The next use; NULL: no memory. */
static struct st_reach_use *next_use(struct reaching *w)
{
    if (w->out->n_use == w->room) {
        const int room = w->room > 0 ? 2 * w->room : 32;
        struct st_reach_use *more = realloc(w->out->use, (size_t)room * sizeof *more);
        if (!more)
            return NULL;
        w->out->use = more;
        double(*took)[NCASE] = realloc(w->took, (size_t)room * sizeof *took);
        if (!took)
            return NULL;
        w->took = took;
        w->room = room;
    }
    return &w->out->use[w->out->n_use];
}

static const struct st_line *line_of(const struct reaching *w, int k)
{
    const struct st_reach_line *x = &w->out->line[k];
    return &w->r->step[x->step].line[x->line];
}

/* How much of the cut pieces of a lot has lost this line's part already. */
static double part_gone(const struct reaching *w, int k, int holding, int c)
{
    const char *slug = line_of(w, k)->what->slug;
    double sum = 0.0;
    for (int i = 0; w->took && i < w->out->n_use; i++) {
        const struct st_reach_use *u = &w->out->use[i];
        if (u->part && u->holding == holding && strcmp(line_of(w, u->line)->what->slug, slug) == 0)
            sum += w->took[i][c];
    }
    return sum;
}

/* The share of the line that a weaker spirit may stand for at most; any other lot: all of it. */
static double most_by_water(const struct reaching *w, const struct st_reach_line *x, const struct st_fit *fit)
{
    const bool near = x->strength - fit->strength <= ST_REACH_NEAR_STRENGTH;
    const double brings = fit->other_strength && !near ? -fit->water_ml * x->need.value : 0.0;
    return brings > 0.0 ? fmin(1.0, w->water_ml / brings) : 1.0;
}

/* Take what can be had of one lot for what is still open of the line: rest[] shares of it. */
static bool use_lot(struct reaching *w, int k, const struct st_fit *fit, double rest[NCASE])
{
    struct st_reach_line *x = &w->out->line[k];
    struct st_reach_use *u = next_use(w);
    double used[NCASE], share[NCASE], anew[NCASE];
    if (!u)
        return false;
    const double most = most_by_water(w, x, fit);
    double *took = w->took[w->out->n_use];
    for (int c = 0; c < NCASE; c++) {
        const double all = of_case(&x->need, c) * of_case(&fit->per, c); /* of this lot, for the whole line */
        double *left = &w->left[fit->holding][c], *cut = &w->cut[fit->holding][c];
        const double open = fit->part ? *cut - part_gone(w, k, fit->holding, c) : 0.0;
        took[c] = used[c] = fmin(all * fmin(rest[c], most), *left + fmax(open, 0.0));
        anew[c] = fmax(used[c] - fmax(open, 0.0), 0.0);
        share[c] = all > 0.0 ? used[c] / all : fmin(rest[c], most);
        rest[c] = rest[c] - share[c] > NOTHING ? rest[c] - share[c] : 0.0;
        *left -= anew[c];
        *cut += fit->part ? anew[c] : 0.0;
    }
    if (most < 1.0 && share[MIDDLE] >= most - NOTHING && rest[MIDDLE] > 0.0)
        x->watery = true;
    if (!(used[LEAST] > 0.0 || used[MIDDLE] > 0.0 || used[MOST] > 0.0)) /* at its end, MOST may be gone already */
        return true;
    *u = (struct st_reach_use){ .line = k,
                                .holding = fit->holding,
                                .amount = range_of(used),
                                .share = range_of(share),
                                .anew = range_of(anew),
                                .part = fit->part,
                                .other_strength = fit->other_strength,
                                .strength = fit->strength,
                                .water_ml = fit->water_ml * x->need.value * share[MIDDLE],
                                .crossed = fit->crossed,
                                .price = price_of(&w->held[fit->holding], anew[MIDDLE]) };
    if (u->other_strength && u->water_ml < 0.0)
        w->water_ml = fmax(w->water_ml + u->water_ml, 0.0);
    w->out->n_use++;
    x->n_use++;
    return true;
}

static enum st_reach_state judge(const struct reaching *w, const struct st_reach_line *x, const double rest[NCASE])
{
    bool other = false, some = false;
    for (int i = 0; i < x->n_use; i++) {
        const struct st_reach_use *u = &w->out->use[x->first_use + i];
        some = some || u->amount.value > 0.0;
        other = other || (u->other_strength && u->amount.value > 0.0);
    }
    if (rest[MIDDLE] > 0.0 && x->n_unlike + x->n_weak > 0)
        return ST_REACH_UNTOLD;
    if (rest[MIDDLE] > 0.0)
        return some ? ST_REACH_SHORT : ST_REACH_NONE;
    if (other)
        return ST_REACH_OTHER_STRENGTH;
    return rest[MOST] > 0.0 ? ST_REACH_MAYBE : ST_REACH_ENOUGH;
}

static bool reach_line(struct reaching *w, int k, const struct st_line *l)
{
    struct st_reach_line *x = &w->out->line[k];
    double rest[NCASE] = { 1.0, 1.0, 1.0 }, missing[NCASE];
    const int n = st_reach_fits(l, x, w->held, w->n, w->today, w->fit);
    x->first_use = w->out->n_use;
    if (!x->need.known) {
        x->state = l->what->kind == ST_KIND_WATER         ? ST_REACH_TAP
                   : n > 0 || x->n_unlike + x->n_weak > 0 ? ST_REACH_UNTOLD
                                                          : ST_REACH_NONE;
        return true;
    }
    if (!(x->need.high > 0.0))
        rest[LEAST] = rest[MIDDLE] = rest[MOST] = 0.0;
    for (int i = 0; i < n && rest[MOST] > 0.0; i++)
        if (!use_lot(w, k, &w->fit[i], rest))
            return false;
    for (int c = 0; c < NCASE; c++)
        missing[c] = rest[c] * of_case(&x->need, c);
    x->missing = range_of(missing);
    x->state = judge(w, x, rest);
    if (l->what->kind == ST_KIND_WATER && rest[MOST] > 0.0) {
        x->state = ST_REACH_TAP;
        x->missing = (struct st_range){ 0.0, 0.0, 0.0, true, 'c', "" };
    }
    return true;
}

/* ---- cost ---- */

static void currency(struct st_reach_cost *c, const char *of)
{
    if (!of)
        of = "";
    if (!c->currency)
        c->currency = of;
    else if (strcmp(c->currency, of) != 0)
        c->mixed = true;
}

static struct st_range by_volume(const struct st_range *batch, double ml, const struct st_foretold *f)
{
    const struct st_interval *v = f ? &f->fig[ST_FIG_VOLUME] : NULL;
    if (!batch->known || !(ml > 0.0) || !v || !v->known || !(v->low > 0.0))
        return NOT_KNOWN;
    return (struct st_range){
        batch->value * ml / v->value, batch->low * ml / v->high, batch->high * ml / v->low, true, 'c', ""
    };
}

static void reckon(const struct st_recipe *r, const struct st_foretold *f, const struct st_holding held[],
                   struct st_reach *x)
{
    struct st_reach_cost *c = &x->cost;
    struct st_range sum = { 0.0, 0.0, 0.0, true, 'c', "" };
    for (int i = 0; i < x->n_line; i++)
        c->n_uncovered += x->line[i].state == ST_REACH_SHORT || x->line[i].state == ST_REACH_NONE ||
                          x->line[i].state == ST_REACH_UNTOLD;
    for (int i = 0; i < x->n_use; i++) {
        const struct st_reach_use *u = &x->use[i];
        const struct st_holding *h = &held[u->holding];
        const double per = price_of(h, 1.0);
        if (isnan(per)) {
            c->n_unpriced += u->anew.high > 0.0;
            continue;
        }
        currency(c, h->currency);
        sum.value += per * u->anew.value;
        sum.low += per * u->anew.low;
        sum.high += per * u->anew.high;
    }
    c->at_least = c->mixed ? (double)NAN : sum.value;
    sum.known = c->n_unpriced == 0 && c->n_uncovered == 0 && !c->mixed;
    c->batch = sum.known ? sum : NOT_KNOWN;
    if (!c->currency || c->mixed)
        c->currency = "";
    c->bottle = by_volume(&c->batch, r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml : 0.0, f);
    c->pour = by_volume(&c->batch, r->serving_ml, f);
}

bool st_margin_of_pour(const struct st_range *cost, double price, double tax_share, struct st_margin *out)
{
    if (!cost->known || !(price >= 0.0) || !isfinite(price) || !(tax_share >= 0.0 && tax_share < 1.0))
        return false;
    const double net = price * (1.0 - tax_share);
    *out = (struct st_margin){ .net = net,
                               .margin = { net - cost->value, net - cost->high, net - cost->low, true, 'c', "" },
                               .share = { .known = net > 0.0, .mark = 'c', .source = "" } };
    if (net > 0.0) {
        out->share.value = out->margin.value / net;
        out->share.low = out->margin.low / net;
        out->share.high = out->margin.high / net;
    }
    return true;
}

/* ---- the whole ---- */

static int lines_of(const struct st_recipe *r)
{
    int n = 0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            n += r->step[s].line[i].what != NULL;
    return n;
}

/* mL of plain water that the recipe itself pours in. */
static double water_of(const struct st_recipe *r)
{
    double sum = 0.0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            const struct st_amount *a = &l->amount;
            if (l->what && l->what->kind == ST_KIND_WATER && !a->make_up_to && a->open == ST_CLOSED &&
                (a->dim == ST_DIM_VOLUME || a->dim == ST_DIM_MASS) && a->value > 0.0)
                sum += a->value; /* of a mass, g for mL: less than one part in 500 off */
        }
    return sum;
}

static bool rooms(struct reaching *w, int lines)
{
    const size_t n = (size_t)w->n;
    w->left = calloc(n + 1, sizeof *w->left);
    w->cut = calloc(n + 1, sizeof *w->cut);
    w->fit = calloc(n + 1, sizeof *w->fit);
    w->out->line = calloc((size_t)lines + 1, sizeof *w->out->line);
    if (!w->left || !w->cut || !w->fit || !w->out->line)
        return false;
    for (int i = 0; i < w->n; i++)
        for (int c = 0; c < NCASE; c++)
            w->left[i][c] = fmax(w->held[i].left, 0.0);
    return true;
}

bool st_reach_find(const struct st_recipe *r, const struct st_foretold *f, const struct st_holding held[], int n,
                   long today, struct st_reach *out)
{
    struct reaching w = { .r = r, .held = held, .n = n, .today = today, .out = out, .water_ml = water_of(r) };
    *out = (struct st_reach){ 0 };
    if (n < 0)
        return false;
    bool room = rooms(&w, lines_of(r));
    for (int s = 0; room && s < r->n_step; s++)
        for (int i = 0; room && i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (!l->what)
                continue;
            struct st_reach_line *x = &out->line[out->n_line];
            *x = (struct st_reach_line){ .step = s, .line = i };
            need_of(l, f, x);
            room = reach_line(&w, out->n_line++, l);
        }
    if (room)
        reckon(r, f, held, out);
    else
        st_reach_done(out);
    free(w.left);
    free(w.cut);
    free(w.took);
    free(w.fit);
    return room;
}

void st_reach_done(struct st_reach *x)
{
    free(x->line);
    free(x->use);
    *x = (struct st_reach){ 0 };
}

const char *st_reach_state_name(enum st_reach_state s)
{
    static const char *const NAME[ST_NREACH] = {
        [ST_REACH_ENOUGH] = "enough", [ST_REACH_MAYBE] = "perhaps", [ST_REACH_OTHER_STRENGTH] = "other_strength",
        [ST_REACH_SHORT] = "short",   [ST_REACH_NONE] = "none",     [ST_REACH_UNTOLD] = "cannot_be_told",
        [ST_REACH_TAP] = "tap",
    };
    return (unsigned)s < ST_NREACH ? NAME[s] : "";
}
