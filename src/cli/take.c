#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "cli/cli.h"
#include "cli/take_page.h"
#include "text/recipe_kind.h"
#include "text/take_caution.h"
#include "util/file.h"

const char cmd_take_usage[] = "stillroom take FILE\n"
                              "\n"
                              "Reads the text of a recipe as people write it (a page pasted into a file, a\n"
                              "note, a half-remembered jar), or standard input when FILE is -, shows beneath\n"
                              "each line what it was read as, asks what the text does not tell, and foretells\n"
                              "the bottle.\n"
                              "\n"
                              "  --answer ID=VALUE      answer a question: --answer l4.strength=40\n"
                              "  --change LINE=TEXT     what line LINE should say instead; nothing leaves it\n"
                              "                         out; LINE.2 is the second thing of a line that holds\n"
                              "                         several\n"
                              "  --measures MEASURES    whose cups, ounces and pints: us, metric or imperial\n"
                              "  --output FILE          write the recipe file; --force to write over one\n"
                              "  --yaml                 show the recipe file instead of the page\n"
                              "\n"
                              "--answer and --change may be given several times.\n"
                              "Ends with 1 when a question is open, a line could not be read or something in it\n"
                              "says STOP, with 2 when nothing could be read.\n";

enum { MOST_GIVEN = 64 };

struct asked {
    struct st_take_given given;
    struct st_take_answer answer[MOST_GIVEN];
    struct st_take_change change[MOST_GIVEN];
    const char *output;
    bool force, yaml;
};

/* ---- the command line ---- */

/* Take "--name A=B" off the command line; NULL when there is none left.  *value: behind the first =. */
static char *pair(struct cli *c, const char *name, char **value, bool *bad)
{
    const size_t n = strlen(name);
    for (int i = 0; i < c->argc; i++) {
        char *word = c->argv[i];
        if (strncmp(word, name, n) != 0 || (word[n] != '\0' && word[n] != '='))
            continue;
        int k = 1;
        char *text = word[n] == '=' ? word + n + 1 : NULL;
        if (!text && i + 1 < c->argc) {
            text = c->argv[i + 1];
            k = 2;
        }
        for (int j = i; j + k < c->argc; j++)
            c->argv[j] = c->argv[j + k];
        c->argc -= k;
        char *equal = text ? strchr(text, '=') : NULL;
        if (!equal || equal == text) {
            cli_error(name, "it takes two things with = between",
                      strcmp(name, "--answer") == 0 ? "write for example --answer l4.strength=40"
                                                    : "write for example --change \"3=500 g damsons\"");
            *bad = true;
            return NULL;
        }
        *equal = '\0';
        *value = equal + 1;
        return text;
    }
    return NULL;
}

static bool too_many(const char *name, int n)
{
    if (n < MOST_GIVEN)
        return false;
    cli_error(name, "it is given more than 64 times", "change the text itself");
    return true;
}

static bool take_answers(struct cli *c, struct asked *a)
{
    bool bad = false;
    char *value;
    for (char *id = pair(c, "--answer", &value, &bad); id; id = pair(c, "--answer", &value, &bad)) {
        if (too_many("--answer", a->given.n_answer))
            return false;
        a->answer[a->given.n_answer++] = (struct st_take_answer){ id, value };
    }
    for (char *id = bad ? NULL : pair(c, "--change", &value, &bad); id; id = pair(c, "--change", &value, &bad)) {
        char *end;
        const long line = strtol(id, &end, 10);
        const bool one = *end == '.' && end[1] >= '1' && end[1] <= '9';
        const long item = one ? strtol(end + 1, &end, 10) : 0;
        if (*end || line < 1 || line > 100000 || item > 1000) {
            cli_error("--change", "it begins with the number of a line",
                      "write for example --change \"3=500 g damsons\"");
            return false;
        }
        if (too_many("--change", a->given.n_change))
            return false;
        a->change[a->given.n_change++] = (struct st_take_change){ (int)line, value, (int)item };
    }
    a->given.answer = a->answer;
    a->given.change = a->change;
    return !bad;
}

