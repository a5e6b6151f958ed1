#ifndef ST_CLI_CAUTIONS_H
#define ST_CLI_CAUTIONS_H

#include "cli/page.h"
#include "text/ledger_words.h"

/* What only cautions.c and cautions_page.c share. */
struct cautions_page {
    const struct cli *cli;
    const struct st_recipe *recipe;
    const struct st_foretold *out; /* NULL: nothing could be foretold */
    struct st_watch watch;
    struct st_cautions *list;
    struct st_ledger *ledger;
};

void cautions_page_print(const struct cautions_page *p);

#endif
