/* For a small licence: litres of pure alcohol, as a print-out and as a table. */
#include "cli/batch.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <strings.h>

#include "api/doc_batch_alcohol.h"
#include "cli/page.h"
#include "cli/progress.h"
#include "text/text_room.h"
#include "util/file.h"

struct report {
    struct st_alcohol a;
    const char *since, *until, *lot, *csv;
    char since_day[11], until_day[11];
};

/* ---- the print-out ---- */

static const double SEEN = 5e-4; /* L: what three places show */

/* So many places wide, the first a blank always, no minus before 0.000; "?" where nothing is known. */
static void print_litres(int wide, const struct st_interval *x)
{
    if (!x->known)
        printf(" %*s", wide - 1, "?");
    else
        printf(" %*.3f", wide - 1, fabs(x->value) < SEEN ? 0.0 : x->value);
}

/* Half of how wide it is at 19 in 20, never told as too little. */
static double half_of(const struct st_interval *x)
{
    return x->known ? ceil(fmax(x->high - x->value, x->value - x->low) * 1e3 - 1e-9) / 1e3 : 0.0;
}

/* What is not known lies in no sum: the sign behind it says so. */
static void print_total(const char *name, const struct st_alcohol *all, enum st_alcohol_way w)
{
    const struct st_alcohol_sums *sum = &all->sum;
    const struct st_interval x = st_alcohol_told_sum(sum, w);
    printf("  %-56s ", name);
    print_litres(9, &x);
    if (half_of(&x) > 0.0)
        printf(" ± %.3f", half_of(&x));
    printf("%s%s\n", (sum->unsure & 1u << w) && x.known ? "?" : "", w == ST_ALC_CLOSING && all->below ? " !" : "");
}

/* Whole letters of UTF-8, at most so many bytes, of one line; a dot for each sign that steers a terminal. */
static void cut(char *out, size_t size, const char *name)
{
    size_t k = 0;
    for (size_t m; *name && *name != '\n' && *name != '\r'; name += m) {
        const size_t steers = cli_steers(name, strlen(name));
        m = steers ? steers : 1;
        while (!steers && ((unsigned char)name[m] & 0xc0) == 0x80)
            m++;
        if (k + (steers ? 1 : m) >= size)
            break;
        if (steers)
            out[k++] = '.';
        else
            memcpy(out + k, name, m), k += m;
    }
    out[k] = '\0';
}

static const char *mark(const struct st_alcohol_account *x)
{
    return x->below ? "!" : x->unknown ? "?" : x->marked ? "!" : "";
}

/* The columns of the page. */
static const struct column {
    const char *name;
    enum st_alcohol_way way;
    int wide;
} COLUMN[] = { { "opening", ST_ALC_OPENING, 8 }, { "in", ST_ALC_IN, 7 },          { "moved", ST_ALC_MOVED, 7 },
               { "out", ST_ALC_OUT, 7 },         { "lost", ST_ALC_LOST, 7 },      { "kept", ST_ALC_KEPT, 7 },
               { "missing", ST_ALC_MISSING, 8 }, { "closing", ST_ALC_CLOSING, 8 } };
enum { COLUMNS = sizeof COLUMN / sizeof *COLUMN };

static void print_row(const struct st_alcohol_account *x)
{
    double most = 0.0;
    struct st_interval seen[COLUMNS];
    for (int i = 0; i < COLUMNS; i++) {
        seen[i] = st_alcohol_told_sum(&x->sum, COLUMN[i].way);
        print_litres(COLUMN[i].wide, &seen[i]);
        most = fmax(most, half_of(&seen[i]));
    }
    /* the "?" of an open closing stands there already */
    printf("%s\n", !seen[COLUMNS - 1].known && x->unknown && !x->below ? "" : mark(x));
    if (!(most > 0.0))
        return;
    printf("%21s", "± "); /* three bytes, two columns */
    int blank = 0;
    for (int i = 0; i < COLUMNS; i++)
        if (half_of(&seen[i]) > 0.0) {
            printf("%*s %*.3f", blank, "", COLUMN[i].wide - 1, half_of(&seen[i]));
            blank = 0;
        } else {
            blank += COLUMN[i].wide;
        }
    printf("\n");
}

