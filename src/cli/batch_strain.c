/* Jars: moved, done and followed by the next, and what comes then. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_before.h"
#include "api/book_batch_bound.h"
#include "api/doc_batch.h"
#include "cli/batch_did.h"
#include "cli/batch_read.h"
#include "cli/page.h"
#include "text/calendar_day.h"
#include "text/figure_words.h"
#include "util/memory.h"

/* ---- begin ---- */

/* "a 2 L jar" of the recipe, when the maker named no vessel. */
static enum book_status begin_one(struct batch *b, const struct book_batch *batch, const struct st_step *step,
                                  const char *day, const char *vessel, const char *where)
{
    struct book_jar jar;
    long begun, due, last;
    char due_on[11];
    enum book_status s = BOOK_OK;
    book_row_init(BOOK_JAR, &jar);
    jar.batch_id = batch->id;
    jar.step = step->id;
    jar.doing = st_batch_doing(step);
    jar.begun_on = day;
    jar.place = where ? where : "";
    if (st_day_number(day, &begun) && st_batch_due(step, begun, &due, &last)) {
        st_day_write(due, due_on);
        jar.due_on = due_on;
    }
    if (vessel)
        s = st_batch_vessel(&b->ask, vessel, &jar.vessel_id);
    return s == BOOK_OK ? book_put(b->book, BOOK_JAR, &jar, NULL) : s;
}

enum book_status batch_begin_jars(struct batch *b, const struct book_batch *batch, const struct st_recipe *r,
                                  const char *day, const char *vessel, const char *where, int *n)
{
    struct st_batch_jar *j;
    bool ended[ST_BATCH_STEPS], begun[ST_BATCH_STEPS];
    int had, step[ST_BATCH_STEPS];
    *n = 0;
    enum book_status s = st_batch_jars(&b->ask, batch->id, true, &j, &had);
    if (s != BOOK_OK)
        return s;
    st_batch_jars_mark(r, j, had, ended, begun);
    const int k = st_batch_jars_next(r, ended, begun, step);
    for (int i = 0; i < k && s == BOOK_OK; i++, (*n)++)
        s = begin_one(b, batch, &r->step[step[i]], day, vessel, where);
    return s;
}

/* ---- which jar ---- */

/* The jar that stands, by its step; without one the only jar.  -1 after a message. */
static int which(const char *code, const struct st_batch_jar *j, int n, const char *said)
{
    char what[160], jars[200] = "", try_[240];
    int found = -1;
    for (int i = 0; i < n; i++) {
        const size_t at = strlen(jars);
        (void)snprintf(jars + at, sizeof jars - at, "%s%s", i ? ", " : "", *j[i].row.step ? j[i].row.step : "standing");
        if (!said || strcmp(j[i].row.step, said) == 0)
            found = found < 0 ? i : -2;
    }
    if (found >= 0)
        return found;
    (void)snprintf(try_, sizeof try_, "say --step with one of: %s", jars);
    (void)snprintf(what, sizeof what, "%s%s%.60s", code, said ? " step " : "", said ? said : "");
    if (n == 0)
        cli_error(what, "no jar of it stands", "\"stillroom batch next\" tells what comes then");
    else if (said)
        cli_error(what, "no jar of that step stands", try_);
    else
        cli_error(what, "several of its jars stand", try_);
    return -1;
}

/* ---- move ---- */

static const char *const MOVE[] = { "--to", "--where", "--on", "--step", NULL };

int batch_move(struct batch *b)
{
    struct book_batch row;
    struct st_batch_jar *j;
    char day[11];
    bool bad = false;
    int n;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *to = cli_option(b->c, "--to", &bad), *where = cli_option(b->c, "--where", &bad);
    const char *step = cli_option(b->c, "--step", &bad);
    if (bad || !cli_no_more_options(b->c, MOVE))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!step && b->c->argc > 0)
        step = batch_word(b, "", "");
    if (!batch_no_more(b, MOVE) || !batch_existed(b, &row, day))
        return ST_EXIT_INPUT;
    if (!to && !where) {
        cli_error(row.code, "nobody said where to", "write --to \"5 L jar\", or --where cellar, or both");
        return ST_EXIT_INPUT;
    }
    enum book_status s = st_batch_jars(&b->ask, row.id, false, &j, &n);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    const int at = which(row.code, j, n, step);
    if (at < 0)
        return ST_EXIT_INPUT;
    s = batch_deed(b, "%s: moved %s%s%s%s", row.code, to ? "into " : "", to ? to : "", where ? " to " : "",
                   where ? where : "");
    if (s == BOOK_OK && to)
        s = st_batch_vessel(&b->ask, to, &j[at].row.vessel_id);
    if (where)
        j[at].row.place = where;
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_JAR, &j[at].row, NULL);
    code = batch_end(b, s, NULL);
    if (to)
        j[at].vessel = to;
    if (code != ST_EXIT_DONE)
        return code;
    const char *remark = to ? batch_vessel_remark_of(b, &j[at], &row) : "";
    if (b->c->json) {
        json_t *o = batch_jar_json(b, &j[at]);
        json_object_set_new(o, "remark", st_doc_text(remark));
        return cli_json_print(o);
    }
    cli_say(0, 2, "%s: %s.", row.code, batch_jar_words(b, &j[at]));
    if (*remark)
        cli_wrap(2, 2, remark);
    return ST_EXIT_DONE;
}

