/* How long learning takes: 20 readings of one jar, six figures to learn (rate, washed share, liquor kept, of two
 * ingredients); the median of 9.  Also told as a ratio to one run of the jar that foretells the same readings. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "model/learn.h"
#include "text/ingredients.h"
#include "text/steep_books.h"
#include "util/embedded.h"

enum { SEEN = 20, TIMES = 9 };
static const double DAY_S = 86400.0;

static double now_ms(void)
{
    struct timespec t = { 0 };
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double x[TIMES])
{
    qsort(x, TIMES, sizeof *x, by_size);
    return x[TIMES / 2];
}

/* Invented readings. */
static void readings(struct st_observation s[SEEN], int piece[SEEN])
{
    for (int i = 0; i < SEEN; i++) {
        const double day = 0.5 * pow(60.0, i / (SEEN - 1.0));
        s[i] = (struct st_observation){ .what = i == SEEN - 1 ? ST_SEEN_DRAINED_G
                                                : i % 5 == 4  ? ST_SEEN_MARK
                                                              : ST_SEEN_COLOUR,
                                        .t_s = day * DAY_S,
                                        .temperature_K = (double)NAN,
                                        .of = "",
                                        .by = "",
                                        .jar = "",
                                        .batch = "",
                                        .words = "" };
        s[i].value = s[i].what == ST_SEEN_DRAINED_G ? 60.0 : s[i].what == ST_SEEN_MARK ? 3.0 + 0.1 * i : 1.0 + 0.12 * i;
        piece[i] = s[i].what == ST_SEEN_DRAINED_G ? -1 : i % 2;
    }
}

int main(void)
{
    struct st_problem p = { .what = "" };
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_catalogue *c = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    struct st_steep_books *b = st_steep_books_create(&p);
    static struct st_jar j;
    struct st_observation s[SEEN];
    int piece[SEEN], learnt = 0;
    double learn[TIMES], run[TIMES];

    if (!c || !b)
        return 3;
    st_jar_begin(&j, &b->jar, 30.0 * DAY_S);
    if (!st_jar_add(&j, st_catalogue_find(c, "cloves", 6), 10.0, 0) ||
        !st_jar_add(&j, st_catalogue_find(c, "vanilla pod", 11), 20.0, 0) || !st_jar_pour_spirit(&j, 500.0, 45.0, 0))
        return 3;
    readings(s, piece);
    for (int i = 0; i < TIMES; i++) {
        struct st_learnt out;
        struct st_jar_told told;
        const struct st_learn_batch batch = { &j, s, piece, SEEN };
        double start = now_ms();
        const enum st_status status = st_learn(&batch, 1, &out);
        learn[i] = now_ms() - start;
        learnt = 0;
        for (int t = 0; t < out.n_thing; t++)
            for (int k = 0; k < ST_NTHETA; k++)
                learnt += out.thing[t].grade[k] != ST_LEARNT_NOTHING;
        st_learnt_done(&out);
        const struct st_jar_options o = { .draws = 0 };
        start = now_ms();
        if (status < 0 || st_jar_run(&j, &o, &told) < 0)
            return 1;
        run[i] = now_ms() - start;
        st_jar_told_done(&told);
    }
    const double t = median(learn), one = median(run);
    printf("learning   %d readings, 2 ingredients (%d figures learnt of): %.1f ms; %.0f runs of the jar at usual "
           "accuracy (%.2f ms)\n",
           SEEN, learnt, t, t / one, one);
    st_steep_books_free(b);
    st_catalogue_free(c);
    return 0;
}
