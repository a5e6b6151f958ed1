#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cli/page.h"
#include "cli/steep.h"
#include "text/figure_words.h"
#include "text/steep_words.h"

static const double DAY_S = 86400.0;

/* ---- head ---- */

/* Where the jar is told from, when others come before it. */
static void print_filled(const struct st_jar_told *t, const long *begun)
{
    if (!(t->filled_s > 0.0))
        return;
    if (begun)
        cli_say(2, 4, "This jar is filled %.0f days after the first that leads to it was begun.",
                floor(t->filled_s / DAY_S + 1e-6));
    else
        cli_say(
            2, 4,
            "Days count from the filling of this jar; the jars before it take %.0f days, and \"in all\" counts from "
            "the first. What they gave is told with --step.",
            floor(t->filled_s / DAY_S + 1e-6));
}

static void print_head(const struct steep *s)
{
    const struct st_jar *j = s->task.jar;
    const struct st_jar_told *t = &s->task.told;
    const struct st_jar_stage *g = &j->stage[j->n_stage - 1];
    const struct st_recipe *r = s->task.recipe;
    char long_[64], all[40], strength[96], start[96], warmth[200], end[64];

    printf("Time in the jar%s", r->title && *r->title ? ": " : "");
    cli_put(stdout, r->title ? r->title : "", r->title ? strlen(r->title) : 0);
    printf("\n\n");
    st_moment_words(long_, sizeof long_, t->plan_s, false, steep_begun(s));
    st_in_all_words(all, sizeof all, t, t->plan_s, false, steep_begun(s));
    st_stage_warmth_words(warmth, sizeof warmth, j);
    cli_say(2, 4, "%s, until %s%s%s, at %s%s.", r->step[s->task.step].id, long_, all,
            g->time_said ? "" : " (nobody said how long; 30 days are taken)", warmth,
            g->temperature_said ? "" : " (nobody said how warm: 16 to 24 is reckoned with)");
    print_filled(t, steep_begun(s));
    if (s->task.until_s > 0.0) {
        st_moment_words(end, sizeof end, t->look_s, false, steep_begun(s));
        cli_say(2, 4, "Told as far as %s, as asked (--days).", end);
    }
    int plan = 0;
    while (plan < t->n_time - 1 && t->t_s[plan] < t->look_s)
        plan++;
    struct st_interval first = t->strength.at[0];
    st_figure_value(start, sizeof start, &first);
    st_figure_words(strength, sizeof strength, &t->strength.at[plan], "% vol");
    cli_say(2, 4, "The liquid begins with %s %% vol and, over the pieces, ends with %s.", start, strength);
    char tip[900];
    st_steep_tip(tip, sizeof tip, j, t, steep_begun(s));
    if (*tip) {
        putchar('\n');
        cli_wrap(2, 2, tip);
    }
    st_powder_words(tip, sizeof tip, j);
    if (*tip)
        cli_wrap(2, 2, tip);
}

/* ---- what comes out ---- */

static int look_at(const struct st_jar_told *t)
{
    int at = 0;
    while (at < t->n_time - 1 && t->t_s[at] < t->look_s)
        at++;
    return at;
}

/* "12 mg/L, likely between 8 and 20", when it is told no further; of a known content. */
static void mg_words(char *buf, size_t size, const struct st_jar_told *t, const struct st_jar_curve *c)
{
    struct st_interval x = c->mg_l.at[look_at(t)];
    const bool grams = x.value >= 1000.0;
    x.value *= grams ? 1e-3 : 1.0;
    x.low *= grams ? 1e-3 : 1.0;
    x.high *= grams ? 1e-3 : 1.0;
    st_figure_words(buf, size, &x, grams ? "g/L" : "mg/L");
}

static void print_curve(const struct steep *s, const struct st_jar_curve *c)
{
    enum { WIDE = 36, NAME = 36 };
    char spark[WIDE * 3 + 8], name[120], words[400];
    const struct st_jar_told *t = &s->task.told;
    steep_spark(spark, sizeof spark, t, &c->share, t->look_s, WIDE);
    st_curve_name(name, sizeof name, s->task.jar, c);
    if (c->late)
        st_late_words(words, sizeof words, t, c, steep_begun(s));
    else
        st_curve_words(words, sizeof words, t, c, steep_begun(s));
    if (strlen(name) > NAME)
        printf("  %s\n  %-*s %s\n", name, NAME, "", spark);
    else
        printf("  %-*s %s\n", NAME, name, spark);
    cli_wrap(6, 6, words);
    st_before_words(words, sizeof words, c);
    if (*words)
        cli_wrap(6, 6, words);
    if (c->known && !c->late) {
        char mg[160];
        mg_words(mg, sizeof mg, t, c);
        cli_say(6, 6, "then in the liquid: %s", mg);
    }
    if (c->full > 1.0)
        cli_wrap(6, 6,
                 "the liquid is full of it: what is left stays in the pieces, and the drink goes cloudy with water");
}

