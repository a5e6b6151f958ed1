#include "api/book_bottling_code.h"

#include <string.h>
#include <strings.h>

#include "api/book_code.h"

static const char TRY[] = "choose another, for example PLUM-2026; without --code it is %.40s-1, %.40s-2 ...";

static enum book_status refuse(struct st_problem *p, const struct book_batch *of, const char *code, const char *why)
{
    char try_[200];
    (void)snprintf(try_, sizeof try_, TRY, of->code, of->code);
    st_batch_refuse(p, why, try_, "--code \"%.40s\"", code);
    return BOOK_NONE;
}

/* B14, L7. */
static bool is_numbered(const char *code)
{
    return (*code == 'B' || *code == 'L') && code[1] && strspn(code + 1, "0123456789") == strlen(code + 1);
}

/* B14-1, and B14 is another batch than the one that is bottled, or none yet. */
static bool is_of_another(const char *code, const struct book_batch *of)
{
    const size_t n = strcspn(code, "-");
    const size_t figures = strspn(code + 1, "0123456789");
    const bool batch = *code == 'B' && figures > 0 && figures + 1 == n && code[n] == '-';
    return batch && (strlen(of->code) != n || strncasecmp(of->code, code, n) != 0);
}

/* Of all rows of a table, letter case aside; *found: there is one. */
static enum book_status bottling_has(const struct st_batch_ask *a, const char *code, bool *found)
{
    struct book_bottling *all;
    int n;
    const enum book_status s = book_list(a->book, BOOK_BOTTLING, NULL, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *found = *found || strcasecmp(all[i].code, code) == 0;
    return s;
}

static enum book_status batch_has(const struct st_batch_ask *a, const char *code, bool *found)
{
    struct book_batch *all;
    int n;
    const enum book_status s = book_list(a->book, BOOK_BATCH, NULL, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *found = *found || strcasecmp(all[i].code, code) == 0;
    return s;
}

static enum book_status lot_has(const struct st_batch_ask *a, const char *code, bool *found)
{
    struct book_lot *all;
    int n;
    const enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *found = *found || strcasecmp(all[i].code, code) == 0;
    return s;
}

enum book_status st_bottling_code(const struct st_batch_ask *a, const char *said, const struct book_batch *of,
                                  const char **code, struct st_problem *problem)
{
    bool bottling = false, batch = false, lot = false;

    *code = st_book_code(a->arena, said, problem);
    if (!*code)
        return BOOK_NONE;
    if (strspn(*code, "0123456789") == strlen(*code))
        return refuse(problem, of, *code, "figures alone are short for a batch, as 14 is for B14");
    enum book_status s = bottling_has(a, *code, &bottling);
    if (s == BOOK_OK)
        s = batch_has(a, *code, &batch);
    if (s == BOOK_OK)
        s = lot_has(a, *code, &lot);
    if (s != BOOK_OK)
        return s;
    if (bottling)
        return refuse(problem, of, *code, "another bottling has this code already");
    if (batch || lot)
        return refuse(problem, of, *code, batch ? "a batch has this code" : "a lot of the larder has this code");
    if (is_numbered(*code))
        return refuse(problem, of, *code, "it looks like the code of a batch or of a lot, and one will be called so");
    if (is_of_another(*code, of))
        return refuse(problem, of, *code, "it looks like a bottling of another batch");
    return BOOK_OK;
}
