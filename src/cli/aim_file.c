#include <string.h>
#include <unistd.h>

#include "cli/aim.h"
#include "cli/read_recipe.h"
#include "util/file.h"

/* ---- reading ---- */

static bool is_free_text(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot && (strcmp(dot, ".txt") == 0 || strcmp(dot, ".md") == 0);
}

int aim_read(struct cli *c, const char *name, struct st_catalogue *catalogue, struct st_buf *text,
             struct st_recipe_file *file)
{
    char called[300];
    const int error = cli_recipe_text(c, name, text, called);
    if (error)
        return cli_cannot_read(name, error);
    const char *shown = st_catalogue_keep(catalogue, called, strlen(called));
    if (is_free_text(name)) {
        cli_error(shown, "it is a recipe in free text, and amounts are changed in a recipe file",
                  "make one of it first: stillroom take FILE, and name what it wrote here");
        return ST_EXIT_INPUT;
    }
    const int read = st_recipe_read_as(shown, st_buf_text(text), text->length, catalogue, c->units, file);
    for (int i = 0; i < file->n_problem; i++)
        cli_problem(shown, &file->problem[i]);
    if (read == 0)
        return ST_EXIT_DONE;
    st_recipe_done(file);
    return ST_EXIT_INPUT;
}

/* ---- the recipe as it would be written ---- */

/* Wishes as the document tells them. */
static void name_wishes(struct st_aim_task *t)
{
    t->wished.n = t->aim.n_wish < ST_WISHES ? t->aim.n_wish : ST_WISHES;
    for (int i = 0; i < t->wished.n; i++)
        t->wished.of[i] =
            (struct st_wish_of){ .name = st_figure_info(t->aim.wish[i].of)->key, .scale = 1.0, .wish = t->aim.wish[i] };
}

void aim_give(struct aim_task *t)
{
    struct st_aim_task *a = &t->core;
    name_wishes(a);
    a->text = st_buf_text(&t->text);
    a->size = t->text.length;
    a->units = t->cli->units;
    a->seed = t->cli->seed;
    a->draws = t->cli->draws;
    a->watch = cli_watch(t->cli, &a->file->recipe);
}

int aim_write(struct aim_task *t)
{
    struct st_problem problem = { .what = "" };
    struct st_aim_task *a = &t->core;

    aim_give(t);
    a->own = cli_catalogue(); /* its own: definitions of the recipe are read again too */
    if (!a->own)
        return ST_EXIT_SYSTEM;
    if (st_aim_write(a, a->own, &problem))
        return ST_EXIT_DONE;
    cli_problem(t->name, &problem);
    return ST_EXIT_INPUT;
}

int aim_save(const struct aim_task *t, const char *output, bool over)
{
    if (t->core.changed.length == 0) {
        cli_problem(t->name, &t->core.why_not);
        return ST_EXIT_INPUT;
    }
    if (!over && strcmp(output, "-") != 0 && access(output, F_OK) == 0) {
        cli_error(output, "there is a file of this name", "choose another name, or add --force to write over it");
        return ST_EXIT_INPUT;
    }
    const int error = st_file_write(output, st_buf_text(&t->core.changed), t->core.changed.length);
    if (!error)
        return ST_EXIT_DONE;
    cli_error(output, strerror(error), "look at the name, the disk, and who may write there");
    return ST_EXIT_SYSTEM;
}
