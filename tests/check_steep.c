#include "check_steep.h"

#include "check_kit.h"
#include "core/ageing.h"
#include "core/arrhenius.h"
#include "core/bitterness.h"
#include "core/cyanogen.h"
#include "core/louche.h"
#include "core/normal_update.h"
#include "core/settling.h"
#include "core/solvent_power.h"
#include "core/steep_constants.h"
#include "core/strength.h"
#include "core/sweetness.h"
#include "core/toasting.h"
#include "core/uptake_forms.h"

static const double MINUTE = 60.0, DAY = 86400.0; /* s */

/* Solubility of a marker, kg/m3, from log P, mg/L in water and the volume fraction of ethanol. */
static enum st_status in_spirit(const struct check_field in[], double *S)
{
    double sigma = 0.0;
    const enum st_status s = st_sigma_of_log_p(in[0].x, &sigma);
    return s < 0 ? s : st_solubility_in_spirit(in[1].x / 1000.0, sigma, in[2].x, S);
}

struct check_result check_solubility_in_spirit(const struct check_field in[])
{
    double S = CHECK_SENTINEL;
    return check_settle(in_spirit(in, &S), &S, 1000.0, 0.0);
}

struct check_result check_louche_index(const struct check_field in[])
{
    double S = 0.0, L = CHECK_SENTINEL;
    const enum st_status s = in_spirit(in, &S);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_louche_index(in[3].x, S, in[4].x, st_steep_constant(ST_SALTING_OUT), &L), &L, 1.0, 0.0);
}

struct check_result check_chill_ratio(const struct check_field in[])
{
    double S = CHECK_SENTINEL;
    return check_settle(st_solubility_chilled(1.0, 1000.0 * in[0].x, check_kelvin(in[1].x), &S), &S, 1.0, 0.0);
}

struct check_result check_viscosity_ratio(const struct check_field in[])
{
    double w[ST_NCOMP], factor = 0.0;
    check_binary(ST_ETHANOL, in[0].x, w);
    const enum st_status s = st_viscosity_factor(w, &factor);
    return check_plain(s, s < 0 ? 0.0 : 1.0 / factor);
}

static enum st_status line(const struct check_field in[], int n, double t_C, struct st_arrhenius_fit *fit)
{
    double k[3], T[3];
    for (int i = 0; i < n; i++) {
        k[i] = in[i].x;
        T[i] = check_kelvin(in[n + i].x);
    }
    return st_arrhenius_fit(n, T, k, check_kelvin(t_C), fit);
}

struct check_result check_arrhenius_ea(const struct check_field in[])
{
    struct st_arrhenius_fit fit = { .Ea = CHECK_SENTINEL };
    return check_settle(line(in, 3, in[3].x, &fit), &fit.Ea, 1e-3, 0.0);
}

struct check_result check_arrhenius_at(const struct check_field in[])
{
    struct st_arrhenius_fit fit = { .k_ref = CHECK_SENTINEL };
    return check_settle(line(in, 3, in[6].x, &fit), &fit.k_ref, 1.0, 0.0);
}

struct check_result check_arrhenius_two(const struct check_field in[])
{
    struct st_arrhenius_fit fit = { .k_ref = CHECK_SENTINEL };
    return check_settle(line(in, 2, in[4].x, &fit), &fit.k_ref, 1.0, 0.0);
}

struct check_result check_settling(const struct check_field in[])
{
    double v = CHECK_SENTINEL;
    return check_settle(st_settling_speed(in[0].x, in[1].x, in[2].x, in[3].x, &v), &v, 1000.0 * DAY, 0.0);
}

/* days to the half of a speed k that came with status s */
static struct check_result half_life(enum st_status s, double k)
{
    double half = CHECK_SENTINEL;
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_half_life(k, &half)), &half, 1.0 / DAY, 0.0);
}

struct check_result check_inversion_half_life(const struct check_field in[])
{
    double k = 0.0;
    const enum st_status s = st_inversion_rate(in[0].x, check_kelvin(in[1].x), &k);
    return half_life(s, k);
}

struct check_result check_fading_half_life(const struct check_field in[])
{
    double k = 0.0;
    const enum st_status s = st_fading_rate(check_kelvin(in[0].x), &k);
    return half_life(s, k);
}

struct check_result check_half_lives_left(const struct check_field in[])
{
    double k = 0.0, left = CHECK_SENTINEL;
    if (st_half_life(in[0].x, &k) < 0) /* its own inverse: ln 2 over it */
        return check_plain(ST_E_DOMAIN, 0.0);
    return check_settle(st_first_order_left(k, in[1].x, &left), &left, 1.0, 0.0);
}

struct check_result check_fading_lost(const struct check_field in[])
{
    double k = 0.0, left = CHECK_SENTINEL;
    const enum st_status s = st_fading_rate(check_kelvin(in[0].x), &k);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_first_order_left(k, in[1].x * DAY, &left)), &left, -100.0, 100.0);
}

struct check_result check_absorbance(const struct check_field in[])
{
    double A = CHECK_SENTINEL;
    return check_settle(st_absorbance(in[0].x, in[1].x, in[2].x, &A), &A, 1.0, 0.0);
}

