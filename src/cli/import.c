#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "api/book_import.h"
#include "cli/book.h"
#include "cli/page.h"
#include "cli/progress.h"
#include "util/buf.h"

const char cmd_import_usage[] = "stillroom import FILE|- [--into new|empty]\n"
                                "\n"
                                "A document that stillroom export wrote, or the demonstration book, into a new\n"
                                "book or one with nothing in it.  Every value is looked at first; what does not\n"
                                "fit is told with its place, and then nothing is written.  All is written, or\n"
                                "nothing.\n"
                                "\n"
                                "  --into new      only where there is no book yet\n"
                                "  --into empty    only into a book that is there and has nothing in it\n"
                                "\n"
                                "  stillroom import house.json --book new.stillroom\n"
                                "  stillroom import examples/book/small_house.json --book /tmp/try.stillroom\n";

enum into { EITHER, NEW, EMPTY };

struct asked {
    const char *file, *name; /* name: for messages */
    enum into into;
};

/* ---- the file ---- */

static FILE *cannot_read(const char *name, int error)
{
    cli_error(name, error == ENOENT ? "there is no such file" : strerror(error), "look at the name and its folder");
    return NULL;
}

/* What can be read only once goes into a file without a name first. */
static FILE *copied(FILE *from, const char *name)
{
    char part[16384];
    size_t n;
    FILE *to = tmpfile();

    errno = 0;
    while (to && (n = fread(part, 1, sizeof part, from)) > 0 && fwrite(part, 1, n, to) == n)
        continue;
    if (to && !ferror(from) && fflush(to) == 0 && !ferror(to))
        return to;
    if (to)
        fclose(to);
    return cannot_read(name, errno ? errno : EIO);
}

static FILE *open_file(const struct asked *a, int *code)
{
    struct stat st;
    FILE *f = strcmp(a->file, "-") == 0 ? stdin : fopen(a->file, "rb"), *whole = f;

    *code = ST_EXIT_INPUT;
    if (!f)
        return cannot_read(a->name, errno);
    if (fstat(fileno(f), &st) == 0 && S_ISDIR(st.st_mode))
        whole = cannot_read(a->name, EISDIR);
    else if (f == stdin || fseek(f, 0, SEEK_SET) != 0) {
        *code = ST_EXIT_SYSTEM;
        whole = copied(f, a->name);
    }
    if (whole != f && f != stdin)
        fclose(f);
    return whole;
}

/* ---- problems ---- */

static int tell(const struct asked *a, const struct st_row_problems *p)
{
    const int kept = p->n < ST_ROW_PROBLEMS ? p->n : ST_ROW_PROBLEMS;

    for (int i = 0; i < kept; i++)
        cli_problem(a->name, &p->problem[i]);
    if (p->n >= ST_ROW_PROBLEMS)
        cli_error(a->name, "there may be more; these are the first", "put them right, and import it again");
    return ST_EXIT_INPUT;
}

/* ---- the book ---- */

static int told_into(const struct book *b, enum into into)
{
    if (into == NEW)
        cli_error(book_path(b), "there is a book already", "name a file that is not there yet with --book");
    else
        cli_error(book_path(b), "there is no book yet", "leave --into empty out");
    return ST_EXIT_INPUT;
}

/* A book that this command made is taken away again when nothing came of it. */
static void take_away(const char *path)
{
    static const char *const PART[] = { "", "-wal", "-shm" };
    for (size_t i = 0; i < sizeof PART / sizeof *PART; i++) {
        struct st_buf name = { 0 };
        st_buf_printf(&name, "%s%s", path, PART[i]);
        (void)unlink(st_buf_text(&name));
        st_buf_done(&name);
    }
}

/* "213 amounts taken": the rows of a table as people call them. */
static void add_rows(const char *table, int64_t n, struct st_buf *out)
{
    static const char *const MANY[][3] = {
        { "lot_use", "amount taken", "amounts taken" },
        { "lot_of", "lot that another is made of", "lots that others are made of" },
        { "try", "try", "tries" },
        { "batch", "batch", "batches" },
        { "loss", "loss", "losses" },
        { "gone", "bottle gone", "bottles gone" },
        { "foreseen", "figure foreseen", "figures foreseen" },
        { "reference", "bought bottle", "bought bottles" },
    };
    const char *word = table, *end = n == 1 ? "" : "s";
    for (size_t i = 0; i < sizeof MANY / sizeof *MANY; i++)
        if (strcmp(MANY[i][0], table) == 0) {
            word = MANY[i][n == 1 ? 1 : 2];
            end = "";
        }
    st_buf_printf(out, "%s%lld %s%s", out->length ? ", " : "", (long long)n, word, end);
}

