#include "book_desk.h"

#include <limits.h>
#include <stdio.h>

#include "text/calendar_day.h"

bool st_desk_good(struct st_desk *d, enum book_status s)
{
    d->status = s;
    return s == BOOK_OK;
}

bool st_desk_refuse(struct st_desk *d, const char *what, const char *why, const char *try_)
{
    d->status = BOOK_OK;
    d->problem = (struct st_problem){ .at = { 0, 0 } };
    d->file = NULL;
    d->n_more = 0;
    snprintf(d->problem.what, sizeof d->problem.what, "%s", what);
    snprintf(d->problem.why, sizeof d->problem.why, "%s", why);
    snprintf(d->problem.try_, sizeof d->problem.try_, "%s", try_);
    return false;
}

long st_desk_age(const struct st_desk *d, const char *day)
{
    long number;
    return day && st_day_number(day, &number) ? d->number - number : LONG_MIN;
}

bool st_desk_end(struct st_desk *d, bool good)
{
    if (good)
        return st_desk_good(d, book_end(d->book));
    const enum book_status why = d->status;
    book_cancel(d->book);
    d->status = why;
    return false;
}