/* ---- strain ---- */

struct straining {
    struct book_batch row;
    struct st_batch_jar *jar;
    struct st_batch_made *made;
    const char *to, *where, *step;
    char day[11];
    struct batch_readings readings;
    int n_jar, at, n_next;
};

static const char *const STRAIN[] = { "--to", "--where", "--on", "--step", "--by", NULL };

static int take_strain(struct batch *b, struct straining *k)
{
    bool bad = false;
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    k->to = cli_option(b->c, "--to", &bad);
    k->where = cli_option(b->c, "--where", &bad);
    k->step = cli_option(b->c, "--step", &bad);
    k->readings.by = cli_option(b->c, "--by", &bad);
    if (bad || !cli_no_more_options(b->c, STRAIN))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &k->row);
    if (code == ST_EXIT_DONE)
        code = batch_read_words(b, &k->readings);
    if (code != ST_EXIT_DONE)
        return code;
    enum book_status s = st_batch_jars(&b->ask, k->row.id, false, &k->jar, &k->n_jar);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, &k->row, true, k->readings.n > 0, k->made);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (k->step && k->made->whole) {
        struct st_problem p = { .what = "" };
        const int step = st_batch_step(&k->made->file.recipe, k->step, &p);
        if (step < 0)
            return batch_wrong(&p);
        k->step = k->made->file.recipe.step[step].id;
    }
    k->at = which(k->row.code, k->jar, k->n_jar, k->step);
    return k->at >= 0 ? ST_EXIT_DONE : ST_EXIT_INPUT;
}

/* "strained", "racked": what was done when a jar of that doing ends. */
static const char *done_words(const char *doing)
{
    static const char *const DONE[][2] = {
        { "steeping", "strained" },
        { "resting", "went on with" },
        { "clearing", "drew off" },
        { "waiting to be racked", "racked" },
        { "waiting to be filtered", "filtered" },
        { "waiting to be bottled", "emptied" },
    };
    for (size_t i = 0; i < sizeof DONE / sizeof *DONE; i++)
        if (strcmp(DONE[i][0], doing) == 0)
            return DONE[i][1];
    return "ended";
}

static int keep_strain(struct batch *b, struct straining *k)
{
    struct st_batch_jar *j = &k->jar[k->at];
    const char *step = *j->row.step ? j->row.step : "the jar";
    if (strcmp(k->day, j->row.begun_on) < 0) {
        cli_error(k->day, "the jar was begun later than that", "look at --on");
        return ST_EXIT_INPUT;
    }
    struct st_problem p = { .what = "" };
    if (!st_batch_can_be(k->made, j->row.step, k->readings.row, k->readings.n, &p))
        return batch_wrong(&p);
    enum book_status s = batch_deed(b, "%s: %s %.100s", k->row.code, done_words(j->row.doing), step);
    j->row.ended_on = k->day;
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_JAR, &j->row, NULL);
    if (s == BOOK_OK)
        s = batch_readings_put(b, &k->row, j->row.step, k->day, &k->readings);
    if (s == BOOK_OK && k->made->whole)
        s = batch_begin_jars(b, &k->row, &k->made->file.recipe, k->day, k->to, k->where, &k->n_next);
    return batch_end(b, s, NULL);
}

/* Of the vessel that the maker named for it. */
static const char *remark_on(struct batch *b, const struct straining *k, const struct st_batch_jar *j)
{
    return k->to && strcmp(k->to, j->vessel) == 0 && strcmp(k->day, j->row.begun_on) == 0
               ? batch_vessel_remark_of(b, j, &k->row)
               : "";
}

