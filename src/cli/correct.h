#ifndef ST_CLI_CORRECT_H
#define ST_CLI_CORRECT_H

#include "api/correct_task.h"
#include "cli/page.h"

/* --- correct_page.c --- */
void correct_page(const struct cli *c, const struct st_correct_task *t);

#endif
