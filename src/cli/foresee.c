#include <string.h>

#include "api/book_batch_rest.h"
#include "cli/cli.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/stops.h"

const char cmd_foresee_usage[] = "stillroom foresee RECIPE\n"
                                 "\n"
                                 "Reads a recipe file (YAML; docs/recipe-file.md explains it, examples/ has some\n"
                                 "to copy from), or standard input when RECIPE is -, and foretells the bottle:\n"
                                 "how much, how strong, how sweet, what your instruments would show, what to\n"
                                 "watch.\n"
                                 "\n"
                                 "  --explain   the balance step by step, and what matters most\n"
                                 "  --units     us, metric or imperial: how volumes are printed; and whose cup is\n"
                                 "              meant where the recipe has no `measures:` of its own\n"
                                 "\n"
                                 "Ends with 1 when the figures miss the recipe's wish, when an amount cannot be\n"
                                 "had as written or does not fit its vessel, or when something in it says STOP.\n";

static int show(const struct page *p)
{
    char missed[512];
    const int n = st_wish_words(p->recipe, p->out, missed, sizeof missed) + st_note_limits(p->out) +
                  st_cautions_stop(p->cautions);

    if (p->cli->json) {
        const int code = cli_json_print(page_json(p));
        return code != ST_EXIT_DONE ? code : n ? ST_EXIT_UNMET : ST_EXIT_DONE;
    }
    page_print(p);
    if (p->cli->explain)
        page_explain(p);
    return n ? ST_EXIT_UNMET : ST_EXIT_DONE;
}

static int foretell(struct cli *c, struct st_recipe_file *file)
{
    static struct st_foretold out; /* large */
    static struct st_cautions cautions;
    struct st_problem problem = { .what = "" };
    const double start = cli_now_ms();

    struct st_plan *plan = st_plan_create(&file->recipe, &problem);
    if (!plan) {
        cli_plan_problems(&file->recipe, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options options = { .seed = c->seed, .draws = c->draws, .effects = true };
    const enum st_status s = st_plan_run(plan, &options, &out);
    if (c->timing)
        fprintf(stderr, "plan and %d draws %.1f ms\n", c->draws, cli_now_ms() - start);
    if (s < 0) {
        cli_error(file->recipe.file, st_status_text(s), "look for an amount that is far too large or too small");
        st_plan_free(plan);
        return ST_EXIT_INPUT;
    }
    st_batch_rest_quiet(file, &out);
    const struct st_watch watch = cli_watch(c, &file->recipe);
    st_cautions_collect(&file->recipe, &out, &watch, &cautions);
    const struct page p = { c, file, &file->recipe, &out, &cautions };
    const int code = show(&p);
    st_foretold_done(&out);
    st_plan_free(plan);
    return code;
}

int cmd_foresee(struct cli *c)
{
    static struct cli_recipe recipe; /* large */
    int code = cli_recipe_open(c, &recipe);
    if (code == ST_EXIT_DONE)
        code = foretell(c, &recipe.file);
    cli_recipe_close(&recipe);
    return code;
}
