#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/goods_line.h"

/* What was told on stderr, for the one JSON document of a command that could not answer. */
static json_t *told;

/* "B14" in what to try stands for this one. */
static char example[32];

void cli_examples_of(const char *code)
{
    snprintf(example, sizeof example, "%s", strlen(code) < sizeof example ? code : "");
}

static void speak_of(char *buf, size_t size, const char *try_)
{
    static const char ANY[] = "B14";
    size_t n = 0;
    buf[0] = '\0';
    for (const char *p = try_ ? try_ : ""; *p && n + 1 < size;) {
        const bool here = *example && strncmp(p, ANY, 3) == 0 && !(p[3] >= '0' && p[3] <= '9');
        n += (size_t)snprintf(buf + n, size - n, "%.*s", here ? (int)sizeof example : 1, here ? example : p);
        p += here ? 3 : 1;
    }
}

static json_t *place(int n)
{
    return n > 0 ? json_integer(n) : json_null();
}

static void keep(const char *file, const struct st_problem *p)
{
    if (!told)
        told = json_array();
    json_array_append_new(told, json_pack("{s:o, s:o, s:o, s:s, s:s, s:s, s:b}", "file",
                                          file ? json_string(file) : json_null(), "line", place(p->at.line), "column",
                                          place(p->at.line > 0 && p->at.column < 1 ? 1 : p->at.column), "what", p->what,
                                          "why", p->why, "try", p->try_, "question", p->is_question));
}

/* Parts that are empty leave no mark. */
static void put(const char *what, const char *why, const char *try_)
{
    cli_put(stderr, what, strlen(what));
    if (why && *why) {
        fputs(": ", stderr);
        cli_put(stderr, why, strlen(why));
    }
    if (try_ && *try_) {
        fputs("; ", stderr);
        cli_put(stderr, try_, strlen(try_));
    }
    fputc('\n', stderr);
}

void cli_error_kept(const char *what, const char *why, const char *try_)
{
    struct st_problem p = { .at = { 0, 0 } };
    snprintf(p.what, sizeof p.what, "%s", what);
    snprintf(p.why, sizeof p.why, "%s", why ? why : "");
    snprintf(p.try_, sizeof p.try_, "%s", try_ ? try_ : "");
    keep(NULL, &p);
}

void cli_error(const char *what, const char *why, const char *try_)
{
    char spoken[600];
    speak_of(spoken, sizeof spoken, try_);
    fputs("stillroom: ", stderr);
    put(what, why, spoken);
    cli_error_kept(what, why, spoken);
}

bool cli_asks_amount(const char *said, enum st_measures measures)
{
    struct st_problem p;
    if (!st_amount_asks(said, measures, &p))
        return false;
    cli_error(p.what, p.why, p.try_);
    return true;
}

void cli_problem(const char *file, const struct st_problem *p)
{
    if (p->at.line > 0)
        fprintf(stderr, "%s:%d:%d: ", file, p->at.line, p->at.column > 0 ? p->at.column : 1);
    else
        fprintf(stderr, "%s: ", file);
    put(p->what, p->why, p->try_);
    keep(file, p);
}

void cli_errors_finish(bool json)
{
    if (told && json && !cli_json_printed()) {
        json_t *all = told;
        told = NULL;
        (void)cli_json_print(json_pack("{s:O, s:o}", "error", json_array_get(all, 0), "errors", all));
    }
    json_decref(told);
    told = NULL;
}
