#include <math.h>
#include <string.h>

#include "inside.h"

static const enum st_figure SHOWN[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR,      ST_FIG_VOLUME,  ST_FIG_BOTTLES,
                                        ST_FIG_ACID,     ST_FIG_SUGAR_ACID, ST_FIG_EXTRACT, ST_FIG_COST };
enum { NSHOWN = sizeof SHOWN / sizeof *SHOWN };

/* One number is met within its tolerance, a range between its ends. */
static bool is_met(const struct st_wish_of *w, double x)
{
    const double near = w->low == w->high ? w->tolerance : 0.0;
    return x >= w->low - near && x <= w->high + near;
}

static int count_in(const struct st_wish_of *w, const double pip[ST_PIPS])
{
    int n = 0;
    for (int i = 0; i < ST_PIPS; i++)
        n += is_met(w, pip[i]);
    return n;
}

/* A wish for bottles of another size stands at "bottles" and is judged by the volume. */
static bool in_wish(const struct st_foretold *f, const char *name, const struct st_wished *w, int *n)
{
    double pip[ST_PIPS];
    for (int i = 0; i < w->n; i++)
        if (strcmp(w->wish[i].name, name) == 0 && st_pips(f, w->wish[i].of, pip)) {
            *n = count_in(&w->wish[i], pip);
            return true;
        }
    return false;
}

/* Bottles of the wish where the recipe has none, or others. */
static enum st_figure counted_by(enum st_figure which, const struct st_wished *w, double *scale)
{
    *scale = 1.0;
    for (int i = 0; which == ST_FIG_BOTTLES && i < w->n; i++)
        if (strcmp(w->wish[i].name, "bottles") == 0) {
            *scale = w->wish[i].scale;
            return w->wish[i].of;
        }
    return which;
}

static json_t *figure(const struct st_foretold *f, enum st_figure shown, const struct st_wished *w)
{
    const char *name = st_figure_info(shown)->key;
    double pip[ST_PIPS], scale;
    const enum st_figure which = counted_by(shown, w, &scale);
    struct st_interval x = f->fig[which];
    int n;

    x.value /= scale;
    x.low /= scale;
    x.high /= scale;
    json_t *o = st_doc_interval(&x);
    if (!json_is_object(o))
        return o;
    if (st_pips(f, which, pip)) {
        for (int i = 0; i < ST_PIPS; i++)
            pip[i] /= scale;
        json_object_set_new(o, "pips", st_pips_json(pip));
    }
    if (in_wish(f, name, w, &n))
        json_object_set_new(o, "in_wish", json_integer(n));
    return o;
}

/* Share of the draws inside all wishes; NAN when a figure has none. */
static double share(const struct st_foretold *f, const struct st_wished *w)
{
    int n = 0;
    for (int i = 0; i < w->n; i++)
        if (!f->draw[w->wish[i].of] || !f->fig[w->wish[i].of].known)
            return (double)NAN;
    for (int k = 0; k < f->draws; k++) {
        bool all = true;
        for (int i = 0; i < w->n && all; i++)
            all = is_met(&w->wish[i], f->draw[w->wish[i].of][k]);
        n += all;
    }
    return f->draws > 0 ? (double)n / f->draws : (double)NAN;
}

/* Of twenty, never more than of the wish that is met least often. */
static int of_twenty(const struct st_foretold *f, const struct st_wished *w, double joint)
{
    int most = (int)lround(joint * ST_PIPS), n;
    for (int i = 0; i < w->n; i++)
        if (in_wish(f, w->wish[i].name, w, &n) && n < most)
            most = n;
    return most;
}

void st_figures_out(json_t *doc, const struct st_recipe *r, const struct st_foretold *f, const struct st_wished *w)
{
    json_t *all = json_object();
    for (int i = 0; i < NSHOWN; i++) {
        const bool told = SHOWN[i] != ST_FIG_COST || st_recipe_is_priced(r);
        json_object_set_new(all, st_figure_info(SHOWN[i])->key, told ? figure(f, SHOWN[i], w) : json_null());
    }
    json_object_set_new(doc, "figures", all);
    const double joint = w->n > 0 ? share(f, w) : (double)NAN;
    const bool known = isfinite(joint);
    json_object_set_new(doc, "all_wishes", known ? json_integer(of_twenty(f, w, joint)) : json_null());
    json_object_set_new(doc, "joint", known ? json_real(joint) : json_null());
}
