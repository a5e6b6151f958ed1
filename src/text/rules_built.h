#ifndef ST_TEXT_RULES_BUILT_H
#define ST_TEXT_RULES_BUILT_H

#include "rule_sheets.h"

/* The books of rules from the sheets that are built into the program.  NULL and *problem when one is not there or cannot be
 * read.  Freed with st_rule_books_free. */
struct st_rule_books *st_rules_built(struct st_problem *problem);

#endif
