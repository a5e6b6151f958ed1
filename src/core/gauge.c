#include "gauge.h"

#include <math.h>

#include "density_mixture.h"
#include "density_sugar.h"
#include "gauge_solve.h"
#include "refraction.h"
#include "strength.h"
#include "water.h"

const char *st_gauge_reason_text(enum st_gauge_reason r)
{
    switch (r) {
    case ST_GAUGE_FINE: return "fine";
    case ST_GAUGE_BAD_INPUT: return "a reading is missing or off every scale";
    case ST_GAUGE_NEGATIVE_STRENGTH: return "only a strength below zero would fit these readings";
    case ST_GAUGE_NEGATIVE_SUGAR: return "only sugar below zero would fit these readings";
    case ST_GAUGE_TOO_STRONG: return "only a strength above 96 % vol would fit these readings";
    case ST_GAUGE_BEYOND_SOLUBILITY: return "more sugar than a liquid of this strength dissolves would be needed";
    case ST_GAUGE_TWO_VALUED: return "in so strong a liquid the refractometer reads the same for two strengths";
    case ST_GAUGE_NO_SOLUTION: return "no liquid of alcohol, sugar and water gives these readings";
    }
    return "unknown reason";
}

static double or_default(double x, double otherwise)
{
    return x > 0.0 ? x : otherwise;
}

static const double U_TEMPERATURE = 0.5; /* standard uncertainty of a kitchen thermometer, K; common practice,
                                            no source */
static const double SQRT_12 = 3.4641016151377544;

/* The density that a reading means if the liquid is at T, and the part of its uncertainty that is the
 * instrument's. */
static enum st_status density_target(const struct st_gauge_in *in, bool boiled, double T, double *rho, double *u)
{
    if (in->by_flask && !boiled) {
        const double u_m = or_default(in->flask_step, 1e-4) / SQRT_12;
        const double u_V = or_default(in->flask_u, 0.002 * in->flask_m3);
        const enum st_status s = st_density_from_flask(in->flask_kg, in->flask_m3, T, !in->flask_in_vacuum, rho);
        if (s >= 0) *u = *rho * hypot(u_m / in->flask_kg, u_V / in->flask_m3);
        return s;
    }
    const double sg = boiled ? in->sg_boiled : in->sg;
    const enum st_status s = st_density_from_hydrometer(sg, T, in->sg_cal, rho);
    if (s >= 0) *u = *rho / sg * or_default(in->sg_step, 0.002) / SQRT_12;
    return s;
}

static enum st_status index_target(const struct st_gauge_in *in, double T, double *n, double *u)
{
    const double step = or_default(in->brix_step, 0.2);
    const enum st_status s = st_n_from_reading(in->brix, T, !in->no_atc, n);
    if (s >= 0) *u = step / SQRT_12 * 0.01 * st_scale_slope(0.01 * in->brix);
    return s;
}

static enum st_status target(const struct st_gauge_in *in, enum reading_kind kind, bool boiled, double T,
                             double *value, double *u)
{
    return kind == READ_DENSITY ? density_target(in, boiled, T, value, u) : index_target(in, T, value, u);
}

/* A reading of an instrument, with the same at a little higher temperature for what an error of the
 * thermometer does. */
static enum st_status take_reading(const struct st_gauge_in *in, enum reading_kind kind, bool boiled,
                                   struct reading *r)
{
    double u;
    r->kind = kind;
    r->T = kind == READ_INDEX ? in->brix_T : boiled ? in->sg_boiled_T : in->sg_T;
    r->scale = kind == READ_INDEX ? 1.5e-4 : 1.0; /* 0.1 Brix; 1 kg/m3 */
    if (!(r->T >= ST_T_LOWEST && r->T + U_TEMPERATURE <= ST_T_HIGHEST)) return ST_E_DOMAIN;

    enum st_status s = st_refract_at(r->T, &r->at);
    s = s < 0 ? s : st_refract_at(r->T + U_TEMPERATURE, &r->warmer);
    s = s < 0 ? s : target(in, kind, boiled, r->T, &r->target, &r->u_instrument);
    s = s < 0 ? s : target(in, kind, boiled, r->T + U_TEMPERATURE, &r->target_warmer, &u);
    return s;
}

static enum st_status known_value(enum reading_kind kind, double value, double u, struct reading *r)
{
    r->kind = kind;
    r->T = ST_T20;
    r->scale = kind == READ_SUGAR ? 10.0 : 1.0;
    r->target = value;
    r->u_instrument = u > 0.0 ? u : 0.0;
    const double highest = kind == READ_SUGAR ? 2000.0 : 100.0;
    return value >= 0.0 && value <= highest ? ST_OK : ST_E_DOMAIN;
}

