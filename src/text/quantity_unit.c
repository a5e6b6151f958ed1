#include "quantity_unit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_WORDS = 4, MOST_UNITS = 12 };

/* ---- where the words of a unit end ---- */

static bool is_unit_sign(unsigned c)
{
    return c == '%' || c == '.' || c == '_' || c == 0xb0 || c == 0xb3 || c == 0x2103 || c == 0x2109;
}

/* One word: "oz.", "°C", "%vol", "cm3", "v/v". */
static bool skip_word(struct st_scan *s)
{
    const char *from = s->at;
    unsigned before = 0;
    size_t n;

    for (;;) {
        const unsigned c = st_scan_char(s, &n);
        bool fits = st_is_letter(c) || is_unit_sign(c) || (st_is_digit(c) && st_is_letter(before));
        if (c == '/') {
            struct st_scan a = { s->at + 1, s->end };
            size_t unused;
            fits = st_is_letter(st_scan_char(&a, &unused)) && st_is_letter(before);
        }
        if (!fits)
            return s->at > from;
        before = c;
        s->at += n;
    }
}

/* Words with which a unit of several words begins: the others need not be tried further. */
static const char BEGINNINGS[] =
    "fl|fluid|floz|oz|ounce|us|uk|metric|imperial|british|australian|au|label|nutrition|half|wine|spirit|bottle|"
    "bottles|"
    "bar|"
    "kitchen|dash|dashes|gas|deg|degree|degrees|vol|alc|percent|pct|per|mass|weight|apothecaries|dry";

/* Ends of the first word, the first two, and so on. */
static int word_ends(const struct st_scan *s, const char *ends[MOST_WORDS])
{
    struct st_scan a = *s, first = *s;
    size_t length;
    const bool sign = !st_is_letter(st_scan_char(&a, &length));
    const int most = sign || st_scan_word(&first, BEGINNINGS) ? MOST_WORDS : 1;
    int n = 0;

    while (n < most && skip_word(&a)) {
        ends[n++] = a.at;
        if (!st_scan_blanks(&a) && !st_scan_dash(&a))
            break;
    }
    return n;
}

/* ---- choosing ---- */

static bool same_size(const struct st_unit *a, const struct st_unit *b)
{
    const double by = 1e-9 * fabs(a->factor);
    return fabs(a->factor - b->factor) <= by && fabs(a->low - b->low) <= by && fabs(a->high - b->high) <= by;
}

static bool is_spoon(const struct st_unit *u)
{
    return u->tool == ST_TOOL_TABLESPOON || u->tool == ST_TOOL_TEASPOON;
}

/* Spoons of any country hold the same within less than the spoon's own error (14.8 and 15 mL): no question. */
static bool spoon_of_anywhere(const struct st_unit *const c[], size_t n, struct st_pick *out)
{
    const struct st_unit *metric = NULL;
    double low = HUGE_VAL, high = 0.0;

    for (size_t i = 0; i < n; i++) {
        if (!is_spoon(c[i]))
            return false;
        if (c[i]->system == ST_MEASURES_METRIC)
            metric = c[i];
        low = fmin(low, c[i]->factor);
        high = fmax(high, c[i]->factor);
    }
    if (!metric || high > 1.02 * low)
        return false;
    *out = (struct st_pick){ .unit = metric, .low = low, .high = high };
    return true;
}

/* Keep what is of one dimension; an ounce is a weight unless a liquid is measured. */
static size_t one_dimension(const struct st_unit *c[], size_t n, const struct st_ask *ask, bool *ounce)
{
    bool mass = false, volume = false;
    size_t kept = 0;

    for (size_t i = 0; i < n; i++) {
        mass = mass || c[i]->dim == ST_DIM_MASS;
        volume = volume || c[i]->dim == ST_DIM_VOLUME;
    }
    *ounce = mass && volume;
    const enum st_dimension dim = *ounce ? (ask->liquid ? ST_DIM_VOLUME : ST_DIM_MASS) : c[0]->dim;
    for (size_t i = 0; i < n; i++)
        if (c[i]->dim == dim)
            c[kept++] = c[i];
    return kept;
}

/* "70 proof" of an old British book is 40 % vol, of an American one 35.  It was the British who said degrees. */
static void doubt_of_proof(const char *at, const char *end, const struct st_ask *ask, struct st_pick *out)
{
    struct st_scan s = { at, end };
    if (out->unit->scale == ST_SCALE_PROOF && out->n_other == 0 &&
        (ask->measures == ST_MEASURES_IMPERIAL ||
         (ask->measures != ST_MEASURES_US && (st_scan_word(&s, "degrees|uk|british") || st_scan_sign(&s, "\xc2\xb0")))))
        out->other[out->n_other++] = out->unit;
}

static void choose(const struct st_unit *c[], size_t n, const struct st_ask *ask, struct st_pick *out)
{
    bool ounce;

    n = one_dimension(c, n, ask, &ounce);
    if (ask->measures == ST_MEASURES_NONE && spoon_of_anywhere(c, n, out))
        return;
    *out = (struct st_pick){ .unit = c[0], .ounce = ounce };
    if (ask->wine && out->unit->tool == ST_TOOL_BOTTLE && strncmp(out->unit->key, "bottle_", 7) == 0) {
        out->unit = st_unit_by_key("wine_bottle");
        return;
    }
    for (size_t i = 1; i < n; i++) {
        bool known = same_size(c[i], c[0]);
        for (int k = 0; k < out->n_other; k++)
            known = known || same_size(c[i], out->other[k]);
        if (!known && out->n_other < 4)
            out->other[out->n_other++] = c[i];
    }
}

