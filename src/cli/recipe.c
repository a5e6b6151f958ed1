#include "cli/recipe.h"

#include "cli/verb.h"

const char cmd_recipe_usage[] =
    "stillroom recipe                   the recipes of the book\n"
    "stillroom recipe find WORDS        those with these words in name, notes or text\n"
    "  --most N                   the first N; a page shows 100\n"
    "stillroom recipe show NAME         one of them as it is now\n"
    "stillroom recipe history NAME      every try, and what was changed each time\n"
    "stillroom recipe difference A B    what is different, and what that does\n"
    "\n"
    "stillroom recipe keep FILE         keep it as the next try; - reads what is\n"
    "                                   pasted\n"
    "  --name NAME                under this name (else the recipe's title)\n"
    "  --side \"less sweet one\"    on a side line of its own\n"
    "  --from 3                   it was changed from try 3, or from\n"
    "                             \"less sweet one/1\"\n"
    "  --note WORDS               why\n"
    "  --on DATE                  when (today)\n"
    "Free words are read as \"stillroom take\" reads them, and both are kept.\n"
    "\n"
    "stillroom recipe text NAME         the recipe file again, byte for byte\n"
    "stillroom recipe said NAME         the free words it was read from\n"
    "  --output FILE              into a file; --force to write over one\n"
    "stillroom recipe rename OLD NEW\n"
    "\n"
    "NAME is the last try of a recipe; NAME/2 is its second, NAME/less sweet one the\n"
    "last of a side line, NAME/less sweet one/1 its first.  Where a command takes a\n"
    "recipe file such a name will do too: stillroom foresee \"Damson liqueur/2\".\n";

struct st_how recipe_how(const struct cli *c)
{
    return (struct st_how){ .catalogue = cli_catalogue, .measures = c->units, .seed = c->seed, .draws = c->draws };
}

static const struct cli_verb VERB[] = {
    { "keep", recipe_keep },     { "show", recipe_show }, { "history", recipe_history },
    { "text", recipe_text },     { "said", recipe_said }, { "difference", recipe_difference },
    { "rename", recipe_rename }, { "find", recipe_find },
};
enum { NVERB = sizeof VERB / sizeof *VERB };

int cmd_recipe(struct cli *c)
{
    return cli_verb_run(c, "recipe", VERB, NVERB, recipe_all,
                        "\"stillroom help recipe\" lists what it does; one recipe: stillroom recipe show NAME");
}
