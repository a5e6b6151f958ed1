#include "bitterness.h"

#include <math.h>

static const double BV_QUININE = 200000.0; /* [bp_bitterness] */

enum st_status st_quinine_equivalent(int n, const double c[], const double BV[], double *QE)
{
    double sum = 0.0;
    if (n < 0 || n > 1000)
        return ST_E_DOMAIN;
    for (int i = 0; i < n; i++) {
        if (!(c[i] >= 0.0) || !isfinite(c[i]) || !(BV[i] >= 0.0 && BV[i] <= 1e9))
            return ST_E_DOMAIN;
        sum += c[i] * BV[i];
    }
    *QE = sum / BV_QUININE;
    return ST_ESTIMATED;
}
