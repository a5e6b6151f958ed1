#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/near.h"
#include "util/version.h"

static const struct cli_command COMMAND[] = {
    { "foresee", "what a recipe file puts into the bottle, and how sure that is", cmd_foresee_usage, cmd_foresee },
    { "take", "a recipe as people write it, read back line by line", cmd_take_usage, cmd_take },
    { "steep", "a jar over time: what comes out of each thing, and when", cmd_steep_usage, cmd_steep },
    { "aim", "turned round: the amounts that give the bottle you wish for", cmd_aim_usage, cmd_aim },
    { "trial", "small glasses with more and more of something; then the batch", cmd_trial_usage, cmd_trial },
    { "correct", "a measured batch put right: what to pour in, and draw off first", cmd_correct_usage, cmd_correct },
    { "mix", "what these make together, each line as a cook writes it", cmd_mix_usage, cmd_mix },
    { "cautions", "what to watch: worst cases, limits, allergens, what spoils", cmd_cautions_usage, cmd_cautions },
    { "clear", "whether it will go cloudy, and what helps", cmd_clear_usage, cmd_clear },
    { "rescue", "something went wrong with it: keep, fix or bin", cmd_rescue_usage, cmd_rescue },
    { "gauge", "strength and sugar of a sweetened liquid from readings", cmd_gauge_usage, cmd_gauge },
    { "larder", "what you own: lots, what is left of each, what to use first", cmd_larder_usage, cmd_larder },
    { "recipe", "your recipes, every try of each, and what was changed", cmd_recipe_usage, cmd_recipe },
    { "batch", "what was really made: jars by day, weighings, readings, bottles", cmd_batch_usage, cmd_batch },
    { "undo", "take back the last thing done in the notebook", cmd_undo_usage, cmd_undo },
    { "backup", "copies of the notebook: made, listed, looked through, taken back", cmd_backup_usage, cmd_backup },
    { "export", "the whole notebook as one JSON document", cmd_export_usage, cmd_export },
    { "import", "such a document into a new notebook", cmd_import_usage, cmd_import },
    { "serve", "the pages for a browser on this machine", cmd_serve_usage, cmd_serve },
    { "property", "one property of a mixture given by mass fractions", cmd_property_usage, cmd_property },
    { "ingredient", "what the sheet knows of an ingredient, each figure with its source", cmd_ingredient_usage,
      cmd_ingredient },
    { "source", "where figures with a key come from", cmd_source_usage, cmd_source },
};
enum { NCOMMAND = sizeof COMMAND / sizeof *COMMAND };

static const char COMMON[] =
    "\nWith every command:\n"
    "  --json            one JSON document instead of the page\n"
    "  --units MEASURES  us, metric or imperial: how volumes are printed, and whose\n"
    "                    cup and pint are meant where nothing else says it\n"
    "  --explain         how it was worked out, step by step\n"
    "  --place PLACE     whose rules: eu, uk, us, au, nz, ca; else the strictest\n"
    "  --serving VOLUME  how much is poured (what the recipe says, else 40 mL)\n"
    "  --body-weight KG  for whom (60)\n"
    "  --draws N         how many makings are tried on paper (4000)\n"
    "  --seed N          start of the random numbers (1)\n"
    "  --timing          how long the computing took, on stderr\n"
    "  --help, --version\n"
    "\nWith every command of the notebook (larder, recipe, batch, correct, backup,\nexport, import, undo):\n"
    "  --book FILE       another book than the one in your data folder\n"
    "  --today DATE      as if it were that day\n";

static void print_commands(FILE *to)
{
    fputs("stillroom: what is in the bottle of a steeped liqueur, before it is made\n\n", to);
    for (int i = 0; i < NCOMMAND; i++)
        fprintf(to, "  %-11s %s\n", COMMAND[i].name, COMMAND[i].line);
    fprintf(to, "  %-11s %s\n", "help", "this list, or one command in full: stillroom help mix");
    fputs(COMMON, to);
    fputs("\nTry first:\n"
          "  stillroom mix \"700 mL vodka 40 %\" \"200 g sugar\" \"200 mL water\"\n"
          "  stillroom foresee examples/damson_fresh_fruit.yaml\n"
          "\nFigures are a forecast, not an assay.\nLocal rules and licensed practice come first.\n",
          to);
}

static const struct cli_command *find(const char *name)
{
    for (int i = 0; i < NCOMMAND; i++)
        if (strcmp(COMMAND[i].name, name) == 0)
            return &COMMAND[i];
    return NULL;
}

static int unknown_command(const char *name)
{
    const char *known[NCOMMAND + 1];
    char what[160], try_[160];

    for (int i = 0; i < NCOMMAND; i++)
        known[i] = COMMAND[i].name;
    known[NCOMMAND] = "help";
    const char *near = st_near_key(name, known, NCOMMAND + 1);
    snprintf(what, sizeof what, "\"%.60s\"", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s\"", near);
    else
        snprintf(try_, sizeof try_, "\"stillroom help\" lists the commands");
    cli_error(what, "there is no command of this name", try_);
    return ST_EXIT_INPUT;
}

static int help(const char *name)
{
    const struct cli_command *c = name ? find(name) : NULL;
    if (name && !c && strcmp(name, "help") != 0)
        return unknown_command(name);
    if (!c) {
        print_commands(stdout);
        return ST_EXIT_DONE;
    }
    printf("stillroom %s: %s\n\n%s", c->name, c->line, c->usage);
    if (*c->usage && c->usage[strlen(c->usage) - 1] != '\n')
        putchar('\n');
    fputs(COMMON, stdout);
    return ST_EXIT_DONE;
}

static int run(struct cli *c)
{
    bool wants_help = false, wants_version = false;

    if (!cli_take_common(c, &wants_help, &wants_version))
        return ST_EXIT_INPUT;
    if (wants_version) {
        puts("stillroom " ST_VERSION);
        return ST_EXIT_DONE;
    }
    const char *name = c->argc > 0 ? c->argv[0] : NULL;
    if (name && strcmp(name, "help") == 0)
        return help(c->argc > 1 ? c->argv[1] : NULL);
    if (wants_help)
        return help(name);
    if (!name) {
        print_commands(stderr);
        cli_error_kept("no command is given", "the program does one thing at a time",
                       "write for example: stillroom foresee RECIPE");
        return ST_EXIT_INPUT;
    }
    if (name[0] == '-' && !cli_no_more_options(c, cli_common_options))
        return ST_EXIT_INPUT;
    const struct cli_command *command = find(name);
    if (!command)
        return unknown_command(name);
    c->command = command->name;
    c->argc--;
    c->argv++;
    return command->run(c);
}

int main(int argc, char **argv)
{
    struct cli c = { .seed = 1, .draws = 4000, .argc = argc > 0 ? argc - 1 : 0, .argv = argv + (argc > 0) };
    const double start = cli_now_ms();
    int code = run(&c);

    cli_errors_finish(c.json);
    if (c.timing)
        fprintf(stderr, "total %.1f ms\n", cli_now_ms() - start);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        cli_error("standard output", "it could not be written", "look for a full disk or a closed pipe");
        code = ST_EXIT_SYSTEM;
    }
    return code;
}
