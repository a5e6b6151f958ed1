/* Lines of a batch begun as another that speak of lots of then: "200 mL poured L2". */
#include "cli/batch.h"

#include <math.h>
#include <string.h>

#include "api/book_batch_named.h"
#include "cli/page.h"

/* "drink 2", as batch weigh takes it; "" where no line has these words. */
static const char *place_of(struct batch *b, const struct st_recipe *r, const char *line)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (strcmp(r->step[s].line[i].text, line) == 0)
                return batch_text(b, "%s %d", r->step[s].id, i + 1);
    return "";
}

static enum book_status line_words(struct batch *b, const struct book_batch *row, const struct st_recipe *r,
                                   const struct st_batch_name *name, const char **words)
{
    struct book_lot lot;
    char left[40];
    double x = 0.0;
    enum book_status s = book_get(b->book, BOOK_LOT, name->lot_id, &b->arena, &lot);
    if (s == BOOK_OK)
        s = st_batch_lot_left(&b->ask, &lot, &x);
    if (s != BOOK_OK)
        return s;
    st_plain_figure(left, sizeof left, fmax(0.0, x), 4);
    *words = batch_text(b,
                        "\"%.80s\" is of %s (%.60s), of which %s %s are left by the book. It counts as gone in here "
                        "too, for who to ring "
                        "and for what to watch. If another lot goes in: stillroom batch weigh %s %s \"...\" --lot LOT; "
                        "if nothing does: "
                        "\"0 %s\" there, without --lot",
                        name->line, lot.code, lot.name, left, lot.dim, row->code, place_of(b, r, name->line), lot.dim);
    return BOOK_OK;
}

enum book_status batch_again_words(struct batch *b, const struct book_batch *row, const struct st_recipe *r,
                                   const char ***words, int *n)
{
    struct st_batch_name *name = NULL;
    struct book_lot *lot;
    int n_lot, n_name = 0;
    *n = 0;
    if (row->from_batch == BOOK_NO)
        return BOOK_OK;
    enum book_status s = book_list(b->book, BOOK_LOT, NULL, &b->arena, &lot, &n_lot);
    if (s == BOOK_OK)
        s = st_batch_named(&b->ask, row, 1, lot, n_lot, NULL, 0, &name, &n_name);
    *words = st_arena_alloc(&b->arena, (size_t)(n_name + 1) * sizeof **words);
    for (int i = 0; s == BOOK_OK && i < n_name; i++)
        if (name[i].sure && (s = line_words(b, row, r, &name[i], &(*words)[*n])) == BOOK_OK)
            ++*n;
    return s;
}
