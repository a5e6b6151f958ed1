#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/quantile.h"
#include "util/memory.h"
#include "wished.h"

bool st_pips(const struct st_foretold *f, enum st_figure which, double pip[ST_PIPS])
{
    const size_t n = f->draws > 0 ? (size_t)f->draws : 0;
    if (!f->draw[which] || n == 0 || !f->fig[which].known)
        return false;
    double *x = x_malloc(n * sizeof *x);
    memcpy(x, f->draw[which], n * sizeof *x);
    for (int i = 0; i < ST_PIPS; i++)
        pip[i] = st_quantile(n, x, (i + 0.5) / ST_PIPS);
    free(x);
    return isfinite(pip[0]) && isfinite(pip[ST_PIPS - 1]);
}

json_t *st_pips_json(const double pip[ST_PIPS])
{
    json_t *all = json_array();
    for (int i = 0; i < ST_PIPS; i++)
        json_array_append_new(all, json_real(pip[i]));
    return all;
}

int st_pips_inside(const struct st_foretold *f, const struct st_wish *w)
{
    double pip[ST_PIPS];
    int n = 0;
    if (!st_pips(f, w->of, pip))
        return -1;
    for (int i = 0; i < ST_PIPS; i++)
        n += st_wish_miss(w, pip[i]) == 0.0;
    return n;
}
