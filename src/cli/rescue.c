#include "cli/rescue.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "cli/read_recipe.h"
#include "text/stops.h"
#include "util/embedded.h"
#include "util/memory.h"

const char cmd_rescue_usage[] = "stillroom rescue [WORDS...] [--recipe FILE]\n"
                                "\n"
                                "Something went wrong with a jar or a bottle: keep it, fix it, or bin it, and\n"
                                "why. Say what you see, smell or taste; without words, what is known is listed.\n"
                                "The questions under \"first\" come before thrift: a yes decides.\n"
                                "\n"
                                "  --recipe FILE   answers what a recipe can: its strength, milk, egg, garlic,\n"
                                "                  fresh herbs, kernels (or name the .yaml file among the words)\n"
                                "\n"
                                "  stillroom rescue mould on top\n"
                                "  stillroom rescue it fizzes --recipe examples/damson_fresh_fruit.yaml\n"
                                "\n"
                                "Ends with 1 when what is told first says bin, or only near things were found.\n";

enum { WORDS_LIMIT = 600 };

/* ---- off the command line ---- */

static bool is_recipe(const char *word)
{
    const size_t n = strlen(word);
    return (n > 5 && strcmp(word + n - 5, ".yaml") == 0) || (n > 4 && strcmp(word + n - 4, ".yml") == 0);
}

static bool has_letter(const char *text)
{
    for (; *text; text++)
        if (isalpha((unsigned char)*text) || (unsigned char)*text >= 0x80)
            return true;
    return false;
}

/* The words in one, and the file among them. */
static bool take_words(struct cli *c, char words[WORDS_LIMIT], const char **file)
{
    size_t n = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *word = c->argv[i];
        if (is_recipe(word) && *file) {
            cli_error(word, "rescue takes one recipe", "run it once for each");
            return false;
        }
        if (is_recipe(word)) {
            *file = word;
            continue;
        }
        const size_t left = WORDS_LIMIT - n;
        const int wrote = snprintf(words + n, left, "%s%s", n ? " " : "", word);
        if (wrote < 0 || (size_t)wrote >= left) {
            cli_error("what you say", "it is longer than 600 letters", "a few words do: it fizzes; mould on top");
            return false;
        }
        n += (size_t)wrote;
    }
    if (c->argc > (*file != NULL) && !has_letter(words) && n + (size_t)c->argc > (*file != NULL)) {
        cli_error("what you say", "there is no word in it",
                  "say what you see, smell or taste: it fizzes; mould on top");
        return false;
    }
    return true;
}

/* ---- the answer ---- */

static struct st_rescue_book *read_book(void)
{
    static const char NAME[] = "data/rescue.tsv";
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = st_embedded_find(NAME);
    struct st_rescue_book *book = e ? st_rescue_create((const char *)e->bytes, e->size, &p) : NULL;
    if (!e)
        cli_error(NAME, "it was not built into this program", "build it again from its sources");
    else if (!book)
        cli_problem(NAME, &p);
    return book;
}

static int nothing_found(const char *words)
{
    char what[160];
    snprintf(what, sizeof what, "\"%.100s\"", words);
    cli_error(what, "nothing like this is known", "\"stillroom rescue\" alone lists what is; when in doubt, bin it");
    return ST_EXIT_INPUT;
}

static int tell(const struct cli *c, struct rescue_told *t)
{
    struct st_rescue_weighed w = { .verdict = ST_RESCUE_KEEP };
    if (*t->words) {
        st_rescue_find(t->book, t->words, &t->found);
        if (t->found.n == 0)
            return nothing_found(t->words);
        st_rescue_weigh(t->found.row[0], t->recipe, t->foretold, &w);
    }
    const bool unmet = *t->words && (!t->found.sure || w.verdict == ST_RESCUE_BIN);
    if (!c->json)
        rescue_page(t);
    else if (cli_json_print(rescue_json(t)) != ST_EXIT_DONE)
        return ST_EXIT_SYSTEM;
    return unmet ? ST_EXIT_UNMET : ST_EXIT_DONE;
}

static int foretell(const struct cli *c, struct rescue_told *t, const struct st_recipe *r)
{
    static struct st_foretold out; /* large */
    struct st_problem problem = { .what = "" };
    struct st_plan *plan = st_plan_create(r, &problem);
    if (!plan) {
        cli_plan_problems(r, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options options = { .seed = c->seed, .draws = c->draws };
    int code = ST_EXIT_INPUT;
    if (st_plan_run(plan, &options, &out) < 0)
        cli_error(r->file, "it gives no figures", "look for an amount that is far too large or too small");
    else {
        t->recipe = r;
        t->foretold = &out;
        code = tell(c, t);
        st_foretold_done(&out);
    }
    st_plan_free(plan);
    return code;
}

static int with_recipe(struct cli *c, struct rescue_told *t, const char *file)
{
    static struct cli_recipe recipe; /* large */
    char *one[] = { x_strdup(file) };
    struct cli only = *c;
    only.argc = 1;
    only.argv = one;
    int code = cli_recipe_open(&only, &recipe);
    if (code == ST_EXIT_DONE)
        code = foretell(c, t, &recipe.file.recipe);
    cli_recipe_close(&recipe);
    free(one[0]);
    return code;
}

int cmd_rescue(struct cli *c)
{
    static const char *const KNOWN[] = { "--recipe", NULL };
    char words[WORDS_LIMIT] = "";
    bool bad = false;
    const char *file = cli_option(c, "recipe", &bad);
    if (bad || !cli_no_more_options(c, KNOWN) || !take_words(c, words, &file))
        return ST_EXIT_INPUT;
    struct st_rescue_book *book = read_book();
    if (!book)
        return ST_EXIT_SYSTEM;
    struct rescue_told t = { .book = book, .words = words };
    const int code = file ? with_recipe(c, &t, file) : tell(c, &t);
    st_rescue_free(book);
    return code;
}
