/* Labels that were kept and are wrong by what is known now. */
#include "cli/batch_lacks.h"

#include "cli/cautions.h"
#include "cli/page.h"

static struct st_watch watch_of(const void *with, const struct st_recipe *r)
{
    return cli_watch(with, r);
}

bool batch_lacks_ask(const struct cli *c, struct st_batch_lacks_ask *how)
{
    *how = (struct st_batch_lacks_ask){ .watch = watch_of, .with = c, .books = cautions_books() };
    return how->books != NULL;
}

/* What a store that fails says is said by what comes next. */
static const struct st_batch_lacks *looked_for(struct batch *b, const struct st_chain_link link[], int n)
{
    struct st_batch_lacks *out = st_arena_alloc(&b->arena, sizeof *out);
    struct st_batch_lacks_ask how;
    *out = (struct st_batch_lacks){ .n = 0 };
    if (batch_lacks_ask(b->c, &how) && st_batch_lacks_of(&b->ask, &how, link, n, out) != BOOK_OK)
        out->n = 0;
    return out;
}

const struct st_batch_lacks *batch_lacks(struct batch *b, const struct book_batch *row)
{
    const struct st_chain_link own = { .id = row->id, .code = row->code, .name = row->name, .from = -1 };
    return looked_for(b, &own, 1);
}

const struct st_batch_lacks *batch_lacks_since(struct batch *b, const struct book_weighing *came)
{
    const struct st_batch_moment then = { .table = BOOK_WEIGHING,
                                          .id = came->id,
                                          .day = came->line == 0 ? came->on_day : NULL };
    struct st_chain_link *link;
    int n = 0;
    if (st_batch_chain_since(&b->ask, came->batch_id, &then, &link, &n) != BOOK_OK)
        n = 0;
    return looked_for(b, link, n);
}

void batch_lacks_print(struct batch *b, const struct st_batch_lacks *x)
{
    if (x->n > 0)
        cli_heading("Kept labels that are wrong by what is known now: they stay as they are");
    for (int i = 0; i < x->n; i++)
        cli_say(2, 4, "%s.", st_batch_lack_words(&b->ask, &x->item[i]));
    if (*st_batch_lacks_more(&b->ask, x))
        cli_say(2, 4, "%s.", st_batch_lacks_more(&b->ask, x));
}
