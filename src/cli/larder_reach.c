#include <math.h>
#include <string.h>

#include "api/book_reach.h"
#include "cli/larder.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/stops.h"
#include "util/buf.h"

/* What of a recipe is within reach, what to buy, what it costs. */

static const char *dim_name(enum st_dimension dim)
{
    return dim == ST_DIM_MASS ? "g" : dim == ST_DIM_VOLUME ? "mL" : "pieces";
}

/* ---- a line of the recipe ---- */

static void from_lots(const struct st_within *w, const struct st_reach_line *l, enum st_measures units,
                      struct st_buf *out)
{
    char amount[60];
    for (int i = l->first_use; i < l->first_use + l->n_use; i++) {
        const struct st_reach_use *u = &w->reach.use[i];
        const struct st_lot *lot = &w->larder.lot[u->holding];
        st_lot_amount(amount, sizeof amount, u->amount.value, dim_name(w->held[u->holding].dim), units);
        st_buf_printf(out, "%s%s of %s %s", out->length ? "; " : "", amount, lot->row.code, lot->row.name);
        if (!u->other_strength)
            continue;
        st_buf_printf(out, ", which has %.4g %%", u->strength);
        if (isnan(u->water_ml))
            continue;
        st_lot_amount(amount, sizeof amount, fabs(u->water_ml), "mL", units);
        if (fabs(u->water_ml) >= 1.0)
            st_buf_printf(out, u->water_ml > 0.0 ? ": add %s water" : ": it brings %s more water along", amount);
    }
}

static void line_words(const struct st_recipe *r, const struct st_within *w, const struct st_reach_line *l,
                       enum st_measures units)
{
    struct st_buf text = { 0 };
    char amount[60];

    cli_wrap(2, 4, r->step[l->step].line[l->line].text);
    from_lots(w, l, units, &text);
    st_lot_amount(amount, sizeof amount, l->missing.known ? l->missing.value : 0.0, dim_name(l->dim), units);
    switch (l->state) {
    case ST_REACH_SHORT: st_buf_printf(&text, "%s%s short", text.length ? "; " : "", amount); break;
    case ST_REACH_NONE: st_buf_add(&text, "none there"); break;
    case ST_REACH_MAYBE: st_buf_add(&text, "; it may just be too little"); break;
    case ST_REACH_UNTOLD:
        st_buf_printf(&text, "%s%s", text.length ? "; " : "",
                      l->need.known ? "what is there is measured otherwise, and nobody has weighed it"
                                    : "how much it takes is not known beforehand");
        break;
    case ST_REACH_TAP: st_buf_add(&text, "from the tap"); break;
    default: break;
    }
    if (l->n_past > 0)
        st_buf_printf(&text, "; %d lot%s past use-by and left out", l->n_past, l->n_past == 1 ? " is" : "s are");
    cli_wrap(6, 8, st_buf_text(&text));
    st_buf_done(&text);
}

/* ---- what it costs ---- */

static void money(const char *what, const struct st_range *x, const char *currency)
{
    char text[160];
    if (!x->known)
        return;
    if (x->high - x->low > 0.005)
        snprintf(text, sizeof text, "%.2f %s, likely between %.2f and %.2f", x->value, currency, x->low, x->high);
    else
        snprintf(text, sizeof text, "%.2f %s", x->value, currency);
    cli_figure_line(what, text);
}

static void margin(const struct st_within *w)
{
    char text[200];
    const struct st_margin *m = &w->margin;
    if (isnan(w->pour_price))
        return;
    if (!w->priced) {
        cli_figure_line("a bar keeps", "not known, since what a pour costs is not");
        return;
    }
    snprintf(text, sizeof text, "%.2f of %.2f %s a pour%s, likely between %.2f and %.2f: %.0f %% of the net price",
             m->margin.value, w->pour_price, w->reach.cost.currency, w->tax > 0.0 ? " after tax" : "", m->margin.low,
             m->margin.high, 100.0 * m->share.value);
    cli_figure_line("a bar keeps", text);
}

static void cost(const struct st_recipe *r, const struct st_within *w)
{
    const struct st_reach_cost *c = &w->reach.cost;
    char text[120];

    cli_heading("What it costs, by these lots");
    money("the batch", &c->batch, c->currency);
    money("a bottle", &c->bottle, c->currency);
    snprintf(text, sizeof text, "%.0f mL poured", r->serving_ml);
    money(text, &c->pour, c->currency);
    if (!c->batch.known && isfinite(c->at_least) && c->at_least > 0.0) {
        snprintf(text, sizeof text, "at least %.2f %s", c->at_least, c->currency);
        cli_figure_line("the batch", text);
    }
    if (c->mixed)
        cli_wrap(2, 4, "The lots are priced in several currencies, which are not summed up.");
    if (c->n_unpriced > 0)
        cli_say(2, 4, "%d lot%s without a price: stillroom larder change LOT --price ...", c->n_unpriced,
                c->n_unpriced == 1 ? " is" : "s are");
    if (c->n_uncovered > 0)
        cli_say(2, 4, "%d line%s not covered, so the whole is not known.", c->n_uncovered,
                c->n_uncovered == 1 ? " is" : "s are");
    margin(w);
}

