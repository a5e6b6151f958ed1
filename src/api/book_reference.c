#include "api/book_reference.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_batch.h"
#include "api/book_larder.h"
#include "api/doc_larder.h"
#include "model/observation.h"
#include "text/figure_words.h"
#include "text/near.h"

static const char SWEETER[] = "sweeter_than", LESS_SWEET[] = "less_sweet_than";

/* ---- what follows from what is known ---- */

/* The last reading of a kind, NULL when there is none. */
static const struct book_reading *last(const struct st_reference *r, const char *kind)
{
    for (int i = r->n_reading; i-- > 0;)
        if (!r->reading[i].doubted && strcmp(r->reading[i].kind, kind) == 0)
            return &r->reading[i];
    return NULL;
}

static double value_of(const struct st_reference *r, const char *kind)
{
    const struct book_reading *x = last(r, kind);
    return x ? x->value : (double)NAN;
}

static struct st_interval known(double x, double half)
{
    return (struct st_interval){ x, fmax(0.0, x - half), x + half, ST_OK, isfinite(x) };
}

static void by_tongue(struct st_reference *r)
{
    r->above = value_of(r, SWEETER);
    r->below = value_of(r, LESS_SWEET);
    if (r->by != ST_REFERENCE_UNKNOWN || (isnan(r->above) && isnan(r->below)))
        return;
    if (isnan(r->above) || isnan(r->below)) {
        r->by = ST_REFERENCE_ONE_SIDE;
        return;
    }
    r->by = r->above < r->below ? ST_REFERENCE_TONGUE : ST_REFERENCE_CROSSED;
    if (r->by == ST_REFERENCE_TONGUE)
        r->sugar = (struct st_interval){ 0.5 * (r->above + r->below), r->above, r->below, ST_ESTIMATED, true };
}

static void reckon(struct st_reference *r)
{
    const struct book_reading *measured = st_reading_last(r->reading, r->n_reading, ST_SEEN_STRENGTH);
    const struct book_reading *sugar = st_reading_last(r->reading, r->n_reading, ST_SEEN_SUGAR);
    const double q = measured ? measured->value : r->row.strength_pct_vol;
    const double sd = measured ? st_reading_sd(measured, ST_SEEN_STRENGTH) : (double)NAN;
    struct st_interval strength, sweet;

    r->strength = known(q, measured ? 1.96 * sd : 0.3); /* a label's 0.3 % vol, [eu_1169_2011] annex XII */
    if (sugar) {
        r->sugar = known(sugar->value, 1.96 * st_reading_sd(sugar, ST_SEEN_SUGAR));
        r->by = ST_REFERENCE_SAID;
    } else if (st_gauged(st_reading_last(r->reading, r->n_reading, ST_SEEN_SG),
                         st_reading_last(r->reading, r->n_reading, ST_SEEN_BRIX), q, sd, &strength, &sweet)) {
        r->sugar = sweet;
        if (isnan(q))
            r->strength = strength;
        r->by = ST_REFERENCE_READ;
    }
    by_tongue(r);
}

void st_reference_sugar_words(char *buf, size_t size, const struct st_reference *r)
{
    char figure[160];
    st_figure_words(figure, sizeof figure, &r->sugar, "g/L");
    switch (r->by) {
    case ST_REFERENCE_READ: snprintf(buf, size, "by readings: %s", figure); return;
    case ST_REFERENCE_SAID: snprintf(buf, size, "as known otherwise: %s", figure); return;
    case ST_REFERENCE_TONGUE:
        snprintf(buf, size,
                 "by tongue: likely between %.4g and %.4g g/L, if the samples were as strong, as sour and as cold",
                 r->above, r->below);
        return;
    case ST_REFERENCE_ONE_SIDE:
        if (isnan(r->below))
            snprintf(buf, size, "by tongue: more than %.4g g/L; taste it against a sweeter sample too", r->above);
        else
            snprintf(buf, size, "by tongue: less than %.4g g/L; taste it against a less sweet sample too", r->below);
        return;
    case ST_REFERENCE_CROSSED:
        snprintf(buf, size,
                 "the tastings do not agree: sweeter than %.4g g/L, and less sweet than %.4g g/L; taste again",
                 r->above, r->below);
        return;
    case ST_REFERENCE_UNKNOWN: break;
    }
    snprintf(buf, size, "not known: read it with hydrometer and refractometer, or taste it against two samples");
}

/* ---- reading ---- */

static bool fill(struct st_desk *d, const struct book_reference *row, struct st_reference *out)
{
    struct book_reading *reading;
    const struct book_wanted w = { .column = "reference_id", .integer = row->id, .order = "at" };

    *out = (struct st_reference){ .row = *row };
    out->above = out->below = (double)NAN;
    if (!st_desk_good(d, book_list(d->book, BOOK_READING, &w, d->arena, &reading, &out->n_reading)))
        return false;
    out->reading = reading;
    reckon(out);
    return true;
}

static bool rows_of(struct st_desk *d, struct book_reference **rows, int *n)
{
    const struct book_wanted w = { .order = "name" };
    return st_desk_good(d, book_list(d->book, BOOK_REFERENCE, &w, d->arena, rows, n));
}

