#include "cli/take_page.h"

#include <ctype.h>
#include <string.h>

#include "text/take_await.h"
#include "text/take_caution.h"

/* ---- questions ---- */

static void options_text(char *buf, size_t size, const struct st_take_question *q)
{
    buf[0] = '\0';
    for (int i = 0; i < q->n_option; i++) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, "%s%s", i == 0 ? "" : i + 1 < q->n_option ? ", " : " or ", q->label[i]);
    }
    const size_t n = strlen(buf);
    if (q->own_words)
        snprintf(buf + n, size - n, "%s", n ? ", or your own words" : "In your own words");
}

static int print_questions(const struct st_take *t)
{
    char text[400];
    int n = 0;
    for (int i = 0; i < t->n_question; i++) {
        const struct st_take_question *q = &t->question[i];
        if (q->answered)
            continue;
        if (n++ == 0)
            cli_heading("To ask first");
        cli_say(2, 5, "%d. %s", n, q->ask);
        options_text(text, sizeof text, q);
        cli_say(5, 5, "%s%s%s.", text, *text ? ". " : "", q->why);
        const char *value = q->n_option ? q->label[0] : "...", *quote = strchr(value, ' ') ? "\"" : "";
        cli_say(5, 7, "Answer: --answer %s%s=%s%s", quote, q->id, value, quote);
    }
    if (t->n_more > 0)
        cli_say(2, 2, "(%d more would move the bottle less: a range stands for %s%s.)", t->n_more,
                t->n_more == 1 ? "it" : "them",
                st_take_left_out(t) > 0 ? ", or what was not understood is left out" : "");
    return n;
}

static void print_answered(const struct st_take *t)
{
    int n = 0;
    for (int i = 0; i < t->n_question; i++) {
        const struct st_take_question *q = &t->question[i];
        if (!q->answered)
            continue;
        if (n++ == 0)
            cli_heading("Answered");
        cli_say(2, 4, "%s %s", q->ask, q->answered);
    }
}

/* ---- lines ---- */

/* The same plant on two lines of a step has its cautions twice in the list. */
static bool told_before(const struct st_cautions *all, int at)
{
    for (int i = 0; i < at; i++)
        if (all->item[i].step == all->item[at].step && strcmp(all->item[i].what, all->item[at].what) == 0)
            return true;
    return false;
}

static void print_cautions(const struct st_take *t, const struct page *p, int row)
{
    static struct st_cautions out;
    const struct st_take_read_as *r = &t->row[row];
    if (st_take_row_cautions(t, row, &out)) { /* what is left out is dangerous all the same */
        for (int i = 0; i < out.n; i++)
            page_caution(8, &out.item[i]);
        return;
    }
    if (!p || r->step < 0 || r->step >= p->recipe->n_step || r->item->role != ST_TAKE_INGREDIENT)
        return;
    const struct st_step *s = &p->recipe->step[r->step];
    for (int i = 0; i < p->cautions->n; i++) {
        const struct st_caution *c = &p->cautions->item[i];
        if (c->step == r->step && c->line >= 0 && c->line < s->n_line && s->line[c->line].what == r->item->line.what &&
            !told_before(p->cautions, i))
            page_caution(8, c);
    }
}

void take_reading_words(const struct st_take_read_as *r, char *buf, size_t size)
{
    static const char *const HOW[] = {
        [ST_SURE] = "read as", [ST_LIKELY] = "read as", [ST_GUESS] = "taken for", [ST_UNREAD] = "not read"
    };
    const struct st_take_item *item = r->item;
    const char *because = item->because;
    char text[320] = "";

    buf[0] = '\0';
    if (item->role == ST_TAKE_TITLE)
        (void)snprintf(buf, size, "the name of the drink");
    if (item->role == ST_TAKE_NOTE || (item->sure == ST_UNREAD && strncmp(because, "not reckoned: ", 14) == 0))
        (void)snprintf(buf, size, "%s", because);
    else if (item->role == ST_TAKE_STEP && item->sure != ST_UNREAD)
        st_deed_words(text, sizeof text, &item->deed);
    else if (item->role == ST_TAKE_INGREDIENT && item->sure != ST_UNREAD)
        (void)snprintf(text, sizeof text, "%s", item->as);
    if (*text)
        (void)snprintf(buf, size, "%s: %s%s%s%s", HOW[item->sure], text, *because ? " (" : "", because,
                       *because ? ")" : "");
    else if (!*buf && (item->role == ST_TAKE_STEP || item->role == ST_TAKE_INGREDIENT))
        (void)snprintf(buf, size, "not read%s%s", *because ? ": " : "", because);
}

