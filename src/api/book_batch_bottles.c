#include "api/book_batch_bottles.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* ---- as said ---- */

/* "2 bottles of B1-1", "a bottle of B1-1": the code, and how many; NULL. */
static const char *code_said(const char *words, int64_t *count)
{
    char *end = NULL;
    words += strspn(words, " ");
    *count = isdigit((unsigned char)*words) ? strtoll(words, &end, 10) : 1;
    if (end)
        words = end;
    else if (strncasecmp(words, "a ", 2) == 0 || strncasecmp(words, "one ", 4) == 0)
        words += strcspn(words, " ");
    words += strspn(words, " ");
    if (strncasecmp(words, "bottle", 6) != 0)
        return NULL;
    words += 6 + (tolower((unsigned char)words[6]) == 's');
    words += strspn(words, " ");
    return strncasecmp(words, "of ", 3) == 0 ? words + 3 + strspn(words + 3, " ") : NULL;
}

enum book_status st_batch_bottles_said(const struct st_batch_ask *a, const char *words, bool *is,
                                       struct book_bottling *of, int64_t *count)
{
    struct book_bottling *all;
    int n;
    const char *code = code_said(words, count);
    *is = false;
    if (!code || *count < 1)
        return BOOK_OK;
    const enum book_status s = book_list(a->book, BOOK_BOTTLING, NULL, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n && !*is; i++)
        if (strcasecmp(all[i].code, code) == 0) {
            *of = all[i];
            *is = true;
        }
    return s;
}

/* ---- as a lot ---- */

struct st_batch_moment st_batch_bottles_moment(const struct book_bottling *of)
{
    return (struct st_batch_moment){ .table = BOOK_BOTTLING, .id = of->id, .day = of->on_day };
}

static enum book_status refuse_count(const struct st_batch_ask *a, const struct book_bottling *of, int64_t count,
                                     int home, struct st_problem *problem)
{
    st_batch_refuse(problem,
                    home == 0 ? "none of them is at home by the book"
                              : st_arena_printf(a->arena, "only %d of %s %s at home by the book", home, of->code,
                                                home == 1 ? "is" : "are"),
                    "\"stillroom batch left\" shows what is at home; one that came back: stillroom batch returned",
                    "%lld bottle%s of %s", (long long)count, count == 1 ? "" : "s", of->code);
    return BOOK_NONE;
}

enum book_status st_batch_bottles_pour(const struct st_batch_ask *a, const struct book_batch *from,
                                       const struct st_batch_made *made, const struct book_bottling *of, int64_t count,
                                       const char *day, struct st_batch_pour *out, struct st_problem *problem)
{
    int home = 0;
    enum book_status s = st_batch_at_home(a, of, &home);
    if (s == BOOK_OK && count > home)
        return refuse_count(a, of, count, home, problem);
    if (s == BOOK_OK && strcmp(day, of->on_day) < 0) {
        st_batch_refuse(problem, st_arena_printf(a->arena, "they were filled only on %s", of->on_day), "look at --on",
                        "%s cannot have been poured on %s", of->code, day);
        return BOOK_NONE;
    }
    if (s == BOOK_OK)
        s = st_batch_pour_row(a, from, made, of->size_ml * (double)count, day, out);
    if (s != BOOK_OK)
        return s;
    out->spare_ml = of->size_ml * (double)home;
    if (isfinite(of->strength_pct_vol)) { /* as it was written of them: a label's tolerance */
        out->lot.strength_pct_vol = of->strength_pct_vol;
        out->lot.strength_u = 0.3 / 1.96;
    }
    return BOOK_OK;
}

enum book_status st_batch_bottles_put(const struct st_batch_ask *a, struct st_batch_pour *pour,
                                      const struct book_bottling *of, int64_t count, const struct book_batch *into)
{
    struct book_gone gone;
    const enum book_status s = book_put(a->book, BOOK_LOT, &pour->lot, &pour->lot.id);
    book_row_init(BOOK_GONE, &gone);
    gone.bottling_id = of->id;
    gone.count = count;
    gone.on_day = pour->lot.since;
    gone.person = into->code;
    gone.lot_id = pour->lot.id;
    gone.note = st_arena_printf(a->arena, "poured into %s as %s", into->code, pour->lot.code);
    return s == BOOK_OK ? book_put(a->book, BOOK_GONE, &gone, NULL) : s;
}

/* ---- of a lot ---- */

enum book_status st_batch_lot_bottles(const struct st_batch_ask *a, const struct book_lot *lot, bool *is,
                                      struct book_bottling *of, struct book_gone *gone)
{
    struct book_gone *all;
    int n = 0;
    const struct book_wanted w = { .column = "lot_id", .integer = lot->id };
    enum book_status s = book_list(a->book, BOOK_GONE, &w, a->arena, &all, &n);
    *is = s == BOOK_OK && n > 0;
    if (*is && gone)
        *gone = all[0];
    if (*is && of)
        s = book_get(a->book, BOOK_BOTTLING, all[0].bottling_id, a->arena, of);
    return s;
}

enum book_status st_batch_lot_moment(const struct st_batch_ask *a, const struct book_lot *lot,
                                     struct st_batch_moment *then)
{
    struct book_bottling of;
    bool is;
    const enum book_status s = st_batch_lot_bottles(a, lot, &is, &of, NULL);
    *then = (struct st_batch_moment){ .table = BOOK_LOT, .id = lot->id, .day = lot->since };
    if (s == BOOK_OK && is)
        *then = st_batch_bottles_moment(&of);
    return s;
}

enum book_status st_batch_bottles_back(const struct st_batch_ask *a, const struct book_bottling *of, int64_t *n)
{
    struct book_gone *all;
    int m = 0;
    const struct book_wanted w = { .column = "bottling_id", .integer = of->id };
    const enum book_status s = book_list(a->book, BOOK_GONE, &w, a->arena, &all, &m);
    *n = 0;
    for (int i = 0; s == BOOK_OK && i < m; i++)
        *n += all[i].lot_id != BOOK_NO ? all[i].count : 0;
    return s;
}
