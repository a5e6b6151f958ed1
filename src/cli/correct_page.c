#include <ctype.h>
#include <math.h>
#include <string.h>

#include "cli/correct.h"
#include "text/correct_words.h"
#include "text/shell_word.h"

/* A correction as a cook reads it: what to beware of, what there is, the ways, how to pour. */

static void line(const char *name, const char *text)
{
    if (*text)
        cli_figure_line(name, text);
}

static void heading(int number, const char *words)
{
    char text[96];
    (void)snprintf(text, sizeof text, "%d. %s", number, words);
    text[3] = (char)toupper((unsigned char)text[3]);
    cli_heading(text);
}

static void print_now(const struct st_correct_task *t)
{
    char text[ST_CORRECT_TEXT], wish[ST_CORRECT_TEXT], sure[64];
    cli_say(0, 0, "%s%s", *t->title ? t->title : "What is in the jar", ", put right");
    if (*t->not_yet)
        cli_wrap(0, 0, t->not_yet);
    if (t->cautions.n) {
        cli_heading("First");
        cli_cautions_print(&t->cautions);
    }
    puts("");
    st_correct_figures_words(text, sizeof text, &t->ask, &t->found.before);
    line(*t->not_yet ? "it will be" : "it is", text);
    st_correct_wish_words(wish, sizeof wish, &t->ask);
    (void)snprintf(text, sizeof text, "%.500s%s; in %.4g of 100", wish, t->held ? " (the strength held)" : "",
                   100.0 * t->ask.certainty);
    line("it shall be", text);
    st_correct_sure_words(sure, sizeof sure, &t->found.before);
    line("now", sure);
}

static void print_option(const struct st_correct_task *t, const struct st_correct_option *o)
{
    char text[ST_CORRECT_TEXT], sure[64];
    st_correct_do_words(text, sizeof text, &t->ask, o);
    line("do", text);
    st_correct_kitchen_words(text, sizeof text, &t->ask, o);
    line("in the kitchen", text);
    st_correct_figures_words(text, sizeof text, &t->ask, &o->made);
    line("gives", text);
    st_correct_moved_words(text, sizeof text, &t->ask, &t->found.before, &o->made);
    line("moves", text);
    st_correct_sure_words(text, sizeof text, &o->made);
    if (o->none == ST_NONE_LESS)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), ", not in %.4g%s", 100.0 * t->ask.certainty,
                       t->found.by_reading ? ": what is in it is known no surer" : "");
    if (o->has_kitchen) {
        st_correct_sure_words(sure, sizeof sure, &o->kitchen);
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "; as the kitchen measures it, %s", sure + 7);
    }
    line("sure", text);
    st_correct_jar_words(text, sizeof text, &t->ask, &o->made);
    line("the jar", text);
    if (isfinite(o->made.cost) && o->made.cost > 0.0) {
        (void)snprintf(text, sizeof text, "%.2f%s%s for what is poured in", o->made.cost, *t->currency ? " " : "",
                       t->currency);
        line("cost", text);
    }
}

static void print_ways(const struct st_correct_task *t)
{
    char text[ST_CORRECT_TEXT];
    int n = 0, left = 0;
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        if (st_correct_shown(&t->found.option[by])) {
            heading(++n, st_correct_way_words((enum st_correct_by)by));
            print_option(t, &t->found.option[by]);
        }
    for (int by = 0; by < ST_CORRECT_NBY; by++) {
        st_correct_left_words(text, sizeof text, &t->found, (enum st_correct_by)by);
        if (!*text)
            continue;
        if (left++ == 0)
            puts("");
        text[0] = (char)toupper((unsigned char)text[0]);
        cli_say(0, 2, "%s.", text);
    }
}

static void say_why(const struct st_correct_task *t)
{
    char text[ST_CORRECT_TEXT];
    for (int i = 0;; i++) {
        st_correct_why_words(text, sizeof text, &t->ask, &t->found, i);
        if (!*text)
            break;
        cli_say(2, 4, "%s", text);
    }
}

/* The least is there, and less sure than was asked. */
static void print_why_not(const struct st_correct_task *t)
{
    char text[64];
    (void)snprintf(text, sizeof text, "Why not in %.4g of 100", 100.0 * t->ask.certainty);
    cli_heading(text);
    say_why(t);
}

static void print_why(const struct st_correct_task *t)
{
    cli_heading("Nothing comes inside with that certainty");
    say_why(t);
    if (st_correct_idle(&t->found.nearest)) {
        cli_say(2, 4, "Nothing of what may be poured in brings it nearer.");
        return;
    }
    cli_heading("The nearest");
    print_option(t, &t->found.nearest);
}

static void print_how(const struct st_correct_task *t, const struct st_correct_option *o)
{
    char text[ST_CORRECT_TEXT], code[40];
    st_correct_task_code(t, code);
    st_correct_haze_words(text, sizeof text, &t->ask, &t->found, &o->made, code, 0);
    if (*text)
        cli_heading("Clear or cloudy");
    for (int i = 0; *text; st_correct_haze_words(text, sizeof text, &t->ask, &t->found, &o->made, code, ++i))
        cli_say(2, 4, "%s", text);
    st_correct_how_words(text, sizeof text, &t->ask, o, 0);
    if (*text)
        cli_heading("How");
    for (int i = 0; *text; st_correct_how_words(text, sizeof text, &t->ask, o, ++i))
        cli_say(2, 4, "%s", text);
}