/* Squared standard uncertainty of residual r at the liquid w, in its own unit. */
static double variance(const struct problem *p, const struct reading *r, const double w[ST_NCOMP])
{
    double u2 = r->u_instrument * r->u_instrument, band = 0.0;
    if (r->kind != READ_DENSITY && r->kind != READ_INDEX) return u2;

    const double warm = st_gauge_residual(p, r, w, true) - st_gauge_residual(p, r, w, false);
    if (r->kind == READ_DENSITY)
        (void)st_density_mixture_band(w, r->T, &band);
    else
        (void)st_n_mixture_band(w, r->T, &band);
    u2 += warm * r->scale * warm * r->scale + band / 1.96 * (band / 1.96);
    return u2;
}

/* Greater over smaller singular value of J. */
static double condition_2x2(const double J[4])
{
    const double sum = J[0] * J[0] + J[1] * J[1] + J[2] * J[2] + J[3] * J[3];
    const double det = fabs(J[0] * J[3] - J[1] * J[2]);
    const double root = sqrt(fmax(sum * sum - 4.0 * det * det, 0.0));
    return det > 0.0 ? (sum + root) / (2.0 * det) : HUGE_VAL;
}

/* J of the two residuals against strength (1 % vol) and sugar (10 g/L), from that against mass fractions. */
static void scaled_jacobian(const struct problem *p, const double x[2], double J[4])
{
    double Jw[4], M[4];
    st_gauge_jacobian(p, x, Jw);
    st_gauge_output_jacobian(p, x, M); /* d(strength, sugar)/d(wE, wS) */
    M[2] *= 0.1;
    M[3] *= 0.1;
    const double det = M[0] * M[3] - M[1] * M[2];
    J[0] = (Jw[0] * M[3] - Jw[1] * M[2]) / det;
    J[1] = (Jw[1] * M[0] - Jw[0] * M[1]) / det;
    J[2] = (Jw[2] * M[3] - Jw[3] * M[2]) / det;
    J[3] = (Jw[3] * M[0] - Jw[2] * M[1]) / det;
}

static void carry_uncertainty(const struct problem *p, const double J[4], const double w[ST_NCOMP],
                              struct st_gauge_out *out)
{
    const double va = variance(p, &p->a, w) / (p->a.scale * p->a.scale);
    const double vb = variance(p, &p->b, w) / (p->b.scale * p->b.scale);
    const double det = J[0] * J[3] - J[1] * J[2];
    const double I[4] = { J[3] / det, -J[1] / det, -J[2] / det, J[0] / det };
    const double qq = I[0] * I[0] * va + I[1] * I[1] * vb;
    const double cc = I[2] * I[2] * va + I[3] * I[3] * vb;
    const double qc = I[0] * I[2] * va + I[1] * I[3] * vb;
    out->strength_u = sqrt(qq);
    out->sugar_u = 10.0 * sqrt(cc);
    out->correlation = qq > 0.0 && cc > 0.0 ? qc / sqrt(qq * cc) : 0.0;
    out->condition = condition_2x2(J);
}

/* Note 4 of the header: half a per cent of strength wherever a refractometer is read, and what sugar does
 * to keep the reading that is trusted (the density if there is one, else the index itself). */
static void add_systematic(const struct problem *p, const double J[4], struct st_gauge_out *out)
{
    out->strength_systematic = 0.0;
    out->sugar_systematic = 0.0;
    if (p->b.kind != READ_INDEX) return;
    if (p->a.kind != READ_STRENGTH) out->strength_systematic = 0.5;
    const double *row = p->a.kind == READ_DENSITY ? J : J + 2;
    if (p->a.kind != READ_SUGAR) out->sugar_systematic = fabs(10.0 * 0.5 * row[0] / row[1]);
}

static void set_band(struct st_gauge_out *out)
{
    const double q = 1.96 * out->strength_u + out->strength_systematic;
    const double c = 1.96 * out->sugar_u + out->sugar_systematic;
    out->strength_low = fmax(out->strength - q, 0.0);
    out->strength_high = fmin(fmax(out->strength, 0.0) + q, 100.0);
    out->sugar_low = fmax(out->sugar_g_l - c, 0.0);
    out->sugar_high = fmax(out->sugar_g_l, 0.0) + c;
}

/* [schrefeld1894] % sugar in the saturated solution at 14 degC for 0, 10 .. 100 % mass ethanol in the
 * solvent, from memory; five points are added (Note 5 of the header) */
