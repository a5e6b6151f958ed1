#include "correct_task.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/range.h"
#include "text/caution_list.h"
#include "text/correct_words.h"
#include "text/goods_line.h"
#include "text/number.h"
#include "text/quantity.h"

static bool refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .is_question = 0 };
    (void)snprintf(p->what, sizeof p->what, "\"%.150s\"", what);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

static void assume(struct st_correct_task *t, const char *text)
{
    if (t->n_assumed < ST_CORRECT_ASSUMED)
        (void)snprintf(t->assumed[t->n_assumed++], sizeof t->assumed[0], "%s", text);
}

void st_correct_task_init(struct st_correct_task *t, enum st_measures measures)
{
    memset(t, 0, sizeof *t);
    t->ask.certainty = 0.9;
    t->ask.seed = 1;
    st_kitchen_usual(&t->kitchen, measures);
}

/* ---- what is in the jar ---- */

void st_correct_task_gauged(struct st_correct_task *t, const struct st_gauge_out *g)
{
    struct st_correct_liquid *l = &t->ask.batch.is;
    const double root3 = 1.7320508075688772, q = g->strength_systematic / root3, s = g->sugar_systematic / root3;
    l->strength = g->strength;
    l->sugar = g->sugar_g_l;
    l->strength_u = hypot(g->strength_u, q);
    l->sugar_u = hypot(g->sugar_u, s);
    /* at the density that was read, more alcohol goes with more sugar */
    const double both = g->correlation * g->strength_u * g->sugar_u + q * s, scale = l->strength_u * l->sugar_u;
    l->correlation = scale > 0.0 ? fmin(fmax(both / scale, -1.0), 1.0) : 0.0;
}

static bool volume_of(const char *said, double *ml)
{
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;
    said += strspn(said, " ");
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, &a, &used, &p) != 0 || a.dim != ST_DIM_VOLUME ||
        said[used + strspn(said + used, " ")] != '\0' || !(a.value > 0.0))
        return false;
    *ml = a.value;
    return true;
}

/* Cut at +-; the end, or NULL. */
static const char *cut_doubt(char *text)
{
    static const char *const SIGN[] = { "\xc2\xb1", "+-", "+/-" };
    for (size_t i = 0; i < sizeof SIGN / sizeof *SIGN; i++) {
        char *at = strstr(text, SIGN[i]);
        if (at) {
            *at = '\0';
            return at + strlen(SIGN[i]);
        }
    }
    return NULL;
}

/* "1.2L", "1.2+-0.02 L", "1.2L+-20mL". */
static bool volume_doubt(const char *said, double *ml, double *half)
{
    char text[80], own[100];
    (void)snprintf(text, sizeof text, "%.79s", said);
    const char *doubt = cut_doubt(text);
    *half = -1.0;
    if (!doubt)
        return volume_of(text, ml);
    const char *unit = doubt + strspn(doubt, " 0123456789.,");
    const bool bare = text[strspn(text, " 0123456789.,")] == '\0';
    (void)snprintf(own, sizeof own, "%s%s", text, bare ? unit : "");
    return volume_of(own, ml) && volume_of(doubt, half);
}

static bool now_volume(struct st_correct_task *t, const char *said, struct st_problem *problem)
{
    double ml, half;
    if (st_amount_asks(said, ST_MEASURES_METRIC, problem))
        return false;
    if (!volume_doubt(said, &ml, &half) || ml > 1e6)
        return refuse(problem, said, "it is no volume", "write for example 1.2L or 1200+-10mL");
    t->ask.batch.ml = ml;
    t->ask.batch.ml_u = half / ST_Z975;
    if (half < 0.0) {
        const struct st_tolerance jug = st_tolerance_default(ST_TOOL_JUG, ml);
        t->ask.batch.ml_u = hypot(jug.scale * ml, jug.step) / 1.7320508075688772;
        char text[160];
        (void)snprintf(text, sizeof text,
                       "The volume is taken as by the lines of a jug, 5 %% [ansi_z61_1]; weighed or surer, write "
                       "%.4g+-%.2g mL.",
                       ml, 0.01 * ml);
        assume(t, text);
    }
    return true;
}

