#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cli/page.h"
#include "cli/steep.h"
#include "text/steep_words.h"

static double end_of(const struct st_interval *x, int which)
{
    return which < 0 ? x->low : which > 0 ? x->high : x->value;
}

double steep_at(const struct st_jar_told *t, const struct st_jar_series *s, double t_s, int which)
{
    int i = 1;
    while (i < t->n_time - 1 && t->t_s[i] < t_s)
        i++;
    if (t->n_time < 2)
        return end_of(&s->at[0], which);
    const double a = t->t_s[i - 1], b = t->t_s[i];
    const double k = b > a ? fmin(fmax((t_s - a) / (b - a), 0.0), 1.0) : 1.0;
    return (1.0 - k) * end_of(&s->at[i - 1], which) + k * end_of(&s->at[i], which);
}

void steep_spark(char *buf, size_t size, const struct st_jar_told *t, const struct st_jar_series *share, double until_s,
                 int width)
{
    static const char *const BLOCK[] = { " ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█" };
    size_t n = 0;
    buf[0] = '\0';
    for (int i = 0; i < width; i++) {
        const double y = steep_at(t, share, until_s * (i + 1) / width, 0);
        const int k = y <= 0.0 ? 0 : (int)fmin(fmax(ceil(8.0 * y - 0.5), 1.0), 8.0);
        n += (size_t)snprintf(buf + n, size - n, "%s", BLOCK[k]);
        if (n + 4 >= size)
            return;
    }
}

/* What stands in one cell: the curve, its band, or nothing. */
static const char *cell(double y_low, double y_high, double low, double value, double high)
{
    if (value > y_low && value <= y_high)
        return "●";
    if (high > y_low && low <= y_high)
        return "░";
    return " ";
}

void steep_chart(const struct st_jar_told *t, const struct st_jar_series *share, const char *name, const long *begun)
{
    enum { ROWS = 12, WIDE = 60 };
    const double until = t->t_s[t->n_time - 1];
    char first[64], last[64], plan[64];

    cli_say(2, 2, "%s: share of what will come; ● the middle, ░ likely between", name);
    for (int r = ROWS - 1; r >= 0; r--) {
        if (r % 3 == 2 || r == 0)
            printf("  %4.0f %% ", r == 0 ? 0.0 : 100.0 * (r + 1) / ROWS);
        else
            printf("         ");
        char line[WIDE * 4];
        size_t n = 0;
        for (int i = 0; i < WIDE; i++) {
            const double s = until * (i + 1) / WIDE;
            n += (size_t)snprintf(line + n, sizeof line - n, "%s",
                                  cell(r == 0 ? -1.0 : (double)r / ROWS, r == ROWS - 1 ? 2.0 : (r + 1.0) / ROWS,
                                       steep_at(t, share, s, -1), steep_at(t, share, s, 0), steep_at(t, share, s, 1)));
        }
        while (n > 0 && line[n - 1] == ' ')
            line[--n] = '\0';
        printf("│%s\n", line);
    }
    printf("         └");
    const int at = (int)lround(WIDE * t->plan_s / until);
    for (int i = 1; i <= WIDE; i++)
        fputs(i == at ? "┴" : "─", stdout);
    st_moment_words(first, sizeof first, 0.0, false, begun);
    st_moment_words(last, sizeof last, until, false, begun);
    st_moment_words(plan, sizeof plan, t->plan_s, false, begun);
    printf("\n          %-*s%s\n", WIDE - (int)strlen(last), "begun", last);
    if (at < WIDE)
        cli_say(10, 10, "┴ %s: strained, as planned", plan);
}
