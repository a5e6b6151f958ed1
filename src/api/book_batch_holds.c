#include "api/book_batch_holds.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "model/ledger.h"
#include "text/rules_built.h"
#include "util/memory.h"

/* ---- how much of it there is ---- */

/* kg of the lot, as its batch has it; NAN not known. */
static double lot_kg(const struct book_lot *lot, const struct st_foretold *f)
{
    const struct st_interval *rho = &f->fig[ST_FIG_DENSITY];
    if (!(lot->amount > 0.0))
        return (double)NAN;
    if (strcmp(lot->dim, "g") == 0)
        return lot->amount * 1e-3;
    return strcmp(lot->dim, "mL") == 0 && rho->known ? lot->amount * rho->low * 1e-6 : (double)NAN;
}

/* kg of what the batch gave. */
static double drink_kg(const struct st_foretold *f)
{
    const struct st_interval *g = &f->fig[ST_FIG_MASS];
    return g->known && g->low > 0.0 ? g->low * 1e-3 : (double)NAN;
}

static double drained_kg(const struct st_foretold *f, int step)
{
    double g = 0.0;
    for (int i = 0; i < f->n_balance; i++)
        for (int c = 0; f->balance[i].step == step && c < ST_NCOMP; c++)
            g += fmax(0.0, f->balance[i].spent_g[c]);
    return g > 0.0 ? g * 1e-3 : (double)NAN;
}

static int step_called(const struct st_recipe *r, const char *id)
{
    for (int s = 0; id && s < r->n_step; s++)
        if (strcmp(r->step[s].id, id) == 0)
            return s;
    return -1;
}

/* ---- into the row ---- */

static void put_quoted(struct st_buf *out, const char *text)
{
    st_buf_char(out, '"');
    for (; *text; text++)
        if (*text != '"' && *text != '\\')
            st_buf_char(out, (unsigned char)*text < ' ' ? ' ' : *text);
    st_buf_char(out, '"');
}

static const struct st_ingredient *what_of(const struct st_recipe *r, const struct st_carrier *c)
{
    return r->step[c->step].line[c->line].what;
}

/* "12 g wormwood and 3 g sage", for as many as there is room. */
static void carriers_words(char *buf, size_t size, const struct st_recipe *r, const struct st_ledger_entry *e)
{
    size_t n = 0;
    buf[0] = '\0';
    for (int i = 0; i < e->n_carrier && i < 3 && n < size; i++)
        n += (size_t)snprintf(buf + n, size - n, "%s%.60s",
                              i == 0                                ? ""
                              : i + 1 == e->n_carrier || i + 1 == 3 ? " and "
                                                                    : ", ",
                              what_of(r, &e->carrier[i])->name);
    if (e->n_carrier > 3 && n < size)
        (void)snprintf(buf + n, size - n, " and others");
}

static void put_entry(struct st_buf *out, const struct st_recipe *r, const struct st_ledger_entry *e, double kg,
                      const char *code, bool drained)
{
    char of[220], why[400];
    const bool all_shut = e->n_shut > 0 && e->n_shut == e->n_carrier + e->n_more;
    carriers_words(of, sizeof of, r, e);
    st_buf_add(out, "{toxicant: ");
    put_quoted(out, e->toxicant->slug);
    const double all = e->high_mg / kg;
    const double mg_kg =
        !drained && e->high_mg_kg < all ? e->high_mg_kg : all; /* a gram of it holds no more than that */
    if (e->n_unknown > 0 || !(kg > 0.0) || !isfinite(e->high_mg))
        st_buf_add(out, ", at_most: not known");
    else
        st_buf_printf(out, ", at_most: %.9f mg/kg", fmin(mg_kg * (1.0 + 1e-9), 1e6));
    if (all_shut)
        st_buf_add(out, ", stones_shut: yes");
    (void)snprintf(why, sizeof why, "all that the %s of %.20s may hold, %s", of, code,
                   drained ? "as if nothing of it had gone into the drink" : "by the share that was poured");
    st_buf_add(out, ", because: ");
    put_quoted(out, why);
    st_buf_char(out, '}');
}

/* ---- what a rule asks beside ---- */

