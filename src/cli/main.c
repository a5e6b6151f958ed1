#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/json_write.h"
#include "cli/cli.h"
#include "cli/page.h"
#include "text/yaml_report.h"
#include "util/version.h"

/* Figures that are looked up or kept have no working; nobody is left to think that there was one. */
static bool may_explain(const struct cli *c, const struct cli_command *command)
{
    char why[160];
    if (!c->explain || command->has == CLI_EXPLAINS)
        return true;
    (void)snprintf(why, sizeof why, "stillroom %s has no working of its own to show", command->name);
    cli_error("--explain", why,
              "leave it out; foresee, mix, aim --kitchen, steep, cautions, clear and correct have one");
    return false;
}

/* What is no text in UTF-8 would be kept in the notebook as something else than was typed: the first such word, or 0. */
static int not_text(const struct cli *c)
{
    for (int i = 0; i < c->argc; i++)
        if (!st_json_is_utf8(c->argv[i], strlen(c->argv[i])))
            return i + 1;
    return 0;
}

static int told_not_text(int n, const char *word)
{
    char what[160];
    const size_t size = strlen(word);
    size_t good = 0;

    for (size_t k; good < 60; good += k)
        if ((k = st_utf8_length((const unsigned char *)word + good, size - good)) == 0)
            break;
    snprintf(what, sizeof what, "word %d, \"%.*s\"", n, (int)good, word);
    cli_error(what, "what follows there is no text in UTF-8",
              "type it in a terminal set to UTF-8; rename a file that is called so");
    return ST_EXIT_INPUT;
}

static int run(struct cli *c)
{
    bool wants_help = false, wants_version = false;

    const int odd = not_text(c);
    const char *odd_word = odd > 0 ? c->argv[odd - 1] : NULL;
    if (!cli_take_common(c, &wants_help, &wants_version))
        return ST_EXIT_INPUT;
    if (wants_version) {
        if (c->json)
            return cli_json_print(json_pack("{s:s, s:s}", "program", "stillroom", "version", ST_VERSION));
        puts("stillroom " ST_VERSION);
        return ST_EXIT_DONE;
    }
    const char *name = c->argc > 0 ? c->argv[0] : NULL;
    if (name && strcmp(name, "help") == 0)
        return cli_help(c->argc > 1 ? c->argv[1] : NULL, c->json);
    if (wants_help)
        return cli_help(name, c->json);
    if (!name) {
        cli_commands_print(stderr);
        cli_error_kept("no command is given", "the program does one thing at a time",
                       "write for example: stillroom foresee RECIPE");
        return ST_EXIT_INPUT;
    }
    if (name[0] == '-' && !cli_no_more_options(c, cli_common_options))
        return ST_EXIT_INPUT;
    const struct cli_command *command = cli_command_named(name);
    if (!command)
        return cli_unknown_command(name);
    if (odd_word && command->has == CLI_WORDS)
        return told_not_text(odd, odd_word);
    if (!may_explain(c, command))
        return ST_EXIT_INPUT;
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
