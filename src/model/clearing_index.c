#include <math.h>

#include "clearing.h"
#include "core/arrhenius.h"
#include "core/louche.h"
#include "core/solvent_power.h"
#include "core/steep_constants.h"
#include "core/strength.h"

/* Whether a liquid holds its oil: the index, its interval, and the verdict. */

static const double NORMAL_975 = 1.959963984540054;
/* The low end of contents that add up to nothing: an index has a logarithm. */
static const double LEAST_SHARE = 1e-3;

/* Sum over the oils at one strength; wide[2]: how far the contents reach, down and up. */
static enum st_status index_at(const struct st_oil_part part[], int n, double q, double sugar, double T, double diluted,
                               double *index, double wide[2])
{
    double sum = 0.0, down = 0.0, up = 0.0;
    for (int i = 0; i < n; i++) {
        double S20, S, L;
        enum st_status s = st_solubility_in_spirit(part[i].S_w, part[i].sigma, q * 0.01, &S20);
        if (s >= 0)
            s = st_solubility_chilled(S20, st_steep_constant(ST_OIL_HEAT), T, &S);
        if (s >= 0)
            s = st_louche_index(part[i].g_l * diluted, S, sugar, st_steep_constant(ST_SALTING_OUT), &L);
        if (s < 0)
            return s;
        const double per = part[i].g_l > 0.0 ? L / part[i].g_l : 0.0;
        sum += L;
        down += per * (part[i].g_l - part[i].low) * per * (part[i].g_l - part[i].low);
        up += per * (part[i].high - part[i].g_l) * per * (part[i].high - part[i].g_l);
    }
    *index = sum;
    if (wide) {
        wide[0] = sqrt(down);
        wide[1] = sqrt(up);
    }
    return ST_OK;
}

/* Squares of distances in the logarithm of the index. */
struct reach {
    double down, up;
};

static void add(struct reach *r, double down, double up)
{
    r->down += down * down;
    r->up += up * up;
}

/* What the law itself leaves open: its own error, how sugar drives oil out, how the cold does. */
static void add_law(struct reach *r, double sugar, double T)
{
    const struct st_steep_constant_row *law = st_steep_constant_get(ST_SOLUBILITY_ERROR),
                                       *out = st_steep_constant_get(ST_SALTING_OUT),
                                       *heat = st_steep_constant_get(ST_OIL_HEAT);
    const double sd = NORMAL_975 * log(law->high / law->mid), ln10 = log(10.0),
                 cold = fabs(1.0 / T - 1.0 / ST_T20) / ST_GAS_CONSTANT;
    add(r, sd, sd);
    add(r, ln10 * (out->mid - out->low) * sugar, ln10 * (out->high - out->mid) * sugar);
    add(r, (heat->mid - heat->low) * cold, (heat->high - heat->mid) * cold);
}

static enum st_clearness clearness_of(const struct st_interval *index, bool all_known, bool any)
{
    enum st_haze haze;
    if (!any || st_haze_of_interval(index->low, index->high, &haze) < 0)
        return all_known ? ST_STAYS_CLEAR : ST_CLEARNESS_UNKNOWN;
    if (haze == ST_HAZE_CLOUD)
        return ST_CLOUDS;
    if (!all_known)
        return ST_CLEARNESS_UNKNOWN;
    return haze == ST_HAZE_CLEAR ? ST_STAYS_CLEAR : ST_MAY_CLOUD;
}

enum st_status st_clear_judge(const struct st_oil_part part[], int n, const struct st_interval *strength, double sugar,
                              double T, double diluted, bool all_known, struct st_clear_verdict *v)
{
    if (!(diluted > 0.0 && diluted <= 1.0) || !(sugar >= 0.0) || n < 0 || n > ST_MAX_OILS ||
        !(0.0 <= strength->low && strength->low <= strength->value && strength->value <= strength->high))
        return ST_E_DOMAIN;
    double middle, weak, strong, wide[2];
    const double q = strength->value * diluted, grams = sugar * diluted;
    enum st_status s = index_at(part, n, q, grams, T, diluted, &middle, wide);
    if (s >= 0)
        s = index_at(part, n, strength->low * diluted, grams, T, diluted, &weak, NULL);
    if (s >= 0)
        s = index_at(part, n, fmin(strength->high, 100.0) * diluted, grams, T, diluted, &strong, NULL);
    if (s < 0)
        return s;
    *v = (struct st_clear_verdict){ .T_K = T, .diluted = diluted, .strength = q, .sugar = grams };
    struct reach r = { 0.0, 0.0 };
    if (middle > 0.0) {
        add(&r, log(middle / fmax(middle - wide[0], middle * LEAST_SHARE)), log1p(wide[1] / middle));
        add(&r, log(middle / strong), log(weak / middle));
        add_law(&r, grams, T);
    }
    v->index =
        (struct st_interval){ middle, middle * exp(-sqrt(r.down)), middle * exp(sqrt(r.up)), ST_ESTIMATED, n > 0 };
    v->is = clearness_of(&v->index, all_known, n > 0);
    return ST_ESTIMATED;
}

/* Which end of the index is brought down to the limit of clear. */
enum end { LOW_END, MIDDLE, HIGH_END };

static enum st_status end_at(const struct st_oil_part part[], int n, double q, double sugar, double T, enum end end,
                             double *index)
{
    const struct st_interval at = { q, q, q, ST_OK, true };
    struct st_clear_verdict v;
    const enum st_status s = st_clear_judge(part, n, &at, sugar, T, 1.0, true, &v);
    *index = s < 0 ? 0.0 : end == LOW_END ? v.index.low : end == MIDDLE ? v.index.value : v.index.high;
    return s;
}

/* Bisection: the index falls with strength.  40 halvings leave 1e-10 % vol. */
static enum st_status clear_at(const struct st_oil_part part[], int n, double sugar, double T, enum end end, double *q)
{
    double low = 0.0, high = 96.0, index;
    const double limit = st_steep_constant(ST_LOUCHE_CLEAR);
    enum st_status s = end_at(part, n, high, sugar, T, end, &index);
    if (s < 0)
        return s;
    if (!(index < limit))
        return ST_E_NOCONV;
    for (int i = 0; i < 40; i++) {
        const double middle = 0.5 * (low + high);
        s = end_at(part, n, middle, sugar, T, end, &index);
        if (s < 0)
            return s;
        if (index < limit)
            high = middle;
        else
            low = middle;
    }
    *q = high;
    return ST_ESTIMATED;
}

enum st_status st_clear_strength(const struct st_oil_part part[], int n, double sugar, double T,
                                 struct st_interval *strength)
{
    struct st_interval q = { .status = ST_ESTIMATED, .known = true };
    enum st_status s = clear_at(part, n, sugar, T, LOW_END, &q.low);
    if (s >= 0)
        s = clear_at(part, n, sugar, T, MIDDLE, &q.value);
    if (s >= 0)
        s = clear_at(part, n, sugar, T, HIGH_END, &q.high);
    if (s >= 0)
        *strength = q;
    return s;
}
