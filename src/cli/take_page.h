#ifndef ST_CLI_TAKE_PAGE_H
#define ST_CLI_TAKE_PAGE_H

#include "cli/page.h"
#include "text/take.h"

/* --- take_page.c --- the page or the document of a text that was read.  name: of the text; output: the recipe file
 * that was written, NULL none.  An exit code. */
int take_show(struct cli *c, const struct st_take *t, const char *name, const char *output);

/* What a deed was read as: "steep, 6 weeks, pressed". */
void take_deed_text(char *buf, size_t size, const struct st_take_deed *d);

/* --- take_json.c --- p NULL: nothing could be foretold */
json_t *take_json(const struct st_take *t, const struct page *p);

#endif