static void print_heads(const char *what)
{
    printf("\n%-20s", what);
    for (int i = 0; i < COLUMNS; i++)
        printf("%*s", COLUMN[i].wide, COLUMN[i].name);
    printf("\n");
}

enum { CODE = 5, NAME = 13 }; /* columns before the figures, each with a blank behind */

/* Code and name before the figures; where they need more room, on a line of their own. */
static void print_name(const struct st_alcohol_account *x)
{
    char name[400];
    int wide = 0;
    cut(name, sizeof name, x->name);
    for (const char *p = name; *p; p++)
        wide += ((unsigned char)*p & 0xc0) != 0x80;
    if (strlen(x->code) <= CODE && wide <= NAME) {
        printf("%-*s %s%*s ", CODE, x->code, name, NAME - wide, "");
        return;
    }
    cli_say(0, CODE + 1, "%-*s %s", CODE, x->code, name);
    printf("%*s", CODE + NAME + 2, "");
}

static void print_accounts(const struct report *r, bool lots)
{
    int n = 0;
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        if (x->is_lot != lots)
            continue;
        if (n++ == 0)
            print_heads(lots ? "Lots" : "Batches");
        print_name(x);
        print_row(x);
    }
}

static void print_steps(const struct report *r)
{
    for (int i = 0; i < r->a.n_step; i++) {
        const struct st_alcohol_step *s = &r->a.step[i];
        if (i == 0)
            printf("\nFrom lot to batch (one step forward; read backward, one step back)\n");
        printf("  %s  %-12s to %-12s ", s->on_day, *s->lot ? s->lot : "no lot told", s->batch);
        if (isfinite(s->litres))
            printf("%9.3f ± %.3f\n", s->litres, ceil(1.96 * s->u * 1e3 - 1e-9) / 1e3);
        else
            printf("not known\n");
    }
    for (int i = 0, n = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        if (!x->is_lot || !*x->whence)
            continue;
        if (n++ == 0)
            printf("\nWhere the lots are from\n");
        cli_say(2, 6, "%s  %s: %s", x->code, x->name, x->whence);
    }
}

static void words_of(char *words, size_t size, double value, double u)
{
    const struct st_interval x = { value, value - 1.96 * u, value + 1.96 * u, ST_OK, true };
    st_figure_words(words, size, &x, "L");
}

/* The batches that do not close. */
static void print_marked(const struct report *r)
{
    const char *less = NULL; /* the first that lacks something */
    bool more = false;
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        char words[200], kept[200];
        if (!x->marked)
            continue;
        words_of(words, sizeof words, x->missing, x->missing_u);
        const struct st_interval held = st_alcohol_kept(x);
        st_figure_words(kept, sizeof kept, &held, "L");
        cli_say(2, 4, "! %s: not accounted for: %s; kept, as foretold: %s.", x->code, words, kept);
        less = !less && x->missing > 0.0 ? x->code : less;
        more = more || x->missing < 0.0;
    }
    if (less)
        cli_say(
            2, 4,
            "Try: bottles or a loss that nobody wrote (stillroom batch bottle, batch lose); what of a jar the recipe "
            "did not take; a volume or a strength misread (stillroom batch agrees %s); drained fruit that nobody "
            "weighed (stillroom batch read %s drained=WEIGHT).",
            less, less);
    if (more)
        cli_say(2, 4,
                "Below 0 more went out or is there than came in. Try: a lot or a weighing that nobody wrote (stillroom "
                "batch weigh); a volume or a strength misread; fruit that was pressed.");
}

/* Which batch's line names that lot though nobody weighed it of it. */
static const char *named_by(const struct report *r, const struct st_alcohol_account *x)
{
    for (int i = 0; x->is_lot && i < r->a.n_step; i++)
        if (r->a.step[i].by_line && strcmp(r->a.step[i].lot, x->code) == 0)
            return r->a.step[i].batch;
    return NULL;
}

