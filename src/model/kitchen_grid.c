#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/units.h"
#include "kitchen.h"
#include "plan_inside.h"

/* What the tools of a kitchen measure of one line. */

void st_kitchen_usual(struct st_kitchen *k, enum st_measures m)
{
    *k = (struct st_kitchen){ .measures = m == ST_MEASURES_NONE ? ST_MEASURES_METRIC : m,
                              .cups = true,
                              .tablespoons = true,
                              .teaspoons = true,
                              .jug = true,
                              .scale = true,
                              .pieces = true,
                              .jug_step_ml = 10.0, /* marks: common practice, no source */
                              .jug_most_ml = 1000.0,
                              .scale_step_g = 5.0,
                              .scale_most_g = 5000.0 };
    static const double US[] = { 375.0, 750.0, 1000.0 }, ELSE[] = { 350.0, 500.0, 700.0, 750.0, 1000.0 };
    const bool us = m == ST_MEASURES_US;
    k->n_bottle = us ? 3 : 5;
    memcpy(k->bottle_ml, us ? US : ELSE, (us ? sizeof US : sizeof ELSE));
}

/* ---- the line ---- */

struct asked {
    const struct st_kitchen *kitchen;
    const struct st_aim *aim;
    const struct st_aim_dial *dial;
    const struct st_line *line;
    unsigned tools;
    enum st_kitchen_grain grain;
    struct st_kitchen_grid *out;
};

static bool allowed(const struct asked *a, enum st_tool tool)
{
    return a->tools & (1u << (unsigned)tool);
}

/* Grams of 1 mL, or of a piece, of what stands on a line, as a plan reckons it; NAN unknown. */
static double grams_per(const struct st_recipe *r, const struct st_line *line, enum st_dimension dim, double size_ml)
{
    struct st_plan plan;
    struct st_known known;
    struct st_problem problem;
    double per = (double)NAN;
    memset(&plan, 0, sizeof plan);
    memset(&known, 0, sizeof known);
    st_tape_init(&plan.tape);
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_BLEND };
    struct st_line one = *line;
    step.line = &one;
    step.n_line = 1;
    struct st_recipe own = *r;
    own.step = &step;
    own.n_step = 1;
    struct st_build b = { .plan = &plan, .tape = &plan.tape, .recipe = &own, .problem = &problem, .known = &known };
    for (int i = 0; i < ST_NTOOL; i++)
        b.tool_scale[i] = b.tool_group[i] = -1;
    struct st_known *k = st_known_get(&b, &one);
    if (k && !b.stop) {
        const int reg = dim == ST_DIM_PIECE ? st_known_piece(&b, k) : st_known_g_per_ml(&b, k, size_ml);
        per = reg >= 0 && !b.stop ? st_now(&b, reg) : per;
    }
    st_tape_done(&plan.tape);
    return per;
}

/* The line keeps its dimension: another would mean something else. */
static bool keeps_dimension(const struct st_line *l)
{
    return l->gross || l->trimmed_share.known || l->temperature_K.known || l->amount.make_up_to || !l->what;
}

/* Base units of the line's own dimension for x of dim, in fillings of size_ml; NAN: cannot be turned. */
static double in_own(const struct asked *a, enum st_dimension dim, double x, double size_ml)
{
    const struct st_line *l = a->line;
    const enum st_dimension own = l->amount.dim;
    if (dim == own && dim != ST_DIM_VOLUME)
        return x;
    if (dim != own && keeps_dimension(l))
        return (double)NAN;
    for (int k = 0; dim != own && k < a->aim->n_dial; k++) /* its density is not settled yet */
        if (a->aim->dial[k].dial.of == ST_DIAL_STRENGTH && l->what->kind == ST_KIND_SPIRIT)
            return (double)NAN;
    const bool same = dim == own && keeps_dimension(l);
    const double own_size = l->amount.value / (l->amount.fills > 0.0 ? l->amount.fills : 1.0);
    const double to = dim == ST_DIM_MASS || same ? 1.0 : grams_per(a->aim->recipe, l, dim, size_ml);
    const double back = own == ST_DIM_MASS || same ? 1.0 : grams_per(a->aim->recipe, l, own, own_size);
    return x * to / back;
}

