#include "check_strength.h"

#include "check_kit.h"
#include "core/density_ethanol.h"
#include "core/density_mixture.h"
#include "core/strength.h"
#include "core/water.h"

static const double AIR = 1.2;                                         /* kg/m3; [oiml1975] */
static const double WEIGHTS = 8000.0;                                  /* kg/m3; [oiml1975] */
static const double GALLON_M3 = 3.785411784e-3, POUND_KG = 0.45359237; /* [hb44], [ucum_units] */

static struct check_result through(enum st_status (*f)(double, double *), double x, double factor)
{
    double y = CHECK_SENTINEL;
    const enum st_status s = f(x, &y);
    return check_settle(s, &y, factor, 0.0);
}

struct check_result check_strength_from_mass(const struct check_field in[])
{
    return through(st_strength_from_p, in[0].x / 100.0, 1.0);
}

struct check_result check_mass_from_strength(const struct check_field in[])
{
    return through(st_p_from_strength, in[0].x, 100.0);
}

struct check_result check_strength_60f_from_mass(const struct check_field in[])
{
    return through(st_proof_from_p, in[0].x / 100.0, 0.5);
}

struct check_result check_mass_from_strength_60f(const struct check_field in[])
{
    return through(st_p_from_proof, 2.0 * in[0].x, 100.0);
}

struct check_result check_proof_from_mass(const struct check_field in[])
{
    return through(st_proof_from_p, in[0].x / 100.0, 1.0);
}

struct check_result check_mass_from_proof(const struct check_field in[])
{
    return through(st_p_from_proof, in[0].x, 100.0);
}

struct check_result check_strength_mixture(const struct check_field in[])
{
    double w[ST_NCOMP], q = CHECK_SENTINEL;
    check_five(in, w);
    return check_settle(st_strength_mixture(w, &q), &q, 1.0, 0.0);
}

/* Density at 60 F of ethanol + water of this proof. */
static enum st_status density_60f(double proof, double *rho)
{
    double p = 0.0;
    const enum st_status s = st_p_from_proof(proof, &p);
    return s < 0 ? s : st_status_worse(s, st_density_ethanol(p, ST_T60F, rho));
}

static double water_60f(void)
{
    double rho = 0.0;
    (void)st_density_water(ST_T60F, &rho); /* 60 F is inside its limits */
    return rho;
}

struct check_result check_sg_vacuum_60f(const struct check_field in[])
{
    double rho = 0.0;
    const enum st_status s = density_60f(in[0].x, &rho);
    return check_plain(s, rho / water_60f());
}

struct check_result check_sg_air_60f(const struct check_field in[])
{
    double rho = 0.0;
    const enum st_status s = density_60f(in[0].x, &rho);
    return check_plain(s, (rho - AIR) / (water_60f() - AIR));
}

/* Parts of water that go with the parts of ethanol into 100 parts, all by volume at 60 F. */
struct check_result check_water_parts_60f(const struct check_field in[])
{
    double rho = 0.0, rho_E = 0.0;
    const enum st_status s = st_status_worse(density_60f(in[0].x, &rho), density_60f(200.0, &rho_E));
    return check_plain(s, (100.0 * rho - 0.5 * in[0].x * rho_E) / water_60f());
}

/* Parts of water that bring 100 parts of in[0] % vol to in[1] % vol, at 60 F. */
struct check_result check_reduce_60f(const struct check_field in[])
{
    double from = 0.0, to = 0.0;
    const enum st_status s = st_status_worse(density_60f(2.0 * in[0].x, &from), density_60f(2.0 * in[1].x, &to));
    if (s >= 0 && !(in[1].x > 0.0 && in[1].x <= in[0].x))
        return check_plain(ST_E_DOMAIN, 0.0);
    return check_plain(s, (100.0 * in[0].x / in[1].x * to - 100.0 * from) / water_60f());
}

/* Pounds shown for a US gallon at 60 F, weighed in air. */
static double pounds_per_gallon(double rho)
{
    return (rho - AIR) / (1.0 - AIR / WEIGHTS) * GALLON_M3 / POUND_KG;
}

struct check_result check_pounds_per_gallon(const struct check_field in[])
{
    double rho = 0.0;
    const enum st_status s = density_60f(in[0].x, &rho);
    return check_plain(s, pounds_per_gallon(rho));
}

struct check_result check_gallons_per_pound(const struct check_field in[])
{
    double rho = 0.0;
    const enum st_status s = density_60f(in[0].x, &rho);
    return check_plain(s, s < 0 ? 0.0 : 1.0 / pounds_per_gallon(rho));
}

struct check_result check_proof_gallons_per_pound(const struct check_field in[])
{
    struct check_result r = check_gallons_per_pound(in);
    r.value *= in[0].x / 100.0;
    return r;
}

/* Volume of 100 L of ethanol and 100 L of water, all at in[0] degC. */
struct check_result check_equal_volumes(const struct check_field in[])
{
    const double T = check_kelvin(in[0].x);
    double rho_E = 1.0, rho_W = 1.0, rho = 1.0;
    enum st_status s = st_status_worse(st_density_ethanol(1.0, T, &rho_E), st_density_water(T, &rho_W));
    if (s < 0)
        return check_plain(s, 0.0);
    s = st_status_worse(s, st_density_ethanol(rho_E / (rho_E + rho_W), T, &rho));
    return check_plain(s, 100.0 * (rho_E + rho_W) / rho);
}

/* The proof that a density at 60 F seems to be; rho between those of ethanol and water. */
static double apparent_proof(double rho)
{
    double low = 0.0, high = 200.0;
    for (int i = 0; i < 60; i++) {
        const double mid = 0.5 * (low + high);
        double r = 0.0;
        (void)density_60f(mid, &r); /* mid is inside 0 .. 200 */
        *(r > rho ? &low : &high) = mid;
    }
    return 0.5 * (low + high);
}

/* Proof hidden by in[1] g/L of sucrose in a spirit of in[0] % vol. */
struct check_result check_hidden_proof(const struct check_field in[])
{
    double w[ST_NCOMP], p = 0.0, proof = 0.0, rho = 0.0;
    enum st_status s = st_status_worse(check_liqueur(in[0].x, in[1].x, w), st_p_from_strength(in[0].x, &p));
    if (s < 0)
        return check_plain(s, 0.0);
    s = st_status_worse(st_density_mixture(w, ST_T60F, &rho), st_proof_from_p(p, &proof));
    return check_plain(s, s < 0 ? 0.0 : proof - apparent_proof(rho));
}
