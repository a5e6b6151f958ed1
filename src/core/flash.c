#include "flash.h"

#include <stddef.h>

#include "basis.h"
#include "strength.h"

/* [flash_table]: % vol, degC; the point at 100 % vol from memory */
static const double TABLE[][2] = {
    { 5.0, 62.0 },  { 10.0, 49.0 }, { 20.0, 36.0 }, { 30.0, 29.0 }, { 40.0, 26.0 },  { 50.0, 24.0 },
    { 60.0, 22.0 }, { 70.0, 21.0 }, { 80.0, 20.0 }, { 96.0, 17.0 }, { 100.0, 13.0 },
};

static double on_table(double q)
{
    const size_t last = sizeof TABLE / sizeof TABLE[0] - 1;
    size_t i = 1;
    while (i < last && q > TABLE[i][0])
        i++;
    const double *a = TABLE[i - 1], *b = TABLE[i];
    return a[1] + (b[1] - a[1]) * (q - a[0]) / (b[0] - a[0]);
}

enum st_status st_flash_point(const double w[ST_NCOMP], double *T_K)
{
    struct st_basis b;
    double q = 0.0;
    enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    s = st_strength_from_p(b.p, &q);
    if (s < 0)
        return s;
    /* a strength of exactly 5 % vol comes back from its mass fraction with a rounding error */
    if (!b.ethanol || q < 5.0 - 1e-9)
        return ST_E_REFUSED;

    *T_K = 273.15 + on_table(q);
    if (b.sugar || b.others > ST_TRACE)
        return ST_ESTIMATED;
    return q > 96.0 + 1e-9 ? ST_EXTRAPOLATED : ST_OK;
}
