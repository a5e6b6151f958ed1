#ifndef ST_CLI_CLEAR_H
#define ST_CLI_CLEAR_H

#include "api/doc_clear.h"
#include "cli/cli.h"

/* What only clear.c and clear_page.c share. */

/* The page: in short, or of the one agent asked for; agents: the list of them. */
void clear_page(const struct cli *c, const struct st_clear_told *t, bool agents);

#endif
