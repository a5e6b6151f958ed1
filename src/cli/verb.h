#ifndef ST_CLI_VERB_H
#define ST_CLI_VERB_H

#include "cli/cli.h"

/* The words of a command that has several: larder add, recipe keep. */
struct cli_verb {
    const char *name;
    int (*run)(struct cli *c);
};

/* Run the one that the first argument says; without one, `all`.
 * Given: command, as it is typed; verb[n]; what to try when no word is near */
int cli_verb_run(struct cli *c, const char *command, const struct cli_verb verb[], int n, int (*all)(struct cli *c),
                 const char *try_);

#endif
