#include "cli/aim.h"
#include "text/stops.h"

/* An aim of a recipe that is not to be made. */

static int refuse_file(const struct aim_task *t)
{
    struct st_problem problem = { .what = "" };
    (void)st_stop_problem(st_recipe_stop(&t->core.file->recipe), &problem);
    cli_problem(t->name, &problem);
    return ST_EXIT_INPUT;
}

static int tell_document(struct aim_task *t, const struct aim_options *o)
{
    struct st_problem problem = { .what = "" };
    if (o->n_wish > 0 && !aim_wishes(t, o))
        return ST_EXIT_INPUT;
    aim_give(t);
    if (!st_aim_stopped(&t->core, &problem)) {
        cli_problem(t->name, &problem);
        return ST_EXIT_INPUT;
    }
    const int code = cli_json_print(st_doc_aim(&t->core));
    return code != ST_EXIT_DONE ? code : ST_EXIT_UNMET;
}

int aim_stopped(struct aim_task *t, const struct aim_options *o)
{
    static struct st_cautions cautions; /* large */
    if (t->cli->json)
        return tell_document(t, o);
    if (o->output)
        return refuse_file(t);
    st_cautions_collect(&t->core.file->recipe, NULL, NULL, &cautions);
    (void)page_stops(&cautions,
                     "This is not a drink to make: no amounts are proposed. Leave it out of the recipe, and ask "
                     "again.");
    return ST_EXIT_UNMET;
}
