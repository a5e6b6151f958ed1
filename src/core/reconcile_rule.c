#include "reconcile_rule.h"

#include <math.h>

#include "chi_square.h"

bool st_reconcile_finite(const double x[], int n)
{
    for (int i = 0; i < n; i++)
        if (!isfinite(x[i]))
            return false;
    return true;
}

enum st_status st_reconcile_judge(double chi2, int df, int n, const double standard[], struct st_doubt *out)
{
    double p = 1.0, furthest = 0.0;
    int worst = -1, judged = 0;
    const enum st_status s = df > 0 ? st_chi_square_above(chi2, df, &p) : ST_OK;
    if (s < 0)
        return s;
    for (int i = 0; i < n; i++) {
        if (isnan(standard[i]))
            continue;
        judged++;
        if (fabs(standard[i]) > furthest) {
            furthest = fabs(standard[i]);
            worst = i;
        }
    }
    const double alone = judged * st_normal_beyond(furthest);
    out->p = p;
    out->agree = p >= ST_RECONCILE_WHOLE && (worst < 0 || alone >= ST_RECONCILE_ONE);
    out->suspect = !out->agree && worst >= 0 && alone < ST_RECONCILE_SUSPECT ? worst : -1;
    return s;
}
