#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "cli/page.h"
#include "cli/read_recipe.h"
#include "cli/steep.h"
#include "text/learnt_words.h"
#include "text/steep_words.h"
#include "util/file.h"
#include "util/memory.h"

enum { MOST_BYTES = 1 << 20 };

/* ---- reading ---- */

bool steep_take_seen(struct cli *c, struct steep *s)
{
    int n = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *word = c->argv[i], *value = NULL;
        if (strncmp(word, "--seen=", 7) == 0)
            value = word + 7;
        else if (strcmp(word, "--seen") == 0 && i + 1 < c->argc)
            value = c->argv[++i];
        else if (strcmp(word, "--seen") == 0) {
            cli_error("--seen", "no file of readings is named",
                      "write for example --seen my-jar.yaml; docs/seen-file.md shows one");
            return false;
        } else {
            c->argv[n++] = c->argv[i];
            continue;
        }
        if (s->n_seen == ST_STEEP_SEEN) {
            cli_error("--seen", "there is room for sixteen makings", "name fewer files");
            return false;
        }
        s->seen_name[s->n_seen++] = value;
    }
    c->argc = n;
    return true;
}

static int cannot_read(const char *name, int error)
{
    if (error == ENOENT)
        cli_error(*name ? name : "\"\"", "there is no such file of readings (--seen)",
                  "look at the name; docs/seen-file.md tells how to write one, examples/seen/ has one");
    else if (error == EFBIG)
        cli_error(name, "it is larger than 1 MiB", "a file of readings is a short text file: docs/seen-file.md");
    else
        return cli_cannot_read(name, error);
    return ST_EXIT_INPUT;
}

int steep_read_seen(struct steep *s)
{
    for (int k = 0; k < s->n_seen; k++) {
        const char *name = s->seen_name[k];
        struct st_buf text = { 0 };
        const int error = st_file_read(name, MOST_BYTES, &text);
        if (error) {
            st_buf_done(&text);
            return cannot_read(name, error);
        }
        struct st_seen_file *f = x_calloc(1, sizeof *f);
        const int read =
            st_seen_read(strcmp(name, "-") == 0 ? "standard input" : name, st_buf_text(&text), text.length, f);
        for (int i = 0; i < f->file.n_problem; i++)
            cli_problem(f->file.recipe.file, &f->file.problem[i]);
        st_buf_done(&text);
        s->task.seen[s->task.n_seen++] = s->seen[k] = f;
        if (read != 0)
            return ST_EXIT_INPUT;
    }
    return ST_EXIT_DONE;
}

void steep_seen_done(struct steep *s)
{
    for (int k = 0; k < ST_STEEP_SEEN; k++)
        if (s->seen[k]) {
            st_seen_done(s->seen[k]);
            free(s->seen[k]);
            s->seen[k] = NULL;
        }
}

/* ---- telling ---- */

static void print_thing(const struct st_learnt_thing *l)
{
    char words[400];
    int n = 0;
    for (int k = 0; k < ST_NTHETA; k++) {
        st_learnt_theta_words(words, sizeof words, l, (enum st_theta)k);
        if (!*words)
            continue;
        if (n++ == 0)
            printf("  %s\n", l->name);
        cli_wrap(6, 8, words);
    }
    st_learnt_twin_words(words, sizeof words, l);
    if (*words && n)
        cli_wrap(6, 8, words);
}

static void print_reading(const struct steep *s, int k, int i)
{
    const struct st_seen_file *f = s->task.seen[k];
    const struct st_observation *o = &f->seen[i];
    char words[600];
    st_seen_reading_words(words, sizeof words, f->seen, f->n, i, &s->task.learnt.reading[k][i]);
    if (*words)
        cli_say(2, 4, "%s:%d:%d: %s.", f->file.recipe.file, o->at.line, o->at.column, words);
}

static void print_readings(const struct steep *s)
{
    for (int k = 0; k < s->task.n_seen; k++)
        for (int i = 0; i < s->task.seen[k]->n; i++)
            print_reading(s, k, i);
}

/* Something of how fast it gives. */
static bool is_learnt(const struct steep *s, int piece)
{
    for (int i = 0; piece >= 0 && i < s->task.learnt.n_thing; i++) {
        const struct st_learnt_thing *l = &s->task.learnt.thing[i];
        if (strcmp(l->name, s->task.jar->piece[piece].name) == 0)
            return l->grade[ST_THETA_D] != ST_LEARNT_NOTHING || l->grade[ST_THETA_W] != ST_LEARNT_NOTHING ||
                   l->grade[ST_THETA_K] != ST_LEARNT_NOTHING;
    }
    return false;
}

static void print_most(const struct steep *s)
{
    for (int i = 0; i < s->task.before.n_curve && i < s->task.told.n_curve; i++) {
        const struct st_jar_curve *a = &s->task.before.curve[i], *b = &s->task.told.curve[i];
        char name[120], was[400], is[400];
        if (a->late || a->piece != b->piece || strcmp(a->name, b->name) != 0 || !is_learnt(s, b->piece))
            continue;
        st_curve_words(was, sizeof was, &s->task.before, a, steep_begun(s));
        st_curve_words(is, sizeof is, &s->task.told, b, steep_begun(s));
        if (strcmp(was, is) == 0)
            continue;
        st_curve_name(name, sizeof name, s->task.jar, b);
        printf("  %s\n", name);
        cli_say(6, 8, "before your readings: %s", was);
        cli_say(6, 8, "now: %s", is);
    }
}

void steep_print_learnt(const struct steep *s)
{
    char words[600];
    if (!s->task.has_learnt)
        return;
    cli_heading("What your readings say");
    for (int i = 0; i < s->task.learnt.n_thing; i++)
        print_thing(&s->task.learnt.thing[i]);
    print_most(s);
    print_readings(s);
    st_learnt_advice(words, sizeof words, &s->task.learnt);
    if (*words)
        cli_wrap(2, 2, words);
}
