#include <limits.h>
#include <string.h>

#include "cli/larder.h"
#include "cli/page.h"
#include "text/calendar_day.h"
#include "text/day_words.h"
#include "util/buf.h"

/* What there is, a line a lot. */

enum { SOON_DAYS = 14, HANG = 8, FILLINGS = 8 /* of a drink, that are told one by one */ };

static const struct kind {
    const char *kind, *heading, *came;
} KIND[] = {
    { "bought", "Bought", "bought" },
    { "made", "Made ahead", "made" },
    { "spent", "Fruit and spice kept after straining", "strained" },
};

static const char *came(const struct book_lot *l)
{
    for (size_t i = 0; i < sizeof KIND / sizeof *KIND; i++)
        if (strcmp(KIND[i].kind, l->kind) == 0)
            return KIND[i].came;
    return "here";
}

static void use_by_words(const struct st_lot *l, struct st_buf *out)
{
    char when[40];
    st_days_words(when, sizeof when, l->use_by);
    if (l->use_by < 0)
        st_buf_printf(out, "; was to be used by %s, %s", l->row.use_by, when);
    else
        st_buf_printf(out, "; use by %s, %s", l->row.use_by, when);
}

/* "; bought 3 weeks ago, opened yesterday", "; bought and opened 3 weeks ago" */
static void since_words(const struct st_lot *l, struct st_buf *out)
{
    char here[40] = "", open[40] = "";
    if (l->age != LONG_MIN)
        st_days_words(here, sizeof here, -l->age);
    if (l->opened != LONG_MIN)
        st_days_words(open, sizeof open, -l->opened);
    if (*here && strcmp(here, open) == 0)
        st_buf_printf(out, "; %s and opened %s", came(&l->row), here);
    else if (*here)
        st_buf_printf(out, "; %s %s%s%s", came(&l->row), here, *open ? ", opened " : "", open);
    else if (*open)
        st_buf_printf(out, "; opened %s", open);
}

/* "380 g green walnuts, of 500 g; bought 3 weeks ago, opened yesterday; use by ...; cellar" */
static void lot_words(const struct st_lot *l, enum st_measures units, struct st_buf *out)
{
    char text[320];

    st_lot_so_much(text, sizeof text, l->left > 0.0 ? l->left : 0.0, &l->row, units);
    st_buf_add(out, text);
    st_lot_amount_short(text, sizeof text, l->row.amount, l->row.dim, units);
    if (l->left > l->row.amount)
        st_buf_printf(out, ", more than the %s that were written down", text);
    else if (l->left < l->row.amount)
        st_buf_printf(out, ", of %s", text);
    since_words(l, out);
    if (l->use_by != LONG_MIN && !l->over)
        use_by_words(l, out);
    if (!isnan(l->row.potency))
        st_buf_printf(out, "; %.3g of the last one's flavour", l->row.potency);
    if (*l->row.place && !l->over)
        st_buf_printf(out, "; %s", l->row.place);
    if (l->row.ended_on)
        st_buf_printf(out, "; gone since %s", l->row.ended_on);
}

/* What is longer than its column stands before the rest all the same. */
static void coded(const char *code, const char *text)
{
    const int wide = (int)strlen(code) + 4 > HANG ? (int)strlen(code) + 4 : HANG;
    printf("  %-*s", wide - 2, code);
    cli_wrap_on(wide, HANG, text);
}

void larder_lot_line(const struct st_lot *l, enum st_measures units)
{
    struct st_buf text = { 0 };
    lot_words(l, units, &text);
    coded(l->row.code, st_buf_text(&text));
    st_buf_done(&text);
}

/* ---- the parts of the page ---- */

static void near_end(const struct st_larder *l, bool past)
{
    struct st_buf text = { 0 };
    char when[40], name[240];

    for (int i = 0; i < l->n_lot; i++) {
        const struct st_lot *lot = &l->lot[i];
        if (lot->over || lot->use_by == LONG_MIN || lot->use_by > SOON_DAYS || (lot->use_by < 0) != past)
            continue;
        st_days_words(when, sizeof when, lot->use_by);
        st_lot_name(name, sizeof name, &lot->row);
        st_buf_printf(&text, "%s%s %s (%s)", text.length ? ", " : "", lot->row.code, name, when);
    }
    if (text.length) {
        putchar('\n');
        cli_say(0, 0, past ? "Past its day, look at it or throw it away: %s." : "To use first: %s.",
                st_buf_text(&text));
    }
    st_buf_done(&text);
}

