/* Lists that may be long: as much of them as a person reads, and how to come by the rest. */
#include <stdio.h>

#include "cli/book.h"
#include "cli/page.h"

enum { USUAL = 100, MOST = 1000000 };

bool cli_take_most(struct cli *c, int *most)
{
    bool bad = false;
    double n = c->json ? 0.0 : USUAL; /* a program reads all of it */
    if (cli_option_number(c, CLI_MOST, 1.0, MOST, &n, &bad) && n != (double)(int)n) {
        cli_error(CLI_MOST, "it is no whole number", "write for example " CLI_MOST " 500");
        bad = true;
    }
    *most = (int)n;
    return !bad;
}

int cli_most_of(int n, int most)
{
    return most > 0 && n > most ? most : n;
}

void cli_and_more(int left_out, int of, const char *find)
{
    if (left_out <= 0)
        return;
    putchar('\n');
    cli_say(0, 0, "%d more: " CLI_MOST " %d shows all, and %s finds one.", left_out, of, find);
}
