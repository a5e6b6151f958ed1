#ifndef ST_STORE_COPY_H
#define ST_STORE_COPY_H

#include "store/book_inside.h"
#include "util/buf.h"

/* Whole copies of files.  What bears the name that was asked for is whole and on the disk, or is not there. */

/* Copy an open book by SQLite's online backup, look the copy through, then give it its name.  A file that is there already
 * is left alone: BOOK_E_REFUSED. */
enum book_status book_copy(struct book *b, const char *to);

/* All pages of one open database into another, in small steps between which others may write; SQLite begins anew when
 * they did, and is asked for all at once after some such turns.  SQLite's code. */
int book_copy_pages(sqlite3 *from, sqlite3 *to);

/* A file as it lies, without looking for a log beside it, for sqlite3_open_v2: "file:PATH?immutable=1". */
void book_as_it_lies(const char *path, struct st_buf *uri);

/* Is this file a book, whole, and of a version we know?  Nothing is written, not even beside it.  b: who says what is
 * wrong; whole: look through every page, too. */
enum book_status book_look_through(struct book *b, const char *path, bool whole);

/* A file byte by byte, on the disk when it returns.  0, else errno; `to` must not be there yet (EEXIST). */
int book_copy_bytes(const char *from, const char *to);
/* Let the names in the folder of this path be on the disk. */
void book_sync_folder(const char *path);

#endif
