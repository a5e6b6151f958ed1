#include <stdlib.h>
#include <string.h>

#include "api/book_batch.h"
#include "cli/book.h"
#include "cli/page.h"
#include "util/memory.h"

const char cmd_undo_usage[] = "stillroom undo [--deed N | --again | --list [N]]\n"
                              "\n"
                              "Take back the last thing that was done in the notebook, whole, and say what it\n"
                              "was. Again and again, as far back as the book goes.\n"
                              "\n"
                              "  --list          what was done, newest first, with its number (the last 20)\n"
                              "  --list N        the last N\n"
                              "  --deed N        take back this one; where later ones stand on it, they are\n"
                              "                  named, in the order they can be taken back\n"
                              "  --again         do again what was taken back last\n";

enum { USUAL = 20, MOST = 100000 };

struct asked {
    bool list, again;
    int64_t deed; /* BOOK_NO: the last */
    int most;
};

/* ---- what was done ---- */

static json_t *id_out(int64_t id)
{
    return id == BOOK_NO ? json_null() : json_integer(id);
}

static json_t *deed_out(const struct book_deed *d)
{
    return json_pack("{s:I, s:o, s:o, s:o, s:o}", "deed", (json_int_t)d->id, "at", st_doc_text(d->at), "words",
                     st_doc_text(d->words), "undoes", id_out(d->undoes), "undone_by", id_out(d->undone_by));
}

static void print_deed(const struct book_deed *d)
{
    enum { COLUMN = 26, WIDTH = 80 };
    char back[60] = "", words[1200];
    if (d->undone_by != BOOK_NO)
        (void)snprintf(back, sizeof back, "  (taken back by %lld)", (long long)d->undone_by);
    const int n = snprintf(words, sizeof words, "%.1100s%s", d->words, back);
    printf("%6lld  %-16.16s  ", (long long)d->id, d->at);
    if (n > WIDTH - COLUMN) {
        cli_wrap_on(COLUMN, COLUMN, words);
        return;
    }
    cli_put(stdout, words, strlen(words));
    putchar('\n');
}

static int list(const struct cli *c, struct cli_desk *d, const struct asked *a)
{
    struct book_deed *deed = NULL;
    int n = 0;
    const enum book_status s = d->desk.book ? book_deeds(d->desk.book, a->most, &d->arena, &deed, &n) : BOOK_OK;

    if (s != BOOK_OK)
        return cli_book_fail(d->desk.book, s);
    if (c->json) {
        json_t *all = json_array();
        for (int i = 0; i < n; i++)
            json_array_append_new(all, deed_out(&deed[i]));
        return cli_json_print(json_pack("{s:o}", "deeds", all));
    }
    if (n == 0)
        puts("Nothing was done in this book yet.");
    for (int i = 0; i < n; i++)
        print_deed(&deed[i]);
    return ST_EXIT_DONE;
}

/* ---- taking back ---- */

/* The words of a taking back are those of what it took back, after this. */
static const char *what_was_done(const struct book_deed *d)
{
    static const char TOOK[] = "took back: ";
    return strncmp(d->words, TOOK, strlen(TOOK)) == 0 ? d->words + strlen(TOOK) : d->words;
}

/* Of the batch that a deed names ("B1: volume 700 mL"): that by what is left in the book more went of it than there was; "". */
static const char *more_went(const struct cli *c, const struct cli_desk *d, const char *words)
{
    struct st_catalogue *spare = NULL;
    const struct st_batch_ask ask = { .book = d->desk.book,
                                      .arena = d->desk.arena,
                                      .catalogue = cli_catalogue,
                                      .measures = c->units,
                                      .seed = c->seed,
                                      .draws = c->draws,
                                      .by_drained = true,
                                      .spare = &spare };
    const char *remark = "", *colon = strchr(words, ':');
    struct st_batch_left left;
    struct book_batch row;
    if (!colon)
        return remark;
    const struct book_wanted of = { .column = "code",
                                    .text = st_arena_strndup(ask.arena, words, (size_t)(colon - words)) };
    if (book_find(ask.book, BOOK_BATCH, &of, ask.arena, &row) != BOOK_OK)
        return remark;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    if (st_batch_made(&ask, &row, true, true, m) == BOOK_OK && m->told &&
        st_batch_left(&ask, &row, m, &left) == BOOK_OK)
        remark = st_batch_too_much(&ask, &row, &left);
    st_batch_made_done(m);
    free(m);
    st_catalogue_free(spare);
    return remark;
}

