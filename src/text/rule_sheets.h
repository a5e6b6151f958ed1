#ifndef ST_TEXT_RULE_SHEETS_H
#define ST_TEXT_RULE_SHEETS_H

#include <stddef.h>

#include "model/problem.h"
#include "model/rule.h"

/* Reads the books of src/model/rule.h from their sheets (data/README.md): data/toxicants.tsv, contents.tsv, rules.tsv. */

enum st_rule_sheet { ST_SHEET_TOXICANTS, ST_SHEET_CONTENTS, ST_SHEET_RULES, ST_NRULE_SHEET };

/* Where a sheet is among the embedded files: "data/toxicants.tsv". */
const char *st_rule_sheet_name(enum st_rule_sheet s);

struct st_rule_text {
    const char *text;
    size_t size;
};

/* Read all three.
 *
 * Given:    text[ST_NRULE_SHEET], each copied
 * Returned: the books; NULL and *problem, with its line, *wrong the sheet it is in, when one cannot be read: another
 *           heading, too few or too many fields, a figure that is none, a word that it does not know, a toxicant that the
 *           first sheet does not have, a key that stands twice, no source or mark
 * Notes:
 *   1. A row of contents.tsv for several ingredients becomes one of each; "any" becomes the fallback of its flag.
 *   2. An empty ceiling is NAN: unknown, never 0.
 *   3. wrong may be NULL. */
struct st_rule_books *st_rule_books_create(const struct st_rule_text text[ST_NRULE_SHEET], enum st_rule_sheet *wrong,
                                           struct st_problem *problem);
void st_rule_books_free(struct st_rule_books *b);

/* Words of the sheets: "mg/kg per % vol", "over 25 % vol", "eu". */
const char *st_rule_unit_words(enum st_rule_unit u);
const char *st_rule_scope_words(enum st_rule_scope s);

/* The bits of the places named in a list, ',' or blanks between; 0 when one of them is no place, or none is there. */
unsigned st_rule_places(const char *list);

#endif
