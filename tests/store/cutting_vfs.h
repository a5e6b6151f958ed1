#ifndef ST_TESTS_STORE_CUTTING_VFS_H
#define ST_TESTS_STORE_CUTTING_VFS_H

#include <stdbool.h>
#include <stdint.h>

/* A disk that loses its power, or fails: a layer below SQLite over the usual one.
 *
 * It knows, of each file, what was on the disk at its last sync, and every write since.  When the power is cut, all later
 * calls fail, as the program would be dead; what the disk then holds is what was synced, and of each write since any of its
 * sectors of 512 bytes, in any order.  A file that was never synced may be gone, one that was removed may be there again.
 * Nothing is really synced, so many runs are quick. */

enum cutting {
    CUTTING_NOT,     /* all calls go through */
    CUTTING_POWER,   /* at a call that writes, syncs, cuts short or removes a file */
    CUTTING_IO,      /* at any call: SQLITE_IOERR of its kind */
    CUTTING_FULL,    /* at a call that writes: SQLITE_FULL */
    CUTTING_IO_EVER, /* the same, and all calls of the kind after it */
    CUTTING_FULL_EVER
};

void cutting_install(void); /* becomes the usual layer */

/* Begin to count: the call number `at` (from 1) is cut.  at 0: none, only counted.  All files are taken as synced. */
void cutting_begin(enum cutting how, int64_t at);
int64_t cutting_calls(void); /* since cutting_begin, of the kind it counts */
bool cutting_happened(void);

/* After a cut of power, when all files are closed: make the files what the disk might hold; seed: which of the ways. */
void cutting_settle(uint64_t seed);
/* No more counting, no more cutting. */
void cutting_end(void);

#endif
