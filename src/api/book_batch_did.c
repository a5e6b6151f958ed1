#include "api/book_batch_did.h"

#include <stdlib.h>
#include <string.h>

#include "text/take_await.h"
#include "util/memory.h"

enum { MOST_ANSWERS = 64 };

/* "ID=VALUE" on a row of its own, ID without blanks. */
static int answers_in(const struct st_batch_ask *a, const char *rows, struct st_take_answer answer[])
{
    int n = 0;
    for (const char *row = rows; *row && n < MOST_ANSWERS;) {
        const size_t size = strcspn(row, "\n"), key = strcspn(row, "= \n");
        if (key > 0 && row[key] == '=')
            answer[n++] = (struct st_take_answer){ st_arena_strndup(a->arena, row, key),
                                                   st_arena_strndup(a->arena, row + key + 1, size - key - 1) };
        row += size + (row[size] == '\n');
    }
    return n;
}

int st_batch_did(const struct st_batch_ask *a, const char *said, const char *answers, struct st_catalogue **catalogue,
                 struct st_take *out, struct st_problem *problem)
{
    struct st_take_answer answer[MOST_ANSWERS];
    struct st_take_given given = { .measures = a->measures };
    memset(out, 0, sizeof *out);
    *catalogue = a->catalogue();
    if (!*catalogue)
        return st_batch_refuse(problem, "the list of ingredients cannot be read", "build the program again",
                               "your words cannot be read");
    given.answer = answer;
    given.n_answer = answers_in(a, answers, answer);
    return st_take_text(said, strlen(said), *catalogue, &given, out, problem);
}

bool st_batch_did_waits(const struct st_batch_ask *a, const struct book_batch *batch, struct st_problem *why)
{
    struct st_catalogue *c = NULL;
    struct st_problem p = { .what = "" };

    if (!*batch->said)
        return false;
    struct st_take *t = x_calloc(1, sizeof *t); /* large */
    const bool waits = st_batch_did(a, batch->said, batch->note, &c, t, &p) >= 0 && st_take_await_problem(t, why);
    st_take_done(t);
    free(t);
    st_catalogue_free(c);
    return waits;
}

int st_batch_open(const struct st_take *t)
{
    int n = 0;
    for (int i = 0; i < t->n_question; i++)
        n += !t->question[i].answered;
    return n;
}