static void print_now(struct batch *b, const struct st_batch_jar *j)
{
    const bool rests = strcmp(j->row.doing, "resting") == 0;
    const char *day = j->row.due_on && (rests || !j->todo.waits) ? batch_day(b, j->row.due_on, true) : NULL;
    cli_say(2, 4, "Now %s%s%s%s: %s.", batch_jar_words(b, j), j->todo.waits && rests ? "; then resting" : "",
            day ? "; on " : "", day ? day : "",
            day             ? batch_then(j->row.doing)
            : j->todo.then  ? j->todo.then
            : j->row.due_on ? batch_then(j->row.doing)
                            : "no day set");
    batch_todo_print(b, j->code, &j->todo, 4);
}

static int tell_strain(struct batch *b, const struct straining *k)
{
    const struct st_batch_jar *was = &k->jar[k->at];
    struct st_batch_jar *now;
    int n;
    enum book_status s = st_batch_jars(&b->ask, k->row.id, false, &now, &n);
    if (s == BOOK_OK)
        s = st_batch_jars_todo(&b->ask, now, n);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json) {
        json_t *jars = json_array();
        for (int i = 0; i < n; i++) {
            json_t *o = batch_jar_json(b, &now[i]);
            json_object_set_new(o, "remark", st_doc_text(remark_on(b, k, &now[i])));
            json_array_append_new(jars, o);
        }
        return cli_json_print(json_pack("{s:o, s:o, s:o}", "batch", st_doc_text(k->row.code), "ended",
                                        batch_jar_json(b, was), "jars", jars));
    }
    cli_say(0, 2, "%s: %s %s, begun %s.", k->row.code, done_words(was->row.doing),
            *was->row.step ? was->row.step : "the jar", batch_day(b, was->row.begun_on, false));
    for (int i = 0; i < n; i++) {
        print_now(b, &now[i]);
        const char *remark = remark_on(b, k, &now[i]);
        if (*remark)
            cli_wrap(4, 4, remark);
    }
    if (n == 0)
        cli_say(2, 4, "Nothing stands of it any more: stillroom batch bottle, or batch end.");
    else if (k->n_next == 0)
        cli_wrap(2, 4, "Its other jars stand on.");
    return ST_EXIT_DONE;
}

int batch_strain(struct batch *b)
{
    struct straining *k = x_calloc(1, sizeof *k);
    k->made = x_calloc(1, sizeof *k->made); /* large */
    int code = take_strain(b, k);
    if (code == ST_EXIT_DONE)
        code = keep_strain(b, k);
    if (code == ST_EXIT_DONE)
        code = tell_strain(b, k);
    st_batch_made_done(k->made);
    free(k->made);
    free(k);
    return code;
}

/* ---- next ---- */

/* How much lies in a jar that stands: of the drink what is left by book and reading, of what comes before it what it gives by the
 * recipe as weighed; not known where nothing is foretold. */
static struct st_interval jar_ml(struct batch *b, const struct book_batch *row, const struct st_batch_jar *j,
                                 const struct st_batch_made *m)
{
    struct st_interval x = { .known = false };
    struct st_batch_left left;
    if (!m->told || !*j->row.step)
        return x;
    if (st_batch_of_drink(&m->file.recipe, j->row.step)) {
        if (st_batch_left(&b->ask, row, m, &left) != BOOK_OK || !isfinite(left.spare_ml))
            return x;
        const double gone = left.lost_ml + left.bottled_ml;
        return (struct st_interval){ left.spare_ml, fmax(left.low_ml - gone, 0.0), fmax(left.high_ml - gone, 0.0),
                                     ST_OK, true };
    }
    for (int i = 0; i < m->out.n_balance; i++)
        if (strcmp(m->file.recipe.step[m->out.balance[i].step].id, j->row.step) == 0) {
            x.value = x.low = x.high = m->out.balance[i].volume_ml;
            x.known = x.value > 0.0;
        }
    return x;
}