static int take_back(const struct cli *c, struct cli_desk *d, const struct asked *a)
{
    struct book_deed deed;
    const enum book_status s = a->again ? book_redo(d->desk.book, d->desk.moment, &d->arena, &deed)
                                        : book_undo(d->desk.book, d->desk.moment, a->deed, &d->arena, &deed);

    if (s != BOOK_OK)
        return cli_book_fail(d->desk.book, s);
    const bool again =
        what_was_done(&deed) != deed.words; /* of a taking back, whether it was asked for by number or not */
    const char *remark = more_went(c, d, what_was_done(&deed));
    if (c->json)
        return cli_json_print(
            json_pack("{s:o, s:o}", again ? "did_again" : "took_back", deed_out(&deed), "remark", st_doc_text(remark)));
    cli_say(0, 2, "%s: %s (%.16s)", again ? "Did again" : "Took back", what_was_done(&deed), deed.at);
    if (!again)
        puts("stillroom undo --again does it again.");
    if (*remark)
        cli_wrap(2, 4, remark);
    return ST_EXIT_DONE;
}

/* ---- off the command line ---- */

static bool take_deed(struct cli *c, struct asked *a)
{
    double x = 0.0;
    bool bad = false;

    if (cli_option_number(c, "--deed", 1.0, 9e15, &x, &bad))
        a->deed = (int64_t)x;
    if (!bad && a->deed != BOOK_NO && (double)a->deed < x) {
        cli_error("--deed", "it is no whole number", "stillroom undo --list shows the numbers");
        return false;
    }
    return !bad;
}

/* What may follow --list. */
static bool take_most(struct cli *c, struct asked *a)
{
    char *end;
    if (c->argc == 0)
        return true;
    const long n = strtol(c->argv[0], &end, 10);
    if (a->list && c->argc == 1 && end != c->argv[0] && *end == '\0' && n >= 1 && n <= MOST) {
        a->most = (int)n;
        return true;
    }
    if (a->list)
        cli_error(c->argv[0], "it is no number of deeds", "write for example: stillroom undo --list 50");
    else
        cli_error(c->argv[0], "undo takes no words", "write stillroom undo, or stillroom undo --deed N");
    return false;
}

static bool take_asked(struct cli *c, struct asked *a)
{
    static const char *const KNOWN[] = { "--deed", "--again", "--list", NULL };

    a->list = cli_flag(c, "--list");
    a->again = cli_flag(c, "--again");
    if (!take_deed(c, a) || !cli_no_more_options(c, KNOWN) || !take_most(c, a))
        return false;
    if (a->list + a->again + (a->deed != BOOK_NO) > 1) {
        cli_error("undo", "--list, --again and --deed do not go together", "write one of them");
        return false;
    }
    return true;
}

int cmd_undo(struct cli *c)
{
    struct asked a = { .deed = BOOK_NO, .most = USUAL };
    struct cli_desk d;

    if (!take_asked(c, &a))
        return ST_EXIT_INPUT;
    int code = cli_desk_open(c, BOOK_READ, a.list, &d); /* undo makes no new book */
    if (code != ST_EXIT_DONE)
        return code;
    if (!a.list) {
        cli_desk_close(&d);
        code = cli_desk_open(c, BOOK_WRITE, false, &d);
    }
    if (code != ST_EXIT_DONE)
        return code;
    code = a.list ? list(c, &d, &a) : take_back(c, &d, &a);
    cli_desk_close(&d);
    return code;
}