static int count(const struct st_jar_told *t, bool late)
{
    int n = 0;
    for (int i = 0; i < t->n_curve; i++)
        n += t->curve[i].late == late;
    return n;
}

static void print_curves(const struct steep *s, bool late)
{
    const struct st_jar_told *t = &s->task.told;
    char end[64], heading[160];
    if (count(t, late) == 0)
        return;
    st_moment_words(end, sizeof end, t->look_s, false, steep_begun(s));
    snprintf(heading, sizeof heading, "%s, from the beginning to %s", late ? "What comes late" : "What comes out", end);
    cli_heading(heading);
    for (int i = 0; i < t->n_curve; i++)
        if (t->curve[i].late == late)
            print_curve(s, &t->curve[i]);
}

/* ---- the liquid ---- */

static struct st_interval column_of(const struct st_jar_told *t, const struct st_jar_series *x, double s)
{
    return (struct st_interval){ steep_at(t, x, s, 0), steep_at(t, x, s, -1), steep_at(t, x, s, 1), ST_OK, true };
}

/* How many digits behind the point a whole row has, so that nothing seems to fall by rounding alone: those of its
 * widest interval; none that is wider takes the ones away, nor the tenths of a row below ten. */
static int row_digits(const struct st_jar_told *t, const struct st_jar_series *x, const double *when, int n)
{
    double place = 0.0, most = 0.0;
    for (int i = 0; i < n; i++) {
        const struct st_interval a = column_of(t, x, when[i]);
        place = fmax(place, st_figure_place(&a));
        most = fmax(most, a.high);
    }
    if (!(place > 0.0) || place > (most < 10.0 ? 0.1 : 1.0))
        return most < 10.0 ? 1 : 0;
    return (int)fmin(round(-log10(place)), 2.0);
}

static void print_row(const struct st_jar_told *t, const struct st_jar_series *x, const double *when, int n,
                      const char *name)
{
    char value[64];
    const int digits = row_digits(t, x, when, n);
    const double place = pow(10.0, -digits);
    printf("  %-18s", name);
    for (int i = 0; i < n; i++)
        printf("%11.*f", digits, fmax(column_of(t, x, when[i]).value, 0.0));
    printf("\n  %-18s", "  likely between");
    for (int i = 0; i < n; i++) {
        const struct st_interval a = column_of(t, x, when[i]);
        snprintf(value, sizeof value, "%.*f-%.*f", digits, floor(a.low / place + 1e-6) * place, digits,
                 ceil(a.high / place - 1e-6) * place);
        printf("%11s", value);
    }
    putchar('\n');
}

enum { COLUMNS = 5 };

static void add_moment(double when[], int *n, double s)
{
    int at = *n;
    while (at > 0 && when[at - 1] > s)
        at--;
    if (at > 0 && when[at - 1] >= 0.999 * s)
        return;
    memmove(&when[at + 1], &when[at], (size_t)(*n - at) * sizeof *when);
    when[at] = s;
    (*n)++;
}

/* Five moments up to the last: that, the planned end, and round ones before. */
static int moments(const struct st_jar_told *t, double when[COLUMNS])
{
    static const double ROUND[] = { 5.0 / 1440, 20.0 / 1440, 1.0 / 24, 0.25, 0.5, 1, 3, 7, 14, 28, 56, 112, 224 };
    enum { N = sizeof ROUND / sizeof *ROUND };
    int n = 0, fit = 0, from = 0;
    add_moment(when, &n, t->look_s);
    if (t->plan_s < 0.95 * t->look_s)
        add_moment(when, &n, t->plan_s);
    for (int i = 0; i < N; i++) {
        from += ROUND[i] * DAY_S < 0.01 * t->look_s;
        fit += ROUND[i] * DAY_S < 0.8 * t->look_s;
    }
    const int room = COLUMNS - n, many = fit - from;
    for (int k = 0; k < room && k < many; k++) /* spread over those that fit */
        add_moment(when, &n, DAY_S * ROUND[from + (many <= room ? k : k * (many - 1) / (room - 1))]);
    return n;
}

static void print_moments(const struct steep *s, const double when[], int n)
{
    char word[64];
    printf("  %-18s", "");
    for (int i = 0; i < n; i++) {
        st_moment_words(word, sizeof word, when[i], false, NULL);
        printf("%11s", word);
    }
    putchar('\n');
    if (!(s->task.told.filled_s > 0.0))
        return;
    printf("  %-18s", "in all");
    for (int i = 0; i < n; i++) {
        snprintf(word, sizeof word, "day %.0f", floor((s->task.told.filled_s + when[i]) / DAY_S + 1e-6));
        printf("%11s", word);
    }
    putchar('\n');
}

