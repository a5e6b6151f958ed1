#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

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
static int judge(const struct page *p, enum st_figure which, double low, double high, double near, char *buf,
                 size_t size)
{
    const struct st_figure_info *info = st_figure_info(which);
    const struct st_interval *x = &p->out->fig[which];
    char wish[80], text[240], pips[48] = "";

    if (low == high) {
        snprintf(wish, sizeof wish, "%s %g %s", info->name, low, info->unit);
        low -= near;
        high += near;
    } else
        snprintf(wish, sizeof wish, "%s %g to %g %s", info->name, low, high, info->unit);
    const bool met = x->known && x->value >= low && x->value <= high;
    const int n = of_twenty(p->out, which, low, high);
    if (n >= 0)
        snprintf(pips, sizeof pips, " (%d of 20 makings)", n);
    if (met)
        snprintf(text, sizeof text, "%s: met%s", wish, pips);
    else
        snprintf(text, sizeof text, "%s: MISSED at %.4g%s", wish, x->value, pips);
    add(buf, size, text);
    return !met;
}

int page_wish(const struct page *p, char *buf, size_t size)
{
    int missed = 0;
    buf[0] = '\0';
    if (p->recipe->wish.has_strength)
        missed += judge(p, ST_FIG_STRENGTH, p->recipe->wish.strength_low, p->recipe->wish.strength_high, 0.5, buf, size);
    if (p->recipe->wish.has_sugar)
        missed += judge(p, ST_FIG_SUGAR, p->recipe->wish.sugar_low, p->recipe->wish.sugar_high, 5.0, buf, size);
    return missed;
}
