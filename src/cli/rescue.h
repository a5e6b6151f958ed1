#ifndef ST_CLI_RESCUE_H
#define ST_CLI_RESCUE_H

#include "cli/cli.h"
#include "text/rescue_weigh.h"

/* What is told about something that went wrong. */
struct rescue_told {
    const struct st_rescue_book *book;
    const char *words;              /* "" none: the list */
    struct st_rescue_found found;   /* of the words */
    const struct st_recipe *recipe; /* NULL: none */
    const struct st_foretold *foretold;
};

void rescue_page(const struct rescue_told *t);
json_t *rescue_json(const struct rescue_told *t);

#endif
