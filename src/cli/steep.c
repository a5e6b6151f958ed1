#include "cli/steep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/calendar_day.h"
#include "text/quantity.h"
#include "text/steep_words.h"
#include "text/stops.h"

const char cmd_steep_usage[] =
    "stillroom steep RECIPE\n"
    "\n"
    "What comes out of each thing in a jar, and when: a curve for each flavour with\n"
    "the day by which most of it is out, what comes late and grows, when to strain,\n"
    "and how strong and sweet the liquid is meanwhile. Each jar or pour has its own\n"
    "days, from when it is filled; shares are of what will come in it in the end.\n"
    "Mostly out: nine tenths of that have come, in the middle making; \"likely\n"
    "between\" holds 95 of 100. What one waits for is the slowest flavour; sugar and\n"
    "colour only where no flavour is followed.\n"
    "\n"
    "  --step NAME       which jar, when the recipe has several (else the last)\n"
    "  --if WORDS        the same jar made otherwise, beside it; said again, all of\n"
    "                    them together are one making (for another, run it again):\n"
    "                    \"cloves crushed\", \"cloves out on day 3\", \"vanilla in on\n"
    "                    day 7\", \"half the cloves\", \"damsons frozen\", \"spirit 60 %\",\n"
    "                    \"30 °C\", \"30 C for 3 days, then 12 C\", \"in the fridge\",\n"
    "                    \"in the freezer\", \"90 days\", \"strain on day 10\",\n"
    "                    \"left still\"\n"
    "  --days N          tell as far as day N of the jar, and no further\n"
    "  --of NAME         a large chart of this ingredient or flavour, with its band\n"
    "  --begun DATE      when the first jar was begun (2026-10-01, or today): dates\n"
    "  --seen FILE       learn from what you saw of a making (docs/seen-file.md);\n"
    "                    may be said again, one file for each making\n"
    "  --csv             a table for other programs instead of the page\n"
    "  --draws N         how many makings are tried on paper (1000, and no more)\n"
    "\n"
    "How fast things come out is known to a factor of 2 to 5. A crushed spice is\n"
    "reckoned as crushed only where the recipe says so.\n";

/* Enough for the ends of 95 %; each draw is a jar over weeks. */
enum { MOST_DRAWS = 1000 };

/* ---- options ---- */

/* --if may be said several times. */
static bool take_ifs(struct cli *c, struct steep *s)
{
    int n = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *word = c->argv[i], *value = NULL;
        if (strncmp(word, "--if=", 5) == 0)
            value = word + 5;
        else if (strcmp(word, "--if") == 0 && i + 1 < c->argc)
            value = c->argv[++i];
        else {
            c->argv[n++] = c->argv[i];
            continue;
        }
        if (s->task.n_what_if == ST_STEEP_IFS) {
            cli_error("--if", "there is room for eight changes", "say fewer");
            return false;
        }
        s->task.what_if[s->task.n_what_if++] = value;
    }
    c->argc = n;
    return true;
}

static bool read_begun(const char *text, struct steep *s)
{
    if (!text)
        return true;
    s->has_begun = strcmp(text, "today") != 0 ? st_day_number(text, &s->begun) : true;
    if (strcmp(text, "today") == 0) {
        const time_t now = time(NULL);
        struct tm here;
        char iso[16];
        if (!localtime_r(&now, &here) || strftime(iso, sizeof iso, "%Y-%m-%d", &here) == 0 ||
            !st_day_number(iso, &s->begun))
            s->has_begun = false;
    }
    if (!s->has_begun)
        cli_error("--begun", "a date is year-month-day", "write for example --begun 2026-10-01, or --begun today");
    return s->has_begun;
}

static bool take_options(struct cli *c, struct steep *s)
{
    bool bad = false;
    double days = 0.0;
    if (!take_ifs(c, s) || !steep_take_seen(c, s))
        return false;
    s->task.jar_name = cli_option(c, "step", &bad);
    s->of = cli_option(c, "of", &bad);
    const char *begun = cli_option(c, "begun", &bad);
    s->csv = cli_flag(c, "csv");
    if (cli_option_number(c, "days", 0.01, 3660.0, &days, &bad))
        s->task.until_s = days * 86400.0;
    if (!bad && s->csv && c->json) {
        cli_error("--csv", "--json asks for another form of the same", "give one of the two");
        bad = true;
    }
    static const char *const KNOWN[] = { "--step", "--if", "--days", "--of", "--begun", "--csv", "--seen", NULL };
    return !bad && read_begun(begun, s) && cli_no_more_options(c, KNOWN);
}

