#ifndef ST_UTIL_FILE_H
#define ST_UTIL_FILE_H

#include "buf.h"

#include <stdbool.h>
#include <stddef.h>

/* Read a whole file, or standard input when path is "-".
 *
 * Given:
 *   path    file to read
 *   limit   most bytes accepted
 *   *out    the bytes are appended to it
 * Returned:
 *   0 done; otherwise an errno value: ENOENT ..., EISDIR for a folder, EFBIG for more than limit bytes.
 *   After a failure out may hold a part of the file.
 */
int st_file_read(const char *path, size_t limit, struct st_buf *out);

/* Whether there is something at path that is neither file nor folder: a device, a pipe.  A rename would put a file in its
 * place. */
bool st_file_is_other(const char *path);

/* Write bytes to a file so that it is whole or untouched: a new file beside it, then a rename.
 * Standard output when path is "-"; devices and pipes are written to as they are.  0 done, otherwise an errno value. */
int st_file_write(const char *path, const void *bytes, size_t size);

#endif
