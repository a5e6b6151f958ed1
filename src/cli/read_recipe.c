#include "cli/read_recipe.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch.h"
#include "api/book_batch_lasted.h"
#include "api/book_batch_lost.h"
#include "api/book_recipe.h"
#include "cli/book.h"
#include "text/stops.h"
#include "util/file.h"
#include "util/memory.h"

enum { MOST_BYTES = 1 << 20 };

/* "B14", "b14". */
static bool is_code(const char *name)
{
    const size_t n = strspn(name + (*name != '\0'), "0123456789");
    return (*name == 'B' || *name == 'b') && n > 0 && name[1 + n] == '\0';
}

int cli_cannot_read(const char *name, int error)
{
    if (error == CLI_RECIPE_TOLD)
        return ST_EXIT_INPUT;
    if (!*name)
        name = "\"\"";
    switch (error) {
    case ENOENT:
        if (is_code(name)) {
            cli_error(name, "no file is called so, and no batch of the book has this code",
                      "\"stillroom batch all\" lists them; --book FILE names another book");
            return ST_EXIT_INPUT;
        }
        cli_error(name, "there is no such file", "look at the name, or see examples/ for recipes to begin with");
        return ST_EXIT_INPUT;
    case EISDIR: cli_error(name, "it is a folder", "name the file in it"); return ST_EXIT_INPUT;
    case EFBIG: cli_error(name, "it is larger than 1 MiB", "a recipe is a short text file"); return ST_EXIT_INPUT;
    case EACCES:
    case ENOTDIR:
    case ENAMETOOLONG:
        cli_error(name, strerror(error), "look at the name and at who may read it");
        return ST_EXIT_INPUT;
    default: cli_error(name, strerror(error), "look at the disk or the pipe it comes from"); return ST_EXIT_SYSTEM;
    }
}

static const char *its_name(struct cli *c)
{
    char try_[160], why[80];
    if (!cli_no_more_options(c, NULL))
        return NULL;
    if (c->argc == 1)
        return c->argv[0];
    snprintf(why, sizeof why, "%s takes one recipe", c->command);
    snprintf(try_, sizeof try_, "write for example: stillroom %s examples/damson_fresh_fruit.yaml", c->command);
    if (c->argc == 0)
        cli_error(c->command, "no recipe is named", try_);
    else
        cli_error(c->argv[1], why, "run it once for each");
    return NULL;
}

static struct st_batch_ask ask_of(const struct cli *c, const struct cli_desk *d)
{
    return (struct st_batch_ask){ .book = d->desk.book,
                                  .arena = d->desk.arena,
                                  .catalogue = cli_catalogue,
                                  .measures = c->units,
                                  .seed = c->seed,
                                  .draws = c->draws,
                                  .by_drained = true };
}

static void nothing_known(const char *code, const struct st_problem *p)
{
    char what[120];
    if (p->at.line > 0)
        cli_problem("its recipe", p);
    else
        cli_error(p->what, p->why, p->try_);
    snprintf(what, sizeof what, "nothing is known of the worst cases of %.40s", code);
    cli_error(
        what, "its recipe cannot be read with what was weighed, added and poured, so no limit was looked at",
        "take it for over every limit until that is put right: stillroom undo, or stillroom batch weigh --instead");
}

/* What a batch of this code was really made of, for as long as it really stood: 0; ENOENT there is no such batch;
 * CLI_RECIPE_TOLD: there is, and it cannot be read. */
static int from_batch(const struct cli *c, const struct cli_desk *d, const char *code, struct st_buf *text,
                      char shown[300])
{
    const struct st_batch_ask ask = ask_of(c, d);
    struct st_problem p = { .what = "" };
    struct book_batch row;
    if (st_batch_find(&ask, code, &row, &p) != BOOK_OK)
        return ENOENT;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const bool known = st_batch_made(&ask, &row, true, false, m) == BOOK_OK;
    const bool whole = known && m->whole && st_batch_lasted(&ask, &row, m, text) == BOOK_OK;
    if (whole)
        snprintf(shown, 300, "%.40s, as it was made", row.code);
    else if (known && m->problem.what[0])
        nothing_known(row.code, &m->problem);
    const int error = whole ? 0 : known && m->problem.what[0] ? CLI_RECIPE_TOLD : ENOENT;
    st_batch_made_done(m);
    free(m);
    return error;
}

