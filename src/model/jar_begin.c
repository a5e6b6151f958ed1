#include "core/solvent_power.h"
#include "core/strength.h"
#include "core/viscosity.h"
#include "jar_inside.h"

/* What a run begins with: how each piece gives, how thick the liquid is, the amounts as foresee draws them. */

enum st_status st_jar_begin_habits(struct st_jar_work *w)
{
    w->status = ST_OK;
    for (int p = 0; p < w->j->n_piece; p++) {
        for (int of = 0; of < ST_NOF; of++) {
            const enum st_status s = st_jar_habit(w->j, p, (enum st_of)of, &w->habit[p][of]);
            if (s < 0)
                return s;
            w->status = st_status_worse(w->status, s);
        }
        st_theta_prior_of(&w->habit[p][ST_OF_ANY], &w->j->piece[p].retention, &w->prior[p]);
        const struct st_jar_piece *piece = &w->j->piece[p];
        for (int m = 0; m < piece->n_marker; m++)
            st_oil_content_of(piece->what, piece->kind, piece->marker[m].what, piece->marker[m].mg_g, &w->oil[p][m]);
    }
    return ST_OK;
}

void st_jar_begin_thickness(struct st_jar_work *w)
{
    for (int i = 0; i <= 1000; i++) {
        double m[ST_NCOMP] = { 0.0 }, p = 0.0;
        w->thick[i] = 1.0;
        if (st_p_from_strength(0.1 * i, &p) < 0)
            continue;
        m[ST_ETHANOL] = p;
        m[ST_WATER] = 1.0 - p;
        (void)st_viscosity_factor(m, &w->thick[i]);
    }
}

enum st_status st_jar_begin_source(struct st_jar_work *w)
{
    const struct st_jar_source *source = w->j->source;
    const int n = w->n_set - 1;
    if (!source || w->theta || n < 1 || st_jar_source_columns(source) == 0)
        return ST_OK;
    w->drawn = st_jar_doubles((size_t)st_jar_source_columns(source) * (size_t)n);
    return w->drawn ? st_jar_source_draw(source, w->o->seed, (size_t)n, w->drawn) : ST_E_NOCONV;
}
