#include "oil_content.h"

#include <math.h>
#include <string.h>

/* Essential oils weigh 0.84 (limonene) to 1.07 (eugenol) g/mL: from memory, as clearing_oil.c. */
static const struct st_range DENSITY = { 0.92, 0.84, 1.07, true, 'm', "from memory" };

/* ---- the marker's share of the oil, where somebody measured it ---- */

struct share {
    const char *slug, *marker;
    struct st_range of_oil;
};

static const struct share SHARE[] = {
    { "lemon_peel_fresh", "limonene", { 0.825, 0.76, 0.89, true, 'r', "golukcu2024" } }, /* middle ours */
};

static const struct st_range *share_of(const struct st_ingredient *in, const struct st_compound *what)
{
    for (size_t i = 0; in && in->slug && i < sizeof SHARE / sizeof *SHARE; i++)
        if (strcmp(SHARE[i].slug, in->slug) == 0 && strcmp(SHARE[i].marker, what->name) == 0)
            return &SHARE[i].of_oil;
    return NULL;
}

/* ---- where the sheet gives no oil ---- */

#define GUESS(value, low, high)                                                                                        \
    {                                                                                                                  \
        value, low, high, true, 'm', "from memory: a wide guess for things of its kind"                                \
    }

/* mL of oil in a kg.  All from memory, so wide that what is usual in a trade's tables lies within. */
static const struct st_range FLESH = GUESS(0.02, 0.001, 0.5), GLANDS = GUESS(2.0, 0.2, 10.0),
                             PEEL_FRESH = GUESS(10.0, 3.0, 30.0), PEEL_DRY = GUESS(15.0, 4.0, 45.0),
                             SEED = GUESS(20.0, 3.0, 150.0), BARK = GUESS(12.0, 3.0, 40.0),
                             ROOT_FRESH = GUESS(3.0, 0.5, 15.0), ROOT_DRY = GUESS(12.0, 2.0, 50.0),
                             HERB_FRESH = GUESS(2.0, 0.4, 8.0), HERB_DRY = GUESS(10.0, 2.0, 30.0),
                             FLOWER_FRESH = GUESS(0.5, 0.05, 4.0), FLOWER_DRY = GUESS(4.0, 0.3, 25.0),
                             POWDER = GUESS(12.0, 2.0, 60.0), ELSE = GUESS(1.0, 0.1, 10.0);

/* A terpene without oxygen lives in glands: such fruit is taken with its peel or resin. */
static const double TERPENE_LOG_P = 4.0;

static bool has_glands(const struct st_ingredient *in, const struct st_compound *what)
{
    bool citrus = what->log_p > TERPENE_LOG_P;
    for (int i = 0; in && i < in->n_marker; i++)
        citrus = citrus || strcmp(in->marker[i].marker, "limonene") == 0 ||
                 strcmp(in->marker[i].marker, "alpha_pinene") == 0;
    return citrus;
}

static const struct st_range *of_kind(const struct st_ingredient *in, enum st_kind kind, const struct st_compound *what)
{
    switch (kind) {
    case ST_KIND_FRESH_FRUIT:
    case ST_KIND_FROZEN_FRUIT:
    case ST_KIND_TINNED_FRUIT:
    case ST_KIND_DRIED_FRUIT:
    case ST_KIND_GREEN_FRUIT: return has_glands(in, what) ? &GLANDS : &FLESH;
    case ST_KIND_PEEL_FRESH: return &PEEL_FRESH;
    case ST_KIND_PEEL_DRY: return &PEEL_DRY;
    case ST_KIND_SEED:
    case ST_KIND_BERRY_DRY: return &SEED;
    case ST_KIND_BARK: return &BARK;
    case ST_KIND_ROOT_FRESH: return &ROOT_FRESH;
    case ST_KIND_ROOT_DRY: return &ROOT_DRY;
    case ST_KIND_HERB_FRESH: return &HERB_FRESH;
    case ST_KIND_HERB_DRY: return &HERB_DRY;
    case ST_KIND_FLOWER_FRESH: return &FLOWER_FRESH;
    case ST_KIND_FLOWER_DRY: return &FLOWER_DRY;
    case ST_KIND_POWDER: return &POWDER;
    default: return &ELSE;
    }
}

/* ---- together ---- */

/* Product of independent factors: distances of the logarithm add in squares.  Mark and source are of the first, which
 * is the worse known. */
static struct st_range times(struct st_range a, struct st_range b)
{
    const double value = a.value * b.value;
    const double down = hypot(log(a.value / a.low), log(b.value / b.low));
    const double up = hypot(log(a.high / a.value), log(b.high / b.value));
    return (struct st_range){ value, value * exp(-down), value * exp(up), true, a.mark, a.source };
}

static bool is_positive(const struct st_range *r)
{
    return r->known && r->low > 0.0 && r->value >= r->low && r->high >= r->value;
}

void st_oil_content_of(const struct st_ingredient *in, enum st_kind kind, const struct st_compound *what,
                       struct st_range mg_g, struct st_oil_content *out)
{
    *out = (struct st_oil_content){ .from = ST_OIL_FROM_NOWHERE, .mg_g = mg_g };
    if (!what || what->action != ST_ACTION_OIL || !isfinite(what->water_mg_l))
        return;
    const bool oil_said = in && in->oil.known, has_oil = oil_said && is_positive(&in->oil);
    const struct st_range *share = has_oil ? share_of(in, what) : NULL;
    if (has_oil)
        out->oil_mg_g = times(in->oil, DENSITY);
    if (mg_g.known)
        out->from = ST_OIL_FROM_MARKER;
    else if (share) {
        out->from = ST_OIL_FROM_SHARE;
        out->mg_g = times(out->oil_mg_g, *share);
    } else if (has_oil)
        out->from = ST_OIL_FROM_OIL;
    else if (!oil_said) {
        out->from = ST_OIL_FROM_KIND;
        out->oil_mg_g = times(*of_kind(in, kind, what), DENSITY);
    }
}
