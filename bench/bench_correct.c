/* What putting a batch right costs, beside turning a recipe round (aim) in the same run.
 *
 *   bench_correct RECIPE...     ms of CPU of this process, the median and the largest of CASES asks of each sort
 *
 * Corrections are of batches out of random numbers, with six things to pour in, a jar and amounts for a kitchen; each is
 * asked for with 4,000 draws. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "model/aim.h"
#include "model/correct.h"
#include "model/random.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

enum { CASES = 100, NUMBERS = 16 };
static const double MOST_MS = 100.0;

/* Of this process alone: others may be at work on the machine. */
static double cpu_ms(void)
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

static struct st_correct_thing poured(enum st_correct_kind kind, double strength, double sugar, double u)
{
    struct st_correct_thing t = { .kind = kind, .have = HUGE_VAL, .cost = 0.01 };
    const struct st_correct_liquid l = {
        strength, strength > 0.0 ? u : 0.0, sugar, 0.01 * sugar, 0.0, 0.0, 0.0, false
    };
    (void)st_correct_poured(&l, &t);
    return t;
}

static double between(double u, double low, double high)
{
    return low + u * (high - low);
}

/* rough: readings so doubtful that mostly nothing reaches it, and everything is asked. */
static struct st_correct_ask ask_of(uint32_t k, bool rough, const struct st_kitchen *kitchen)
{
    double u[NUMBERS];
    st_uniform_n(5, k, 0, NUMBERS, u);
    struct st_correct_ask a = { .certainty = 0.9, .seed = k, .kitchen = kitchen };
    const double q = between(u[0], 20, 32), s = between(u[1], 100, 300), by = rough ? 4.0 : 1.0;
    a.batch.ml = between(u[2], 500, 5000);
    a.batch.ml_u = 0.01 * a.batch.ml;
    a.batch.is = (struct st_correct_liquid){ .strength = between(u[3], 18, 45),
                                             .strength_u = by * 0.2,
                                             .sugar = between(u[4], 50, 350),
                                             .sugar_u = by * 2.0,
                                             .correlation = 0.5 };
    a.wish[ST_CORRECT_STRENGTH] = (struct st_correct_wish){ true, q, q + 1.0 };
    a.wish[ST_CORRECT_SUGAR] = (struct st_correct_wish){ true, s, s + 15.0 };
    a.jar_ml = a.batch.ml * between(u[5], 1.1, 2.0);
    a.draw_most_ml = a.batch.ml / 3.0;
    a.thing[0] = poured(ST_ADD_SPIRIT, 40.0, 0.0, 0.15);
    a.thing[1] = poured(ST_ADD_SPIRIT, 96.0, 0.0, 0.15);
    a.thing[2] = poured(ST_ADD_WATER, 0.0, 0.0, 0.0);
    a.thing[3] = poured(ST_ADD_SYRUP, 0.0, 850.0, 0.0);
    a.thing[4] = poured(ST_ADD_POUR, 18.0, 60.0, 0.25);
    a.thing[5] = (struct st_correct_thing){ .kind = ST_ADD_SUGAR, .have = HUGE_VAL, .cost = 0.001 };
    st_correct_dry(ST_SUCROSE, &a.thing[5]);
    a.n_thing = 6;
    return a;
}

static double corrections(bool rough, const struct st_kitchen *kitchen, const char *name)
{
    static struct st_correct_found found;
    struct st_problem problem;
    double ms[CASES];
    int met = 0;
    for (uint32_t k = 0; k < CASES; k++) {
        const struct st_correct_ask a = ask_of(k, rough, kitchen);
        const double t = cpu_ms();
        if (st_correct(&a, &found, &problem) < 0)
            return HUGE_VAL;
        ms[k] = cpu_ms() - t;
        met += found.met;
    }
    qsort(ms, CASES, sizeof *ms, by_size);
    printf("%-34s %8.1f %8.1f   %d of %d met\n", name, ms[CASES / 2], ms[CASES - 1], met, CASES);
    return ms[CASES - 1];
}

/* The same wishes of a recipe, 10 strengths and sugars about its own. */
static void aim_at(const struct st_recipe *r, const char *name)
{
    enum { WISHES = 10 };
    double ms[WISHES];
    int n = 0, met = 0;
    for (int k = 0; k < WISHES; k++) {
        static struct st_aim a;
        static struct st_aim_found f;
        struct st_problem problem;
        st_aim_init(&a, r);
        if (st_aim_free_usual(&a) == 0)
            return;
        (void)st_aim_wish(&a, ST_FIG_STRENGTH, 20.0 + k, 21.0 + k, 0.5);
        (void)st_aim_wish(&a, ST_FIG_SUGAR, 150.0 + 10.0 * k, 165.0 + 10.0 * k, 5.0);
        const double t = cpu_ms();
        if (st_aim_solve(&a, &f, &problem) < 0)
            continue;
        ms[n++] = cpu_ms() - t;
        met += f.met;
    }
    if (n == 0)
        return;
    qsort(ms, (size_t)n, sizeof *ms, by_size);
    printf("aim %-30s %8.1f %8.1f   %d of %d met\n", name, ms[n / 2], ms[n - 1], met, n);
}

static void one(const char *path, const char *sheet, size_t size)
{
    struct st_problem p = { 0 };
    struct st_buf text = { 0 };
    struct st_recipe_file file;
    struct st_catalogue *all = st_catalogue_create(sheet, size, &p);
    if (all && !st_file_read(path, 1u << 20, &text)) {
        const char *name = strrchr(path, '/');
        if (st_recipe_read(path, st_buf_text(&text), text.length, all, &file) == 0)
            aim_at(&file.recipe, name ? name + 1 : path);
        st_recipe_done(&file);
    }
    st_buf_done(&text);
    st_catalogue_free(all);
}

int main(int argc, char **argv)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    static struct st_kitchen kitchen;
    st_kitchen_usual(&kitchen, ST_MEASURES_METRIC);
    printf("%-34s %8s %8s\n", "ms", "median", "largest");
    double worst = corrections(false, NULL, "correct, exact amounts");
    worst = fmax(worst, corrections(false, &kitchen, "correct, and for a kitchen"));
    worst = fmax(worst, corrections(true, &kitchen, "correct, readings four times as rough"));
    for (int i = 1; i < argc && sheet; i++)
        one(argv[i], (const char *)sheet->bytes, sheet->size);
    printf("the largest correction %s %.0f ms\n", worst < MOST_MS ? "stays under" : "TAKES MORE THAN", MOST_MS);
    return worst < MOST_MS ? 0 : 1;
}
