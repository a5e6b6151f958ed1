#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "cli/larder.h"
#include "cli/page.h"
#include "cli/recipe.h"
#include "text/day_words.h"
#include "util/buf.h"
#include "util/memory.h"

/* The recipes of the book, and one of them. */

/* ---- the list ---- */

/* Where it was kept from words none of it was told, and no more; the list does not read them. */
void recipe_figure(char *buf, size_t size, const struct st_try *t, enum st_figure which)
{
    const enum st_heard heard = t->row.said && !*t->row.said ? ST_HEARD_FILE : ST_HEARD_ALL;
    st_heard_words(buf, size, &t->fig[which], st_figure_info(which)->unit, heard);
}

static void figures_in_words(const struct st_try *t)
{
    char q[160], g[160];
    if (!t->program)
        return;
    recipe_figure(q, sizeof q, t, ST_FIG_STRENGTH);
    recipe_figure(g, sizeof g, t, ST_FIG_SUGAR);
    cli_say(4, 4, "%s", q);
    cli_say(4, 4, "sugar %s", g);
}

static void recipe_lines(const struct st_kept_recipe *r, const struct st_desk *d)
{
    struct st_buf text = { 0 };
    char when[40];

    putchar('\n');
    cli_wrap(0, 0, r->row.name);
    st_buf_printf(&text, "%d %s", r->n_try, r->n_try == 1 ? "try" : "tries");
    if (r->last_day) {
        st_days_words(when, sizeof when, -st_desk_age(d, r->last_day));
        st_buf_printf(&text, ", the last %s", when);
    }
    for (int i = 0, any = 0; i < r->n_side; i++)
        if (*r->side[i].name)
            st_buf_printf(&text, "%s%s (%d)", any++ ? ", " : "; side lines: ", r->side[i].name, r->side[i].n);
    cli_wrap(4, 4, st_buf_text(&text));
    st_buf_done(&text);
    figures_in_words(&r->last);
    if (*r->row.note)
        cli_wrap(4, 4, r->row.note);
}

static void empty_page(void)
{
    cli_wrap(0, 0, "No recipe is in the book yet. Keep one, a recipe file or the words of one as you have them:");
    puts("\n  stillroom recipe keep examples/damson_fresh_fruit.yaml\n"
         "  stillroom recipe keep grandmother.txt --name \"Green walnut\"\n");
    cli_wrap(0, 0, "Keep it again when you have changed it, and each try stays, with what was changed.");
}

static int list(struct cli *c, const char *words, int most)
{
    struct cli_desk d;
    struct st_kept_recipe *all = NULL;
    int n = 0, of = 0, code = cli_desk_open(c, BOOK_READ, words == NULL, &d);

    if (code != ST_EXIT_DONE)
        return code;
    json_t *doc = c->json ? json_array() : NULL;
    if (d.desk.book && !st_recipes_read(&d.desk, words, most, &all, &n, &of))
        code = cli_desk_fail(&d);
    else if (!c->json && n == 0 && words) {
        cli_error(words, "no recipe has these words", "try one word of them");
        code = ST_EXIT_UNMET;
    } else if (!c->json && n == 0)
        empty_page();
    for (int i = 0; i < n; i++)
        if (c->json)
            json_array_append_new(doc, st_doc_kept_recipe(&all[i]));
        else
            recipe_lines(&all[i], &d.desk);
    if (!c->json)
        cli_and_more(of - n, of, "\"stillroom recipe find WORDS\"");
    if (c->json && code == ST_EXIT_DONE)
        code = cli_json_print(json_pack("{s:O, s:i}", "recipes", doc, "left_out", of - n));
    if (c->json && code == ST_EXIT_DONE && n == 0 && words)
        code = ST_EXIT_UNMET;
    json_decref(doc);
    cli_desk_close(&d);
    return code;
}

int recipe_all(struct cli *c)
{
    static const char *const KNOWN[] = { "--most", NULL };
    int most;
    if (!cli_take_most(c, &most))
        return ST_EXIT_INPUT;
    const int code = larder_ready(c, KNOWN, 0, 0, "\"stillroom help recipe\" lists what it does");
    return code == ST_EXIT_DONE ? list(c, NULL, most) : code;
}

