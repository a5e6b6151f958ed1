#include "cli/larder.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_lot_moves.h"
#include "cli/batch_lacks.h"
#include "cli/page.h"
#include "text/quantity.h"

/* What comes into the larder and what happens to it. */

/* ---- options ---- */

static const char *const FACTS[] = { "--price",      "--currency", "--from",    "--on",       "--use-by",
                                     "--where",      "--gross",    "--trimmed", "--strength", "--sugar",
                                     "--acid",       "--code",     "--note",    "--as",       "--name",
                                     "--from-batch", "--potency",  "--of",      NULL };

static bool is_said(const struct cli *c, const char *name)
{
    const size_t n = strlen(name);
    for (int i = 0; i < c->argc; i++)
        if (strncmp(c->argv[i], name, n) == 0 && (c->argv[i][n] == '\0' || c->argv[i][n] == '='))
            return true;
    return false;
}

/* A day when it is said: *day points to text, else it stays. */
static bool take_day(struct cli *c, const char *name, const struct cli_now *now, bool ahead, char text[11],
                     const char **day)
{
    if (!is_said(c, name))
        return true;
    if (!(ahead ? cli_take_day_to_come(c, name, now, text) : cli_take_day(c, name, now, false, text)))
        return false;
    *day = text;
    return true;
}

enum { MOST_OF = 12 };

struct facts {
    struct st_lot_given given;
    const char *of[MOST_OF];
    char on[11], use_by[11];
};

/* "--of L7 --of L9", each taken off the command line. */
static bool take_of(struct cli *c, struct facts *f)
{
    for (int i = 0; i < c->argc;) {
        const bool joined = strncmp(c->argv[i], "--of=", 5) == 0;
        const int n = joined ? 1 : 2;
        if (!joined && strcmp(c->argv[i], "--of") != 0) {
            i++;
            continue;
        }
        if (f->given.n_of == MOST_OF || i + n > c->argc || (joined && !c->argv[i][5])) {
            cli_error("--of", f->given.n_of == MOST_OF ? "there is room for twelve lots" : "its value is missing",
                      "write the code of a lot after it, for example --of L7 --of L9");
            return false;
        }
        f->of[f->given.n_of++] = joined ? c->argv[i] + 5 : c->argv[i + 1];
        for (int k = i; k + n < c->argc; k++)
            c->argv[k] = c->argv[k + n];
        c->argc -= n;
    }
    f->given.of = f->of;
    return true;
}

static bool take_facts(struct cli *c, struct facts *f)
{
    struct st_lot_given *g = &f->given;
    struct cli_now now;
    bool bad = false;

    st_lot_given_init(g);
    if (!cli_take_now(c, &now) || !take_day(c, "--on", &now, false, f->on, &g->on) ||
        !take_day(c, "--use-by", &now, true, f->use_by, &g->use_by))
        return false;
    g->currency = cli_option(c, "--currency", &bad);
    larder_price(c, &g->price, &g->currency, &g->currency_by_price, &bad);
    g->from = cli_option(c, "--from", &bad);
    g->place = cli_option(c, "--where", &bad);
    g->code = cli_option(c, "--code", &bad);
    g->note = cli_option(c, "--note", &bad);
    g->as = cli_option(c, "--as", &bad);
    g->name = cli_option(c, "--name", &bad);
    g->batch = cli_option(c, "--from-batch", &bad);
    cli_option_number(c, "--strength", 0.0, 100.0, &g->strength, &bad);
    cli_option_number(c, "--sugar", 0.0, 1499.0, &g->sugar, &bad);
    cli_option_number(c, "--acid", 0.0, 1499.0, &g->acid, &bad);
    cli_option_number(c, "--potency", 0.001, 999.0, &g->potency, &bad);
    bad = bad || !take_of(c, f);
    const bool gross = cli_flag(c, "--gross"), trimmed = cli_flag(c, "--trimmed");
    if (gross && trimmed) {
        cli_error("--gross, --trimmed", "it was weighed one way", "write one of them");
        return false;
    }
    if (gross || trimmed)
        g->gross = gross;
    return !bad;
}

