#include "api/book_batch_lacks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_bottles.h"
#include "api/book_batch_label.h"
#include "api/doc.h"
#include "util/memory.h"

static const char *word(const json_t *o, const char *key)
{
    const char *text = json_string_value(json_object_get(o, key));
    return text ? text : "";
}

/* ---- allergens ---- */

static const json_t *facts_of(const json_t *label)
{
    return json_object_get(json_object_get(label, "label"), "facts");
}

/* "egg" of "egg: it is in it; ...". */
static size_t name_length(const json_t *fact)
{
    return strcspn(word(fact, "text"), ":");
}

static bool has_allergen(const json_t *label, const json_t *fact)
{
    const size_t n = name_length(fact);
    const json_t *x;
    size_t i;
    json_array_foreach(facts_of(label), i, x)
    {
        if (strcmp(word(x, "code"), "allergen") == 0 && name_length(x) == n &&
            strncmp(word(x, "text"), word(fact, "text"), n) == 0)
            return true;
    }
    return false;
}

static const char *allergens(const struct st_batch_ask *a, const json_t *kept, const json_t *now)
{
    const char *text = "";
    const json_t *x;
    size_t i;
    json_array_foreach(facts_of(now), i, x)
    {
        if (strcmp(word(x, "code"), "allergen") == 0 && !has_allergen(kept, x))
            text = st_arena_printf(a->arena, "%s%s%.*s", text, *text ? ", " : "", (int)name_length(x), word(x, "text"));
    }
    return text;
}

/* ---- cautions ---- */

static bool weighs(const json_t *caution)
{
    return strcmp(word(caution, "level"), "note") != 0;
}

static bool is_same(const json_t *x, const json_t *y)
{
    const char *code = word(x, "code");
    const size_t n = strcspn(word(x, "what"), " :,");
    return strcmp(code, word(y, "code")) == 0 &&
           (strcmp(code, "worst_case") != 0 ||
            (strcspn(word(y, "what"), " :,") == n && strncmp(word(x, "what"), word(y, "what"), n) == 0));
}

static bool has_caution(const json_t *label, const json_t *caution)
{
    const json_t *x;
    size_t i;
    json_array_foreach(json_object_get(label, "cautions"), i, x)
    {
        if (weighs(x) && is_same(x, caution))
            return true;
    }
    return false;
}

static const char *cautions(const struct st_batch_ask *a, const json_t *kept, const json_t *now)
{
    enum { MOST = 4 };
    const char *text = "";
    const json_t *x;
    size_t i;
    int n = 0;
    json_array_foreach(json_object_get(now, "cautions"), i, x)
    {
        if (!weighs(x) || strcmp(word(x, "code"), "left_out") == 0 || has_caution(kept, x) || n++ >= MOST)
            continue;
        text = st_arena_printf(a->arena, "%s%s%s", text, *text ? "; " : "", word(x, "what"));
    }
    return n > MOST ? st_arena_printf(a->arena, "%s; and %d more", text, n - MOST) : text;
}

/* ---- strength ---- */

static void strength(const struct book_bottling *of, const json_t *kept, const struct st_interval *now,
                     struct st_batch_lack *out)
{
    static const double SHOWN = 0.05; /* half of the last digit that stands there */
    const json_t *x = json_object_get(kept, "strength_pct_vol");
    const json_t *low = json_object_get(x, "low"), *high = json_object_get(x, "high");
    out->said = json_number_value(json_object_get(x, "value"));
    const bool is = now->known && json_is_number(low) && json_is_number(high) && !isfinite(of->strength_pct_vol);
    if (is && (now->value < json_number_value(low) - SHOWN || now->value > json_number_value(high) + SHOWN))
        out->now = *now;
}

/* ---- one bottling ---- */

