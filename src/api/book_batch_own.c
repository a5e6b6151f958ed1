#include "api/book_batch_own.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_along.h"
#include "api/book_batch_bottles.h"
#include "api/book_batch_braces.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_holds.h"
#include "core/density_mixture.h"
#include "core/strength.h"
#include "model/clearing.h"
#include "model/drink_class.h"
#include "text/yaml_report.h"
#include "util/memory.h"

static const int SUGAR[] = { ST_SUCROSE, ST_GLUCOSE, ST_FRUCTOSE, ST_LACTOSE };
enum { NSUGAR = sizeof SUGAR / sizeof *SUGAR };

void st_batch_quoted(struct st_buf *b, const char *text)
{
    size_t left = strlen(text);
    st_buf_char(b, '"');
    for (; *text; text++, left--) {
        if ((unsigned char)*text >= 0x80) { /* a letter that was cut in two is left out */
            const size_t n = st_utf8_length((const unsigned char *)text, left);
            st_buf_add_n(b, text, n);
            text += n ? n - 1 : 0;
            left -= n ? n - 1 : 0;
            continue;
        }
        if (*text == '"' || *text == '\\')
            st_buf_char(b, '\\');
        st_buf_char(b, (unsigned char)*text < ' ' ? ' ' : *text);
    }
    st_buf_char(b, '"');
}

/* ---- figures ---- */

static void share(struct st_buf *b, const char *key, double w)
{
    st_buf_printf(b, ", %s: %.5f %%", key, 100.0 * fmax(0.0, w));
}

/* Half of the interval in parts of the value. */
static double half_of(const struct st_interval *x)
{
    return x->known && x->value > 0.0 && isfinite(x->high - x->low) ? 0.5 * (x->high - x->low) / x->value : 0.0;
}

static void uncertain(struct st_buf *b, const char *key, double percent, double half)
{
    st_buf_printf(b, ", %s: %.5f-%.5f %%", key, fmax(0.0, percent * (1.0 - half)), percent * (1.0 + half));
}

