#include "arrhenius.h"

#include <math.h>
#include <stdbool.h>

const double ST_GAS_CONSTANT = 8.31446261815324;

static bool is_temperature(double T)
{
    return T >= 200.0 && T <= 700.0;
}

enum st_status st_arrhenius_factor(double Ea, double T, double T_ref, double *factor)
{
    if (!(Ea >= 0.0 && Ea <= 500e3) || !is_temperature(T) || !is_temperature(T_ref))
        return ST_E_DOMAIN;

    *factor = exp(-Ea / ST_GAS_CONSTANT * (1.0 / T - 1.0 / T_ref));
    return ST_OK;
}

/* Means of x = 1/T and y = ln k, and the sums of squares about them. */
struct sums {
    double x, y, xx, xy, T_low, T_high;
};

static bool sum_up(int n, const double T[], const double k[], struct sums *s)
{
    *s = (struct sums){ .T_low = (double)INFINITY, .T_high = -(double)INFINITY };
    for (int i = 0; i < n; i++) {
        if (!is_temperature(T[i]) || !(k[i] > 0.0) || !isfinite(k[i]))
            return false;
        s->x += 1.0 / T[i] / n;
        s->y += log(k[i]) / n;
        s->T_low = fmin(s->T_low, T[i]);
        s->T_high = fmax(s->T_high, T[i]);
    }
    for (int i = 0; i < n; i++) {
        const double dx = 1.0 / T[i] - s->x;
        s->xx += dx * dx;
        s->xy += dx * (log(k[i]) - s->y);
    }
    return s->T_high > s->T_low;
}

enum st_status st_arrhenius_fit(int n, const double T[], const double k[], double T_ref, struct st_arrhenius_fit *fit)
{
    struct sums s;
    if (n < 2 || n > 1000 || !is_temperature(T_ref) || !sum_up(n, T, k, &s))
        return ST_E_DOMAIN;

    const double slope = s.xy / s.xx, away = 1.0 / T_ref - s.x;
    double left = 0.0;
    for (int i = 0; i < n; i++) {
        const double r = log(k[i]) - s.y - slope * (1.0 / T[i] - s.x);
        left += r * r;
    }
    const double variance = n > 2 ? left / (n - 2) : (double)NAN;
    fit->Ea = -slope * ST_GAS_CONSTANT;
    fit->sd_Ea = sqrt(variance / s.xx) * ST_GAS_CONSTANT;
    fit->k_ref = exp(s.y + slope * away);
    fit->sd_ln_k = sqrt(variance * (1.0 / n + away * away / s.xx));
    return T_ref < s.T_low || T_ref > s.T_high ? ST_EXTRAPOLATED : ST_OK;
}
