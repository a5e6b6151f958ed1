#include "aim_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "amount_fine.h"
#include "ledger_words.h"

static const char *unit_of(enum st_figure f, const char *currency)
{
    return f == ST_FIG_BOTTLES      ? "bottles"
           : f == ST_FIG_COST       ? currency
           : f == ST_FIG_SUGAR_ACID ? "g of sugar to 1 g of acid"
                                    : st_figure_info(f)->unit;
}

/* "24 % vol", "180 g/L of sugar". */
static void figure_text(enum st_figure f, double x, const char *currency, char *buf, size_t size)
{
    const char *of = f == ST_FIG_SUGAR ? " of sugar" : f == ST_FIG_ACID ? " of acid" : "";
    if (f == ST_FIG_VOLUME)
        snprintf(buf, size, x >= 999.5 ? "%.4g L" : "%.0f mL", x >= 999.5 ? x * 1e-3 : x);
    else
        snprintf(buf, size, x >= 999.5 ? "%.0f%s%s%s" : "%.3g%s%s%s", x, *unit_of(f, currency) ? " " : "",
                 unit_of(f, currency), of);
}

static void range_text(enum st_figure f, double low, double high, const char *currency, char *buf, size_t size)
{
    char a[64], b[96];
    figure_text(f, low, currency, a, sizeof a);
    figure_text(f, high, currency, b, sizeof b);
    if (low == high)
        snprintf(buf, size, "%s", a);
    else if (!isfinite(low))
        snprintf(buf, size, "at most %s", b);
    else if (!isfinite(high))
        snprintf(buf, size, "at least %s", a);
    else if (f == ST_FIG_VOLUME)
        snprintf(buf, size, "%s to %s", a, b);
    else
        snprintf(buf, size, "%.3g to %s", low, b);
}

void st_aim_wish_words(const struct st_wish *w, const char *currency, char *buf, size_t size)
{
    range_text(w->of, w->low, w->high, currency, buf, size);
}

void st_aim_near_words(const struct st_aim *a, const double y[ST_NFIG], const char *currency, char *buf, size_t size)
{
    char one[96];
    buf[0] = '\0';
    for (int i = 0; i < a->n_wish; i++) {
        const size_t n = strlen(buf);
        figure_text(a->wish[i].of, y[a->wish[i].of], currency, one, sizeof one);
        snprintf(buf + n, size - n, "%s%s", n ? ", " : "", one);
    }
}

/* ---- what gave way ---- */

/* [eu_2019_787] Annex I, category 33: a liqueur has at least 100 g of sweetening, as invert sugar, in a litre; gentian
 * 80, cherry 70.  A litre of sucrose counts 1.05 times; told only where the drink is well past it. */
static const double LIQUEUR_G_L = 100.0, LEAST_LIQUEUR_G_L = 70.0, INVERT = 1.052632;

static void add_name(double before, double now, char *buf, size_t size)
{
    const size_t n = strlen(buf);
    if (INVERT * before >= LIQUEUR_G_L && INVERT * now < LEAST_LIQUEUR_G_L)
        snprintf(buf + n, size - n,
                 ": too little to be called a liqueur in the European Union, which asks for 100 g/L as invert sugar "
                 "(cherry 70, gentian 80) [eu_2019_787]");
}

/* Rounder than a wish is told: where it went matters here, not how far to the millilitre. */
static void round_text(enum st_figure f, double x, bool with_unit, char *buf, size_t size)
{
    if (f == ST_FIG_VOLUME)
        snprintf(buf, size, x >= 999.5 ? "%.2g L" : "%.0f mL", x >= 999.5 ? x * 1e-3 : x);
    else
        snprintf(buf, size, f == ST_FIG_SUGAR ? "%.0f%s%s" : "%.2g%s%s", x, with_unit ? " " : "",
                 with_unit ? st_figure_info(f)->unit : "");
}

