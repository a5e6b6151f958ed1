#include <math.h>
#include <string.h>

#include "cli/aim.h"
#include "text/stops.h"

const char cmd_aim_usage[] = "stillroom aim RECIPE WISHES\n"
                             "\n"
                             "Turns a recipe round: which amounts give the bottle you wish for. What may\n"
                             "change is its spirit, sugar, syrup and water, each between a quarter and four\n"
                             "times what the recipe has; never the fruit, unless you say so.\n"
                             "\n"
                             "  --strength 24        % vol; or a range: 22-26, \"at least 22\"\n"
                             "  --sugar 180          g/L\n"
                             "  --less-sweet SHARE   \"two fifths\", 20%: than the recipe as it is, or than\n"
                             "                       --than OTHER.yaml or a bought bottle (larder\n"
                             "                       reference), or than --than-sugar 320 (g/L)\n"
                             "  --acid 6             g/L as citric acid\n"
                             "  --sugar-acid 25      g of sugar to 1 g of that acid\n"
                             "  --volume 1L          or --bottles \"2 x 500 mL\"; --bottles 2 where the recipe\n"
                             "                       says their size (size: 500 mL under bottle:), else write\n"
                             "                       it here\n"
                             "  --cost \"20 EUR\"      of the whole, where every line has a price\n"
                             "\n"
                             "  --free NAME,...      only these lines may change: \"damsons, sugar\";\n"
                             "                       \"strength of vodka\" lets another spirit be bought\n"
                             "  --keep NAME,...      these stay\n"
                             "  --have \"500 mL vodka\"  there is no more of it; may be said several times\n"
                             "  --jar 2L             what is steeped must fit; a vessel in the recipe counts\n"
                             "                       too\n"
                             "\n"
                             "  --spirit \"50 %\"      the same bottle from a spirit of this strength\n"
                             "  --spirit-for 30      which strength of spirit leaves 30 % vol over the fruit\n"
                             "  --whole-bottles 700mL --times 2\n"
                             "                       twice the batch, from whole bottles of spirit\n"
                             "  --jar 2L             with no wish: as much of everything as fits the jar\n"
                             "\n"
                             "stillroom aim --dilute 95 --to 50 --have \"500 mL\"\n"
                             "                       spirit brought down with water\n"
                             "\n"
                             "  --kitchen [FILE]     in amounts that a kitchen can measure, the surest of\n"
                             "                       them; FILE tells which tools there are\n"
                             "                       (docs/kitchen-file.md)\n"
                             "\n"
                             "  --output FILE        the recipe with these amounts, else as you wrote it;\n"
                             "                       --force to write over a file\n"
                             "\n"
                             "Ends with 1 when a wish cannot be met; the nearest bottle and ways round it are\n"
                             "shown. What a drink may hold of a poison is a limit (see cautions): it is kept,\n"
                             "and what the recipe as written passes already is not made worse, and ends with\n"
                             "1. A recipe in which something says STOP is told that, and no amounts (1).\n"
                             "Single figures count as met within 0.5 % vol, 5 g/L of sugar, 5 % of the acid\n"
                             "(at least 0.3 g/L), 2 % of volume and cost.\n";

static const char *const KNOWN[] = { "--strength",   "--sugar",         "--less-sweet", "--than",    "--than-sugar",
                                     "--acid",       "--sugar-acid",    "--volume",     "--bottles", "--cost",
                                     "--free",       "--keep",          "--have",       "--jar",     "--spirit",
                                     "--spirit-for", "--whole-bottles", "--times",      "--dilute",  "--to",
                                     "--output",     "--kitchen",       "--force",      NULL };

static int show(const struct aim_task *t, const char *output, bool over)
{
    int code = ST_EXIT_DONE;
    const bool inside = t->cli->json && output && strcmp(output, "-") == 0; /* the document holds it */
    if (output && !inside && (code = aim_save(t, output, over)) != ST_EXIT_DONE)
        return code;
    if (t->cli->json) {
        code = cli_json_print(st_doc_aim(&t->core));
    } else if (!output || strcmp(output, "-") != 0) {
        aim_page(t);
        if (output)
            printf("\nWritten to %s.\n", output);
    }
    if (code != ST_EXIT_DONE)
        return code;
    const bool kept = !t->core.over && st_note_limits(&t->core.out) == 0 && st_cautions_stop(&t->core.cautions) == 0;
    return t->core.met && kept ? ST_EXIT_DONE : ST_EXIT_UNMET;
}

static int solve(struct aim_task *t)
{
    struct st_problem problem;
    const double start = cli_now_ms();
    const enum st_status s = st_aim_solve(&t->core.aim, &t->core.found, &problem);
    t->solve_ms = cli_now_ms() - start;
    if (s < 0 && s != ST_E_NOCONV) {
        cli_problem(t->name, &problem);
        return ST_EXIT_INPUT;
    }
    if (t->cli->timing)
        fprintf(stderr, "aim: %d free, %d steps, %d evaluations, %.2f ms\n", t->core.aim.n_dial,
                t->core.found.iterations, t->core.found.evaluations, t->solve_ms);
    return ST_EXIT_DONE;
}