static bool take_measures(struct cli *c, struct asked *a)
{
    bool bad = false;
    const char *m = cli_option(c, "--measures", &bad);
    a->given.measures = c->units;
    if (bad || !m)
        return !bad;
    if (strcmp(m, "us") == 0)
        a->given.measures = ST_MEASURES_US;
    else if (strcmp(m, "metric") == 0)
        a->given.measures = ST_MEASURES_METRIC;
    else if (strcmp(m, "imperial") == 0)
        a->given.measures = ST_MEASURES_IMPERIAL;
    else {
        cli_error("--measures", "cups and ounces differ between them", "write us, metric or imperial");
        return false;
    }
    return true;
}

static const char *the_text(struct cli *c, struct asked *a)
{
    static const char *const KNOWN[] = { "--answer", "--change", "--measures", "--output", "--force", "--yaml", NULL };
    bool bad = false;

    if (!take_answers(c, a) || !take_measures(c, a))
        return NULL;
    a->output = cli_option(c, "--output", &bad);
    a->force = cli_flag(c, "--force");
    a->yaml = cli_flag(c, "--yaml");
    if (bad || !cli_no_more_options(c, KNOWN))
        return NULL;
    if (c->argc == 1)
        return c->argv[0];
    if (c->argc == 0)
        cli_error("take", "no text is named", "write for example: stillroom take recipe.txt, or - and paste it");
    else
        cli_error(c->argv[1], "take reads one text", "run it once for each");
    return NULL;
}

/* ---- files ---- */

static int cannot(const char *name, int error)
{
    const bool ours = error == ENOENT || error == EISDIR || error == EFBIG || error == EACCES || error == ENOTDIR ||
                      error == ENAMETOOLONG;
    cli_error(*name ? name : "\"\"",
              error == EFBIG    ? "it is larger than 64 KiB"
              : error == EISDIR ? "it is a folder"
                                : strerror(error),
              ours ? "look at the name, and at who may read or write it" : "look at the disk or the pipe");
    return ours ? ST_EXIT_INPUT : ST_EXIT_SYSTEM;
}

/* A recipe that holds it is no drink's, and one without what was named beside it would look like a drink. */
static bool is_barred(const struct st_take *t)
{
    char what[120];
    const struct st_ingredient *stop = st_take_stop(t);
    if (!stop)
        return false;
    snprintf(what, sizeof what, "STOP: %.80s must not go into a drink", stop->name);
    cli_error(what,
              st_take_stop_out(t) ? "the text names it, and a recipe without it would look like a drink to make"
                                  : "it is in this recipe",
              "take it out of the text, or leave its line out with --change \"LINE=\"");
    return true;
}

static int write_recipe(const struct asked *a, const struct st_take *t)
{
    if (is_barred(t))
        return ST_EXIT_INPUT;
    if (!*t->yaml) {
        cli_error(a->output, "there is no recipe to write", "answer the questions, or change what could not be read");
        return ST_EXIT_INPUT;
    }
    if (!a->force && strcmp(a->output, "-") != 0 && access(a->output, F_OK) == 0) {
        cli_error(a->output, "there is a file of this name", "choose another name, or add --force to write over it");
        return ST_EXIT_INPUT;
    }
    const int error = st_file_write(a->output, t->yaml, t->yaml_size);
    return error ? cannot(a->output, error) : ST_EXIT_DONE;
}

/* ---- what was given must mean something ---- */

static bool question_known(const struct st_take *t, const char *id)
{
    for (int i = 0; i < t->n_question; i++)
        if (strcasecmp(t->question[i].id, id) == 0)
            return true;
    return false;
}