static void hold(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how, const struct book_batch *batch,
                 const struct book_bottling *of, const struct st_batch_made *m, struct st_batch_lacks *out)
{
    const struct st_recipe *r = &m->file.recipe;
    const struct st_watch watch = how->watch(how->with, r);
    const struct st_batch_strength_read none = { .by = "" };
    if (!watch.books)
        return;
    const char *text =
        st_batch_label(a->arena, r, &m->out, &watch, how->books,
                       &(struct st_batch_labelled){ of->code, batch->name, batch->begun_on, (double)NAN, &none });
    json_t *kept = json_loads(of->facts, 0, NULL), *now = *text ? json_loads(text, 0, NULL) : NULL;
    struct st_batch_lack x = { .code = of->code, .batch = batch->code, .now = { .known = false } };
    if (kept && now) {
        x.allergens = allergens(a, kept, now);
        x.cautions = cautions(a, kept, now);
        strength(of, kept, &m->out.fig[ST_FIG_STRENGTH], &x);
        if (*x.allergens || *x.cautions || x.now.known)
            out->item[out->n++] = x;
    }
    json_decref(kept);
    json_decref(now);
}

static enum book_status look_at(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how,
                                const struct book_batch *batch, const struct book_bottling *of,
                                struct st_batch_lacks *out)
{
    struct st_batch_ask of_then = *a;
    const struct st_batch_moment then = st_batch_bottles_moment(of);
    of_then.until = &then;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const enum book_status s = st_batch_made(&of_then, batch, true, true, m);
    if (s == BOOK_OK && m->told)
        hold(a, how, batch, of, m, out);
    st_batch_made_done(m);
    free(m);
    return s;
}

enum book_status st_batch_lacks(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how,
                                const struct st_chain_link *batch, struct st_batch_lacks *out)
{
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id, .order = "on_day" };
    struct book_bottling *all;
    struct book_batch row;
    int n = 0;
    enum book_status s = book_list(a->book, BOOK_BOTTLING, &w, a->arena, &all, &n);
    if (s == BOOK_OK && n > 0)
        s = book_get(a->book, BOOK_BATCH, batch->id, a->arena, &row);
    for (int i = n - 1; s == BOOK_OK && i >= 0; i--) {
        const struct st_batch_moment filled = st_batch_bottles_moment(&all[i]);
        bool before = !*all[i].facts;
        if (!before)
            s = st_batch_chain_before(a, batch, &filled, &before);
        if (s != BOOK_OK || before)
            continue;
        if (out->looked == ST_BATCH_LACKS)
            out->more++;
        else if (++out->looked)
            s = look_at(a, how, &row, &all[i], out);
    }
    return s;
}

enum book_status st_batch_lacks_of(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how,
                                   const struct st_chain_link link[], int n, struct st_batch_lacks *out)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (!link[i].is_lot)
            s = st_batch_lacks(a, how, &link[i], out);
    return s;
}

/* ---- in words ---- */

const char *st_batch_lack_words(const struct st_batch_ask *a, const struct st_batch_lack *x)
{
    const char *text = "";
    if (*x->allergens)
        text = st_arena_printf(a->arena, "lacks for allergens %s", x->allergens);
    if (*x->cautions)
        text = st_arena_printf(a->arena, "%s%slacks to watch %s", text, *text ? "; " : "", x->cautions);
    if (x->now.known)
        text = st_arena_printf(a->arena, "%s%ssays %.1f %% vol, and by what is known now it is %.1f (%.1f to %.1f)",
                               text, *text ? "; " : "", x->said, x->now.value, x->now.low, x->now.high);
    return st_arena_printf(a->arena, "The label of %s (who has it: stillroom batch who %s), kept as of its day, %s",
                           x->code, x->batch, text);
}

const char *st_batch_lacks_more(const struct st_batch_ask *a, const struct st_batch_lacks *x)
{
    return x->more > 0 ? st_arena_printf(a->arena,
                                         "Not looked at: the labels of %d more bottling%s. stillroom batch show holds "
                                         "those of one batch against what is known now",
                                         x->more, x->more == 1 ? "" : "s")
                       : "";
}

static json_t *lack_json(const struct st_batch_lack *x)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "code", st_doc_text(x->code), "batch", st_doc_text(x->batch),
                     "allergens", st_doc_text(x->allergens), "cautions", st_doc_text(x->cautions),
                     "strength_said_pct_vol", x->now.known ? json_real(x->said) : json_null(), "strength_pct_vol",
                     x->now.known ? st_doc_interval(&x->now) : json_null());
}

json_t *st_doc_batch_lacks(const struct st_batch_lacks *x)
{
    json_t *list = json_array();
    for (int i = 0; i < x->n; i++)
        json_array_append_new(list, lack_json(&x->item[i]));
    return list;
}
