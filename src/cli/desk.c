#include "cli/book.h"

int cli_desk_open(const struct cli *c, enum book_open how, bool look, struct cli_desk *d)
{
    *d = (struct cli_desk){ .desk = { .book = NULL } };
    if (!cli_take_now(c, &d->now))
        return ST_EXIT_INPUT;
    const int code = look ? cli_book_look(c, &d->desk.book) : cli_book_open(c, how, &d->desk.book);
    d->desk.arena = &d->arena;
    d->desk.day = d->now.day;
    d->desk.moment = d->now.moment;
    d->desk.number = d->now.number;
    return code;
}

void cli_desk_close(struct cli_desk *d)
{
    if (d->desk.book)
        book_close(d->desk.book);
    st_arena_done(&d->arena);
}

int cli_desk_fail(const struct cli_desk *d)
{
    if (d->desk.status != BOOK_OK)
        return cli_book_fail(d->desk.book, d->desk.status);
    if (!d->desk.file)
        cli_error(d->desk.problem.what, d->desk.problem.why, d->desk.problem.try_);
    else
        cli_problem(d->desk.file, &d->desk.problem);
    for (int i = 0; i < d->desk.n_more; i++)
        cli_problem(d->desk.file ? d->desk.file : "the recipe", &d->desk.more[i]);
    return ST_EXIT_INPUT;
}