/* With another tool, within half a hundredth: no kitchen tells these apart. */
static bool is_as_much(const struct st_kitchen_item *x, const struct st_kitchen_item *y)
{
    return fabs(x->factor - y->factor) <= (x->tool == y->tool ? 1e-7 : 0.005) * y->factor;
}

static bool is_household(enum st_tool t)
{
    return t == ST_TOOL_CUP || t == ST_TOOL_TABLESPOON || t == ST_TOOL_TEASPOON;
}

static bool is_handier(const struct st_kitchen_item *x, const struct st_kitchen_item *y)
{
    if (x->tool == ST_TOOL_SCALE && is_household(y->tool))
        return true;
    if (y->tool == ST_TOOL_SCALE && is_household(x->tool))
        return false;
    return x->fills < y->fills || (x->fills == y->fills && x->fuss < y->fuss);
}

static void put(struct asked *a, struct st_kitchen_item item, double size_ml)
{
    const double own = in_own(a, item.dim, item.amount, size_ml);
    struct st_kitchen_grid *g = a->out;
    if (!(own > 0.0))
        return;
    item.factor = own / a->line->amount.value;
    if (item.factor < a->dial->low * (1.0 - 1e-9) || item.factor > a->dial->high * (1.0 + 1e-9))
        return;
    int i = 0;
    for (int j = 0; j < g->n; j++)
        if (is_as_much(&g->item[j], &item) && !is_handier(&item, &g->item[j]))
            return;
    for (int j = g->n - 1; j >= 0; j--)
        if (is_as_much(&g->item[j], &item))
            memmove(&g->item[j], &g->item[j + 1], (size_t)(--g->n - j) * sizeof *g->item);
    if (g->n == ST_KITCHEN_GRID)
        return;
    while (i < g->n && g->item[i].factor < item.factor)
        i++;
    memmove(&g->item[i + 1], &g->item[i], (size_t)(g->n - i) * sizeof *g->item);
    g->item[i] = item;
    g->n++;
}

/* ---- household measures ---- */

/* A measure and its parts: 1/4 cup to 4 cups. */
struct household {
    enum st_tool tool;
    const char *key[3]; /* by measures: us, metric, imperial */
    double least, most; /* how many */
    int n_part;
    struct {
        double x, fills, fuss;
    } part[6]; /* beside the whole ones */
};

static const struct household CUP = { ST_TOOL_CUP,
                                      { "cup_us", "cup_metric_anz", "cup_imp" },
                                      0.25,
                                      6.0,
                                      6,
                                      { { 0.0, 0.0, 0.0 },
                                        { 0.25, 1.0, 0.3 },
                                        { 1.0 / 3, 1.0, 0.4 },
                                        { 0.5, 1.0, 0.2 },
                                        { 2.0 / 3, 2.0, 0.6 },
                                        { 0.75, 2.0, 0.5 } } };
static const struct household TABLESPOON = {
    ST_TOOL_TABLESPOON, { "tbsp_us", "tbsp_metric", "tbsp_imp" }, 0.5, 8.0, 2, { { 0.0, 0.0, 0.0 }, { 0.5, 1.0, 0.3 } }
};
static const struct household TEASPOON = {
    ST_TOOL_TEASPOON,
    { "tsp_us", "tsp_metric", "tsp_imp" },
    0.25,
    6.0,
    4,
    { { 0.0, 0.0, 0.0 }, { 0.25, 1.0, 0.4 }, { 0.5, 1.0, 0.2 }, { 0.75, 2.0, 0.6 } }
};

/* Few fillings of one measure: whole spoons up to four, half a teaspoon, whole and half cups up to three. */
static bool is_round(const struct household *h, double x, double part)
{
    if (h->tool == ST_TOOL_CUP)
        return x <= 3.0 && (part == 0.0 || part == 0.5);
    return x <= 4.0 && (part == 0.0 || (h->tool == ST_TOOL_TEASPOON && x == 0.5));
}