static bool asks_for(const struct st_rule_books *b, const char *toxicant, enum st_rule_scope scope)
{
    for (int i = 0; i < b->n_rule; i++)
        if (b->rule[i].scope == scope && strcmp(b->rule[i].toxicant, toxicant) == 0)
            return true;
    return false;
}

static bool all_of_genus(const struct st_recipe *r, const struct st_ledger_entry *e, const char *genus)
{
    for (int i = 0; i < e->n_carrier; i++) {
        const char *botanical = what_of(r, &e->carrier[i])->botanical;
        if (!botanical || strncmp(botanical, genus, strlen(genus)) != 0)
            return false;
    }
    return e->n_carrier > 0 && e->n_more == 0;
}

/* The genus that all carriers of a toxicant are of, where rules are milder for it; NULL. */
static const char *genus_of(const struct st_rule_books *b, const struct st_recipe *r, const struct st_ledger *l)
{
    static const struct {
        enum st_rule_scope scope;
        const char *genus;
    } MILDER[] = { { ST_SCOPE_ARTEMISIA, "Artemisia" }, { ST_SCOPE_MINT, "Mentha" } };
    for (size_t m = 0; m < sizeof MILDER / sizeof *MILDER; m++)
        for (int i = 0; i < l->n_entry; i++)
            if (asks_for(b, l->entry[i].toxicant->slug, MILDER[m].scope) &&
                all_of_genus(r, &l->entry[i], MILDER[m].genus))
                return MILDER[m].genus;
    return NULL;
}

/* Slugs of all that went in, each once, and what these were made of. */
static void put_made_of(struct st_buf *out, const struct st_recipe *r)
{
    struct st_buf all = { 0 };
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            const char *said[] = { in ? in->slug : "", in ? in->like : "", in ? in->made_of : "" };
            for (int k = 0; k < 3; k++)
                for (const char *p = said[k]; p && *p; p += strspn(p, ", ")) {
                    char slug[80];
                    const size_t n = strcspn(p, ", ");
                    (void)snprintf(slug, sizeof slug, "%.*s", (int)(n < sizeof slug ? n : sizeof slug - 1), p);
                    if (!st_rule_lists(st_buf_text(&all), slug))
                        st_buf_printf(&all, "%s%s", all.length ? ", " : "", slug);
                    p += n;
                }
        }
    if (all.length)
        st_buf_printf(out, ", made_of: [%s]", st_buf_text(&all));
    st_buf_done(&all);
}

/* ---- the whole ---- */

static void put_all(const struct book_lot *lot, const char *code, const struct st_rule_books *books,
                    const struct st_recipe *r, const struct st_foretold *f, int drained, struct st_buf *out)
{
    static const struct st_drinker WHO = { .serving_ml = 40.0, .body_weight_kg = 60.0 }; /* no rule is asked here */
    struct st_recipe part = *r;
    struct st_ledger *l = x_calloc(1, sizeof *l); /* large */
    const double own = lot_kg(lot, f), all = drained >= 0 ? drained_kg(f, drained) : drink_kg(f);
    /* of a drink the whole lot counts, where it is more than the least that there can be; of solids the less of both */
    const double kg = isnan(own) ? all : isnan(all) ? own : drained >= 0 ? fmin(own, all) : fmax(own, all);
    if (drained >= 0)
        part.n_step = drained + 1;
    if (st_ledger_make(&part, f, books, 0, &WHO, r->assay, r->n_assay, l) >= 0) {
        const char *genus = genus_of(books, &part, l);
        put_made_of(out, &part);
        if (genus && drained < 0)
            st_buf_printf(out, ", botanical: %s", genus);
        for (int i = 0; i < l->n_entry; i++) {
            st_buf_add(out, i ? ", " : ", holds: [");
            put_entry(out, &part, &l->entry[i], kg, code, drained >= 0);
        }
        st_buf_add(out, l->n_entry ? "]" : "");
    }
    free(l);
}

void st_batch_holds(const struct book_lot *lot, const char *code, const struct st_batch_made *made, const char *steep,
                    struct st_buf *out)
{
    const struct st_recipe *r = &made->file.recipe;
    const int drained = step_called(r, steep);
    struct st_problem none = { .what = "" };
    struct st_rule_books *books = st_rules_built(&none);
    if (books && (drained >= 0 || !steep))
        put_all(lot, code, books, r, &made->out, drained, out);
    if (books)
        st_rule_books_free(books);
}
