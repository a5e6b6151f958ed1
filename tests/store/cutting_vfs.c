#include "store/cutting_vfs.h"

#include <assert.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "util/buf.h"
#include "util/file.h"
#include "util/memory.h"

enum { SECTOR = 512, FILES = 40 };

/* ---- what the disk holds ---- */

/* Something that was done to a file and is not synced yet; bytes NULL: cut to `at` bytes. */
struct undone {
    char *bytes;
    int64_t at;
    size_t size;
};

struct on_disk {
    char *path;
    struct st_buf synced;
    bool journal; /* a log or journal: SQLite syncs its folder with its first sync */
    bool there;   /* its name is on the disk */
    bool removed; /* since, and that is not synced */
    struct undone *undone;
    size_t n;
};

static struct {
    enum cutting how;
    int64_t at, calls;
    bool happened, dead;
    struct on_disk file[FILES];
    int n;
    uint64_t random;
} disk;

static uint64_t next_random(void) /* splitmix64 */
{
    uint64_t x = disk.random += 0x9E3779B97F4A7C15u;
    x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9u;
    x = (x ^ (x >> 27)) * 0x94D049BB133111EBu;
    return x ^ (x >> 31);
}

static bool recording(void)
{
    return disk.how == CUTTING_POWER && !disk.dead;
}

/* Known since its first use: what it holds then is on the disk. */
static struct on_disk *known(const char *path)
{
    for (int i = 0; i < disk.n; i++)
        if (strcmp(disk.file[i].path, path) == 0)
            return &disk.file[i];
    assert(disk.n < FILES);
    struct on_disk *f = &disk.file[disk.n++];
    *f = (struct on_disk){ .path = x_strdup(path) };
    f->there = st_file_read(path, (size_t)1 << 30, &f->synced) == 0;
    return f;
}

static void forget_undone(struct on_disk *f)
{
    for (size_t i = 0; i < f->n; i++)
        free(f->undone[i].bytes);
    free(f->undone);
    f->undone = NULL;
    f->n = 0;
}

static void note(const char *path, const void *bytes, size_t size, int64_t at)
{
    struct on_disk *f = known(path);
    f->undone = x_realloc_array(f->undone, f->n + 1, sizeof *f->undone);
    struct undone *u = &f->undone[f->n++];
    *u = (struct undone){ .at = at, .size = size };
    if (bytes) {
        u->bytes = x_malloc(size);
        memcpy(u->bytes, bytes, size);
    }
}

/* The bytes go to their place, zeros before them where there was nothing. */
static void apply_bytes(struct st_buf *to, const char *bytes, size_t size, int64_t at)
{
    while (to->length < (size_t)at + size)
        st_buf_char(to, '\0');
    memcpy(to->text + at, bytes, size);
}

static void apply_cut(struct st_buf *to, int64_t at)
{
    if ((size_t)at < to->length)
        to->length = (size_t)at;
}

/* The folder is synced: names that are in it, and that some are not any more. */
static void names_synced(void)
{
    for (int i = 0; i < disk.n; i++) {
        disk.file[i].there = access(disk.file[i].path, F_OK) == 0;
        disk.file[i].removed = false;
    }
}

static void synced(const char *path)
{
    struct on_disk *f = known(path);
    for (size_t i = 0; i < f->n; i++)
        if (f->undone[i].bytes)
            apply_bytes(&f->synced, f->undone[i].bytes, f->undone[i].size, f->undone[i].at);
        else
            apply_cut(&f->synced, f->undone[i].at);
    forget_undone(f);
    if (f->journal && !f->there)
        names_synced();
}

static void removed(const char *path, bool at_once)
{
    struct on_disk *f = known(path);
    if (!at_once) {
        f->removed = true;
        return;
    }
    forget_undone(f);
    st_buf_clear(&f->synced);
    f->there = f->removed = false;
}

/* A file that is made anew under a name whose removal is not synced: the old bytes may be there no more. */
static void made(const char *path, bool journal)
{
    struct on_disk *f = known(path);
    if (f->removed)
        removed(path, true);
    f->journal = journal;
}

/* ---- the cut ---- */

/* Which of what is not synced reached the disk. */
enum { NOTHING, ALL, SOME, HALF_OF_THE_LAST, FROM_THE_END, WAYS };

static bool reached(int way, size_t i, size_t n)
{
    switch (way) {
    case NOTHING: return false;
    case ALL: return true;
    case HALF_OF_THE_LAST: return i + 1 < n || next_random() % 2;
    case FROM_THE_END: return i + next_random() % (n + 1) >= n;
    default: return next_random() % 2;
    }
}

