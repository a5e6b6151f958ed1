#include "quantity.h"
#include "text_room.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- numbers ---- */

/* The largest 1 or 5 times a power of ten that is at most a hundredth of x; nothing finer than least. */
static double step_of(double x, double least)
{
    double step = least;
    for (int i = 0; i < 12; i++) {
        if (5.0 * step <= 0.01001 * x)
            step *= 5.0;
        else
            return step;
        if (2.0 * step <= 0.01001 * x)
            step *= 2.0;
        else
            return step;
    }
    return step;
}

/* x rounded to steps, without trailing noughts. */
static void put_rounded(struct st_text_room *o, double x, double step)
{
    const int digits = step >= 1.0 ? 0 : step >= 0.1 ? 1 : step >= 0.01 ? 2 : 3;
    char text[40];

    (void)snprintf(text, sizeof text, "%.*f", digits, step * round(x / step));
    if (strchr(text, '.')) {
        size_t n = strlen(text);
        while (text[n - 1] == '0')
            text[--n] = '\0';
        if (text[n - 1] == '.')
            text[--n] = '\0';
    }
    st_text_put(o, "%s", text);
}

static void put_number(struct st_text_room *o, double x)
{
    put_rounded(o, x, step_of(x, 0.001));
}

/* Kitchen fractions by their size. */
static const struct {
    double x;
    const char *text;
} FRACTION[] = {
    { 0.0, "" },    { 0.125, "1/8" }, { 0.25, "1/4" },    { 1.0 / 3, "1/3" }, { 0.375, "3/8" },
    { 0.5, "1/2" }, { 0.625, "5/8" }, { 2.0 / 3, "2/3" }, { 0.75, "3/4" },    { 0.875, "7/8" },
};
enum { N_FRACTION = sizeof FRACTION / sizeof FRACTION[0] };

/* "1 1/2", "3/4", "2"; false when no kitchen fraction lies within `by` of x. */
static bool put_fraction(struct st_text_room *o, double x, double by)
{
    const double whole = floor(x + by);
    const double rest = x - whole;

    for (int i = 0; i < N_FRACTION; i++) {
        if (fabs(rest - FRACTION[i].x) > by || (whole == 0.0 && i == 0))
            continue;
        if (whole > 0.0)
            st_text_put(o, "%.0f%s", whole, i > 0 ? " " : "");
        st_text_put(o, "%s", FRACTION[i].text);
        return true;
    }
    return false;
}

static void put_count(struct st_text_room *o, double x)
{
    if (!put_fraction(o, x, fmin(0.01 * x, 0.01)))
        put_number(o, x);
}

/* ---- cups and spoons ---- */

struct spoons {
    double cup, tbsp, tsp; /* mL */
};

static struct spoons spoons_of(enum st_measures m)
{
    static const char *const KEY[][3] = {
        { "cup_us", "tbsp_us", "tsp_us" },
        { "cup_metric_anz", "tbsp_metric", "tsp_metric" },
        { "cup_imp", "tbsp_imp", "tsp_imp" },
    };
    const char *const *key = KEY[m == ST_MEASURES_US ? 0 : m == ST_MEASURES_IMPERIAL ? 2 : 1];

    return (struct spoons){ st_unit_by_key(key[0])->factor, st_unit_by_key(key[1])->factor,
                            st_unit_by_key(key[2])->factor };
}

struct mix {
    double cup, tbsp, tsp; /* how many */
    double cost;
};

/* Spoons for what the cups leave: tablespoons by halves, teaspoons by quarters (eighths when there is nothing else). */
static void add_spoons(const struct spoons *s, double x, double cup, double by, struct mix *best)
{
    const double left = x - cup * s->cup;

    for (int half = 0; half < 8 && half * 0.5 * s->tbsp <= left + by; half++) {
        const double rest = left - half * 0.5 * s->tbsp;
        const double grain = x < s->tsp ? 0.125 : 0.25;
        const double tsp = fmax(grain * round(rest / (grain * s->tsp)), 0.0);
        const double off = fabs(rest - tsp * s->tsp);
        if (off > by || tsp * s->tsp >= s->tbsp || cup + half + tsp <= 0.0)
            continue;
        const double cost =
            (cup > 0.0) + (half > 0) + (tsp > 0.0) + 0.2 * (half % 2) + 0.1 * (fmod(tsp, 1.0) > 0.0) + 0.3 * off / by;
        if (cost < best->cost)
            *best = (struct mix){ cup, 0.5 * half, tsp, cost };
    }
}

/* The fewest cups and spoons that come within 1 % or an eighth of a teaspoon; false for less than that. */
static bool find_mix(const struct spoons *s, double x, bool cups, struct mix *best)
{
    static const double PART[] = { 0.0, 0.25, 1.0 / 3, 0.5, 2.0 / 3, 0.75 };
    const double by = fmax(0.01 * x, 0.126 * s->tsp);

    *best = (struct mix){ 0.0, 0.0, 0.0, HUGE_VAL };
    if (x < 0.1 * s->tsp)
        return false;
    const double most = cups ? floor(x / s->cup + 0.02) : 0.0;
    for (int k = most >= 1.0 ? 1 : 0; k >= 0; k--) {
        const double whole = most - k;
        for (int i = 0; i < (cups ? 6 : 1); i++)
            if ((whole + PART[i]) * s->cup <= x + by)
                add_spoons(s, x, whole + PART[i], by, best);
    }
    return best->cost < HUGE_VAL;
}

