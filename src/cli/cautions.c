#include <stdlib.h>
#include <string.h>

#include "api/doc_cautions.h"
#include "cli/cautions.h"
#include "cli/read_recipe.h"
#include "util/memory.h"

const char cmd_cautions_usage[] = "stillroom cautions RECIPE\n"
                                  "\n"
                                  "What to watch in a drink, worst first: what it may hold at most of what is\n"
                                  "poisonous in its ingredients, against the limits of law and the reference\n"
                                  "values of health bodies; allergens; fire; what spoils.\n"
                                  "\n"
                                  "Worst case means: the highest content that was published, all of it in the\n"
                                  "drink, nothing lost to heat, time or straining. Only a laboratory's figure for\n"
                                  "your own lot changes that (`assays:` in docs/recipe-file.md).\n"
                                  "\n"
                                  "  --explain   why, each limit one by one, and where every figure is from\n"
                                  "\n"
                                  "Ends with 1 when a limit or a reference value is passed, or may be, or when\n"
                                  "something in it says STOP. What is not listed was not looked at.\n";

static void fill(struct cautions_page *p)
{
    st_cautions_collect(p->recipe, p->out, &p->watch, p->list);
    if (st_ledger_make(p->recipe, p->out, p->watch.books, p->watch.place->places, &p->watch.who, p->recipe->assay,
                       p->recipe->n_assay, p->ledger) < 0)
        memset(p->ledger, 0, sizeof *p->ledger);
}

static json_t *document(const struct cautions_page *p)
{
    json_t *doc = json_object();
    json_object_set_new(doc, "title", st_doc_text(p->recipe->title ? p->recipe->title : ""));
    json_object_set_new(doc, "cautions", st_doc_cautions(p->list));
    st_doc_ledger(doc, p->recipe, p->ledger, &p->watch);
    return doc;
}

static int show(struct cautions_page *p)
{
    int code = ST_EXIT_DONE;
    fill(p);
    if (p->cli->json)
        code = cli_json_print(document(p));
    else
        cautions_page_print(p);
    if (code != ST_EXIT_DONE)
        return code;
    return st_cautions_stop(p->list) || st_ledger_passes(p->ledger) ? ST_EXIT_UNMET : ST_EXIT_DONE;
}

/* A recipe of which nothing can be foretold is still held against all that it shows: shares are then taken whole. */
static int look(struct cautions_page *p)
{
    struct st_foretold *out = x_calloc(1, sizeof *out); /* large, as the next two */
    struct st_problem problem = { .what = "" };
    const struct st_options o = { .seed = p->cli->seed, .draws = p->cli->draws };
    struct st_plan *plan = st_plan_create(p->recipe, &problem);
    const bool told = plan && st_plan_run(plan, &o, out) >= 0;

    p->list = x_calloc(1, sizeof *p->list);
    p->ledger = x_calloc(1, sizeof *p->ledger);
    p->out = told ? out : NULL;
    if (!told)
        cli_problem(p->recipe->file, &problem);
    int code = show(p);
    if (!told && code == ST_EXIT_DONE)
        code = ST_EXIT_INPUT;
    free(p->list);
    free(p->ledger);
    st_foretold_done(out);
    free(out);
    st_plan_free(plan);
    return code;
}

int cmd_cautions(struct cli *c)
{
    static const char *const KNOWN[] = { NULL };
    static struct cli_recipe recipe; /* large */
    if (!cli_no_more_options(c, KNOWN))
        return ST_EXIT_INPUT;
    int code = cli_recipe_open(c, &recipe);
    if (code == ST_EXIT_DONE) {
        struct cautions_page p = { .cli = c,
                                   .recipe = &recipe.file.recipe,
                                   .watch = cli_watch(c, &recipe.file.recipe) };
        code = p.watch.books ? look(&p) : ST_EXIT_SYSTEM;
    }
    cli_recipe_close(&recipe);
    return code;
}
