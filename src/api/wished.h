#ifndef ST_API_WISHED_H
#define ST_API_WISHED_H

#include "api/doc.h"
#include "model/aim.h"

/* Figures beside wishes: twenty makings, and how many of them lie inside. */

/* ---- pips.c ---- */
enum { ST_PIPS = 20 };
/* The (i - 1/2)/20 quantiles of the draws of a figure, rising; false when there are none, or one is not known. */
bool st_pips(const struct st_foretold *f, enum st_figure which, double pip[ST_PIPS]);
json_t *st_pips_json(const double pip[ST_PIPS]);
/* How many of them meet a wish; -1 when there are none. */
int st_pips_inside(const struct st_foretold *f, const struct st_wish *w);

/* ---- wish_in.c reads them from a request ---- */
enum { ST_WISHES = 8 };
struct st_wished {
    struct st_wish_of {
        const char *name; /* member of WISH (docs/api.md) */
        double scale;     /* wish = that many of the name: a bottle's mL where bottles are counted by volume, else 1 */
        struct st_wish wish;
    } of[ST_WISHES];
    int n;
};

/* ---- figures_out.c ---- */
/* "figures", "all_wishes" and "joint", as members of doc.  all: every figure there is, else those of the sliders. */
void st_figures_out(json_t *doc, const struct st_recipe *r, const struct st_foretold *f, const struct st_wished *w,
                    bool all);

#endif