bool st_correct_task_now(struct st_correct_task *t, enum st_correct_figure of, const char *said,
                         struct st_problem *problem)
{
    static const double HALF[3] = { 0.5, 5.0, 0.0 }, MOST[3] = { 96.0, 900.0, 200.0 };
    static const char *const TOLD[3] = {
        "The strength is taken as good to 0.5 % vol (from memory); surer, write 24+-0.2.",
        "The sugar is taken as good to 5 g/L (from memory); surer, write 260+-2.",
        "The acid is taken as good to 5 % (from memory); surer, write 6+-0.1."
    };
    struct st_correct_liquid *l = &t->ask.batch.is;
    double x, half;
    if (of == ST_CORRECT_VOLUME)
        return now_volume(t, said, problem);
    const char *end = st_doubtful_number(said, &x, &half);
    if (!end || end[strspn(end, " %")] != '\0' || x > MOST[of])
        return refuse(problem, said, "it is no such figure", "write for example 24 or 24+-0.3");
    if (half < 0.0) {
        half = of == ST_CORRECT_ACID ? 0.05 * x : HALF[of];
        assume(t, TOLD[of]);
    }
    if (of == ST_CORRECT_STRENGTH) {
        l->strength = x;
        l->strength_u = half / ST_Z975;
    } else if (of == ST_CORRECT_SUGAR) {
        l->sugar = x;
        l->sugar_u = half / ST_Z975;
    } else {
        l->acid = x;
        l->acid_u = half / ST_Z975;
        l->acid_known = true;
    }
    return true;
}

/* ---- wishes ---- */

static bool one_end(enum st_correct_figure of, const char *text, double *x)
{
    if (of == ST_CORRECT_VOLUME)
        return volume_of(text, x);
    double half;
    const char *end = st_doubtful_number(text, x, &half);
    return end && half < 0.0 && (of == ST_CORRECT_STRENGTH ? st_is_percent(end) : end[strspn(end, " ")] == '\0');
}

static double usual_half(enum st_correct_figure of, double x)
{
    return of == ST_CORRECT_STRENGTH ? 0.5
           : of == ST_CORRECT_SUGAR  ? 5.0
           : of == ST_CORRECT_ACID   ? fmax(0.3, 0.05 * x)
                                     : 0.02 * x;
}

/* The two ends of "25..27", "25 to 27", "25-27"; false when there is no such sign. */
static bool split(char *text, char **second)
{
    static const char *const SIGN[] = { "..", " to ", "-", "\xe2\x80\x93" };
    for (size_t i = 0; i < sizeof SIGN / sizeof *SIGN; i++) {
        char *at = strstr(text, SIGN[i]);
        if (!at || at == text)
            continue;
        *at = '\0';
        *second = at + strlen(SIGN[i]);
        return true;
    }
    return false;
}

static bool read_wish(enum st_correct_figure of, const char *said, struct st_correct_wish *w)
{
    char text[80], own[100], *second;
    double x, half;
    (void)snprintf(text, sizeof text, "%.79s", said);
    *w = (struct st_correct_wish){ true, -HUGE_VAL, HUGE_VAL };
    if (strncmp(text, "at least ", 9) == 0)
        return one_end(of, text + 9, &w->low);
    if (strncmp(text, "at most ", 8) == 0)
        return one_end(of, text + 8, &w->high);
    const bool doubt =
        of == ST_CORRECT_VOLUME ? volume_doubt(text, &x, &half) : st_doubtful_number(text, &x, &half) && half >= 0.0;
    if (doubt || one_end(of, text, &x)) {
        half = doubt && half > 0.0 ? half : usual_half(of, x);
        w->low = x - half;
        w->high = x + half;
        return true;
    }
    if (!split(text, &second))
        return false;
    const bool bare = text[strspn(text, " 0123456789.,")] == '\0';
    (void)snprintf(own, sizeof own, "%s%s", text,
                   of == ST_CORRECT_VOLUME && bare ? second + strspn(second, " 0123456789.,") : "");
    return one_end(of, own, &w->low) && one_end(of, second, &w->high);
}

bool st_correct_task_wish(struct st_correct_task *t, enum st_correct_figure of, const char *said,
                          struct st_problem *problem)
{
    struct st_correct_wish w;
    if (!read_wish(of, said, &w))
        return refuse(problem, said, "it is no figure or range",
                      of == ST_CORRECT_VOLUME ? "write for example 1.4L, 1.3L..1.5L or \"at least 1.4L\""
                                              : "write for example 26, 25..27 or \"at least 22\"");
    if (!(w.low < w.high))
        return refuse(problem, said, "the first end has to be the smaller", "change them over");
    const double most = w.high < HUGE_VAL ? w.high : w.low;
    if (of == ST_CORRECT_STRENGTH && most - usual_half(of, most) > 100.0)
        return refuse(problem, said, "nothing holds more than 100 % vol",
                      "write for example 26, 25..27 or \"at least 22\"");
    t->ask.wish[of] = w;
    return true;
}

/* ---- what may be poured in ---- */

bool st_correct_task_thing(struct st_correct_task *t, const struct st_correct_thing *thing, struct st_problem *problem)
{
    if (t->ask.n_thing == ST_CORRECT_THINGS)
        return refuse(problem, thing->name, "eight things at most can be weighed against each other", "leave one out");
    t->ask.thing[t->ask.n_thing++] = *thing;
    return true;
}

