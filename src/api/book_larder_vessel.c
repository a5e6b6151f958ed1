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

/* "-3 L jar" */
static bool is_below_nothing(const char *name)
{
    for (const char *at = name; (at = strpbrk(at, "0123456789")) != NULL; at += strspn(at, "0123456789.,/"))
        if (at > name && at[-1] == '-' && (at - 1 == name || at[-2] == ' '))
            return true;
    return false;
}

/* "5 gallon demijohn": a measure that is one thing here and another there. */
static bool asks_whose(const char *name, enum st_measures measures)
{
    struct st_amount a;
    struct st_problem p;
    size_t used;
    for (const char *at = name; (at = strpbrk(at, "0123456789")) != NULL; at += strspn(at, "0123456789.,/"))
        if (st_quantity_parse(at, strlen(at), measures, &a, &used, &p) > 0)
            return true;
    return false;
}

static bool refuse_whose(struct st_desk *d, const char *name)
{
    char what[160], try_[200] = "say how much it holds: --volume 5L";
    double us = (double)NAN, imperial = (double)NAN;
    snprintf(what, sizeof what, "\"%.120s\"", name);
    if (st_vessel_volume(name, ST_MEASURES_US, &us) && st_vessel_volume(name, ST_MEASURES_IMPERIAL, &imperial))
        snprintf(try_, sizeof try_, "say --units us (%.3g L) or --units imperial (%.3g L), or --volume and how much",
                 us / 1000.0, imperial / 1000.0);
    return st_desk_refuse(d, what, "whose measure it is, US or imperial, is not said, and the two are not the same",
                          try_);
}

bool st_larder_vessel(struct st_desk *d, enum st_measures measures, const char *name, double volume_ml, double empty_g,
                      const char *note, struct book_vessel *out, char words[400])
{
    struct book_vessel *all;
    int n;
    const struct book_wanted w = { .column = "name", .text = name };

    d->status = BOOK_OK;
    if (!*name)
        return st_desk_refuse(d, "the vessel", "it has no name", "write for example \"3 L jar\"");
    if (is_below_nothing(name))
        return st_desk_refuse(d, name, "no vessel holds less than nothing", "write for example \"3 L jar\"");
    if (!st_desk_good(d, book_list(d->book, BOOK_VESSEL, &w, d->arena, &all, &n)))
        return false;
    book_row_init(BOOK_VESSEL, out);
    if (n > 0)
        *out = all[0];
    out->name = name;
    if (isnan(volume_ml) && isnan(out->volume_ml) && !st_vessel_volume(name, measures, &volume_ml) &&
        asks_whose(name, measures))
        return refuse_whose(d, name);
    st_lot_put_number(&out->volume_ml, volume_ml);
    st_lot_put_number(&out->empty_g, empty_g);
    st_lot_put_text(&out->note, note);
    snprintf(words, 400, "%s the vessel \"%.120s\"", n ? "changed" : "added", name);
    if (!st_lot_begin(d, words))
        return false;
    return st_desk_end(d, st_desk_good(d, book_put(d->book, BOOK_VESSEL, out, &out->id)));
}
