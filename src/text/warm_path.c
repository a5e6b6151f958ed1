#include "warm_path.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "quantity.h"

static const double FRIDGE_K = 277.15, FREEZER_K = 255.15, ZERO_K = 273.15, DAY_S = 86400.0;
static const double COLDEST_K = 253.15 - 1e-6, WARMEST_K = 333.15 + 1e-6,
                    /* -20 and 60 °C, read */ LONGEST_S = 3660.0 * 86400.0;

struct span {
    const char *at;
    size_t size;
};

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == ',' || c == ';';
}

static struct span trimmed(struct span s)
{
    while (s.size && is_blank(*s.at)) {
        s.at++;
        s.size--;
    }
    while (s.size && is_blank(s.at[s.size - 1]))
        s.size--;
    return s;
}

/* Where a word stands by itself; size when it does not. */
static size_t find_word(struct span s, const char *word)
{
    const size_t n = strlen(word);
    for (size_t i = 0; i + n <= s.size; i++)
        if (strncasecmp(s.at + i, word, n) == 0 && (i == 0 || is_blank(s.at[i - 1])) &&
            (i + n == s.size || is_blank(s.at[i + n])))
            return i;
    return s.size;
}

static bool has_word(struct span s, const char *word)
{
    return find_word(s, word) < s.size;
}

bool st_is_warm_path(const char *text, size_t size)
{
    const struct span s = { text, size };
    return has_word(s, "for") || has_word(s, "then") || has_word(s, "fridge") || has_word(s, "freezer");
}

static bool is_words(struct span s, const char *words)
{
    return s.size == strlen(words) && strncasecmp(s.at, words, s.size) == 0;
}

/* ---- one part ---- */

