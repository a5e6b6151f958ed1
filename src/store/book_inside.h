#ifndef ST_STORE_BOOK_INSIDE_H
#define ST_STORE_BOOK_INSIDE_H

#include <sqlite3.h>

#include "store/book.h"
#include "util/buf.h"

/* What only the files of this room share. */

enum { BOOK_APPLICATION = 0x5374726d }; /* "Strm" in the header of the file, PRAGMA application_id */
enum { BOOK_PATIENCE_MS = 5000 };       /* for another writer */

enum { BOOK_STATEMENTS = 40 /* kept; more than one use of the book needs */ };

struct book_statement {
    sqlite3_stmt *q;
    char *sql;
    size_t length;
    bool in_use;
    uint64_t last; /* when it was released, by book.clock */
};

struct book {
    sqlite3 *db;
    sqlite3_session *session; /* of the deed that is open; NULL between deeds */
    char *path;
    int patience_ms;
    char *at, *words; /* of the deed that is open */
    bool read_only;
    bool of_others;     /* a database, but of another program */
    bool log_was_there; /* beside the file, before it was opened */
    struct book_statement statement[BOOK_STATEMENTS];
    uint64_t clock;
    char *columns[BOOK_NTABLE][2]; /* of each table, as SELECT names them; [1]: the long texts left out */
    enum book_status failed;       /* of the last book_prepare that gave NULL */
    struct book_said said;
};

/* What SQLite says, as our status with words for it; what: "cannot write to the book". */
enum book_status book_fail(struct book *b, const char *what);
/* The same for an error code that did not come from b->db. */
enum book_status book_fail_code(struct book *b, int code, const char *detail, const char *what);
/* Our own words. */
__attribute__((format(printf, 4, 5))) enum book_status book_say(struct book *b, enum book_status s, const char *try_,
                                                                const char *format, ...);
/* Close the file, so that the book can only be asked what it said. */
void book_close_file(struct book *b);
/* A log that was left beside a file is folded into it when the last one closes it.  Not into one that may be damaged, or may be
 * none of ours. */
void book_leave_alone(struct book *b, bool alone);
/* Run statements without values. */
enum book_status book_run(struct book *b, const char *sql, const char *what);

/* --- statement.c --- */
/* A statement of this text, for book_release; NULL after book_fail, whose status is in b->failed. */
sqlite3_stmt *book_prepare(struct book *b, const char *sql);
void book_release(struct book *b, sqlite3_stmt *q); /* q may be NULL; what it lent is gone */
void book_forget_statements(struct book *b);
/* A value of the row a statement stands at; lent until its next step.  NULL is NULL there: when there is no memory for it, the
 * program ends, so that a text that could not be had is not taken for one that is not there. */
const char *book_column_text(sqlite3_stmt *q, int column);
const void *book_column_blob(sqlite3_stmt *q, int column, size_t *size);
/* Take the open transaction back, if there still is one. */
void book_rollback(struct book *b);

/* --- open.c --- bytes of the write-ahead log beside a file; 0 also when there is none */
int64_t book_log_bytes(const char *path);

/* --- migrate.c --- from the version the file has to BOOK_VERSION; fresh: there is nothing in it */
enum book_status book_migrate(struct book *b, bool fresh);
/* The write-ahead log for a file that has none yet, waiting as long as for a writer. */
enum book_status book_to_log(struct book *b, const char *what);

/* --- row.c --- */
/* A new row, with its id where it has one; of may be a table that is not in book_table_info. */
enum book_status book_insert(struct book *b, const struct book_table_info *of, const void *row);
/* The columns of a table for a SELECT; brief: NULL in the place of the long texts. */
void book_add_columns(struct book *b, struct st_buf *sql, const struct book_table_info *of, bool brief);
/* The row a statement stands at, whose first columns are those of the table.  row: zeros, or the row before it of the same arena,
 * whose texts it shares where they are the same. */
void book_take_row(sqlite3_stmt *q, const struct book_table_info *of, struct st_arena *arena, void *row);
/* Every row, by id, each lent until each() returns; it says whether to go on. */
enum book_status book_walk(struct book *b, const struct book_table_info *of, bool (*each)(void *arg, const void *row),
                           void *arg);

/* --- deed.c --- */
bool book_in_deed(const struct book *b);

/* --- copy.c --- an empty file that its owner alone may read (it holds names of people), where there is none yet;
 * SQLite gives its log the same rights.  When it cannot be made, opening it tells why. */
void book_make_private(const char *path);

#endif