static void print_liquid(const struct steep *s)
{
    const struct st_jar_told *t = &s->task.told;
    double when[COLUMNS + 1];
    char words[500], heading[120];
    const int n = moments(t, when);
    snprintf(heading, sizeof heading, "The liquid over the pieces%s%.60s%s", t->filled_s > 0.0 ? " in \"" : "",
             t->filled_s > 0.0 ? s->task.recipe->step[s->task.step].id : "", t->filled_s > 0.0 ? "\"" : "");
    cli_heading(heading);
    print_moments(s, when, n);
    print_row(t, &t->strength, when, n, "strength, % vol");
    if (t->sugar.at[t->n_time - 1].high > 0.5)
        print_row(t, &t->sugar, when, n, "sugar, g/L");
    if (t->acid.at[t->n_time - 1].high > 0.05)
        print_row(t, &t->acid, when, n, "acid, g/L");
    st_undissolved_words(words, sizeof words, t, steep_begun(s));
    if (*words)
        cli_wrap(2, 4, words);
}

/* ---- what if ---- */

static const struct st_jar_curve *same_curve(const struct st_jar_told *t, const struct st_jar_curve *c)
{
    for (int i = 0; i < t->n_curve; i++)
        if (t->curve[i].piece == c->piece && t->curve[i].late == c->late && strcmp(t->curve[i].name, c->name) == 0)
            return &t->curve[i];
    return NULL;
}

/* mg/L in the liquid when it is told no further; NAN where no content is known. */
static double mg_l_of(const struct st_jar_told *t, const struct st_jar_curve *c)
{
    return c->known ? c->mg_l.at[look_at(t)].value : (double)NAN;
}

/* 0.05 is ours: what a tongue would hardly notice, and half a day; of amounts 0.1. */
static bool differs(const struct steep *s, const struct st_jar_curve *a, const struct st_jar_curve *b)
{
    const double was = mg_l_of(&s->task.told, a), is = mg_l_of(&s->task.other_told, b);
    if (fabs(a->at_look.value - b->at_look.value) > 0.05 || fabs(is - was) > 0.1 * was)
        return true;
    return isfinite(a->most_s.value) != isfinite(b->most_s.value) ||
           (isfinite(a->most_s.value) && fabs(a->most_s.value - b->most_s.value) > fmax(0.1 * a->most_s.value, 3600.0));
}

/* The amount in the liquid; nothing where no content is known. */
static void add_mg(char *buf, size_t size, const struct st_jar_told *t, const struct st_jar_curve *c)
{
    char mg[160];
    const size_t n = strlen(buf);
    if (!c->known || c->late)
        return;
    mg_words(mg, sizeof mg, t, c);
    snprintf(buf + n, size - n, "; then in the liquid: %s", mg);
}

static void print_change(const struct steep *s, const struct st_jar_curve *a, const struct st_jar_curve *b)
{
    char name[120], words[700];
    st_curve_name(name, sizeof name, s->task.jar, a);
    printf("  %s\n", name);
    if (a->late)
        st_late_words(words, sizeof words, &s->task.told, a, steep_begun(s));
    else
        st_curve_words(words, sizeof words, &s->task.told, a, steep_begun(s));
    add_mg(words, sizeof words, &s->task.told, a);
    cli_say(6, 8, "as written: %s", words);
    if (b->late)
        st_late_words(words, sizeof words, &s->task.other_told, b, steep_begun(s));
    else
        st_curve_words(words, sizeof words, &s->task.other_told, b, steep_begun(s));
    add_mg(words, sizeof words, &s->task.other_told, b);
    cli_say(6, 8, "so: %s", words);
}

static bool has_other_amount(const struct steep *s, const struct st_jar_curve *c)
{
    char words[200] = "";
    if (c->piece >= 0)
        st_amount_words(words, sizeof words, &s->task.jar->piece[c->piece], &s->task.other.piece[c->piece]);
    return *words != '\0';
}

/* Things of which more, less or nothing goes in; how many. */
static int print_amounts(const struct steep *s)
{
    char words[200];
    int n = 0;
    for (int p = 0; p < s->task.jar->n_piece; p++) {
        st_amount_words(words, sizeof words, &s->task.jar->piece[p], &s->task.other.piece[p]);
        if (*words)
            cli_say(2, 4, "%s.", words);
        n += *words != '\0';
    }
    return n;
}

