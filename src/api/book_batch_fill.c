#include "api/book_batch_agree.h"

#include <math.h>
#include <string.h>

#include "api/book_batch_lost.h"
#include "api/book_batch_rest.h"
#include "api/book_batch_since.h"
#include "text/figure_words.h"

enum book_status st_batch_at_home(const struct st_batch_ask *a, const struct book_bottling *b, int *n)
{
    struct book_gone *gone;
    int m;
    const struct book_wanted of = { .column = "bottling_id", .integer = b->id };
    const enum book_status s = book_list(a->book, BOOK_GONE, &of, a->arena, &gone, &m);
    *n = (int)b->count;
    for (int i = 0; s == BOOK_OK && i < m; i++)
        *n -= (int)(gone[i].count - gone[i].returned);
    return s;
}

/* How many bottles, ever, and of these at home. */
static enum book_status count_bottles(const struct st_batch_ask *a, const struct st_batch_past *past,
                                      struct st_batch_left *out)
{
    enum book_status s = BOOK_OK;
    int home = 0;
    for (int i = 0; s == BOOK_OK && i < past->n_filled; i++) {
        s = st_batch_at_home(a, &past->filled[i], &home);
        out->bottles += (int)past->filled[i].count;
        out->at_home += home;
    }
    return s;
}

/* The last volume that was read of the drink as it is now, and is not doubted. */
static enum book_status last_volume(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, const struct st_batch_past *past,
                                    struct book_reading *out, bool *found)
{
    struct book_reading *r;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &r, &n);
    *found = false;
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const struct book_weighing *by = NULL;
        bool later = false;
        if (r[i].doubted || strcmp(r[i].kind, ST_READ_VOLUME) != 0 ||
            (made->whole && !st_batch_of_drink(&made->file.recipe, r[i].step)))
            continue;
        if (a->until)
            s = st_batch_later(a, &(struct st_batch_moment){ .table = BOOK_READING, .id = r[i].id, .day = r[i].at },
                               a->until, &later);
        if (s == BOOK_OK && made->whole)
            s = st_batch_outdated(a, past, &made->file.recipe, &r[i], &by);
        if (!by && !later &&
            (!*found || strncmp(r[i].at, out->at, 10) >= 0)) { /* of one day the last that was entered */
            *out = r[i];
            *found = true;
        }
    }
    return s;
}

enum book_status st_batch_left(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *made, struct st_batch_left *out)
{
    struct book_reading read;
    struct st_batch_past past;
    bool found = false;
    *out = (struct st_batch_left){ .foretold_ml = (double)NAN, .low_ml = (double)NAN, .high_ml = (double)NAN };
    const struct st_foretold *f = made->told ? &made->out : NULL;
    if (f && f->fig[ST_FIG_VOLUME].known) {
        out->foretold_ml = f->fig[ST_FIG_VOLUME].value;
        out->low_ml = f->fig[ST_FIG_VOLUME].low;
        out->high_ml = f->fig[ST_FIG_VOLUME].high;
    }
    enum book_status s = st_batch_past(a, batch, &past);
    if (s == BOOK_OK)
        s = last_volume(a, batch, made, &past, &read, &found);
    if (s == BOOK_OK && found) {
        const double half = 1.96 * (isfinite(read.sd) ? read.sd : st_seen_usual_sd(ST_SEEN_LIQUOR_ML, read.value));
        out->measured = true;
        out->foretold_ml = read.value;
        out->low_ml = fmax(0.0, read.value - half);
        out->high_ml = read.value + half;
    }
    if (s == BOOK_OK && made->lost_in)
        st_batch_lost_out(&made->file.recipe, &past);
    if (s == BOOK_OK)
        s = st_batch_went(a, &past, found ? &read : NULL, true, &out->lost_ml, &out->bottled_ml);
    if (s == BOOK_OK)
        s = count_bottles(a, &past, out);
    const double spare = out->foretold_ml - out->lost_ml - out->bottled_ml;
    out->spare_ml = isnan(spare) ? spare : fmax(spare, 0.0);
    return s;
}

const char *st_batch_too_much(const struct st_batch_ask *a, const struct book_batch *batch,
                              const struct st_batch_left *left)
{
    const double gone = left->lost_ml + left->bottled_ml;
    char went[40], most[40];
    if (!(gone > left->high_ml * (1.0 + 1e-9)))
        return "";
    st_plain_figure(went, sizeof went, gone, 4);
    st_plain_figure(most, sizeof most, left->high_ml, 3);
    return st_arena_printf(
        a->arena,
        "By the book more went of %.40s than there was: %s mL (bottled, poured or lost), of at most "
        "%s mL by %s. A volume that this stood on was taken back or is doubted, or an amount is "
        "wrong: tell what there was on its day (stillroom batch read %.40s volume=AMOUNT --on DAY), or "
        "take back what did not go (stillroom undo --list).",
        batch->code, went, most, left->measured ? "the last volume read" : "the recipe as weighed", batch->code);
}