/* Mass fractions of g; false where there is nothing. */
static bool fractions(const double g[ST_NCOMP], double w[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += fmax(0.0, g[c]);
    for (int c = 0; c < ST_NCOMP && sum > 0.0; c++)
        w[c] = fmax(0.0, g[c]) / sum;
    return sum > 0.0;
}

static const struct st_balance *balance_of(const struct st_foretold *f, const struct st_recipe *r, const char *step)
{
    for (int i = 0; i < f->n_balance; i++)
        if (strcmp(r->step[f->balance[i].step].id, step) == 0)
            return &f->balance[i];
    return NULL;
}

/* Mass fraction of ethanol in a spirit so strong; NAN. */
static double ethanol_in(double pct_vol)
{
    double rho, pure;
    if (!(pct_vol > 0.0 && pct_vol <= 100.0) || st_spirit_density(pct_vol, &rho) < 0 ||
        st_spirit_density(100.0, &pure) < 0)
        return (double)NAN;
    return 0.01 * pct_vol * pure / rho;
}

/* What a steep is foretold to give off, with the strength of its liquor as it was written of the lot: water makes room. */
static bool spent_fractions(const struct book_lot *lot, const struct st_balance *x, const struct st_batch_spent *spent,
                            double w[ST_NCOMP])
{
    if (!fractions(x->spent_g, w))
        return false;
    const double by = ethanol_in(lot->strength_pct_vol) / ethanol_in(spent->strength_pct_vol);
    const double more = (by - 1.0) * w[ST_ETHANOL];
    if (!isfinite(more) || more > w[ST_WATER])
        return true;
    w[ST_ETHANOL] += more;
    w[ST_WATER] -= more;
    return true;
}

static bool define_spent(const struct book_lot *lot, const struct st_batch_made *m, const struct st_batch_spent *spent,
                         struct st_buf *b)
{
    const struct st_balance *x = spent->step ? balance_of(&m->out, &m->file.recipe, spent->step) : NULL;
    double w[ST_NCOMP], q;
    if (!x || !spent_fractions(lot, x, spent, w) || st_strength_mixture(w, &q) < 0 || !*lot->slug)
        return false;
    const double half = isfinite(lot->strength_u) && lot->strength_pct_vol > 0.0
                            ? 1.96 * lot->strength_u / lot->strength_pct_vol
                            : half_of(&m->out.fig[ST_FIG_STRENGTH]);
    st_buf_add(b, "{like: ");
    st_batch_quoted(b, lot->slug);
    uncertain(b, "strength", q, half);
    share(b, "water", w[ST_WATER]);
    uncertain(b, "sugars", 100.0 * st_mixture_sugars(w), half_of(&m->out.fig[ST_FIG_SUGAR]));
    uncertain(b, "acid", 100.0 * w[ST_ACID], half_of(&m->out.fig[ST_FIG_ACID]));
    share(b, "polyol", w[ST_POLYOL]);
    share(b, "protein", w[ST_PROTEIN]);
    share(b, "extract", w[ST_EXTRACT]);
    share(b, "fat", w[ST_FAT]);
    share(b, "solids", w[ST_SOLIDS]);
    st_buf_printf(b, ", edible: 100 %%, retention: %.4f",
                  spent->drained_g > 0.0 ? fmin(20.0, spent->liquor_g / spent->drained_g) : 0.0);
    return true;
}

/* The lot's own strength, % vol; where nobody wrote it down that of its batch as foretold; NAN. */
static double poured_strength(const struct book_lot *lot, const struct st_batch_made *m)
{
    const struct st_interval *q = &m->out.fig[ST_FIG_STRENGTH];
    return isfinite(lot->strength_pct_vol) ? lot->strength_pct_vol : q->known ? q->value : (double)NAN;
}

/* Grams in a litre as foretold, with the lot's own sugar and acid in their place. */
static bool poured_fractions(const struct book_lot *lot, const struct st_batch_made *m, double w[ST_NCOMP])
{
    double rho, g_l[ST_NCOMP];
    if (!isfinite(poured_strength(lot, m)) || !fractions(m->out.final_g, w) || st_density_mixture(w, ST_T20, &rho) < 0)
        return false;
    const double sweet = st_mixture_sugars(w) * rho;
    for (int c = 0; c < ST_NCOMP; c++)
        g_l[c] = w[c] * rho;
    for (int i = 0; i < NSUGAR && isfinite(lot->sugar_g_l) && sweet > 0.0; i++)
        g_l[SUGAR[i]] *= lot->sugar_g_l / sweet;
    if (isfinite(lot->sugar_g_l) && !(sweet > 0.0))
        g_l[ST_SUCROSE] = lot->sugar_g_l;
    if (isfinite(lot->acid_g_l))
        g_l[ST_ACID] = lot->acid_g_l;
    return st_mixture_from_strength(poured_strength(lot, m), g_l, w) >= 0;
}

static bool define_poured(const struct book_lot *lot, const struct st_batch_made *m, struct st_buf *b)
{
    static const char *const NAME[NSUGAR] = { "sucrose", "glucose", "fructose", "lactose" };
    double w[ST_NCOMP];
    if (!poured_fractions(lot, m, w))
        return false;
    const double q = poured_strength(lot, m);
    const double half =
        isfinite(lot->strength_u) && q > 0.0 ? 1.96 * lot->strength_u / q : half_of(&m->out.fig[ST_FIG_STRENGTH]);
    st_buf_add(b, "{like: vodka, kind: wine"); /* a drink of its own: what it holds is told by its figures and flags */
    uncertain(b, "strength", q, half);
    for (int i = 0; i < NSUGAR; i++)
        if (i == 0 || w[SUGAR[i]] > 0.0)
            uncertain(b, NAME[i], 100.0 * w[SUGAR[i]], half_of(&m->out.fig[ST_FIG_SUGAR]));
    uncertain(b, "acid", 100.0 * w[ST_ACID], half_of(&m->out.fig[ST_FIG_ACID]));
    share(b, "polyol", w[ST_POLYOL]);
    share(b, "protein", w[ST_PROTEIN]);
    share(b, "extract", w[ST_EXTRACT]);
    share(b, "fat", w[ST_FAT]);
    return true;
}

/* ---- one lot ---- */

/* Codes of one's own may hold anything, names of ingredients part words at every sign and fold accents: a code with more than
 * plain letters and digits gets its row's number behind it, so that V-1 and V.1 stay two. */
const char *st_batch_own_key(const struct st_batch_ask *a, const struct book_lot *lot)
{
    char *text = st_arena_strdup(a->arena, lot->code);
    bool plain = true;
    for (char *p = text; *p; p++) {
        const unsigned char c = (unsigned char)*p;
        plain = plain && c < 0x80 && isalnum(c);
        if (c < 0x80 && !isalnum(c))
            *p = ' ';
    }
    return plain ? text : st_arena_printf(a->arena, "%s lot %lld", text, (long long)lot->id);
}

/* As people call it. */
static void put_called(const struct st_batch_ask *a, struct st_buf *b, const struct book_lot *lot)
{
    const char *name = st_arena_printf(a->arena, "%.110s", lot->name);
    if (!*name)
        return;
    st_buf_add(b, ", called: ");
    st_batch_quoted(b, name);
}

/* What of a drink follows from what went into it: nothing with oil in it, then there is none, else nobody knows; what its
 * alcohol comes of, spirits alone, spirits among others, or nothing. */
static void put_drink(struct st_buf *b, const struct st_batch_made *m)
{
    const struct st_recipe *r = &m->file.recipe;
    const struct st_interval *q = &m->out.fig[ST_FIG_STRENGTH];
    bool none = true;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            none = none && (!r->step[s].line[i].what || st_clearing_without_oil(r->step[s].line[i].what));
    if (none)
        st_buf_add(b, ", oil: 0 mL/kg");
    const enum st_truth spirit = st_class_base(r);
    if (spirit != ST_NO)
        st_buf_add(b, spirit == ST_YES ? ", alcohol: of spirit" : ", alcohol: partly of spirit");
    else if (q->known && !(q->high > 0.0))
        st_buf_add(b, ", alcohol: none");
}

static int step_called(const struct st_recipe *r, const char *id)
{
    for (int s = 0; id && s < r->n_step; s++)
        if (strcmp(r->step[s].id, id) == 0)
            return s;
    return -1;
}

const char *st_batch_note_alone(const char *note)
{
    for (const char *at; (at = strstr(note, ": ")) != NULL && at - note <= 44; note = at + 2) {
        const size_t code = strcspn(note, " "), end = (size_t)(at - note);
        if (strncmp(note + code, " of ", 4) != 0 || code + 4 > end || strcspn(note + code + 4, " :") != end - code - 4)
            break;
    }
    return note;
}

/* "and 3 more not assessed", told of a batch before: how many; 0 where it is something by its name. */
static int told_more(const char *note)
{
    static const char BEFORE[] = "and ";
    char *end;
    if (strncmp(note, BEFORE, sizeof BEFORE - 1) != 0)
        return 0;
    const long n = strtol(note + sizeof BEFORE - 1, &end, 10);
    return strcmp(end, " more not assessed") == 0 && n > 0 && n < 100000 ? (int)n : 0;
}

static bool is_told(const struct st_recipe *r, int i)
{
    for (int j = 0; j < i; j++)
        if (strcmp(st_batch_note_alone(r->unreckoned[j]), st_batch_note_alone(r->unreckoned[i])) == 0)
            return true;
    return false;
}

static void put_note(const struct st_batch_ask *a, const struct book_lot *lot, const struct book_batch *batch,
                     const char *what, struct st_batch_own *out)
{
    out->note[out->n_note++] = st_arena_printf(a->arena, "%.20s of %.20s: %s", lot->code, batch->code, what);
}

/* What its batch holds unassessed, each by its name. */
static void put_notes(const struct st_batch_ask *a, const struct book_lot *lot, const struct book_batch *batch,
                      const struct st_recipe *r, struct st_batch_own *out)
{
    int more = 0;
    for (int i = 0; i < r->n_unreckoned; i++) {
        const char *what = st_batch_note_alone(r->unreckoned[i]);
        const int n = told_more(what);
        if (n > 0)
            more += n;
        else if (!is_told(r, i) && out->n_note < ST_BATCH_OWN_NOTES)
            put_note(a, lot, batch, what, out);
        else
            more += !is_told(r, i);
    }
    if (more > 0)
        put_note(a, lot, batch, st_arena_printf(a->arena, "and %d more not assessed", more), out);
}

static enum book_status define(const struct st_batch_ask *a, const struct book_lot *lot, const struct book_batch *batch,
                               const struct st_batch_made *m, struct st_batch_own *out)
{
    struct st_batch_spent spent = { .name = "" };
    struct st_problem p = { .what = "" };
    struct st_buf b = { 0 };
    const bool is_spent = strcmp(lot->kind, "spent") == 0;
    enum book_status s = is_spent ? st_batch_spent_lot(a, batch, m, lot, &spent, &p) : BOOK_OK;
    if (s != BOOK_OK || p.what[0])
        return s;
    out->name = st_arena_printf(a->arena, "%s %s", is_spent ? "spent" : "poured", st_batch_own_key(a, lot));
    st_buf_printf(&b, "\"%s\": ", out->name);
    out->known = is_spent ? define_spent(lot, m, &spent, &b) : define_poured(lot, m, &b);
    if (out->known) {
        put_called(a, &b, lot);
        st_batch_along(&m->file.recipe, &m->out, batch->code, is_spent ? step_called(&m->file.recipe, spent.step) : -1,
                       is_spent ? lot->slug : "", "", &b);
        if (!is_spent)
            put_drink(&b, m);
        st_batch_holds(lot, batch->code, m, spent.step, &b);
        put_notes(a, lot, batch, &m->file.recipe, out);
    }
    st_buf_add(&b, "}");
    out->definition = st_arena_strdup(a->arena, st_buf_text(&b));
    st_buf_done(&b);
    return BOOK_OK;
}

enum book_status st_batch_own(const struct st_batch_ask *a, const struct book_lot *lot, struct st_batch_own *out)
{
    struct st_batch_ask deeper = *a;
    struct st_batch_moment then;
    struct book_batch batch;
    *out = (struct st_batch_own){ .name = "", .definition = "" };
    if (lot->from_batch == BOOK_NO || ++deeper.deep > ST_BATCH_DEEP)
        return BOOK_OK;
    enum book_status s = st_batch_lot_moment(a, lot, &then);
    deeper.until = then.day ? &then : NULL;           /* what was added to its batch later is not in it */
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    if (s == BOOK_OK)
        s = book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &batch);
    if (s == BOOK_OK)
        s = st_batch_made(&deeper, &batch, true, true, m);
    if (s == BOOK_OK && m->told)
        s = define(&deeper, lot, &batch, m, out);
    st_batch_made_done(m);
    free(m);
    return s;
}

