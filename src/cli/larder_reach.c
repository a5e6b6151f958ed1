#include <math.h>
#include <string.h>

#include "api/book_reach.h"
#include "cli/larder.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/reach_words.h"
#include "text/stops.h"
#include "util/buf.h"

/* What of a recipe is within reach, what to buy, what it costs. */

static void sentence(const char *text)
{
    cli_say(2, 4, "%c%s.", *text >= 'a' && *text <= 'z' ? *text - 'a' + 'A' : *text, *text ? text + 1 : "");
}

static void cost(const struct st_recipe *r, const struct st_within *w, const struct larder_pour *pour)
{
    char text[ST_REACH_WORDS];

    cli_heading("What it costs, by these lots");
    st_reach_cost_words(text, sizeof text, r, &w->reach.cost);
    sentence(text);
    if (w->reach.cost.n_unpriced > 0)
        cli_wrap(2, 4, "A price is written so: stillroom larder change LOT --price 4.20");
    if (w->priced) {
        st_margin_words(text, sizeof text, &w->margin, w->pour_price, w->reach.cost.currency);
        sentence(text);
    } else if (!isnan(w->pour_price))
        cli_wrap(2, 4,
                 larder_pour_fits(pour, w->reach.cost.currency)
                     ? "What a bar keeps of a pour is not known, since what it costs is not."
                     : "What a bar keeps of a pour is not known: its price is in another money than what it costs.");
}

static void page(const struct st_recipe *r, const struct st_within *w, const struct larder_pour *pour)
{
    struct st_buf list = { 0 };
    char text[ST_REACH_WORDS];

    const char *name = r->title && *r->title ? r->title : r->file;
    cli_put(stdout, name, strlen(name));
    printf(": %s\n\n", w->n_short == 0 ? "all of it is within reach" : "something is short");
    for (int i = 0; i < w->reach.n_line; i++) {
        st_reach_line_words(text, sizeof text, r, &w->reach, i, w->shown);
        cli_wrap(2, 6, text);
    }
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
    cost(r, w, pour);
}

/* ---- the command ---- */

static int answer(struct cli *c, const struct larder_pour *a, struct cli_desk *d, const struct cli_recipe *recipe,
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
    if (!st_larder_reach(&d->desk, recipe->catalogue, r, f, packs, us, a->price, a->tax, &w)) {
        st_packs_free(packs);
        return cli_desk_fail(d);
    }
    w.priced = w.priced && larder_pour_fits(a, w.reach.cost.currency);
    if (c->json)
        code = cli_json_print(st_doc_within(r, &w));
    else {
        page(r, &w, a);
        code = ST_EXIT_DONE;
    }
    if (code == ST_EXIT_DONE && w.n_short > 0)
        code = ST_EXIT_UNMET;
    st_within_done(&w);
    st_packs_free(packs);
    return code;
}

static int with_recipe(struct cli *c, const struct larder_pour *a, struct cli_desk *d, const struct cli_recipe *recipe)
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
    struct larder_pour a;
    struct cli_desk d;
    bool bad = false;

    larder_pour_price(c, &a, &bad);
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
