#include "caution_heat.h"

#include <stdio.h>
#include <string.h>

#include "caution_list.h"
#include "core/flash.h"
#include "core/strength.h"
#include "heat_pan.h"
#include "heat_words.h"

double st_line_strength(const struct st_line *l)
{
    if (!l->what)
        return 0.0;
    const struct st_range *x = l->strength.known ? &l->strength : &l->what->strength;
    return x->known && x->value > 0.0 ? x->value : 0.0;
}

double st_strongest(const struct st_step *s)
{
    double q = 0.0;
    for (int i = 0; i < s->n_line; i++) {
        const double x = st_line_strength(&s->line[i]);
        q = x > q ? x : q;
    }
    return q;
}

/* Flash point of unsweetened spirit of this strength, K; 0 where the table has none. */
static double flash_of(double q)
{
    double w[ST_NCOMP] = { 0 }, T = 0.0;
    if (st_p_from_strength(q < 100.0 ? q : 100.0, &w[ST_ETHANOL]) < 0)
        return 0.0;
    w[ST_WATER] = 1.0 - w[ST_ETHANOL];
    return st_flash_point(w, &T) >= 0 ? T : 0.0;
}

static bool is_hot(const struct st_step *s, double limit_K)
{
    if (s->temperature_K.known && s->temperature_K.high > limit_K)
        return true;
    for (int i = 0; i < s->n_line; i++)
        if (s->line[i].temperature_K.known && s->line[i].temperature_K.high > limit_K)
            return true;
    return false;
}

bool st_caution_strong(struct st_cautions *out, double strength, int step, int line)
{
    if (!(strength >= ST_STRONG_SPIRIT))
        return false;
    st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "flammable", "[flash_table]", step, line,
                                      "spirit of about %.0f %% vol is poured here: its vapour burns", strength),
                       "its closed-cup flash point is about %.0f °C, the temperature of a room; no flame, no spark, no "
                       "stove in the room while it is open, and never heat it",
                       flash_of(strength) - 273.15);
    return true;
}

void st_caution_strong_pour(struct st_cautions *out, const struct st_step *s, int step)
{
    for (int i = 0; i < out->n; i++)
        if (out->item[i].step == step && strcmp(out->item[i].code, "flammable") == 0)
            return;
    (void)st_caution_strong(out, st_strongest(s), step, -1);
}

/* The strongest that is poured, comes from an earlier step, or stands in the jar afterwards. */
static double strength_here(const struct st_step *s, const struct st_foretold *f, int step)
{
    double q = st_strongest(s);
    for (int i = 0; f && i < s->n_line; i++) {
        const int from = s->line[i].from_step;
        if (from >= 0 && from < f->n_balance && f->balance[from].strength > q)
            q = f->balance[from].strength;
    }
    return f && f->balance[step].strength > q ? f->balance[step].strength : q;
}

static void point_words(char *buf, size_t size, double q)
{
    const double flash = flash_of(q);
    (void)snprintf(buf, size,
                   "the table of flash points begins at 5 %% vol, which does not say that weaker liquids cannot burn");
    if (flash > 0.0)
        (void)snprintf(buf, size, "the closed-cup flash point of %.0f %% vol is about %.0f °C", q, flash - 273.15);
}

static void add_warmed(struct st_cautions *out, double q, int step, int line)
{
    char point[120];
    point_words(point, sizeof point, q);
    st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "heat", "[flash_table]", step, line,
                                      "spirit is warmed in this step (about %.0f %% vol)", q),
                       "its vapour can catch fire: %s; never over a flame or on a stove, never in a closed vessel; let "
                       "syrup cool below 30 °C before it meets spirit",
                       point);
}

bool st_caution_warmed_in(struct st_cautions *out, const char *words, double strength, int step, int line)
{
    if (!(strength >= 1.0) || !(st_heat_in(words, NULL, 0) & ST_HEAT_WARMED))
        return false;
    add_warmed(out, strength, step, line);
    return true;
}

