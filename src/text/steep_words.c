#include "steep_words.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "calendar_day.h"
#include "figure_words.h"
#include "warm_path.h"

static const double MINUTE_S = 60.0, HOUR_S = 3600.0, DAY_S = 86400.0;

static const char *month_name(int month)
{
    static const char *const NAME[] = { "January", "February", "March",     "April",   "May",      "June",
                                        "July",    "August",   "September", "October", "November", "December" };
    return month >= 1 && month <= 12 ? NAME[month - 1] : "";
}

static void date_words(char *buf, size_t size, long day)
{
    char iso[11];
    st_day_write(day, iso);
    const int month = (iso[5] - '0') * 10 + iso[6] - '0', date = (iso[8] - '0') * 10 + iso[9] - '0';
    snprintf(buf, size, "%s %d %s", st_weekday_name(st_weekday(day)), date, month_name(month));
}

/* From ten minutes on by fives: nobody knows it better. */
static void minute_words(char *buf, size_t size, double s, bool up)
{
    const double step = s < 10.0 * MINUTE_S ? 1.0 : 5.0, steps = s / (step * MINUTE_S);
    const double minutes = step * (up ? ceil(steps - 1e-6) : floor(steps + 1e-6));
    if (minutes < 1.0)
        snprintf(buf, size, "the first minute");
    else if (minutes >= 60.0)
        snprintf(buf, size, "1 hour");
    else
        snprintf(buf, size, "%.0f minute%s", minutes, minutes == 1.0 ? "" : "s");
}

void st_moment_words(char *buf, size_t size, double s, bool up, const long *begun)
{
    const double hours = up ? ceil(s / HOUR_S - 1e-6) : floor(s / HOUR_S + 1e-6);
    if (s < 0.999 * HOUR_S)
        minute_words(buf, size, s, up);
    else if (hours < 48.0)
        snprintf(buf, size, "%.0f hour%s", hours, hours == 1.0 ? "" : "s");
    else {
        const double day = up ? ceil(s / DAY_S - 1e-6) : floor(s / DAY_S + 1e-6);
        if (begun)
            date_words(buf, size, *begun + (long)day);
        else
            snprintf(buf, size, "day %.0f", day);
    }
}

void st_in_all_words(char *buf, size_t size, const struct st_jar_told *told, double s, bool up, const long *begun)
{
    const double day = (told->filled_s + s) / DAY_S;
    buf[0] = '\0';
    if (told->filled_s > 0.0 && !begun && isfinite(s))
        snprintf(buf, size, " (day %.0f in all)", up ? ceil(day - 1e-6) : floor(day + 1e-6));
}

