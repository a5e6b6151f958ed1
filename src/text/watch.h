#ifndef ST_TEXT_WATCH_H
#define ST_TEXT_WATCH_H

#include "model/ledger.h"
#include "place_sheet.h"

/* What a recipe is held against: where the maker lives, how much is poured and for whom. */
struct st_watch {
    const struct st_rule_books *books; /* NULL: nothing is reckoned, and cautions say so */
    const struct st_home *place;       /* lent by the homes; needed with books */
    struct st_drinker who;
};

/* The first of the places (the strictest of all), 60 kg, a serving of the recipe's own size (40 mL unless it says otherwise). */
struct st_watch st_watch_usual(const struct st_rule_books *books, const struct st_homes *places,
                               const struct st_recipe *r);

/* "EU and UK", "US", "health bodies". */
const char *st_law_place_words(unsigned places, char *buf, size_t size);

#endif
