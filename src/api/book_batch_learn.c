#include "api/book_batch_agree.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "text/calendar_day.h"
#include "text/learnt_words.h"
#include "text/piece_named.h"
#include "util/memory.h"

/* ---- one batch ---- */

/* The jar that is meant: that id or number, else the last that steeps. */
static int jar_step(const struct st_recipe *r, const char *said)
{
    int last = -1;
    struct st_problem p;
    const int named = said ? st_batch_step(r, said, &p) : -1;
    if (named >= 0 && st_jar_is_at(r, named))
        return named;
    for (int i = 0; i < r->n_step; i++)
        if (st_jar_is_at(r, i))
            last = i;
    return last;
}

/* The day on which the jar of that step was filled: the batch's own where no jar is told. */
static enum book_status begun_of(const struct st_batch_ask *a, const struct book_batch *batch, const char *step,
                                 long *begun)
{
    struct book_jar *j;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const enum book_status s = book_list(a->book, BOOK_JAR, &of, a->arena, &j, &n);
    *begun = 0;
    (void)st_day_number(batch->begun_on, begun);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (strcmp(j[i].step, step) == 0) {
            (void)st_day_number(j[i].begun_on, begun);
            break;
        }
    return s;
}

/* A reading of the jar: in its step, or in none when it has only one. */
static bool is_of_jar(const struct st_batch_lesson *k, const struct book_reading *r)
{
    int jars = 0;
    for (int i = 0; i < k->made->file.recipe.n_step; i++)
        jars += st_jar_is_at(&k->made->file.recipe, i);
    return strcmp(r->step, k->step) == 0 || (!*r->step && jars == 1 && r->after_straining == 1);
}

static enum book_status readings(const struct st_batch_ask *a, struct st_batch_lesson *k)
{
    struct book_reading *row;
    int n;
    long begun;
    const struct book_wanted of = { .column = "batch_id", .integer = k->row.id, .order = "at" };
    enum book_status s = begun_of(a, &k->row, k->step, &begun);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_READING, &of, a->arena, &row, &n);
    if (s != BOOK_OK)
        return s;
    k->seen = st_arena_alloc(a->arena, ST_BATCH_SEEN * sizeof *k->seen);
    k->piece = st_arena_alloc(a->arena, ST_BATCH_SEEN * sizeof *k->piece);
    for (int i = 0; i < n && k->n < ST_BATCH_SEEN; i++) {
        struct st_problem p;
        struct st_observation *o = &k->seen[k->n];
        if (row[i].doubted == 1 || !is_of_jar(k, &row[i]) || !st_batch_seen(&row[i], begun, o))
            continue;
        o->batch = k->row.code;
        k->piece[k->n] = *o->of ? st_jar_piece_named(k->jar, o->of, strlen(o->of), &p) : -1;
        if (*o->of && k->piece[k->n] < 0)
            continue; /* of something that does not lie in it: nothing to learn */
        if (*o->of)
            o->of = k->jar->piece[k->piece[k->n]].name; /* "damson", "damsons": one scale */
        k->n++;
    }
    return BOOK_OK;
}

static void drop(struct st_batch_lesson *k)
{
    st_jar_free(k->jar);
    if (k->made)
        st_batch_made_done(k->made);
    free(k->made);
    memset(k, 0, sizeof *k);
}

/* BOOK_NONE and *problem when nothing is to be learnt from it. */
static enum book_status open_one(const struct st_batch_ask *a, const struct st_jar_books *books,
                                 const struct book_batch *batch, const char *step, struct st_batch_lesson *k,
                                 struct st_problem *problem)
{
    memset(k, 0, sizeof *k);
    k->row = *batch;
    k->made = x_calloc(1, sizeof *k->made); /* large */
    struct st_batch_ask jar = *a;
    jar.whole_drink = true; /* learnt is from jars: what became of the drink afterwards is no matter */
    enum book_status s = st_batch_made(&jar, batch, true, false, k->made);
    if (s != BOOK_OK)
        return s;
    *problem = k->made->problem;
    if (!k->made->whole)
        return BOOK_NONE;
    const int at = jar_step(&k->made->file.recipe, step);
    if (at < 0) {
        st_batch_refuse(problem, "its recipe has no jar with anything in it", "learn from a batch that steeps", "%s",
                        batch->code);
        return BOOK_NONE;
    }
    k->step = k->made->file.recipe.step[at].id;
    k->jar = st_jar_of_recipe(books, &k->made->file.recipe, at, problem);
    if (!k->jar)
        return BOOK_NONE;
    problem->what[0] = '\0';
    s = readings(a, k);
    if (s == BOOK_OK && k->n == 0) {
        st_batch_refuse(problem, "nothing was read of its jar while the fruit was in it, or when it was strained",
                        "read it with its step: stillroom batch read B14 colour=3 --of damson --step jar",
                        "%s teaches nothing yet", batch->code);
        return BOOK_NONE;
    }
    return s;
}

/* ---- others of the same things ---- */

static bool shares(const struct st_jar *a, const struct st_jar *b)
{
    for (int i = 0; i < a->n_piece; i++)
        for (int k = 0; k < b->n_piece; k++)
            if (a->piece[i].what && b->piece[k].what && strcmp(a->piece[i].what->slug, b->piece[k].what->slug) == 0)
                return true;
    return false;
}

static bool is_in(const struct st_batch_lessons *x, int64_t id)
{
    for (int i = 0; i < x->n; i++)
        if (x->of[i].row.id == id)
            return true;
    return false;
}