/* Each filling is counted under the breath; above four it is easy to lose count, a part at the end more so. */
static double fuss_of(double fills, double part_fuss)
{
    return 0.1 * fills + fmax(0.1 * (fills - 4.0), 0.0) + part_fuss * (fills > 3.0 ? 2.0 : 1.0);
}

static void add_household(struct asked *a, const struct household *h, bool has)
{
    const enum st_measures m = a->kitchen->measures;
    const struct st_unit *u = st_unit_by_key(h->key[m == ST_MEASURES_US ? 0 : m == ST_MEASURES_IMPERIAL ? 2 : 1]);
    if (!has || !u || !allowed(a, h->tool))
        return;
    for (int whole = 0; whole <= (int)h->most; whole++)
        for (int i = 0; i < h->n_part; i++) {
            const double x = whole + h->part[i].x, fills = whole + h->part[i].fills;
            if (x < h->least || x > h->most || (a->grain == ST_GRAIN_ROUND && !is_round(h, x, h->part[i].x)))
                continue;
            put(a,
                (struct st_kitchen_item){ .amount = x * u->factor,
                                          .dim = ST_DIM_VOLUME,
                                          .tool = h->tool,
                                          .unit = u,
                                          .written = x,
                                          .fills = fills,
                                          .fuss = fuss_of(fills, h->part[i].fuss) },
                x * u->factor / fills);
        }
}

/* ---- jug, scale, bottles, jigger, pieces, drops ---- */

static bool is_poured(const struct st_line *l)
{
    if (!l->what)
        return l->amount.dim == ST_DIM_VOLUME;
    switch (l->what->kind) {
    case ST_KIND_SPIRIT:
    case ST_KIND_WINE:
    case ST_KIND_WATER:
    case ST_KIND_JUICE:
    case ST_KIND_BREW:
    case ST_KIND_SYRUP:
    case ST_KIND_DAIRY: return true;
    default: return l->amount.dim == ST_DIM_VOLUME && l->amount.tool == ST_TOOL_JUG;
    }
}

/* Marks of a jug: every step, but above the 20th every fifth step and so on: 10 to 200 by 10, to 500 by 25, then by 50.
 */
static double mark_after(double x, double step)
{
    return x < 20.0 * step - 1e-9 ? x + step : x < 50.0 * step - 1e-9 ? x + 2.5 * step : x + 5.0 * step;
}

static double roundness(double x, double step)
{
    return fabs(x / (10.0 * step) - round(x / (10.0 * step))) < 1e-6 ? 0.0
           : fabs(x / (5.0 * step) - round(x / (5.0 * step))) < 1e-6 ? 0.1
                                                                     : 0.3;
}

static void add_jug(struct asked *a)
{
    const struct st_kitchen *k = a->kitchen;
    const struct st_unit *u = st_unit_by_key("ml");
    if (!k->jug || !allowed(a, ST_TOOL_JUG) || !is_poured(a->line))
        return;
    const double step = a->grain == ST_GRAIN_ROUND ? 5.0 * k->jug_step_ml : k->jug_step_ml;
    double x = step;
    while (x <= 4.0 * k->jug_most_ml + 1e-9) {
        const double fills = ceil(x / k->jug_most_ml - 1e-6);
        put(a,
            (struct st_kitchen_item){ .amount = x,
                                      .dim = ST_DIM_VOLUME,
                                      .tool = ST_TOOL_JUG,
                                      .unit = u,
                                      .written = x,
                                      .fills = fills,
                                      .fuss = roundness(x, k->jug_step_ml) + 0.1 * (fills - 1.0) },
            x / fills);
        x = fmax(x + step, mark_after(x, k->jug_step_ml));
    }
}

