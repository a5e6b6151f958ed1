#include "cli/batch_did.h"

#include <stdlib.h>
#include <string.h>

#include "api/book_batch_did.h"
#include "api/doc_take.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/calendar_day.h"
#include "text/stops.h"
#include "util/file.h"
#include "util/memory.h"

enum { MOST_BYTES = 1 << 16 };

const char *batch_did_answers(struct batch *b)
{
    struct st_buf rows = { 0 };
    struct cli *c = b->c;
    bool good = true;
    int n = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *word = c->argv[i], *value = NULL;
        if (strncmp(word, "--answer=", 9) == 0)
            value = word + 9;
        else if (strcmp(word, "--answer") == 0)
            value = i + 1 < c->argc ? c->argv[++i] : "";
        else {
            c->argv[n++] = c->argv[i];
            continue;
        }
        const size_t key = strcspn(value, "= ");
        good = good && key > 0 && value[key] == '=' && !strchr(value, '\n');
        st_buf_printf(&rows, "%s\n", value);
    }
    c->argc = n;
    const char *out = good ? st_arena_strdup(&b->arena, st_buf_text(&rows)) : NULL;
    st_buf_done(&rows);
    if (!good)
        cli_error("--answer", "it takes the name of a question and what you answer, with = between",
                  "write for example --answer l4.strength=40");
    return out;
}

/* Whatever was understood, with the recipe of it where one can be foretold. */
static int understood(struct batch *b, const char *file, const char *said, const char *answers, const char *on,
                      struct book_batch *row, struct batch_told *told)
{
    struct st_take *t = x_calloc(1, sizeof *t); /* large */
    struct st_catalogue *c = NULL;
    struct st_problem p = { .what = "" };
    int code = ST_EXIT_DONE;
    const int result = st_batch_did(&b->ask, said, answers, &c, t, &p);
    if ((c && st_stop_in_text(c, said, strlen(said), &p)) || result < 0)
        code = batch_wrong(&p);
    else {
        row->said = said;
        row->text = t->whole ? st_arena_strndup(&b->arena, t->yaml, t->yaml_size) : "";
        if (!*row->name)
            row->name = t->title && *t->title && !strstr(t->title, "ecipe without a title")
                            ? st_arena_strdup(&b->arena, t->title)
                            : batch_told_name(b, t);
        code = batch_told_read(b, file, said, on, t, told);
    }
    st_take_done(t);
    free(t);
    st_catalogue_free(c);
    return code;
}

int batch_did_read(struct batch *b, const char *file, const char *answers, const char *on, struct book_batch *row,
                   struct batch_told *told)
{
    struct st_buf text = { 0 };
    const int error = st_file_read(file, MOST_BYTES, &text);
    const char *said = st_arena_strdup(&b->arena, st_buf_text(&text));
    st_buf_done(&text);
    if (error)
        return cli_cannot_read(file, error);
    if (*answers)
        row->note = *row->note ? batch_text(b, "%s\n%s", row->note, answers) : answers;
    return understood(b, strcmp(file, "-") == 0 ? "standard input" : file, said, answers, on, row, told);
}

/* ---- what is open ---- */

static int with_questions(struct batch *b, const struct book_batch *row,
                          void (*each)(void *arg, const struct st_take_question *q), void *arg)
{
    struct st_take *t = x_calloc(1, sizeof *t); /* large */
    struct st_catalogue *c = NULL;
    struct st_problem p = { .what = "" };
    int open = 0;
    if (*row->said && st_batch_did(&b->ask, row->said, row->note, &c, t, &p) >= 0)
        for (int i = 0; i < t->n_question; i++)
            if (!t->question[i].answered) {
                open++;
                if (each)
                    each(arg, &t->question[i]);
            }
    st_take_done(t);
    free(t);
    st_catalogue_free(c);
    return open;
}

int batch_did_open(struct batch *b, const struct book_batch *row)
{
    return *row->said ? with_questions(b, row, NULL, NULL) : 0;
}

void batch_did_heard(struct batch *b, const struct book_batch *row)
{
    struct st_catalogue *c = NULL;
    struct st_problem p = { .what = "" };
    b->heard = ST_HEARD_FILE;
    if (!*row->said)
        return;
    struct st_take *t = x_calloc(1, sizeof *t); /* large */
    const bool read = st_batch_did(&b->ask, row->said, row->note, &c, t, &p) >= 0;
    b->heard = read && st_take_left_out(t) == 0 ? ST_HEARD_ALL : ST_HEARD_PART;
    st_take_done(t);
    free(t);
    st_catalogue_free(c);
}

struct printing {
    struct batch *b;
    const struct book_batch *row;
    int n;
};

static void print_question(void *arg, const struct st_take_question *q)
{
    struct printing *k = arg;
    if (k->n++ == 0)
        cli_heading("Still open");
    cli_say(2, 4, "%s %s%s%s.", q->ask, q->why ? q->why : "", q->n_option ? "; for example " : "",
            q->n_option ? q->label[0] : "");
    cli_say(4, 6, "stillroom batch answer %s %s=...", k->row->code, q->id);
}

