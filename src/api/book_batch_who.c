#include "api/book_batch_who.h"

#include <stdlib.h>
#include <string.h>

#include "api/book_batch_bottles.h"

/* Room for m more behind the n there are. */
static void *grown(const struct st_batch_ask *a, const void *old, int n, int m, size_t size)
{
    void *more = st_arena_alloc(a->arena, (size_t)(n + m + 1) * size);
    if (n)
        memcpy(more, old, (size_t)n * size);
    return more;
}

static void add_before(const struct st_batch_ask *a, struct st_batch_who *out, const char *code)
{
    out->before = grown(a, out->before, out->n_before, 1, sizeof *out->before);
    out->before[out->n_before++] = code;
}

/* ---- bottles ---- */

static enum book_status add_home(const struct st_batch_ask *a, const struct book_bottling *of,
                                 const struct book_gone gone[], int m, struct st_batch_who *out)
{
    int home = 0;
    const enum book_status s = st_batch_at_home(a, of, &home);
    if (s != BOOK_OK || home <= 0)
        return s;
    int64_t back = 0;
    for (int g = 0; g < m; g++)
        back += gone[g].lot_id == BOOK_NO ? gone[g].returned : 0;
    out->home = grown(a, out->home, out->n_home, 1, sizeof *out->home);
    out->home[out->n_home++] = (struct st_batch_home){ of->code, home, back < home ? (int)back : home };
    out->at_home += home;
    return s;
}

static enum book_status add_bottling(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                     const struct book_bottling *of, struct st_batch_who *out)
{
    const struct st_batch_moment filled = st_batch_bottles_moment(of);
    const struct book_wanted w = { .column = "bottling_id", .integer = of->id };
    struct book_gone *gone;
    bool before = false;
    int m = 0;
    enum book_status s = st_batch_chain_before(a, batch, &filled, &before);
    if (s == BOOK_OK && before)
        add_before(a, out, of->code);
    if (s == BOOK_OK && !before)
        s = book_list(a->book, BOOK_GONE, &w, a->arena, &gone, &m);
    if (s == BOOK_OK && !before)
        s = add_home(a, of, gone, m, out);
    if (s != BOOK_OK || m == 0)
        return s;
    out->holder = grown(a, out->holder, out->n, m, sizeof *out->holder);
    for (int g = 0; g < m; g++)
        if (gone[g].lot_id == BOOK_NO)
            out->holder[out->n++] = (struct st_batch_holder){ gone[g], of->code, batch->code, batch->name,
                                                              gone[g].count - gone[g].returned };
    return s;
}

static enum book_status add_holders(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                    struct st_batch_who *out)
{
    struct book_bottling *all;
    int n;
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_BOTTLING, &w, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        s = add_bottling(a, batch, &all[i], out);
    return s;
}

/* ---- what somebody had as it is ---- */

static const char *known(const char *note)
{
    return note ? note : "";
}

static enum book_status add_given(const struct st_batch_ask *a, const struct st_chain_link *lot,
                                  struct st_batch_who *out)
{
    static const char *const HAD[] = { "given", "poured", "tasted" };
    struct book_lot_use *use;
    int n = 0;
    const struct book_wanted w = { .column = "lot_id", .integer = lot->id };
    const enum book_status s = book_list(a->book, BOOK_LOT_USE, &w, a->arena, &use, &n);
    if (s != BOOK_OK || n == 0)
        return s;
    out->given = grown(a, out->given, out->n_given, n, sizeof *out->given);
    for (int i = 0; i < n; i++)
        for (size_t k = 0; use[i].why && k < sizeof HAD / sizeof *HAD; k++)
            if (strcmp(use[i].why, HAD[k]) == 0)
                out->given[out->n_given++] =
                    (struct st_batch_given){ use[i].id, true,          lot->code,         lot->name,
                                             HAD[k],    use[i].on_day, known(use[i].note) };
    return s;
}

