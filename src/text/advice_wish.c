#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "advice.h"
#include "figure_words.h"

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* How many of twenty makings, taken at the quantiles (i - 1/2)/20 of the draws, lie in low..high; -1 without draws. */
static int of_twenty(const struct st_foretold *f, enum st_figure which, double low, double high)
{
    const size_t n = f->draws > 0 ? (size_t)f->draws : 0;
    if (!f->draw[which] || n == 0)
        return -1;
    double *x = malloc(n * sizeof *x);
    if (!x)
        return -1;
    memcpy(x, f->draw[which], n * sizeof *x);
    qsort(x, n, sizeof *x, by_size);
    int count = 0;
    for (int i = 0; i < 20; i++) {
        const double at = x[(size_t)((i + 0.5) / 20.0 * (double)n)];
        count += at >= low && at <= high;
    }
    free(x);
    return count;
}

static void add(char *buf, size_t size, const char *text)
{
    const size_t n = strlen(buf);
    if (n < size)
        snprintf(buf + n, size - n, "%s%s", n ? "; " : "", text);
}

/* A wish of one figure is met within `near` either side. */
static int judge(const struct st_foretold *f, enum st_figure which, double low, double high, double near, char *buf,
                 size_t size)
{
    const struct st_figure_info *info = st_figure_info(which);
    const struct st_interval *x = &f->fig[which];
    char wish[80], text[240], pips[48] = "";

    if (low == high) {
        snprintf(wish, sizeof wish, "%s %g %s", info->name, low, info->unit);
        low -= near;
        high += near;
    } else
        snprintf(wish, sizeof wish, "%s %g to %g %s", info->name, low, high, info->unit);
    const bool met = x->known && x->value >= low && x->value <= high;
    const int n = of_twenty(f, which, low, high);
    if (n >= 0)
        snprintf(pips, sizeof pips, " (%d of 20 makings)", n);
    if (met)
        snprintf(text, sizeof text, "%s: met%s", wish, pips);
    else {
        char told[64];
        st_figure_value(told, sizeof told, x);
        snprintf(text, sizeof text, "%s: MISSED at %s%s", wish, told, pips);
    }
    add(buf, size, text);
    return !met;
}

int st_wish_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size)
{
    int missed = 0;
    buf[0] = '\0';
    if (r->wish.has_strength)
        missed += judge(f, ST_FIG_STRENGTH, r->wish.strength_low, r->wish.strength_high, 0.5, buf, size);
    if (r->wish.has_sugar)
        missed += judge(f, ST_FIG_SUGAR, r->wish.sugar_low, r->wish.sugar_high, 5.0, buf, size);
    return missed;
}
