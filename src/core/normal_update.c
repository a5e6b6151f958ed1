#include "normal_update.h"

#include <math.h>
#include <stdbool.h>

static bool is_normal_law(struct st_normal x)
{
    return isfinite(x.mean) && x.sd > 0.0 && isfinite(x.sd);
}

enum st_status st_normal_update(struct st_normal prior, struct st_normal seen, struct st_normal *post)
{
    if (!is_normal_law(prior) || !is_normal_law(seen))
        return ST_E_DOMAIN;

    /* with the ratio of the deviations, so that neither square leaves the range of doubles */
    const double q = prior.sd / seen.sd, trust = q <= 1.0 ? q * q / (1.0 + q * q) : 1.0 / (1.0 + 1.0 / (q * q));
    post->mean = prior.mean + trust * (seen.mean - prior.mean);
    post->sd = q <= 1.0 ? prior.sd / sqrt(1.0 + q * q) : seen.sd / sqrt(1.0 + 1.0 / (q * q));
    return ST_OK;
}
