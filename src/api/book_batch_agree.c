#include "api/book_batch_agree.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree_before.h"
#include "api/book_batch_before.h"
#include "api/book_batch_lost.h"
#include "api/book_batch_rest.h"
#include "api/book_batch_since.h"
#include "text/agree_words.h"
#include "text/calendar_day.h"
#include "util/memory.h"

/* ---- which readings ---- */

/* The one step that takes what step gave, and nothing else; -1. */
static int passes_to(const struct st_recipe *r, int step)
{
    int to = -1;
    for (int t = step + 1; t < r->n_step; t++)
        for (int i = 0; i < r->step[t].n_line; i++) {
            const struct st_line *l = &r->step[t].line[i];
            if (l->from_step != step)
                continue;
            if (to >= 0 || r->step[t].n_line != 1 || l->part != ST_LIQUOR || l->amount.dim != ST_DIM_OPEN)
                return -1;
            to = t;
        }
    return to;
}

bool st_batch_of_drink(const struct st_recipe *r, const char *step)
{
    int at = -1, last = r->n_step - 1;
    if (!*step)
        return true;
    while (last > 0 && st_batch_is_rest(&r->step[last])) /* the rest of a drink is that drink */
        last = r->step[last].line[0].from_step;
    for (int i = 0; i < r->n_step; i++)
        if (strcmp(r->step[i].id, step) == 0)
            at = i;
    /* a reading is of what stands in a step: of a steep with the fruit, which is strained off afterwards */
    if (at < 0 || r->step[at].kind == ST_DO_STEEP || r->step[at].kind == ST_DO_TOAST)
        return false;
    if (at >= 0 && st_batch_is_rest(&r->step[at]))
        return true;
    while (at >= 0 && at < last)
        at = passes_to(r, at);
    return at == last;
}

/* A volume of the whole drink is what st_agree knows as that. */
static bool as_seen(const struct book_reading *row, long begun, struct st_observation *out)
{
    struct book_reading r = *row;
    if (strcmp(r.kind, ST_READ_VOLUME) == 0)
        r.kind = st_seen_info(ST_SEEN_LIQUOR_ML)->key;
    return st_batch_seen(&r, begun, out);
}

/* An earlier one of those taken that is the very same entry. */
static bool is_again(const struct book_reading *row, int i)
{
    for (int k = 0; k < i; k++)
        if (row[k].value == row[i].value && strcmp(row[k].kind, row[i].kind) == 0 &&
            strcmp(row[k].at, row[i].at) == 0 && strcmp(row[k].step, row[i].step) == 0 &&
            strcmp(row[k].of, row[i].of) == 0 && strcmp(row[k].by_whom, row[i].by_whom) == 0 &&
            strcmp(row[k].words, row[i].words) == 0 && row[k].doubted == row[i].doubted)
            return true;
    return false;
}

struct collecting {
    const struct st_batch_ask *a;
    const struct st_batch_made *made;
    struct st_batch_past past;
    struct st_batch_agree *out;
    struct st_batch_earlier old[ST_AGREE_MOST]; /* out->n_old of them */
};

/* "200 mL water", "130 g of white sugar". */
static void added_words(const struct st_recipe *r, const struct book_weighing *w, char *buf, size_t size)
{
    for (int s = 0; s < r->n_step && w->line > 0; s++)
        if (strcmp(r->step[s].id, w->step) == 0 && w->line <= r->step[s].n_line && r->step[s].line[w->line - 1].what) {
            (void)snprintf(buf, size, "%.40s of %.60s", w->words, r->step[s].line[w->line - 1].what->name);
            return;
        }
    (void)snprintf(buf, size, "%.110s", w->words);
}

/* The same amount of the same line, written down twice: it may be, and where figures are at odds it may be a slip. */
static void note_again(const struct st_recipe *r, const struct st_batch_past *past, struct st_batch_agree *out)
{
    for (int i = 0; i < past->n_weighed; i++)
        for (int k = 0; k < i; k++) {
            const struct book_weighing *w = &past->weighed[i], *v = &past->weighed[k];
            char words[120];
            if (w->line != v->line || strcmp(w->step, v->step) != 0 || strcmp(w->words, v->words) != 0)
                continue;
            added_words(r, w, words, sizeof words);
            (void)snprintf(out->again, sizeof out->again, "%s, of %.60s", words, w->step);
            out->again_line = w->line > 0;
            return;
        }
}

static enum book_status keep_old(struct collecting *k, const struct book_reading *row, const struct st_observation *o,
                                 const struct book_weighing *by)
{
    struct st_batch_agree *out = k->out;
    const struct st_recipe *r = &k->made->file.recipe;
    if (out->n_old == ST_AGREE_MOST) { /* the oldest go */
        memmove(out->old, out->old + 1, (ST_AGREE_MOST - 1) * sizeof *out->old);
        memmove(k->old, k->old + 1, (ST_AGREE_MOST - 1) * sizeof *k->old);
        out->n_old--;
        for (int i = 0; i < out->n_old; i++)
            k->old[i].at = i;
    }
    struct st_batch_earlier *e = &k->old[out->n_old];
    struct st_batch_old *x = &out->old[out->n_old];
    *e = (struct st_batch_earlier){ .row = row, .seen = *o, .at = out->n_old++ };
    x->id = row->id;
    x->kind = o->what;
    st_batch_reading_words(x->words, sizeof x->words, row);
    added_words(r, by, x->what, sizeof x->what);
    (void)snprintf(x->day, sizeof x->day, "%.10s", by->on_day);
    return st_batch_added_since(k->a, &k->past, r, row, &e->since, &e->of_recipe);
}