bool st_correct_task_with(struct st_correct_task *t, const char *said, const struct st_catalogue *c,
                          struct st_problem *problem)
{
    struct st_correct_named n;
    if (!st_correct_thing_read(said, c, &n, problem) || !st_correct_task_thing(t, &n.thing, problem))
        return false;
    const int i = t->ask.n_thing - 1;
    t->named[i] = n;
    /* the line lends its words from the copy that stays */
    t->named[i].line.text = t->named[i].said;
    if (n.has_line)
        t->ask.thing[i].line = &t->named[i].line;
    if (n.measured) {
        char text[200];
        (void)snprintf(text, sizeof text,
                       "The figures of %.60s are taken as good to 0.5 %% vol and 4 %% of the sugar (from memory); "
                       "surer, write 22+-0.2 %%.",
                       n.thing.name);
        assume(t, text);
    }
    return true;
}

bool st_correct_task_have(struct st_correct_task *t, const char *said, struct st_problem *problem)
{
    double units;
    const int i = st_correct_have_read(said, t->ask.thing, t->ask.n_thing, &units, problem);
    if (i < 0)
        return false;
    t->ask.thing[i].have = units;
    return true;
}

/* ---- all of it ---- */

static bool usual_things(struct st_correct_task *t, const struct st_catalogue *c, struct st_problem *problem)
{
    static const char *const USUAL[] = { "vodka 40 %", "water", "sugar" };
    for (size_t i = 0; i < sizeof USUAL / sizeof *USUAL; i++)
        if (!st_correct_task_with(t, USUAL[i], c, problem))
            return false;
    assume(
        t,
        "Nothing was named that may be poured in: vodka of 40 %, water and sugar are taken. Name yours with --with.");
    return true;
}

/* What nobody asked for stays near (correct.h, Notes 7 and 8), and that is told. */
static void tell_held(struct st_correct_task *t)
{
    static const char *const NAME[3] = { "strength", "sugar", "acid" };
    const char *list[3];
    int n = 0;
    char text[240];
    for (int f = ST_CORRECT_STRENGTH; f <= ST_CORRECT_ACID; f++)
        if (!t->ask.wish[f].asked && (f != ST_CORRECT_ACID || t->ask.batch.is.acid_known))
            list[n++] = NAME[f];
    if (n == 0)
        return;
    (void)snprintf(
        text, sizeof text,
        "Nobody asked for another %s%s%s%s%s, so it is held near what it is, or moves no more than the plain addition "
        "takes along; --%s \"at least 0\" lets it go where it likes.",
        list[0],
        n > 2   ? ", "
        : n > 1 ? " or "
                : "",
        n > 1 ? list[1] : "", n > 2 ? " or " : "", n > 2 ? list[2] : "", list[0]);
    assume(t, text);
}

/* The strength, in the least. */
static bool is_held(const struct st_correct_task *t)
{
    const struct st_correct_option *least = &t->found.option[ST_BY_LEAST];
    const struct st_correct_made *m = st_correct_shown(least) ? &least->made : &t->found.nearest.made;
    const double by = m->fig[ST_CORRECT_STRENGTH].value - t->found.before.fig[ST_CORRECT_STRENGTH].value;
    return !t->ask.wish[ST_CORRECT_STRENGTH].asked && fabs(by) <= st_correct_step(&t->ask, ST_CORRECT_STRENGTH);
}

bool st_correct_task_run(struct st_correct_task *t, const struct st_catalogue *c, struct st_problem *problem)
{
    if (t->ask.n_thing == 0 && !usual_things(t, c, problem))
        return false;
    if (t->ask.wish[ST_CORRECT_ACID].asked && !t->ask.batch.is.acid_known)
        return refuse(problem, "acid", "how much acid is in it now was not said", "give it, --now-acid 4");
    if (!t->draw_said)
        t->ask.draw_most_ml = t->ask.jar_ml > 0.0 ? t->ask.batch.ml / 3.0 : 0.0;
    t->ask.hold = true;
    tell_held(t);
    t->ask.kitchen = t->by_kitchen ? &t->kitchen : NULL;
    t->status = st_correct(&t->ask, &t->found, problem);
    if (t->status < 0)
        return false;
    t->held = is_held(t);
    st_correct_cautions(&t->ask, &t->found, &t->cautions);
    for (int i = 0; i < t->n_warned; i++)
        st_caution_because(st_caution_add(&t->cautions, ST_LEVEL_CAUTION, "poured_in", t->warned[i].source, -1, -1,
                                          "%s", t->warned[i].what),
                           "%s", t->warned[i].because);
    return true;
}

void st_correct_task_code(const struct st_correct_task *t, char code[40])
{
    (void)snprintf(code, 40, "%.*s", t->of_book ? (int)strcspn(t->title, ",") : 0, t->title);
}