/* The one that draws off, so that its words are told where any way does. */
static const struct st_correct_option *told_of(const struct st_correct_task *t)
{
    if (!t->found.met && !st_correct_shown(&t->found.option[ST_BY_LEAST]))
        return &t->found.nearest;
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        if (st_correct_shown(&t->found.option[by]) && t->found.option[by].made.draw_ml > 0.0)
            return &t->found.option[by];
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        if (st_correct_shown(&t->found.option[by]))
            return &t->found.option[by];
    return &t->found.nearest;
}

static void print_larder(const struct st_correct_task *t)
{
    if (!*t->reckoned && !*t->left_out)
        return;
    cli_heading("The larder");
    cli_say(2, 4, "Reckoned with: %s.", *t->reckoned ? t->reckoned : "nothing of it");
    if (*t->left_out)
        cli_say(2, 4, "Left out: %s.", t->left_out);
}

#define INTO                                                                                                           \
    "-"                                                                                                                \
    "-into" /* an option of batch, none of correct's own */

/* "86 mL O'Neil's best", as a shell reads it; a name that cannot be told so gives way to its lot. */
static void addition(char *word, size_t size, const struct st_correct_task *t, int i, const char *much)
{
    char what[160];
    const char *name = *t->line[i] ? t->line[i] : t->ask.thing[i].name;
    (void)snprintf(what, sizeof what, "%s %.100s", much, name);
    if (st_shell_word(word, size, what) != 0)
        (void)snprintf(word, size, "\"%s\"", much);
}

/* How what was poured in comes into the book. */
static void print_write(const struct st_correct_task *t, const struct st_correct_option *o)
{
    char code[40], step[260];
    st_correct_task_code(t, code);
    if (!*t->step || *t->not_yet || st_correct_idle(o) || st_shell_word(step, sizeof step, t->step) != 0)
        return;
    cli_heading("When it is done, write down what was really poured");
    if (o->made.draw_ml > 0.0)
        cli_say(2, 4, "stillroom batch lose %s --why drawn \"%.0f mL\"", code, o->made.draw_ml);
    for (int k = 0; k < o->n_order; k++) {
        const int i = o->order[k];
        const struct st_correct_thing *thing = &t->ask.thing[i];
        char what[520], much[32], lot[60] = "";
        st_correct_written(much, sizeof much, &t->ask, thing, o->made.amount[i]);
        addition(what, sizeof what, t, i, much);
        if (strncmp(thing->name, "batch ", 6) == 0 && strchr(thing->name, ',')) { /* "batch B9, sloe": of the book */
            cli_say(2, 4, "stillroom batch pour %.*s \"%s\" %s %s", (int)strcspn(thing->name + 6, ","), thing->name + 6,
                    much, INTO, code);
            continue;
        }
        if (*t->lot[i])
            (void)snprintf(lot, sizeof lot, "%c--lot %.40s", ' ', t->lot[i]);
        cli_say(2, 4, "stillroom batch add %s %s %s%s", code, step, what, lot);
    }
}

void correct_page(const struct cli *c, const struct st_correct_task *t)
{
    char text[ST_CORRECT_TEXT];
    const bool less = t->found.option[ST_BY_LEAST].none == ST_NONE_LESS;
    if (*t->unsure) {
        cli_say(0, 0, "%s, not put right", t->title);
        cli_wrap(0, 0, t->unsure);
        return;
    }
    print_now(t);
    if (t->found.met || less)
        print_ways(t);
    else
        print_why(t);
    if (less)
        print_why_not(t);
    if (t->found.met || !st_correct_idle(&t->found.nearest))
        print_how(t, told_of(t));
    print_write(t, told_of(t));
    print_larder(t);
    cli_heading("How sure");
    st_correct_doubt_words(text, sizeof text, &t->ask, &t->found);
    if (*text)
        cli_say(2, 4, "%s", text);
    for (int i = 0; i < t->n_assumed; i++)
        cli_say(2, 4, "%s", t->assumed[i]);
    cli_say(2, 4, "Ranges hold 19 of 20: readings, labels and measures are in them; exact amounts as weighed to %g g.",
            t->ask.digit_g > 0.0 ? t->ask.digit_g : 1.0);
    if (c->explain)
        cli_say(2, 4, "%d mixtures were reckoned, each with what every doubt does to it; then %d drawn for every way.",
                t->found.evaluations, t->ask.draws > 0 ? t->ask.draws : 4000);
    if (!t->of_book) /* no batch of the book */
        return;
    puts("");
    cli_say(0, 2, "If it is cloudy: stillroom clear %.*s tells how to settle, fine and filter it.",
            (int)strcspn(t->title, ","), t->title);
}
