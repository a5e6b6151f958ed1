#ifndef ST_TEXT_LINE_TOLD_H
#define ST_TEXT_LINE_TOLD_H

#include "model/recipe.h"

/* "200 g drained sloes": they lay in something before, and the sheet knows them fresh; but not "tinned cherries, drained". */
bool st_line_is_drained(const char *text, const struct st_ingredient *what);

/* What a line was read as where its words leave that open, to stand behind them: "(a US bottle, 750 mL; 80 proof
 * is 40.1 % vol)", "(it counts as fresh ...)"; "" when there is nothing to tell.  In buf, always ended. */
void st_line_told(const struct st_line *line, char *buf, size_t size);

#endif