void batch_did_print(struct batch *b, const struct book_batch *row)
{
    struct printing k = { b, row, 0 };
    (void)with_questions(b, row, print_question, &k);
}

static void add_question(void *arg, const struct st_take_question *q)
{
    json_array_append_new(arg, json_pack("{s:s, s:o, s:o}", "id", q->id, "ask", st_doc_text(q->ask), "why",
                                         st_doc_text(q->why ? q->why : "")));
}

json_t *batch_did_json(struct batch *b, const struct book_batch *row)
{
    json_t *list = json_array();
    (void)with_questions(b, row, add_question, list);
    return list;
}

/* ---- an answer ---- */

/* The jar of which only was known that it stands is that of the recipe's first step, now that there is one. */
static enum book_status name_jar(struct batch *b, const struct book_batch *row, const struct st_recipe *r)
{
    struct st_batch_jar *j;
    bool none[200] = { false };
    int n, step[200];
    enum book_status s = st_batch_jars(&b->ask, row->id, false, &j, &n);
    if (s != BOOK_OK || n != 1 || *j[0].row.step || r->n_step > 200 || st_batch_jars_next(r, none, none, step) < 1)
        return s;
    const struct st_step *first = &r->step[step[0]];
    long begun, due, last;
    char due_on[11];
    j[0].row.step = first->id;
    j[0].row.doing = st_batch_doing(first);
    if (st_day_number(j[0].row.begun_on, &begun) && st_batch_due(first, begun, &due, &last)) {
        st_day_write(due, due_on);
        j[0].row.due_on = due_on;
    }
    return book_put(b->book, BOOK_JAR, &j[0].row, NULL);
}

/* What an answer makes known: figures, and which jar it is; inside the deed. */
static enum book_status now_known(struct batch *b, const struct book_batch *row, bool had_text)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    enum book_status s = st_batch_made(&b->ask, row, true, true, m);
    if (s == BOOK_OK && m->told)
        s = st_batch_keep_foreseen(&b->ask, row->id, &m->out, BATCH_PROGRAM);
    if (s == BOOK_OK && m->whole && !had_text)
        s = name_jar(b, row, &m->file.recipe);
    st_batch_made_done(m);
    free(m);
    return s;
}

struct asked {
    const char *key;
    size_t size;
    bool is;
};

static void is_asked(void *arg, const struct st_take_question *q)
{
    struct asked *k = arg;
    k->is = k->is || (strlen(q->id) == k->size && strncmp(q->id, k->key, k->size) == 0);
}

/* Whether the question that the answer `said` names is open. */
static bool still_asked(struct batch *b, const struct book_batch *row, const char *said)
{
    struct asked k = { .key = said, .size = strcspn(said, "= ") };
    (void)with_questions(b, row, is_asked, &k);
    return k.is;
}

int batch_answer(struct batch *b)
{
    struct book_batch row;
    int code = batch_named(b, &row);
    const char *said = code == ST_EXIT_DONE ? batch_word(b, "no answer is given", "answer B14 l4.strength=40") : NULL;
    if (!said || !batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    const size_t key = strcspn(said, "= ");
    if (!*row.said || key == 0 || said[key] != '=') {
        cli_error(*row.said ? said : row.code,
                  *row.said ? "an answer is the name of a question, = and what you answer"
                            : "it was not told in own words, so nothing is asked",
                  "\"stillroom batch next\" shows what is open");
        return ST_EXIT_INPUT;
    }
    if (!still_asked(b, &row, said)) {
        cli_error(said, batch_did_open(b, &row) ? "no question that is open has this name" : "nothing is open",
                  "\"stillroom batch next\" shows what is open");
        return ST_EXIT_INPUT;
    }
    const char *note =
        batch_text(b, "%s%s%s\n", row.note, *row.note && row.note[strlen(row.note) - 1] != '\n' ? "\n" : "", said);
    const bool had_text = *row.text != '\0';
    row.note = note;
    struct batch_told told;
    code = understood(b, row.code, row.said, note, NULL, &row, &told);
    if (code != ST_EXIT_DONE)
        return code;
    if (still_asked(b, &row, said)) {
        cli_error(said, "this is no answer to that question", "\"stillroom batch next\" shows how it may be answered");
        return ST_EXIT_INPUT;
    }
    const int open = batch_did_open(b, &row);
    enum book_status s = batch_deed(b, "%s: answered %.200s", row.code, said);
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_BATCH, &row, NULL);
    if (s == BOOK_OK)
        s = now_known(b, &row, had_text);
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:o}", "batch", row.code, "open", batch_did_json(b, &row)));
    cli_say(0, 0, "%s: answered %s.%s", row.code, said, open ? "" : "  Nothing is open any more.");
    batch_did_print(b, &row);
    return ST_EXIT_DONE;
}