/* The newest first, as far as there is room. */
static enum book_status add_others(const struct st_batch_ask *a, const struct st_jar_books *books, const char *step,
                                   struct st_batch_lessons *x)
{
    struct book_batch *all;
    int n;
    const struct book_wanted newest = { .order = "begun_on", .backward = true };
    enum book_status s = book_list(a->book, BOOK_BATCH, &newest, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct st_problem p = { .what = "" };
        struct st_batch_lesson k = { .n = 0 };
        int64_t count = 0;
        const struct book_wanted of = { .column = "batch_id", .integer = all[i].id };
        if (is_in(x, all[i].id))
            continue;
        if (x->n == ST_BATCH_TEACH) {
            x->more = true;
            break;
        }
        s = book_count(a->book, BOOK_READING, &of, &count);
        if (s != BOOK_OK || count == 0)
            continue;
        s = open_one(a, books, &all[i], step, &k, &p);
        if (s == BOOK_OK && shares(x->of[0].jar, k.jar)) {
            x->of[x->n++] = k;
            x->others++;
            continue;
        }
        drop(&k);
        if (s == BOOK_NONE)
            s = BOOK_OK;
    }
    return s;
}

/* ---- learning ---- */

static void learn(struct st_batch_lessons *x, struct st_problem *problem)
{
    struct st_learn_batch batch[ST_LEARN_BATCHES];
    for (int i = 0; i < x->n; i++)
        batch[i] = (struct st_learn_batch){ x->of[i].jar, x->of[i].seen, x->of[i].piece, x->of[i].n };
    const enum st_status s = st_learn(batch, x->n, &x->learnt);
    x->has_learnt = true;
    if (s == ST_E_REFUSED)
        st_batch_refuse(
            problem, "none of them speaks of something that is followed in the jar",
            "add a depth of colour, a mark or a taste --of an ingredient, or the weight of the drained solids",
            "nothing can be learnt from these readings");
    else if (s < 0 && s != ST_E_NOCONV)
        st_batch_refuse(problem, "a time or a figure is outside all that can be",
                        "look at days and units: stillroom batch show", "these readings do not fit their jar");
}

enum book_status st_batch_learn(const struct st_batch_ask *a, const struct st_jar_books *books,
                                const struct book_batch batch[], int n, const char *step, struct st_batch_lessons *out,
                                struct st_problem *problem)
{
    enum book_status s = BOOK_OK;
    memset(out, 0, sizeof *out);
    for (int i = 0; i < n && s == BOOK_OK; i++) {
        if (is_in(out, batch[i].id)) {
            st_batch_refuse(problem, "a making that is counted twice seems surer than it is", "name each once",
                            "%s is named twice", batch[i].code);
            return BOOK_NONE;
        }
        s = open_one(a, books, &batch[i], step, &out->of[out->n++], problem);
    }
    if (s == BOOK_OK && n == 1)
        s = add_others(a, books, step, out);
    if (s == BOOK_OK)
        learn(out, problem);
    return s;
}

void st_batch_lessons_done(struct st_batch_lessons *x)
{
    if (x->has_learnt)
        st_learnt_done(&x->learnt);
    for (int i = 0; i < x->n; i++)
        drop(&x->of[i]);
    memset(x, 0, sizeof *x);
}

/* ---- the document ---- */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *band(double mean, double sd)
{
    return json_pack("{s:o, s:o, s:o, s:s}", "value", real(exp(mean)), "low", real(exp(mean - 1.959964 * sd)), "high",
                     real(exp(mean + 1.959964 * sd)), "status", "ok");
}

static json_t *thing(const struct st_learnt_thing *l)
{
    static const char *const GRADE[] = { "nothing", "little", "much" };
    char words[400];
    json_t *o = json_pack("{s:o, s:i}", "ingredient", st_doc_text(l->name), "makings", l->batches),
           *learnt = json_array();
    for (int t = 0; t < ST_NTHETA; t++) {
        st_learnt_theta_words(words, sizeof words, l, (enum st_theta)t);
        json_array_append_new(learnt,
                              json_pack("{s:s, s:s, s:o, s:o, s:b, s:o}", "what", st_theta_key((enum st_theta)t),
                                        "learnt", GRADE[l->grade[t]], "before", band(0.0, l->prior_sd[t]), "after",
                                        band(l->mean[t], sqrt(l->cov[t * ST_NTHETA + t])), "far", l->far[t], "words",
                                        st_doc_text(words)));
    }
    json_object_set_new(o, "times_the_sheet", learnt);
    return o;
}

json_t *st_doc_batch_learnt(const struct st_batch_lessons *x)
{
    char words[600];
    json_t *batches = json_array(), *things = json_array(), *seen = json_array();
    for (int k = 0; k < x->n; k++) {
        json_array_append_new(batches, st_doc_text(x->of[k].row.code));
        for (int i = 0; i < x->of[k].n; i++) {
            const struct st_learnt_reading *r = &x->learnt.reading[k][i];
            const struct st_observation *o = &x->of[k].seen[i];
            st_seen_reading_words(words, sizeof words, x->of[k].seen, x->of[k].n, i, r);
            json_array_append_new(seen, json_pack("{s:o, s:s, s:f, s:f, s:b, s:o, s:o, s:b, s:o}", "batch",
                                                  st_doc_text(x->of[k].row.code), "kind", st_seen_info(o->what)->key,
                                                  "read", o->value, "day", o->t_s / 86400.0, "used", r->used, "before",
                                                  real(r->before), "after", real(r->after), "odd", r->odd, "words",
                                                  st_doc_text(words)));
        }
    }
    for (int i = 0; i < x->learnt.n_thing; i++)
        json_array_append_new(things, thing(&x->learnt.thing[i]));
    st_learnt_advice(words, sizeof words, &x->learnt);
    return json_pack("{s:o, s:o, s:o, s:o, s:b}", "batches", batches, "things", things, "readings", seen, "advice",
                     st_doc_text(words), "more", x->more);
}
