#include "api/book_lot_called.h"

#include <string.h>
#include <strings.h>

#include "text/quantity.h"

bool st_lot_said(const struct book_lot *lot, const char *said, bool *bare)
{
    said += strspn(said, " ");
    if (strncmp(said, "of ", 3) == 0)
        said += 3;
    size_t n = strlen(lot->name);
    if (n == 0 || strncasecmp(said, lot->name, n) != 0)
        n = strncasecmp(said, lot->code, strlen(lot->code)) == 0 ? strlen(lot->code) : 0;
    const char *rest = said + n + strspn(said + n, " (");
    if (n && strncasecmp(rest, lot->code, strlen(lot->code)) == 0)
        rest += strlen(lot->code);
    *bare = n == 0;
    return rest[strspn(rest, " 0123456789.,%)")] == '\0' && (n > 0 || *said == '\0');
}

enum book_status st_lot_called(const struct st_batch_ask *a, const char *words, struct book_lot *lot, int *n,
                               const char **codes)
{
    enum { TOLD = 4 };
    struct book_lot *all;
    struct st_amount x;
    struct st_problem why;
    size_t used;
    int m = 0;
    bool bare;
    const struct book_wanted open = { .order = "id" };
    *n = 0;
    *codes = "";
    if (st_quantity_parse(words, strlen(words), a->measures, &x, &used, &why) != 0)
        return BOOK_OK;
    const enum book_status s = book_list(a->book, BOOK_LOT, &open, a->arena, &all, &m);
    for (int i = 0; s == BOOK_OK && i < m; i++) {
        if (all[i].ended_on || !st_lot_said(&all[i], words + used, &bare) || bare)
            continue;
        if ((*n)++ == 0)
            *lot = all[i];
        if (*n <= TOLD)
            *codes = st_arena_printf(a->arena, "%s%s%.40s", *codes, **codes ? ", " : "", all[i].code);
    }
    return s;
}
