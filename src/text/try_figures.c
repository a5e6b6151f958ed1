#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "figure_words.h"
#include "model/differ.h"
#include "try_inside.h"

/* What all changes do together, figure by figure. */

/* How much is as much: common practice, no source. */
const struct st_try_told st_try_told[ST_TRY_NTOLD] = {
    { "strength", 0.1, 1.0, ST_FIG_STRENGTH, false, "weaker", "stronger" },
    { "sugar", 1.0, 10.0, ST_FIG_SUGAR, false, "less sugar", "more sugar" },
    { "acid", 0.1, 0.5, ST_FIG_ACID, false, "less acid", "more acid" },
    { "fat", 0.1, 5.0, ST_FIG_FAT, false, "less fat", "more fat" },
    { "volume", 1.0, 0.05, ST_FIG_VOLUME, true, "less", "more" },
    { "bottles", 1.0, 0.25, ST_FIG_BOTTLES, true, "bottles fewer", "bottles more" },
    { "cost", 0.01, 0.1, ST_FIG_COST, true, "less", "more" },
};

/* Less than that makes no bottle more or fewer, on whichever side of a half the two lie. */
static const double HALF_A_BOTTLE = 0.5;

static double rounded(double x, double place)
{
    return round(x / place) * place;
}

static double ml_per_fl_oz(enum st_measures units)
{
    return units == ST_MEASURES_US ? 29.5735295625 : units == ST_MEASURES_IMPERIAL ? 28.4130625 : 0.0;
}

static const char *unit_of(const struct st_try_changes *c, enum st_figure of, enum st_measures units)
{
    if (of == ST_FIG_COST)
        return c->recipe[1]->currency;
    if (of == ST_FIG_VOLUME && ml_per_fl_oz(units) > 0.0)
        return "fl oz";
    return st_figure_info(of)->unit;
}

bool st_try_moves(const struct st_try_changes *c, int k, double was, double is, enum st_measures units, char *buf,
                  size_t size)
{
    const struct st_try_told *t = &st_try_told[k];
    const bool ounces = t->of == ST_FIG_VOLUME && ml_per_fl_oz(units) > 0.0;
    const double place = ounces ? 0.1 : t->place, scale = ounces ? 1.0 / ml_per_fl_oz(units) : 1.0;
    const char *unit = unit_of(c, t->of, units);
    const int digits = place >= 1.0 ? 0 : place >= 0.1 ? 1 : 2;
    if ((isnan(was) && isnan(is)) || (t->of == ST_FIG_BOTTLES && fabs(was - is) < HALF_A_BOTTLE))
        return false;
    if (isnan(was) || isnan(is)) {
        snprintf(buf, size, "%s %s", t->name, isnan(is) ? "no longer known" : "known now");
        return true;
    }
    const double x = rounded(was * scale, place), y = rounded(is * scale, place);
    if (fabs(x - y) < 0.5 * place)
        return false;
    snprintf(buf, size, "%s %.*f -> %.*f%s%s", t->name, digits, x, digits, y, *unit ? " " : "", unit);
    return true;
}

/* ---- what they differ by ---- */

/* The second recipe under the names that its steps have in the first: by them the plans know what is the same. */
static struct st_step *named_alike(const struct st_try_changes *c)
{
    const struct st_recipe *b = c->recipe[1];
    struct st_step *step = malloc(((size_t)b->n_step + 1) * sizeof *step);
    for (int s = 0; step && s < b->n_step; s++) {
        const int was = c->match->step_of[1][s];
        step[s] = b->step[s];
        if (was >= 0)
            step[s].id = c->recipe[0]->step[was].id;
    }
    return step;
}

bool st_try_differ(const struct st_try_changes *c, uint64_t seed, size_t n, struct st_interval by[ST_NFIG])
{
    struct st_problem problem;
    struct st_recipe second = *c->recipe[1];
    struct st_step *step = named_alike(c);
    second.step = step ? step : second.step;
    struct st_plan *a = st_plan_create(c->recipe[0], &problem), *b = a ? st_plan_create(&second, &problem) : NULL;
    const bool done = b && st_plan_differ(a, b, seed, n, by) >= 0;
    st_plan_free(b);
    st_plan_free(a);
    free(step);
    return done;
}

