#include <math.h>
#include <stdio.h>

#include "inside.h"
#include "ticks.h"

static const struct {
    const char *name;
    enum st_figure of;
    double most;
} WISH[] = {
    { "strength_pct_vol", ST_FIG_STRENGTH, 100.0 },
    { "sugar_g_l", ST_FIG_SUGAR, 1500.0 },
    { "volume_ml", ST_FIG_VOLUME, 1e6 },
    { "acid_g_l", ST_FIG_ACID, 1000.0 },
    { "bottles", ST_FIG_BOTTLES, 1e4 },
    { "cost", ST_FIG_COST, 1e9 },
    { "sugar_acid_ratio", ST_FIG_SUGAR_ACID, 1e6 },
};
enum { NWISH = sizeof WISH / sizeof *WISH };
static const char *const KNOWN[] = { "strength_pct_vol", "sugar_g_l", "volume_ml",        "acid_g_l", "bottles",
                                     "bottle_ml",        "cost",      "sugar_acid_ratio", NULL };

static bool refuse(struct st_call *c, unsigned status, const char *name, const char *why, const char *try_)
{
    char field[60], what[80];
    snprintf(field, sizeof field, "wish.%s", name);
    snprintf(what, sizeof what, "cannot read \"%s\"", field);
    return st_call_refuse(c, status, field, what, why, try_);
}

/* One end; null is open. */
static bool end(struct st_call *c, int i, const json_t *v, double open, double *x)
{
    char why[80];
    *x = open;
    if (json_is_null(v))
        return true;
    if (!json_is_number(v))
        return refuse(c, 400, WISH[i].name, "an end of it is no number", "write [low, high]; null leaves an end open");
    *x = json_number_value(v);
    if (*x >= 0.0 && *x <= WISH[i].most)
        return true;
    snprintf(why, sizeof why, "it goes from 0 to %g", WISH[i].most);
    return refuse(c, 422, WISH[i].name, why, "write numbers between these");
}

/* [low, high], or one number. */
static bool ends(struct st_call *c, int i, const json_t *v, struct st_wish *w)
{
    if (json_is_number(v)) {
        if (!end(c, i, v, 0.0, &w->low))
            return false;
        w->high = w->low;
    } else if (json_is_array(v) && json_array_size(v) == 2) {
        if (!end(c, i, json_array_get(v, 0), -(double)INFINITY, &w->low) ||
            !end(c, i, json_array_get(v, 1), (double)INFINITY, &w->high))
            return false;
    } else
        return refuse(c, 400, WISH[i].name, "it is neither a number nor two", "write [low, high], or one number");
    if (w->low > w->high)
        return refuse(c, 422, WISH[i].name, "its low end is above its high one", "change them round");
    return true;
}

/* Bottles of another size than the recipe's are a volume. */
static bool bottles(struct st_call *c, double recipe_ml, double wish_ml, struct st_wish_of *w)
{
    if (wish_ml > 0.0 && fabs(wish_ml - recipe_ml) > 1e-9) {
        w->wish.of = ST_FIG_VOLUME;
        w->scale = wish_ml;
    } else if (!(recipe_ml > 0.0))
        return refuse(c, 422, "bottles", "the recipe does not say how large a bottle is",
                      "add \"bottle_ml\": 500 to the wish");
    return true;
}

/* In the model's unit, with a tolerance of its size. */
static void finish(struct st_wish_of *x)
{
    struct st_wish *w = &x->wish;
    w->low *= x->scale;
    w->high *= x->scale;
    const double at = isinf(w->high) ? w->low : isinf(w->low) ? w->high : 0.5 * (w->low + w->high);
    w->tolerance = fmax(st_wish_tolerance(w->of, at), 1e-6);
}

bool st_wish_read(struct st_call *c, double bottle_ml, struct st_wished *w)
{
    json_t *o = NULL;
    double wish_ml = 0.0;

    w->n = 0;
    if (!st_call_object(c, c->in, "", "wish", &o))
        return false;
    if (!o)
        return true;
    if (!st_call_known(c, o, "wish.", KNOWN) || !st_call_number(c, o, "wish.", "bottle_ml", 1.0, 1e5, &wish_ml))
        return false;
    for (int i = 0; i < NWISH; i++) {
        const json_t *v = json_object_get(o, WISH[i].name);
        struct st_wish_of x = { .name = WISH[i].name, .scale = 1.0, .wish = { .of = WISH[i].of } };
        if (!v || json_is_null(v))
            continue;
        if (!ends(c, i, v, &x.wish) || (x.wish.of == ST_FIG_BOTTLES && !bottles(c, bottle_ml, wish_ml, &x)))
            return false;
        if (isinf(x.wish.low) && isinf(x.wish.high))
            continue; /* nothing is wished */
        finish(&x);
        w->of[w->n++] = x;
    }
    return true;
}
