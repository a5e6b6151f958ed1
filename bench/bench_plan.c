/* A recipe of ordinary size for many draws: 3 steeps, 12 lines, about 60 uncertain inputs; invented.
 *
 *   bench_plan            time of whole runs (numbers, evaluation, quantiles, effects) at 1 000 and 4 000 draws
 *   bench_plan DIR N      write plan.json, X.f64, y.f64, q.f64 (2.5 and 97.5 % points) to DIR for plan_numpy.py, and
 *                         time the evaluation of N draws and the whole (numbers, evaluation, quantiles)
 */
#include <stdio.h>
#include <stdlib.h>

#include "kit.h"
#include "unit/plan_kit.h"

enum { NSTEP = 8, REPEAT = 21 };

struct house { /* everything a recipe points to */
    struct st_ingredient strong, vodka, sugar, water, damson, apricot, almond, peel, cinnamon, vanilla;
    struct st_line line[4][6];
    struct st_step step[NSTEP];
};

static struct st_ingredient ranged(const char *name, enum st_kind kind, double water, double sugars, double acid)
{
    struct st_ingredient in = kit_ingredient(name, kind);
    in.part[ST_WATER] = kit_range(0.95 * water, water, fmin(1.05 * water, 1.0));
    in.sugars = kit_range(0.8 * sugars, sugars, 1.2 * sugars);
    in.part[ST_ACID] = kit_range(0.7 * acid, acid, 1.3 * acid);
    in.edible = kit_range(0.80, 0.85, 0.90);
    return in;
}

static void stock(struct house *h)
{
    h->strong = kit_spirit(50);
    h->vodka = kit_spirit(40);
    h->vodka.slug = h->vodka.name = "vodka";
    h->sugar = kit_sugar();
    h->sugar.cup = kit_range(190, 200, 215);
    h->water = kit_water();
    h->damson = ranged("damsons", ST_KIND_FRESH_FRUIT, 0.83, 0.10, 0.020);
    h->apricot = ranged("dried apricots", ST_KIND_DRIED_FRUIT, 0.31, 0.53, 0.024);
    h->almond = ranged("almonds", ST_KIND_NUT, 0.045, 0.042, 0.001);
    h->peel = ranged("orange peel", ST_KIND_PEEL_FRESH, 0.72, 0.09, 0.003);
    h->cinnamon = ranged("cinnamon", ST_KIND_BARK, 0.10, 0.02, 0.002);
    h->vanilla = ranged("vanilla", ST_KIND_BEAN, 0.30, 0.10, 0.001);
}

static struct st_line by(enum st_tool tool, double fills, struct st_line line)
{
    line.amount.tool = tool;
    line.amount.fills = fills;
    return line;
}

static void write_lines(struct house *h)
{
    struct st_line *a = h->line[0], *b = h->line[1], *c = h->line[2], *d = h->line[3];
    a[0] = by(ST_TOOL_BOTTLE, 1, kit_line(&h->strong, kit_ml(700)));
    a[1] = by(ST_TOOL_SCALE, 1, kit_line(&h->damson, kit_g(500)));
    a[2] = by(ST_TOOL_SCALE, 1, kit_line(&h->cinnamon, kit_g(5)));
    a[3] = by(ST_TOOL_SCALE, 1, kit_line(&h->vanilla, kit_g(5)));
    a[1].gross = true;
    b[0] = by(ST_TOOL_BOTTLE, 1, kit_line(&h->vodka, kit_ml(700)));
    b[1] = by(ST_TOOL_SCALE, 1, kit_line(&h->apricot, kit_g(150)));
    b[2] = by(ST_TOOL_SCALE, 1, kit_line(&h->almond, kit_g(150)));
    c[0] = by(ST_TOOL_CUP, 2, kit_line(&h->vodka, kit_ml(473.2)));
    c[1] = by(ST_TOOL_SCALE, 1, kit_line(&h->peel, kit_g(150)));
    d[0] = kit_from(0, ST_LIQUOR, kit_all());
    d[1] = kit_from(1, ST_LIQUOR, kit_all());
    d[2] = kit_from(2, ST_LIQUOR, kit_all());
    d[3] = by(ST_TOOL_CUP, 2, kit_line(&h->sugar, kit_ml(473.2)));
    d[4] = by(ST_TOOL_CUP, 1, kit_line(&h->sugar, kit_ml(236.6)));
    d[5] = by(ST_TOOL_JUG, 1, kit_line(&h->water, kit_ml(3000)));
    d[5].amount.make_up_to = true;
}

