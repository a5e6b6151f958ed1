#include "cli/cli.h"

/* Parts that are empty leave no mark. */
static void put(const char *what, const char *why, const char *try_)
{
    fputs(what, stderr);
    if (why && *why)
        fprintf(stderr, ": %s", why);
    if (try_ && *try_)
        fprintf(stderr, "; %s", try_);
    fputc('\n', stderr);
}

void cli_error(const char *what, const char *why, const char *try_)
{
    fputs("stillroom: ", stderr);
    put(what, why, try_);
}

void cli_problem(const char *file, const struct st_problem *p)
{
    if (p->at.line > 0)
        fprintf(stderr, "%s:%d:%d: ", file, p->at.line, p->at.column > 0 ? p->at.column : 1);
    else
        fprintf(stderr, "%s: ", file);
    put(p->what, p->why, p->try_);
}