/* The accounts that close with less than nothing, and why. */
static void print_below(const struct report *r)
{
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        const char *batch = named_by(r, x);
        char words[200];
        if (!x->below)
            continue;
        words_of(words, sizeof words, x->sum.l[ST_ALC_CLOSING], x->sum.u[ST_ALC_CLOSING]);
        cli_say(2, 4, "! %s closes below 0: %s; %s.", x->code, words, ST_ALCOHOL_BELOW);
        if (batch)
            cli_say(4, 4,
                    "A line of %s names it, and counts as gone in of it again. Try: weigh that line of the lot that "
                    "really went in (stillroom batch weigh %s ... --lot LOT), or as \"0 mL\".",
                    batch, batch);
        else
            cli_say(4, 4,
                    "Try: what nobody wrote came in (%s); an amount that is too small, or one that went and is too "
                    "large (stillroom %s show %s).",
                    x->is_lot ? "stillroom larder add" : "stillroom batch weigh, batch add",
                    x->is_lot ? "larder" : "batch", x->code);
    }
    if (r->a.below)
        cli_say(2, 4, "! All together close below 0: %s.", ST_ALCOHOL_BELOW);
}

static bool is_not_found(const struct st_alcohol_account *x)
{
    return !x->is_lot && !x->over && isnan(x->sum.l[ST_ALC_FOUND]);
}

/* Each by its code, and the command for the first. */
static void print_not_found(const struct report *r)
{
    enum { TOLD = 8 };
    char codes[400] = "";
    struct st_text_room o = { codes, sizeof codes, 0 };
    const char *first = "";
    int n = 0;
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        if (!is_not_found(x))
            continue;
        if (n < TOLD)
            st_text_put(&o, "%s%.40s", n ? ", " : "", x->code);
        first = n++ ? first : x->code;
    }
    if (n > TOLD)
        st_text_put(&o, " and %d more", n - TOLD);
    if (r->a.not_found)
        cli_say(2, 4,
                "Not known of %d batch%s: no volume of the finished drink was read (of %s). Tell what there is: "
                "stillroom batch read %s volume=AMOUNT.",
                r->a.not_found, r->a.not_found == 1 ? "" : "es", codes, first);
}

static void print_unknown(const struct report *r)
{
    if (r->a.unknown)
        cli_say(2, 4,
                "Of %d entr%s the alcohol is not known (marked ?): they count nothing, and the sums above lack them. "
                "Write the strength with the lot (stillroom larder).",
                r->a.unknown, r->a.unknown == 1 ? "y" : "ies");
    if (r->a.untold)
        cli_say(2, 4, "Not checked: %d batch%s, over or measured, with an entry or a recipe that is not known.",
                r->a.untold, r->a.untold == 1 ? "" : "es");
    print_not_found(r);
}

static void print_check(const struct report *r)
{
    char words[200];
    cli_heading("Closing check");
    print_total("closing by the book", &r->a, ST_ALC_CLOSING);
    if (r->a.not_found)
        print_total("in jars of which no volume was read", &r->a, ST_ALC_UNFOUND);
    print_total("still there: lots by the book, jars by volume", &r->a, ST_ALC_FOUND);
    words_of(words, sizeof words, r->a.gap, r->a.gap_u);
    if (r->a.checked)
        cli_say(2, 4, "Neither in bottles, losses or jars nor kept as foretold, of %d batch%s over or measured: %s.",
                r->a.checked, r->a.checked == 1 ? "" : "es", words);
    else
        cli_say(2, 4, "No batch is over or measured: nothing can be checked yet.");
    print_marked(r);
    print_below(r);
    print_unknown(r);
}

static void print_how(void)
{
    cli_wrap(
        2, 2,
        "± holds in 19 of 20: strengths by their labels and readings or as foretold, volumes 1 % (common practice, no "
        "source); what has one cause, as a lot's strength in all it went into, is wrong together.");
}

