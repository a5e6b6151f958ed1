#ifndef ST_TEXT_LABEL_LIST_H
#define ST_TEXT_LABEL_LIST_H

#include "label_words.h"

/* For label_*.c alone: adding facts, and figures as they are told there. */

/* A new fact of the whole bottle, or NULL when the list is full (out->cut is then set). */
__attribute__((format(printf, 3, 4))) struct st_label_fact *st_label_add(struct st_label_facts *out, const char *code,
                                                                         const char *what, ...);

/* Add to its reason; f may be NULL. */
__attribute__((format(printf, 2, 3))) void st_label_because(struct st_label_fact *f, const char *text, ...);

/* Its rule and source; "", 0 and NULL are left out. */
void st_label_rule(struct st_label_fact *f, const char *document, const char *article, int year, const char *source,
                   char mark);

/* "24.1 (22.8 to 25.3)", ends rounded outward; "not known". */
const char *st_label_interval(const struct st_interval *x, int decimals, char buf[64]);

/* "the EU", "the United Kingdom" ... of the first place of the set. */
const char *st_label_place(unsigned places);

#endif
