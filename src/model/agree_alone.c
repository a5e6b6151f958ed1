#include <math.h>

#include "agree_search.h"
#include "core/chi_square.h"

static const double DETERMINED = 0.05; /* of the standard deviation that knowing nothing has */

static struct st_interval between(double value, double u)
{
    return (struct st_interval){
        .value = value, .low = value - AGREE_NORMAL_975 * u, .high = value + AGREE_NORMAL_975 * u, .known = true
    };
}

/* Which of the unknowns the readings are to find by themselves: ethanol and sugar; the whole, where it was weighed or
 * measured (else what acid weighs would be a share of nobody knows what). */
struct open {
    bool whole, acid, drained[ST_AGREE_STEEPS];
    double grams, variance; /* of the whole, by the recipe */
};

static struct open what_is_open(const struct agree_drink *d)
{
    struct open o = { .whole = false };
    for (int i = 0; i < d->n; i++) {
        const enum st_seen what = d->reading[i].what;
        o.whole = o.whole || what == ST_SEEN_LIQUOR_ML || what == ST_SEEN_LIQUOR_G;
        o.acid = o.acid || what == ST_SEEN_ACID;
        if (what == ST_SEEN_DRAINED_G)
            o.drained[d->reading[i].steep] = true;
    }
    for (int a = AGREE_ETHANOL; a <= AGREE_WATER; a++) {
        o.grams += d->x0[a];
        for (int b = AGREE_ETHANOL; b <= AGREE_WATER; b++)
            o.variance += d->P[a * AGREE_N + b];
    }
    return o;
}

/* Forget unknown a: by itself, with this variance. */
static void forget(double P[AGREE_N * AGREE_N], int a, double variance)
{
    for (int b = 0; b < AGREE_N; b++)
        P[a * AGREE_N + b] = P[b * AGREE_N + a] = a == b ? variance : 0.0;
}

/* What it is to know nothing of strength and sugar: each mass as uncertain as the whole is heavy, the water what they
 * leave of it. */
static void know_nothing(const struct agree_drink *d, const struct open *o, double P[AGREE_N * AGREE_N])
{
    const double flat = o->grams * o->grams;
    for (int a = 0; a < AGREE_N * AGREE_N; a++)
        P[a] = d->P[a];
    forget(P, AGREE_ETHANOL, flat);
    forget(P, AGREE_SUGAR, flat);
    forget(P, AGREE_WATER, 2.0 * flat + (o->whole ? flat : o->variance));
    if (o->acid)
        forget(P, AGREE_ACID, flat);
    for (int k = 0; k < ST_AGREE_STEEPS; k++)
        if (o->drained[k])
            forget(P, AGREE_DRAINED + k, flat);
    P[AGREE_ETHANOL * AGREE_N + AGREE_WATER] = P[AGREE_WATER * AGREE_N + AGREE_ETHANOL] = -flat;
    P[AGREE_SUGAR * AGREE_N + AGREE_WATER] = P[AGREE_WATER * AGREE_N + AGREE_SUGAR] = -flat;
}

/* The variance of unknown a. */
static double variance(const double C[AGREE_N * AGREE_N], int a)
{
    return C[(size_t)a * (AGREE_N + 1)];
}

/* How many unknowns the readings found by themselves; C: covariance after. */
static int found(const struct open *o, const double C[AGREE_N * AGREE_N])
{
    static const int SUM[3] = { AGREE_ETHANOL, AGREE_SUGAR, AGREE_WATER };
    const double flat = o->grams * o->grams;
    double whole = 0.0, n = 2.0;
    n -= (variance(C, AGREE_ETHANOL) + variance(C, AGREE_SUGAR)) / flat;
    for (int a = 0; a < 3; a++)
        for (int b = 0; b < 3; b++)
            whole += C[SUM[a] * AGREE_N + SUM[b]];
    n += o->whole ? 1.0 - whole / flat : 0.0;
    n += o->acid ? 1.0 - variance(C, AGREE_ACID) / flat : 0.0;
    for (int k = 0; k < ST_AGREE_STEEPS; k++)
        n += o->drained[k] ? 1.0 - variance(C, AGREE_DRAINED + k) / flat : 0.0;
    return (int)floor(n + 0.5);
}

/* Strength and sugar found by the readings alone, which no liquid has. */
static bool is_no_liquid(const struct st_reconciled *nothing, const struct st_reconciled *alone, int n)
{
    const int q = n + ST_AGREE_STRENGTH, g = n + ST_AGREE_SUGAR;
    const double *x = alone->fitted, *u = alone->fitted_u;
    return (u[q] < DETERMINED * nothing->fitted_u[q] && x[q] - AGREE_NORMAL_975 * u[q] > 100.0) ||
           (u[g] < DETERMINED * nothing->fitted_u[g] && x[g] + AGREE_NORMAL_975 * u[g] < 0.0);
}

void st_agree_tell_alone(struct agree_search *s, struct st_agreement *out)
{
    double P[AGREE_N * AGREE_N], C[AGREE_N * AGREE_N], p;
    struct st_reconciled nothing, alone;
    const struct open o = what_is_open(&s->drink);
    const int n = s->drink.n;
    know_nothing(&s->drink, &o, P);
    if (n == 0 || st_agree_fit(s, P, AGREE_WITH_NONE, &nothing, NULL) < 0 ||
        st_agree_fit(s, P, AGREE_WITH_ALL, &alone, C) < 0)
        return;
    out->no_liquid = is_no_liquid(&nothing, &alone, n);
    for (int f = 0; f < ST_AGREE_NFIG && !out->no_liquid; f++) {
        const bool kept = (f == ST_AGREE_ACID && !o.acid) || (f == ST_AGREE_VOLUME && !o.whole);
        const double u = alone.fitted_u[n + f];
        if (kept || !(u < DETERMINED * nothing.fitted_u[n + f]) || alone.fitted[n + f] + AGREE_NORMAL_975 * u < 0.0)
            continue;
        out->measured[f] = between(fmax(alone.fitted[n + f], 0.0), u);
        out->measured[f].low = fmax(out->measured[f].low, 0.0);
        out->measured[f].status = out->before[f].status;
    }
    const int df = n - found(&o, C);
    if (df >= 1 && st_chi_square_above(alone.chi2, df, &p) >= 0)
        out->p_alone = p;
}
