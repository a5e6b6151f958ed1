#include "api/book_batch_agree.h"

#include <math.h>
#include <string.h>

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

static enum book_status bottled(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_left *out)
{
    struct book_bottling *b;
    int n, home = 0;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_BOTTLING, &of, a->arena, &b, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        s = st_batch_at_home(a, &b[i], &home);
        out->bottled_ml += b[i].size_ml * (double)b[i].count;
        out->bottles += (int)b[i].count;
        out->at_home += home;
    }
    return s;
}

/* Losses since a day ("" all); of those weighed only, g counts as mL: a liqueur is near 1 g/mL. */
static enum book_status lost(const struct st_batch_ask *a, const struct book_batch *batch, const char *since,
                             double *ml)
{
    struct book_loss *l;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const enum book_status s = book_list(a->book, BOOK_LOSS, &of, a->arena, &l, &n);
    *ml = 0.0;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (strcmp(l[i].on_day, since) >= 0)
            *ml += isfinite(l[i].volume_ml) ? l[i].volume_ml : isfinite(l[i].mass_g) ? l[i].mass_g : 0.0;
    return s;
}

/* The last volume that was read of the drink and is not doubted. */
static enum book_status last_volume(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, struct book_reading *out, bool *found)
{
    struct book_reading *r;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at", .backward = true };
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &r, &n);
    *found = false;
    for (int i = 0; s == BOOK_OK && i < n && !*found; i++)
        if (!r[i].doubted && strcmp(r[i].kind, ST_READ_VOLUME) == 0 &&
            (!made->whole || st_batch_of_drink(&made->file.recipe, r[i].step))) {
            *out = r[i];
            *found = true;
        }
    return s;
}

enum book_status st_batch_left(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *made, struct st_batch_left *out)
{
    struct book_reading read;
    bool found;
    char since[11] = "";
    *out = (struct st_batch_left){ .foretold_ml = (double)NAN, .low_ml = (double)NAN, .high_ml = (double)NAN };
    const struct st_foretold *f = made->told ? &made->out : NULL;
    if (f && f->fig[ST_FIG_VOLUME].known) {
        out->foretold_ml = f->fig[ST_FIG_VOLUME].value;
        out->low_ml = f->fig[ST_FIG_VOLUME].low;
        out->high_ml = f->fig[ST_FIG_VOLUME].high;
    }
    enum book_status s = last_volume(a, batch, made, &read, &found);
    if (s == BOOK_OK && found) {
        const double half = 1.96 * (isfinite(read.sd) ? read.sd : st_seen_usual_sd(ST_SEEN_LIQUOR_ML, read.value));
        out->measured = true;
        out->foretold_ml = read.value;
        out->low_ml = fmax(0.0, read.value - half);
        out->high_ml = read.value + half;
        memcpy(since, read.at, 10);
    }
    if (s == BOOK_OK)
        s = lost(a, batch, since, &out->lost_ml);
    if (s == BOOK_OK)
        s = bottled(a, batch, out);
    out->spare_ml = out->foretold_ml - out->lost_ml - out->bottled_ml;
    return s;
}
