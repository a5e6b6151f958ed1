#include "cli/larder.h"

#include <string.h>

#include "cli/page.h"
#include "cli/verb.h"

const char cmd_larder_usage[] =
    "stillroom larder                  what there is; what is near its end first\n"
    "stillroom larder --all            with what is used up\n"
    "stillroom larder find WORDS       lots, vessels and bottles with these words\n"
    "stillroom larder show L7          all about a lot\n"
    "stillroom larder reach RECIPE     what of it is within reach, what to buy, what\n"
    "                                  batch, bottle and pour cost; 1 when short\n"
    "  --pour-price 6.50 --tax 20      what a bar keeps of a pour; tax in % on the\n"
    "                                  net\n"
    "\n"
    "What comes in, each said as a recipe would say it:\n"
    "  stillroom larder add \"500 g green walnuts\" --price 4.50 --currency EUR\n"
    "  stillroom larder add \"700 mL vodka 40 %\" --where cellar\n"
    "  stillroom larder made \"300 mL orange tincture 55 %\"   made ahead: tinctures,\n"
    "                                  bitters, infused spirits, syrups\n"
    "  stillroom larder spent \"400 g drained damsons\" --from-batch B14\n"
    "  stillroom larder vessel \"3 L jar\" --empty 1240g\n"
    "\n"
    "  --from WHERE          where it was bought\n"
    "  --on DATE             when: 2026-10-04, yesterday, \"3 days ago\" (today)\n"
    "  --price P             of all of it: 4.20, \"4.20 EUR\"; --currency EUR\n"
    "  --use-by DATE         its day\n"
    "  --where PLACE         where it stands (of a vessel: batch move)\n"
    "  --gross, --trimmed    how it was weighed\n"
    "  --strength Q          % vol, as on the bottle\n"
    "  --sugar G, --acid G   g/L\n"
    "  --code X              a code of your own (else L1, L2 ...)\n"
    "  --as NAME             a name of the ingredient sheet it is to be treated like\n"
    "  --from-batch B14      what it was made of\n"
    "  --of L7 --of L9       lots that house stock was made of: who to ring, and what\n"
    "                        to watch, go through it; what it took: larder took\n"
    "  --potency 0.8         its flavour against that of the last one\n"
    "  --note WORDS          anything else\n"
    "  --volume 3L, --empty 1240g   of a vessel\n"
    "\n"
    "What happens to it:\n"
    "  stillroom larder took L7 \"120 g\" --why given   or tasted, spilt, thrown,\n"
    "                                  counted, poured; what goes into a batch:\n"
    "                                  stillroom batch add, batch weigh,\n"
    "                                  with --lot L7\n"
    "  stillroom larder count L7 \"380 g\"            so much is left\n"
    "  stillroom larder open L7 --on yesterday\n"
    "  stillroom larder gone L7                      used up, or --why thrown\n"
    "  stillroom larder measure L7 brix=12.4 sg=1.04 --by Ann\n"
    "  stillroom larder change L7 --price 4.20       any of the above, and --name\n"
    "\n"
    "A bought bottle to compare with, read or tasted against samples of known sugar:\n"
    "  stillroom larder reference \"the green one\" --strength 28 sg=1.03 brix=29\n"
    "  stillroom larder reference \"the green one\" --sweeter-than 250\n"
    "                                  --less-sweet-than 300\n"
    "Also --volume, --price, --currency, --note; without a name: all of them. Then:\n"
    "  stillroom aim RECIPE --less-sweet 20% --than \"the green one\"\n";

/* ---- what the commands share ---- */

int larder_ready(struct cli *c, const char *const known[], int least, int most, const char *usage)
{
    char what[80];
    if (!cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    if (c->argc >= least && c->argc <= most)
        return ST_EXIT_DONE;
    snprintf(what, sizeof what, "%s", c->command);
    if (c->argc < least)
        cli_error(what, "something is not said", usage);
    else
        cli_error(c->argv[most], "a word too many; several words go into quotes", usage);
    return ST_EXIT_INPUT;
}

int larder_told(const struct cli *c, const struct st_lot_told *t)
{
    if (c->json)
        return cli_json_print(st_doc_lot_told(t));
    if (t->nothing) {
        cli_wrap(0, 0, "Nothing new: it is so already.");
        return ST_EXIT_DONE;
    }
    char words[420];
    snprintf(words, sizeof words, "%s.", t->words);
    if (words[0] >= 'a' && words[0] <= 'z')
        words[0] = (char)(words[0] - 'a' + 'A');
    cli_wrap(0, 0, words);
    for (int i = 0; i < t->n_remark; i++)
        cli_wrap(2, 2, t->remark[i]);
    return ST_EXIT_DONE;
}

/* ---- which of them ---- */

static int add(struct cli *c)
{
    return larder_add(c, "bought");
}

static int made(struct cli *c)
{
    return larder_add(c, "made");
}

static int spent(struct cli *c)
{
    return larder_add(c, "spent");
}

static const struct cli_verb VERB[] = {
    { "add", add },
    { "made", made },
    { "spent", spent },
    { "took", larder_take },
    { "take", larder_take },
    { "count", larder_count },
    { "open", larder_open },
    { "gone", larder_gone },
    { "measure", larder_measure },
    { "change", larder_change },
    { "vessel", larder_vessel },
    { "show", larder_show },
    { "find", larder_find },
    { "reach", larder_reach },
    { "reference", larder_reference },
};
enum { NVERB = sizeof VERB / sizeof *VERB };

int cmd_larder(struct cli *c)
{
    return cli_verb_run(c, "larder", VERB, NVERB, larder_all, "\"stillroom help larder\" lists what it does");
}
