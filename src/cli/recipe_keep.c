#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/larder.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "cli/recipe.h"
#include "util/file.h"
#include "util/memory.h"

/* Recipes into the book, and out again. */

enum { MOST_BYTES = 1 << 20 };

/* ---- in ---- */

/* What a keeper of it must know, from the text that was kept. */
static void tell_cautions(const struct cli *c, const struct st_keep_told *t, json_t *o)
{
    struct st_opened *k = x_calloc(1, sizeof *k); /* large */
    const struct st_how how = recipe_how(c);
    if (t->now.row.text && st_opened_text(&how, t->now.ref, t->now.row.text, strlen(t->now.row.text), true, k) &&
        k->read) {
        const struct st_foretold *f = k->foretold ? &k->out : NULL;
        if (o)
            json_object_set_new(o, "cautions", cli_cautions_json(c, &k->file.recipe, f));
        else
            cli_cautions_short(c, &k->file.recipe, f, t->now.ref);
    }
    st_opened_done(k);
    free(k);
}

static int tell(const struct cli *c, const struct st_keep_told *t)
{
    char figure[160];

    if (c->json) {
        json_t *o = st_doc_keep_told(t);
        tell_cautions(c, t, o);
        return cli_json_print(o);
    }
    if (t->nothing) {
        cli_say(0, 0, "Nothing new: %s has this text already.", t->now.ref);
        tell_cautions(c, t, NULL);
        return ST_EXIT_DONE;
    }
    cli_say(0, 0, "%c%s.", t->words[0] - 'a' + 'A', t->words + 1);
    if (t->now.program) {
        recipe_figure(figure, sizeof figure, &t->now, ST_FIG_STRENGTH);
        cli_say(2, 4, "Foreseen: %s;", figure);
        recipe_figure(figure, sizeof figure, &t->now, ST_FIG_SUGAR);
        cli_say(2, 4, "sugar %s.", figure);
    }
    for (int i = 0; i < t->n_remark; i++)
        cli_wrap(2, 4, t->remark[i]);
    if (t->now.from)
        cli_say(2, 4, "What is different from %s: stillroom recipe difference \"%s\" \"%s\"", t->now.from, t->now.from,
                t->now.ref);
    tell_cautions(c, t, NULL);
    return ST_EXIT_DONE;
}

static int keep(struct cli *c, struct st_keep *k)
{
    struct cli_desk d;
    const struct st_how how = recipe_how(c);
    int code = cli_desk_open(c, BOOK_WRITE, false, &d);

    if (code != ST_EXIT_DONE)
        return code;
    struct st_keep_told *told = st_arena_alloc(&d.arena, sizeof *told);
    code = st_recipe_keep(&d.desk, &how, k, told) ? tell(c, told) : cli_desk_fail(&d);
    cli_desk_close(&d);
    return code;
}

static bool on_said(const struct cli *c)
{
    for (int i = 0; i < c->argc; i++)
        if (strncmp(c->argv[i], "--on", 4) == 0 && (c->argv[i][4] == '\0' || c->argv[i][4] == '='))
            return true;
    return false;
}

int recipe_keep(struct cli *c)
{
    static const char *const KNOWN[] = { "--name", "--side", "--from", "--note", "--on", NULL };
    struct st_keep k = { .name = NULL };
    struct st_buf text = { 0 };
    struct cli_now now;
    char on[11];
    bool bad = false;

    k.name = cli_option(c, "--name", &bad);
    k.side = cli_option(c, "--side", &bad);
    k.from = cli_option(c, "--from", &bad);
    k.note = cli_option(c, "--note", &bad);
    if (bad || (on_said(c) && (!cli_take_now(c, &now) || !cli_take_day(c, "--on", &now, false, on) || !(k.on = on))) ||
        larder_ready(c, KNOWN, 1, 1, "write for example: stillroom recipe keep examples/damson_fresh_fruit.yaml"))
        return ST_EXIT_INPUT;
    const int error = st_file_read(c->argv[0], MOST_BYTES, &text);
    if (error) {
        st_buf_done(&text);
        return cli_cannot_read(c->argv[0], error);
    }
    k.file = strcmp(c->argv[0], "-") == 0 ? "standard input" : c->argv[0];
    k.text = st_buf_text(&text);
    k.size = text.length;
    const int code = keep(c, &k);
    st_buf_done(&text);
    return code;
}

int recipe_rename(struct cli *c)
{
    struct cli_desk d;
    char words[400];

    if (larder_ready(c, NULL, 2, 2, "write for example: stillroom recipe rename \"Damson\" \"Damson liqueur\""))
        return ST_EXIT_INPUT;
    int code = cli_desk_open(c, BOOK_WRITE, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (!st_recipe_rename(&d.desk, c->argv[0], c->argv[1], words))
        code = cli_desk_fail(&d);
    else if (c->json)
        code = cli_json_print(json_pack("{s:o}", "done", st_doc_text(words)));
    else
        cli_say(0, 0, "%c%s.", words[0] - 'a' + 'A', words + 1);
    cli_desk_close(&d);
    return code;
}

/* ---- out ---- */

static int write_out(const char *path, bool force, const char *text)
{
    if (!path || strcmp(path, "-") == 0) {
        fputs(text, stdout);
        return ST_EXIT_DONE;
    }
    if (!force && access(path, F_OK) == 0) {
        cli_error(path, "there is a file of this name", "choose another name, or add --force to write over it");
        return ST_EXIT_INPUT;
    }
    const int error = st_file_write(path, text, strlen(text));
    if (!error)
        return ST_EXIT_DONE;
    cli_error(path, strerror(error), "look at the folder and at who may write there");
    return ST_EXIT_SYSTEM;
}

static int out(struct cli *c, bool said)
{
    static const char *const KNOWN[] = { "--output", "--force", NULL };
    struct cli_desk d;
    struct st_try t;
    bool bad = false;
    const char *path = cli_option(c, "--output", &bad);
    const bool force = cli_flag(c, "--force");

    if (bad || larder_ready(c, KNOWN, 1, 1, "write for example: stillroom recipe text \"Damson liqueur/2\""))
        return ST_EXIT_INPUT;
    int code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (!st_try_named(&d.desk, c->argv[0], &t))
        code = cli_desk_fail(&d);
    else if (said && !*t.row.said) {
        cli_error(t.ref, "it was kept as a recipe file, not as free words", "stillroom recipe text shows it");
        code = ST_EXIT_UNMET;
    } else if (c->json)
        code = cli_json_print(st_doc_try(&t, true));
    else
        code = write_out(path, force, said ? t.row.said : t.row.text);
    cli_desk_close(&d);
    return code;
}

int recipe_text(struct cli *c)
{
    return out(c, false);
}

int recipe_said(struct cli *c)
{
    return out(c, true);
}
