#include "store/backup.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "store/copy.h"
#include "util/buf.h"
#include "util/memory.h"

static const char END[] = ".backup", BY_HAND[] = ".by-hand.backup";

/* ---- names ---- */

static const char *base_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* The folder of backups, with a slash at its end. */
static enum book_status folder_of(struct book *b, struct st_buf *out)
{
    struct st_arena arena = { 0 };
    const char *said;
    const enum book_status s = book_setting(b, "backup_folder", &arena, &said);

    if (s == BOOK_OK) {
        const char *folder = *said ? said : "backups";
        if (folder[0] != '/')
            st_buf_add_n(out, b->path, (size_t)(base_of(b->path) - b->path));
        st_buf_printf(out, "%s%s", folder, folder[strlen(folder) - 1] == '/' ? "" : "/");
    }
    st_arena_done(&arena);
    return s;
}

/* "2026-10-04T18:30..." as it stands in a name, "2026-10-04T1830"; false: it is no moment. */
static bool moment_in_name(const char *now, char out[16])
{
    static const char SHAPE[] = "0000-00-00T00:00";
    size_t n = 0;
    for (size_t i = 0; SHAPE[i]; i++) {
        if (SHAPE[i] == '0' ? now[i] < '0' || now[i] > '9' : now[i] != SHAPE[i])
            return false;
        if (SHAPE[i] != ':')
            out[n++] = now[i];
    }
    out[n] = '\0';
    return true;
}

/* Is this the name of a backup of this book?  "BASE-2026-10-04T1830.backup", with "-2" and so on after the moment where one
 * of that minute was there. */
static bool is_ours(const char *base, const char *name, char moment[17], bool *by_hand)
{
    const size_t n = strlen(base);
    char back[16], again[17];

    if (strncmp(name, base, n) != 0 || name[n] != '-' || strlen(name) < n + 1 + 15)
        return false;
    const char *m = name + n + 1;
    snprintf(again, sizeof again, "%.13s:%.2s", m, m + 13);
    if (!moment_in_name(again, back))
        return false;
    const char *end = m + 15;
    if (*end == '-')
        for (end++; *end >= '0' && *end <= '9';)
            end++;
    *by_hand = strcmp(end, BY_HAND) == 0;
    if (!*by_hand && strcmp(end, END) != 0)
        return false;
    memcpy(moment, again, sizeof again);
    return true;
}

/* ---- what there is ---- */

static int newest_first(const void *a, const void *c)
{
    const struct book_backup *x = a, *y = c;
    const int by = strcmp(y->moment, x->moment);
    if (by)
        return by;
    const size_t n = strlen(x->path), m = strlen(y->path); /* "-10" after "-9" */
    return n != m ? (n < m ? 1 : -1) : strcmp(y->path, x->path);
}

static void add_backup(const char *folder, const char *name, const char *moment, bool by_hand, struct st_arena *arena,
                       struct st_buf *all)
{
    struct stat st;
    struct book_backup x = { .path = st_arena_printf(arena, "%s%s", folder, name),
                             .moment = st_arena_strdup(arena, moment),
                             .by_hand = by_hand };
    if (stat(x.path, &st) != 0 || !S_ISREG(st.st_mode))
        return;
    x.bytes = (int64_t)st.st_size;
    st_buf_add_n(all, (const char *)&x, sizeof x);
}

enum book_status book_backups(struct book *b, struct st_arena *arena, struct book_backup **all, int *n)
{
    struct st_buf folder = { 0 }, list = { 0 };
    const enum book_status s = folder_of(b, &folder);
    DIR *d = s == BOOK_OK ? opendir(folder.text) : NULL; /* none there: no backups */
    struct dirent *e;

    while (d && (e = readdir(d)) != NULL) {
        char moment[17];
        bool by_hand;
        if (is_ours(base_of(b->path), e->d_name, moment, &by_hand))
            add_backup(folder.text, e->d_name, moment, by_hand, arena, &list);
    }
    if (d)
        closedir(d);
    if (s == BOOK_OK) {
        *n = (int)(list.length / sizeof **all);
        *all = st_arena_alloc(arena, list.length + 1);
        if (*n > 0) {
            memcpy(*all, list.text, list.length);
            qsort(*all, (size_t)*n, sizeof **all, newest_first);
        }
    }
    st_buf_done(&folder);
    st_buf_done(&list);
    return s;
}

/* ---- make ---- */

enum book_status book_backup_to(struct book *b, const char *path)
{
    return book_copy(b, path);
}

static enum book_status into_folder(struct book *b, const char *now, const char *end, struct st_arena *arena,
                                    const char **path)
{
    struct st_buf folder = { 0 };
    char moment[16], again[12] = "";
    enum book_status s = folder_of(b, &folder);

    if (s == BOOK_OK && !moment_in_name(now, moment))
        s = book_say(b, BOOK_E_REFUSED, "write it as 2026-10-04T18:30", "'%.60s' is no moment", now);
    if (s == BOOK_OK && mkdir(folder.text, 0700) != 0 && errno != EEXIST)
        s = book_say(b, errno == ENOSPC ? BOOK_E_FULL : BOOK_E_READ_ONLY, "look at the folder it is in",
                     "the folder for its backups, '%.200s', cannot be made: %.60s", folder.text, strerror(errno));
    for (int k = 2; s == BOOK_OK; k++) {
        const char *to = st_arena_printf(arena, "%s%s-%s%s%s", folder.text, base_of(b->path), moment, again, end);
        if (access(to, F_OK) != 0) {
            s = book_copy(b, to);
            if (s == BOOK_OK)
                *path = to;
            break;
        }
        snprintf(again, sizeof again, "-%d", k);
    }
    st_buf_done(&folder);
    return s;
}