static void warmed(struct st_cautions *out, const struct st_step *s, int step, double q, unsigned says)
{
    const double flash = flash_of(q);
    const double limit = flash > 298.15 && flash < 303.15 ? flash : flash > 0.0 && flash <= 298.15 ? 298.15 : 303.15;
    const bool boiled = s->boil_off_g.known || s->boil_down_to.dim == ST_DIM_VOLUME;

    if (is_hot(s, limit) || boiled || s->kind == ST_DO_TOAST || says & ST_HEAT_WARMED)
        add_warmed(out, q, step, -1);
}

/* From this temperature on a liquid counts as hot, K (50 C; a syrup step 60 C): our own limits. */
static const double HOT_K = 323.15, HOT_SYRUP_K = 333.15;

static double ethanol_of(const struct st_foretold *f, int step)
{
    return f && step < f->n_balance ? f->balance[step].mass_g[ST_ETHANOL] : 0.0;
}

/* Whether what this line pours is hot, by figure or by words. */
static bool is_poured_hot(const struct st_recipe *r, const struct st_foretold *f, const struct st_step *s,
                          const struct st_line *l)
{
    const bool syrup = l->from_step >= 0 && l->from_step < r->n_step && r->step[l->from_step].kind == ST_DO_SYRUP &&
                       ethanol_of(f, l->from_step) <= 0.0;
    if (l->temperature_K.known && l->temperature_K.high >= HOT_K)
        return true;
    if (l->text && st_says_hot(l->text, false))
        return true;
    if (!syrup)
        return false;
    const struct st_step *made = &r->step[l->from_step];
    const bool fresh = made->temperature_K.known && made->temperature_K.high >= HOT_SYRUP_K;
    return st_says_hot(s->words, true) || st_heat_in(made->words, NULL, 0) & ST_HEAT_POURED ||
           (fresh && l->text && st_says_hot(l->text, true));
}

static void hot_pour(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step,
                     double q, unsigned says)
{
    const struct st_step *s = &r->step[step];
    bool hot = says & (ST_HEAT_POURED | ST_HEAT_LEFT);
    char point[120];

    for (int i = 0; i < s->n_line && !hot; i++)
        hot = is_poured_hot(r, f, s, &s->line[i]);
    if (!hot)
        return;
    point_words(point, sizeof point, q);
    st_caution_because(
        st_caution_add(out, ST_LEVEL_CAUTION, "hot_pour", "[flash_table]", step, -1,
                       "something hot meets spirit of about %.0f %% vol here", q),
        "hot liquid on spirit drives off vapour that a flame can light, and may spit: %s; let syrup cool "
        "below 30 °C before it meets spirit, with no flame and no stove near",
        point);
}

enum { NAMES = 16 };

/* What the maker's words heat.  Where something comes from a jar of spirit, a name may be of what was steeped there:
 * none is taken for plain then. */
static unsigned says_of(const struct st_step *s, const struct st_foretold *f)
{
    const char *name[NAMES];
    int n = 0;
    for (int i = 0; i < s->n_line; i++) {
        const struct st_line *l = &s->line[i];
        if (l->from_step >= 0 && (!f || ethanol_of(f, l->from_step) > 0.0))
            return st_heat_in(s->words, NULL, 0);
        const bool weak =
            l->what && l->what->kind != ST_KIND_SPIRIT && !(l->what->strength.known && l->what->strength.high > 0.0);
        if (weak && n < NAMES)
            name[n++] = l->what->name;
    }
    return st_heat_in(s->words, name, n);
}

void st_caution_heat(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    const struct st_step *s = &r->step[step];
    const double q = strength_here(s, f, step);

    if (q < 1.0)
        return;
    const unsigned says = says_of(s, f);
    warmed(out, s, step, q, says);
    if (s->kind != ST_DO_TOAST)
        hot_pour(out, r, f, step, q, says);
}
