#include "steep_words.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "calendar_day.h"
#include "figure_words.h"

static const double HOUR_S = 3600.0, DAY_S = 86400.0;

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

void st_moment_words(char *buf, size_t size, double s, bool up, const long *begun)
{
    const double hours = up ? ceil(s / HOUR_S - 1e-6) : floor(s / HOUR_S + 1e-6);
    if (s < 0.999 * HOUR_S)
        snprintf(buf, size, "the first hour");
    else if (hours < 36.0)
        snprintf(buf, size, "%.0f hour%s", hours, hours == 1.0 ? "" : "s");
    else {
        const double day = up ? ceil(s / DAY_S - 1e-6) : floor(s / DAY_S + 1e-6);
        if (begun)
            date_words(buf, size, *begun + (long)day);
        else
            snprintf(buf, size, "day %.0f", day);
    }
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

void st_curve_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                    const long *begun)
{
    char when[64], range[160];
    if (isfinite(c->most_s.value) && c->most_s.value <= told->plan_s) {
        st_moment_words(when, sizeof when, c->most_s.value, true, begun);
        between(range, sizeof range, told, &c->most_s, begun);
        snprintf(buf, size, "mostly out by %s, %s", when, range);
        return;
    }
    st_moment_words(when, sizeof when, told->plan_s, false, begun);
    st_share_words(range, sizeof range, &c->at_plan);
    if (c->full > 0.0) /* more time would not help */
        snprintf(buf, size, "%s of it, %s: %s at this strength", c->at_plan.value < 0.5 ? "little" : "not all", range,
                 c->at_plan.value < 0.5 ? "it does not dissolve" : "no more dissolves");
    else
        snprintf(buf, size, "not mostly out by %s: of what will come %s", when, range);
}

void st_late_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                   const long *begun)
{
    char plan[64], last[64], now[120], then[120];
    const double last_s = told->t_s[told->n_time - 1];
    st_moment_words(plan, sizeof plan, told->plan_s, false, begun);
    st_moment_words(last, sizeof last, last_s, false, begun);
    st_share_words(now, sizeof now, &c->at_plan);
    st_share_words(then, sizeof then, &c->at_last);
    if (last_s > told->plan_s * 1.01 && c->at_last.value > c->at_plan.value + 0.03)
        snprintf(buf, size, "%s by %s; left until %s: %s", now, plan, last, then);
    else
        snprintf(buf, size, "%s by %s; it hardly grows after that", now, plan);
}

/* The curve, not late, that is slowest; NULL when there is none. */
static const struct st_jar_curve *slowest(const struct st_jar_told *told)
{
    const struct st_jar_curve *found = NULL;
    for (int i = 0; i < told->n_curve; i++) {
        const struct st_jar_curve *c = &told->curve[i];
        if (!c->late && (!found || c->most_s.value > found->most_s.value ||
                         (!isfinite(c->most_s.value) && c->at_plan.value < found->at_plan.value)))
            found = c;
    }
    return found;
}

void st_steep_tip(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told, const long *begun)
{
    const struct st_jar_curve *c = slowest(told);
    char name[120], words[300], rest[80] = "";
    buf[0] = '\0';
    if (!c)
        return;
    st_curve_name(name, sizeof name, j, c);
    st_curve_words(words, sizeof words, told, c, begun);
    if (isfinite(c->most_s.value) && c->most_s.value <= told->plan_s) {
        if (c->most_s.value < 0.75 * told->plan_s)
            snprintf(rest, sizeof rest, "; more time than that buys little");
        snprintf(buf, size, "All that is followed is %s%s. The slowest is %s.", words, rest, name);
    } else
        snprintf(buf, size, "The slowest is %s: %s.", name, words);
}
