#ifndef ST_STORE_BACKUP_H
#define ST_STORE_BACKUP_H

#include "store/book.h"

/* Backups: whole copies of the book, looked through before they are called done.
 *
 * They lie in one folder, setting "backup_folder" ("" is "backups" beside the book; one that does not begin with / is beside
 * the book, too), and are named after the book and the moment: book.stillroom-2026-10-04T1830.backup; those that
 * the maker asked for end in .by-hand.backup, and are never removed.  now, everywhere: "2026-10-04T18:30" or longer. */

struct book_backup {
    const char *path;
    const char *moment; /* "2026-10-04T18:30", by its name */
    int64_t bytes;
    bool by_hand;
};

/* Copy the book to a file while others may write to it: what they wrote before it ends may be in it.
 *
 * Given:    path where no file is yet (one that is there is never written over: BOOK_E_REFUSED)
 * Notes:
 *   1. The file bears its name only when it is whole, looked through, and on the disk. */
enum book_status book_backup_to(struct book *b, const char *path);
/* The same into the folder, at the maker's wish; *path lent by arena. */
enum book_status book_backup_by_hand(struct book *b, const char *now, struct st_arena *arena, const char **path);

/* Is one due?  Setting "backup_days" (7; 0: never) after the newest in the folder, or, where there is none, after the
 * first deed. */
bool book_backup_due(struct book *b, const char *now);
/* Make one when it is due, then remove those beyond the newest "backup_keep" (8) that were made here.
 * Returned: *path of the new one, lent by arena; NULL when none was due, or another program made it meanwhile
 * Status:   what hindered; the book itself is as it was */
enum book_status book_backup_when_due(struct book *b, const char *now, struct st_arena *arena, const char **path);

/* Those in the folder, the newest first; *all[*n] lent by arena. */
enum book_status book_backups(struct book *b, struct st_arena *arena, struct book_backup **all, int *n);

/* Look a backup through, every page: BOOK_OK it is a whole book of a version we know.  Nothing is written.
 * Returned: *out for book_said and book_close alone, in every case */
enum book_status book_backup_check(const char *backup, struct book **out);

/* Take a backup as the book.
 *
 * Given:    path of the book, whatever is left of it; the backup's file; now
 * Returned: *out the book, open to write, for book_close in every case; after a failure it can only be asked what it said
 *           *aside where what was the book until now lies, lent by arena; NULL: there was none
 * Status:   BOOK_NONE there is no such backup; BOOK_E_DAMAGED it is not whole; BOOK_E_FOREIGN, BOOK_E_NEWER of backup or book
 * Notes:
 *   1. The backup is looked through first.  After a failure the book is as it was.
 *   2. A book that can be opened is changed as by any other deed, so another program that has it open sees it; the journal
 *      is the backup's.  One that cannot is put aside with its log, and the copy takes its place. */
enum book_status book_restore(const char *path, const char *backup, const char *now, struct st_arena *arena,
                              struct book **out, const char **aside);

#endif
