#include <limits.h>
#include <math.h>
#include <string.h>

#include "api/book_lot_cautions.h"
#include "api/book_lot_of.h"
#include "api/book_lot_own.h"
#include "cli/larder.h"
#include "cli/page.h"
#include "model/observation.h"
#include "text/day_words.h"
#include "util/buf.h"

/* All about one lot. */

static void dated(const char *what, const char *day, long ago)
{
    char when[40];
    if (!day)
        return;
    st_days_words(when, sizeof when, -ago);
    if (ago < 0 && strcmp(what, "use by") != 0)
        cli_say(4, 6, "%s %s, after the day that is taken for today: look at --today, or at the day", what, day);
    else
        cli_say(4, 6, "%s %s, %s", what, day, when);
}

static void how_much(const struct st_lot *l, enum st_measures units)
{
    char left[60], of[60];
    st_lot_amount_short(left, sizeof left, l->left > 0.0 ? l->left : 0.0, l->row.dim, units);
    st_lot_amount_short(of, sizeof of, l->row.amount, l->row.dim, units);
    cli_say(4, 6, l->left > l->row.amount ? "%s left, more than the %s that were written down%s" : "%s left of %s%s",
            l->left > 0.0 ? left : "nothing", of,
            l->row.gross == BOOK_NO ? ""
            : l->row.gross          ? ", weighed as bought"
                                    : ", weighed trimmed");
}

static void price(const struct book_lot *l)
{
    const double per = strcmp(l->dim, "pieces") == 0 ? 1.0 : 1000.0;
    if (isnan(l->price))
        return;
    if (l->amount > 0.0)
        cli_say(4, 6, "%.2f %s for all of it, %.2f %s %s", l->price, l->currency, l->price / l->amount * per,
                l->currency,
                strcmp(l->dim, "g") == 0    ? "a kilogram"
                : strcmp(l->dim, "mL") == 0 ? "a litre"
                                            : "each");
    else
        cli_say(4, 6, "%.2f %s", l->price, l->currency);
}

static void figures(const struct st_ingredient *in, const struct book_lot *l)
{
    if (st_lot_strength_of_sheet(l, in))
        cli_say(4, 6, "strength %.4g to %.4g %% vol, from the sheet: nobody wrote it", in->strength.low,
                in->strength.high);
    else if (!isnan(l->strength_pct_vol) && strstr(l->words, "proof"))
        cli_say(4, 6,
                "strength %.4g %% vol at 20 \xc2\xb0"
                "C, written as \"%s\"",
                l->strength_pct_vol, l->words);
    else if (!isnan(l->strength_pct_vol))
        cli_say(4, 6, "strength %.4g %% vol, as written", l->strength_pct_vol);
    if (!isnan(l->sugar_g_l))
        cli_say(4, 6, "sugar %.4g g/L, as written", l->sugar_g_l);
    if (!isnan(l->acid_g_l))
        cli_say(4, 6, "acid %.4g g/L, as written", l->acid_g_l);
    if (!isnan(l->potency))
        cli_say(4, 6, "%.3g of the last one's flavour: where 10 mL of that did, take %.3g mL", l->potency,
                10.0 / l->potency);
}

static void taken(const struct st_lot *l, enum st_measures units)
{
    char amount[60];
    if (l->n_use > 0)
        cli_heading("Taken");
    for (int i = 0; i < l->n_use; i++) {
        const struct book_lot_use *u = &l->use[i];
        st_lot_amount_short(amount, sizeof amount, u->amount, l->row.dim, units);
        if (l->use_batch[i])
            cli_say(4, 16, "%s  %s for %s%s%s", u->on_day, amount, l->use_batch[i], *u->note ? "; " : "", u->note);
        else if (u->amount < 0.0)
            cli_say(4, 16, "%s  %s more than thought%s%s", u->on_day, amount, *u->note ? "; " : "", u->note);
        else
            cli_say(4, 16, "%s  %s %s%s%s", u->on_day, amount, u->why, *u->note ? "; " : "", u->note);
    }
}

static const struct st_seen_info *kind_info(const char *key)
{
    for (int i = 0; i < ST_NSEEN; i++)
        if (strcmp(st_seen_info((enum st_seen)i)->key, key) == 0)
            return st_seen_info((enum st_seen)i);
    return NULL;
}

static void measured(const struct st_ingredient *in, const struct st_lot *l, const char *odds)
{
    struct st_interval strength, sugar;
    char q[160], g[160], doubt[300];

    if (l->n_reading > 0)
        cli_heading("Measured");
    for (int i = 0; i < l->n_reading; i++) {
        const struct book_reading *r = &l->reading[i];
        const struct st_seen_info *info = kind_info(r->kind);
        char warm[40] = "";
        if (isfinite(r->temperature_c))
            snprintf(warm, sizeof warm,
                     ", at %.4g \xc2\xb0"
                     "C",
                     r->temperature_c);
        cli_say(4, 16, "%.10s  %s %.5g%s%s%s%s%s", r->at, info ? info->name : r->kind, r->value,
                info && *info->unit ? " " : "", info ? info->unit : "", warm, *r->by_whom ? ", by " : "", r->by_whom);
    }
    st_lot_gauge_doubt(l, doubt);
    if (*doubt)
        cli_wrap(4, 6, doubt);
    st_lot_sweet_doubt(in, l, doubt);
    if (*doubt)
        cli_wrap(4, 6, doubt);
    if (odds)
        cli_wrap(4, 6, odds);
    if (!st_lot_gauged(l, &strength, &sugar))
        return;
    st_figure_words(q, sizeof q, &strength, "% vol");
    st_figure_words(g, sizeof g, &sugar, "g/L");
    cli_say(4, 6,
            "By these (at 20 \xc2\xb0"
            "C where nobody said how warm it was): %s; sugar %s.",
            q, g);
}