static void print_jar_ml(struct batch *b, const struct book_batch *row, const struct st_batch_jar *j,
                         const struct st_batch_made *m)
{
    char words[80];
    const struct st_interval x = jar_ml(b, row, j, m);
    if (!x.known)
        return;
    if (x.low < x.high) {
        st_volume_words(words, sizeof words, &x, b->c->units);
        cli_say(4, 6, "left in it: %s", words);
    } else {
        const bool steeps = strcmp(j->row.doing, "steeping") == 0;
        st_plain_figure(words, sizeof words, x.value, 2);
        cli_say(4, 6,
                steeps ? "it will give about %s mL, by what was weighed" : "in it: about %s mL, by what was weighed",
                words);
    }
}

static void print_next(struct batch *b, const struct book_batch *row, const struct st_batch_jar *j, int n,
                       const json_t *todo, const json_t *open, const struct st_batch_made *really)
{
    size_t i;
    const json_t *x;
    int standing = 0;
    cli_say(0, 0, "%s, %s, begun %s.", row->code, row->name, batch_day(b, row->begun_on, false));
    for (int k = 0; k < n; k++) {
        if (j[k].row.ended_on)
            continue;
        standing++;
        cli_say(2, 4, "%s: %s", *j[k].row.step ? j[k].row.step : "a jar", batch_jar_words(b, &j[k]));
        if (j[k].row.due_on)
            cli_say(4, 6, "%s, %s: %s", batch_day(b, j[k].row.due_on, true), batch_away(b, j[k].row.due_on),
                    batch_then(j[k].row.doing));
        print_jar_ml(b, row, &j[k], really);
        batch_todo_print(b, row->code, &j[k].todo, 4);
    }
    if (!standing)
        cli_wrap(2, 4,
                 row->ended_on ? "It is over." : "No jar of it stands: bottle it, or say that it is over (batch end).");
    if (json_array_size(todo))
        cli_heading("To be made by then");
    for (i = 0; (x = json_array_get(todo, i)) != NULL; i++)
        cli_say(2, 4, "%s: %s", json_string_value(json_object_get(x, "step")),
                json_string_length(json_object_get(x, "words")) ? json_string_value(json_object_get(x, "words"))
                                                                : json_string_value(json_object_get(x, "do")));
    if (json_array_size(open))
        cli_heading("Not weighed yet: the plan stands for it");
    for (i = 0; (x = json_array_get(open, i)) != NULL; i++)
        cli_say(2, 4, "%s %d  %s", json_string_value(json_object_get(x, "step")),
                (int)json_integer_value(json_object_get(x, "line")), json_string_value(json_object_get(x, "planned")));
    batch_did_print(b, row);
}

/* Of what is really in it, what was added too. */
static void tell_cautions(struct batch *b, const struct book_batch *row, const struct st_batch_made *m, json_t *o)
{
    if (b->c->json && m->whole)
        json_object_set_new(o, "cautions", batch_cautions_json(b, m));
    if (b->c->json && !m->told)
        json_object_set_new(o, "nothing_known", st_doc_text(batch_nothing_known(b, m, row->code)));
    if (!b->c->json)
        batch_cautions(b, m, row->code);
}

/* m: as planned, to be filled; really: as made. */
static int tell_next(struct batch *b, const struct book_batch *row, struct st_batch_made *m,
                     struct st_batch_made *really)
{
    struct st_batch_jar *j;
    struct book_weighing *w;
    int n, n_w;
    const struct book_wanted of = { .column = "batch_id", .integer = row->id };
    enum book_status s = st_batch_jars(&b->ask, row->id, true, &j, &n);
    if (s == BOOK_OK)
        s = st_batch_jars_todo(&b->ask, j, n);
    if (s == BOOK_OK)
        s = book_list(b->book, BOOK_WEIGHING, &of, &b->arena, &w, &n_w);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, row, false, false, m);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, row, true, true, really);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    const struct st_recipe *r = m->whole ? &m->file.recipe : NULL;
    json_t *o = st_doc_batch_next(row, r, j, n, w, n_w, b->now.number);
    json_object_set_new(o, "open", batch_did_json(b, row));
    if (!b->c->json)
        print_next(b, row, j, n, json_object_get(o, "to_be_made"), json_object_get(o, "not_weighed"), really);
    tell_cautions(b, row, really, o);
    if (b->c->json)
        return cli_json_print(o);
    json_decref(o);
    return ST_EXIT_DONE;
}

int batch_next(struct batch *b)
{
    struct book_batch row;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    struct st_batch_made *m = x_calloc(2, sizeof *m); /* large */
    code = tell_next(b, &row, &m[0], &m[1]);
    st_batch_made_done(&m[0]);
    st_batch_made_done(&m[1]);
    free(m);
    return code;
}
