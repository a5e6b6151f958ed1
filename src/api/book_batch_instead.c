#include "api/book_batch_instead.h"

#include <math.h>
#include <string.h>

#include "api/book_batch_braces.h"
#include "api/book_batch_own.h"
#include "api/book_larder.h"
#include "api/book_lot_own.h"
#include "text/figure_words.h"
#include "text/line.h"
#include "text/quantity.h"

/* ---- whether it is another thing ---- */

/* Lemon juice of whole lemons, the yolk of an egg. */
static bool is_part(const struct st_ingredient *part, const struct st_ingredient *whole)
{
    static const char END[] = "_whole";
    const size_t n = strlen(whole->slug), m = sizeof END - 1;
    if (*part->whole && strcmp(part->whole, whole->slug) == 0)
        return true;
    if (n <= m || strcmp(whole->slug + n - m, END) != 0)
        return false;
    return (part->kind == ST_KIND_EGG && whole->kind == ST_KIND_EGG) ||
           (*part->botanical && strcmp(part->botanical, whole->botanical) == 0);
}

bool st_batch_lot_is(const struct st_ingredient *said, const struct st_ingredient *lot)
{
    return strcmp(said->slug, lot->slug) == 0 || strcmp(said->like, lot->slug) == 0 || is_part(said, lot);
}

/* ---- what the weighing says ---- */

bool st_batch_line_weighed(const struct st_recipe *r, const struct st_catalogue *c, const struct book_weighing *w,
                           struct st_line *out)
{
    struct st_problem p;
    if (w->line == 0)
        return st_line_parse(w->words, r->measures, c, out, &p) == 0;
    const int step = st_batch_step(r, w->step, &p);
    if (step < 0 || w->line > r->step[step].n_line)
        return false;
    *out = r->step[step].line[w->line - 1];
    return true;
}

bool st_batch_strength_planned(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in,
                               const struct book_weighing *w, const struct st_line *line)
{
    return w->line > 0 && line->strength.known && st_lot_strength_unsaid(a, lot, in);
}

/* The lot's, else what the maker said of what was added, never what a recipe plans; NAN: the sheet's, or not known. */
static double strength_in(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in,
                          const struct book_weighing *w, const struct st_line *line)
{
    double q = (double)NAN;
    if (in->kind != ST_KIND_SPIRIT && in->kind != ST_KIND_WINE)
        return q;
    if (st_batch_lot_strength(a, lot, &q) == BOOK_OK && q > 0.0)
        return q;
    return w->line == 0 && line->strength.known ? line->strength.value : (double)NAN;
}

/* "50 g bitter almond"; NULL where no amount stands in front. */
static const char *words_of(const struct st_batch_ask *a, const struct st_recipe *r, const struct book_weighing *w,
                            const struct book_lot *lot, const struct st_ingredient *in, const struct st_line *line)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    const double q = strength_in(a, lot, in, w, line);
    if (st_quantity_parse(w->words, strlen(w->words), r->measures, &x, &used, &why) != 0 || x.open != ST_CLOSED)
        return NULL;
    if (isfinite(q))
        return st_arena_printf(a->arena, "%.*s %s %.6g %%", (int)used, w->words, in->name, q);
    return st_arena_printf(a->arena, "%.*s %s%s", (int)used, w->words, in->name, line->gross ? ", as bought" : "");
}

void st_batch_instead_of(const struct st_batch_ask *a, const struct st_recipe *r, const struct st_catalogue *c,
                         const struct book_weighing *w, const struct book_lot *lot, struct st_batch_instead *out)
{
    const struct st_ingredient *in = st_lot_ingredient(c, lot);
    struct st_line line = { .text = NULL };
    const bool read = st_batch_line_weighed(r, c, w, &line);
    *out = (struct st_batch_instead){ .words = NULL };
    if (in && read && line.what && st_batch_lot_is(line.what, in) && !st_batch_strength_planned(a, lot, in, w, &line))
        return;
    if (in)
        out->words = words_of(a, r, w, lot, in, &line);
    if (!in)
        out->note = st_arena_printf(a->arena,
                                    "%.20s %.60s was not assessed: no ingredient sheet knows it; it counts as %.60s%s",
                                    lot->code, lot->name, line.what ? line.what->name : w->words,
                                    line.what && line.strength.known ? " of the strength that was planned" : "");
    else if (!out->words)
        out->note = st_arena_printf(a->arena, "%.20s %.60s went in as \"%.60s\" and is not reckoned", lot->code,
                                    in->name, w->words);
}

/* ---- into a text ---- */