/* ---- into a text ---- */

const char *st_batch_row_of(const char *text, const char *key)
{
    const size_t n = strlen(key);
    for (const char *p = text; p && *p; p = strchr(p, '\n'), p = p ? p + 1 : NULL)
        if (strncmp(p, key, n) == 0)
            return p;
    return NULL;
}

/* The row of a key, which may stand in quotes, and what stands behind its colon; NULL. */
static const char *key_row(const char *text, const char *key, const char **value)
{
    static const char *const QUOTE[] = { "", "\"", "'" };
    for (size_t i = 0; i < sizeof QUOTE / sizeof *QUOTE; i++) {
        char said[40];
        (void)snprintf(said, sizeof said, "%s%s%s:", QUOTE[i], key, QUOTE[i]);
        const char *row = st_batch_row_of(text, said);
        *value = row ? row + strlen(said) : NULL;
        if (row)
            return row;
    }
    return NULL;
}

/* Blanks before the first row of a map behind `ingredients:`; 0 where that row is no such. */
static int indent_of(const char *rest)
{
    const char *p = strchr(rest, '\n');
    rest += strspn(rest, " \t");
    if (*rest != '\n' && *rest != '#')
        return 0;
    while (p) {
        const int n = (int)strspn(p + 1, " ");
        const char c = p[1 + n];
        if (c != '\n' && c != '#' && c != '\r' && c)
            return n;
        p = strchr(p + 1, '\n');
    }
    return 0;
}