int recipe_find(struct cli *c)
{
    static const char *const KNOWN[] = { "--most", NULL };
    struct st_buf words = { 0 };
    int most;
    if (!cli_take_most(c, &most))
        return ST_EXIT_INPUT;
    int code = larder_ready(c, KNOWN, 1, 12, "write for example: stillroom recipe find walnut");
    if (code != ST_EXIT_DONE)
        return code;
    for (int i = 0; i < c->argc; i++)
        st_buf_printf(&words, "%s%s", i ? " " : "", c->argv[i]);
    code = list(c, st_buf_text(&words), most);
    st_buf_done(&words);
    return code;
}

/* ---- one try ---- */

static void steps(const struct st_recipe *r)
{
    char time[80], line[300];
    for (int i = 0; i < r->n_step; i++) {
        const struct st_step *s = &r->step[i];
        st_time_words(time, sizeof time, &s->time);
        cli_say(2, 6, "%s%s%s%s%s", st_do_name(s->kind), strcmp(s->id, st_do_name(s->kind)) ? " " : "",
                strcmp(s->id, st_do_name(s->kind)) ? s->id : "", *time ? ", " : "", time);
        for (int k = 0; k < s->n_line; k++) {
            page_line_text(line, sizeof line, &s->line[k]);
            cli_wrap(6, 8, line);
        }
    }
}

static void foreseen(const struct st_try *t, enum st_measures units)
{
    static struct st_foretold f; /* large */
    if (!t->program) {
        cli_wrap(2, 2, "No figures were foreseen when it was kept.");
        return;
    }
    memcpy(f.fig, t->fig, sizeof f.fig);
    page_figures(&f, units);
    page_readings(&f);
    cli_say(2, 2, "By %s%s.", strncmp(t->program, "stillroom ", 10) == 0 ? "" : "stillroom ", t->program);
}

static int show_json(const struct cli *c, const struct st_try *t)
{
    struct st_opened *o = x_calloc(1, sizeof *o); /* large */
    const struct st_how how = recipe_how(c);
    json_t *doc = st_doc_try(t, true);
    if (!st_opened_text(&how, t->ref, t->row.text, strlen(t->row.text), true, o)) {
        json_decref(doc);
        free(o);
        return ST_EXIT_SYSTEM;
    }
    json_object_set_new(doc, "cautions",
                        o->read ? cli_cautions_json(c, &o->file.recipe, o->foretold ? &o->out : NULL) : json_null());
    st_opened_done(o);
    free(o);
    return cli_json_print(doc);
}

static int show(const struct cli *c, const struct st_try *t)
{
    struct st_opened o;
    const struct st_how how = recipe_how(c);
    char when[40];

    cli_say(0, 0, "%s%s%s, try %lld", t->recipe, *t->row.side ? ", " : "", t->row.side, (long long)t->row.number);
    st_days_words(when, sizeof when, -t->age);
    cli_say(2, 4, "kept on %s, %s%s%s%s", t->row.on_day, when, t->from ? "; changed from " : "", t->from ? t->from : "",
            *t->row.said ? "; read from free words, which are kept" : "");
    if (*t->row.note)
        cli_wrap(2, 4, t->row.note);
    cli_heading("Foreseen");
    foreseen(t, c->units);
    if (!st_opened_text(&how, t->ref, t->row.text, strlen(t->row.text), true, &o))
        return ST_EXIT_SYSTEM;
    if (o.read)
        cli_cautions_short(c, &o.file.recipe, o.foretold ? &o.out : NULL, t->ref);
    cli_heading("What is done");
    if (o.read)
        steps(&o.file.recipe);
    else
        cli_say(2, 2, "It cannot be read any more: %s: %s.", o.why.what, o.why.why);
    st_opened_done(&o);
    putchar('\n');
    cli_say(0, 0, "The file: stillroom recipe text \"%s\"", t->ref);
    return ST_EXIT_DONE;
}

int recipe_show(struct cli *c)
{
    struct cli_desk d;
    struct st_try t;

    int code = larder_ready(c, NULL, 1, 1, "write for example: stillroom recipe show \"Damson liqueur\"");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (!st_try_named(&d.desk, c->argv[0], &t))
        code = cli_desk_fail(&d);
    else
        code = c->json ? show_json(c, &t) : show(c, &t);
    cli_desk_close(&d);
    return code;
}