static int done(const struct cli *c, const struct st_book_import *i, const struct asked *a, const struct book *b)
{
    json_t *rows = json_object();
    int64_t n = 0;

    for (int t = 0; t < BOOK_NTABLE; t++) {
        n += st_book_import_rows(i, t);
        json_object_set_new(rows, st_book_info(t)->name, json_integer(st_book_import_rows(i, t)));
    }
    const int64_t deeds = st_book_import_rows(i, BOOK_NTABLE);
    if (c->json)
        return cli_json_print(json_pack("{s:{s:o, s:o, s:o, s:I}}", "imported", "from", st_doc_text(a->name), "book",
                                        st_doc_text(book_path(b)), "rows", rows, "deeds", (json_int_t)deeds));
    json_decref(rows);
    struct st_buf list = { 0 };
    for (int t = 0; t < BOOK_NTABLE; t++)
        if (st_book_import_rows(i, t) > 0)
            add_rows(st_book_info(t)->name, st_book_import_rows(i, t), &list);
    printf("Imported into %s: %lld row%s, with %lld deed%s that can be undone.\n", book_path(b), (long long)n,
           n == 1 ? "" : "s", (long long)deeds, deeds == 1 ? "" : "s");
    if (n > 0)
        cli_say(2, 2, "%s.", st_buf_text(&list));
    st_buf_done(&list);
    return ST_EXIT_DONE;
}

static int write_book(const struct cli *c, struct st_book_import *i, FILE *f, const struct asked *a, struct book *b)
{
    struct st_row_problems p = { .n = 0 };
    struct cli_progress progress;

    cli_progress_begin(&progress, "imported", "rows");
    const enum book_status s = st_book_import_write(i, f, b, cli_progress_tick, &progress, &p);
    cli_progress_end(&progress);
    if (s == BOOK_OK)
        return done(c, i, a, b);
    return p.n > 0 ? tell(a, &p) : cli_book_fail(b, s);
}

static int into_book(const struct cli *c, struct st_book_import *i, FILE *f, const struct asked *a)
{
    struct book *there = NULL, *b = NULL;
    int code = cli_book_if_there(c, &there);

    if (code != ST_EXIT_DONE)
        return code;
    const bool is_new = there == NULL;
    if (there && a->into == NEW)
        code = told_into(there, NEW);
    book_close(there);
    if (code == ST_EXIT_DONE)
        code = cli_book_open(c, BOOK_WRITE, &b);
    if (code != ST_EXIT_DONE)
        return code;
    code = is_new && a->into == EMPTY ? told_into(b, EMPTY) : write_book(c, i, f, a, b);
    struct st_buf path = { 0 };
    st_buf_add(&path, book_path(b));
    book_close(b);
    if (is_new && code != ST_EXIT_DONE)
        take_away(st_buf_text(&path));
    st_buf_done(&path);
    return code;
}

static int import(const struct cli *c, const struct asked *a)
{
    struct st_row_problems p;
    int code;
    FILE *f = open_file(a, &code);

    if (!f)
        return code;
    struct st_book_import *i = st_book_import_look(f, &p);
    code = p.n > 0 ? tell(a, &p) : into_book(c, i, f, a);
    st_book_import_free(i);
    if (f != stdin)
        fclose(f);
    return code;
}

static bool take_into(struct cli *c, struct asked *a)
{
    bool bad = false;
    const char *into = cli_option(c, "--into", &bad);

    if (into && strcmp(into, "new") == 0)
        a->into = NEW;
    else if (into && strcmp(into, "empty") == 0)
        a->into = EMPTY;
    else if (into) {
        cli_error("--into", "there is no such kind of book", "write --into new or --into empty, or leave it out");
        return false;
    }
    return !bad;
}

int cmd_import(struct cli *c)
{
    static const char *const KNOWN[] = { "--into", NULL };
    struct asked a = { NULL, NULL, EITHER };

    if (!take_into(c, &a) || !cli_no_more_options(c, KNOWN))
        return ST_EXIT_INPUT;
    if (c->argc != 1) {
        cli_error("import", c->argc ? "it takes one file" : "no file is named",
                  "write for example: stillroom import house.json --book new.stillroom");
        return ST_EXIT_INPUT;
    }
    a.file = c->argv[0];
    a.name = strcmp(a.file, "-") == 0 ? "standard input" : a.file;
    return import(c, &a);
}