/* ---- what to watch ---- */

static void cautions(const struct st_ingredient *in, const struct st_lot *l)
{
    enum { MOST = 3 };
    if (in && in->n_caution > 0)
        cli_heading("What to watch, worst first");
    for (int i = 0; in && i < in->n_caution && i < MOST; i++) {
        const struct st_flag *f = st_flag_worst(in, i);
        cli_say(2, 4, "Caution: %s [%s]", f->text ? f->text : f->what, f->source && *f->source ? f->source : "memory");
    }
    if (in && in->n_caution > MOST)
        cli_say(2, 4, "%d more: stillroom ingredient \"%s\"", in->n_caution - MOST, in->name);
    if (l->from_batch)
        cli_say(2, 4, "Of the batch it comes from: stillroom cautions %s", l->from_batch);
}

static json_t *cautions_json(const struct st_ingredient *in)
{
    json_t *all = json_array();
    for (int i = 0; in && i < in->n_caution; i++) {
        const struct st_flag *f = st_flag_worst(in, i);
        json_array_append_new(all, json_pack("{s:s, s:s, s:s, s:s}", "what", f->what, "degree", f->degree, "because",
                                             f->text ? f->text : "", "source", f->source ? f->source : ""));
    }
    return all;
}

/* What it was made of, and what was made of it. */
struct kin {
    struct book_lot *of, *into;
    int n_of, n_into;
};

static json_t *codes_json(const struct book_lot lot[], int n)
{
    json_t *all = json_array();
    for (int i = 0; i < n; i++)
        json_array_append_new(all, st_doc_text(lot[i].code));
    return all;
}

static void print_kin(const char *what, const struct book_lot lot[], int n)
{
    struct st_buf b = { 0 };
    for (int i = 0; i < n; i++)
        st_buf_printf(&b, "%s%s (%s)", i ? ", " : "", lot[i].code, lot[i].name);
    if (n > 0)
        cli_say(4, 6, "%s %s", what, st_buf_text(&b));
    st_buf_done(&b);
}

static int print_json(const struct st_ingredient *in, const struct st_lot *l, const struct kin *kin, const char *odds)
{
    json_t *o = st_doc_lot(l);
    json_object_set_new(o, "do_not_agree", st_doc_known(odds));
    json_object_set_new(o, "strength_of_sheet", json_boolean(st_lot_strength_of_sheet(&l->row, in)));
    json_object_set_new(o, "made_of", codes_json(kin->of, kin->n_of));
    json_object_set_new(o, "made_into", codes_json(kin->into, kin->n_into));
    json_object_set_new(o, "cautions", cautions_json(in));
    return cli_json_print(o);
}

static void print_lot(const struct st_ingredient *in, const struct st_lot *l, const struct kin *kin, const char *odds,
                      enum st_measures units)
{
    char name[240];
    st_lot_name(name, sizeof name, &l->row);
    printf("%s  ", l->row.code);
    cli_put(stdout, name, strlen(name));
    putchar('\n');
    how_much(l, units);
    dated(strcmp(l->row.kind, "bought") == 0 ? "bought"
          : strcmp(l->row.kind, "made") == 0 ? "made"
                                             : "strained",
          l->row.since, l->age);
    if (*l->row.bought_at)
        cli_say(4, 6, "from: %s", l->row.bought_at);
    if (l->from_batch)
        cli_say(4, 6, "of batch %s", l->from_batch);
    print_kin("made of", kin->of, kin->n_of);
    print_kin("in", kin->into, kin->n_into);
    price(&l->row);
    figures(in, &l->row);
    dated("opened", l->row.opened_on, l->opened);
    dated("use by", l->row.use_by, l->use_by == LONG_MIN ? 0 : -l->use_by);
    if (*l->row.place)
        cli_say(4, 6, "stands: %s", l->row.place);
    if (l->row.ended_on)
        cli_say(4, 6, "gone since %s", l->row.ended_on);
    if (*l->row.slug)
        cli_say(4, 6, "on the ingredient sheet: %s", in ? in->name : l->row.slug);
    else
        cli_say(4, 6, "not on the ingredient sheet");
    if (*l->row.note)
        cli_say(4, 6, "%s", l->row.note);
    cautions(in, l);
    taken(l, units);
    measured(in, l, odds);
}

int larder_show(struct cli *c)
{
    struct cli_desk d;
    struct st_lot l;
    struct kin kin = { .n_of = 0 };

    int code = larder_ready(c, NULL, 1, 1, "write for example: stillroom larder show L7");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    struct st_catalogue *sheet = cli_catalogue();
    const struct st_ingredient *in = NULL;
    if (!sheet)
        code = ST_EXIT_SYSTEM;
    else if (!st_larder_lot(&d.desk, c->argv[0], &l) || !st_lot_of(&d.desk, l.row.id, false, &kin.of, &kin.n_of) ||
             !st_lot_of(&d.desk, l.row.id, true, &kin.into, &kin.n_into))
        code = cli_desk_fail(&d);
    else {
        const struct st_batch_ask ask = { .book = d.desk.book, .arena = d.desk.arena };
        struct st_lot_figures f;
        in = st_lot_ingredient(sheet, &l.row);
        const char *odds = st_lot_figures(&ask, &l.row, in, &f) == BOOK_OK ? f.odds : NULL;
        if (c->json)
            code = print_json(in, &l, &kin, odds);
        else
            print_lot(in, &l, &kin, odds, c->units);
    }
    st_catalogue_free(sheet);
    cli_desk_close(&d);
    return code;
}
