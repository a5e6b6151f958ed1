#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "cli/book.h"
#include "store/backup.h"
#include "store/check.h"
#include "util/buf.h"

const char cmd_backup_usage[] = "stillroom backup [FILE | FOLDER]\n"
                                "stillroom backup --list | --restore FILE | --check [FILE]\n"
                                "stillroom backup --every DAYS [--keep N] [--folder FOLDER] | --never\n"
                                "\n"
                                "A whole copy of the notebook, looked through before it is called done, while\n"
                                "others may go on writing.  Without a name it goes to the folder \"backups\" beside\n"
                                "the book, and is never removed by the program.\n"
                                "\n"
                                "  --list           the copies in the folder, newest first\n"
                                "  --restore FILE   take a copy (its name in the list will do) as the notebook;\n"
                                "                   what was there is put beside it first\n"
                                "  --check          look the notebook through, every page; with FILE: a copy\n"
                                "  --every DAYS     make one by itself after so many days (7), when something is\n"
                                "                   changed\n"
                                "  --keep N         how many of those are kept (8)\n"
                                "  --folder FOLDER  where they go\n"
                                "  --never          no more by itself\n";

enum doing { MAKE, LIST, RESTORE, CHECK, SETTLE };

struct asked {
    enum doing doing;
    const char *file; /* of make, restore, check; NULL: not said */
    const char *folder;
    int days, keep; /* -1: not said */
};

/* By the clock on the wall, whatever --today says: it stands in the names of files. */
static void clock_now(char now[20])
{
    const time_t t = time(NULL);
    struct tm tm;
    if (!localtime_r(&t, &tm) || strftime(now, 20, "%Y-%m-%dT%H:%M", &tm) == 0)
        snprintf(now, 20, "1970-01-01T00:00");
}

static json_t *backup_out(const struct book_backup *k)
{
    return json_pack("{s:o, s:o, s:I, s:b}", "file", st_doc_text(k->path), "at", st_doc_text(k->moment), "bytes",
                     (json_int_t)k->bytes, "by_hand", k->by_hand);
}

/* ---- make ---- */

