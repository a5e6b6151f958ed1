#include "cyanogen.h"

#include <math.h>

const double ST_HCN_PER_AMYGDALIN = 27.025 / 457.43;
const double ST_BENZALDEHYDE_PER_AMYGDALIN = 106.12 / 457.43;

static enum st_status at_most(double content, double dose, double share, double *out)
{
    if (!(content >= 0.0 && content <= 1.0) || !(dose >= 0.0) || !isfinite(dose))
        return ST_E_DOMAIN;
    *out = dose * content * share;
    return ST_OK;
}

enum st_status st_hcn_at_most(double content, double dose, double *hcn)
{
    return at_most(content, dose, ST_HCN_PER_AMYGDALIN, hcn);
}

enum st_status st_benzaldehyde_at_most(double content, double dose, double *benzaldehyde)
{
    return at_most(content, dose, ST_BENZALDEHYDE_PER_AMYGDALIN, benzaldehyde);
}

enum st_status st_volume_of_dose(double body, double per_body, double c, double *volume)
{
    if (!(body > 0.0) || !isfinite(body) || !(per_body > 0.0) || !isfinite(per_body) || !(c > 0.0) || !isfinite(c))
        return ST_E_DOMAIN;
    *volume = body * per_body / c;
    return ST_OK;
}