static void apply_some(struct on_disk *f, size_t i, int way)
{
    const struct undone *u = &f->undone[i];
    if (!u->bytes) {
        if (reached(way, i, f->n))
            apply_cut(&f->synced, u->at);
        return;
    }
    for (size_t k = 0, part; k < u->size; k += part) {
        part = SECTOR - ((size_t)u->at + k) % SECTOR;
        if (part > u->size - k)
            part = u->size - k;
        if (reached(way, i, f->n))
            apply_bytes(&f->synced, u->bytes + k, part, u->at + (int64_t)k);
    }
}

static void settle_file(struct on_disk *f)
{
    const int way = (int)(next_random() % WAYS);
    const bool in_order = next_random() % 2;
    const size_t first = f->n ? next_random() % f->n : 0;

    for (size_t i = 0; i < f->n; i++)
        apply_some(f, in_order ? i : (first + i) % f->n, way);
    if (f->removed && next_random() % 2)
        f->there = false;
    if (!f->there && !f->removed && access(f->path, F_OK) == 0 && next_random() % 2)
        f->there = true; /* its name went to the disk by itself */
    if (!f->there) {
        unlink(f->path);
        return;
    }
    FILE *to = fopen(f->path, "wb");
    if (!to || fwrite(st_buf_text(&f->synced), 1, f->synced.length, to) != f->synced.length || fclose(to) != 0) {
        fprintf(stderr, "cutting: cannot write %s\n", f->path);
        abort();
    }
}

static void forget(void)
{
    for (int i = 0; i < disk.n; i++) {
        forget_undone(&disk.file[i]);
        st_buf_done(&disk.file[i].synced);
        free(disk.file[i].path);
    }
    disk.n = 0;
}

void cutting_begin(enum cutting how, int64_t at)
{
    forget();
    disk.how = how;
    disk.at = at;
    disk.calls = 0;
    disk.happened = disk.dead = false;
}

int64_t cutting_calls(void)
{
    return disk.calls;
}

bool cutting_happened(void)
{
    return disk.happened;
}

void cutting_settle(uint64_t seed)
{
    disk.random = seed;
    for (int i = 0; i < disk.n; i++)
        settle_file(&disk.file[i]);
}

void cutting_end(void)
{
    cutting_begin(CUTTING_NOT, 0);
}

/* Is this call the one?  writes: it changes something.  What it must return, or SQLITE_OK. */
static int ill(bool writes, int io_error)
{
    const bool counts = disk.how == CUTTING_IO || disk.how == CUTTING_IO_EVER || (disk.how != CUTTING_NOT && writes);
    if (disk.dead)
        return SQLITE_IOERR;
    if (!counts)
        return SQLITE_OK;
    const bool ever = disk.how == CUTTING_IO_EVER || disk.how == CUTTING_FULL_EVER;
    disk.calls++;
    if (disk.at == 0 || (ever ? disk.calls < disk.at : disk.calls != disk.at))
        return SQLITE_OK;
    disk.happened = true;
    disk.dead = disk.how == CUTTING_POWER;
    return disk.how == CUTTING_FULL || disk.how == CUTTING_FULL_EVER ? SQLITE_FULL : io_error;
}

/* ---- the layer ---- */

struct file {
    sqlite3_file base;
    char *path;          /* NULL: one of SQLite's own, without a name */
    sqlite3_file real[]; /* of the layer below */
};

static sqlite3_vfs layer;
static sqlite3_vfs *below;

static sqlite3_file *real(sqlite3_file *f)
{
    return ((struct file *)f)->real;
}

static const char *path_of(sqlite3_file *f)
{
    return ((struct file *)f)->path;
}