static bool beyond_solubility(const double w[ST_NCOMP])
{
    static const double limit[11] = { 66.2, 62.2, 58.55, 54.05, 47.75, 38.55, 26.7, 12.25, 4.05, 0.95, 0.0 };
    const double p = 10.0 * w[ST_ETHANOL] / (w[ST_ETHANOL] + w[ST_WATER]);
    const int i = p <= 0.0 ? 0 : p >= 9.0 ? 9 : (int)p;
    const double f = p <= 0.0 ? 0.0 : p - i;
    const double at_p = limit[i] + f * (limit[i + 1] - limit[i]);
    return 100.0 * st_mixture_sugars(w) > at_p + 5.0;
}

static enum st_gauge_reason judge(const struct problem *p, const struct st_gauge_out *out, const double w[ST_NCOMP])
{
    const double q = 1.96 * out->strength_u + out->strength_systematic + 1e-6;
    const double c = 1.96 * out->sugar_u + out->sugar_systematic + 1e-6;
    if (out->strength < -q) return ST_GAUGE_NEGATIVE_STRENGTH;
    if (out->sugar_g_l < -c) return ST_GAUGE_NEGATIVE_SUGAR;
    if (out->strength > 96.0 + 1e-6) return ST_GAUGE_TOO_STRONG;
    const bool index_alone = p->b.kind == READ_INDEX && p->a.kind == READ_SUGAR;
    if (index_alone && w[ST_ETHANOL] > 0.55 * (w[ST_ETHANOL] + w[ST_WATER])) return ST_GAUGE_TWO_VALUED;
    if (beyond_solubility(w)) return ST_GAUGE_BEYOND_SOLUBILITY;
    return ST_GAUGE_FINE;
}

/* All about one solution x = (wE, wS). */
static void describe(const struct problem *p, const double x[2], struct st_gauge_out *out)
{
    double w[ST_NCOMP], J[4], rho;
    st_gauge_liquid(p, x, w, &rho);
    out->strength = 100.0 * x[0] * rho / p->rho_ethanol;
    out->sugar_g_l = x[1] * rho;
    out->density_20 = rho;

    /* bands are asked of the nearest liquid that can be */
    const double y[2] = { fmax(x[0], 0.0), fmax(x[1], 0.0) };
    st_gauge_liquid(p, y, out->w, &rho);
    scaled_jacobian(p, x, J);
    carry_uncertainty(p, J, out->w, out);
    add_systematic(p, J, out);
    out->reason = judge(p, out, out->w);
    set_band(out);
}

/* What a residual of 1e-8 of its scale, where the solver may stop, can leave of a true 0: % vol, g/L. */
static const double NOTHING = 1e-7;

/* Below 0 inside noise, or above it inside what the solver leaves: 0. */
static void settle(const struct problem *p, struct st_gauge_out *out)
{
    const bool no_spirit = out->strength < NOTHING, no_sugar = out->sugar_g_l < NOTHING;
    if (!no_spirit && !no_sugar) return;
    double rho;
    const double y[2] = { no_spirit ? 0.0 : out->w[ST_ETHANOL], no_sugar ? 0.0 : st_mixture_sugars(out->w) };
    st_gauge_liquid(p, y, out->w, &rho);
    out->density_20 = rho;
    if (no_spirit) out->strength = 0.0;
    if (no_sugar) out->sugar_g_l = 0.0;
}

static bool mild(const struct reading *r)
{
    return r->T >= ST_T_FITTED_LOW && r->T <= ST_T_FITTED_HIGH;
}

static enum st_status range_status(const struct problem *p, const struct st_gauge_out *out)
{
    if (out->w[ST_ACID] > 0.05) return ST_ESTIMATED;
    if (out->strength > 60.0 || out->sugar_g_l > 500.0 || !mild(&p->a) || !mild(&p->b)) return ST_EXTRAPOLATED;
    return ST_OK;
}

static enum st_status refuse(struct st_gauge_out *out, enum st_gauge_reason reason, enum st_status s)
{
    out->reason = reason;
    return s;
}

/* Nothing was found in the box.  Denser than sugar water that shows this Brix: it would take alcohol below 0. */
static enum st_gauge_reason why_none(const struct problem *p, const struct st_gauge_in *in)
{
    double rho;
    if (p->a.kind != READ_DENSITY || p->b.kind != READ_INDEX) return ST_GAUGE_NO_SOLUTION;
    if (st_density_sucrose(fmax(0.01 * in->brix, 0.0), p->a.T, &rho) < 0) return ST_GAUGE_NO_SOLUTION;
    return p->a.target > rho ? ST_GAUGE_NEGATIVE_STRENGTH : ST_GAUGE_NO_SOLUTION;
}