/* The path of the last jar, put together again of the parts it was split into. */
void st_stage_warmth_words(char *buf, size_t size, const struct st_jar *j)
{
    const int first = st_jar_filled_at(j, j->n_stage - 1);
    const struct st_jar_stage *g = &j->stage[first];
    struct st_warm_part part[ST_WARM_PARTS];
    int n = 0;
    double before = 0.0;
    for (int i = 0; i + 1 < g->n_heat && n + 1 < ST_WARM_PARTS; i += 2) { /* two points a turn: before and after */
        part[n++] = (struct st_warm_part){ g->heat[i].T_K, g->heat[i].t_s - before };
        before = g->heat[i].t_s;
    }
    part[n++] = (struct st_warm_part){ g->n_heat ? g->heat[g->n_heat - 1].T_K : g->temperature_K.value, 0.0 };
    st_warm_path_words(buf, size, part, n);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* "1_8_cineole" as 1,8-cineole, "trans_anethole" as trans-anethole, "raspberry_ketone" as raspberry ketone. */
static void chemical_name(char *buf, size_t size, const char *name)
{
    static const char *const PREFIX[] = { "trans", "cis", "alpha", "beta", "gamma", "delta" };
    snprintf(buf, size, "%s", name);
    for (char *p = buf; *p; p++) {
        if (*p != '_' || p == buf)
            continue;
        *p = is_digit(p[-1]) && is_digit(p[1]) ? ',' : is_digit(p[-1]) || is_digit(p[1]) ? '-' : ' ';
        for (size_t k = 0; *p == ' ' && k < sizeof PREFIX / sizeof *PREFIX; k++)
            if ((size_t)(p - buf) == strlen(PREFIX[k]) && strncmp(buf, PREFIX[k], strlen(PREFIX[k])) == 0)
                *p = '-';
    }
}

void st_curve_name(char *buf, size_t size, const struct st_jar *j, const struct st_jar_curve *c)
{
    char name[80];
    chemical_name(name, sizeof name, c->name);
    if (strcmp(name, "tannic acid") == 0)
        snprintf(name, sizeof name, "tannin");
    if (strcmp(name, "cyanidin-3-glucoside") == 0)
        snprintf(name, sizeof name, "red colour");
    if (c->piece >= 0)
        snprintf(buf, size, "%s, %s", j->piece[c->piece].name, name);
    else
        snprintf(buf, size, "%s", name);
}

void st_share_words(char *buf, size_t size, const struct st_interval *x)
{
    struct st_interval p = *x;
    p.value *= 100.0;
    p.low = 100.0 * fmax(p.low, 0.0);
    p.high = 100.0 * fmin(p.high, 1.0);
    if (p.value > 99.5 && p.low > 95.0)
        snprintf(buf, size, "nearly all");
    else
        st_figure_words(buf, size, &p, "%");
}

/* "likely between 6 hours and day 3"; "... and beyond day 30" where the late end lies past what was looked at. */
static void between(char *buf, size_t size, const struct st_jar_told *told, const struct st_interval *s,
                    const long *begun)
{
    char low[64], high[64];
    const bool known = isfinite(s->high);
    st_moment_words(low, sizeof low, s->low, false, begun);
    st_moment_words(high, sizeof high, known ? s->high : told->t_s[told->n_time - 1], known, begun);
    snprintf(buf, size, "likely between %s and %s%s", low, known ? "" : "beyond ", high);
}

/* The end of what is told, or the plan's end where that comes first. */
static double plan_or_last(const struct st_jar_told *told)
{
    return fmin(told->plan_s, told->t_s[told->n_time - 1]);
}

/* "23 days", "3 months": a month is 30.4375 days. */
static void long_time(char *buf, size_t size, double time_s)
{
    const double days = time_s / DAY_S;
    if (days < 75.0)
        snprintf(buf, size, "%.0f days", days);
    else
        snprintf(buf, size, "%.0f months", days / 30.4375);
}

/* "; and fading: half in about 3 months, likely between 23 days and 12 months"; "" where nothing fades. */
static void fading(char *buf, size_t size, const struct st_jar_curve *c)
{
    char half[24], low[24], high[24];
    buf[0] = '\0';
    if (!c->fades)
        return;
    long_time(half, sizeof half, c->fade_s.value);
    long_time(low, sizeof low, c->fade_s.low);
    long_time(high, sizeof high, c->fade_s.high);
    snprintf(buf, size, "; and fading: half in about %s", half);
    if (strcmp(low, high) != 0) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, ", likely between %s and %s", low, high);
    }
}

/* Mostly out is this share of what will come (ST_MOSTLY_OUT_WORDS). */
static const double MOST = 0.9;

/* A share that is not mostly out, its figure rounded down where rounding would reach that: 0.897 is 89 %. */
static void share_short_of_most(char *buf, size_t size, const struct st_interval *x)
{
    char text[160], *end;
    st_share_words(text, sizeof text, x);
    const double said = strtod(text, &end);
    if (end == text || said < 100.0 * MOST || !(x->value < MOST)) {
        snprintf(buf, size, "%s", text);
        return;
    }
    const char *point = memchr(text, '.', (size_t)(end - text));
    const int digits = point ? (int)(end - point) - 1 : 0;
    const double place = pow(10.0, -digits);
    snprintf(buf, size, "%.*f%s", digits, floor(100.0 * x->value / place) * place, end);
}

static void out_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                      const long *begun)
{
    char when[64], all[40], range[160];
    if (isfinite(c->most_s.value) && c->most_s.value <= told->look_s) {
        st_moment_words(when, sizeof when, c->most_s.value, true, begun);
        st_in_all_words(all, sizeof all, told, c->most_s.value, true, begun);
        between(range, sizeof range, told, &c->most_s, begun);
        snprintf(buf, size, "mostly out by %s%s, %s", when, all, range);
        return;
    }
    st_moment_words(when, sizeof when, told->look_s, false, begun);
    st_in_all_words(all, sizeof all, told, told->look_s, false, begun);
    if (c->full > 0.0)
        st_share_words(range, sizeof range, &c->at_look);
    else
        share_short_of_most(range, sizeof range, &c->at_look);
    if (c->full > 0.0) /* more time would not help */
        snprintf(buf, size, "%s of it, %s: %s at this strength", c->at_look.value < 0.5 ? "little" : "not all", range,
                 c->at_look.value < 0.5 ? "it does not dissolve" : "no more dissolves");
    else
        snprintf(buf, size, "not mostly out by %s%s: of what will come %s", when, all, range);
}