void st_aim_gave_words(const struct st_stays *s, const double y[ST_NFIG], char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < s->n; i++) {
        const struct st_stay *t = &s->of[i];
        const double now = y[t->of], by = fabs(now - t->at);
        const size_t n = strlen(buf);
        char a[64], b[64];
        if (!(by > fmax(2.0 * t->step, 0.2 * t->at)))
            continue;
        round_text(t->of, t->at, false, a, sizeof a);
        round_text(t->of, now, true, b, sizeof b);
        snprintf(buf + n, size - n, "%s%s %s from %s to %s", n ? "; " : "", st_figure_info(t->of)->name,
                 now < t->at ? "falls" : "rises", a, b);
        if (t->of == ST_FIG_SUGAR)
            add_name(t->at, now, buf, size);
    }
}

static const struct st_line *line_of(const struct st_recipe *r, const struct st_dial *d)
{
    return &r->step[d->step].line[d->line];
}

void st_aim_dial_words(const struct st_recipe *r, const struct st_dial *d, double value, char *buf, size_t size)
{
    const struct st_amount *m = &line_of(r, d)->amount;
    if (d->of == ST_DIAL_STRENGTH)
        snprintf(buf, size, "%.3g %% vol", value);
    else
        st_amount_fine(m, value * m->value, r->measures, buf, size);
}

/* In another step: then its name alone does not tell which line is meant. */
static bool stands_elsewhere(const struct st_recipe *r, const struct st_dial *d)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line && s != d->step; i++)
            if (r->step[s].line[i].what == line_of(r, d)->what)
                return true;
    return false;
}

const char *st_aim_dial_name(const struct st_recipe *r, const struct st_dial *d, char *buf, size_t size)
{
    const struct st_line *l = line_of(r, d);
    const char *name = l->what ? l->what->name : l->text;
    const char *step = d->of == ST_DIAL_AMOUNT && l->what && stands_elsewhere(r, d) ? r->step[d->step].id : "";
    snprintf(buf, size, "%s%s%s%s%s", d->of == ST_DIAL_STRENGTH ? "strength of the " : "", name,
             l->amount.make_up_to && d->of == ST_DIAL_AMOUNT ? ", up to" : "", *step ? " for the " : "", step);
    return buf;
}

/* ---- what stops, and ways round ---- */

/* "the limit for hydrogen cyanide: 1 mg/kg for each % vol, Food Standards Code, Schedule 19 (Australia, 2016)". */
static void carry_text(const struct st_aim_limit *l, char *buf, size_t size)
{
    char place[120];
    const struct st_rule *r = l->rule;
    snprintf(buf, size, "the limit for %s: %.10g %s, %s%s%s (%s, %d%s)%s", l->toxicant->name, r->limit,
             st_limit_words(r->unit), r->document, *r->article ? ", " : "", r->article,
             st_law_place_words(r->places, place, sizeof place), r->year, r->mark == 'm' ? "; unverified figure" : "",
             l->as_written ? ", which the recipe as written is past already: no more than that" : "");
}

void st_aim_stop_words(const struct st_aim *a, const struct st_aim_stop *s, char *buf, size_t size)
{
    char name[96], amount[64];
    if (s->limit >= 0) {
        const struct st_aim_limit *l = &a->limit[s->limit];
        if (l->of == ST_LIMIT_JAR)
            snprintf(buf, size, "the vessel of %.4g L (step %s)", s->at / ST_AIM_BRIM * 1e-3,
                     a->recipe->step[l->step].id);
        else if (l->of == ST_LIMIT_SUGAR)
            snprintf(buf, size,
                     "step %s, which would hold more sugar than dissolves in it at 20 \xc2\xb0"
                     "C",
                     a->recipe->step[l->step].id);
        else if (l->of == ST_LIMIT_CARRY)
            carry_text(l, buf, size);
        else if (l->of == ST_LIMIT_TAKE)
            snprintf(buf, size, "step %s, which would ask for more than there is", a->recipe->step[l->step].id);
        else {
            int k = 0;
            while (!(l->which & (1u << k)))
                k++;
            snprintf(buf, size, "what you have of the %s in all its lines",
                     line_of(a->recipe, &a->dial[k].dial)->what->name);
        }
        return;
    }
    const struct st_aim_dial *d = &a->dial[s->dial];
    st_aim_dial_name(a->recipe, &d->dial, name, sizeof name);
    st_aim_dial_words(a->recipe, &d->dial, s->at, amount, sizeof amount);
    switch (s->by) {
    case ST_BOUND_HAVE: snprintf(buf, size, "%s of %s, which is all you have", amount, name); break;
    case ST_BOUND_ASKED: snprintf(buf, size, "the %s: %s was asked for", name, amount); break;
    case ST_BOUND_NATURE:
        snprintf(buf, size, "the %s: %s is as %s as there is", name, amount, s->upper ? "strong" : "weak");
        break;
    case ST_BOUND_USUAL:
    default:
        snprintf(buf, size, "%s of %s, %s what the recipe has", amount, name, s->upper ? "four times" : "a quarter of");
        break;
    }
}