enum book_status book_backup_by_hand(struct book *b, const char *now, struct st_arena *arena, const char **path)
{
    return into_folder(b, now, BY_HAND, arena, path);
}

/* ---- by the calendar ---- */

/* A setting that is a whole number, or what is usual. */
static int number_set(struct book *b, const char *name, int usual)
{
    struct st_arena arena = { 0 };
    const char *value;
    char *end = NULL;
    long x = usual;

    if (book_setting(b, name, &arena, &value) == BOOK_OK && *value) {
        x = strtol(value, &end, 10);
        if (*end || x < 0 || x > 100000)
            x = usual;
    }
    st_arena_done(&arena);
    return (int)x;
}

/* Days from one moment to another, or from the first deed (then NULL); NAN when there is none. */
static double days_since(struct book *b, const char *then, const char *now)
{
    sqlite3_stmt *q = book_prepare(b, "SELECT julianday(substr(?2, 1, 16)) - julianday(substr(coalesce(?1, "
                                      "(SELECT at FROM deed ORDER BY id LIMIT 1)), 1, 16))");
    double days = (double)NAN;
    if (!q)
        return days;
    sqlite3_bind_text(q, 1, then, -1, SQLITE_STATIC); /* NULL stays NULL */
    sqlite3_bind_text(q, 2, now, -1, SQLITE_STATIC);
    if (sqlite3_step(q) == SQLITE_ROW && sqlite3_column_type(q, 0) == SQLITE_FLOAT)
        days = sqlite3_column_double(q, 0);
    book_release(b, q);
    return days;
}

bool book_backup_due(struct book *b, const char *now)
{
    struct st_arena arena = { 0 };
    struct book_backup *all;
    const int every = number_set(b, "backup_days", 7);
    int n;
    bool due = false;

    if (every > 0 && !b->read_only && book_backups(b, &arena, &all, &n) == BOOK_OK) {
        due = days_since(b, n > 0 ? all[0].moment : NULL, now) >= every;
    }
    st_arena_done(&arena);
    return due;
}

/* Halves that a program left when it was stopped, a day ago or longer. */
static void remove_halves(struct book *b)
{
    struct st_buf folder = { 0 }, path = { 0 };
    DIR *d = folder_of(b, &folder) == BOOK_OK ? opendir(folder.text) : NULL;
    struct dirent *e;
    struct stat st;

    while (d && (e = readdir(d)) != NULL) {
        if (strncmp(e->d_name, base_of(b->path), strlen(base_of(b->path))) != 0 || !strstr(e->d_name, ".backup.half-"))
            continue;
        st_buf_clear(&path);
        st_buf_printf(&path, "%s%s", folder.text, e->d_name);
        if (stat(path.text, &st) == 0 && time(NULL) - st.st_mtime > 86400)
            unlink(path.text);
    }
    if (d)
        closedir(d);
    st_buf_done(&folder);
    st_buf_done(&path);
}

/* Those that the calendar made, beyond the newest; what cannot be removed stays. */
static void remove_old(struct book *b)
{
    struct st_arena arena = { 0 };
    struct book_backup *all;
    int left = number_set(b, "backup_keep", 8), n;

    if (left < 1)
        left = 1;
    if (book_backups(b, &arena, &all, &n) == BOOK_OK)
        for (int i = 0; i < n; i++)
            if (!all[i].by_hand && left-- <= 0)
                unlink(all[i].path);
    st_arena_done(&arena);
    remove_halves(b);
}

/* Whether another program made the one that was due. */
static bool made_meanwhile(struct book *b, const char *now)
{
    struct st_arena arena = { 0 };
    struct book_backup *all;
    int n;
    const bool made = book_backups(b, &arena, &all, &n) == BOOK_OK && n > 0 &&
                      days_since(b, all[0].moment, now) < number_set(b, "backup_days", 7);
    st_arena_done(&arena);
    return made;
}

enum book_status book_backup_when_due(struct book *b, const char *now, struct st_arena *arena, const char **path)
{
    *path = NULL;
    if (!book_backup_due(b, now))
        return BOOK_OK;
    const enum book_status s = into_folder(b, now, END, arena, path);
    if (s == BOOK_OK)
        remove_old(b);
    return s == BOOK_OK || made_meanwhile(b, now) ? BOOK_OK : s;
}

enum book_status book_backup_check(const char *backup, struct book **out)
{
    struct book *b = x_calloc(1, sizeof *b);

    *out = b;
    b->path = x_strdup(backup);
    if (access(backup, R_OK) != 0)
        return book_say(b, BOOK_NONE, "stillroom backup --list shows what there is", "there is no such backup");
    return book_look_through(b, backup, true);
}