static void page(const struct st_recipe *r, const struct st_within *w, enum st_measures units)
{
    struct st_buf list = { 0 };

    printf("%s: %s\n\n", r->title && *r->title ? r->title : r->file,
           w->n_short == 0 ? "all of it is within reach" : "something is short");
    for (int i = 0; i < w->reach.n_line; i++)
        line_words(r, w, &w->reach.line[i], units);
    if (w->list.n > 0 || w->list.stop) {
        cli_heading("To buy");
        st_shopping_print(&w->list, &list);
        for (char *line = list.text; line && *line;) {
            char *end = strchr(line, '\n');
            if (end)
                *end = '\0';
            if (*line)
                cli_wrap(line[0] == ' ' ? 4 : 2, 6, line);
            line = end ? end + 1 : NULL;
        }
        st_buf_done(&list);
    }
    cost(r, w);
}

/* ---- the command ---- */

struct asked {
    double pour_price, tax;
};

static int answer(struct cli *c, const struct asked *a, struct cli_desk *d, const struct cli_recipe *recipe,
                  const struct st_foretold *f)
{
    const struct st_recipe *r = &recipe->file.recipe;
    struct st_problem problem = { .what = "" };
    struct st_within w;
    struct st_packs *packs = st_packs_built(&problem);
    const bool us = c->units == ST_MEASURES_US || (c->units == ST_MEASURES_NONE && r->measures == ST_MEASURES_US);
    int code;

    if (!packs) {
        cli_problem("data/shop_units.tsv", &problem);
        return ST_EXIT_SYSTEM;
    }
    if (!st_larder_reach(&d->desk, recipe->catalogue, r, f, packs, us, a->pour_price, a->tax, &w)) {
        st_packs_free(packs);
        return cli_desk_fail(d);
    }
    if (c->json)
        code = cli_json_print(st_doc_within(r, &w));
    else {
        page(r, &w, c->units);
        code = ST_EXIT_DONE;
    }
    if (code == ST_EXIT_DONE && w.n_short > 0)
        code = ST_EXIT_UNMET;
    st_within_done(&w);
    st_packs_free(packs);
    return code;
}

static int with_recipe(struct cli *c, const struct asked *a, struct cli_desk *d, const struct cli_recipe *recipe)
{
    static struct st_foretold out; /* large */
    const struct st_recipe *r = &recipe->file.recipe;
    struct st_problem problem = { .what = "" };

    if (st_stop_problem(st_recipe_stop(r), &problem)) {
        cli_problem(r->file, &problem);
        return ST_EXIT_INPUT;
    }
    struct st_plan *plan = st_plan_create(r, &problem);
    const struct st_options options = { .seed = c->seed, .draws = c->draws };
    const bool told = plan && st_plan_run(plan, &options, &out) >= 0;
    const int code = answer(c, a, d, recipe, told ? &out : NULL);
    if (told)
        st_foretold_done(&out);
    st_plan_free(plan);
    return code;
}

int larder_reach(struct cli *c)
{
    static const char *const KNOWN[] = { "--pour-price", "--tax", NULL };
    static struct cli_recipe recipe; /* large */
    struct asked a = { .pour_price = (double)NAN, .tax = 0.0 };
    struct cli_desk d;
    bool bad = false;
    double tax = 0.0;

    cli_option_number(c, "--pour-price", 0.0, 1e6, &a.pour_price, &bad);
    cli_option_number(c, "--tax", 0.0, 99.0, &tax, &bad);
    a.tax = tax / (100.0 + tax); /* what is added to the net price, as its share of the price */
    if (bad ||
        larder_ready(c, KNOWN, 1, 1, "write for example: stillroom larder reach examples/damson_fresh_fruit.yaml"))
        return ST_EXIT_INPUT;
    int code = cli_recipe_open(c, &recipe);
    if (code != ST_EXIT_DONE)
        return code;
    code = cli_desk_open(c, BOOK_READ, true, &d);
    if (code == ST_EXIT_DONE) {
        code = with_recipe(c, &a, &d, &recipe);
        cli_desk_close(&d);
    }
    cli_recipe_close(&recipe);
    return code;
}
