#ifndef ST_TEXT_LINE_TOLD_H
#define ST_TEXT_LINE_TOLD_H

#include "model/recipe.h"

/* What a line was read as where its words leave that open, to stand behind them: "(a US bottle, 750 mL; 80 proof
 * is 40.1 % vol)"; "" when there is nothing to tell.  In buf, always ended. */
void st_line_told(const struct st_line *line, char *buf, size_t size);

#endif
