#ifndef ST_TEXT_RULE_SHEETS_INSIDE_H
#define ST_TEXT_RULE_SHEETS_INSIDE_H

/* Shared by rule_sheets.c and rule_rows.c alone. */

#include "rule_sheets.h"
#include "table.h"

/* What is read so far; freed with all its parts by st_rule_books_free. */
struct st_rule_reading {
    struct st_rule_books all; /* first, so that its address is that of the whole */
    char *text[ST_NRULE_SHEET];
    struct st_toxicant *toxicant;
    struct st_content *content;
    struct st_rule *rule;
};

/* 0, or -1 with *problem: a field is empty, a toxicant unknown, a mark none of r, s, m, c. */
int st_rule_need(const struct st_table *t, const char *field, const char *what, struct st_problem *problem);
int st_rule_toxicant(const struct st_table *t, const struct st_rule_books *b, const char *slug,
                     struct st_problem *problem);
int st_rule_mark(const struct st_table *t, const char *field, char *mark, struct st_problem *problem);

/* Read the sheet of rules; the toxicants are there already. */
int st_rule_rows_read(struct st_rule_reading *w, struct st_problem *problem);

#endif