static void lots(const struct st_larder *l, const char *kind, const char *heading, enum st_measures units)
{
    bool any = false;
    for (int i = 0; i < l->n_lot; i++) {
        if (l->lot[i].over || strcmp(l->lot[i].row.kind, kind) != 0)
            continue;
        if (!any)
            cli_heading(heading);
        any = true;
        larder_lot_line(&l->lot[i], units);
    }
}

static void used_up(const struct st_larder *l, enum st_measures units)
{
    bool any = false;
    for (int i = 0; i < l->n_lot; i++) {
        if (!l->lot[i].over)
            continue;
        if (!any)
            cli_heading("Used up");
        any = true;
        larder_lot_line(&l->lot[i], units);
    }
}

static void vessel_line(const struct book_vessel *v, const char *stands_in, enum st_measures units)
{
    struct st_buf text = { 0 };
    char size[60];

    st_buf_add(&text, v->name);
    if (!isnan(v->volume_ml) && !strstr(v->name, "L")) {
        st_lot_amount(size, sizeof size, v->volume_ml, "mL", units);
        st_buf_printf(&text, ", %s", size);
    }
    if (!isnan(v->empty_g)) {
        snprintf(size, sizeof size, "%.0f", v->empty_g);
        st_buf_printf(&text, "; %s g empty", size);
    }
    if (stands_in)
        st_buf_printf(&text, "; holds %s", *stands_in ? stands_in : "something");
    if (*v->note)
        st_buf_printf(&text, "; %s", v->note);
    cli_wrap(2, HANG, st_buf_text(&text));
    st_buf_done(&text);
}

/* "1 of 3 bottles of 350 mL, 30.5 %, 23 months old (B1-1)" */
static void stock_words(const struct st_stock *s, enum st_measures units, struct st_buf *out)
{
    char text[60];

    st_buf_printf(out, "%lld", (long long)s->left);
    if (s->left != s->row.count)
        st_buf_printf(out, " of %lld", (long long)s->row.count);
    st_lot_amount(text, sizeof text, s->row.size_ml, "mL", units);
    st_buf_printf(out, " bottle%s of %s", s->row.count == 1 ? "" : "s", text);
    if (!isnan(s->row.strength_pct_vol))
        st_buf_printf(out, ", %.3g %%", s->row.strength_pct_vol);
    if (s->age != LONG_MIN && s->age > 0) {
        st_days_length(text, sizeof text, s->age);
        st_buf_printf(out, ", %s old", text);
    }
    if (s->row.use_by)
        st_buf_printf(out, ", best before %s", s->row.use_by);
    st_buf_printf(out, " (%s)", s->row.code);
}

/* "2,310 bottles of 620 fillings, of which the oldest: 3 of 4 bottles ...; stillroom batch left shows each" */
static void drink_words(const struct st_larder *l, int first, enum st_measures units, struct st_buf *out)
{
    const char *name = l->stock[first].name;
    long long bottles = 0;
    int n = 0, shown = 0;
    for (int k = first; k < l->n_stock; k++)
        if (strcmp(l->stock[k].name, name) == 0) {
            bottles += l->stock[k].left;
            n++;
        }
    st_buf_printf(out, "%s: ", name);
    if (n > FILLINGS)
        st_buf_printf(out, "%lld bottles of %d fillings, the oldest of them: ", bottles, n);
    for (int k = first; k < l->n_stock && shown < FILLINGS; k++)
        if (strcmp(l->stock[k].name, name) == 0) {
            st_buf_add(out, shown++ ? "; " : "");
            stock_words(&l->stock[k], units, out);
        }
    if (n > FILLINGS)
        st_buf_add(out, "; \"stillroom batch left\" shows every one");
}

/* A paragraph for each drink, in the order of its first bottle. */
static void stock_lines(const struct st_larder *l, enum st_measures units)
{
    for (int i = 0; i < l->n_stock; i++) {
        struct st_buf text = { 0 };
        bool told = false;
        for (int k = 0; k < i && !told; k++)
            told = strcmp(l->stock[k].name, l->stock[i].name) == 0;
        if (told)
            continue;
        drink_words(l, i, units, &text);
        cli_wrap(2, HANG, st_buf_text(&text));
        st_buf_done(&text);
    }
}

static void empty_page(void)
{
    cli_wrap(0, 0, "The larder is empty. Say what you have, one thing at a time and as a recipe would say it:");
    puts("\n  stillroom larder add \"700 mL vodka 40 %\" --price 19.90 --currency EUR\n"
         "  stillroom larder add \"500 g green walnuts\" --from market --where cellar\n"
         "  stillroom larder made \"300 mL orange tincture 55 %\"\n"
         "  stillroom larder vessel \"3 L jar\"\n");
    cli_wrap(0, 0,
             "Then this page says what there is and what to use first, and \"stillroom larder reach RECIPE\" what "
             "is within reach and what to buy.");
}

