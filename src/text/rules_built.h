#ifndef ST_TEXT_RULES_BUILT_H
#define ST_TEXT_RULES_BUILT_H

#include <stdbool.h>

#include "place_sheet.h"
#include "rule_sheets.h"

/* The books of rules from the sheets that are built into the program.  NULL and *problem when one is not there or cannot be
 * read.  Freed with st_rule_books_free. */
struct st_rule_books *st_rules_built(struct st_problem *problem);

/* The same of places; freed with st_homes_free. */
struct st_homes *st_homes_built(struct st_problem *problem);

/* Somebody can live there: health bodies and repealed rules are no place to live in. */
bool st_home_is_place(const struct st_home *h);

/* What a maker may say: st_home_find, where somebody can live.  NULL: no such place. */
const struct st_home *st_home_chosen(const struct st_homes *all, const char *words);

/* "eu, uk or us": their codes, for messages. */
const char *st_homes_list(const struct st_homes *all, char *buf, size_t size);

#endif