/* ---- in words ---- */

static bool is_wide(const struct st_interval *x)
{
    return x->high - x->low > 1e-9 * fabs(x->value);
}

/* An end of an interval that has 0 inside, rounded outward: "1.5 less". */
static void end_words(char *buf, size_t size, double x, double place)
{
    const int digits = place < 0.95 ? (int)lround(-log10(place)) : 0;
    snprintf(buf, size, "%.*f %s", digits, ceil(fabs(x) / place - 1e-6) * place, x < 0.0 ? "less" : "more");
}

/* "19 g/L less sugar, likely between 15 and 23". */
static void apart_words(char *buf, size_t size, const struct st_interval *by, const char *unit, const char *way)
{
    const bool down = by->value < 0.0;
    const struct st_interval x = { fabs(by->value), down ? -by->high : by->low, down ? -by->low : by->high, by->status,
                                   true };
    char value[60], all[160];
    st_figure_value(value, sizeof value, &x);
    st_figure_words(all, sizeof all, &x, "");
    const char *ends = strchr(all, ',');
    snprintf(buf, size, "%.40s%s%.20s %.20s%.80s", value, *unit ? " " : "", unit, way, ends ? ends : "");
}

/* Bottles are counted whole: "1 bottle fewer, likely between 0.9 and 1.1". */
static void bottles_words(char *buf, size_t size, const struct st_interval *by, const char *way)
{
    char all[160];
    const double n = round(fabs(by->value));
    apart_words(all, sizeof all, by, "", "");
    const char *ends = strchr(all, ',');
    snprintf(buf, size, "%.0f bottle%s%.20s%.80s", n, n > 1.0 ? "s" : "", way + strlen("bottles"), ends ? ends : "");
}

/* The same where nobody could tell: "none that could be told, likely between 3 less and 5 more". */
static void none_words(char *buf, size_t size, const struct st_interval *by)
{
    char low[40], high[40];
    const double place = st_figure_place(by);
    end_words(low, sizeof low, by->low, place);
    end_words(high, sizeof high, by->high, place);
    snprintf(buf, size, "no difference that could be told, likely between %.35s and %.35s", low, high);
}

static struct st_interval scaled(const struct st_interval *x, double by)
{
    return (struct st_interval){ x->value * by, x->low * by, x->high * by, x->status, x->known };
}

bool st_try_figure(const struct st_try_changes *c, int k, enum st_measures units, struct st_try_figure *g)
{
    const struct st_try_told *t = &st_try_told[k];
    const struct st_interval *a = &g->is[0], *b = &g->is[1];
    const double from = a->known ? a->value : (double)NAN, to = b->known ? b->value : (double)NAN;
    const char *unit = unit_of(c, t->of, units);
    char moved[120], by[160], was[160], is[160];

    g->of = t->of;
    if (!st_try_moves(c, k, from, to, units, moved, sizeof moved))
        return false;
    g->told = g->by.known && (g->by.low > 0.0 || g->by.high < 0.0);
    if (!g->by.known || (!is_wide(a) && !is_wide(b))) {
        snprintf(g->text, sizeof g->text, "%s", moved);
        return true;
    }
    const bool ounces = t->of == ST_FIG_VOLUME && ml_per_fl_oz(units) > 0.0;
    const struct st_interval x = scaled(&g->by, ounces ? 1.0 / ml_per_fl_oz(units) : 1.0);
    const char *way = x.value < 0.0 ? t->less : t->more;
    if (g->told && t->of == ST_FIG_BOTTLES)
        bottles_words(by, sizeof by, &x, way);
    else if (g->told)
        apart_words(by, sizeof by, &x, unit, way);
    else
        none_words(by, sizeof by, &x);
    if (t->of == ST_FIG_VOLUME) {
        st_volume_words(was, sizeof was, a, units);
        st_volume_words(is, sizeof is, b, units);
    } else {
        st_figure_words(was, sizeof was, a, unit);
        st_figure_words(is, sizeof is, b, unit);
    }
    snprintf(g->text, sizeof g->text, "%.90s: %.130s (before %.70s; now %.70s)", moved, by, was, is);
    return true;
}
