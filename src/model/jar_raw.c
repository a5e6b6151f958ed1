#include <stdlib.h>
#include <string.h>

#include "jar_inside.h"

/* Room for what a run leaves behind. */

double *st_jar_doubles(size_t n)
{
    return calloc(n ? n : 1, sizeof(double));
}

static bool any_fades(const struct st_jar_work *w)
{
    bool any = false;
    for (int f = 0; f < w->n_followed; f++)
        any = any || w->followed[f].fades;
    return any;
}

bool st_jar_raw_lay(const struct st_jar_work *w, struct st_jar_raw *raw)
{
    const size_t n = (size_t)w->n_set, told = (size_t)w->n_told * n, curves = (size_t)w->n_followed;
    memset(raw, 0, sizeof *raw);
    raw->strength = st_jar_doubles(told);
    raw->sugar = st_jar_doubles(told);
    raw->acid = st_jar_doubles(told);
    raw->volume = st_jar_doubles(told);
    raw->undissolved = st_jar_doubles(told);
    raw->share = st_jar_doubles(curves * told);
    raw->mg = st_jar_doubles(curves * told);
    raw->here = st_jar_doubles(curves * told);
    raw->weight = st_jar_doubles(curves * n);
    raw->comes = st_jar_doubles(curves * n);
    raw->before = st_jar_doubles(curves * n);
    raw->end = st_jar_doubles(5 * (size_t)w->j->n_stage * n);
    if (any_fades(w)) {
        raw->left = st_jar_doubles(curves * told);
        raw->faded = st_jar_doubles(curves * told);
        raw->fade = st_jar_doubles(curves * n);
        if (!raw->left || !raw->faded || !raw->fade)
            return false;
    }
    return raw->strength && raw->sugar && raw->acid && raw->volume && raw->undissolved && raw->share && raw->mg &&
           raw->here && raw->weight && raw->comes && raw->before && raw->end;
}

void st_jar_raw_drop(struct st_jar_raw *raw)
{
    free(raw->strength);
    free(raw->sugar);
    free(raw->acid);
    free(raw->volume);
    free(raw->undissolved);
    free(raw->share);
    free(raw->left);
    free(raw->faded);
    free(raw->fade);
    free(raw->mg);
    free(raw->here);
    free(raw->weight);
    free(raw->comes);
    free(raw->before);
    free(raw->end);
}