/* `unreckoned` takes so many bytes of each; one longer would leave the text unreadable. */
static void put_note(struct st_buf *out, const char *note)
{
    enum { MOST = 190 };
    char text[MOST + 1];
    size_t n = strlen(note);
    if (n <= MOST) {
        st_batch_quoted(out, note);
        return;
    }
    for (n = MOST - 3; n > 0 && note[n] != ' '; n--)
        ;
    while (n > 0 && strchr(" ,;:.(", note[n - 1]))
        n--;
    n = n > 0 ? n : MOST - 3; /* one word alone */
    memcpy(text, note, n);
    memcpy(text + n, "...", sizeof "...");
    st_batch_quoted(out, text);
}

static void put_rows(const char *const note[], int n, int indent, struct st_buf *out)
{
    for (int i = 0; i < n; i++) {
        st_buf_printf(out, "%*s- ", indent, "");
        put_note(out, note[i]);
        st_buf_char(out, '\n');
    }
}

/* Behind its key: a list in brackets, in rows, or one text alone. */
static void put_behind(const char *text, const char *value, const char *const note[], int n, struct st_buf *out)
{
    const char *first = value + strspn(value, " \t"), *end = value + strcspn(value, "\n");
    if (*first == '[') {
        st_buf_add_n(out, text, (size_t)(first + 1 - text));
        for (int i = 0; i < n; i++) {
            put_note(out, note[i]);
            st_buf_add(out, ", ");
        }
        st_buf_add(out, first + 1);
        return;
    }
    const char *next = *end ? end + 1 : end;
    const bool rows = first >= end || *first == '#' || *first == '\r';
    st_buf_add_n(out, text, (size_t)(value - text));
    st_buf_char(out, '\n');
    if (!rows)
        st_buf_printf(out, "  - %.*s\n", (int)(end - first), first);
    put_rows(note, n, rows ? (int)strspn(next, " ") : 2, out);
    st_buf_add(out, next);
}

/* Into a text that is all in braces: to the list there is, or as one more key of it. */
static void put_in_braces(const char *text, const char *inside, const char *const note[], int n, struct st_buf *out)
{
    const char *end, *value = st_batch_braces_value(inside, "unreckoned", &end);
    struct st_buf more = { 0 };
    st_buf_add(&more, value ? "" : "\"unreckoned\": [");
    for (int i = 0; i < n; i++) {
        st_buf_add(&more, i ? ", " : "");
        put_note(&more, note[i]);
    }
    if (value && *value != '[') { /* one text alone */
        st_buf_add_n(out, text, (size_t)(value - text));
        st_buf_printf(out, "[%s, %.*s]", st_buf_text(&more), (int)(end - value), value);
        st_buf_add(out, end);
    } else {
        st_buf_add(&more, value ? "" : "]");
        st_batch_braces_put(text, value ? value + 1 : inside, st_buf_text(&more), out);
    }
    st_buf_done(&more);
}

void st_batch_unreckoned_put(const char *text, const char *const note[], int n, struct st_buf *out)
{
    static const char KEY[] = "unreckoned:";
    const char *there = st_batch_row_of(text, KEY), *steps = st_batch_row_of(text, "steps:");
    if (n == 0) {
        st_buf_add(out, text);
        return;
    }
    if (st_batch_braces(text)) {
        put_in_braces(text, st_batch_braces(text), note, n, out);
        return;
    }
    if (there) {
        put_behind(text, there + sizeof KEY - 1, note, n, out);
        return;
    }
    const size_t at = steps ? (size_t)(steps - text) : strlen(text);
    st_buf_add_n(out, text, at);
    if (at > 0 && text[at - 1] != '\n')
        st_buf_char(out, '\n');
    st_buf_printf(out, "%s\n", KEY);
    put_rows(note, n, 2, out);
    st_buf_add(out, text + at);
}

/* ---- what was only taken ---- */

enum book_status st_batch_also_took(const struct st_batch_ask *a, int64_t batch, struct st_buf *text)
{
    struct book_lot_use *use;
    struct book_lot lot;
    int m, n = 0;
    const struct book_wanted of = { .column = "batch_id", .integer = batch, .order = "id" };
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &m);
    const char **note = s == BOOK_OK ? st_arena_alloc(a->arena, ((size_t)m + 1) * sizeof *note) : NULL;
    for (int i = 0; i < m && s == BOOK_OK; i++) {
        char much[40];
        if (use[i].weighing_id != BOOK_NO || strcmp(use[i].why, "batch") != 0)
            continue;
        s = book_get(a->book, BOOK_LOT, use[i].lot_id, a->arena, &lot);
        st_plain_figure(much, sizeof much, use[i].amount, 4);
        if (s == BOOK_OK)
            note[n++] = st_arena_printf(a->arena, "also took: %.20s %.80s (%s %s), not reckoned", lot.code, lot.name,
                                        much, lot.dim);
    }
    if (s != BOOK_OK || n == 0)
        return s;
    struct st_buf out = { 0 };
    st_batch_unreckoned_put(st_buf_text(text), note, n, &out);
    st_buf_done(text);
    *text = out;
    return BOOK_OK;
}