void st_curve_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                    const long *begun)
{
    char rest[120];
    out_words(buf, size, told, c, begun);
    fading(rest, sizeof rest, c);
    const size_t n = strlen(buf);
    snprintf(buf + n, size - n, "%s", rest);
}

void st_before_words(char *buf, size_t size, const struct st_jar_curve *c)
{
    char share[120];
    buf[0] = '\0';
    if (!(c->before.value > 0.005))
        return;
    st_share_words(share, sizeof share, &c->before);
    snprintf(buf, size, "of all that comes in the end the jars before this one had %s", share);
}

/* What it does after the plan's end, where it grows little while it is looked at: a jar cut off early was not looked at
 * for long, so only what is nearly all out is said to rest. */
static const char *after_words(const struct st_jar_curve *c)
{
    if (c->at_last.low >= MOST || c->full > 0.0)
        return "it hardly grows after that";
    return c->at_last.value < MOST ? "it goes on growing the longer it stays" : "it may still grow after that";
}

void st_late_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                   const long *begun)
{
    char plan[64], all[40], last[64], now[120], then[120];
    const double last_s = told->t_s[told->n_time - 1], plan_s = plan_or_last(told);
    st_moment_words(plan, sizeof plan, plan_s, false, begun);
    st_in_all_words(all, sizeof all, told, plan_s, false, begun);
    st_moment_words(last, sizeof last, last_s, false, begun);
    st_share_words(now, sizeof now, &c->at_plan);
    st_share_words(then, sizeof then, &c->at_last);
    if (last_s <= plan_s * 1.01)
        snprintf(buf, size, "%s by %s%s", now, plan, all);
    else if (c->at_last.value > c->at_plan.value + 0.03)
        snprintf(buf, size, "%s by %s%s; left until %s: %s", now, plan, all, last, then);
    else
        snprintf(buf, size, "%s by %s%s; %s", now, plan, all, after_words(c));
}

/* ---- when to strain ---- */

/* Ours: for the last twentieth nobody waits. */
static const double HAD_BEFORE = 0.95;

static bool is_slower(const struct st_jar_curve *a, const struct st_jar_curve *b)
{
    return a->most_s.value > b->most_s.value ||
           (!isfinite(a->most_s.value) && !isfinite(b->most_s.value) && a->at_look.value < b->at_look.value);
}

/* Flavour rules over colour, and that over what the liquid is full of, for which waiting does nothing; sugar is last,
 * being not what one waits for. */
enum rank { RANK_NONE, RANK_SUGAR, RANK_FULL, RANK_COLOUR, RANK_FLAVOUR };

static enum rank rank_of(const struct st_jar_curve *c)
{
    if (c->late || !c->lies || c->before.value > HAD_BEFORE)
        return RANK_NONE;
    if (c->of == ST_OF_LIQUID)
        return RANK_SUGAR;
    return c->full > 0.0 ? RANK_FULL : c->of == ST_OF_PIGMENT ? RANK_COLOUR : RANK_FLAVOUR;
}

const struct st_jar_curve *st_steep_headline(const struct st_jar_told *told)
{
    const struct st_jar_curve *found = NULL;
    for (int i = 0; i < told->n_curve; i++) {
        const struct st_jar_curve *c = &told->curve[i];
        if (rank_of(c) == RANK_NONE)
            continue;
        if (!found || rank_of(c) > rank_of(found) || (rank_of(c) == rank_of(found) && is_slower(c, found)))
            found = c;
    }
    return found;
}

/* What comes late and is half out first; NULL when nothing does. */
static const struct st_jar_curve *first_late(const struct st_jar_told *told)
{
    const struct st_jar_curve *found = NULL;
    for (int i = 0; i < told->n_curve; i++) {
        const struct st_jar_curve *c = &told->curve[i];
        if (c->late && c->lies && c->before.value <= HAD_BEFORE && (!found || c->half_s.value < found->half_s.value))
            found = c;
    }
    return found;
}

static void add(char *buf, size_t size, const char *text)
{
    const size_t n = strlen(buf);
    snprintf(buf + n, size - n, "%s", text);
}

