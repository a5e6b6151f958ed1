#ifndef ST_CLI_READ_RECIPE_H
#define ST_CLI_READ_RECIPE_H

#include "cli/cli.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"

/* The recipe file that a command was given as its one argument, and all that it lends. */
struct cli_recipe {
    struct st_recipe_file file;
    struct st_catalogue *catalogue; /* with the recipe's own ingredients */
    struct st_buf text;
    char shown[300]; /* its name in messages */
    bool open;
};

/* Read it: a file, "-" for standard input, or where there is no such file a recipe of the book by its name.  To be called when all options are off c->argv.
 * Returned: ST_EXIT_DONE and *r, for cli_recipe_close; else everything was told and nothing is to be closed. */
int cli_recipe_open(struct cli *c, struct cli_recipe *r);
void cli_recipe_close(struct cli_recipe *r);

/* The text of a recipe so named: a file, "-", or where there is no such file a recipe of the book ("Damson liqueur/2"),
 * or a batch of it as it was made.
 * Returned: shown, the name for messages; 0, the errno of the file, or CLI_RECIPE_TOLD: a batch that cannot be read, and
 * everything was told, first of all that nothing is known of its worst cases. */
enum { CLI_RECIPE_TOLD = -1 };
int cli_recipe_text(const struct cli *c, const char *name, struct st_buf *text, char shown[300]);

/* Tell everything that makes st_plan_create refuse this recipe, what must not go into a drink first; first: what it said. */
void cli_plan_problems(const struct st_recipe *r, const struct st_problem *first);

/* Tell why a file could not be read or opened (errno; of CLI_RECIPE_TOLD nothing more) and whose fault that is: ST_EXIT_INPUT or ST_EXIT_SYSTEM. */
int cli_cannot_read(const char *name, int error);

#endif