/* No more than about 150 weights: the step of the scale, or the finest round multiple of it. */
static void add_scale(struct asked *a)
{
    const struct st_kitchen *k = a->kitchen;
    const struct st_unit *u = st_unit_by_key("g");
    if (!k->scale || !allowed(a, ST_TOOL_SCALE) || (is_poured(a->line) && a->line->amount.dim != ST_DIM_MASS))
        return;
    const double one = in_own(a, ST_DIM_MASS, 1.0, 0.0) / a->line->amount.value; /* factor of 1 g */
    if (!(one > 0.0))
        return;
    const double low = fmax(a->dial->low / one, k->scale_step_g), high = fmin(a->dial->high / one, k->scale_most_g);
    double step = a->grain == ST_GRAIN_ROUND ? fmax(25.0, k->scale_step_g) : k->scale_step_g;
    for (int i = 0; (high - low) / step > 200.0; i++)
        step *= i % 2 ? 2.5 : 2.0;
    const double first = ceil(low / step - 1e-9), last = floor(high * (1.0 + 1e-9) / step);
    for (int i = 0; first + i <= last; i++) {
        const double x = step * (first + i);
        put(a,
            (struct st_kitchen_item){ .amount = x,
                                      .dim = ST_DIM_MASS,
                                      .tool = ST_TOOL_SCALE,
                                      .unit = u,
                                      .written = x,
                                      .fills = 1.0,
                                      .fuss = roundness(x, 5.0) },
            0.0);
    }
}

static void add_bottles(struct asked *a)
{
    const struct st_kitchen *k = a->kitchen;
    const struct st_unit *u = st_unit_by_key("ml");
    if (!allowed(a, ST_TOOL_BOTTLE) || !a->line->what || a->line->what->kind != ST_KIND_SPIRIT)
        return;
    for (int i = 0; i < k->n_bottle; i++)
        for (int n = 1; n <= 6; n++)
            put(a,
                (struct st_kitchen_item){ .amount = n * k->bottle_ml[i],
                                          .dim = ST_DIM_VOLUME,
                                          .tool = ST_TOOL_BOTTLE,
                                          .unit = u,
                                          .written = n * k->bottle_ml[i],
                                          .fills = n,
                                          .size = k->bottle_ml[i],
                                          .fuss = -0.5 },
                k->bottle_ml[i]);
}

static void add_jigger(struct asked *a)
{
    const struct st_kitchen *k = a->kitchen;
    const struct st_unit *u = st_unit_by_key("ml");
    if (!allowed(a, ST_TOOL_JIGGER) || !is_poured(a->line))
        return;
    for (int i = 0; i < k->n_jigger; i++)
        for (int n = 1; n <= 8; n++)
            put(a,
                (struct st_kitchen_item){ .amount = n * k->jigger_ml[i],
                                          .dim = ST_DIM_VOLUME,
                                          .tool = ST_TOOL_JIGGER,
                                          .unit = u,
                                          .written = n * k->jigger_ml[i],
                                          .fills = n,
                                          .size = k->jigger_ml[i],
                                          .fuss = 0.1 * n },
                k->jigger_ml[i]);
}

static void add_drops(struct asked *a)
{
    const struct st_unit *u = st_unit_by_key("drop");
    if (!a->kitchen->dropper || !u || !allowed(a, ST_TOOL_DROPPER) || !is_poured(a->line))
        return;
    for (int n = 1; n <= 60; n += n < 20 ? 1 : 5)
        put(a,
            (struct st_kitchen_item){ .amount = n * u->factor,
                                      .dim = ST_DIM_VOLUME,
                                      .tool = ST_TOOL_DROPPER,
                                      .unit = u,
                                      .written = n,
                                      .fills = n,
                                      .fuss = 0.5 },
            u->factor);
}

