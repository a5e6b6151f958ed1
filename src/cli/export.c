#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "api/book_export.h"
#include "cli/book.h"
#include "cli/progress.h"
#include "util/buf.h"
#include "util/file.h"

const char cmd_export_usage[] = "stillroom export [--output FILE] [--force]\n"
                                "\n"
                                "The whole book as one JSON document, with what was done, so that undo goes on\n"
                                "after stillroom import.  For another machine, another program, or a drawer: what\n"
                                "is in it is told in docs/book-file.md.\n"
                                "\n"
                                "  --output FILE   to write a file; else it is printed\n"
                                "  --force         over a file that is there\n"
                                "\n"
                                "  stillroom export --output house.json\n";

struct asked {
    const char *output;
    bool force;
};

static int cannot(const char *name, int error)
{
    cli_error(name, strerror(error), "write it elsewhere with --output FILE");
    return ST_EXIT_SYSTEM;
}

static int failed(const struct book *b, enum book_status s, const char *name, int error)
{
    return s == BOOK_E_FULL && error ? cannot(name, error) : cli_book_fail(b, s);
}

static enum book_status write_to(struct cli_desk *d, FILE *f, int64_t *rows)
{
    struct cli_progress p;

    cli_progress_begin(&p, "written", "rows");
    errno = 0;
    const enum book_status s = st_book_export(d->desk.book, f, d->desk.moment, cli_progress_tick, &p, rows);
    cli_progress_end(&p);
    return s;
}

static int print(struct cli_desk *d)
{
    int64_t rows;
    const enum book_status s = write_to(d, stdout, &rows);
    return s == BOOK_OK ? ST_EXIT_DONE : failed(d->desk.book, s, "standard output", errno);
}

/* Written beside it first (beside: another name), so that the file is whole or as it was; a device as it is. */
static int write_beside(struct cli_desk *d, const char *path, const char *beside, int64_t *rows)
{
    const bool straight = strcmp(path, beside) == 0;
    FILE *f = fopen(beside, straight ? "wb" : "wbx");
    if (!f)
        return cannot(path, errno);
    const enum book_status s = write_to(d, f, rows);
    int error = errno, code = s == BOOK_OK ? ST_EXIT_DONE : failed(d->desk.book, s, path, error);
    if (code == ST_EXIT_DONE && fsync(fileno(f)) != 0 && !straight)
        code = cannot(path, errno);
    if (fclose(f) != 0 && code == ST_EXIT_DONE)
        code = cannot(path, errno);
    if (code == ST_EXIT_DONE && !straight && rename(beside, path) != 0)
        code = cannot(path, errno);
    if (code != ST_EXIT_DONE && !straight)
        (void)remove(beside);
    return code;
}

/* Whether it is a database: a book itself, most likely, which is not written over by a document of it. */
static bool is_book(const char *path)
{
    static const char HEAD[] = "SQLite format 3";
    char head[sizeof HEAD] = "";
    FILE *f = fopen(path, "rb");
    const bool found = f && fread(head, 1, sizeof head, f) == sizeof head && memcmp(head, HEAD, sizeof HEAD) == 0;
    if (f)
        fclose(f);
    return found;
}

static bool may_write(const struct asked *a)
{
    if (access(a->output, F_OK) != 0 || st_file_is_other(a->output))
        return true;
    if (is_book(a->output))
        cli_error(a->output, "it is a book itself", "choose another name for the document");
    else if (!a->force)
        cli_error(a->output, "there is a file of this name", "choose another name, or add --force to write over it");
    else
        return true;
    return false;
}

static int to_file(const struct cli *c, struct cli_desk *d, const struct asked *a)
{
    struct st_buf beside = { 0 };
    int64_t rows = 0;

    if (!may_write(a))
        return ST_EXIT_INPUT;
    st_buf_add(&beside, a->output);
    if (!st_file_is_other(a->output))
        st_buf_printf(&beside, ".new-%ld", (long)getpid());
    const int code = write_beside(d, a->output, st_buf_text(&beside), &rows);
    st_buf_done(&beside);
    if (code != ST_EXIT_DONE)
        return code;
    if (c->json)
        return cli_json_print(json_pack("{s:{s:o, s:I, s:o}}", "exported", "to", st_doc_text(a->output), "rows",
                                        (json_int_t)rows, "book", st_doc_text(book_path(d->desk.book))));
    printf("Written to %s: %lld rows.  stillroom import %s --book NEW makes a book of it again.\n", a->output,
           (long long)rows, a->output);
    return ST_EXIT_DONE;
}

int cmd_export(struct cli *c)
{
    static const char *const KNOWN[] = { "--output", "--force", NULL };
    struct asked a = { NULL, false };
    struct cli_desk d;
    bool bad = false;

    a.output = cli_option(c, "--output", &bad);
    a.force = cli_flag(c, "--force");
    if (bad || !cli_no_more_options(c, KNOWN))
        return ST_EXIT_INPUT;
    if (c->argc > 0) {
        cli_error(c->argv[0], "export takes no file by itself", "write --output before its name");
        return ST_EXIT_INPUT;
    }
    int code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    code = a.output && strcmp(a.output, "-") != 0 ? to_file(c, &d, &a) : print(&d);
    cli_desk_close(&d);
    return code;
}