static void print_report(struct batch *b, const struct report *r)
{
    printf("Pure alcohol, litres at 20 °C, %s to %s\n\n", *r->since ? batch_day(b, r->since, false) : "the first day",
           batch_day(b, r->until, false));
    print_total("opening", &r->a, ST_ALC_OPENING);
    print_total("in", &r->a, ST_ALC_IN);
    print_total("out: bottled, given or poured", &r->a, ST_ALC_OUT);
    print_total("lost", &r->a, ST_ALC_LOST);
    print_total("kept by fruit, lees and air, as foretold: batches over", &r->a, ST_ALC_KEPT);
    print_total("not accounted for, of batches that are over", &r->a, ST_ALC_MISSING);
    print_total("closing", &r->a, ST_ALC_CLOSING);
    print_how();
    print_accounts(r, true);
    print_accounts(r, false);
    print_steps(r);
    print_check(r);
    printf("\n");
    cli_wrap(0, 0, ST_ALCOHOL_NOT_ADVICE);
}

/* ---- a table (RFC 4180) ---- */

static void field(struct st_buf *out, const char *text)
{
    if (!text[strcspn(text, ",\"\r\n")]) {
        st_buf_add(out, text);
        return;
    }
    st_buf_char(out, '"');
    for (; *text; text++) {
        if (*text == '"')
            st_buf_char(out, '"');
        st_buf_char(out, *text);
    }
    st_buf_char(out, '"');
}

/* In the order of the table; what is moved stands as what came in and what went out. */
static const struct {
    const char *name;
    enum st_alcohol_way way;
} CELL[] = { { "opening", ST_ALC_OPENING },     { "in", ST_ALC_IN },           { "moved_in", ST_ALC_MOVED_IN },
             { "moved_out", ST_ALC_MOVED_OUT }, { "out", ST_ALC_OUT },         { "lost", ST_ALC_LOST },
             { "kept", ST_ALC_KEPT },           { "missing", ST_ALC_MISSING }, { "closing", ST_ALC_CLOSING } };
enum { CELLS = sizeof CELL / sizeof *CELL };

/* Values, what has no strength, then how far each reaches at 19 in 20, and what is marked. */
static void cells(struct st_buf *out, const struct st_alcohol_sums *x, int unknown, bool below, bool marked)
{
    for (int i = 0; i < CELLS; i++)
        st_buf_printf(out, ",%.6f", x->l[CELL[i].way]);
    st_buf_printf(out, ",%d", unknown);
    for (int i = 0; i < CELLS; i++) {
        const struct st_interval told = st_alcohol_told_sum(x, CELL[i].way);
        if (told.known)
            st_buf_printf(out, ",%.6f,%.6f", told.low, told.high);
        else
            st_buf_add(out, ",,");
    }
    st_buf_char(out, ',');
    if (below)
        st_buf_printf(out, "closes below 0: %s", ST_ALCOHOL_BELOW);
    st_buf_add(out, marked ? below ? "; not accounted for" : "not accounted for" : "");
    st_buf_add(out, "\r\n");
}

static int write_csv(const struct report *r)
{
    struct st_buf out = { 0 };
    st_buf_add(&out, "kind,code,name,from");
    for (int i = 0; i < CELLS; i++)
        st_buf_printf(&out, ",%s_l", CELL[i].name);
    st_buf_add(&out, ",without_strength");
    for (int i = 0; i < CELLS; i++)
        st_buf_printf(&out, ",%s_low_l,%s_high_l", CELL[i].name, CELL[i].name);
    st_buf_add(&out, ",marked\r\n");
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        st_buf_add(&out, x->is_lot ? "lot," : "batch,");
        field(&out, x->code);
        st_buf_char(&out, ',');
        field(&out, x->name);
        st_buf_char(&out, ',');
        field(&out, x->whence);
        cells(&out, &x->sum, x->unknown, x->below, x->marked);
    }
    st_buf_add(&out, "all,,,");
    cells(&out, &r->a.sum, r->a.unknown, r->a.below, false);
    const int error = st_file_write(r->csv, st_buf_text(&out), out.length);
    st_buf_done(&out);
    if (!error)
        return ST_EXIT_DONE;
    cli_error(r->csv, strerror(error), "look at the folder and the disk");
    return ST_EXIT_SYSTEM;
}

