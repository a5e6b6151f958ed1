#include <string.h>
#include <strings.h>

#include "api/book_correct.h"
#include "cli/book.h"
#include "cli/correct.h"

/* `stillroom correct B14`: what the notebook knows of it. */

struct asked {
    struct st_batch_ask ask;
    const char *code, *day;
    const char *const *with;
    int n_with;
    bool *is_batch; /* or a lot: taken from the book */
    const struct st_catalogue *all;
};

/* "B9", "b9", or a code of the house's own. */
static enum book_status is_code(const struct asked *q, const char *said, bool *is)
{
    struct book_batch *all;
    int n;
    const struct book_wanted every = { .brief = true };
    const enum book_status s = book_list(q->ask.book, BOOK_BATCH, &every, q->ask.arena, &all, &n);
    *is = false;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *is = *is || strcasecmp(all[i].code, said) == 0;
    return s;
}

static enum book_status ask_book(const struct asked *q, struct st_correct_task *t, struct st_problem *p)
{
    int n = 0;
    enum book_status s = st_correct_book_batch(&q->ask, q->code, t, p);
    for (int i = 0; i < q->n_with && s == BOOK_OK && !p->what[0]; i++) {
        s = is_code(q, q->with[i], &q->is_batch[i]);
        if (s == BOOK_OK && q->is_batch[i])
            s = st_correct_book_blend(&q->ask, q->with[i], q->day, t, p);
        else if (s == BOOK_OK)
            s = st_correct_book_lot(&q->ask, q->all, q->with[i], q->day, t, &q->is_batch[i], p);
    }
    if (s == BOOK_OK && !p->what[0] && q->n_with == 0)
        s = st_correct_book_larder(&q->ask, q->all, q->day, t, &n, p);
    return s;
}

int correct_book(struct cli *c, const char *code, const char *const with[], int n, bool is_batch[],
                 const struct st_catalogue *all, struct st_correct_task *t)
{
    struct st_arena arena = { 0 };
    struct st_problem p = { .what = "" };
    struct st_catalogue *spare = NULL;
    struct cli_now now;
    struct book *b;
    int result = cli_take_now(c, &now) ? cli_book_open(c, BOOK_READ, &b) : ST_EXIT_INPUT;
    if (result != ST_EXIT_DONE)
        return result;
    const struct asked q = { .ask = { .book = b,
                                      .arena = &arena,
                                      .catalogue = cli_catalogue,
                                      .spare = &spare,
                                      .measures = c->units,
                                      .seed = c->seed,
                                      .draws = c->draws,
                                      .by_drained = true },
                             .code = code,
                             .day = now.day,
                             .with = with,
                             .n_with = n,
                             .is_batch = is_batch,
                             .all = all };
    const enum book_status s = ask_book(&q, t, &p);
    if (p.what[0]) {
        cli_error(p.what, p.why, p.try_);
        result = ST_EXIT_INPUT;
    } else if (s != BOOK_OK)
        result = cli_book_fail(b, s);
    book_close(b);
    st_catalogue_free(spare);
    st_arena_done(&arena);
    return result;
}