/* Behind the brace that opens the map of `ingredients:`, in a file of rows; NULL: it is written in rows too. */
static const char *brace_of(const char *value)
{
    const char *p = value;
    for (p += strspn(p, " \t\r\n"); *p == '#'; p += strspn(p, " \t\r\n"))
        p += strcspn(p, "\n");
    return *p == '{' ? p + 1 : NULL;
}

/* In braces: into those of `ingredients:`, or such a map into those of the file. */
static bool put_in_braces(const char *text, const struct st_batch_own own[], int n, struct st_buf *out)
{
    const char *end, *value, *inside = st_batch_braces(text);
    if (inside)
        value = st_batch_braces_value(inside, "ingredients", &end);
    else if (!key_row(text, "ingredients", &value))
        return false;
    const char *at = value ? brace_of(value) : inside;
    struct st_buf more = { 0 };
    if (!at)
        return false;
    st_buf_add(&more, at == inside ? "\"ingredients\": {" : "");
    for (int i = 0; i < n; i++)
        st_buf_printf(&more, "%s%s", i ? ", " : "", own[i].definition);
    st_buf_add(&more, at == inside ? "}" : "");
    st_batch_braces_put(text, at, st_buf_text(&more), out);
    st_buf_done(&more);
    return true;
}

bool st_batch_own_put(const char *text, const struct st_batch_own own[], int n, struct st_buf *out)
{
    if (put_in_braces(text, own, n, out))
        return true;
    const char *value, *behind;
    const char *there = key_row(text, "ingredients", &value), *steps = key_row(text, "steps", &behind);
    const int indent = there ? indent_of(value) : 2;
    const char *at = there ? strchr(there, '\n') : steps;
    if (!at || indent == 0)
        return false;
    if (there)
        at++;
    st_buf_add_n(out, text, (size_t)(at - text));
    if (!there)
        st_buf_add(out, "ingredients:\n");
    for (int i = 0; i < n; i++)
        st_buf_printf(out, "%*s%s\n", indent, "", own[i].definition);
    if (!there)
        st_buf_char(out, '\n');
    st_buf_add(out, at);
    return true;
}
