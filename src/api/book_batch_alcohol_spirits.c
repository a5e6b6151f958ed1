/* Spirits and wines in batches of which no lot is told, and lines that name a lot which nobody weighed. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"
#include "api/book_batch_named.h"
#include "core/strength.h"
#include "model/range.h"
#include "text/line.h"
#include "text/quantity.h"

static const double MEASURE = 0.05; /* common practice, no source */

/* A line of a recipe with a spirit or a wine on it, or which names a lot of this house, and all of one recipe. */
struct spirit {
    const char *step;
    int line;
    struct st_amount amount;
    double q, q_u; /* % vol */
    int lot;       /* whose code it says; -1 */
};
struct st_alcohol_recipe {
    const char *text;
    uint32_t hash;
    struct spirit *spirit;
    int n;
    enum st_measures measures;
};

static bool holds_alcohol(const struct st_line *l)
{
    return l->what && (l->what->kind == ST_KIND_SPIRIT || l->what->kind == ST_KIND_WINE || l->strength.known);
}

/* mL of an amount of a spirit; NAN when it is open or counted. */
static double ml_of_amount(const struct st_amount *x, double q)
{
    double rho;
    if (x->open != ST_CLOSED)
        return (double)NAN;
    if (x->dim == ST_DIM_VOLUME)
        return x->value;
    if (x->dim == ST_DIM_MASS && st_spirit_density(q, &rho) >= 0)
        return x->value / (rho / 1000.0);
    return (double)NAN;
}

/* % vol of a line: as written, else as its ingredient's sheet has it, then as wide as that says. */
static double strength_of(const struct st_line *l, double *u)
{
    const struct st_range *sheet = &l->what->strength;
    *u = ST_ALCOHOL_LABEL_U;
    if (l->strength.known)
        return l->strength.value;
    if (!sheet->known)
        return (double)NAN;
    if (sheet->high > sheet->low)
        *u = fmax(*u, (sheet->high - sheet->low) / 3.92);
    return sheet->value;
}

static void take_spirits(const struct st_alcohol_ledger *k, const struct st_recipe *r, struct st_alcohol_recipe *x)
{
    int room = 0;
    for (int st = 0; st < r->n_step; st++)
        for (int i = 0; i < r->step[st].n_line; i++) {
            const struct st_line *l = &r->step[st].line[i];
            const int lot = l->what && l->text ? st_batch_line_lot(k->a, l->text, k->lot, k->n_lot) : -1;
            if (lot < 0 && !holds_alcohol(l))
                continue;
            x->spirit = st_alcohol_grow(k->a, x->spirit, x->n, &room, sizeof *x->spirit);
            struct spirit *one = &x->spirit[x->n++];
            *one = (struct spirit){ st_arena_strdup(k->a->arena, r->step[st].id), i + 1, l->amount, 0.0, 0.0, lot };
            one->q = strength_of(l, &one->q_u);
        }
    x->measures = r->measures;
}

/* Read a recipe for its spirits; the same text only once. */
static const struct st_alcohol_recipe *spirits_of(struct st_alcohol_ledger *k, const char *text)
{
    struct st_alcohol_recipe x = { .text = text, .hash = st_name_hash(ST_NAME_START, text) };
    for (int i = 0; i < k->n_recipe; i++)
        if (k->recipe[i].hash == x.hash && strcmp(k->recipe[i].text, text) == 0)
            return &k->recipe[i];
    const struct st_batch_made *m = st_alcohol_read(k, text);
    if (m->whole)
        take_spirits(k, &m->file.recipe, &x);
    k->recipe = st_alcohol_grow(k->a, k->recipe, k->n_recipe, &k->room_recipe, sizeof *k->recipe);
    k->recipe[k->n_recipe] = x;
    return &k->recipe[k->n_recipe++];
}

