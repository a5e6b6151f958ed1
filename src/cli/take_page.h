#ifndef ST_CLI_TAKE_PAGE_H
#define ST_CLI_TAKE_PAGE_H

#include "api/doc_take.h"
#include "cli/page.h"
#include "text/take.h"

/* --- take_page.c --- the page or the document of a text that was read.  name: of the text; output: the recipe file
 * that was written, NULL none.  An exit code. */
int take_show(struct cli *c, const struct st_take *t, const char *name, const char *output);

/* What a row was read as, with why: "taken for: 700-750 mL gin 37.5-47 % (no strength ...)"; "" a remark. */
void take_reading_words(const struct st_take_read_as *r, char *buf, size_t size);

#endif
