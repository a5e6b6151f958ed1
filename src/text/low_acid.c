#include "low_acid.h"

#include <string.h>

/* Of fruit and juice as little as this is taken for little acid, g/g: cucumber, melon, pumpkin, fig; our own limit. */
static const double LITTLE_ACID = 0.0025;

static bool is_in(const char *slug, const char *const list[], size_t n)
{
    for (size_t i = 0; slug && i < n; i++)
        if (strcmp(slug, list[i]) == 0)
            return true;
    return false;
}

bool st_is_low_acid(const struct st_ingredient *in)
{
    static const char *const ALSO[] = { "chilli_fresh", "ginger_juice" };
    if (!in)
        return false;
    switch (in->kind) {
    case ST_KIND_ROOT_FRESH:
    case ST_KIND_HERB_FRESH:
    case ST_KIND_FLOWER_FRESH: return true;
    case ST_KIND_FRESH_FRUIT:
    case ST_KIND_FROZEN_FRUIT:
    case ST_KIND_TINNED_FRUIT:
    case ST_KIND_JUICE:
        return is_in(in->slug, ALSO, sizeof ALSO / sizeof *ALSO) ||
               (in->part[ST_ACID].known && in->part[ST_ACID].value <= LITTLE_ACID &&
                strcmp(in->slug, "lemonade_mixer") != 0);
    default: return false;
    }
}

/* "olive oil", "oil": the word as a whole. */
static bool is_called_oil(const char *name)
{
    for (const char *p = name; (p = strstr(p, "oil")) != NULL; p += 3)
        if ((p == name || p[-1] == ' ') && (p[3] == '\0' || p[3] == ' ' || p[3] == ','))
            return true;
    return false;
}

bool st_is_fat(const struct st_ingredient *in)
{
    static const char *const NOT[] = { "essential_oil", "bitter_almond_oil", "lecithin" };
    if (!in || is_in(in->slug, NOT, sizeof NOT / sizeof *NOT))
        return false;
    if (in->kind == ST_KIND_DAIRY)
        return in->slug && strcmp(in->slug, "butter") == 0;
    if (in->kind != ST_KIND_OTHER)
        return false;
    return (in->part[ST_FAT].known && in->part[ST_FAT].value >= 0.8) || (in->name && is_called_oil(in->name));
}
