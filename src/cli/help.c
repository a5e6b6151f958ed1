/* The commands, and what is told of them: the one table from which they are run, their pages and their document. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/near.h"
#include "util/version.h"

static const struct cli_command COMMAND[] = {
    { "foresee", "what a recipe file puts into the bottle, and how sure that is", cmd_foresee_usage, cmd_foresee,
      CLI_EXPLAINS, "" },
    { "take", "a recipe as people write it, read back line by line", cmd_take_usage, cmd_take, 0, "" },
    { "steep", "a jar over time: what comes out of each thing, and when", cmd_steep_usage, cmd_steep, CLI_EXPLAINS,
      "" },
    { "aim", "turned round: the amounts that give the bottle you wish for", cmd_aim_usage, cmd_aim, CLI_EXPLAINS, "" },
    { "trial", "small glasses with more and more of something; then the batch", cmd_trial_usage, cmd_trial, 0, "" },
    { "correct", "a measured batch put right: what to pour in, and draw off first", cmd_correct_usage, cmd_correct,
      CLI_EXPLAINS, "" },
    { "mix", "what these make together, each line as a cook writes it", cmd_mix_usage, cmd_mix, CLI_EXPLAINS, "" },
    { "cautions", "what to watch: worst cases, limits, allergens, what spoils", cmd_cautions_usage, cmd_cautions,
      CLI_EXPLAINS, "" },
    { "clear", "whether it will go cloudy, and what helps", cmd_clear_usage, cmd_clear, CLI_EXPLAINS, "" },
    { "rescue", "something went wrong with it: keep, fix or bin", cmd_rescue_usage, cmd_rescue, 0, "" },
    { "gauge", "strength and sugar of a sweetened liquid from readings", cmd_gauge_usage, cmd_gauge, 0, "" },
    { "larder", "what you own: lots, what is left of each, what to use first", cmd_larder_usage, cmd_larder, CLI_WORDS,
      "" },
    { "recipe", "your recipes, every try of each, and what was changed", cmd_recipe_usage, cmd_recipe, CLI_WORDS, "" },
    { "batch", "what was really made: jars by day, weighings, readings, bottles", cmd_batch_usage, cmd_batch, CLI_WORDS,
      cmd_batch_story },
    { "undo", "take back the last thing done in the notebook", cmd_undo_usage, cmd_undo, 0, "" },
    { "backup", "copies of the notebook: made, listed, looked through, taken back", cmd_backup_usage, cmd_backup, 0,
      "" },
    { "export", "the whole notebook as one JSON document", cmd_export_usage, cmd_export, 0, "" },
    { "import", "such a document into a new notebook", cmd_import_usage, cmd_import, 0, "" },
    { "serve", "the pages for a browser on this machine", cmd_serve_usage, cmd_serve, 0, "" },
    { "property", "one property of a mixture given by mass fractions", cmd_property_usage, cmd_property, 0, "" },
    { "ingredient", "what the sheet knows of an ingredient, figures with source", cmd_ingredient_usage, cmd_ingredient,
      0, "" },
    { "source", "where figures with a key come from", cmd_source_usage, cmd_source, 0, "" },
};
enum { NCOMMAND = sizeof COMMAND / sizeof *COMMAND };

static const char COMMON[] =
    "\nWith every command:\n"
    "  --json            one JSON document instead of the page\n"
    "  --units MEASURES  us, metric or imperial: how volumes are printed, and whose\n"
    "                    cup and pint are meant where nothing else says it\n"
    "  --explain         how it was worked out, step by step: with foresee, mix,\n"
    "                    aim --kitchen, steep, cautions, clear and correct\n"
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

/* How every command ends, by its exit code. */
static const char *const CODE[] = {
    [ST_EXIT_DONE] = "done",
    [ST_EXIT_UNMET] = "done, but something is not met, short, in doubt or not found",
    [ST_EXIT_INPUT] = "something in what was asked or read must be put right first",
    [ST_EXIT_SYSTEM] = "the machine could not: disk, memory, a damaged file",
};
enum { NCODE = sizeof CODE / sizeof *CODE };

static void print_codes(FILE *to)
{
    fputs("\nExit codes:\n", to);
    for (int i = 0; i < NCODE; i++)
        fprintf(to, "  %d  %s\n", i, CODE[i]);
}

/* ---- the same as a document, read off the texts above ---- */

