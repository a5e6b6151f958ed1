#ifndef ST_CLI_BOOK_H
#define ST_CLI_BOOK_H

#include "api/book_desk.h"
#include "cli/cli.h"
#include "store/book.h"

/* What the commands of the notebook share. */

/* Open the book of --book FILE, else the usual one: $XDG_DATA_HOME/stillroom/book.stillroom, else
 * ~/.local/share/stillroom/book.stillroom, whose folders are made for BOOK_WRITE.
 * Returned: ST_EXIT_DONE and *out, for book_close; else everything was told and *out is NULL.  With BOOK_READ a book that
 * is not there yet is an exit of ST_EXIT_INPUT that says how one is begun. */
int cli_book_open(const struct cli *c, enum book_open how, struct book **out);

/* The path of that book, whether it is there or not; its folders are made for BOOK_WRITE.  An exit code. */
struct st_buf;
int cli_book_path(const struct cli *c, enum book_open how, struct st_buf *path);

/* The same to look at what there may not be yet: where the usual book is not there, *out is NULL and nothing is told.  One that
 * --book names has to be there: a slip in its name is not an empty larder. */
int cli_book_look(const struct cli *c, struct book **out);
/* The same, where a named one need not be there either. */
int cli_book_if_there(const struct cli *c, struct book **out);

/* Tell what the store refused, and the exit code of it: 2 for what the maker can put right (no such row, a value outside
 * its limits, a foreign or newer file, an undo that cannot be), 3 for disk, damage, and other programs. */
int cli_book_fail(const struct book *b, enum book_status s);

/* The day and the moment it is now where the maker lives, or those of --today DATE (for readers of old books and for
 * tests); false after a message. */
struct cli_now {
    char day[11], moment[17]; /* "2026-10-04", "2026-10-04T18:30" */
    long number;              /* of the day, as st_day_number has it */
};
bool cli_take_now(const struct cli *c, struct cli_now *now);

/* --on DATE, else today: day[11]; "yesterday" and "3 days ago" too.  A day after today is refused unless `ahead`. */
bool cli_take_day(struct cli *c, const char *option, const struct cli_now *now, bool ahead, char day[11]);
/* The same of a day that is to come, as --use-by is: "12.12." and "3 December" are the next such day. */
bool cli_take_day_to_come(struct cli *c, const char *option, const struct cli_now *now, char day[11]);

/* --- most.c --- */
#define CLI_MOST "--most"
/* How long a list may be: --most N, else as much as a person reads; 0, all, for a document.  False after a message. */
bool cli_take_most(struct cli *c, int *most);
/* So many of n. */
int cli_most_of(int n, int most);
/* "9900 more: --most 10000 shows all, and FIND finds one."; nothing where nothing is left out.  find: a command. */
void cli_and_more(int left_out, int of, const char *find);

/* --- desk.c --- */
/* A look into the book, or a change of it, through the functions of api (book_desk.h). */
struct cli_desk {
    struct st_desk desk;
    struct cli_now now;
    struct st_arena arena;
};
/* Open it.  look: there may be no book yet; desk.book is NULL then.
 * Returned: ST_EXIT_DONE, for cli_desk_close; else everything was told and there is nothing to close. */
int cli_desk_open(const struct cli *c, enum book_open how, bool look, struct cli_desk *d);
void cli_desk_close(struct cli_desk *d);
/* Tell why a function that was given it returned false; the exit code. */
int cli_desk_fail(const struct cli_desk *d);

#endif
