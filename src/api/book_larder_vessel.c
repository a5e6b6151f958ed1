#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_larder_inside.h"
#include "text/quantity.h"

/* Jars and other vessels. */

bool st_vessel_volume(const char *name, enum st_measures measures, double *ml)
{
    struct st_amount a;
    struct st_problem none;
    size_t used;
    for (const char *at = name; (at = strpbrk(at, "0123456789")) != NULL; at += strspn(at, "0123456789.,/"))
        if (st_quantity_parse(at, strlen(at), measures, &a, &used, &none) == 0 && a.dim == ST_DIM_VOLUME &&
            a.open == ST_CLOSED && a.value > 0.0) {
            *ml = a.value;
            return true;
        }
    return false;
}

bool st_larder_vessel(struct st_desk *d, const char *name, double volume_ml, double empty_g, const char *note,
                      struct book_vessel *out, char words[400])
{
    struct book_vessel *all;
    int n;
    const struct book_wanted w = { .column = "name", .text = name };

    d->status = BOOK_OK;
    if (!*name)
        return st_desk_refuse(d, "the vessel", "it has no name", "write for example \"3 L jar\"");
    if (!st_desk_good(d, book_list(d->book, BOOK_VESSEL, &w, d->arena, &all, &n)))
        return false;
    book_row_init(BOOK_VESSEL, out);
    if (n > 0)
        *out = all[0];
    out->name = name;
    if (isnan(volume_ml) && isnan(out->volume_ml))
        (void)st_vessel_volume(name, ST_MEASURES_METRIC, &volume_ml);
    st_lot_put_number(&out->volume_ml, volume_ml);
    st_lot_put_number(&out->empty_g, empty_g);
    st_lot_put_text(&out->note, note);
    snprintf(words, 400, "%s the vessel \"%.120s\"", n ? "changed" : "added", name);
    if (!st_lot_begin(d, words))
        return false;
    return st_desk_end(d, st_desk_good(d, book_put(d->book, BOOK_VESSEL, out, &out->id)));
}