static void page(const struct st_larder *l, const struct cli_now *now, bool all, enum st_measures units)
{
    if (l->n_lot + l->n_over + l->n_vessel + l->n_stock == 0) {
        empty_page();
        return;
    }
    printf("The larder on %s %s\n", st_weekday_name(st_weekday(now->number)), now->day);
    near_end(l, true);
    near_end(l, false);
    for (size_t i = 0; i < sizeof KIND / sizeof *KIND; i++)
        lots(l, KIND[i].kind, KIND[i].heading, units);
    if (l->n_stock > 0)
        cli_heading("Finished bottles");
    stock_lines(l, units);
    if (l->n_vessel > 0)
        cli_heading("Jars and other vessels");
    for (int i = 0; i < l->n_vessel; i++)
        vessel_line(&l->vessel[i], l->stands_in[i], units);
    if (all)
        used_up(l, units);
    else if (l->n_over > 0) {
        putchar('\n');
        cli_say(0, 0, "%d %s used up: \"stillroom larder --all\" shows %s too.", l->n_over,
                l->n_over == 1 ? "lot is" : "lots are", l->n_over == 1 ? "it" : "them");
    }
}

int larder_all(struct cli *c)
{
    struct cli_desk d;
    struct st_larder l = { .lot = NULL };
    const bool all = cli_flag(c, "--all");
    static const char *const KNOWN[] = { "--all", NULL };

    int code = larder_ready(c, KNOWN, 0, 0, "\"stillroom help larder\" lists what it does");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, true, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (d.desk.book && !st_larder_read(&d.desk, all, &l))
        code = cli_desk_fail(&d);
    else if (c->json)
        code = cli_json_print(st_doc_larder(&l));
    else
        page(&l, &d.now, all, c->units);
    cli_desk_close(&d);
    return code;
}

/* ---- finding ---- */

/* Keep what has the words; how many are left. */
static int sift(struct st_larder *l, const char *words)
{
    int n = 0, k = 0, m = 0;
    for (int i = 0; i < l->n_lot; i++)
        if (st_lot_has(&l->lot[i].row, words))
            l->lot[n++] = l->lot[i];
    for (int i = 0; i < l->n_vessel; i++) {
        const char *const text[] = { l->vessel[i].name, l->vessel[i].note };
        if (!st_words_in(words, text, 2))
            continue;
        l->stands_in[k] = l->stands_in[i];
        l->vessel[k++] = l->vessel[i];
    }
    for (int i = 0; i < l->n_stock; i++) {
        const char *const text[] = { l->stock[i].row.code, l->stock[i].name, l->stock[i].batch, l->stock[i].row.note };
        if (st_words_in(words, text, 4))
            l->stock[m++] = l->stock[i];
    }
    l->n_lot = n;
    l->n_vessel = k;
    l->n_stock = m;
    return n + k + m;
}

int larder_find(struct cli *c)
{
    struct cli_desk d;
    struct st_larder l;
    struct st_buf words = { 0 };
    char what[160];

    int code = larder_ready(c, NULL, 1, 12, "write for example: stillroom larder find walnuts");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    for (int i = 0; i < c->argc; i++)
        st_buf_printf(&words, "%s%s", i ? " " : "", c->argv[i]);
    if (!st_larder_read(&d.desk, true, &l))
        code = cli_desk_fail(&d);
    else if (sift(&l, st_buf_text(&words)) == 0 && c->json)
        code = cli_json_print(st_doc_larder(&l)) == ST_EXIT_DONE ? ST_EXIT_UNMET : ST_EXIT_SYSTEM;
    else if (l.n_lot + l.n_vessel + l.n_stock == 0) {
        snprintf(what, sizeof what, "\"%.100s\"", st_buf_text(&words));
        cli_error(what, "nothing in the larder has these words", "try one word of them, or \"stillroom larder --all\"");
        code = ST_EXIT_UNMET;
    } else if (c->json)
        code = cli_json_print(st_doc_larder(&l));
    else {
        for (int i = 0; i < l.n_lot; i++)
            larder_lot_line(&l.lot[i], c->units);
        stock_lines(&l, c->units);
        for (int i = 0; i < l.n_vessel; i++)
            vessel_line(&l.vessel[i], l.stands_in[i], c->units);
    }
    st_buf_done(&words);
    cli_desk_close(&d);
    return code;
}