static void put_part(struct st_text_room *o, double x, const char *one, const char *many, bool *begun)
{
    if (!(x > 0.0))
        return;
    if (*begun)
        st_text_put(o, " + ");
    *begun = true;
    (void)put_fraction(o, x, 1e-3);
    st_text_put(o, " %s", x > 1.0 + 1e-9 ? many : one);
}

/* ---- by dimension ---- */

static void put_si(struct st_text_room *o, double x, const char *small, const char *large)
{
    const double step = step_of(x, x < 1.0 ? 0.01 : 0.1);
    const double rounded = step * round(x / step);

    if (rounded < 1000.0) {
        put_rounded(o, x, step);
        st_text_put(o, " %s", small);
    } else {
        put_rounded(o, x / 1000.0, step / 1000.0);
        st_text_put(o, " %s", large);
    }
}

static void put_spoons(struct st_text_room *o, double x, enum st_measures m)
{
    const struct spoons s = spoons_of(m);
    const bool cups = m != ST_MEASURES_NONE;
    struct mix mix;
    bool begun = false;

    if (x > (cups ? 16.0 * s.cup : 16.0 * s.tbsp) || !find_mix(&s, x, cups, &mix)) {
        put_si(o, x, "mL", "L");
        return;
    }
    put_part(o, mix.cup, "cup", "cups", &begun);
    put_part(o, mix.tbsp, "tbsp", "tbsp", &begun);
    put_part(o, mix.tsp, "tsp", "tsp", &begun);
}

/* How a volume or weight is told. */
enum manner { BY_SI, BY_SPOONS, BY_UNIT };

static bool is_key(const struct st_unit *u, const char *keys)
{
    const size_t n = u ? strlen(u->key) : 0;

    for (const char *at = keys; u && (at = strstr(at, u->key)) != NULL; at++)
        if (at[-1] == ' ' && at[n] == ' ')
            return true;
    return false;
}

static bool is_si(const struct st_unit *u)
{
    return !u || is_key(u, " g kg mg ml cl dl l ");
}

/* Of measures other than those asked for; spoons are of everywhere where none are declared. */
static bool is_foreign(const struct st_unit *u, enum st_measures m)
{
    if (m == ST_MEASURES_NONE && is_key(u, " tbsp_metric tsp_metric "))
        return false;
    return u && u->system != ST_MEASURES_NONE && u->system != m;
}

static enum manner manner_of(const struct st_amount *a, enum st_measures m)
{
    const struct st_unit *u = a->unit;

    if (a->dim == ST_DIM_MASS)
        return !u || is_key(u, " g kg mg ") ? BY_SI : BY_UNIT;
    if (u && is_key(u, " ml l "))
        return BY_SI;
    if (!u || is_foreign(u, m))
        return m == ST_MEASURES_US || m == ST_MEASURES_IMPERIAL ? BY_SPOONS : BY_SI;
    return is_key(u, " cup_us tbsp_us tsp_us cup_metric_anz tbsp_metric tsp_metric cup_imp tbsp_imp tsp_imp ")
               ? BY_SPOONS
               : BY_UNIT;
}

static const char *short_name(const struct st_unit *u, double x)
{
    if (is_key(u, " tbsp_us tbsp_metric tbsp_imp "))
        return "tbsp";
    if (is_key(u, " tsp_us tsp_metric tsp_imp "))
        return "tsp";
    return x > 1.0 + 1e-9 ? u->plural : u->name;
}

static void put_in_unit(struct st_text_room *o, double x, const struct st_unit *u)
{
    assert(u); /* every key asked for is in the table */
    put_count(o, x / u->factor);
    st_text_put(o, " %s", short_name(u, x / u->factor));
}

static void put_goods(struct st_text_room *o, const struct st_amount *a, double x, enum st_measures m)
{
    const enum manner manner = manner_of(a, m);

    if (manner == BY_UNIT)
        put_in_unit(o, x, a->unit);
    else if (manner == BY_SPOONS)
        put_spoons(o, x, m);
    else if (a->dim == ST_DIM_MASS)
        put_si(o, x, "g", "kg");
    else
        put_si(o, x, "mL", "L");
}

static const struct st_unit *time_unit(const struct st_amount *a)
{
    static const char *const KEY[] = { "month", "week", "day", "hour", "minute" };
    static const double LEAST[] = { 90 * 86400.0, 14 * 86400.0, 2 * 86400.0, 7200.0, 120.0 };

    if (a->unit && a->unit->dim == ST_DIM_TIME)
        return a->unit;
    for (int i = 0; i < 5; i++)
        if (a->value >= LEAST[i])
            return st_unit_by_key(KEY[i]);
    return st_unit_by_key("second");
}