static void print_reading(const struct st_take_read_as *r)
{
    char text[640];
    take_reading_words(r, text, sizeof text);
    if (*text)
        cli_say(8, 10, "%s", text);
}

static void print_rows(const struct st_take *t, const struct page *p)
{
    const char *last = "";
    cli_heading("Line by line");
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_read_as *r = &t->row[i];
        if (r->item->role == ST_TAKE_NOTHING)
            continue;
        if (strcmp(last, r->words) != 0) {
            if (i == 0 || t->row[i - 1].line != r->line)
                printf("%4d  ", r->line);
            else
                printf("      ");
            cli_wrap_on(6, 6, r->words);
        }
        last = r->words;
        print_reading(r);
        print_cautions(t, p, i);
    }
}

/* ---- the bottle in short ---- */

static void print_left_out(const struct st_take *t)
{
    static const char *const NUMBER[] = { "",
                                          "One thing was",
                                          "Two things were",
                                          "Three things were",
                                          "Four things were",
                                          "Five things were",
                                          "Six things were" };
    const int n = st_take_left_out(t);
    const char *are = n == 1 ? "is" : "are";
    if (n > 0 && n < (int)(sizeof NUMBER / sizeof *NUMBER))
        cli_say(2, 2, "%s not understood and %s not in these figures. What such a thing may hold was not assessed.",
                NUMBER[n], are);
    else if (n > 0)
        cli_say(
            2, 2,
            "%d things were not understood and %s not in these figures. What such a thing may hold was not assessed.",
            n, are);
    for (int i = 0; i < t->n_row; i++)
        if (st_take_is_unreckoned(t, i))
            cli_say(2, 4, "Not reckoned: line %d, \"%s\".", t->row[i].line, t->row[i].words);
}

/* The first lines of the page, when something must not go into a drink: all of it at once. */
static bool print_stops(const struct st_take *t)
{
    static struct st_cautions stops; /* large */
    return st_take_stops(t, &stops) > 0 &&
           page_stops(&stops, "This is not a drink to make, and no recipe is written. What was read, and its figures, "
                              "are told below only so that you see what was read.");
}

/* What is not in the figures must not be forgotten over them. */
static void print_dangers(const struct st_take *t)
{
    char names[300];
    const struct st_ingredient *stop = st_take_stop_out(t);
    if (stop)
        cli_say(2, 4,
                "STOP: %s is named, and must not go into a drink. These figures are without it; this is not a "
                "drink to make, and no recipe is written.",
                stop->name);
    else if (st_take_stop(t))
        cli_say(2, 4,
                "STOP: %s is in this recipe, and must not go into a drink. This is not a drink to make, and no "
                "recipe is written.",
                st_take_stop(t)->name);
    if (st_take_allergens_out(t, names, sizeof names))
        cli_say(2, 4, "Allergens that are named and not in these figures: %s.", names);
}

static void print_bottle(const struct st_take *t, const struct page *p)
{
    const struct st_foretold *f = p->out;
    const bool stopped = st_take_stop(t) != NULL;
    const enum st_heard heard = st_take_left_out(t) > 0 ? ST_HEARD_PART : ST_HEARD_ALL;
    char text[600];

    cli_heading(stopped ? "What was read, in figures" : "What this makes");
    print_left_out(t);
    print_dangers(t);
    if (!stopped && f->bottle_ml > 0.0 && f->fig[ST_FIG_BOTTLES].known) {
        st_bottles_words(text, sizeof text, f->fig[ST_FIG_BOTTLES].value * f->bottle_ml, f->bottle_ml);
        cli_figure_line("bottles", text);
    }
    st_volume_words(text, sizeof text, &f->fig[ST_FIG_VOLUME], p->cli->units);
    cli_figure_line("how much", text);
    if (f->fig[ST_FIG_STRENGTH].known) {
        st_heard_words(text, sizeof text, &f->fig[ST_FIG_STRENGTH], "% vol", heard);
        cli_figure_line("strength", text);
    }
    if (f->fig[ST_FIG_SUGAR].known) {
        st_heard_words(text, sizeof text, &f->fig[ST_FIG_SUGAR], "g/L", heard);
        cli_figure_line("sugar", text);
    }
    if (!stopped) {
        st_tip_words(p->recipe, p->out, text, sizeof text);
        cli_wrap(2, 2, text);
    }
    for (int i = 0; i < p->cautions->n; i++)
        if (p->cautions->item[i].line < 0)
            page_caution(2, &p->cautions->item[i]);
}