/* The unit of exactly these bytes. */
static bool exactly(const char *at, const char *end, const struct st_ask *ask, struct st_pick *out)
{
    enum { LONGEST = 40 };
    if (end - at > LONGEST)
        return false;
    const struct st_unit *all[MOST_UNITS], *fit[MOST_UNITS];
    const bool cup = *at == 'C' && (end - at == 1 || (end - at == 2 && at[1] == '.')) &&
                     !(ask->dims & ST_DIM_BIT(ST_DIM_TEMPERATURE)); /* "2 C sugar" */
    const size_t n =
        st_unit_match(cup ? "c" : at, cup ? 1 : (size_t)(end - at), ask->measures, ST_DIM_OPEN, all, MOST_UNITS);
    size_t kept = 0;

    for (size_t i = 0; i < n && i < MOST_UNITS; i++)
        if (ask->dims & ST_DIM_BIT(all[i]->dim))
            fit[kept++] = all[i];
    if (kept == 0)
        return false;
    choose(fit, kept, ask, out);
    doubt_of_proof(at, end, ask, out);
    return true;
}

/* "40%vodka", "180°": what is left when no word fits. */
static bool bare_sign(struct st_scan *s, const struct st_ask *ask, struct st_pick *out)
{
    if ((ask->dims & ST_DIM_BIT(ST_DIM_STRENGTH)) && (st_scan_sign(s, "%") || st_scan_word(s, "percent|per cent"))) {
        *out = (struct st_pick){ .unit = st_unit_by_key("pct_vol") };
        return true;
    }
    if ((ask->dims & ST_DIM_BIT(ST_DIM_TEMPERATURE)) && st_scan_sign(s, "\xc2\xb0")) {
        *out = (struct st_pick){ .unit = st_unit_by_key("deg_c"), .degrees = true };
        return true;
    }
    return false;
}

bool st_unit_read(struct st_scan *s, const struct st_ask *ask, struct st_pick *out)
{
    struct st_scan a = *s;
    const char *ends[MOST_WORDS];

    if (!st_scan_blanks(&a)) {
        struct st_scan b = a; /* "750-ml": a hyphen before a letter */
        size_t n;
        if (st_scan_dash(&b) && st_is_letter(st_scan_char(&b, &n)))
            a = b;
    }
    const int n = word_ends(&a, ends);
    for (int i = n; i-- > 0;)
        if (exactly(a.at, ends[i], ask, out)) {
            s->at = ends[i];
            return true;
        }
    if (n > 0) { /* "g.", "oz.sugar" */
        const char *dot = memchr(a.at, '.', (size_t)(ends[0] - a.at));
        if (dot && dot > a.at && exactly(a.at, dot, ask, out)) {
            s->at = dot + 1;
            return true;
        }
    }
    if (!bare_sign(&a, ask, out))
        return false;
    *s = a;
    return true;
}

/* ---- asking ---- */

static const char *of_system(enum st_measures m)
{
    return m == ST_MEASURES_US         ? "US "
           : m == ST_MEASURES_METRIC   ? "metric "
           : m == ST_MEASURES_IMPERIAL ? "imperial "
                                       : "";
}

static void ask_size(const struct st_pick *pick, struct st_problem *p)
{
    const char *name = pick->unit->name;
    char systems[60] = "";
    size_t n = 0, m = 0;

    (void)snprintf(p->what, sizeof p->what, "which %s is meant", name);
    for (int i = -1; i < pick->n_other; i++) {
        const struct st_unit *u = i < 0 ? pick->unit : pick->other[i];
        const char *system = of_system(u->system);
        n += (size_t)snprintf(p->why + n, sizeof p->why - n, "%sa%s %s%s is %.1f mL", i < 0 ? "" : ", ",
                              *system == 'i' ? "n" : "", system, u->name, u->factor);
        m += (size_t)snprintf(systems + m, sizeof systems - m, "%s%.*s",
                              i < 0                    ? ""
                              : i + 1 == pick->n_other ? " or "
                                                       : ", ",
                              *system ? (int)strlen(system) - 1 : 0, system);
        for (char *c = systems; *c; c++)
            *c = *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c;
        if (n >= sizeof p->why || m >= sizeof systems)
            break;
    }
    (void)snprintf(p->try_, sizeof p->try_, "say measures: %s in a recipe, --units elsewhere; or write it in mL", systems);
}

bool st_pick_question(const struct st_pick *pick, struct st_problem *p)
{
    if (pick->unit && pick->degrees) {
        (void)snprintf(p->what, sizeof p->what, "which degrees are meant");
        (void)snprintf(p->why, sizeof p->why, "a bare degree sign can be Celsius, Fahrenheit or a strength");
        (void)snprintf(p->try_, sizeof p->try_,
                       "write \xc2\xb0"
                       "C, \xc2\xb0"
                       "F or %% vol");
    } else if (pick->unit && pick->n_other > 0 && pick->unit->dim == ST_DIM_STRENGTH) {
        (void)snprintf(p->what, sizeof p->what, "which proof is meant");
        (void)snprintf(p->why, sizeof p->why,
                       "US proof is twice the strength, old British proof about seven quarters of it");
        (void)snprintf(p->try_, sizeof p->try_, "write the strength in %% vol");
    } else if (pick->unit && pick->n_other > 0) {
        ask_size(pick, p);
    } else {
        return false;
    }
    p->is_question = 1;
    return true;
}