bool st_references_read(struct st_desk *d, struct st_reference **out, int *n)
{
    struct book_reference *rows;

    if (!rows_of(d, &rows, n))
        return false;
    *out = st_arena_alloc(d->arena, ((size_t)*n + 1) * sizeof **out);
    for (int i = 0; i < *n; i++)
        if (!fill(d, &rows[i], &(*out)[i]))
            return false;
    return true;
}

bool st_reference_named(struct st_desk *d, const char *name, struct st_reference *out)
{
    struct book_reference *rows;
    char what[160], try_[200];
    int n;

    if (!rows_of(d, &rows, &n))
        return false;
    const char **names = st_arena_alloc(d->arena, ((size_t)n + 1) * sizeof *names);
    for (int i = 0; i < n; i++) {
        names[i] = rows[i].name;
        if (strcasecmp(rows[i].name, name) == 0)
            return fill(d, &rows[i], out);
    }
    const char *near = n ? st_near_key(name, names, (size_t)n) : NULL;
    snprintf(what, sizeof what, "\"%.100s\"", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%.100s\"", near);
    else
        snprintf(try_, sizeof try_, "\"stillroom larder reference\" lists them");
    return st_desk_refuse(d, what, "no bought bottle to compare with has this name", try_);
}

/* ---- writing ---- */

static bool put_reading(struct st_desk *d, int64_t id, struct book_reading *row)
{
    row->reference_id = id;
    row->at = d->moment;
    return st_desk_good(d, book_put(d->book, BOOK_READING, row, NULL));
}

static bool put_taste(struct st_desk *d, int64_t id, const char *kind, double x)
{
    struct book_reading row;
    if (isnan(x))
        return true;
    book_row_init(BOOK_READING, &row);
    row.kind = kind;
    row.value = x;
    return put_reading(d, id, &row);
}

static void put_facts(const struct st_reference_given *g, struct book_reference *r)
{
    if (!isnan(g->strength))
        r->strength_pct_vol = g->strength;
    if (!isnan(g->volume_ml))
        r->volume_ml = g->volume_ml;
    if (!isnan(g->price))
        r->price = g->price;
    if (g->currency)
        r->currency = g->currency;
    if (g->note)
        r->note = g->note;
}

bool st_reference_put(struct st_desk *d, const struct st_reference_given *g, struct st_reference *out, char words[400])
{
    struct book_reference *rows, row;
    struct book_reading *read = st_arena_alloc(d->arena, ((size_t)g->n_reading + 1) * sizeof *read);
    int n;

    d->status = BOOK_OK;
    if (g->name[strspn(g->name, " \t")] == '\0' || strlen(g->name) > 120)
        return st_desk_refuse(d, "the bottle", "it needs a name of 1 to 120 bytes",
                              "write for example \"the bottle from the corner shop\"");
    for (int i = 0; i < g->n_reading; i++) {
        struct st_problem p = { .what = "" };
        book_row_init(BOOK_READING, &read[i]);
        if (!st_reading_of(d, g->reading[i], &read[i]))
            return false;
        if (st_batch_reading_scale(&read[i], g->hydrometer, &p) != 0)
            return st_desk_refuse(d, p.what, p.why, p.try_);
    }
    if (!rows_of(d, &rows, &n))
        return false;
    book_row_init(BOOK_REFERENCE, &row);
    row.name = g->name;
    row.since = d->day;
    bool is_new = true;
    for (int i = 0; i < n; i++)
        if (strcasecmp(rows[i].name, g->name) == 0) {
            row = rows[i];
            is_new = false;
        }
    put_facts(g, &row);
    snprintf(words, 400, "%s \"%.150s\" to compare with", is_new ? "wrote down" : "wrote more about", row.name);
    if (!st_desk_good(d, book_begin(d->book, d->moment, words)))
        return false;
    bool good = st_desk_good(d, book_put(d->book, BOOK_REFERENCE, &row, &row.id));
    for (int i = 0; i < g->n_reading && good; i++)
        good = put_reading(d, row.id, &read[i]);
    good = good && put_taste(d, row.id, SWEETER, g->above) && put_taste(d, row.id, LESS_SWEET, g->below);
    return st_desk_end(d, good) && fill(d, &row, out);
}

/* ---- the document ---- */

static const char *by_name(enum st_reference_by by)
{
    static const char *const NAME[] = { "unknown", "readings", "said", "tongue", "one_side", "crossed" };
    return NAME[by];
}

json_t *st_doc_reference(const struct st_reference *r)
{
    char text[240];
    st_reference_sugar_words(text, sizeof text, r);
    return json_pack("{s:o, s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "name", st_doc_text(r->row.name),
                     "strength_pct_vol", st_doc_interval(&r->strength), "sugar_g_l", st_doc_interval(&r->sugar), "by",
                     by_name(r->by), "text", st_doc_text(text), "sweeter_than_g_l", st_doc_number(r->above),
                     "less_sweet_than_g_l", st_doc_number(r->below), "volume_ml", st_doc_number(r->row.volume_ml),
                     "price", st_doc_number(r->row.price), "currency", st_doc_known(r->row.currency), "since",
                     st_doc_known(r->row.since), "note", st_doc_text(r->row.note));
}