static struct st_recipe write_recipe(struct house *h)
{
    stock(h);
    write_lines(h);
    struct st_step *s = h->step;
    s[0] = kit_step("damsons", ST_DO_STEEP, h->line[0], 4);
    s[1] = kit_step("apricots", ST_DO_STEEP, h->line[1], 3);
    s[2] = kit_step("peel", ST_DO_STEEP, h->line[2], 2);
    s[3] = kit_step("blend", ST_DO_BLEND, h->line[3], 6);
    s[4] = kit_step("rest", ST_DO_REST, NULL, 0);
    s[5] = kit_step("rack", ST_DO_RACK, NULL, 0);
    s[6] = kit_step("filter", ST_DO_FILTER, NULL, 0);
    s[7] = kit_step("bottle", ST_DO_BOTTLE, NULL, 0);
    for (int i = 0; i < 3; i++)
        s[i].time = kit_amount(ST_DIM_TIME, 42 * 86400.0);
    s[0].press = true;
    s[4].time = kit_amount(ST_DIM_TIME, 30 * 86400.0);
    s[7].bottle_ml = 500;
    return kit_recipe(s, NSTEP);
}

static double whole_run_ms(const struct st_plan *p, int draws, bool effects)
{
    double best = 1e9;
    for (int i = 0; i < REPEAT; i++) {
        struct st_foretold f;
        const struct st_options o = { 1, draws, effects };
        const double start = bench_now();
        if (st_plan_run(p, &o, &f) < 0)
            return -1.0;
        best = fmin(best, bench_now() - start);
        st_foretold_done(&f);
    }
    return 1e3 * best;
}

static void time_whole_runs(const struct st_plan *p)
{
    static const int DRAWS[] = { 1000, 4000 };
    for (int k = 0; k < 2; k++)
        printf("%6d draws: %7.3f ms, with effects %7.3f ms\n", DRAWS[k], whole_run_ms(p, DRAWS[k], false),
               whole_run_ms(p, DRAWS[k], true));
}

static void put(void *file, const char *text)
{
    fputs(text, file);
}

static FILE *open_in(const char *dir, const char *name)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    FILE *f = fopen(path, "wb");
    if (!f)
        perror(path);
    return f;
}

static int dump(const char *dir, const char *name, const double *x, size_t n)
{
    FILE *f = open_in(dir, name);
    if (!f)
        return 1;
    const size_t done = fwrite(x, sizeof *x, n, f);
    return fclose(f) != 0 || done != n;
}

static int dump_points(const struct st_plan *p, const char *dir, int draws)
{
    struct st_foretold f;
    const struct st_options o = { 1, draws, false };
    double q[2][ST_NFIG];
    if (st_plan_run(p, &o, &f) < 0)
        return 1;
    for (int i = 0; i < ST_NFIG; i++) {
        q[0][i] = f.fig[i].low;
        q[1][i] = f.fig[i].high;
    }
    st_foretold_done(&f);
    return dump(dir, "q.f64", q[0], (size_t)2 * ST_NFIG);
}

static int write_and_time(const struct st_plan *p, const char *dir, size_t n)
{
    const size_t n_in = (size_t)st_plan_n_inputs(p);
    double *X = aligned_alloc(64, (n_in * n * sizeof *X + 63) / 64 * 64), *y = malloc(ST_NFIG * n * sizeof *y);
    double best = 1e9;
    int bad = !X || !y;
    if (!bad) {
        st_plan_inputs(p, 1, 0, n, X);
        for (int i = 0; i < 9; i++) {
            const double start = bench_now();
            bad = bad || st_plan_evaluate(p, n, X, y) < 0;
            best = fmin(best, bench_now() - start);
        }
        bad = bad || dump(dir, "X.f64", X, n_in * n) || dump(dir, "y.f64", y, ST_NFIG * n);
        FILE *f = open_in(dir, "plan.json");
        if (f)
            st_plan_describe(p, put, f);
        bad = bad || !f || fclose(f) != 0;
        bad = bad || dump_points(p, dir, (int)n);
        printf("%.9g %.9g\n", best, 1e-3 * whole_run_ms(p, (int)n, false));
    }
    free(X);
    free(y);
    return bad;
}

int main(int argc, char **argv)
{
    static struct house h;
    const struct st_recipe r = write_recipe(&h);
    struct st_problem problem;
    struct st_plan *p = st_plan_create(&r, &problem);
    if (!p) {
        fprintf(stderr, "bench_plan: %s: %s\n", problem.what, problem.why);
        return 1;
    }
    int bad = 0;
    if (argc == 3)
        bad = write_and_time(p, argv[1], (size_t)strtoul(argv[2], NULL, 10));
    else
        time_whole_runs(p);
    st_plan_free(p);
    return bad;
}
