#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_larder_inside.h"
#include "text/quantity.h"

/* Jars and other vessels. */

bool st_larder_vessel(struct st_desk *d, const char *name, double volume_ml, double empty_g, const char *note,
                      struct book_vessel *out, char words[400])
{
    struct book_vessel *all;
    struct st_amount a;
    struct st_problem none;
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
    size_t used;
    if (isnan(volume_ml) && isnan(out->volume_ml) &&
        st_quantity_parse(name, strlen(name), ST_MEASURES_METRIC, &a, &used, &none) == 0 && a.dim == ST_DIM_VOLUME)
        volume_ml = a.value;
    st_lot_put_number(&out->volume_ml, volume_ml);
    st_lot_put_number(&out->empty_g, empty_g);
    st_lot_put_text(&out->note, note);
    snprintf(words, 400, "%s the vessel \"%.120s\"", n ? "changed" : "added", name);
    if (!st_lot_begin(d, words))
        return false;
    return st_desk_end(d, st_desk_good(d, book_put(d->book, BOOK_VESSEL, out, &out->id)));
}
