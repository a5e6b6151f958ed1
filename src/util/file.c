#include "file.h"

#include "memory.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int error_or(int otherwise)
{
    return errno ? errno : otherwise;
}

static int read_stream(FILE *f, size_t limit, struct st_buf *out)
{
    char part[8192];
    size_t total = 0, n = 0;

    errno = 0;
    while ((n = fread(part, 1, sizeof part, f)) > 0) {
        if (n > limit - total)
            return EFBIG;
        total += n;
        st_buf_add_n(out, part, n);
    }
    return ferror(f) ? error_or(EIO) : 0;
}

int st_file_read(const char *path, size_t limit, struct st_buf *out)
{
    if (strcmp(path, "-") == 0)
        return read_stream(stdin, limit, out);

    errno = 0;
    FILE *f = fopen(path, "rb");
    if (!f)
        return error_or(EIO);
    const int failure = read_stream(f, limit, out);
    fclose(f);
    return failure;
}

static int write_stream(FILE *f, const void *bytes, size_t size)
{
    errno = 0;
    if (size && fwrite(bytes, 1, size, f) != size)
        return error_or(EIO);
    return fflush(f) == 0 ? 0 : error_or(EIO);
}

bool st_file_is_other(const char *path)
{
    struct stat st;
    return stat(path, &st) == 0 && !S_ISREG(st.st_mode) && !S_ISDIR(st.st_mode);
}

static int write_other(const char *path, const void *bytes, size_t size)
{
    errno = 0;
    FILE *f = fopen(path, "wb");
    int failure = f ? write_stream(f, bytes, size) : error_or(EIO);
    if (f && fclose(f) != 0 && !failure)
        failure = error_or(EIO);
    return failure;
}

int st_file_write(const char *path, const void *bytes, size_t size)
{
    if (strcmp(path, "-") == 0)
        return write_stream(stdout, bytes, size);
    if (st_file_is_other(path))
        return write_other(path, bytes, size);

    struct st_buf beside = { 0 };
    st_buf_printf(&beside, "%s.new-%ld", path, (long)getpid());
    errno = 0;
    FILE *f = fopen(beside.text, "wbx");
    int failure = f ? write_stream(f, bytes, size) : error_or(EIO);
    if (f && fclose(f) != 0 && !failure)
        failure = error_or(EIO);
    if (!failure && rename(beside.text, path) != 0)
        failure = error_or(EIO);
    if (f && failure)
        (void)remove(beside.text);
    st_buf_done(&beside);
    return failure;
}