/* Half of what comes late, and when. */
static void add_half(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told,
                     const struct st_jar_curve *c, const long *begun)
{
    char name[120], half[64], range[160], text[400];
    st_curve_name(name, sizeof name, j, c);
    if (isfinite(c->half_s.value)) {
        st_moment_words(half, sizeof half, c->half_s.value, false, begun);
        between(range, sizeof range, told, &c->half_s, begun);
        snprintf(text, sizeof text, " Of what comes late, %s is half out by %s, %s.", name, half, range);
    } else {
        st_moment_words(half, sizeof half, told->t_s[told->n_time - 1], false, begun);
        snprintf(text, sizeof text, " Of what comes late, %s is not half out by %s.", name, half);
    }
    add(buf, size, text);
}

/* Ours: what is half out when this share of the time for the flavour is over comes before it, else with it. */
static const double COMES_FIRST = 0.9;

/* What comes late is there before what one waits for. */
static void first_words(char *buf, size_t size, const struct st_jar *j, const struct st_jar_curve *late,
                        const struct st_jar_curve *wanted, const char *half, const char *most)
{
    const char *of = late->piece >= 0 ? j->piece[late->piece].name : late->name;
    if (late->piece == wanted->piece)
        snprintf(buf, size,
                 " The harsh part of %s comes first (half out by %s), its flavour by %s: taste from %s on, and strain "
                 "when you like it.",
                 of, half, most, half);
    else
        snprintf(buf, size,
                 " The harsh part of %s comes first (half out by %s): take it out early, or taste; the flavour is "
                 "mostly out "
                 "by %s.",
                 of, half, most);
}

/* When to strain: behind what one waits for, before what comes late. */
static void add_strain(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told,
                       const struct st_jar_curve *late, const struct st_jar_curve *wanted, const long *begun)
{
    char from[64], to[64], plan[64], text[600];
    const bool overlap = late->half_s.low < wanted->most_s.high;
    st_moment_words(from, sizeof from, wanted->most_s.value, true, begun);
    st_moment_words(to, sizeof to, late->half_s.value, false, begun);
    if (late->half_s.value > wanted->most_s.value && strcmp(from, to) != 0)
        snprintf(text, sizeof text, " So strain between %s and %s%s.", from, to,
                 overlap ? "; both are this uncertain, so let tasting decide" : "");
    else if (late->half_s.value < COMES_FIRST * wanted->most_s.value && strcmp(from, to) != 0)
        first_words(text, sizeof text, j, late, wanted, to, from);
    else
        snprintf(text, sizeof text, " They come together: taste from then on, and strain when you like it.");
    add(buf, size, text);
    if (told->plan_s <= late->half_s.value || told->plan_s > told->t_s[told->n_time - 1])
        return;
    const double share = 100.0 * late->at_plan.value;
    char much[24];
    st_moment_words(plan, sizeof plan, told->plan_s, false, begun);
    if (share > 99.0)
        snprintf(much, sizeof much, "nearly all");
    else
        snprintf(much, sizeof much, "%.0f %%", share);
    snprintf(text, sizeof text, " By %s, as planned, %s of that has come.", plan, much);
    add(buf, size, text);
}

/* Something that lies here, not late, had come before. */
static bool had_before(const struct st_jar_told *told)
{
    for (int i = 0; i < told->n_curve; i++)
        if (told->curve[i].lies && !told->curve[i].late && told->curve[i].before.value > HAD_BEFORE)
            return true;
    return false;
}

void st_steep_tip(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told, const long *begun)
{
    const struct st_jar_curve *c = st_steep_headline(told);
    char name[120], words[300];
    buf[0] = '\0';
    if (!c && had_before(told))
        snprintf(buf, size, "The jars before this one had practically all of what comes: there is little to wait for.");
    if (!c)
        return;
    const struct st_jar_curve *late = first_late(told);
    const bool is_out = isfinite(c->most_s.value) && c->most_s.value <= told->look_s;
    static const char *const ALL[] = { "", "The sugar", "What dissolves", "The colour",
                                       "All the flavour that is followed" };
    st_curve_name(name, sizeof name, j, c);
    out_words(words, sizeof words, told, c, begun);
    if (is_out)
        snprintf(buf, size, "%s is %s%s. The slowest is %s.", ALL[rank_of(c)], words,
                 c->most_s.value < 0.75 * told->plan_s && !late ? "; more time than that buys little" : "", name);
    else
        snprintf(buf, size, "The slowest is %s: %s.", name, words);
    if (late)
        add_half(buf, size, j, told, late, begun);
    if (late && is_out && isfinite(late->half_s.value))
        add_strain(buf, size, j, told, late, c, begun);
}