/* They come by their moment: the first is the oldest. */
static void drop_oldest(struct st_batch_agree *out)
{
    out->n--;
    out->over++;
    memmove(out->id, out->id + 1, (size_t)out->n * sizeof *out->id);
    memmove(out->back_ml, out->back_ml + 1, (size_t)out->n * sizeof *out->back_ml);
    memmove(out->seen, out->seen + 1, (size_t)out->n * sizeof *out->seen);
}

static enum book_status take_reading(struct collecting *k, const struct book_reading *row,
                                     const struct st_observation *seen)
{
    struct st_batch_agree *out = k->out;
    struct st_observation o = *seen;
    const struct book_weighing *by = NULL;
    const bool drained = o.what == ST_SEEN_DRAINED_G;
    double back = 0.0;
    enum book_status s = BOOK_OK;
    if (!drained && !st_batch_of_drink(&k->made->file.recipe, row->step)) {
        out->in_jar++;
        return BOOK_OK;
    }
    if (!drained)
        s = st_batch_outdated(k->a, &k->past, &k->made->file.recipe, row, &by);
    if (s == BOOK_OK && !by)
        s = st_batch_agree_back(k->a, &k->past, k->made, row, &o, &back);
    if (s != BOOK_OK)
        return s;
    if (by)
        return keep_old(k, row, &o, by);
    if (out->n == ST_AGREE_MOST)
        drop_oldest(out);
    out->id[out->n] = row->id;
    out->back_ml[out->n] = back;
    out->seen[out->n++] = o;
    return BOOK_OK;
}

/* Syrups and blends that nobody wrote down, in one list. */
static enum book_status taken_for_granted(const struct st_batch_ask *a, const struct book_batch *batch,
                                          const struct st_batch_made *made, struct st_batch_agree *out)
{
    struct st_batch_todo all;
    const enum book_status s = st_batch_todo_of(a, batch, &made->file.recipe, "", &all);
    struct st_batch_chore *c = st_arena_alloc(a->arena, (size_t)(all.n_first + all.n_unsure + 1) * sizeof *c);
    out->unsure = c;
    for (int i = 0; s == BOOK_OK && i < all.n_first + all.n_unsure; i++) {
        const struct st_batch_chore *x = i < all.n_first ? &all.first[i] : &all.unsure[i - all.n_first];
        if (x->own)
            c[out->n_unsure++] = *x;
    }
    return s;
}

static enum book_status collect(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, struct st_batch_agree *out,
                                struct st_batch_thens *then)
{
    struct collecting k = { .a = a, .made = made, .out = out };
    struct book_reading *row;
    int n;
    long begun = 0;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at" };
    enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &row, &n);
    if (s == BOOK_OK)
        s = st_batch_past(a, batch, &k.past);
    if (s == BOOK_OK && made->lost_in)
        st_batch_lost_out(&made->file.recipe, &k.past);
    if (s == BOOK_OK)
        note_again(&made->file.recipe, &k.past, out);
    if (s == BOOK_OK)
        s = taken_for_granted(a, batch, made, out);
    (void)st_day_number(batch->begun_on, &begun);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct st_observation o;
        if (strcmp(row[i].kind, ST_READ_WARMTH) == 0 || !as_seen(&row[i], begun, &o))
            continue;
        bool later = false;
        if (a->until) {
            const struct st_batch_moment read = { .table = BOOK_READING, .id = row[i].id, .day = row[i].at };
            s = st_batch_later(a, &read, a->until, &later);
        }
        if (later)
            continue;
        if (row[i].doubted == 1)
            out->aside++;
        else if (is_again(row, i))
            out->twice++;
        else
            s = take_reading(&k, &row[i], &o);
    }
    if (s == BOOK_OK)
        s = st_batch_thens_of(a, batch, made, k.old, out->n_old, out, then);
    return s;
}

/* ---- the verdict ---- */

static void say_why(enum st_status s, struct st_problem *problem)
{
    st_batch_refuse(problem,
                    s == ST_E_REFUSED  ? "its strength, sugar or volume is not foretold"
                    : s == ST_E_NOCONV ? "the search did not come to rest"
                                       : "a figure is outside all that can be",
                    "look at what was weighed and read: stillroom batch show",
                    "the readings cannot be held against the recipe");
}

static void say_nothing_read(const struct book_batch *batch, const struct st_batch_agree *out,
                             struct st_problem *problem)
{
    st_batch_refuse(problem,
                    out->n_old ? "all were read before something was added to it, and none of them goes on to hold"
                    : out->in_jar
                        ? "all were read before it was the finished drink: with the fruit in it, or before something "
                          "was added; \"stillroom batch learn\" uses these"
                    : out->aside ? "all are set aside"
                                 : "nothing was read yet",
                    "read the strained and sweetened drink: stillroom batch read B14 sg=1.043@22C brix=28",
                    "%s has no reading of the finished drink", batch->code);
}

