#ifndef ST_TESTS_LEDGER_KIT_H
#define ST_TESTS_LEDGER_KIT_H

/* Books and drinks as C structs, for tests of the ledger. */

#include "model/ledger.h"
#include "plan_kit.h"

static inline struct st_toxicant kit_toxicant(const char *slug, const char *flags)
{
    return (
        struct st_toxicant){ .slug = slug, .name = slug, .flags = flags, .harm = "", .source = "memory", .mark = 'm' };
}

static inline struct st_content kit_content(const char *ingredient, const char *toxicant, double mg_kg)
{
    return (struct st_content){ .ingredient = ingredient,
                                .flag = "",
                                .degree = "",
                                .toxicant = toxicant,
                                .ceiling_mg_kg = mg_kg,
                                .through = "",
                                .source = "memory",
                                .note = "",
                                .mark = 'm' };
}

static inline struct st_content kit_fallback(const char *flag, const char *degree, const char *toxicant, double mg_kg)
{
    struct st_content c = kit_content("", toxicant, mg_kg);
    c.flag = flag;
    c.degree = degree;
    return c;
}

static inline struct st_rule kit_rule(const char *id, const char *toxicant, enum st_rule_unit unit, double limit)
{
    return (struct st_rule){ .id = id,
                             .places = ST_PLACE_EU,
                             .document = "",
                             .article = "",
                             .year = 2008,
                             .toxicant = toxicant,
                             .plant = "",
                             .unit = unit,
                             .limit = limit,
                             .in_force = true,
                             .says = "",
                             .source = "memory",
                             .mark = 'm' };
}

static inline struct st_interval kit_interval(double low, double value, double high)
{
    return (struct st_interval){ value, low, high, ST_OK, true };
}

/* A drink of so many mL and % vol, as if foretold, with nothing in doubt; density in g/mL. */
static inline struct st_foretold kit_drink(double ml, double density, double strength)
{
    struct st_foretold f = { .n_balance = 0 };
    const double g = ml * density;
    f.fig[ST_FIG_VOLUME] = kit_interval(ml, ml, ml);
    f.fig[ST_FIG_MASS] = kit_interval(g, g, g);
    f.fig[ST_FIG_DENSITY] = kit_interval(1000 * density, 1000 * density, 1000 * density);
    f.fig[ST_FIG_STRENGTH] = kit_interval(strength, strength, strength);
    return f;
}

static inline void kit_flag(struct st_ingredient *in, const char *what, const char *degree)
{
    in->caution[in->n_caution++] = (struct st_flag){ what, degree, "", "memory", 'm' };
}

static const struct st_drinker KIT_DRINKER = { 40.0, 60.0 };

#endif