/* covered: L of it that lots gave already; the rest is an entry when it is more than a measure may be wrong by. */
static void enter_spirit(struct st_alcohol_ledger *k, const struct book_batch *batch, double q, double q_u,
                         const struct st_amount *x, const char *day, double *covered)
{
    struct st_alcohol_entry e = { .id = batch->id, .way = ST_ALC_IN, .day = day };
    const double ml = isfinite(q) ? ml_of_amount(x, q) : (double)NAN;
    e.known = isfinite(ml);
    if (e.known) {
        const struct st_alcohol_liquid liquid = { ml,
                                                  x->value > 0.0 ? ml * (x->high - x->low) / x->value / 3.92 : 0.0,
                                                  q,
                                                  q_u,
                                                  st_alcohol_cause_named(k, q),
                                                  st_alcohol_cause_own(k) };
        st_alcohol_litres(&liquid, &e);
    }
    if (!e.known && *covered > 0.0)
        return; /* "until covered", and what was poured is told by its lot */
    const double whole = e.litres, by_lots = fmin(*covered, whole);
    *covered -= by_lots;
    e.litres -= by_lots;
    if (by_lots > 0.0 && e.litres <= MEASURE * whole)
        return;
    st_alcohol_enter(k, e);
    st_alcohol_step(k, "", batch->id, &e);
}

/* What a line brings: of the lot that it names, which a batch begun as another says again, else from outside. */
static enum book_status enter_amount(struct st_alcohol_ledger *k, int at, const struct spirit *l,
                                     const struct st_amount *x, const char *day, double *covered)
{
    if (l->lot >= 0)
        return st_alcohol_by_line(k, l->lot, at, x, day);
    enter_spirit(k, &k->batch[at], l->q, l->q_u, x, day, covered);
    return BOOK_OK;
}

/* Planned where nothing was weighed of it; else what was weighed without a lot. */
static enum book_status enter_line(struct st_alcohol_ledger *k, int at, const struct st_alcohol_recipe *of,
                                   const struct spirit *l, const struct book_weighing w[], int n)
{
    enum book_status s = BOOK_OK;
    bool weighed = false;
    double none = 0.0;
    for (int i = 0; i < n && s == BOOK_OK; i++) {
        struct st_amount x;
        struct st_problem why;
        size_t used;
        if (w[i].line != l->line || strcmp(w[i].step, l->step) != 0)
            continue;
        weighed = true;
        if (w[i].lot_id == BOOK_NO &&
            st_quantity_parse(w[i].words, strlen(w[i].words), of->measures, &x, &used, &why) == 0)
            s = enter_amount(k, at, l, &x, w[i].on_day, &none);
    }
    if (!weighed)
        s = enter_amount(k, at, l, &l->amount, k->batch[at].begun_on, &k->of[at].took);
    return s;
}

/* What is not in the recipe, and of no lot: "100 mL vodka 40 %". */
static void enter_added(struct st_alcohol_ledger *k, const struct book_batch *batch, enum st_measures measures,
                        const struct book_weighing *w)
{
    struct st_line l;
    struct st_problem p = { .what = "" };
    double none = 0.0;
    if (w->line != 0 || w->lot_id != BOOK_NO || st_line_parse(w->words, measures, k->catalogue, &l, &p) != 0 ||
        !holds_alcohol(&l))
        return;
    double u;
    const double q = strength_of(&l, &u);
    enter_spirit(k, batch, q, u, &l.amount, w->on_day, &none);
}

enum book_status st_alcohol_spirits(struct st_alcohol_ledger *k, int at)
{
    const struct book_batch *batch = &k->batch[at];
    struct book_weighing *w;
    int n;
    const struct st_alcohol_recipe *of = spirits_of(k, batch->text);
    const struct book_wanted own = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(k->a->book, BOOK_WEIGHING, &own, k->a->arena, &w, &n);
    for (int i = 0; s == BOOK_OK && i < of->n; i++)
        s = enter_line(k, at, of, &of->spirit[i], w, n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        enter_added(k, batch, of->measures, &w[i]);
    return s;
}
