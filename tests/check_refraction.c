#include "check_refraction.h"

#include "check_kit.h"
#include "core/gauge.h"
#include "core/instruments.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "core/water.h"

struct check_result check_index_water(const struct check_field in[])
{
    double n = CHECK_SENTINEL;
    return check_settle(st_n_water(check_kelvin(in[0].x), &n), &n, 1.0, 0.0);
}

struct check_result check_index_ethanol(const struct check_field in[])
{
    double n = CHECK_SENTINEL;
    return check_settle(st_n_ethanol(in[0].x / 100.0, check_kelvin(in[1].x), &n), &n, 1.0, 0.0);
}

struct check_result check_index_sucrose(const struct check_field in[])
{
    double n = CHECK_SENTINEL;
    return check_settle(st_n_sucrose(in[0].x / 100.0, check_kelvin(in[1].x), &n), &n, 1.0, 0.0);
}

static struct check_result index_20(enum st_component c, double mass_pct)
{
    double w[ST_NCOMP], n = CHECK_SENTINEL;
    check_binary(c, mass_pct, w);
    return check_settle(st_n_mixture(w, ST_T20, &n), &n, 1.0, 0.0);
}

struct check_result check_index_glucose(const struct check_field in[])
{
    return index_20(ST_GLUCOSE, in[0].x);
}

struct check_result check_index_fructose(const struct check_field in[])
{
    return index_20(ST_FRUCTOSE, in[0].x);
}

struct check_result check_index_citric(const struct check_field in[])
{
    return index_20(ST_ACID, in[0].x);
}

struct check_result check_index_liqueur(const struct check_field in[])
{
    double w[ST_NCOMP], n = CHECK_SENTINEL;
    const enum st_status s = check_liqueur(in[0].x, in[1].x, w);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_n_mixture(w, ST_T20, &n)), &n, 1.0, 0.0);
}

struct check_result check_index_mixture(const struct check_field in[])
{
    double w[ST_NCOMP], n = CHECK_SENTINEL;
    check_five(in, w);
    return check_settle(st_n_mixture(w, check_kelvin(in[5].x), &n), &n, 1.0, 0.0);
}

struct check_result check_index_from_brix(const struct check_field in[])
{
    double n = CHECK_SENTINEL;
    return check_settle(st_n_from_brix(in[0].x, &n), &n, 1.0, 0.0);
}

struct check_result check_brix_from_index(const struct check_field in[])
{
    double brix = CHECK_SENTINEL;
    return check_settle(st_brix_from_n(in[0].x, &brix), &brix, 1.0, 0.0);
}

/* What is to be added to the reading in[0] of an instrument without compensation, sucrose at in[1] degC: found by
 * halving, over the sucrose solutions that it reads at that temperature. */
struct check_result check_brix_correction(const struct check_field in[])
{
    const double T = check_kelvin(in[1].x);
    double low = 0.0, high = 85.0;
    enum st_status s = ST_OK;
    if (!(in[0].x >= 0.0 && in[0].x <= 80.0))
        return check_plain(ST_E_DOMAIN, 0.0);
    for (int i = 0; i < 60; i++) {
        const double mid = 0.5 * (low + high);
        double w[ST_NCOMP], reading = 0.0;
        check_binary(ST_SUCROSE, mid, w);
        s = st_refractometer_reading(w, T, false, &reading);
        if (s < 0)
            return check_plain(s, 0.0);
        *(reading < in[0].x ? &low : &high) = mid;
    }
    return check_plain(s, 0.5 * (low + high) - in[0].x);
}

struct check_result check_refractometer(const struct check_field in[])
{
    double w[ST_NCOMP], brix = CHECK_SENTINEL;
    check_five(in, w);
    return check_settle(st_refractometer_reading(w, check_kelvin(in[5].x), true, &brix), &brix, 1.0, 0.0);
}

static struct check_result hydrometer(const struct check_field in[], enum st_hydrometer cal)
{
    double w[ST_NCOMP], sg = CHECK_SENTINEL;
    check_five(in, w);
    return check_settle(st_hydrometer_reading(w, check_kelvin(in[5].x), cal, &sg), &sg, 1.0, 0.0);
}

struct check_result check_hydrometer_20c(const struct check_field in[])
{
    return hydrometer(in, ST_HYDROMETER_20C);
}

struct check_result check_hydrometer_60f(const struct check_field in[])
{
    return hydrometer(in, ST_HYDROMETER_60F);
}

/* [rogerson2006] % vol = 1.646 Brix - 2.703 Baume - 1.794, fed with the Brix and Baume foreseen for in[0] % vol and
 * in[1] g/L; Baume = 145 (1 - 1/d), 20/20 C. */
struct check_result check_regression_strength(const struct check_field in[])
{
    double w[ST_NCOMP], brix = 0.0, sg = 1.0;
    enum st_status s = check_liqueur(in[0].x, in[1].x, w);
    if (s < 0)
        return check_plain(s, 0.0);
    s = st_status_worse(s, st_refractometer_reading(w, ST_T20, true, &brix));
    s = st_status_worse(s, st_sg_20_20(w, &sg));
    return check_plain(s, 1.646 * brix - 2.703 * 145.0 * (1.0 - 1.0 / sg) - 1.794);
}

static enum st_status gauge(const struct check_field in[], struct st_gauge_out *out)
{
    const struct st_gauge_in g = { .mode = ST_GAUGE_DENSITY_BRIX,
                                   .sg = in[0].x,
                                   .sg_T = check_kelvin(in[1].x),
                                   .sg_cal = ST_HYDROMETER_20C,
                                   .brix = in[2].x,
                                   .brix_T = check_kelvin(in[3].x) };
    return st_gauge_sg_brix(&g, out);
}

struct check_result check_gauge_strength(const struct check_field in[])
{
    struct st_gauge_out out = { 0 };
    const enum st_status s = gauge(in, &out);
    return check_plain(s, out.strength);
}

struct check_result check_gauge_sugar(const struct check_field in[])
{
    struct st_gauge_out out = { 0 };
    const enum st_status s = gauge(in, &out);
    return check_plain(s, out.sugar_g_l);
}
