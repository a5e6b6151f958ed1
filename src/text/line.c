#include "line.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "line_draft.h"
#include "stops.h"

/* Sizes in which spirits and wines are sold, mL; common practice. */
static const double BOTTLE_ML[] = { 200, 350, 375, 500, 700, 750, 1000, 1750 };

static bool is_drink(const struct st_ingredient *in)
{
    return in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE;
}

/* An ounce of these is a fluid ounce; of what may be weighed as well as poured, nobody can tell. */
static bool is_poured(enum st_kind k)
{
    return k == ST_KIND_SPIRIT || k == ST_KIND_WINE || k == ST_KIND_WATER || k == ST_KIND_JUICE || k == ST_KIND_BREW;
}

static bool may_be_poured(enum st_kind k)
{
    return k == ST_KIND_SYRUP || k == ST_KIND_DAIRY || k == ST_KIND_EGG;
}

/* ---- one pass ---- */

static int read_draft(struct st_draft *d, const struct st_catalogue *c)
{
    memcpy(d->work, d->text, d->n);
    d->work[d->n] = '\0';
    if (st_draft_strength(d) || st_draft_temperature(d) || st_draft_amount(d))
        return -1;
    st_draft_weighing(d);
    if (!d->has_amount)
        return st_draft_stop(d, 0, "nothing can be reckoned without one",
                             "write for example 500 g, 2 cups, `to taste` or `until covered`, before or after the name",
                             "no amount in this line");
    return st_draft_name(d, c);
}

static void begin(struct st_draft *d, const char *text, size_t n, enum st_measures measures, struct st_problem *problem)
{
    *d = (struct st_draft){ .text = text, .n = n, .problem = problem };
    d->ask = (struct st_ask){ measures, ST_DIMS_GOODS, false, false };
}

/* ---- after the ingredient is known ---- */

static int check_strength(struct st_draft *d)
{
    if (!is_drink(d->what) || d->strength.known || d->what->strength.known || d->asks)
        return 0;
    char example[120];
    (void)snprintf(example, sizeof example, "write it from the label, for example: %.60s 40 %%",
                   d->what->kind == ST_KIND_SPIRIT ? d->what->name : "liqueur");
    return st_draft_stop(d, d->name_at, "everything that is foretold hangs on it", example, "how strong is the %.80s",
                         d->what->name);
}

/* "8 oz honey" */
static int check_ounce(struct st_draft *d)
{
    if (!d->ounce || !may_be_poured(d->what->kind) || d->amount.dim != ST_DIM_MASS || !d->amount.unit ||
        strcmp(d->amount.unit->key, "oz_av") != 0)
        return 0;
    (void)st_draft_stop(d, 0, "a fluid ounce and an ounce of weight differ by a third for it",
                        "write `oz wt` or `fl oz`, or grams or mL", "which ounce of %.80s", d->what->name);
    d->problem->is_question = 1;
    return 1;
}

/* "1000 t sugar": nobody counts that many spoons. */
static int check_spoons(struct st_draft *d)
{
    const struct st_amount *a = &d->amount;
    const double most = 100.0;

    if ((a->tool != ST_TOOL_TEASPOON && a->tool != ST_TOOL_TABLESPOON) || !a->unit || !(a->written > most))
        return 0;
    (void)st_draft_stop(d, 0, "nobody counts that many spoons; `t` and `T` are short for spoons here",
                        "write grams, kilograms or litres, for example 1 kg", "%g %s or tonnes", a->written,
                        a->tool == ST_TOOL_TEASPOON ? "teaspoons" : "tablespoons");
    d->problem->is_question = 1;
    return 1;
}

/* A spirit or wine in a size that is sold: nobody measures it again. */
static void note_bottle(struct st_draft *d)
{
    struct st_amount *a = &d->amount;
    const double one = a->value / (a->fills > 1.0 ? a->fills : 1.0);

    if (!is_drink(d->what) || a->dim != ST_DIM_VOLUME || a->tool != ST_TOOL_JUG || a->make_up_to || a->low < a->high)
        return;
    for (size_t i = 0; i < sizeof BOTTLE_ML / sizeof BOTTLE_ML[0]; i++) {
        if (fabs(a->value - BOTTLE_ML[i]) < 0.5) {
            a->tool = ST_TOOL_BOTTLE;
            a->fills = 1.0;
        } else if (fabs(one - BOTTLE_ML[i]) < 0.5) {
            a->tool = ST_TOOL_BOTTLE;
        }
    }
}