static bool refuse(struct st_problem *p, const char *text, struct span s, const char *why, const char *try_)
{
    static const char NO[] = "cannot reckon with how warm the jar stands:";
    *p = (struct st_problem){ .at = { 1, (int)(s.at - text) + 1 } };
    snprintf(p->what, sizeof p->what, "%s \"%.*s\"", NO, (int)(s.size < 80 ? s.size : 80), s.at);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

static bool read_amount(struct span s, enum st_dimension dim, struct st_amount *a)
{
    struct st_problem p = { .what = "" };
    size_t used = 0;
    return s.size > 0 && st_quantity_parse(s.at, s.size, ST_MEASURES_METRIC, a, &used, &p) == 0 && a->dim == dim &&
           a->open == ST_CLOSED && used == s.size;
}

/* "35 c" is no cups here. */
static bool read_temperature(struct span s, struct st_amount *a)
{
    char own[80];
    if (s.size < 2 || s.size >= sizeof own)
        return false;
    memcpy(own, s.at, s.size);
    char *last = &own[s.size - 1];
    if ((*last == 'c' || *last == 'f') && (last[-1] == ' ' || (last[-1] >= '0' && last[-1] <= '9') || last[-1] < 0))
        *last = (char)(*last - 'a' + 'A');
    return read_amount((struct span){ own, s.size }, ST_DIM_TEMPERATURE, a);
}

static struct span without_at(struct span s)
{
    s = trimmed(s);
    return s.size > 3 && strncasecmp(s.at, "at ", 3) == 0 ? trimmed((struct span){ s.at + 3, s.size - 3 }) : s;
}

bool st_is_warmth(const char *text, size_t size)
{
    struct st_amount a;
    return st_is_warm_path(text, size) || read_temperature(without_at((struct span){ text, size }), &a);
}

static bool read_warmth(const char *text, struct span s, double *T_K, struct st_problem *p)
{
    static const char *const FRIDGE[] = { "in the fridge", "fridge", "in a fridge" }, *const FREEZER[] = {
        "in the freezer", "freezer", "in a freezer"
    };
    struct st_amount a;
    for (size_t i = 0; i < sizeof FRIDGE / sizeof *FRIDGE; i++)
        if (is_words(s, FRIDGE[i]) || is_words(s, FREEZER[i])) {
            *T_K = is_words(s, FRIDGE[i]) ? FRIDGE_K : FREEZER_K;
            return true;
        }
    if (!read_temperature(s, &a))
        return refuse(p, text, s, "it is no temperature", "write for example 30 °C for 3 days, then 12 °C");
    if (!(a.value >= COLDEST_K && a.value <= WARMEST_K))
        return refuse(p, text, s,
                      "how fast things come out is known between -20 and 60 °C at most, and spirit must not be heated "
                      "on a stove",
                      "write for example 30 °C");
    *T_K = a.value;
    return true;
}

static bool read_part(const char *text, struct span s, struct st_warm_part *out, struct st_problem *p)
{
    struct st_amount a;
    s = without_at(s);
    const size_t at = find_word(s, "for");
    const struct span warmth = trimmed((struct span){ s.at, at });
    out->time_s = 0.0;
    if (at < s.size) {
        const struct span time = trimmed((struct span){ s.at + at + 3, s.size - at - 3 });
        if (!read_amount(time, ST_DIM_TIME, &a) || !(a.value > 0.0 && a.value <= LONGEST_S))
            return refuse(p, text, time.size ? time : s, "after \"for\" stands a time above nothing, ten years at most",
                          "write for example 30 °C for 3 days");
        out->time_s = a.value;
    }
    return read_warmth(text, warmth.size ? warmth : s, &out->T_K, p);
}

/* ---- all of them ---- */

/* Where the first part ends, and where the next begins. */
static size_t part_of(struct span s, size_t *next)
{
    size_t end = find_word(s, "then");
    *next = end < s.size ? end + 4 : s.size;
    for (size_t i = 0; i + 1 < end; i++)
        if ((s.at[i] == ',' && s.at[i + 1] == ' ') || s.at[i] == ';') {
            const struct span between = trimmed((struct span){ s.at + i, end - i });
            if (between.size == 0) /* ", then" */
                break;
            *next = i + 1;
            return i;
        }
    return end;
}

int st_warm_path_read(const char *text, size_t size, struct st_warm_part part[ST_WARM_PARTS],
                      struct st_problem *problem)
{
    struct st_warm_part all[ST_WARM_PARTS] = { { 0.0, 0.0 } };
    struct span left = { text, size };
    int n = 0;
    do {
        size_t next;
        const struct span one = { left.at, part_of(left, &next) };
        if (n == ST_WARM_PARTS) {
            (void)refuse(problem, text, trimmed(left), "eight different warmths one after another are the most",
                         "put some of them together");
            return -1;
        }
        if (n > 0 && !(all[n - 1].time_s > 0.0)) {
            (void)refuse(problem, text, (struct span){ text, size }, "each but the last needs its time",
                         "write for example 30 °C for 3 days, then 12 °C");
            return -1;
        }
        if (!read_part(text, one, &all[n++], problem))
            return -1;
        left = (struct span){ left.at + next, left.size - next };
    } while (left.size > 0);
    memcpy(part, all, (size_t)n * sizeof *part);
    return n;
}

static void write_time(char *buf, size_t size, double s)
{
    const double days = s / DAY_S, hours = s / 3600.0;
    if (days >= 1.0 && fabs(days - round(days)) < 1e-9)
        snprintf(buf, size, "%.0f day%s", days, round(days) == 1.0 ? "" : "s");
    else if (hours >= 1.0)
        snprintf(buf, size, "%.4g hour%s", hours, hours == 1.0 ? "" : "s");
    else
        snprintf(buf, size, "%.3g minutes", s / 60.0);
}

void st_warm_path_words(char *buf, size_t size, const struct st_warm_part part[], int n)
{
    char time[40];
    size_t at = 0;
    buf[0] = '\0';
    for (int i = 0; i < n && at < size; i++) {
        write_time(time, sizeof time, part[i].time_s);
        const bool timed = part[i].time_s > 0.0;
        at += (size_t)snprintf(buf + at, size - at, "%s%.3g °C%s%s", i ? ", then " : "", part[i].T_K - ZERO_K,
                               timed ? " for " : "", timed ? time : "");
    }
}