struct check_result check_apparent_rate(const struct check_field in[])
{
    double k = CHECK_SENTINEL;
    return check_settle(st_apparent_rate(in[0].x, in[1].x, in[2].x, &k), &k, 1.0, 0.0);
}

/* Left after so many minutes at another heat, by the rate of one run of ten minutes. */
struct check_result check_roast_left(const struct check_field in[])
{
    double k = 0.0, warm = 0.0, left = CHECK_SENTINEL;
    const enum st_status s =
        st_status_worse(st_apparent_rate(in[0].x, in[1].x, 10.0, &k),
                        st_arrhenius_factor(1000.0 * in[3].x, check_kelvin(in[4].x), check_kelvin(in[2].x), &warm));
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_first_order_left(k * warm, in[5].x, &left), &left, 1.0, 0.0);
}

struct check_result check_toast_core(const struct check_field in[])
{
    const struct st_oven_point oven = { 0.0, check_kelvin(in[0].x) };
    const struct st_piece_heat p = { .half_thickness = in[2].x, .h = in[3].x, .rho = in[4].x, .cp = in[5].x };
    double T = CHECK_SENTINEL;
    return check_settle(st_toast_core(&p, 1, &oven, check_kelvin(in[1].x), MINUTE * in[6].x, &T), &T, 1.0, -273.15);
}

struct check_result check_uptake_two_speeds(const struct check_field in[])
{
    double F = CHECK_SENTINEL;
    return check_settle(st_uptake_two_speeds(in[0].x, in[1].x, in[2].x, in[3].x, &F), &F, 1.0, 0.0);
}

struct check_result check_uptake_peleg(const struct check_field in[])
{
    double c = CHECK_SENTINEL;
    return check_settle(st_uptake_peleg(in[0].x, in[1].x, in[2].x, &c), &c, in[1].x, 0.0);
}

struct check_result check_uptake_weibull(const struct check_field in[])
{
    double F = CHECK_SENTINEL;
    return check_settle(st_uptake_weibull(in[0].x, in[1].x, in[2].x, &F), &F, 1.0, 0.0);
}

struct check_result check_hcn_at_most(const struct check_field in[])
{
    double hcn = CHECK_SENTINEL;
    return check_settle(st_hcn_at_most(in[0].x / 1000.0, in[1].x, &hcn), &hcn, 1000.0, 0.0);
}

struct check_result check_benzaldehyde_at_most(const struct check_field in[])
{
    double b = CHECK_SENTINEL;
    return check_settle(st_benzaldehyde_at_most(in[0].x / 1000.0, in[1].x, &b), &b, 1000.0, 0.0);
}

struct check_result check_volume_of_dose(const struct check_field in[])
{
    double V = CHECK_SENTINEL;
    return check_settle(st_volume_of_dose(in[0].x, in[1].x * 1e-9, in[2].x / 1000.0, &V), &V, 1e6, 0.0);
}

/* Grams of kernels: a dose and a content in kg/kg instead of kg/m3, so kg instead of m3. */
struct check_result check_kernels_of_dose(const struct check_field in[])
{
    double m = CHECK_SENTINEL;
    const double hcn = in[2].x / 1000.0 * ST_HCN_PER_AMYGDALIN;
    return check_settle(st_volume_of_dose(in[0].x, in[1].x * 1e-9, hcn, &m), &m, 1000.0, 0.0);
}

struct check_result check_quinine_equivalent(const struct check_field in[])
{
    const double BV = in[0].x, c = in[1].x / 1000.0;
    double QE = CHECK_SENTINEL;
    return check_settle(st_quinine_equivalent(1, &c, &BV, &QE), &QE, 1000.0, 0.0);
}

struct check_result check_sucrose_equivalent(const struct check_field in[])
{
    const double c[3] = { in[0].x, in[1].x, in[2].x };
    const double rs[3] = { st_sweetener_get(ST_SWEET_SUCROSE)->mid, st_sweetener_get(ST_SWEET_GLUCOSE)->mid,
                           st_sweetener_get(ST_SWEET_FRUCTOSE)->mid };
    double se = CHECK_SENTINEL;
    return check_settle(st_sucrose_equivalent(3, c, rs, &se), &se, 1.0, 0.0);
}

struct check_result check_taste_ratio(const struct check_field in[])
{
    double y = CHECK_SENTINEL;
    return check_settle(st_taste_ratio(in[0].x, in[1].x, &y), &y, 1.0, 0.0);
}

static enum st_status update(const struct check_field in[], struct st_normal *post)
{
    return st_normal_update((struct st_normal){ in[0].x, in[1].x }, (struct st_normal){ in[2].x, in[3].x }, post);
}

struct check_result check_update_mean(const struct check_field in[])
{
    struct st_normal post = { CHECK_SENTINEL, 0.0 };
    return check_settle(update(in, &post), &post.mean, 1.0, 0.0);
}

struct check_result check_update_sd(const struct check_field in[])
{
    struct st_normal post = { 0.0, CHECK_SENTINEL };
    return check_settle(update(in, &post), &post.sd, 1.0, 0.0);
}