double st_aim_stop_gap(const struct st_aim *a, const struct st_aim_found *f, int i)
{
    const struct st_aim_stop *s = &f->stop[i];
    const enum st_limit_of of = s->limit >= 0 ? a->limit[s->limit].of : ST_LIMIT_HAVE;
    if (of == ST_LIMIT_SUGAR || of == ST_LIMIT_TAKE || of == ST_LIMIT_CARRY || !(f->score > 0.0))
        return 0.0;
    return 1.0 - sqrt(fmax(1.0 - s->gain / f->score, 0.0));
}

static void loosen_text(const struct st_aim *a, const struct st_aim_way *w, char *buf, size_t size)
{
    char name[96], amount[64];
    for (int k = 0; k < a->n_dial; k++)
        if (w->aim.dial[k].low != a->dial[k].low || w->aim.dial[k].high != a->dial[k].high) {
            st_aim_dial_name(a->recipe, &a->dial[k].dial, name, sizeof name);
            st_aim_dial_words(a->recipe, &a->dial[k].dial, w->to, amount, sizeof amount);
            const bool more = w->aim.dial[k].high != a->dial[k].high;
            if (a->dial[k].dial.of == ST_DIAL_STRENGTH)
                snprintf(buf, size, more ? "Buy %s of up to %s" : "Buy %s as weak as %s",
                         line_of(a->recipe, &a->dial[k].dial)->what->name, amount);
            else if (!(w->to > 0.0))
                snprintf(buf, size, "Leave out the %s", name);
            else
                snprintf(buf, size,
                         more && a->dial[k].high_by == ST_BOUND_HAVE ? "Have up to %s of %s"
                         : more                                      ? "Take up to %s of %s"
                                                                     : "Take no more than %s of %s",
                         amount, name);
            return;
        }
    for (int i = 0; i < a->n_limit; i++)
        if (w->aim.limit[i].most != a->limit[i].most) {
            if (a->limit[i].of == ST_LIMIT_JAR)
                snprintf(buf, size, "Take a vessel of %.3g L for %s", ceil(w->to / ST_AIM_BRIM * 0.1) * 0.01,
                         a->recipe->step[a->limit[i].step].id);
            else
                snprintf(buf, size, "Have %.4g more of it", w->to - a->limit[i].most);
        }
}

void st_aim_way_words(const struct st_aim *a, const struct st_aim_way *w, const char *currency, char *buf, size_t size)
{
    char name[96], before[64], after[64], wish[96];
    buf[0] = '\0';
    if (w->way == ST_WAY_LOOSEN) {
        loosen_text(a, w, buf, size);
    } else if (w->way == ST_WAY_FREE) {
        const bool strength = w->dial.of == ST_DIAL_STRENGTH;
        const struct st_line *l = line_of(a->recipe, &w->dial);
        st_aim_dial_name(a->recipe, &w->dial, name, sizeof name);
        st_aim_dial_words(a->recipe, &w->dial,
                          strength ? l->strength.known ? l->strength.value : l->what->strength.value : 1.0, before,
                          sizeof before);
        st_aim_dial_words(a->recipe, &w->dial, w->to, after, sizeof after);
        if (strength)
            snprintf(buf, size, "Take %s of %s instead of %s", l->what->name, after, before);
        else
            snprintf(buf, size, "Change the %s too: %s instead of %s", name, after, before);
    } else {
        range_text(a->wish[w->index].of, w->low, w->high, currency, after, sizeof after);
        st_aim_wish_words(&a->wish[w->index], currency, wish, sizeof wish);
        snprintf(buf, size, "Settle for %s instead of %s", after, wish);
    }
}
