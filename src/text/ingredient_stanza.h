#ifndef ST_TEXT_INGREDIENT_STANZA_H
#define ST_TEXT_INGREDIENT_STANZA_H

#include "model/ingredient.h"
#include "sheet.h"

/* Put one line of a stanza into *in (the keys are those of data/README.md).
 * seen: bits of the keys that this stanza has had; start each stanza with { 0 }.
 * Texts are lent from the line.  Result: 0; -1 with *problem. */
struct st_stanza_seen {
    unsigned long long bits;
    int next; /* where the next key is sought first: stanzas keep one order */
};
int st_ingredient_line(struct st_sheet_line *line, struct st_ingredient *in, struct st_stanza_seen *seen,
                       struct st_problem *problem);

/* A new stanza's ingredient: all texts "", all figures unknown. */
void st_ingredient_blank(struct st_ingredient *in);

/* What every stanza must have: name and kind.  at: its first line. */
int st_ingredient_complete(const struct st_ingredient *in, const struct st_stanza_seen *seen, struct st_place at,
                           struct st_problem *problem);

#endif
