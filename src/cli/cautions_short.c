/* The gravest cautions in a few lines, where a page is about something else. */
#include <stdlib.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/caution_words.h"
#include "util/memory.h"

enum { MOST_LINES = 5 };

static struct st_cautions *collect(const struct cli *c, const struct st_recipe *r, const struct st_foretold *f)
{
    struct st_cautions *list = x_calloc(1, sizeof *list); /* large */
    const struct st_watch w = cli_watch(c, r);
    st_cautions_collect(r, f, &w, list);
    return list;
}

static void print_one(const struct st_caution *c)
{
    static const char *const WORD[] = { [ST_LEVEL_NOTE] = "Note",
                                        [ST_LEVEL_CAUTION] = "Caution",
                                        [ST_LEVEL_OVER] = "Over the limit",
                                        [ST_LEVEL_STOP] = "STOP" };
    char heading[sizeof c->what], source[120];
    st_caution_heading(c, heading, sizeof heading);
    st_caution_source(c, source, sizeof source);
    cli_say(2, 4, source[0] == '[' ? "%s: %s %s" : "%s: %s (%s)", WORD[c->level], heading, source);
}

void cli_cautions_short(const struct cli *c, const struct st_recipe *r, const struct st_foretold *f, const char *name)
{
    struct st_cautions *list = collect(c, r, f);
    int n = 0;
    while (n < list->n && list->item[n].level > (n < MOST_LINES ? ST_LEVEL_NOTE : ST_LEVEL_CAUTION))
        n++; /* a limit that is passed is never left to the rest */
    if (n > 0)
        cli_heading("What to watch, worst first");
    for (int i = 0; i < n; i++)
        print_one(&list->item[i]);
    const int more = list->n - n;
    if (n > 0 && more > 0)
        cli_say(2, 4, "%d more: stillroom cautions \"%s\"", more, name);
    else if (more > 0)
        cli_say(0, 2, "What to watch, %d note%s: stillroom cautions \"%s\"", more, more == 1 ? "" : "s", name);
    free(list);
}

json_t *cli_cautions_json(const struct cli *c, const struct st_recipe *r, const struct st_foretold *f)
{
    struct st_cautions *list = collect(c, r, f);
    json_t *o = st_doc_cautions(list);
    free(list);
    return o;
}
