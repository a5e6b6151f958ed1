#include "cli/verb.h"

#include <string.h>

#include "text/near.h"

enum { MOST = 40 };

static int unknown(const char *command, const char *word, const struct cli_verb verb[], int n, const char *try_)
{
    const char *known[MOST];
    char what[160], near_[200];

    for (int i = 0; i < n && i < MOST; i++)
        known[i] = verb[i].name;
    const char *near = st_near_key(word, known, n < MOST ? (size_t)n : MOST);
    snprintf(what, sizeof what, "\"%.20s %.60s\"", command, word);
    snprintf(near_, sizeof near_, "did you mean \"%.20s %s\"; \"stillroom help %.20s\" lists all", command,
             near ? near : "", command);
    cli_error(what, "no such thing is done by that word", near ? near_ : try_);
    return ST_EXIT_INPUT;
}

int cli_verb_run(struct cli *c, const char *command, const struct cli_verb verb[], int n, int (*all)(struct cli *c),
                 const char *try_)
{
    static char name[40];
    if (c->argc == 0 || c->argv[0][0] == '-')
        return all(c);
    for (int i = 0; i < n; i++)
        if (strcmp(c->argv[0], verb[i].name) == 0) {
            snprintf(name, sizeof name, "%.20s %s", command, verb[i].name);
            c->command = name;
            c->argc--;
            c->argv++;
            return verb[i].run(c);
        }
    return unknown(command, c->argv[0], verb, n, try_);
}