static int x_close(sqlite3_file *f)
{
    const int code = real(f)->pMethods ? real(f)->pMethods->xClose(real(f)) : SQLITE_OK;
    free(((struct file *)f)->path);
    return code;
}
static int x_read(sqlite3_file *f, void *to, int n, sqlite3_int64 at)
{
    const int code = ill(false, SQLITE_IOERR_READ);
    return code ? code : real(f)->pMethods->xRead(real(f), to, n, at);
}
static int x_write(sqlite3_file *f, const void *bytes, int n, sqlite3_int64 at)
{
    const int code = ill(true, SQLITE_IOERR_WRITE);
    /* the write that is cut was on its way: any of its sectors may have reached the disk */
    if (path_of(f) && (recording() || (disk.how == CUTTING_POWER && disk.calls == disk.at && code)))
        note(path_of(f), bytes, (size_t)n, at);
    if (code == SQLITE_FULL && n > SECTOR) /* a full disk takes a part of it */
        real(f)->pMethods->xWrite(real(f), bytes, SECTOR, at);
    return code ? code : real(f)->pMethods->xWrite(real(f), bytes, n, at);
}
static int x_truncate(sqlite3_file *f, sqlite3_int64 size)
{
    const int code = ill(true, SQLITE_IOERR_TRUNCATE);
    if (!code && path_of(f) && recording())
        note(path_of(f), NULL, 0, size);
    return code ? code : real(f)->pMethods->xTruncate(real(f), size);
}
static int x_sync(sqlite3_file *f, int flags)
{
    (void)flags;
    const int code = ill(true, SQLITE_IOERR_FSYNC);
    if (!code && path_of(f) && recording())
        synced(path_of(f));
    return code;
}
static int x_file_size(sqlite3_file *f, sqlite3_int64 *size)
{
    const int code = ill(false, SQLITE_IOERR_FSTAT);
    return code ? code : real(f)->pMethods->xFileSize(real(f), size);
}
static int x_lock(sqlite3_file *f, int how)
{
    const int code = ill(false, SQLITE_IOERR_LOCK);
    return code ? code : real(f)->pMethods->xLock(real(f), how);
}
static int x_unlock(sqlite3_file *f, int how)
{
    return real(f)->pMethods->xUnlock(real(f), how);
}
static int x_check_lock(sqlite3_file *f, int *is)
{
    return real(f)->pMethods->xCheckReservedLock(real(f), is);
}
static int x_control(sqlite3_file *f, int what, void *arg)
{
    return real(f)->pMethods->xFileControl(real(f), what, arg);
}
static int x_sector_size(sqlite3_file *f)
{
    return real(f)->pMethods->xSectorSize(real(f));
}
static int x_character(sqlite3_file *f)
{
    return real(f)->pMethods->xDeviceCharacteristics(real(f));
}
static int x_shm_map(sqlite3_file *f, int region, int size, int extend, void volatile **at)
{
    const int code = ill(false, SQLITE_IOERR_SHMMAP);
    return code ? code : real(f)->pMethods->xShmMap(real(f), region, size, extend, at);
}
static int x_shm_lock(sqlite3_file *f, int at, int n, int flags)
{
    return real(f)->pMethods->xShmLock(real(f), at, n, flags);
}
static void x_shm_barrier(sqlite3_file *f)
{
    real(f)->pMethods->xShmBarrier(real(f));
}
static int x_shm_unmap(sqlite3_file *f, int drop)
{
    return real(f)->pMethods->xShmUnmap(real(f), drop);
}

static const sqlite3_io_methods METHODS = {
    .iVersion = 2,
    .xClose = x_close,
    .xRead = x_read,
    .xWrite = x_write,
    .xTruncate = x_truncate,
    .xSync = x_sync,
    .xFileSize = x_file_size,
    .xLock = x_lock,
    .xUnlock = x_unlock,
    .xCheckReservedLock = x_check_lock,
    .xFileControl = x_control,
    .xSectorSize = x_sector_size,
    .xDeviceCharacteristics = x_character,
    .xShmMap = x_shm_map,
    .xShmLock = x_shm_lock,
    .xShmBarrier = x_shm_barrier,
    .xShmUnmap = x_shm_unmap,
};

static int x_open(sqlite3_vfs *v, const char *name, sqlite3_file *f, int flags, int *out)
{
    (void)v;
    f->pMethods = NULL;
    int code = ill(false, SQLITE_CANTOPEN);
    const bool kept = name && !(flags & SQLITE_OPEN_DELETEONCLOSE);
    if (!code && kept && recording() && (flags & SQLITE_OPEN_CREATE)) {
        if (access(name, F_OK) != 0)
            made(name, flags & (SQLITE_OPEN_WAL | SQLITE_OPEN_MAIN_JOURNAL));
        else
            known(name);
    }
    if (!code)
        code = below->xOpen(below, name, real(f), flags, out);
    if (code == SQLITE_OK) {
        ((struct file *)f)->path = kept ? x_strdup(name) : NULL;
        f->pMethods = &METHODS;
    }
    return code;
}

static int x_delete(sqlite3_vfs *v, const char *name, int sync)
{
    (void)v;
    const int code = ill(true, SQLITE_IOERR_DELETE);
    if (code)
        return code;
    const int done = below->xDelete(below, name, 0);
    if (recording()) {
        removed(name, sync != 0);
        if (sync)
            names_synced();
    }
    return done;
}

static int x_access(sqlite3_vfs *v, const char *name, int what, int *is)
{
    (void)v;
    const int code = ill(false, SQLITE_IOERR_ACCESS);
    return code ? code : below->xAccess(below, name, what, is);
}

void cutting_install(void)
{
    sqlite3_initialize();
    below = sqlite3_vfs_find("unix");
    layer = *below;
    layer.zName = "cutting";
    layer.pNext = NULL;
    layer.szOsFile = (int)sizeof(struct file) + below->szOsFile;
    layer.xOpen = x_open;
    layer.xDelete = x_delete;
    layer.xAccess = x_access;
    sqlite3_vfs_register(&layer, 1);
}