/* What was strained off and weighed of it, and what was lost of its jars, stands in no text. */
static void weighed_in(const struct cli *c, const char *code, struct st_recipe_file *file)
{
    struct cli_desk d;
    struct st_problem p = { .what = "" };
    struct book_batch row;
    bool any;
    if (cli_desk_open(c, BOOK_READ, true, &d) != ST_EXIT_DONE)
        return;
    const struct st_batch_ask ask = ask_of(c, &d);
    if (d.desk.book && st_batch_find(&ask, code, &row, &p) == BOOK_OK &&
        st_batch_put_drained(&ask, &row, &file->recipe, &any) == BOOK_OK)
        (void)st_batch_put_lost(&ask, &row, file, &any);
    cli_desk_close(&d);
}

/* A recipe of the book by its name, or a batch by its code, where no file is called so; *shown: its try; *batch: it is one.  0, or as from_batch. */
static int from_book(const struct cli *c, const char *name, struct st_buf *text, char shown[300], bool *batch)
{
    struct cli_desk d;
    struct st_try t;

    if (cli_desk_open(c, BOOK_READ, true, &d) != ST_EXIT_DONE)
        return ENOENT;
    int error = ENOENT;
    if (d.desk.book && st_try_named(&d.desk, name, &t)) {
        st_buf_add(text, t.row.text);
        snprintf(shown, 300, "%.299s", t.ref);
        error = 0;
    } else if (d.desk.book) {
        error = from_batch(c, &d, name, text, shown);
        *batch = error == 0;
    }
    cli_desk_close(&d);
    return error;
}

static int text_of(const struct cli *c, const char *name, struct st_buf *text, char shown[300], bool *batch)
{
    const int error = st_file_read(name, MOST_BYTES, text);
    *batch = false;
    snprintf(shown, 300, "%.299s", strcmp(name, "-") == 0 ? "standard input" : name);
    return error == ENOENT ? from_book(c, name, text, shown, batch) : error;
}

int cli_recipe_text(const struct cli *c, const char *name, struct st_buf *text, char shown[300])
{
    bool batch;
    return text_of(c, name, text, shown, &batch);
}

int cli_recipe_open(struct cli *c, struct cli_recipe *r)
{
    memset(r, 0, sizeof *r);
    const char *name = its_name(c);
    if (!name)
        return ST_EXIT_INPUT;
    bool batch;
    const int error = text_of(c, name, &r->text, r->shown, &batch);
    r->catalogue = error ? NULL : cli_catalogue();
    if (!r->catalogue) {
        st_buf_done(&r->text);
        return error ? cli_cannot_read(name, error) : ST_EXIT_SYSTEM;
    }
    r->open = true;
    const char *shown = r->shown;
    const int read = st_recipe_read_as(shown, st_buf_text(&r->text), r->text.length, r->catalogue, c->units, &r->file);
    for (int i = 0; i < r->file.n_problem; i++)
        cli_problem(shown, &r->file.problem[i]);
    if (read == 0 && batch)
        weighed_in(c, name, &r->file);
    if (read == 0)
        return ST_EXIT_DONE;
    cli_recipe_close(r);
    return ST_EXIT_INPUT;
}

void cli_recipe_close(struct cli_recipe *r)
{
    if (!r->open)
        return;
    st_recipe_done(&r->file);
    st_catalogue_free(r->catalogue);
    st_buf_done(&r->text);
    r->open = false;
}

void cli_plan_problems(const struct st_recipe *r, const struct st_problem *first)
{
    struct st_problem all[ST_MAX_PROBLEMS];
    const int n = st_stop_plan_problems(r, all, ST_MAX_PROBLEMS);
    for (int i = 0; i < n; i++)
        cli_problem(r->file, &all[i]);
    if (n == 0)
        cli_problem(r->file, first);
}
