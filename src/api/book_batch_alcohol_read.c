/* Recipes of batches, read: a batch's own text and what was really made often are the same. */
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"
#include "api/book_batch_instead.h"
#include "util/memory.h"

static void done(struct st_alcohol_ledger *k)
{
    if (k->read)
        st_batch_made_done(k->read);
    free(k->read);
    k->read = NULL;
}

void st_alcohol_read_done(struct st_alcohol_ledger *k)
{
    done(k);
    st_catalogue_free(k->read_with);
    k->read_with = NULL;
}

struct st_batch_made *st_alcohol_read(struct st_alcohol_ledger *k, const char *text)
{
    if (k->read && strcmp(st_buf_text(&k->read->text), text) == 0)
        return k->read;
    struct st_batch_ask own = *k->a;
    own.spare = &k->read_with;
    done(k);
    k->read = x_calloc(1, sizeof *k->read); /* large */
    (void)st_batch_made_of(&own, text, false, k->read);
    return k->read;
}

enum book_status st_alcohol_really(struct st_alcohol_ledger *k, int at, struct st_batch_made **m)
{
    const struct book_batch *batch = &k->batch[at];
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    struct book_weighing *w;
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    int n;
    enum book_status s = book_list(k->a->book, BOOK_WEIGHING, &of, k->a->arena, &w, &n);
    if (s != BOOK_OK)
        return s;
    const int put = st_batch_text(k->a, batch->text, w, n, &text, &p);
    if (put == 0 && *batch->text)
        s = st_batch_also_took(k->a, batch->id, &text);
    if (s == BOOK_OK)
        *m = st_alcohol_read(k, put == 0 ? st_buf_text(&text) : ""); /* "": nothing that can be foretold */
    st_buf_done(&text);
    return s;
}