static const struct st_unit *temperature_unit(const struct st_amount *a, enum st_measures m)
{
    if (a->unit && a->unit->dim == ST_DIM_TEMPERATURE && !is_key(a->unit, " gas_mark "))
        return a->unit;
    return st_unit_by_key(m == ST_MEASURES_US ? "deg_f" : "deg_c");
}

static void put_converted(struct st_text_room *o, double base, const struct st_unit *u)
{
    double x;
    if (st_unit_from_base(u, base, &x) < 0)
        return;
    put_rounded(o, x, step_of(fabs(x), 0.1));
}

/* One figure without its unit; and the unit.  For ranges and what is no volume or weight. */
static void put_figure(struct st_text_room *o, const struct st_amount *a, double x, enum st_measures m)
{
    if (a->dim == ST_DIM_TEMPERATURE)
        put_converted(o, x, temperature_unit(a, m));
    else if (a->dim == ST_DIM_STRENGTH)
        put_rounded(o, x, 0.1);
    else if (a->dim == ST_DIM_TIME)
        put_count(o, x / time_unit(a)->factor);
    else if (a->dim != ST_DIM_PIECE && is_si(a->unit))
        put_number(o, x / (a->unit ? a->unit->factor : 1.0));
    else if (is_key(a->unit, " tbsp_metric tsp_metric ")) /* of anywhere: 14.8 mL is a tablespoon too */
        (void)(put_fraction(o, x / a->unit->factor, 0.02 * x / a->unit->factor) ||
               (put_number(o, x / a->unit->factor), true));
    else
        put_count(o, x / (a->unit ? a->unit->factor : 1.0));
}

static void put_unit(struct st_text_room *o, const struct st_amount *a, double x, enum st_measures m)
{
    if (a->dim == ST_DIM_TEMPERATURE)
        st_text_put(o, " %s", temperature_unit(a, m)->name);
    else if (a->dim == ST_DIM_STRENGTH)
        st_text_put(o, " %% vol");
    else if (a->dim == ST_DIM_TIME)
        st_text_put(o, " %s", short_name(time_unit(a), x / time_unit(a)->factor));
    else if (a->unit)
        st_text_put(o, " %s", short_name(a->unit, x / a->unit->factor));
    else if (a->dim != ST_DIM_PIECE)
        st_text_put(o, " %s", st_dimension_base(a->dim));
}

static void put_open(struct st_text_room *o, const struct st_amount *a)
{
    switch (a->open) {
    case ST_OPEN_COVER: st_text_put(o, "until covered"); break;
    case ST_OPEN_TASTE: st_text_put(o, "to taste"); break;
    case ST_OPEN_TOP_UP: st_text_put(o, "to top up"); break;
    case ST_OPEN_FILL:
        st_text_put(o, "to ");
        put_rounded(o, 100.0 * a->fill_share, 0.1);
        st_text_put(o, " %% of ");
        if (a->value > 0.0) {
            st_text_put(o, "a ");
            put_si(o, a->value, "mL", "L");
            st_text_put(o, " jar");
        } else {
            st_text_put(o, "the jar");
        }
        break;
    case ST_OPEN_SOME:
    case ST_CLOSED: st_text_put(o, "some"); break;
    }
}

static void put_closed(struct st_text_room *o, const struct st_amount *a, enum st_measures m)
{
    const double hardly = a->dim == ST_DIM_TEMPERATURE ? 1.0 : 1.03; /* spoons of anywhere are one spoon */
    const bool spread = a->high > hardly * a->low && !(a->unit && st_unit_is_vague(a->unit));
    struct st_amount shown = *a;

    if (is_foreign(a->unit, m) && a->dim == ST_DIM_VOLUME && spread)
        shown.unit = NULL;
    if (a->make_up_to)
        st_text_put(o, "to ");
    if (spread && !a->vague) {
        put_figure(o, &shown, a->low, m);
        st_text_put(o, a->dim == ST_DIM_TEMPERATURE ? " to " : "-"); /* it may be below zero */
        put_figure(o, &shown, a->high, m);
        put_unit(o, &shown, a->high, m);
        return;
    }
    if (spread)
        st_text_put(o, "about ");
    else if (a->heaped || a->scant)
        st_text_put(o, a->heaped ? "heaped " : "scant ");
    if (a->dim == ST_DIM_MASS || a->dim == ST_DIM_VOLUME) {
        put_goods(o, a, a->value, m);
    } else {
        put_figure(o, a, a->value, m);
        put_unit(o, a, a->value, m);
    }
}

size_t st_quantity_print(const struct st_amount *a, enum st_measures measures, char *buf, size_t size)
{
    struct st_text_room o = { buf, size, 0 };

    if (size == 0)
        return 0;
    buf[0] = '\0';
    if (a->dim == ST_DIM_OPEN)
        put_open(&o, a);
    else if (isfinite(a->value) && isfinite(a->low) && isfinite(a->high))
        put_closed(&o, a, measures);
    return o.n;
}