/* What the words say of how it was weighed.  A stone fruit that is told to be whole has its stone in it. */
static void settle_weighing(const struct st_draft *d, struct st_line *out)
{
    static const char OUT[] = "stones removed|stone removed|stones taken out|stones out|pits removed|pits taken out";
    const bool out_of_it = st_draft_says(d, OUT), net = d->net || out_of_it || st_draft_says(d, ST_NET_WORDS);
    const bool whole = !net && st_ingredient_has_stones(d->what) && st_draft_says(d, "whole");

    if (out->amount.dim != ST_DIM_MASS)
        return;
    out->gross = (d->gross && !d->net && !out_of_it) || whole;
    out->weighing_unsaid = !out->gross && !net && !d->part[0] && !d->tinned;
}

static void give(const struct st_draft *d, struct st_line *out)
{
    *out = (struct st_line){ .text = d->text, .what = d->what, .from_step = -1, .amount = d->amount };
    out->strength = d->strength;
    out->temperature_K = d->temperature;
    out->gross = d->gross && !d->net && d->amount.dim != ST_DIM_PIECE;
    settle_weighing(d, out);
    out->price = (double)NAN;
}

/* Wine comes in other bottles than spirits and liqueurs. */
static bool is_wine(const struct st_ingredient *in)
{
    return in->kind == ST_KIND_WINE && in->strength.known && in->strength.value <= 22.0;
}

/* Read again with what the ingredient tells of ounces and bottles. */
static bool wants_second_pass(const struct st_draft *d)
{
    return (d->ounce && is_poured(d->what->kind)) || is_wine(d->what);
}

/* "2 grains of paradise" are no weight; only when the name was not known otherwise. */
static bool read_without_grains(struct st_draft *d, const struct st_catalogue *c)
{
    const struct st_problem first = *d->problem;

    if (!d->has_amount || !d->amount.unit || strcmp(d->amount.unit->key, "grain") != 0)
        return false;
    begin(d, d->text, d->n, d->ask.measures, d->problem);
    d->ask.dims = ST_DIM_BIT(ST_DIM_PIECE);
    if (read_draft(d, c) == 0)
        return true;
    *d->problem = first;
    return false;
}

/* "1 bottle vodka 80 proof": proof is what US labels tell, and a US bottle holds 750 mL. */
static bool wants_us_bottle(const struct st_draft *d)
{
    return d->asks && d->proof && d->ask.measures == ST_MEASURES_NONE && d->what && is_drink(d->what) &&
           d->amount.unit && d->amount.unit->tool == ST_TOOL_BOTTLE;
}

static int parse(const char *text, enum st_measures measures, const struct st_catalogue *c, struct st_line *out,
                 struct st_problem *problem)
{
    struct st_draft d;
    const size_t n = strnlen(text, ST_LINE_LIMIT + 1);

    begin(&d, text, n > ST_LINE_LIMIT ? 0 : n, measures, problem);
    *problem = (struct st_problem){ .at = { 0, 1 } };
    if (n > ST_LINE_LIMIT)
        return st_draft_stop(&d, 0, "a line has at most 4096 bytes", "write one ingredient a line",
                             "the line is too long");
    if (read_draft(&d, c) && !read_without_grains(&d, c))
        return -1;
    if (wants_second_pass(&d)) {
        const struct st_ask ask = { measures, ST_DIMS_GOODS, is_poured(d.what->kind), is_wine(d.what) };
        begin(&d, text, n, measures, problem);
        d.ask = ask;
        if (read_draft(&d, c))
            return -1;
    }
    if (wants_us_bottle(&d)) {
        begin(&d, text, n, ST_MEASURES_US, problem);
        if (read_draft(&d, c))
            return -1;
    }
    st_draft_warmth(&d);
    if (check_strength(&d))
        return -1;
    if (d.asks) {
        *problem = d.question;
        return 1;
    }
    if (check_ounce(&d) || check_spoons(&d))
        return 1;
    note_bottle(&d);
    *problem = (struct st_problem){ 0 };
    give(&d, out);
    return 0;
}

/* A line that cannot be read may still name what kills: that is told, and not how to write it. */
int st_line_parse(const char *text, enum st_measures measures, const struct st_catalogue *c, struct st_line *out,
                  struct st_problem *problem)
{
    const int result = parse(text, measures, c, out, problem);
    const bool told = result && strstr(problem->what, "must not go into a drink");
    const size_t n = result && !told ? strnlen(text, ST_LINE_LIMIT + 1) : 0;
    return n && n <= ST_LINE_LIMIT && st_stop_in_text(c, text, n, problem) ? -1 : result;
}