/* ---- in ---- */

/* "12.12." was read as the next such day: which, is told. */
static void remark_use_by(struct st_lot_told *told, const struct st_lot_given *given)
{
    if (given->use_by && told->n_remark < ST_LOT_REMARKS)
        (void)snprintf(told->remark[told->n_remark++], sizeof told->remark[0], "To be used by %s.", given->use_by);
}

int larder_add(struct cli *c, const char *kind)
{
    struct facts f;
    struct cli_desk d;
    struct st_lot_told *told;
    int code = ST_EXIT_INPUT;

    if (!take_facts(c, &f) || larder_ready(c, FACTS, 1, 1, "write for example: stillroom larder add \"500 g damsons\""))
        return ST_EXIT_INPUT;
    f.given.kind = kind;
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;
    code = cli_desk_open(c, BOOK_WRITE, false, &d);
    if (code == ST_EXIT_DONE) {
        told = st_arena_alloc(&d.arena, sizeof *told);
        if (st_larder_add(&d.desk, catalogue, c->units, c->argv[0], &f.given, told)) {
            remark_use_by(told, &f.given);
            code = larder_told(c, told);
        } else
            code = cli_desk_fail(&d);
        cli_desk_close(&d);
    }
    st_catalogue_free(catalogue);
    return code;
}

/* How the batches that took of it move with what is known of it now, as remarks, a few batches in each. */
static void remark_moves(struct st_lot_told *told, const struct st_lot_moves *m)
{
    struct st_lot_moves few = { .n = 0 };
    char words[260];
    for (int i = 0; i < m->n && told->n_remark < ST_LOT_REMARKS; i++) {
        few.of[few.n++] = m->of[i];
        if (few.n < 3 && i + 1 < m->n)
            continue;
        few.more = i + 1 == m->n ? m->more : 0;
        st_lot_moves_words(&few, words, sizeof words);
        if (*words)
            (void)snprintf(told->remark[told->n_remark++], sizeof told->remark[0], "Foretold now: %s.", words);
        few.n = 0;
    }
}

/* Labels of bottles with it in them that are wrong by what is known of it now; where there is room for no more, that. */
static void remark_labels(const struct cli *c, const struct st_batch_ask *a, int64_t lot, struct st_lot_told *told)
{
    struct st_batch_lacks *x = st_arena_alloc(a->arena, sizeof *x);
    struct st_batch_lacks_ask how;
    struct st_chain_link *link;
    int n;
    *x = (struct st_batch_lacks){ .n = 0 };
    if (st_batch_chain(a, true, lot, &link, &n) != BOOK_OK || n < 2 || !batch_lacks_ask(c, &how) ||
        st_batch_lacks_of(a, &how, link, n, x) != BOOK_OK)
        return;
    const char *more = st_batch_lacks_more(a, x);
    for (int i = 0; i < x->n && told->n_remark < ST_LOT_REMARKS; i++) {
        const bool last = told->n_remark + 1 == ST_LOT_REMARKS && (i + 1 < x->n || *more);
        (void)snprintf(told->remark[told->n_remark++], sizeof told->remark[0], "%s.",
                       last ? st_arena_printf(a->arena, "And the labels of %d more bottlings: stillroom batch show %s",
                                              x->n - i + x->more, x->item[i].batch)
                            : st_batch_lack_words(a, &x->item[i]));
    }
    if (*more && told->n_remark < ST_LOT_REMARKS)
        (void)snprintf(told->remark[told->n_remark++], sizeof told->remark[0], "%s.", more);
}