/* ---- one lot ---- */

static void only_lot(struct report *r)
{
    int n = 0, m = 0;
    for (int i = 0; i < r->a.n_step; i++)
        if (strcasecmp(r->a.step[i].lot, r->lot) == 0)
            r->a.step[n++] = r->a.step[i];
    r->a.n_step = n;
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        bool keep = x->is_lot && strcasecmp(x->code, r->lot) == 0;
        for (int k = 0; k < n && !keep && !x->is_lot; k++)
            keep = strcmp(r->a.step[k].batch, x->code) == 0;
        if (keep)
            r->a.account[m++] = *x;
    }
    r->a.n = m;
    r->a.below = false; /* of all together nothing is told */
}

static int tell_lot(struct report *r)
{
    only_lot(r);
    if (r->a.n == 0) {
        cli_error(r->lot, "no lot with alcohol has that code", "\"stillroom larder\" shows them");
        return ST_EXIT_INPUT;
    }
    printf("Pure alcohol of %s, litres at 20 °C\n", r->lot);
    print_how();
    print_accounts(r, true);
    print_accounts(r, false);
    print_steps(r);
    print_below(r);
    printf("\n");
    cli_wrap(0, 0, ST_ALCOHOL_NOT_ADVICE);
    return ST_EXIT_DONE;
}

/* ---- the command ---- */

static bool is_given(const struct cli *c, const char *option)
{
    const size_t n = strlen(option);
    for (int i = 0; i < c->argc; i++)
        if (strncmp(c->argv[i], option, n) == 0 && (c->argv[i][n] == '\0' || c->argv[i][n] == '='))
            return true;
    return false;
}

static enum book_status reckon(struct batch *b, struct report *r)
{
    struct cli_progress p;
    cli_progress_begin(&p, "reckoned", "batches");
    const enum book_status s =
        st_batch_alcohol(&b->ask, *r->since ? r->since : NULL, r->until, cli_progress_tick, &p, &r->a);
    cli_progress_end(&p);
    return s;
}

int batch_alcohol(struct batch *b)
{
    static const char *const KNOWN[] = { "--since", "--until", "--lot", "--csv", NULL };
    struct report r = { .since = "", .until = b->now.day };
    bool bad = false;
    if (is_given(b->c, "--since")) {
        if (!cli_take_day(b->c, "--since", &b->now, false, r.since_day))
            return ST_EXIT_INPUT;
        r.since = r.since_day;
    }
    if (is_given(b->c, "--until")) {
        if (!cli_take_day(b->c, "--until", &b->now, true, r.until_day))
            return ST_EXIT_INPUT;
        r.until = r.until_day;
    }
    r.lot = cli_option(b->c, "--lot", &bad);
    r.csv = cli_option(b->c, "--csv", &bad);
    if (bad || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    if (strcmp(r.since, r.until) > 0) {
        cli_error("--since", "it lies behind the last day", "look at both days");
        return ST_EXIT_INPUT;
    }
    const enum book_status s = b->book ? reckon(b, &r) : BOOK_OK; /* no book: nothing in it */
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (r.csv) {
        const int code = write_csv(&r);
        if (code != ST_EXIT_DONE || strcmp(r.csv, "-") == 0)
            return code;
    }
    if (b->c->json) {
        if (r.lot)
            only_lot(&r);
        return cli_json_print(st_doc_batch_alcohol(&r.a, r.since, r.until));
    }
    if (r.lot)
        return tell_lot(&r);
    print_report(b, &r);
    return ST_EXIT_DONE;
}
