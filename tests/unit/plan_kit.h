#ifndef ST_TESTS_PLAN_KIT_H
#define ST_TESTS_PLAN_KIT_H

/* Recipes as C structs, for tests of plans: small words for ingredients, lines, steps. */

#include <math.h>
#include <string.h>

#include "model/foresee.h"

static inline struct st_range kit_sharp(double x)
{
    return (struct st_range){ x, x, x, true, 'u', "" };
}

static inline struct st_range kit_range(double low, double value, double high)
{
    return (struct st_range){ value, low, high, true, 'u', "" };
}

static inline struct st_amount kit_amount(enum st_dimension dim, double x)
{
    return (struct st_amount){ .dim = dim, .value = x, .low = x, .high = x, .written = x, .fills = 1 };
}

static inline struct st_amount kit_g(double g)
{
    return kit_amount(ST_DIM_MASS, g);
}

static inline struct st_amount kit_ml(double ml)
{
    return kit_amount(ST_DIM_VOLUME, ml);
}

static inline struct st_amount kit_all(void)
{
    return (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
}

static inline struct st_ingredient kit_ingredient(const char *slug, enum st_kind kind)
{
    return (struct st_ingredient){ .slug = slug,
                                   .name = slug,
                                   .names = slug,
                                   .botanical = "",
                                   .kind = kind,
                                   .piece_name = "",
                                   .piece_names = "",
                                   .cup_note = "",
                                   .like = "",
                                   .note = "" };
}

static inline struct st_ingredient kit_spirit(double strength)
{
    struct st_ingredient in = kit_ingredient("spirit", ST_KIND_SPIRIT);
    in.strength = kit_sharp(strength);
    in.sugars = kit_sharp(0);
    return in;
}

static inline struct st_ingredient kit_water(void)
{
    struct st_ingredient in = kit_ingredient("water", ST_KIND_WATER);
    in.sugars = kit_sharp(0);
    in.part[ST_WATER] = kit_sharp(1);
    return in;
}

static inline struct st_ingredient kit_sugar(void)
{
    struct st_ingredient in = kit_ingredient("sugar", ST_KIND_SUGAR);
    in.sugars = kit_sharp(1);
    in.part[ST_SUCROSE] = kit_sharp(1);
    in.part[ST_WATER] = kit_sharp(0);
    return in;
}

/* water, sugars, acid in g/g; nothing else dissolves */
static inline struct st_ingredient kit_fruit(const char *slug, double water, double sugars, double acid, double keeps)
{
    struct st_ingredient in = kit_ingredient(slug, ST_KIND_FRESH_FRUIT);
    in.part[ST_WATER] = kit_sharp(water);
    in.sugars = kit_sharp(sugars);
    in.part[ST_ACID] = kit_sharp(acid);
    in.extract_share = kit_sharp(0);
    in.retention = kit_sharp(keeps);
    return in;
}

static inline struct st_line kit_line(const struct st_ingredient *what, struct st_amount amount)
{
    return (
        struct st_line){ .text = what->name, .what = what, .from_step = -1, .amount = amount, .price = (double)NAN };
}

static inline struct st_line kit_from(int step, enum st_part_of part, struct st_amount amount)
{
    return (struct st_line){
        .text = "from before", .from_step = step, .part = part, .amount = amount, .price = (double)NAN
    };
}

static inline struct st_step kit_step(const char *id, enum st_do kind, struct st_line *line, int n_line)
{
    return (struct st_step){ .id = id,
                             .words = "",
                             .kind = kind,
                             .line = line,
                             .n_line = n_line,
                             .time = { .dim = ST_DIM_OPEN },
                             .boil_down_to = { .dim = ST_DIM_OPEN } };
}

/* Nothing lost, everything exchanged. */
static inline void kit_ideal(struct st_step *s)
{
    s->exchanged = kit_sharp(1);
    s->loss_share = kit_sharp(0);
}

static inline struct st_recipe kit_recipe(struct st_step *step, int n_step)
{
    return (struct st_recipe){ .file = "",
                               .title = "",
                               .note = "",
                               .currency = "",
                               .author = "",
                               .step = step,
                               .n_step = n_step,
                               .serving_ml = 40 };
}

/* Sharp tools: no error of measuring at all. */
static inline void kit_sharp_tools(struct st_recipe *r)
{
    for (int i = 0; i < ST_NTOOL; i++)
        r->tools.given[i] = true;
}

#endif
