#ifndef ST_API_BOOK_DESK_H
#define ST_API_BOOK_DESK_H

#include "model/problem.h"
#include "store/book.h"

/* What every look into the notebook and every change of it needs.  A function that is given one returns false when it
 * could not: then the store refused and book_said tells why (status is not BOOK_OK), or the maker can put right what
 * `problem` says. */
struct st_desk {
    struct book *book;
    struct st_arena *arena;   /* rows and words that are handed out live in it */
    const char *day, *moment; /* now, where the maker lives: "2026-10-04", "2026-10-04T18:30" */
    long number;              /* of the day (calendar_day.h) */
    enum book_status status;
    struct st_problem problem;
    const char *file;              /* in which `problem` has its place, NULL: in none */
    const struct st_problem *more; /* what else is wrong there, lent by arena */
    int n_more;
};

/* Keep what the store said; whether it was good. */
bool st_desk_good(struct st_desk *d, enum book_status s);
/* The maker's to put right; false. */
bool st_desk_refuse(struct st_desk *d, const char *what, const char *why, const char *try_);

/* Days from a day to today, LONG_MIN when it is no day or not known (NULL). */
long st_desk_age(const struct st_desk *d, const char *day);

/* End a deed that was begun: kept when good, else cancelled.  Whether it is kept. */
bool st_desk_end(struct st_desk *d, bool good);

#endif