/* What was drawn off as a lot is followed as one. */
static bool is_had(const struct st_batch_ask *a, const struct book_loss *loss, const struct book_lot lot[], int n)
{
    bool is = strcmp(loss->why, "tasted") == 0 || strcmp(loss->why, "drawn") == 0;
    for (int i = 0; i < n && is; i++)
        is = !st_batch_pour_lost(a, &lot[i], loss);
    return is;
}

static enum book_status add_lost(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                 const struct book_lot lot[], int n_lot, struct st_batch_who *out)
{
    struct book_loss *loss;
    int n = 0;
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_LOSS, &w, a->arena, &loss, &n);
    if (s != BOOK_OK || n == 0)
        return s;
    out->given = grown(a, out->given, out->n_given, n, sizeof *out->given);
    for (int i = 0; i < n && s == BOOK_OK; i++) {
        const struct book_loss *l = &loss[i];
        const struct st_batch_moment then = {
            .table = BOOK_LOSS, .id = l->id, .day = l->on_day, .drawn = strcmp(l->why, "drawn") == 0
        };
        bool before = false;
        if (is_had(a, l, lot, n_lot))
            s = st_batch_chain_before(a, batch, &then, &before);
        if (s == BOOK_OK && !before && is_had(a, l, lot, n_lot))
            out->given[out->n_given++] =
                (struct st_batch_given){ l->id, false, batch->code, batch->name, l->why, l->on_day, known(l->note) };
    }
    return s;
}

static bool is_linked(const struct st_batch_who *out, int64_t lot)
{
    for (int i = 0; i < out->n_link; i++)
        if (out->link[i].is_lot && out->link[i].id == lot)
            return true;
    return false;
}

static enum book_status add_batch(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                  struct st_batch_who *out)
{
    struct book_lot *lot;
    int n = 0;
    const struct book_wanted w = { .column = "from_batch", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_LOT, &w, a->arena, &lot, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (!is_linked(out, lot[i].id))
            add_before(a, out, lot[i].code);
    if (s == BOOK_OK)
        s = add_holders(a, batch, out);
    return s == BOOK_OK ? add_lost(a, batch, lot, n, out) : s;
}

/* ---- in order ---- */

static int last_given(const void *x, const void *y)
{
    const struct st_batch_given *a = x, *c = y;
    const int day = strcmp(c->on_day, a->on_day);
    if (day || a->of_lot == c->of_lot)
        return day ? day : (a->id > c->id) - (a->id < c->id);
    return a->of_lot ? -1 : 1;
}

static int ring_first(const void *x, const void *y)
{
    const struct st_batch_holder *a = x, *c = y;
    if (!a->gone.told_on != !c->gone.told_on)
        return a->gone.told_on ? 1 : -1;
    if (a->has != c->has)
        return a->has > c->has ? -1 : 1;
    const int day = strcmp(c->gone.on_day, a->gone.on_day);
    return day ? day : (a->gone.id > c->gone.id) - (a->gone.id < c->gone.id);
}

enum book_status st_batch_who(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_batch_who *out)
{
    memset(out, 0, sizeof *out);
    enum book_status s = st_batch_chain(a, is_lot, id, &out->link, &out->n_link);
    if (s == BOOK_OK)
        s = st_batch_chain_back(a, is_lot, id, &out->back, &out->n_back);
    if (s == BOOK_OK)
        s = st_batch_chain_unclear(a, out->link, out->n_link, &out->unclear, &out->n_unclear);
    for (int i = 0; s == BOOK_OK && i < out->n_link; i++)
        s = out->link[i].is_lot ? add_given(a, &out->link[i], out) : add_batch(a, &out->link[i], out);
    if (s == BOOK_OK && out->n_given)
        qsort(out->given, (size_t)out->n_given, sizeof *out->given, last_given);
    if (s == BOOK_OK && out->n)
        qsort(out->holder, (size_t)out->n, sizeof *out->holder, ring_first);
    return s;
}