enum book_status st_batch_agree(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, struct st_batch_agree *out,
                                struct st_problem *problem)
{
    struct st_batch_thens then = { .n = 0 };
    enum st_status done = ST_OK;
    memset(out, 0, sizeof *out);
    const enum book_status s = collect(a, batch, made, out, &then);
    if (s == BOOK_OK && out->n + then.n > 0)
        done = st_batch_agree_hold(a, &then, made, out);
    st_batch_thens_done(&then);
    if (s == BOOK_OK && done < 0 && out->n > 0)
        say_why(done, problem);
    else if (s == BOOK_OK && out->n + out->n_on == 0)
        say_nothing_read(batch, out, problem);
    return s;
}

/* ---- the document ---- */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *figures(const struct st_agreement *a)
{
    json_t *o = json_object();
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        json_object_set_new(o, st_figure_info(st_agree_figure_of((enum st_agree_figure)f))->key,
                            json_pack("{s:o, s:o, s:o, s:o, s:o}", "before", st_doc_interval(&a->before[f]),
                                      "with_what_was_read_before", st_doc_interval(&a->carried[f]), "measured",
                                      st_agree_alone(a) ? st_doc_interval(&a->measured[f]) : json_null(), "after",
                                      st_agree_together(a) ? st_doc_interval(&a->after[f]) : json_null(),
                                      "without_the_doubted", st_doc_interval(&a->without[f])));
    return o;
}

json_t *st_doc_batch_agree(const char *code, const struct st_batch_agree *x)
{
    char text[ST_AGREE_TEXT];
    json_t *readings = json_array(), *remarks = json_array();
    for (int i = 0; i < x->n; i++) {
        const struct st_agree_reading *r = &x->out.reading[i];
        st_agree_reading_words(text, sizeof text, &x->out, x->seen, i);
        json_array_append_new(readings,
                              json_pack("{s:I, s:s, s:o, s:f, s:s, s:o, s:o, s:o, s:o, s:b, s:o}", "number",
                                        (json_int_t)x->id[i], "kind", st_seen_info(x->seen[i].what)->key, "read",
                                        real(x->seen[i].value), "added_back_ml", x->back_ml[i], "use",
                                        st_agree_use_code(r->use), "before", st_doc_interval(&r->before), "after",
                                        st_doc_interval(&r->after), "off_sd", real(r->standard), "known_by_others",
                                        real(r->redundancy), "doubt", x->out.suspect == i, "words", st_doc_text(text)));
    }
    for (int i = 0;; i++) {
        st_agree_remark(text, sizeof text, &x->out, i);
        if (!*text)
            break;
        json_array_append_new(remarks, st_doc_text(text));
    }
    st_agree_verdict_words(text, sizeof text, &x->out, x->seen);
    json_t *o = json_pack("{s:s, s:b, s:s, s:o, s:o, s:o, s:i}", "batch", code, "agree", x->out.agree, "doubt",
                          st_agree_doubt_code(x->out.doubt), "verdict", st_doc_text(text), "chi_square",
                          real(x->out.chi2), "p", real(x->out.p), "degrees_of_freedom", x->out.df);
    json_object_set_new(o, "weighed_twice", x->again[0] ? st_doc_text(x->again) : json_null());
    json_object_set_new(o, "no_such_liquid", json_boolean(x->out.no_liquid && !x->out.agree));
    st_agree_slip_words(text, sizeof text, &x->out, x->seen);
    json_object_set_new(o, "slip", json_string(st_agree_slip_code(x->out.slip)));
    json_object_set_new(o, "slip_words", st_doc_text(text));
    json_object_set_new(o, "figures", figures(&x->out));
    json_object_set_new(o, "readings", readings);
    json_object_set_new(o, "remarks", remarks);
    json_object_set_new(o, "not_of_the_drink", json_integer(x->in_jar));
    json_object_set_new(o, "set_aside", json_integer(x->aside));
    json_object_set_new(o, "entered_twice", json_integer(x->twice));
    json_t *old = json_array();
    for (int i = 0; i < x->n_old; i++)
        json_array_append_new(
            old,
            json_pack("{s:I, s:o, s:o, s:s, s:b, s:o}", "number", (json_int_t)x->old[i].id, "reading",
                      st_doc_text(x->old[i].words), "before", st_doc_text(x->old[i].what), "on_day", x->old[i].day,
                      "goes_on", x->old[i].use == ST_OLD_GOES_ON, "why_not",
                      x->old[i].use == ST_OLD_GOES_ON ? json_null() : st_doc_text(st_batch_old_why(x->old[i].use))));
    json_object_set_new(o, "of_the_drink_before", old);
    json_object_set_new(o, "not_known_whether_in", st_doc_batch_chores(x->unsure, x->n_unsure));
    json_object_set_new(o, "older_left_out", json_integer(x->over));
    return o;
}
