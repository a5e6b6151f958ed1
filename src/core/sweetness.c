#include "sweetness.h"

#include <math.h>
#include <stddef.h>

static const struct st_sweetener_row ROWS[ST_NSWEETENER] = {
    [ST_SWEET_SUCROSE] = { "sucrose", 1.0, 1.0, 1.0 },
    [ST_SWEET_FRUCTOSE] = { "fructose", 1.0, 1.2, 1.75 }, /* higher in the cold */
    [ST_SWEET_GLUCOSE] = { "glucose", 0.6, 0.7, 0.8 },
    [ST_SWEET_INVERT] = { "invert sugar", 0.95, 1.0, 1.1 },
    [ST_SWEET_HONEY_SUGAR] = { "sugars of honey", 1.0, 1.0, 1.0 },
    [ST_SWEET_MAPLE_SUGAR] = { "sugars of maple syrup", 0.95, 0.95, 0.95 },
    [ST_SWEET_LACTOSE] = { "lactose", 0.2, 0.2, 0.2 },
    [ST_SWEET_MALTODEXTRIN] = { "maltodextrin", 0.05, 0.1, 0.2 },
    [ST_SWEET_GLUCOSE_SYRUP] = { "solids of glucose syrup", 0.3, 0.45, 0.6 },
    [ST_SWEET_GLYCEROL] = { "glycerol", 0.6, 0.6, 0.6 },
    [ST_SWEET_SORBITOL] = { "sorbitol", 0.55, 0.55, 0.55 },
};

const struct st_sweetener_row *st_sweetener_get(enum st_sweetener s)
{
    return ((int)s >= 0 && s < ST_NSWEETENER) ? &ROWS[s] : NULL;
}

enum st_status st_sucrose_equivalent(int n, const double c[], const double rs[], double *se)
{
    double sum = 0.0;
    if (n < 0 || n > 1000)
        return ST_E_DOMAIN;
    for (int i = 0; i < n; i++) {
        if (!(c[i] >= 0.0) || !isfinite(c[i]) || !(rs[i] >= 0.0 && rs[i] <= 20000.0))
            return ST_E_DOMAIN;
        sum += c[i] * rs[i];
    }
    *se = sum;
    return ST_ESTIMATED;
}

enum st_status st_taste_ratio(double ratio, double power, double *stronger)
{
    if (!(ratio > 0.0) || !isfinite(ratio) || !(power >= 0.0 && power <= 5.0))
        return ST_E_DOMAIN;
    *stronger = pow(ratio, power);
    return ratio < 0.5 || ratio > 2.0 ? ST_EXTRAPOLATED : ST_ESTIMATED;
}
