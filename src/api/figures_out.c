#include <math.h>
#include <string.h>

#include "wished.h"

static const enum st_figure SHOWN[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR,      ST_FIG_VOLUME,  ST_FIG_BOTTLES,
                                        ST_FIG_ACID,     ST_FIG_SUGAR_ACID, ST_FIG_EXTRACT, ST_FIG_COST };
enum { NSHOWN = sizeof SHOWN / sizeof *SHOWN };

/* A wish for bottles of another size stands at "bottles" and is judged by the volume. */
static int in_wish(const struct st_foretold *f, const char *name, const struct st_wished *w)
{
    for (int i = 0; i < w->n; i++)
        if (strcmp(w->of[i].name, name) == 0)
            return st_pips_inside(f, &w->of[i].wish);
    return -1;
}

/* Bottles of the wish where the recipe has none, or others. */
static enum st_figure counted_by(enum st_figure which, const struct st_wished *w, double *scale)
{
    *scale = 1.0;
    for (int i = 0; which == ST_FIG_BOTTLES && i < w->n; i++)
        if (strcmp(w->of[i].name, "bottles") == 0) {
            *scale = w->of[i].scale;
            return w->of[i].wish.of;
        }
    return which;
}

static json_t *figure(const struct st_foretold *f, enum st_figure shown, const struct st_wished *w)
{
    const char *name = st_figure_info(shown)->key;
    double pip[ST_PIPS], scale;
    const enum st_figure which = counted_by(shown, w, &scale);
    struct st_interval x = f->fig[which];

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
    const int n = in_wish(f, name, w);
    if (n >= 0)
        json_object_set_new(o, "in_wish", json_integer(n));
    return o;
}

/* Share of the draws inside all wishes; NAN when a figure has none. */
static double share(const struct st_foretold *f, const struct st_wished *w)
{
    int n = 0;
    for (int i = 0; i < w->n; i++)
        if (!f->draw[w->of[i].wish.of] || !f->fig[w->of[i].wish.of].known)
            return (double)NAN;
    for (int k = 0; k < f->draws; k++) {
        bool all = true;
        for (int i = 0; i < w->n && all; i++)
            all = st_wish_miss(&w->of[i].wish, f->draw[w->of[i].wish.of][k]) == 0.0;
        n += all;
    }
    return f->draws > 0 ? (double)n / f->draws : (double)NAN;
}

/* Of twenty, never more than of the wish that is met least often. */
static int of_twenty(const struct st_foretold *f, const struct st_wished *w, double joint)
{
    int most = (int)lround(joint * ST_PIPS);
    for (int i = 0; i < w->n; i++) {
        const int n = st_pips_inside(f, &w->of[i].wish);
        most = n >= 0 && n < most ? n : most;
    }
    return most;
}

static void add_figure(json_t *all, enum st_figure which, const struct st_recipe *r, const struct st_foretold *f,
                       const struct st_wished *w)
{
    const bool told = which != ST_FIG_COST || st_recipe_is_priced(r);
    json_object_set_new(all, st_figure_info(which)->key, told ? figure(f, which, w) : json_null());
}

void st_figures_out(json_t *doc, const struct st_recipe *r, const struct st_foretold *f, const struct st_wished *w,
                    bool all)
{
    json_t *o = json_object();
    for (int i = 0; i < (all ? (int)ST_NFIG : (int)NSHOWN); i++)
        add_figure(o, all ? (enum st_figure)i : SHOWN[i], r, f, w);
    json_object_set_new(doc, "figures", o);
    const double joint = w->n > 0 ? share(f, w) : (double)NAN;
    const bool known = isfinite(joint);
    json_object_set_new(doc, "all_wishes", known ? json_integer(of_twenty(f, w, joint)) : json_null());
    json_object_set_new(doc, "joint", known ? json_real(joint) : json_null());
}