static void add_pieces(struct asked *a)
{
    const double per = a->line->what && a->line->what->piece.known ? a->line->what->piece.value : 0.0;
    const bool counted = a->line->amount.dim == ST_DIM_PIECE, fruit = a->grain == ST_GRAIN_WHOLE && per >= 30.0;
    if (!a->kitchen->pieces || !allowed(a, ST_TOOL_COUNT_PIECES) || !a->line->what || (!counted && !fruit))
        return;
    for (int n = 1; n <= 60; n++)
        put(a,
            (struct st_kitchen_item){ .amount = n,
                                      .dim = ST_DIM_PIECE,
                                      .tool = ST_TOOL_COUNT_PIECES,
                                      .written = n,
                                      .fills = 1.0,
                                      .unit = counted ? a->line->amount.unit : NULL },
            0.0);
}

bool st_kitchen_weighed(const struct st_aim *aim, int k, double factor, double step_g, struct st_kitchen_item *out)
{
    const struct st_aim_dial *d = &aim->dial[k];
    struct asked a = { .aim = aim, .dial = d, .line = &aim->recipe->step[d->dial.step].line[d->dial.line] };
    if (d->dial.of != ST_DIAL_AMOUNT)
        return false;
    const double one = in_own(&a, ST_DIM_MASS, 1.0, 0.0) / a.line->amount.value; /* factor of 1 g */
    const double g = step_g * round(factor / one / step_g);
    if (!(g > 0.0))
        return false;
    *out = (struct st_kitchen_item){ .factor = g * one,
                                     .amount = g,
                                     .dim = ST_DIM_MASS,
                                     .tool = ST_TOOL_SCALE,
                                     .unit = st_unit_by_key("g"),
                                     .written = g,
                                     .fills = 1.0,
                                     .fuss = 0.2 };
    return true;
}

/* ---- strengths ---- */

/* What spirits are sold at, % vol: common practice, no source. */
static const double SOLD[] = { 37.5, 38.0, 40.0, 42.0, 43.0, 45.0, 46.0, 47.0, 50.0,
                               55.0, 57.0, 60.0, 70.0, 80.0, 90.0, 95.0, 96.0 };

static void add_strengths(struct asked *a)
{
    struct st_kitchen_grid *g = a->out;
    if (a->dial->low == a->dial->high) {
        g->item[g->n++] =
            (struct st_kitchen_item){ .factor = a->dial->low, .amount = a->dial->low, .dim = ST_DIM_STRENGTH };
        return;
    }
    for (size_t i = 0; i < sizeof SOLD / sizeof *SOLD; i++)
        if (SOLD[i] >= a->dial->low && SOLD[i] <= a->dial->high)
            g->item[g->n++] = (struct st_kitchen_item){ .factor = SOLD[i], .amount = SOLD[i], .dim = ST_DIM_STRENGTH };
}

void st_kitchen_grid(const struct st_aim *aim, int k, const struct st_kitchen *kitchen, unsigned tools,
                     enum st_kitchen_grain grain, struct st_kitchen_grid *out)
{
    const struct st_aim_dial *d = &aim->dial[k];
    struct asked a = { .kitchen = kitchen, .aim = aim, .dial = d, .tools = tools, .grain = grain, .out = out };
    a.line = &aim->recipe->step[d->dial.step].line[d->dial.line];
    out->n = 0;
    if (d->dial.of == ST_DIAL_STRENGTH) {
        add_strengths(&a);
        return;
    }
    if (d->low == d->high) { /* pinned */
        out->item[out->n++] = (struct st_kitchen_item){ .factor = d->low,
                                                        .amount = d->low * a.line->amount.value,
                                                        .dim = a.line->amount.dim };
        return;
    }
    add_bottles(&a);
    if (grain == ST_GRAIN_WHOLE && a.line->what && a.line->what->kind == ST_KIND_SPIRIT)
        return;
    add_pieces(&a);
    if (grain == ST_GRAIN_WHOLE && out->n > 0)
        return;
    add_household(&a, &CUP, kitchen->cups);
    add_household(&a, &TABLESPOON, kitchen->tablespoons);
    add_household(&a, &TEASPOON, kitchen->teaspoons);
    add_jug(&a);
    add_scale(&a);
    add_jigger(&a);
    add_drops(&a);
}
