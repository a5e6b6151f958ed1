#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch.h"
#include "api/book_larder_inside.h"
#include "api/book_lot_may_be.h"
#include "api/book_lot_own.h"
#include "model/observation.h"

/* Own measurements of a lot. */

static bool seen_named(const char *key, size_t n, enum st_seen *what)
{
    for (int i = 0; i < ST_NSEEN; i++) {
        const char *full = st_seen_info((enum st_seen)i)->key;
        if (strncmp(full, key, n) == 0 && (full[n] == '\0' || full[n] == '_')) {
            *what = (enum st_seen)i;
            return true;
        }
    }
    return false;
}

bool st_reading_of(struct st_desk *d, const char *said, struct book_reading *row)
{
    char what[120], why[200], *end;
    enum st_seen kind;
    const char *is = strchr(said, '=');

    snprintf(what, sizeof what, "\"%.60s\"", said);
    if (!is || !seen_named(said, (size_t)(is - said), &kind))
        return st_desk_refuse(d, what, "it is no measurement that is known",
                              "write for example brix=12.4, sg=1.043, strength=40, sugar=250, acid=8, ph=3.4");
    if (kind == ST_SEEN_SG || kind == ST_SEEN_BRIX || kind == ST_SEEN_STRENGTH || kind == ST_SEEN_SUGAR ||
        kind == ST_SEEN_ACID || kind == ST_SEEN_PH) {
        /* as of a batch: with a comma, a unit, +- and @22C */
        struct st_problem p = { .what = "" };
        return st_batch_reading(said, row, &p) == 0 || st_desk_refuse(d, p.what, p.why, p.try_);
    }
    const struct st_seen_info *info = st_seen_info(kind);
    const double x = strtod(is + 1, &end);
    if (end == is + 1 || *end || !(x >= info->low && x <= info->high)) {
        snprintf(why, sizeof why, "%s lies between %g and %g %s", info->name, info->low, info->high, info->unit);
        return st_desk_refuse(d, what, why, "write the figure with a point, for example brix=12.4");
    }
    row->kind = info->key;
    row->value = x;
    return true;
}

/* Sugar of a spirit, g/L, of which nobody needs to be asked: brandy may be rounded off with up to 35 [eu_2019_787, Annex I
 * category 5; from memory], others with less. */
static const double ROUNDED_OFF = 40.0;

void st_lot_sweet_doubt(const struct st_ingredient *in, const struct st_lot *l, char words[300])
{
    const struct book_reading *read = st_reading_last(l->reading, l->n_reading, ST_SEEN_SUGAR);
    struct st_interval strength, sugar;
    double g_l = read ? read->value : (double)NAN;

    *words = '\0';
    if (!in || in->kind != ST_KIND_SPIRIT || in->sugars.known || !isnan(l->row.sugar_g_l))
        return;
    if (!read && st_lot_gauged(l, &strength, &sugar))
        g_l = sugar.low;
    if (!(g_l > ROUNDED_OFF))
        return;
    snprintf(words, 300,
             "%.0f g/L of sugar%s in %.40s? In the EU a spirit of that name holds 35 g/L at most, most hold none "
             "[eu_2019_787]. Another lot, a slip (stillroom undo), or a liqueur? Then: stillroom larder change %.40s "
             "--sugar %.0f",
             g_l, read ? "" : " at least", in->name, l->row.code, g_l);
}

/* 40 % vol of a bag of sugar is a slip. */
static bool may_be_read(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *l,
                        const struct book_reading *row)
{
    char what[80], why[160];
    const struct st_ingredient *in = st_lot_ingredient(c, l);
    if (strcmp(row->kind, st_seen_info(ST_SEEN_STRENGTH)->key) != 0 || !(row->value > 0.0) ||
        st_lot_may_be_strong(in, l))
        return true;
    snprintf(what, sizeof what, "\"%.40s\" of %.20s", row->words, l->code);
    snprintf(why, sizeof why, "%.80s has no alcohol of its own", in->name);
    return st_desk_refuse(d, what, why,
                          "look which lot it is of; what lay in spirit is kept with \"stillroom larder spent\" or "
                          "\"made\"");
}

bool st_larder_measure(struct st_desk *d, const struct st_catalogue *c, const char *code, char *const reading[], int n,
                       const char *by, struct st_lot_told *t)
{
    struct book_reading row[ST_NSEEN];
    struct st_buf what = { 0 };
    char name[240];
    bool good = n > 0 && n <= ST_NSEEN;

    *t = (struct st_lot_told){ .n_remark = 0 };
    if (!st_larder_lot(d, code, &t->lot))
        return false;
    if (!good)
        return st_desk_refuse(d, "measure", n ? "too many at once" : "no measurement is given",
                              "write for example: stillroom larder measure L7 brix=12.4");
    for (int i = 0; i < n; i++) {
        book_row_init(BOOK_READING, &row[i]);
        row[i].lot_id = t->lot.row.id;
        row[i].at = d->moment;
        row[i].by_whom = by ? by : "";
        row[i].words = reading[i];
        if (!st_reading_of(d, reading[i], &row[i]) || !may_be_read(d, c, &t->lot.row, &row[i])) {
            st_buf_done(&what);
            return false;
        }
        st_lot_named(&what, reading[i]);
    }
    if (!st_lot_readings_may_be(d, st_lot_ingredient(c, &t->lot.row), &t->lot, row, n)) {
        st_buf_done(&what);
        return false;
    }
    st_lot_name(name, sizeof name, &t->lot.row);
    snprintf(t->words, sizeof t->words, "measured %.200s (%.40s): %.110s", name, t->lot.row.code, st_buf_text(&what));
    st_buf_done(&what);
    good = st_lot_begin(d, t->words);
    if (!good)
        return false;
    for (int i = 0; i < n && good; i++)
        good = st_desk_good(d, book_put(d->book, BOOK_READING, &row[i], NULL));
    if (!st_lot_finish(d, good, t->lot.row.code, t))
        return false;
    st_lot_gauge_doubt(&t->lot, t->remark[0]);
    t->n_remark = *t->remark[0] != '\0';
    st_lot_sweet_doubt(st_lot_ingredient(c, &t->lot.row), &t->lot, t->remark[t->n_remark]);
    t->n_remark += *t->remark[t->n_remark] != '\0';
    const struct st_batch_ask ask = { .book = d->book, .arena = d->arena };
    struct st_lot_figures f;
    if (st_lot_figures(&ask, &t->lot.row, st_lot_ingredient(c, &t->lot.row), &f) == BOOK_OK && f.odds)
        snprintf(t->remark[t->n_remark++], sizeof t->remark[0], "%s", f.odds);
    return true;
}
