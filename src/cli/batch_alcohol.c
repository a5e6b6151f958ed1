/* For a small licence: litres of pure alcohol, as a print-out and as a table. */
#include "cli/batch.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <strings.h>

#include "api/doc_batch_alcohol.h"
#include "cli/page.h"
#include "util/file.h"

struct report {
    struct st_alcohol a;
    const char *since, *until, *lot, *csv;
    char since_day[11], until_day[11];
};

/* ---- the print-out ---- */

/* No minus before 0.000. */
static double seen(double x)
{
    return fabs(x) < 5e-4 ? 0.0 : x;
}

static void print_total(const char *name, double x)
{
    printf("  %-56s %9.3f\n", name, seen(x));
}

static void print_accounts(struct batch *b, const struct report *r, bool lots)
{
    int n = 0;
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        char name[16];
        size_t k = 0;
        if (x->is_lot != lots)
            continue;
        if (n++ == 0)
            printf("\n%-24s%8s%8s%8s%8s%8s%8s%8s\n", lots ? "Lots" : "Batches", "opening", "in", "moved", "out", "lost",
                   "kept", "closing");
        while (k < sizeof name - 1 && x->name[k]) { /* whole letters of UTF-8 */
            name[k] = x->name[k];
            k++;
        }
        while (k > 0 && x->name[k] && ((unsigned char)x->name[k] & 0xc0) == 0x80)
            k--;
        name[k] = '\0';
        printf("%-8s%-16s%8.3f%8.3f%8.3f%8.3f%8.3f%8.3f%8.3f%s\n", x->code, name, seen(x->opening),
               seen(x->way[ST_ALC_IN]), seen(x->way[ST_ALC_MOVED_IN] - x->way[ST_ALC_MOVED_OUT]),
               seen(x->way[ST_ALC_OUT]), seen(x->way[ST_ALC_LOST]), seen(x->way[ST_ALC_KEPT]), seen(x->closing),
               x->unknown ? " ?" : "");
    }
    (void)b;
}

static void print_steps(const struct report *r)
{
    for (int i = 0; i < r->a.n_step; i++) {
        const struct st_alcohol_step *s = &r->a.step[i];
        if (i == 0)
            printf("\nFrom lot to batch (one step forward; read backward, one step back)\n");
        printf("  %s  %-12s to %-12s %9.3f\n", s->on_day, *s->lot ? s->lot : "no lot told", s->batch, seen(s->litres));
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

static void print_check(struct batch *b, const struct report *r)
{
    const double gap = st_alcohol_gap(&r->a), u = hypot(r->a.u, r->a.found_u);
    char words[200];
    const struct st_interval x = { gap, gap - 1.96 * u, gap + 1.96 * u, ST_OK, true };
    cli_heading("Closing check");
    print_total("closing by the book", r->a.closing);
    if (r->a.not_found)
        print_total("in jars of which no volume was read", r->a.unfound);
    print_total("still there: lots by the book, jars by volume", r->a.found);
    st_figure_words(words, sizeof words, &x, "L");
    cli_say(2, 4,
            "Not in bottles, losses or jars: %s. Fruit, lees and air keep some; more than that is to be looked for.",
            words);
    if (x.low > 0.0 || x.high < 0.0)
        cli_say(2, 4, "%s",
                gap > 0.0 ? "What fruit and lees kept can be entered: batch spent, batch lose."
                          : "More is there than came in: a lot or a weighing is missing in the book.");
    if (r->a.unknown)
        cli_say(2, 4,
                "%d entries (marked ?) have no strength and count nothing: write it with the lot (stillroom larder).",
                r->a.unknown);
    if (r->a.not_found)
        cli_say(
            2, 4,
            "Not known of %d batch%s: no volume of the finished drink was read (stillroom batch read B14 volume=1.2L).",
            r->a.not_found, r->a.not_found == 1 ? "" : "es");
    (void)b;
}

static void print_report(struct batch *b, const struct report *r)
{
    printf("Pure alcohol, litres at 20 °C, %s to %s\n\n", *r->since ? batch_day(b, r->since, false) : "the first day",
           batch_day(b, r->until, false));
    print_total("opening", r->a.opening);
    print_total("in", r->a.in);
    print_total("out: bottled, given or poured", r->a.out);
    print_total("lost", r->a.lost);
    print_total("kept by fruit, lees and air, of batches that are over", r->a.kept);
    print_total("closing", r->a.closing);
    print_accounts(b, r, true);
    print_accounts(b, r, false);
    print_steps(r);
    print_check(b, r);
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

static int write_csv(const struct report *r)
{
    struct st_buf out = { 0 };
    st_buf_add(
        &out,
        "kind,code,name,from,opening_l,in_l,moved_in_l,moved_out_l,out_l,lost_l,kept_l,closing_l,without_strength\r\n");
    for (int i = 0; i < r->a.n; i++) {
        const struct st_alcohol_account *x = &r->a.account[i];
        st_buf_add(&out, x->is_lot ? "lot," : "batch,");
        field(&out, x->code);
        st_buf_char(&out, ',');
        field(&out, x->name);
        st_buf_char(&out, ',');
        field(&out, x->whence);
        st_buf_printf(&out, ",%.6f,%.6f,%.6f,%.6f,%.6f,%.6f,%.6f,%.6f,%d\r\n", x->opening, x->way[ST_ALC_IN],
                      x->way[ST_ALC_MOVED_IN], x->way[ST_ALC_MOVED_OUT], x->way[ST_ALC_OUT], x->way[ST_ALC_LOST],
                      x->way[ST_ALC_KEPT], x->closing, x->unknown);
    }
    st_buf_printf(&out, "all,,,,%.6f,%.6f,0.000000,0.000000,%.6f,%.6f,%.6f,%.6f,%d\r\n", r->a.opening, r->a.in,
                  r->a.out, r->a.lost, r->a.kept, r->a.closing, r->a.unknown);
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
}

static int tell_lot(struct batch *b, struct report *r)
{
    only_lot(r);
    if (r->a.n == 0) {
        cli_error(r->lot, "no lot with alcohol has that code", "\"stillroom larder\" shows them");
        return ST_EXIT_INPUT;
    }
    printf("Pure alcohol of %s, litres at 20 °C\n", r->lot);
    print_accounts(b, r, true);
    print_accounts(b, r, false);
    print_steps(r);
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
    const enum book_status s =
        b->book ? st_batch_alcohol(&b->ask, *r.since ? r.since : NULL, r.until, &r.a) : BOOK_OK; /* no book: nothing in it */
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
        return tell_lot(b, &r);
    print_report(b, &r);
    return ST_EXIT_DONE;
}
