#include "watch.h"

#include <stdio.h>

struct st_watch st_watch_usual(const struct st_rule_books *books, const struct st_homes *places,
                               const struct st_recipe *r)
{
    const double ml = r && r->serving_ml > 0.0 ? r->serving_ml : 40.0;
    return (struct st_watch){ places ? books : NULL,
                              places ? &places->home[0] : NULL,
                              { .serving_ml = ml, .body_weight_kg = 60.0 } };
}

static const struct {
    unsigned bit;
    const char *words;
} PLACE[] = {
    { ST_PLACE_EU, "EU" },
    { ST_PLACE_UK, "UK" },
    { ST_PLACE_US, "US" },
    { ST_PLACE_AU, "Australia" },
    { ST_PLACE_NZ, "New Zealand" },
    { ST_PLACE_CA, "Canada" },
    { ST_PLACE_HEALTH, "a health body" },
    { ST_PLACE_OLD, "an older rule" },
};
enum { PLACES = sizeof PLACE / sizeof *PLACE };

const char *st_law_place_words(unsigned places, char *buf, size_t size)
{
    int n = 0, said = 0;
    size_t used = 0;
    for (int i = 0; i < PLACES; i++)
        n += (places & PLACE[i].bit) != 0;
    if (size)
        buf[0] = '\0';
    for (int i = 0; i < PLACES && used < size; i++)
        if (places & PLACE[i].bit) {
            const int w = snprintf(buf + used, size - used, "%s%s",
                                   !said           ? ""
                                   : said == n - 1 ? " and "
                                                   : ", ",
                                   PLACE[i].words);
            used += w > 0 ? (size_t)w : 0;
            said++;
        }
    return buf;
}
