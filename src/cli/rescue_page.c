#include <string.h>

#include "cli/page.h"
#include "cli/rescue.h"

static const char OPEN[] = "When in doubt, bin it: a jar of fruit costs less than what it may do.";

/* "[key]" stays, a phrase goes into brackets of its own. */
static void source_words(char *buf, size_t size, const char *source)
{
    snprintf(buf, size, *source == '[' ? "%s" : "(%s)", source);
}

/* "keep" in column 2, the text from column 9 on. */
static void entry(const char *name, const char *text)
{
    enum { COLUMN = 9 };
    printf("  %-*s", COLUMN - 2, name);
    cli_wrap_on(COLUMN, COLUMN, text);
}

/* ---- the list ---- */

static void list(const struct rescue_told *t)
{
    puts(t->recipe ? "What is known, and what becomes of it with this recipe"
                   : "What is known, and what becomes of it when no question of hazard has a yes");
    for (int v = ST_NRESCUE - 1; v >= 0; v--)
        for (int i = 0; i < t->book->n_row; i++) {
            struct st_rescue_weighed w;
            st_rescue_weigh(&t->book->row[i], t->recipe, t->foretold, &w);
            if ((int)w.verdict == v)
                entry(st_rescue_verdict_name(w.verdict), t->book->row[i].name);
        }
    putchar('\n');
    cli_wrap(0, 0, "Say it in your words: stillroom rescue it fizzes");
}

/* ---- one of them ---- */

static void questions(const struct st_rescue_row *row, const struct st_rescue_weighed *w)
{
    char source[80], text[900];
    for (int i = 0; i < row->n_ask; i++) {
        const struct st_rescue_ask *a = row->ask[i].ask;
        const char *then = st_rescue_verdict_name(row->ask[i].then);
        const bool no = w->ask[i].answer == ST_ANSWER_NO, yes = w->ask[i].answer == ST_ANSWER_YES;
        source_words(source, sizeof source, a->source);
        if (no)
            snprintf(text, sizeof text, "%s No: %s.", a->question, w->ask[i].because);
        else if (yes)
            snprintf(text, sizeof text, "%s Yes: %s. Then %s it: %s %s", a->question, w->ask[i].because, then,
                     a->because, source);
        else
            snprintf(text, sizeof text, "%s%s%s%s If so, %s it: %s %s", a->question, *w->ask[i].because ? " (" : "",
                     w->ask[i].because, *w->ask[i].because ? ")" : "", then, a->because, source);
        entry(i == 0 ? "first" : "also", text);
    }
}

static bool any_open(const struct st_rescue_row *row, const struct st_rescue_weighed *w)
{
    for (int i = 0; i < row->n_ask; i++)
        if (w->ask[i].answer == ST_ANSWER_OPEN && row->ask[i].then > w->verdict)
            return true;
    return false;
}

/* The verdict and what to do about it. */
static void verdict(const struct st_rescue_row *row, const struct st_rescue_weighed *w)
{
    char source[80], text[900];
    const char *name = st_rescue_verdict_name(w->verdict);
    if (w->stopped) {
        snprintf(text, sizeof text, "%s is in the recipe, which must not go into a drink; nothing else counts",
                 w->stopped->name);
        entry(name, text);
        return;
    }
    if (w->decided_by >= 0) {
        entry(name, row->ask[w->decided_by].ask->todo);
        return;
    }
    source_words(source, sizeof source, row->source);
    snprintf(text, sizeof text, "%s%s %s", any_open(row, w) ? "else: " : "", row->because, source);
    entry(name, text);
    entry("do", row->todo);
}

static void one(const struct rescue_told *t, const struct st_rescue_row *row)
{
    struct st_rescue_weighed w;
    st_rescue_weigh(row, t->recipe, t->foretold, &w);
    printf("\n%s\n", row->name);
    questions(row, &w);
    verdict(row, &w);
}

static void nearest(const struct rescue_told *t)
{
    cli_say(0, 2, "Nothing is told just so of \"%.200s\". Near it:", t->words);
    for (int i = 0; i < t->found.n; i++) {
        char text[160];
        snprintf(text, sizeof text, "%s", t->found.row[i]->name);
        entry("", text);
    }
    cli_wrap(0, 0, "Say one of these, or \"stillroom rescue\" for the list.");
}

void rescue_page(const struct rescue_told *t)
{
    if (t->recipe)
        cli_say(0, 0, "With %s", *t->recipe->title ? t->recipe->title : t->recipe->file);
    if (!*t->words)
        list(t);
    else if (!t->found.sure)
        nearest(t);
    for (int i = 0; i < t->found.n && t->found.sure; i++)
        one(t, t->found.row[i]);
    putchar('\n');
    cli_wrap(0, 0, OPEN);
}

/* ---- JSON ---- */

static json_t *asks_json(const struct st_rescue_row *row, const struct st_rescue_weighed *w)
{
    json_t *all = json_array();
    for (int i = 0; i < row->n_ask; i++) {
        const struct st_rescue_ask *a = row->ask[i].ask;
        json_array_append_new(all, json_pack("{s:s, s:s, s:s, s:s, s:o, s:s, s:s, s:s}", "question", a->key, "text",
                                             a->question, "answer", st_answer_name(w->ask[i].answer), "if_yes",
                                             st_rescue_verdict_name(row->ask[i].then), "answered_by",
                                             *w->ask[i].because ? st_doc_text(w->ask[i].because) : json_null(),
                                             "because", a->because, "do", a->todo, "source", a->source));
    }
    return all;
}

static json_t *row_json(const struct rescue_told *t, const struct st_rescue_row *row)
{
    struct st_rescue_weighed w;
    st_rescue_weigh(row, t->recipe, t->foretold, &w);
    json_t *decided = w.stopped          ? json_string("stop")
                      : w.decided_by < 0 ? json_null()
                                         : json_string(row->ask[w.decided_by].ask->key);
    return json_pack("{s:s, s:s, s:s, s:s, s:o, s:o, s:s, s:s, s:s}", "key", row->key, "what", row->name, "verdict",
                     st_rescue_verdict_name(w.verdict), "without_hazard", st_rescue_verdict_name(row->verdict),
                     "decided_by", decided, "first", asks_json(row, &w), "because", row->because, "do", row->todo,
                     "source", row->source);
}

json_t *rescue_json(const struct rescue_told *t)
{
    json_t *all = json_array();
    const bool list_all = !*t->words;
    const int n = list_all ? t->book->n_row : t->found.n;
    for (int i = 0; i < n; i++)
        json_array_append_new(all, row_json(t, list_all ? &t->book->row[i] : t->found.row[i]));
    return json_pack("{s:o, s:o, s:b, s:o}", "words", list_all ? json_null() : st_doc_text(t->words), "recipe",
                     t->recipe ? st_doc_text(t->recipe->file) : json_null(), "sure", !list_all && t->found.sure,
                     list_all        ? "known"
                     : t->found.sure ? "found"
                                     : "near",
                     all);
}
