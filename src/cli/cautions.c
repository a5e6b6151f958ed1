#include <stdlib.h>
#include <string.h>

#include "api/doc_cautions.h"
#include "cli/cautions.h"
#include "cli/read_recipe.h"
#include "text/stops.h"
#include "util/memory.h"

const char cmd_cautions_usage[] =
    "stillroom cautions RECIPE\n"
    "\n"
    "What to watch in a drink, worst first: what it may hold at most of what is\n"
    "poisonous in its ingredients, against the limits of law and the reference\n"
    "values of health bodies; allergens; fire; what spoils.\n"
    "\n"
    "Worst case means: the highest content that was published, all of it in the\n"
    "drink, nothing lost to heat, time or straining. Only a laboratory's figure for\n"
    "your own lot changes that (`assays:` in docs/recipe-file.md).\n"
    "\n"
    "  --label          all that a label tells: names, strength, allergens,\n"
    "                   sulphites, energy, standard drinks, what it is made of, for\n"
    "                   vegans or not\n"
    "  --guest \"WORDS\"  what a guest asks (\"nuts, milk, vegan\"): is it in this bottle\n"
    "  --explain        why, each limit one by one, and where every figure is from\n"
    "\n"
    "Ends with 1 when a limit or a reference value is passed, or may be, or when\n"
    "something in it says STOP; with 2 when nothing could be foretold, or no word of\n"
    "a guest is known. What is not listed was not looked at.\n";

static void fill(struct cautions_page *p)
{
    st_cautions_collect(p->recipe, p->out, &p->watch, p->list);
    if (st_ledger_make(p->recipe, p->out, p->watch.books, p->watch.place->places, &p->watch.who, p->recipe->assay,
                       p->recipe->n_assay, p->ledger) < 0)
        memset(p->ledger, 0, sizeof *p->ledger);
    cautions_label_fill(p);
}

static json_t *document(const struct cautions_page *p)
{
    const struct st_watched w = { .recipe = p->recipe,
                                  .list = p->list,
                                  .ledger = p->ledger,
                                  .watch = &p->watch,
                                  .because = p->because,
                                  .facts = p->facts,
                                  .asked = p->asked,
                                  .answer = p->answer,
                                  .n_answer = p->n_answer,
                                  .answers_cut = p->answers_cut };
    return st_doc_watched(&w);
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
    if (!cautions_guest_understood(p)) {
        cli_error("--guest", "none of these words is known here", "write for example --guest \"nuts, milk, vegan\"");
        return ST_EXIT_INPUT;
    }
    return st_cautions_stop(p->list) || st_ledger_passes(p->ledger) ? ST_EXIT_UNMET
           : p->out                                                 ? ST_EXIT_DONE
                                                                    : ST_EXIT_INPUT;
}

/* Each problem told; the first in words. */
static void tell_problems(const struct st_recipe *r, const struct st_problem *first, char *because, size_t size)
{
    struct st_problem all[ST_MAX_PROBLEMS];
    int n = st_stop_plan_problems(r, all, ST_MAX_PROBLEMS);
    if (n == 0 && first->what[0])
        all[n++] = *first;
    if (n == 0) {
        cli_error(r->file, "it gives no figures", "look for an amount that is far too large or too small");
        (void)snprintf(because, size, "it gives no figures; look for an amount that is far too large or too small");
        return;
    }
    for (int i = 0; i < n; i++)
        cli_problem(r->file, &all[i]);
    (void)snprintf(because, size, "%s: %s%s%s", all[0].what, all[0].why, all[0].try_[0] ? "; " : "", all[0].try_);
}

/* A recipe of which nothing can be foretold is still held against all that it shows: shares are then taken whole. */
static int look(struct cautions_page *p)
{
    struct st_foretold *out = x_calloc(1, sizeof *out); /* large, as the next three */
    struct st_problem problem = { .what = "" };
    const struct st_options o = { .seed = p->cli->seed, .draws = p->cli->draws };
    struct st_plan *plan = st_plan_create(p->recipe, &problem);
    const bool told = plan && st_plan_run(plan, &o, out) >= 0;
    char because[900] = "";

    p->list = x_calloc(1, sizeof *p->list);
    p->ledger = x_calloc(1, sizeof *p->ledger);
    p->facts = x_calloc(1, sizeof *p->facts);
    p->out = told ? out : NULL;
    if (!told)
        tell_problems(p->recipe, &problem, because, sizeof because);
    p->because = because;
    const int code = show(p);
    free(p->list);
    free(p->ledger);
    free(p->facts);
    st_foretold_done(out);
    free(out);
    st_plan_free(plan);
    return code;
}

/* A guest who says nothing is asked back at once. */
static bool take_guest(struct cli *c, const char **asked)
{
    bool bad = false;
    *asked = cli_option(c, "guest", &bad);
    if (bad || !*asked || (*asked)[strspn(*asked, " ,;?.!\t\n")] != '\0')
        return !bad;
    cli_error("--guest", "nothing is asked", "write for example --guest \"nuts, milk, vegan\"");
    return false;
}

int cmd_cautions(struct cli *c)
{
    static const char *const KNOWN[] = { "--label", "--guest", NULL };
    static struct cli_recipe recipe; /* large */
    const char *asked = NULL;
    const bool label = cli_flag(c, "label");
    if (!take_guest(c, &asked) || !cli_no_more_options(c, KNOWN))
        return ST_EXIT_INPUT;
    int code = cli_recipe_open(c, &recipe);
    if (code == ST_EXIT_DONE) {
        struct cautions_page p = { .cli = c,
                                   .recipe = &recipe.file.recipe,
                                   .watch = cli_watch(c, &recipe.file.recipe),
                                   .because = "",
                                   .books = cautions_books(),
                                   .label = label,
                                   .asked = asked };
        code = p.watch.books && p.books ? look(&p) : ST_EXIT_SYSTEM;
    }
    cli_recipe_close(&recipe);
    return code;
}