static void find_ways(struct aim_task *t)
{
    const double start = cli_now_ms();
    st_aim_find_ways(&t->core);
    if (t->cli->timing && !t->core.found.met)
        fprintf(stderr, "ways round it %.2f ms\n", cli_now_ms() - start);
    st_aim_write_ways(&t->core);
}

static int write_it(struct aim_task *t, const struct aim_options *o)
{
    const double start = cli_now_ms();
    const int code = o->in_kitchen ? aim_in_kitchen(t, o->kitchen) : aim_write(t);
    if (t->cli->timing && code == ST_EXIT_DONE)
        fprintf(stderr, "written, read again and %d draws %.2f ms\n", t->cli->draws, cli_now_ms() - start);
    return code;
}

/* What passes a limit that it could keep is solved again. */
static int write_within(struct aim_task *t, const struct aim_options *o)
{
    int code = write_it(t, o);
    while (code == ST_EXIT_DONE && st_aim_watch(&t->core)) {
        code = solve(t);
        if (code == ST_EXIT_DONE)
            code = write_it(t, o);
    }
    return code;
}

static int aim(struct aim_task *t, const struct aim_options *o)
{
    int code;
    st_aim_init(&t->core.aim, &t->core.file->recipe);
    if (st_recipe_stop(&t->core.file->recipe))
        return aim_stopped(t, o);
    if (o->spirit_for)
        return aim_spirit_for(t, o->spirit_for);
    if (o->whole_bottles || o->times > 0.0 || (o->jar && o->n_wish == 0 && !o->spirit))
        code = aim_batch(t, o);
    else
        code = aim_lines(t, o) ? solve(t) : ST_EXIT_INPUT;
    if (code != ST_EXIT_DONE)
        return code;
    code = write_within(t, o);
    if (code != ST_EXIT_DONE)
        return code;
    find_ways(t);
    return show(t, o->output, o->force);
}

static const char *the_recipe(struct cli *c)
{
    if (!cli_no_more_options(c, KNOWN))
        return NULL;
    if (c->argc == 1)
        return c->argv[0];
    if (c->argc == 0)
        cli_error("aim", "no recipe is named",
                  "write for example: stillroom aim examples/damson_fresh_fruit.yaml --strength 24");
    else
        cli_error(c->argv[1], "aim takes one recipe", "put a wish of several words between quotes");
    return NULL;
}

/* --kitchen may stand alone, or before the name of a file: of two names the one behind it is the kitchen. */
static void aim_take_kitchen(struct cli *c, struct aim_options *o)
{
    int n = 0, behind = -1, names = 0;
    for (int i = 0; i < c->argc; i++) {
        const bool alone = strcmp(c->argv[i], "--kitchen") == 0;
        if (alone || strncmp(c->argv[i], "--kitchen=", 10) == 0) {
            o->in_kitchen = true;
            o->kitchen = alone ? o->kitchen : c->argv[i] + 10;
            behind = alone ? n : behind;
            continue;
        }
        names += c->argv[i][0] != '-';
        c->argv[n++] = c->argv[i];
    }
    c->argc = n;
    if (names < 2 || behind < 0 || behind >= n || c->argv[behind][0] == '-')
        return;
    o->kitchen = c->argv[behind];
    memmove(&c->argv[behind], &c->argv[behind + 1], (size_t)(n - behind - 1) * sizeof *c->argv);
    c->argc--;
}

int cmd_aim(struct cli *c)
{
    static struct aim_task t; /* large */
    static struct st_recipe_file file;
    struct aim_options o;

    for (int i = 0; i < c->argc; i++)
        if (strcmp(c->argv[i], "--dilute") == 0 || strncmp(c->argv[i], "--dilute=", 9) == 0)
            return aim_dilute(c);
    if (!aim_options_take(c, &o))
        return ST_EXIT_INPUT;
    aim_take_kitchen(c, &o);
    if (c->explain && !o.in_kitchen) {
        cli_error("--explain", "of amounts that are not those of a kitchen there is no working to show",
                  "write --kitchen with it, or leave it out");
        return ST_EXIT_INPUT;
    }
    const char *name = the_recipe(c);
    if (!name)
        return ST_EXIT_INPUT;
    t = (struct aim_task){ .cli = c,
                           .name = strcmp(name, "-") == 0 ? "standard input" : name,
                           .core = { .file = &file } };
    t.catalogue = cli_catalogue();
    if (!t.catalogue)
        return ST_EXIT_SYSTEM;
    int code = aim_read(c, name, t.catalogue, &t.text, &file);
    if (code == ST_EXIT_DONE) {
        code = aim(&t, &o);
        st_aim_task_done(&t.core);
        st_recipe_done(&file);
    }
    st_buf_done(&t.text);
    st_catalogue_free(t.catalogue);
    return code;
}