static void print_other(const struct steep *s)
{
    const struct st_jar_told *a = &s->task.told, *b = &s->task.other_told;
    char heading[400] = "If ", was[160], is[160], tip[900];
    if (!s->task.has_other)
        return;
    for (int i = 0; i < s->task.n_what_if; i++) {
        const size_t n = strlen(heading);
        snprintf(heading + n, sizeof heading - n, "%s%s", i ? ", " : "", s->task.understood[i].words);
    }
    cli_heading(heading);
    if (s->task.n_what_if > 1)
        cli_say(2, 4, "All of these together are one making, beside the jar as written.");
    st_steep_tip(tip, sizeof tip, &s->task.other, b, steep_begun(s));
    if (*tip)
        cli_wrap(2, 4, tip);
    st_powder_words(tip, sizeof tip, &s->task.other);
    if (*tip)
        cli_wrap(2, 4, tip);
    int n = print_amounts(s), same = 0;
    for (int i = 0; i < a->n_curve; i++) {
        const struct st_jar_curve *c = same_curve(b, &a->curve[i]);
        if (c && differs(s, &a->curve[i], c)) {
            print_change(s, &a->curve[i], c);
            n++;
        } else
            same += c && !has_other_amount(s, c);
    }
    const struct st_interval x = { steep_at(a, &a->strength, a->plan_s, 0), steep_at(a, &a->strength, a->plan_s, -1),
                                   steep_at(a, &a->strength, a->plan_s, 1), ST_OK, true },
                             y = { steep_at(b, &b->strength, b->plan_s, 0), steep_at(b, &b->strength, b->plan_s, -1),
                                   steep_at(b, &b->strength, b->plan_s, 1), ST_OK, true };
    st_figure_words(was, sizeof was, &x, "% vol");
    st_figure_words(is, sizeof is, &y, "% vol");
    cli_say(2, 4, "strength at the end: as written %s; so %s.", was, is);
    if (same)
        cli_say(2, 4,
                n ? "Of the rest (%d) nothing changes that you would notice."
                  : "Nothing changes that you would notice in any of the %d.",
                same);
}

/* ---- how ---- */

static void print_how(const struct steep *s)
{
    static const char *const BODY[] = { [ST_BODY_SPHERE] = "ball of radius",
                                        [ST_BODY_CYLINDER] = "rod of radius",
                                        [ST_BODY_SLAB] = "sheet of half thickness" };
    const struct st_jar *j = s->task.jar;
    struct st_habit h;
    cli_heading("How it was reckoned");
    for (int i = 0; i < s->task.told.n_curve; i++) {
        const struct st_jar_curve *c = &s->task.told.curve[i];
        char name[120];
        if (c->piece < 0 || st_jar_habit(j, c->piece, c->of, &h) < 0)
            continue;
        const struct st_jar_piece *p = &j->piece[c->piece];
        st_curve_name(name, sizeof name, j, c);
        cli_say(
            2, 6,
            "%s: %s%s, a %s %.3g mm; %.2g of it washed off at once, the rest by diffusion, %.2g m²/s (x/÷ %.2g) %s%s",
            name, st_cut_name(p->cut), p->cut_said ? "" : " (nobody said)", BODY[h.body],
            p->size_mm > 0.0 ? p->size_mm : 1e3 * h.a_m.value, h.w, h.d.value, h.d.times,
            h.mark == 'r'   ? "read "
            : h.mark == 'p' ? "common practice, no source"
                            : "from memory",
            h.mark == 'r' ? h.source : "");
    }
    cli_say(2, 6, "What went in and came out agrees within %.0e of it. Intervals: 95 of 100 makings, from %d draws.",
            s->task.told.closure, s->task.told.draws);
}

static void print_cautions(const struct st_cautions *list, const char *heading)
{
    bool any = false;
    for (int i = 0; i < list->n; i++) {
        if (list->item[i].level == ST_LEVEL_NOTE)
            continue;
        if (!any)
            cli_heading(heading);
        any = true;
        page_caution(2, &list->item[i]);
    }
}

static void print_of(const struct steep *s)
{
    const struct st_jar_told *t = &s->task.told;
    char name[120];
    for (int i = 0; s->of && i < t->n_curve; i++) {
        st_curve_name(name, sizeof name, s->task.jar, &t->curve[i]);
        if (strstr(name, s->of)) {
            putchar('\n');
            steep_chart(t, &t->curve[i].share, name, steep_begun(s));
        }
    }
}

void steep_print(const struct steep *s)
{
    print_head(s);
    print_curves(s, false);
    print_curves(s, true);
    print_of(s);
    steep_print_learnt(s);
    print_liquid(s);
    steep_print_toasts(s);
    print_other(s);
    if (s->cli->explain)
        print_how(s);
    print_cautions(&s->cautions, "What to watch");
    print_cautions(&s->other_cautions, "What to watch when it is made so");
    putchar('\n');
    cli_wrap(2, 2,
             "Shares are of what will come out in the end, not of all that is in the ingredient. " ST_MOSTLY_OUT_WORDS);
    cli_say(2, 2,
            "%d makings were tried on paper. How fast is known to a factor of 2 to 5 until your own readings say more: "
            "taste, and write down the day (--seen).",
            s->task.told.draws);
}