static bool holds(const json_t *list, const char *text)
{
    size_t i;
    json_t *one;
    json_array_foreach(list, i, one) if (strcmp(json_string_value(one), text) == 0) return true;
    return false;
}

/* Every --option of a text, once, in its order. */
static json_t *options_out(const char *text)
{
    json_t *list = json_array();
    for (const char *p = strstr(text, "--"); p; p = strstr(p, "--")) {
        const size_t n = strspn(p + 2, "abcdefghijklmnopqrstuvwxyz0123456789-");
        char option[48];
        (void)snprintf(option, sizeof option, "%.*s", (int)(n + 2), p);
        if (n > 0 && !holds(list, option))
            json_array_append_new(list, json_string(option));
        p += 2 + n;
    }
    return list;
}

/* Every word of a command that has words: "stillroom batch begin", once, in its order. */
static json_t *words_out(const struct cli_command *c)
{
    json_t *list = json_array();
    char before[40];
    const int n = snprintf(before, sizeof before, "stillroom %s ", c->name);
    for (const char *p = c->has == CLI_WORDS ? strstr(c->usage, before) : NULL; p; p = strstr(p, before)) {
        char word[32];
        p += n;
        const size_t m = strspn(p, "abcdefghijklmnopqrstuvwxyz");
        (void)snprintf(word, sizeof word, "%.*s", (int)m, p);
        if (m > 0 && strchr(" \n", p[m]) && !holds(list, word))
            json_array_append_new(list, json_string(word));
    }
    return list;
}

static json_t *command_out(const struct cli_command *c)
{
    return json_pack("{s:s, s:s, s:o, s:o, s:b, s:s, s:s}", "name", c->name, "line", c->line, "words", words_out(c),
                     "options", options_out(c->usage), "explains", c->has == CLI_EXPLAINS, "usage", c->usage, "example",
                     c->story);
}

static json_t *all_out(void)
{
    json_t *commands = json_array(), *codes = json_object();
    char code[12];
    for (int i = 0; i < NCOMMAND; i++)
        json_array_append_new(commands, command_out(&COMMAND[i]));
    for (int i = 0; i < NCODE; i++) {
        (void)snprintf(code, sizeof code, "%d", i);
        json_object_set_new(codes, code, json_string(CODE[i]));
    }
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:s}", "program", "stillroom", "version", ST_VERSION, "commands",
                     commands, "common_options", options_out(COMMON), "exit_codes", codes, "common", COMMON);
}

/* ---- the pages ---- */

void cli_commands_print(FILE *to)
{
    fputs("stillroom: what is in the bottle of a steeped liqueur, before it is made\n\n", to);
    for (int i = 0; i < NCOMMAND; i++)
        fprintf(to, "  %-11s %s\n", COMMAND[i].name, COMMAND[i].line);
    fprintf(to, "  %-11s %s\n", "help", "this list, or one command in full: stillroom help mix");
    fputs(COMMON, to);
    print_codes(to);
    fputs("\nTry first:\n"
          "  stillroom mix \"700 mL vodka 40 %\" \"200 g sugar\" \"200 mL water\"\n"
          "  stillroom foresee examples/damson_fresh_fruit.yaml\n"
          "\nFigures are a forecast, not an assay.\nLocal rules and licensed practice come first.\n",
          to);
}

const struct cli_command *cli_command_named(const char *name)
{
    for (int i = 0; i < NCOMMAND; i++)
        if (strcmp(COMMAND[i].name, name) == 0)
            return &COMMAND[i];
    return NULL;
}

int cli_unknown_command(const char *name)
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

int cli_help(const char *name, bool json)
{
    const struct cli_command *c = name ? cli_command_named(name) : NULL;
    if (name && !c && strcmp(name, "help") != 0)
        return cli_unknown_command(name);
    if (json)
        return cli_json_print(c ? command_out(c) : all_out());
    if (!c) {
        cli_commands_print(stdout);
        return ST_EXIT_DONE;
    }
    cli_say(0, 2, "stillroom %s: %s", c->name, c->line);
    printf("\n%s", c->usage);
    if (*c->usage && c->usage[strlen(c->usage) - 1] != '\n')
        putchar('\n');
    if (*c->story)
        printf("\n%s", c->story);
    fputs(COMMON, stdout);
    print_codes(stdout);
    return ST_EXIT_DONE;
}
