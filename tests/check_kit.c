#include "check_kit.h"

#include "core/strength.h"

struct check_result check_settle(enum st_status s, const double *y, double factor, double offset)
{
    struct check_result r = { .value = 0.0, .status = s, .touched = false };
    if (s < 0)
        r.touched = !(*y == CHECK_SENTINEL);
    else
        r.value = *y * factor + offset;
    return r;
}

struct check_result check_plain(enum st_status s, double value)
{
    return (struct check_result){ .value = s < 0 ? 0.0 : value, .status = s, .touched = false };
}

double check_kelvin(double t_C)
{
    return t_C + 273.15;
}

void check_five(const struct check_field in[], double w[ST_NCOMP])
{
    static const enum st_component order[5] = { ST_ETHANOL, ST_SUCROSE, ST_GLUCOSE, ST_FRUCTOSE, ST_ACID };
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = 0.0;
    for (int i = 0; i < 5; i++) {
        w[order[i]] = in[i].x;
        sum += in[i].x;
    }
    w[ST_WATER] = 1.0 - sum;
}

enum st_status check_liqueur(double pct_vol, double sucrose_g_l, double w[ST_NCOMP])
{
    const double solutes[ST_NCOMP] = { [ST_SUCROSE] = sucrose_g_l };
    return st_mixture_from_strength(pct_vol, solutes, w);
}

void check_binary(enum st_component c, double mass_pct, double w[ST_NCOMP])
{
    for (int i = 0; i < ST_NCOMP; i++)
        w[i] = 0.0;
    w[c] = mass_pct / 100.0;
    w[ST_WATER] = 1.0 - w[c];
}