/* Solve p from all starts and choose. */
static enum st_status solve(struct problem *p, const struct st_gauge_in *in, struct st_gauge_out *out)
{
    if (!(in->acid_g_l >= 0.0 && in->acid_g_l <= 300.0) || !(in->invert_share >= 0.0 && in->invert_share <= 1.0))
        return refuse(out, ST_GAUGE_BAD_INPUT, ST_E_DOMAIN);
    st_gauge_prepare(p, in->acid_g_l, in->invert_share);

    double x[ST_GAUGE_STARTS][2];
    int iterations = 0, good = 0;
    const int found = st_gauge_solve(p, x, &iterations);
    if (found == 0) return refuse(out, why_none(p, in), ST_E_NOCONV);

    struct st_gauge_out best = { 0 };
    for (int i = 0; i < found; i++) {
        struct st_gauge_out o = { 0 };
        describe(p, x[i], &o);
        if (o.reason == ST_GAUGE_FINE) good++;
        if (i == 0 || (o.reason == ST_GAUGE_FINE && best.reason != ST_GAUGE_FINE)) best = o;
    }
    if (good > 1) best.reason = ST_GAUGE_TWO_VALUED;
    best.iterations = iterations;
    *out = best;
    if (best.reason != ST_GAUGE_FINE) return ST_E_REFUSED;
    settle(p, out);
    return range_status(p, out);
}

/* The density of the residue is that of sugar (and acid) alone: first sugar from it, then the strength. */
static enum st_status solve_boiled(const struct st_gauge_in *in, struct st_gauge_out *out)
{
    struct problem residue = { 0 }, whole = { 0 };
    struct st_gauge_out first = { 0 };
    enum st_status s = take_reading(in, READ_DENSITY, true, &residue.a);
    if (s >= 0) s = take_reading(in, READ_DENSITY, false, &whole.a);
    if (s < 0) return refuse(out, ST_GAUGE_BAD_INPUT, ST_E_DOMAIN);
    (void)known_value(READ_STRENGTH, 0.0, 0.0, &residue.b);

    s = solve(&residue, in, &first);
    if (s < 0) return refuse(out, first.reason, s);
    (void)known_value(READ_SUGAR, first.sugar_g_l, first.sugar_u, &whole.b);
    s = st_status_worse(s, solve(&whole, in, out));
    return s;
}

enum st_status st_gauge(const struct st_gauge_in *in, struct st_gauge_out *out)
{
    struct problem p = { 0 };
    enum st_status a = ST_E_DOMAIN, b = ST_E_DOMAIN;
    switch (in->mode) {
    case ST_GAUGE_DENSITY_BRIX:
        a = take_reading(in, READ_DENSITY, false, &p.a);
        b = take_reading(in, READ_INDEX, false, &p.b);
        break;
    case ST_GAUGE_DENSITY_STRENGTH:
        a = take_reading(in, READ_DENSITY, false, &p.a);
        b = known_value(READ_STRENGTH, in->strength, in->strength_u, &p.b);
        break;
    case ST_GAUGE_DENSITY_SUGAR:
        a = take_reading(in, READ_DENSITY, false, &p.a);
        b = known_value(READ_SUGAR, in->sugar_g_l, in->sugar_u, &p.b);
        break;
    case ST_GAUGE_BRIX_STRENGTH:
        a = known_value(READ_STRENGTH, in->strength, in->strength_u, &p.a);
        b = take_reading(in, READ_INDEX, false, &p.b);
        break;
    case ST_GAUGE_BRIX_SUGAR:
        a = known_value(READ_SUGAR, in->sugar_g_l, in->sugar_u, &p.a);
        b = take_reading(in, READ_INDEX, false, &p.b);
        break;
    case ST_GAUGE_DENSITY_BOILED: return solve_boiled(in, out);
    }
    if (a < 0 || b < 0) return refuse(out, ST_GAUGE_BAD_INPUT, ST_E_DOMAIN);
    return solve(&p, in, out);
}

enum st_status st_gauge_sg_brix(const struct st_gauge_in *in, struct st_gauge_out *out)
{
    struct st_gauge_in both = *in;
    both.mode = ST_GAUGE_DENSITY_BRIX;
    return st_gauge(&both, out);
}

enum st_status st_extract_from_residue(double d_20_20, double *g_l)
{
    double rho_w = 0.0, w;
    if (!(d_20_20 >= 1.0)) return ST_E_DOMAIN;
    (void)st_density_water(ST_T20, &rho_w);
    const double rho = d_20_20 * rho_w;
    const enum st_status s = st_w_from_density_sucrose(rho, ST_T20, &w);
    if (s >= 0) *g_l = w * rho;
    return s;
}