/* The change, between two looks at what is foretold of the batches that took of the lot. */
static int change(struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                  const struct st_lot_given *given, struct st_lot_told *told)
{
    struct st_catalogue *spare = NULL;
    const struct st_batch_ask ask = { .book = d->desk.book,
                                      .arena = &d->arena,
                                      .catalogue = cli_catalogue,
                                      .spare = &spare,
                                      .measures = c->units,
                                      .seed = c->seed,
                                      .draws = c->draws,
                                      .by_drained = true };
    const bool moves = !isnan(given->strength) || !isnan(given->sugar) || !isnan(given->acid);
    struct st_lot_moves m = { .n = 0 };
    struct book_lot lot;
    struct st_problem none = { .what = "" };
    if (moves && st_batch_lot(&ask, c->argv[0], &lot, &none) == BOOK_OK &&
        st_lot_moves_before(&ask, lot.id, &m) != BOOK_OK)
        m.n = 0;
    bool good = st_larder_change(&d->desk, catalogue, c->argv[0], given, told);
    if (good && m.n > 0 && !told->nothing && st_lot_moves_after(&ask, &m) == BOOK_OK)
        remark_moves(told, &m);
    if (good && !told->nothing)
        remark_use_by(told, given);
    if (good && !told->nothing)
        remark_labels(c, &ask, told->lot.row.id, told);
    st_catalogue_free(spare);
    return good ? larder_told(c, told) : cli_desk_fail(d);
}

int larder_change(struct cli *c)
{
    struct facts f;
    struct cli_desk d;
    struct st_lot_told *told;

    if (!take_facts(c, &f) ||
        larder_ready(c, FACTS, 1, 1, "write for example: stillroom larder change L7 --price 4.20"))
        return ST_EXIT_INPUT;
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;
    int code = cli_desk_open(c, BOOK_WRITE, false, &d);
    if (code == ST_EXIT_DONE) {
        told = st_arena_alloc(&d.arena, sizeof *told);
        code = change(c, &d, catalogue, &f.given, told);
        cli_desk_close(&d);
    }
    st_catalogue_free(catalogue);
    return code;
}

/* ---- what happens to it ---- */

/* What the words of such a command say. */
struct happened {
    const char *why, *batch, *note, *by, *on;
    char day[11];
};

static const char *const HAPPENED[] = { "--for", "--why", "--note", "--on", "--by", NULL };

static bool take_happened(struct cli *c, struct happened *h)
{
    struct cli_now now;
    bool bad = false;

    *h = (struct happened){ .why = NULL };
    if (!cli_take_now(c, &now) || !take_day(c, "--on", &now, false, h->day, &h->on))
        return false;
    h->batch = cli_option(c, "--for", &bad);
    h->why = cli_option(c, "--why", &bad);
    h->note = cli_option(c, "--note", &bad);
    h->by = cli_option(c, "--by", &bad);
    if (!bad && h->why && h->batch) {
        cli_error("--why, --for", "what goes into a batch needs no other reason", "write one of them");
        return false;
    }
    return !bad;
}

typedef bool (*deed)(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                     const struct happened *h, struct st_lot_told *told);

static int happen(struct cli *c, int least, int most, const char *usage, deed doing)
{
    struct happened h;
    struct cli_desk d;

    if (!take_happened(c, &h) || larder_ready(c, HAPPENED, least, most, usage))
        return ST_EXIT_INPUT;
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;
    int code = cli_desk_open(c, BOOK_WRITE, false, &d);
    if (code == ST_EXIT_DONE) {
        struct st_lot_told *told = st_arena_alloc(&d.arena, sizeof *told);
        code = doing(c, &d, catalogue, &h, told) ? larder_told(c, told) : cli_desk_fail(&d);
        cli_desk_close(&d);
    }
    st_catalogue_free(catalogue);
    return code;
}

static bool took(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                 const struct happened *h, struct st_lot_told *told)
{
    return st_larder_take(&d->desk, catalogue, c->units, c->argv[0], c->argv[1], h->why, h->batch, h->on, h->note,
                          told);
}