/* Without a line that may bring water or sugar the figures would be those of another drink. */
static void print_awaited(const struct st_take *t)
{
    struct st_problem wait;
    if (!t->whole || !st_take_await_problem(t, &wait))
        return;
    cli_heading("What this makes");
    cli_say(2, 4, "Nothing is foretold yet: %s; %s. %c%s.", wait.what, wait.why, toupper((unsigned char)wait.try_[0]),
            wait.try_ + 1);
}

static void print_next(const struct st_take *t, const char *name, const char *output, int open)
{
    bool unread = false;
    for (int i = 0; i < t->n_row; i++)
        unread = unread || (t->row[i].item->sure == ST_UNREAD &&
                            (t->row[i].item->role == ST_TAKE_INGREDIENT || t->row[i].item->role == ST_TAKE_STEP));
    cli_heading("What to do next");
    if (open)
        cli_say(2, 4, "Answer %s, with the same command and --answer behind it.",
                open == 1 ? "the question" : "the questions");
    if (unread)
        cli_say(
            2, 4,
            "Say a line that was not read in other words: --change \"LINE=500 g damsons\"; \"LINE=\" leaves it out.");
    if (st_take_stop(t))
        cli_say(2, 4, "Leave out what must not go into a drink: take it out of the text, or --change \"LINE=\".");
    else if (output && t->whole && st_take_awaited(t))
        cli_say(2, 4, "The recipe is written to %s, without what was not read.", output);
    else if (output)
        cli_say(2, 4, "The recipe is written: stillroom foresee %s shows the whole bottle.", output);
    else if (*t->yaml && !(t->whole && st_take_awaited(t)))
        cli_say(2, 4,
                "Keep it as a recipe file: stillroom take %s --output recipe.yaml; then stillroom foresee recipe.yaml.",
                name);
}

static void print_page(const struct st_take *t, const struct page *p, const char *name, const char *output)
{
    if (print_stops(t))
        putchar('\n');
    cli_wrap(0, 0, *t->title ? t->title : "A text without a title");
    const int open = print_questions(t);
    print_answered(t);
    print_rows(t, p);
    if (t->n_said)
        cli_heading("Assumed of the whole");
    for (int i = 0; i < t->n_said; i++)
        cli_wrap(2, 4, t->said[i]);
    if (p)
        print_bottle(t, p);
    else {
        print_awaited(t);
        print_dangers(t);
    }
    print_next(t, name, output, open);
}

static int print(struct cli *c, const struct st_take *t, const struct page *p, const char *name, const char *output)
{
    struct st_problem wait;
    const char *because =
        t->whole && st_take_await_problem(t, &wait) ? wait.what : "no recipe could be made of this text yet";
    if (c->json)
        return cli_json_print(st_doc_take(t, p ? page_json(p) : NULL, because));
    print_page(t, p, name, output);
    return ST_EXIT_DONE;
}

int take_show(struct cli *c, const struct st_take *t, const char *name, const char *output)
{
    static struct st_foretold out; /* large */
    static struct st_cautions cautions;
    struct st_problem problem;
    struct st_plan *plan = st_take_may_be_foretold(t) ? st_plan_create(&t->recipe.recipe, &problem) : NULL;
    const struct st_options options = { .seed = c->seed, .draws = c->draws, .effects = true };
    const double start = cli_now_ms();

    if (!plan || st_plan_run(plan, &options, &out) < 0) {
        st_plan_free(plan);
        return print(c, t, NULL, name, output);
    }
    if (c->timing)
        fprintf(stderr, "plan and %d draws %.1f ms\n", c->draws, cli_now_ms() - start);
    const struct st_watch watch = cli_watch(c, &t->recipe.recipe);
    st_cautions_collect(&t->recipe.recipe, &out, &watch, &cautions);
    const struct page p = { c, &t->recipe, &t->recipe.recipe, &out, &cautions };
    const int code = print(c, t, &p, name, output);
    st_foretold_done(&out);
    st_plan_free(plan);
    return code;
}
