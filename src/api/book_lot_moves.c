#include "api/book_lot_moves.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

static bool is_there(const struct st_lot_moves *m, int64_t batch)
{
    for (int i = 0; i < m->n; i++)
        if (m->of[i].batch == batch)
            return true;
    return false;
}

static enum book_status foretell(const struct st_batch_ask *a, struct st_lot_move *of, int when)
{
    struct book_batch batch;
    enum book_status s = book_get(a->book, BOOK_BATCH, of->batch, a->arena, &batch);
    if (s != BOOK_OK)
        return s;
    struct st_batch_made *made = x_calloc(1, sizeof *made); /* large */
    s = st_batch_made(a, &batch, true, true, made);
    of->code = batch.code;
    of->strength[when] = of->sugar[when] = (struct st_interval){ .known = false };
    if (s == BOOK_OK && made->told) {
        of->strength[when] = made->out.fig[ST_FIG_STRENGTH];
        of->sugar[when] = made->out.fig[ST_FIG_SUGAR];
    }
    st_batch_made_done(made);
    free(made);
    return s;
}

enum book_status st_lot_moves_before(const struct st_batch_ask *a, int64_t lot, struct st_lot_moves *out)
{
    const struct book_wanted of = { .column = "lot_id", .integer = lot };
    struct book_lot_use *use;
    int n = 0;
    *out = (struct st_lot_moves){ .n = 0 };
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    for (int i = n - 1; s == BOOK_OK && i >= 0; i--) {
        if (use[i].batch_id == BOOK_NO || is_there(out, use[i].batch_id))
            continue;
        if (out->n == ST_LOT_MOVES) {
            out->more++;
            continue;
        }
        out->of[out->n].batch = use[i].batch_id;
        s = foretell(a, &out->of[out->n++], 0);
    }
    return s;
}

enum book_status st_lot_moves_after(const struct st_batch_ask *a, struct st_lot_moves *m)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; s == BOOK_OK && i < m->n; i++)
        s = foretell(a, &m->of[i], 1);
    return s;
}

/* "strength 24.1 -> 26.0 % vol", where what is shown differs. */
static bool figure(const char *name, const struct st_interval x[2], int digits, const char *unit, char *buf,
                   size_t size)
{
    char was[40] = "not known", is[40] = "not known";
    if (x[0].known)
        (void)snprintf(was, sizeof was, "%.*f", digits, x[0].value);
    if (x[1].known)
        (void)snprintf(is, sizeof is, "%.*f", digits, x[1].value);
    (void)snprintf(buf, size, "%s %s -> %s %s", name, was, is, unit);
    const bool hair = x[0].known && x[1].known && fabs(x[1].value - x[0].value) < 0.5 * pow(10.0, -digits);
    return !hair && strcmp(was, is) != 0;
}

void st_lot_moves_words(const struct st_lot_moves *m, char *buf, size_t size)
{
    size_t used = 0;
    buf[0] = '\0';
    for (int i = 0; i < m->n && used < size; i++) {
        char strength[120], sugar[120];
        const bool a = figure("strength", m->of[i].strength, 1, "% vol", strength, sizeof strength);
        const bool b = figure("sugar", m->of[i].sugar, 0, "g/L", sugar, sizeof sugar);
        if (a || b)
            used += (size_t)snprintf(buf + used, size - used, "%s%.40s: %s%s%s", used ? "; " : "", m->of[i].code,
                                     a ? strength : "", a && b ? ", " : "", b ? sugar : "");
    }
    if (m->more > 0 && used < size)
        (void)snprintf(buf + used, size - used, "%snot looked at: %d use%s of it in older batches", used ? "; " : "",
                       m->more, m->more > 1 ? "s" : "");
}