int larder_take(struct cli *c)
{
    return happen(c, 2, 2, "write for example: stillroom larder took L7 \"120 g\" --why given", took);
}

static bool counted(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                    const struct happened *h, struct st_lot_told *told)
{
    return st_larder_count(&d->desk, catalogue, c->units, c->argv[0], c->argv[1], h->on, h->note, told);
}

int larder_count(struct cli *c)
{
    return happen(c, 2, 2, "write for example: stillroom larder count L7 \"380 g\"", counted);
}

static bool opened(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                   const struct happened *h, struct st_lot_told *told)
{
    (void)catalogue;
    return st_larder_opened(&d->desk, c->argv[0], h->on, told);
}

int larder_open(struct cli *c)
{
    return happen(c, 1, 1, "write for example: stillroom larder open L7", opened);
}

static bool gone(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                 const struct happened *h, struct st_lot_told *told)
{
    (void)catalogue;
    return st_larder_gone(&d->desk, c->argv[0], h->why ? h->why : "counted", h->on, told);
}

int larder_gone(struct cli *c)
{
    return happen(c, 1, 1, "write for example: stillroom larder gone L7 --why thrown", gone);
}

static bool measured(const struct cli *c, struct cli_desk *d, const struct st_catalogue *catalogue,
                     const struct happened *h, struct st_lot_told *told)
{
    return st_larder_measure(&d->desk, catalogue, c->argv[0], c->argv + 1, c->argc - 1, h->by, told);
}

int larder_measure(struct cli *c)
{
    return happen(c, 2, 12, "write for example: stillroom larder measure L7 brix=12.4", measured);
}

/* ---- vessels ---- */

/* "3L", "1240g" in this dimension. */
static bool take_size(struct cli *c, const char *name, enum st_dimension dim, double *x)
{
    struct st_amount a;
    struct st_problem p;
    bool bad = false;
    const char *said = cli_option(c, name, &bad);

    if (bad || !said)
        return !bad;
    if (cli_asks_amount(said, c->units))
        return false;
    if (st_goods_amount(said, c->units, &a, &p) == 0 && a.dim == dim) {
        *x = a.value;
        return true;
    }
    cli_error(name, dim == ST_DIM_VOLUME ? "it is no volume" : "it is no weight",
              dim == ST_DIM_VOLUME ? "write for example --volume 3L" : "write for example --empty 1240g");
    return false;
}

int larder_vessel(struct cli *c)
{
    static const char *const KNOWN[] = { "--volume", "--empty", "--note", NULL };
    double volume = (double)NAN, empty = (double)NAN;
    struct cli_desk d;
    struct book_vessel v;
    char words[400];
    bool bad = false;
    const char *note = cli_option(c, "--note", &bad);

    if (is_said(c, "--where")) {
        cli_error("--where", "a vessel stands where its jar does",
                  "when something stands in it: stillroom batch move B14 --where cellar; else say it with --note");
        return ST_EXIT_INPUT;
    }
    if (bad || !take_size(c, "--volume", ST_DIM_VOLUME, &volume) || !take_size(c, "--empty", ST_DIM_MASS, &empty) ||
        larder_ready(c, KNOWN, 1, 1, "write for example: stillroom larder vessel \"3 L jar\""))
        return ST_EXIT_INPUT;
    int code = cli_desk_open(c, BOOK_WRITE, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (!st_larder_vessel(&d.desk, c->units, c->argv[0], volume, empty, note, &v, words))
        code = cli_desk_fail(&d);
    else if (c->json)
        code = cli_json_print(json_pack("{s:o, s:o}", "done", st_doc_text(words), "vessel", st_doc_vessel(&v, NULL)));
    else
        cli_say(0, 0, "%c%s.", words[0] - 'a' + 'A', words + 1);
    cli_desk_close(&d);
    return code;
}
