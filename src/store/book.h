#ifndef ST_STORE_BOOK_H
#define ST_STORE_BOOK_H

#include "store/tables.h"
#include "util/arena.h"

/* The notebook: one SQLite file.  Nothing is changed but inside a deed, which is one transaction and can be undone.
 * One thread a struct book; several programs may have the same file open: one writes at a time, the others wait for
 * up to five seconds. */

enum book_status {
    BOOK_OK = 0,
    BOOK_NONE = 1,         /* there is no such row, nothing to undo */
    BOOK_E_FOREIGN = -1,   /* a file, but no book of ours */
    BOOK_E_NEWER = -2,     /* of a later version of this program */
    BOOK_E_DAMAGED = -3,   /* SQLite finds the file torn */
    BOOK_E_BUSY = -4,      /* another program has been writing for five seconds */
    BOOK_E_FULL = -5,      /* no room on the disk */
    BOOK_E_READ_ONLY = -6, /* file, folder or disk may not be written to */
    BOOK_E_REFUSED = -7, /* a row that cannot be: outside the limits of its column, or naming a row that is not there */
    BOOK_E_CONFLICT = -8, /* undo: what was done later stands in the way */
    BOOK_E_SYSTEM = -9    /* cannot be opened, or an input/output error */
};

struct book;

/* What went wrong last: a clause each, for "stillroom: WHAT: WHY; TRY". Lent until the next call on the book. */
struct book_said {
    char what[400], why[400], try_[300];
};

enum book_open {
    BOOK_READ,  /* an existing book, to look at; nothing is written, not even a new schema step: a book of an earlier
                 * version is refused with BOOK_E_READ_ONLY when it cannot be brought forward */
    BOOK_WRITE, /* an existing book, or a new one where there is no file */
};

/* Open.
 *
 * Given:    path of the file; how
 * Returned: *out, for book_close in every case; after a failure only book_said may be asked of it
 * Status:   BOOK_OK, BOOK_NONE (BOOK_READ: there is no file), or what hinders
 * Notes:
 *   1. A book of an earlier version is brought forward step by step (migrate_002.sql, ...), each in a transaction of its
 *      own, after a copy beside it: PATH.before-N where N is the version it had.  A copy that is there already stays.
 *   2. A file that is not a book, is newer, or is torn is not written to.
 *   3. Write-ahead log, foreign keys on, synchronous FULL: what book_end has acknowledged survives a power cut. */
enum book_status book_open(const char *path, enum book_open how, struct book **out);
/* The same, waiting otherwise than five seconds for another writer, then and later. */
enum book_status book_open_patient(const char *path, enum book_open how, int patience_ms, struct book **out);
void book_close(struct book *b);
/* From here on, until it is closed, a book opened with BOOK_READ is read as it is now, whatever other programs write meanwhile; and
 * is quicker, since it is not locked for each row anew. */
enum book_status book_hold(struct book *b);
const struct book_said *book_said(const struct book *b);
const char *book_path(const struct book *b);

enum { BOOK_VERSION = 5 }; /* of the schema: the number of the last migrate_NNN.sql */

/* ---- deeds ---- */

/* Begin a deed: words say what the maker did, "added 500 g walnuts"; at: the moment, "2026-10-04T18:30" or longer.
 * Waits for another writer up to five seconds, then BOOK_E_BUSY. */
enum book_status book_begin(struct book *b, const char *at, const char *words);
/* Say it with other words, inside the deed: when a code in them was only given then. */
void book_reword(struct book *b, const char *words);
/* Keep it: once this returns BOOK_OK it is on the disk.  Not kept after a failure: as after book_cancel.  A deed that
 * changed nothing leaves no mark. */
enum book_status book_end(struct book *b);
void book_cancel(struct book *b);

struct book_deed {
    int64_t id, undoes, undone_by; /* BOOK_NO where there is none */
    const char *at, *words;
};
/* The deeds, newest first, at most `most`; *deeds[*n] lent by arena. */
enum book_status book_deeds(struct book *b, int most, struct st_arena *arena, struct book_deed **deeds, int *n);

/* The deed that first entered the row of this id, by the journal; INT64_MAX: the one that is open, later than all; BOOK_NONE: the
 * journal does not know.  For the order of what was entered for the same day; *deed is untouched unless BOOK_OK. */
enum book_status book_entered(struct book *b, enum book_table t, int64_t id, int64_t *deed);
/* The deed that last changed it, or entered it where none did; else the same. */
enum book_status book_changed(struct book *b, enum book_table t, int64_t id, int64_t *deed);

/* Take a deed back: a deed of its own.
 *
 * Given:    id, or BOOK_NO for the last one that stands and is not itself a taking back
 * Returned: *undone (strings lent by arena)
 * Status:   BOOK_NONE nothing to undo, no such deed, or it is undone already; BOOK_E_CONFLICT a later deed changed the same
 *           rows, or needs them: book_said names it, nothing is changed */
enum book_status book_undo(struct book *b, const char *at, int64_t id, struct st_arena *arena,
                           struct book_deed *undone);
/* Take the last taking back back. */
enum book_status book_redo(struct book *b, const char *at, struct st_arena *arena, struct book_deed *redone);

/* ---- rows ---- */

/* Write a row inside a deed: a new one when its id is BOOK_NO or 0 (*id is then what it got), else it replaces the row
 * of that id.  id may be NULL.  BOOK_NONE: no row has that id. */
enum book_status book_put(struct book *b, enum book_table t, const void *row, int64_t *id);
/* Write a new row with the id it has: for import.  It may refer to rows that come later in the same deed; book_end refuses
 * what refers to none (BOOK_E_REFUSED). */
enum book_status book_put_as(struct book *b, enum book_table t, const void *row);
/* Take a row away, inside a deed; BOOK_E_REFUSED while others refer to it. */
enum book_status book_drop(struct book *b, enum book_table t, int64_t id);

/* Read the row of this id.  *row is untouched unless BOOK_OK; texts are lent by arena. */
enum book_status book_get(struct book *b, enum book_table t, int64_t id, struct st_arena *arena, void *row);

/* Which rows: those whose column equals a value.  column NULL: all.  text: a TEXT column, else integer (BOOK_NO: those
 * where it is NULL). */
struct book_wanted {
    const char *column; /* a name of book_table_info; anything else is a mistake of ours */
    const char *text;
    int64_t integer;
    const char *order; /* a column to sort by, NULL: id */
    bool backward;     /* the largest first */
    int most;          /* 0: all */
    bool brief;        /* the long texts of tries, batches and labels (text, said, facts) are not read, and are NULL: for lists */
};
/* Read rows: *rows[*n] structs of that table, lent by arena; w NULL: all by id. */
enum book_status book_list(struct book *b, enum book_table t, const struct book_wanted *w, struct st_arena *arena,
                           void *rows, int *n);
/* How many rows w names (order and most do not matter). */
enum book_status book_count(struct book *b, enum book_table t, const struct book_wanted *w, int64_t *n);
/* The first row w names; BOOK_NONE when there is none. */
enum book_status book_find(struct book *b, enum book_table t, const struct book_wanted *w, struct st_arena *arena,
                           void *row);

/* A setting's value, lent by arena; "" when not set.  book_set: inside a deed; "" takes it away. */
enum book_status book_setting(struct book *b, const char *name, struct st_arena *arena, const char **value);
enum book_status book_set(struct book *b, const char *name, const char *value);

#endif