/* Answers to questions that the text does not put, changes of lines it does not have. */
static bool all_meant(const struct asked *a, const struct st_take *t)
{
    char what[120], try_[240] = "the text puts no question";
    for (int i = 0; i < t->n_question; i++) {
        const size_t n = i ? strlen(try_) : 0;
        snprintf(try_ + n, sizeof try_ - n, "%s%s", i ? ", " : "its questions are ", t->question[i].id);
    }
    for (int i = 0; i < a->given.n_answer; i++)
        if (!question_known(t, a->answer[i].id)) {
            snprintf(what, sizeof what, "--answer %.60s", a->answer[i].id);
            cli_error(what, "the text puts no such question", try_);
            return false;
        }
    for (int i = 0; i < a->given.n_change; i++) {
        bool there = a->change[i].as[strspn(a->change[i].as, " \t")] == '\0';
        for (int k = 0; k < t->n_row && !there; k++)
            there = t->row[k].line == a->change[i].line && t->row[k].changed;
        if (!there) {
            snprintf(what, sizeof what, "--change %d", a->change[i].line);
            cli_error(what, "there is no such line", "the page shows the number of each line before it");
            return false;
        }
    }
    return true;
}

/* ---- the command ---- */

static int code_of(const struct st_take *t)
{
    if (!t->whole || st_take_stop(t))
        return ST_EXIT_UNMET;
    for (int i = 0; i < t->n_question; i++)
        if (!t->question[i].answered)
            return ST_EXIT_UNMET;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *item = t->row[i].item;
        if (item->sure == ST_UNREAD && (item->role == ST_TAKE_INGREDIENT || item->role == ST_TAKE_STEP))
            return ST_EXIT_UNMET;
    }
    return ST_EXIT_DONE;
}

static int show(struct cli *c, const struct asked *a, const char *name, const struct st_take *t)
{
    int code = ST_EXIT_DONE;
    if (!all_meant(a, t))
        return ST_EXIT_INPUT;
    if (a->output)
        code = write_recipe(a, t);
    if (code != ST_EXIT_DONE)
        return code;
    if (a->yaml && !c->json && is_barred(t))
        return ST_EXIT_INPUT;
    if (a->yaml && !c->json)
        fputs(t->yaml, stdout);
    else
        code = take_show(c, t, name, a->output);
    return code != ST_EXIT_DONE ? code : code_of(t);
}

/* ---- a recipe file is not free text ---- */

static int tell_recipe_file(const char *name)
{
    char try_[400];
    const bool in = strcmp(name, "-") == 0;
    snprintf(try_, sizeof try_, "stillroom foresee %.300s", name);
    cli_error(in ? "standard input" : name, "this is a recipe file, and take reads free text", try_);
    return ST_EXIT_INPUT;
}

static int read_text(struct cli *c, const struct asked *a, const char *name, const struct st_buf *text)
{
    static struct st_take t; /* large */
    struct st_problem problem;
    if (st_is_recipe_file(st_buf_text(text)))
        return tell_recipe_file(name);
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;

    const double start = cli_now_ms();
    const int result = st_take_text(st_buf_text(text), text->length, catalogue, &a->given, &t, &problem);
    if (c->timing)
        fprintf(stderr, "take %.1f ms\n", cli_now_ms() - start);
    int code = ST_EXIT_INPUT;
    if (result < 0)
        cli_problem(strcmp(name, "-") == 0 ? "standard input" : name, &problem);
    else
        code = show(c, a, name, &t);
    st_take_done(&t);
    st_catalogue_free(catalogue);
    return code;
}

int cmd_take(struct cli *c)
{
    static struct asked a;
    struct st_buf text = { 0 };
    const char *name = the_text(c, &a);

    if (!name)
        return ST_EXIT_INPUT;
    const int error = st_file_read(name, 1 << 16, &text);
    const int code = error ? cannot(name, error) : read_text(c, &a, name, &text);
    st_buf_done(&text);
    return code;
}