static bool is_folder(const char *path)
{
    struct stat st;
    return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* In a folder it bears the name that it would have among the others. */
static const char *name_in(struct cli_desk *d, const char *folder, const char *now)
{
    const char *slash = folder[strlen(folder) - 1] == '/' ? "" : "/", *base = last_part(book_path(d->desk.book));
    return st_arena_printf(&d->arena, "%s%s%s-%.13s%.2s.by-hand.backup", folder, slash, base, now, now + 14);
}

static int make(const struct cli *c, struct cli_desk *d, const struct asked *a)
{
    const char *path = a->file;
    char now[20];
    enum book_status s;

    clock_now(now);
    if (path && is_folder(path))
        path = name_in(d, path, now);
    if (path)
        s = book_backup_to(d->desk.book, path);
    else
        s = book_backup_by_hand(d->desk.book, now, &d->arena, &path);
    if (s != BOOK_OK)
        return cli_book_fail(d->desk.book, s);
    struct stat st = { .st_size = 0 };
    (void)stat(path, &st);
    if (c->json)
        return cli_json_print(
            json_pack("{s:{s:o, s:I}}", "backup", "file", st_doc_text(path), "bytes", (json_int_t)st.st_size));
    printf("Written and looked through: %s (%lld kB).\n", path, (long long)(st.st_size + 1023) / 1024);
    return ST_EXIT_DONE;
}

/* ---- list ---- */

static int list(const struct cli *c, struct cli_desk *d)
{
    struct book_backup *all;
    int n;
    const enum book_status s = book_backups(d->desk.book, &d->arena, &all, &n);

    if (s != BOOK_OK)
        return cli_book_fail(d->desk.book, s);
    if (c->json) {
        json_t *out = json_array();
        for (int i = 0; i < n; i++)
            json_array_append_new(out, backup_out(&all[i]));
        return cli_json_print(json_pack("{s:o}", "backups", out));
    }
    if (n == 0)
        puts("There is no backup yet; stillroom backup makes one.");
    for (int i = 0; i < n; i++)
        printf("%s  %7lld kB  %-8s  %s\n", all[i].moment, (long long)(all[i].bytes + 1023) / 1024,
               all[i].by_hand ? "by hand" : "", last_part(all[i].path));
    return ST_EXIT_DONE;
}

/* ---- restore ---- */

/* A file, or the last part of one in the folder of backups; where the book itself cannot be asked, the usual folder. */
static const char *find(const char *book, const char *file, struct st_arena *arena)
{
    struct book *b = NULL;
    struct book_backup *all;
    const char *found = NULL;
    int n;

    if (access(file, F_OK) == 0 || strchr(file, '/'))
        return file;
    if (book_open(book, BOOK_READ, &b) == BOOK_OK && book_backups(b, arena, &all, &n) == BOOK_OK)
        for (int i = 0; i < n && !found; i++)
            if (strcmp(last_part(all[i].path), file) == 0)
                found = all[i].path;
    book_close(b);
    if (found)
        return found;
    const char *usual = st_arena_printf(arena, "%.*sbackups/%s", (int)(last_part(book) - book), book, file);
    return access(usual, F_OK) == 0 ? usual : file;
}

static int restore_into(const struct cli *c, const char *path, const struct asked *a)
{
    struct st_arena arena = { 0 };
    struct book *b = NULL;
    const char *aside = NULL, *from = find(path, a->file, &arena);
    char now[20];

    clock_now(now);
    const enum book_status s = book_restore(path, from, now, &arena, &b, &aside);
    int code = ST_EXIT_DONE;
    if (s != BOOK_OK)
        code = cli_book_fail(b, s);
    else if (c->json)
        code = cli_json_print(json_pack("{s:{s:o, s:o, s:o}}", "restored", "from", st_doc_text(from), "book",
                                        st_doc_text(path), "aside", aside ? st_doc_text(aside) : json_null()));
    else {
        printf("The book %s is as in %s.\n", path, from);
        if (aside)
            printf("What it was until now lies in %s.\n", aside);
    }
    book_close(b);
    st_arena_done(&arena);
    return code;
}

static int restore(const struct cli *c, const struct asked *a)
{
    struct st_buf path = { 0 };
    int code = cli_book_path(c, BOOK_WRITE, &path);
    if (code == ST_EXIT_DONE)
        code = restore_into(c, st_buf_text(&path), a);
    st_buf_done(&path);
    return code;
}

/* ---- check ---- */

static int tell_findings(const struct cli *c, const char *of, const char *const *finding, int n)
{
    json_t *all = json_array();

    for (int i = 0; i < n; i++)
        json_array_append_new(all, st_doc_text(finding[i]));
    if (c->json) {
        const int code =
            cli_json_print(json_pack("{s:o, s:b, s:o}", "checked", st_doc_text(of), "sound", n == 0, "findings", all));
        return code != ST_EXIT_DONE ? code : n ? ST_EXIT_UNMET : ST_EXIT_DONE;
    }
    json_decref(all);
    if (n == 0)
        printf("%s: looked through, every page; nothing is wrong with it.\n", of);
    for (int i = 0; i < n; i++)
        printf("%s: %s\n", of, finding[i]);
    if (n)
        puts("stillroom backup --list shows what there is to go back to; nothing was changed.");
    return n ? ST_EXIT_UNMET : ST_EXIT_DONE;
}

static int check_book(const struct cli *c, struct cli_desk *d)
{
    const char *finding[BOOK_FINDINGS];
    int n = 0;
    const enum book_status s = book_check(d->desk.book, &d->arena, finding, &n);
    return s == BOOK_OK ? tell_findings(c, book_path(d->desk.book), finding, n) : cli_book_fail(d->desk.book, s);
}

static int check_backup(const struct cli *c, const struct asked *a)
{
    struct st_buf path = { 0 };
    struct st_arena arena = { 0 };
    struct book *b = NULL;
    int code = cli_book_path(c, BOOK_READ, &path);

    if (code == ST_EXIT_DONE) {
        const char *file = find(st_buf_text(&path), a->file, &arena);
        const enum book_status s = book_backup_check(file, &b);
        code = s == BOOK_OK ? tell_findings(c, file, NULL, 0) : cli_book_fail(b, s);
        book_close(b);
    }
    st_arena_done(&arena);
    st_buf_done(&path);
    return code;
}

/* ---- settle ---- */

static enum book_status set_number(struct book *b, const char *name, int n)
{
    char text[20];
    snprintf(text, sizeof text, "%d", n);
    return n < 0 ? BOOK_OK : book_set(b, name, text);
}

static int settle(const struct cli *c, struct cli_desk *d, const struct asked *a)
{
    struct book *b = d->desk.book;
    char words[160];

    if (a->days == 0)
        snprintf(words, sizeof words, "no more backups by itself");
    else if (a->days > 0)
        snprintf(words, sizeof words, "a backup every %d days", a->days);
    else
        snprintf(words, sizeof words, "said how backups are kept");
    enum book_status s = book_begin(b, d->desk.moment, words);
    if (s == BOOK_OK)
        s = set_number(b, "backup_days", a->days);
    if (s == BOOK_OK)
        s = set_number(b, "backup_keep", a->keep);
    if (s == BOOK_OK && a->folder)
        s = book_set(b, "backup_folder", a->folder);
    if (s == BOOK_OK)
        s = book_end(b);
    else {
        const struct book_said said = *book_said(b);
        book_cancel(b);
        cli_error(said.what, said.why, said.try_);
        return ST_EXIT_INPUT;
    }
    if (s != BOOK_OK)
        return cli_book_fail(b, s);
    if (c->json)
        return cli_json_print(json_pack("{s:s}", "done", words));
    printf("Done: %s.\n", words);
    return ST_EXIT_DONE;
}

/* ---- off the command line ---- */

static bool take_whole(struct cli *c, const char *name, int low, int high, int *n)
{
    double x = 0.0;
    bool bad = false;

    if (!cli_option_number(c, name, low, high, &x, &bad))
        return !bad;
    *n = (int)x;
    if ((double)*n < x) {
        cli_error(name, "it is no whole number", "write a number such as 7");
        return false;
    }
    return !bad;
}

static void choose(struct asked *a, enum doing doing, int *ways)
{
    a->doing = doing;
    ++*ways;
}

static bool take_settings(struct cli *c, struct asked *a, int *ways)
{
    const bool never = cli_flag(c, "--never");
    bool bad = false;

    if (!take_whole(c, "--every", 1, 3650, &a->days) || !take_whole(c, "--keep", 1, 1000, &a->keep))
        return false;
    a->folder = cli_option(c, "--folder", &bad);
    if (bad)
        return false;
    if (never && a->days > 0) {
        cli_error("backup", "--every and --never do not go together", "write one of them");
        return false;
    }
    if (never)
        a->days = 0;
    if (a->days >= 0 || a->keep >= 0 || a->folder)
        choose(a, SETTLE, ways);
    return true;
}

static bool take_asked(struct cli *c, struct asked *a)
{
    static const char *const KNOWN[] = { "--list", "--restore", "--check", "--every",
                                         "--keep", "--folder",  "--never", NULL };
    int ways = 0;
    bool bad = false;

    if (cli_flag(c, "--list"))
        choose(a, LIST, &ways);
    if (cli_flag(c, "--check"))
        choose(a, CHECK, &ways);
    if ((a->file = cli_option(c, "--restore", &bad)) != NULL)
        choose(a, RESTORE, &ways);
    if (bad || !take_settings(c, a, &ways) || !cli_no_more_options(c, KNOWN))
        return false;
    if (ways > 1) {
        cli_error("backup", "these options do not go together", "do one thing at a time");
        return false;
    }
    const bool takes_file = a->doing == MAKE || a->doing == CHECK;
    if (c->argc > (takes_file ? 1 : 0)) {
        cli_error(c->argv[takes_file], "one word too many", "stillroom help backup tells what it takes");
        return false;
    }
    if (c->argc == 1)
        a->file = c->argv[0];
    return true;
}

int cmd_backup(struct cli *c)
{
    struct asked a = { .days = -1, .keep = -1 };
    struct cli_desk d;

    if (!take_asked(c, &a))
        return ST_EXIT_INPUT;
    if (a.doing == RESTORE)
        return restore(c, &a);
    if (a.doing == CHECK && a.file)
        return check_backup(c, &a);
    int code = cli_desk_open(c, BOOK_READ, false, &d); /* a backup makes no new book */
    if (code == ST_EXIT_DONE && a.doing == SETTLE) {
        cli_desk_close(&d);
        code = cli_desk_open(c, BOOK_WRITE, false, &d);
    }
    if (code != ST_EXIT_DONE)
        return code;
    code = a.doing == LIST    ? list(c, &d)
           : a.doing == CHECK ? check_book(c, &d)
           : a.doing == MAKE  ? make(c, &d, &a)
                              : settle(c, &d, &a);
    cli_desk_close(&d);
    return code;
}