/* ---- the work ---- */

static bool has_of(const struct steep *s)
{
    char name[120];
    if (!s->of)
        return true;
    for (int i = 0; i < s->task.told.n_curve; i++) {
        st_curve_name(name, sizeof name, s->task.jar, &s->task.told.curve[i]);
        if (strstr(name, s->of))
            return true;
    }
    snprintf(name, sizeof name, "--of \"%.80s\"", s->of);
    cli_error(name, "nothing that is followed in this jar is called so", "look at the names on the page without --of");
    return false;
}

static json_t *document(const struct steep *s)
{
    json_t *o = st_doc_steep(&s->task, &s->cautions, steep_begun(s)), *other = json_object_get(o, "what_if");
    json_object_set_new(o, "stop", json_null());
    if (other)
        json_object_set_new(other, "cautions", st_doc_cautions(&s->other_cautions));
    return o;
}

static int show(struct steep *s)
{
    if (!has_of(s))
        return ST_EXIT_INPUT;
    int code = ST_EXIT_DONE;
    if (s->cli->json)
        code = cli_json_print(document(s));
    else if (s->csv)
        steep_csv(s);
    else
        steep_print(s);
    return code;
}

/* Something in it must not go into a drink: that is told, and nothing of the jar. */
static int show_stop(struct steep *s)
{
    st_cautions_collect(&s->file->recipe, NULL, &s->task.watch, &s->cautions);
    if (s->cli->json) {
        const int code = cli_json_print(st_doc_steep_nothing(&s->file->recipe, &s->cautions));
        return code == ST_EXIT_DONE ? ST_EXIT_UNMET : code;
    }
    (void)page_stops(&s->cautions, "This is not a drink to make: what comes out of its jar, and when, is not told.");
    return ST_EXIT_UNMET;
}

static int steep_file(struct steep *s)
{
    s->task.watch = cli_watch(s->cli, &s->file->recipe);
    if (!s->task.watch.books)
        return ST_EXIT_SYSTEM;
    if (st_recipe_stop(&s->file->recipe))
        return show_stop(s);

    struct st_problem problem = { .what = "" };
    struct st_steep_books *books = st_steep_books_create(&problem);
    int code = ST_EXIT_INPUT;

    if (!books) {
        cli_error(problem.what, problem.why, problem.try_);
        return ST_EXIT_SYSTEM;
    }
    s->task.recipe = &s->file->recipe;
    s->task.books = books;
    s->task.seed = s->cli->seed;
    s->task.draws = s->cli->draws;
    const double start = cli_now_ms();
    if (st_steep_task_run(&s->task, &problem)) {
        if (s->cli->timing)
            fprintf(stderr, "jar and %d draws %.1f ms\n", s->cli->draws, cli_now_ms() - start);
        s->begun += (long)floor(s->task.told.filled_s / 86400.0 + 1e-6); /* dates are of this jar */
        st_steep_cautions(&s->file->recipe, s->task.jar, &s->task.watch, &s->cautions);
        if (s->task.has_other) {
            st_steep_cautions(&s->file->recipe, &s->task.other, &s->task.watch, &s->other_cautions);
            st_steep_new_cautions(&s->other_cautions, &s->cautions);
        }
        code = show(s);
    } else if (s->task.asked >= 0 && s->task.n_seen && !s->task.has_other && problem.at.line)
        cli_problem(s->task.seen[s->task.asked]->file.recipe.file, &problem);
    else if (s->task.asked >= 0)
        cli_error(problem.what, problem.why, problem.try_);
    else
        cli_problem(s->file->recipe.file, &problem);
    st_steep_task_done(&s->task);
    st_steep_books_free(books);
    return code;
}

int cmd_steep(struct cli *c)
{
    static struct steep s; /* large */
    static struct cli_recipe recipe;

    s.cli = c;
    if (c->draws > MOST_DRAWS && c->draws_said) {
        cli_error("--draws", "each draw is a jar over weeks: a steep has 1000 at most",
                  "write --draws 1000, or leave it out, which is the same");
        return ST_EXIT_INPUT;
    }
    if (c->draws > MOST_DRAWS)
        c->draws = MOST_DRAWS;
    if (!take_options(c, &s))
        return ST_EXIT_INPUT;
    int code = cli_recipe_open(c, &recipe);
    if (code == ST_EXIT_DONE) {
        s.file = &recipe.file;
        code = steep_read_seen(&s);
        code = code == ST_EXIT_DONE ? steep_file(&s) : code;
        steep_seen_done(&s);
    }
    cli_recipe_close(&recipe);
    return code;
}
