/* How much of what a line carries can be in the drink: by hand, and on random recipes against what foresee itself follows
 * through the steps. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "ledger_kit.h"

enum { STEPS = 16, LINES = 8 };

static const double ROUNDING = 1e-9;

/* ---- kitchens: what recipes are made of ---- */

/* A kernel that carries 1 mg/g, which foresee follows as a marker; and the rest. */
struct kitchen {
    struct st_ingredient kernel, zest, plum, spirit, water, sugar, isinglass;
};

static void stock(struct kitchen *k)
{
    k->kernel = kit_fruit("kernel", 0.05, 0.04, 0, 0.45);
    k->kernel.kind = ST_KIND_KERNEL;
    k->kernel.retention = kit_range(0.2, 0.45, 0.7);
    k->kernel.marker[0].marker = "x";
    k->kernel.marker[0].mg_g = kit_sharp(1);
    k->kernel.n_marker = 1;
    k->zest = kit_fruit("zest", 0.7, 0.05, 0.01, 0.8);
    k->zest.retention = kit_range(0.4, 0.8, 1.3);
    k->plum = kit_fruit("plum", 0.83, 0.1, 0.01, 0.75);
    k->plum.retention = kit_range(0.38, 0.75, 1.2);
    k->spirit = kit_spirit(45);
    k->water = kit_water();
    k->sugar = kit_sugar();
    k->isinglass = kit_fruit("isinglass", 0.1, 0, 0, 0);
}

struct recipe {
    struct st_line line[STEPS][LINES];
    struct st_step step[STEPS];
    struct st_recipe r;
};

static void start(struct recipe *x)
{
    memset(x, 0, sizeof *x);
    x->r = kit_recipe(x->step, 0);
}

static int add_step(struct recipe *x, enum st_do kind)
{
    static const char *const ID[STEPS] = { "a", "b", "c", "d", "e", "f", "g", "h",
                                           "i", "j", "k", "l", "m", "n", "o", "p" };
    const int n = x->r.n_step++;
    assert_true(n < STEPS);
    x->step[n] = kit_step(ID[n], kind, x->line[n], 0);
    return n;
}

static void add(struct recipe *x, int step, struct st_line line)
{
    assert_true(x->step[step].n_line < LINES);
    x->line[step][x->step[step].n_line++] = line;
}

static struct st_amount share(double s)
{
    struct st_amount a = kit_amount(ST_DIM_PIECE, s);
    a.tool = ST_TOOL_NONE;
    return a;
}

/* Foretold, or false when foresee refuses it. */
static bool foretell(const struct recipe *x, struct st_foretold *f)
{
    struct st_problem problem;
    struct st_plan *p = st_plan_create(&x->r, &problem);
    if (!p)
        return false;
    const struct st_options o = { .seed = 1, .draws = 40 };
    const enum st_status s = st_plan_run(p, &o, f);
    st_plan_free(p);
    if (s < 0)
        st_foretold_done(f);
    return s >= 0;
}

static double share_of(const struct recipe *x)
{
    struct st_foretold f;
    if (!foretell(x, &f))
        fail_msg("foresee refuses it");
    const double s = st_ledger_share(&x->r, &f, 0, 0);
    st_foretold_done(&f);
    return s;
}

static void assert_near(double is, double want, double within)
{
    if (!(fabs(is - want) <= within))
        fail_msg("%.12g is not %.12g", is, want);
}

static void jar(struct recipe *x, struct kitchen *k)
{
    stock(k);
    start(x);
    add_step(x, ST_DO_STEEP);
    add(x, 0, kit_line(&k->kernel, kit_g(20)));
    add(x, 0, kit_line(&k->spirit, kit_ml(700)));
}

/* ---- by hand ---- */

static void nothing_lowers_it(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    stock(&k);
    start(&x);
    add_step(&x, ST_DO_TOAST);
    add(&x, 0, kit_line(&k.kernel, kit_g(20)));
    add_step(&x, ST_DO_STEEP);
    add(&x, 1, kit_from(0, ST_LIQUOR, kit_all()));
    add(&x, 1, kit_line(&k.spirit, kit_ml(700)));
    static const enum st_do AFTER[] = { ST_DO_REST, ST_DO_RACK, ST_DO_FINE, ST_DO_FILTER, ST_DO_BOTTLE };
    for (int i = 0; i < 5; i++) {
        const int s = add_step(&x, AFTER[i]);
        x.step[s].time = kit_amount(ST_DIM_TIME, 1e8);
        assert_near(share_of(&x), 1, 0);
    }
}

static void parts(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    add_step(&x, ST_DO_BLEND);
    add(&x, 1, kit_from(0, ST_LIQUOR, share(0.5)));
    add(&x, 1, kit_line(&k.water, kit_ml(100)));
    assert_near(share_of(&x), 0.5, 1e-12);
    assert_near(st_ledger_share(&x.r, NULL, 0, 0), 1, 0); /* nothing foretold: all */
    x.line[1][0].amount.high = 0.7;
    assert_near(share_of(&x), 0.7, 1e-12);
    add(&x, 1, kit_from(0, ST_LIQUOR, kit_all())); /* and the rest: by its high end */
    assert_near(share_of(&x), 1, 0);
    x.line[1][2].amount = share(0.2);
    assert_near(share_of(&x), 0.9, 1e-12);
}

/* The other half goes into another drink. */
static void rest_elsewhere(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    add_step(&x, ST_DO_BLEND);
    add(&x, 1, kit_from(0, ST_LIQUOR, share(0.75)));
    add_step(&x, ST_DO_BLEND);
    add(&x, 2, kit_from(0, ST_LIQUOR, kit_all()));
    assert_near(share_of(&x), 0.25, 1e-12);
    assert_near(st_ledger_share(&x.r, NULL, 1, 0), 0, 0); /* not what met the line */
}

/* 300 g of what at least comes off: 552 g of spirit, with the kernels' ends. */
static void weighed_parts(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    kit_sharp_tools(&x.r);
    kit_ideal(&x.step[0]);
    add_step(&x, ST_DO_BLEND);
    add(&x, 1, kit_from(0, ST_LIQUOR, kit_g(300)));
    struct st_foretold f;
    assert_true(foretell(&x, &f));
    double g = 0;
    for (int c = 0; c < ST_NCOMP; c++)
        g += f.balance[0].mass_g[c];
    const double nominal = 300 / g, least = 300 / (g - 20 * (0.7 - 0.45)); /* more kept, nothing else in doubt */
    const double is = st_ledger_share(&x.r, &f, 0, 0);
    assert_true(is > nominal);
    assert_near(is, least, 1e-9);
    st_foretold_done(&f);
    x.line[1][0].amount = kit_g(g * 0.999); /* more than there may be */
    assert_near(share_of(&x), 1, 0);
    x.line[1][0].amount = kit_ml(300);
    assert_near(share_of(&x), 300 / 650.0, 0.03); /* about 650 mL come off, of which 8 are in doubt */
}

static void second_pour(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    add_step(&x, ST_DO_STEEP);
    add(&x, 1, kit_from(0, ST_SPENT, kit_all()));
    add(&x, 1, kit_line(&k.spirit, kit_ml(500)));
    assert_near(share_of(&x), 1, 0); /* the solids may have kept all */
    x.line[1][0].amount = share(0.1);
    assert_near(share_of(&x), 1, 0); /* a tenth of the solids may be all the kernels */
    add_step(&x, ST_DO_BLEND);
    add(&x, 2, kit_from(0, ST_LIQUOR, share(0.25)));
    add(&x, 2, kit_from(1, ST_LIQUOR, share(0.25)));
    assert_near(share_of(&x), 0.5, 1e-12);
    x.line[2][0].amount = share(0.9);
    assert_near(share_of(&x), 1, 0); /* never more than all */
}

/* Part of a jar that nobody strained: the pieces may go with it. */
static void part_with_pieces(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    x.step[0].kind = ST_DO_BLEND;
    add_step(&x, ST_DO_BOTTLE);
    add(&x, 1, kit_from(0, ST_LIQUOR, share(0.3)));
    assert_near(share_of(&x), 1, 0);
    x.step[0].kind = ST_DO_STEEP; /* strained */
    assert_near(share_of(&x), 0.3, 1e-12);
}

/* Half of toasted kernels is half of them, had these lost all their water (5 %), and other things all of it. */
static void part_of_toasted(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    stock(&k);
    start(&x);
    kit_sharp_tools(&x.r);
    add_step(&x, ST_DO_TOAST);
    add(&x, 0, kit_line(&k.kernel, kit_g(100)));
    add_step(&x, ST_DO_STEEP);
    add(&x, 1, kit_from(0, ST_LIQUOR, share(0.5)));
    add(&x, 1, kit_line(&k.spirit, kit_ml(700)));
    struct st_foretold f;
    assert_true(foretell(&x, &f));
    double g = 0;
    for (int c = 0; c < ST_NCOMP; c++)
        g += f.balance[0].mass_g[c];
    assert_true(g < 100);
    assert_near(st_ledger_share(&x.r, &f, 0, 0), 0.5 * g / 95, 1e-9);
    st_foretold_done(&f);
    x.line[1][0].amount = kit_g(40);
    assert_near(share_of(&x), 0.4, 0.05);
    assert_true(share_of(&x) > 40 / 95.0);
    add(&x, 0, kit_line(&k.zest, kit_g(100)));
    assert_near(share_of(&x), 1, 0);
}

static void beside(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    add_step(&x, ST_DO_BLEND);
    add(&x, 1, kit_line(&k.spirit, kit_ml(100)));
    assert_near(share_of(&x), 0, 0); /* the drink takes nothing of it */
    assert_near(st_ledger_share(&x.r, NULL, 0, 0), 0, 0);
    assert_near(st_ledger_share(&x.r, NULL, 7, 0), 0, 0); /* no such line */
    assert_near(st_ledger_share(&x.r, NULL, 0, 9), 0, 0);
}

/* Longer than is followed: all of it. */
static void long_recipe(void **state)
{
    (void)state;
    enum { MANY = 1100 };
    struct kitchen k;
    struct recipe x;
    jar(&x, &k);
    struct st_step *step = calloc(MANY, sizeof *step);
    assert_non_null(step);
    step[0] = x.step[0];
    for (int n = 1; n < MANY; n++)
        step[n] = kit_step("s", ST_DO_REST, NULL, 0);
    struct st_line half[1] = { kit_from(0, ST_LIQUOR, share(0.5)) };
    step[1].line = half;
    step[1].n_line = 1;
    for (int n = 2; n <= MANY; n += 61) {
        const struct st_recipe r = kit_recipe(step, n);
        struct st_balance *b = calloc(MANY, sizeof *b);
        assert_non_null(b);
        const struct st_foretold f = { .balance = b, .n_balance = n };
        const double s = st_ledger_share(&r, &f, 0, 0);
        assert_near(s, n <= 64 ? 0.5 : 1, 0);
        free(b);
    }
    free(step);
}

/* ---- random recipes ---- */

static uint64_t seed;

static int dice(int n)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (int)((seed >> 33) % (uint64_t)n);
}

static double between(double a, double b)
{
    return a + (b - a) * dice(100000) / 100000.0;
}

static struct st_amount some_part(bool weighed)
{
    const int way = dice(weighed ? 5 : 3);
    struct st_amount a = way == 3   ? kit_g(between(50, 400))
                         : way == 4 ? kit_ml(between(50, 400))
                                    : share(between(0.1, 0.9));
    if (way == 0)
        return kit_all();
    a.tool = way == 3 ? ST_TOOL_SCALE : way == 4 ? ST_TOOL_JUG : ST_TOOL_NONE;
    return a;
}

static struct st_amount scaled_g(double a, double b)
{
    struct st_amount g = kit_g(between(a, b));
    g.tool = ST_TOOL_SCALE;
    if (dice(4) == 0)
        g.high *= 1.2, g.low *= 0.9;
    return g;
}

static struct st_amount jug_ml(double a, double b)
{
    struct st_amount ml = kit_ml(between(a, b));
    ml.tool = ST_TOOL_JUG;
    return ml;
}

static void liquids(struct recipe *x, const struct kitchen *k, int s)
{
    if (dice(2))
        add(x, s, kit_line(&k->spirit, jug_ml(100, 900)));
    if (dice(3) == 0)
        add(x, s, kit_line(&k->water, jug_ml(50, 400)));
    if (dice(3) == 0)
        add(x, s, kit_line(&k->sugar, scaled_g(20, 300)));
}

/* One more step after those there are: of what they gave, so that foresee mostly takes it. */
static void go_on(struct recipe *x, const struct kitchen *k, bool weighed)
{
    static const enum st_do LOSES[] = { ST_DO_REST, ST_DO_RACK, ST_DO_FILTER, ST_DO_FINE, ST_DO_BOTTLE };
    const int from = x->r.n_step - 1;
    if (dice(2)) {
        const int s = add_step(x, LOSES[dice(5)]);
        x->step[s].time = kit_amount(ST_DIM_TIME, 1e6 * dice(20));
        if (x->step[s].kind == ST_DO_RACK) /* else a filter before it would spare it the lees, and leave more drink */
            x->step[s].loss_share = kit_range(0.01, 0.03, 0.05);
        if (dice(2)) /* else it takes the step before by itself */
            add(x, s, kit_from(from, ST_LIQUOR, some_part(weighed)));
        if (x->step[s].kind == ST_DO_FINE)
            add(x, s, kit_line(&k->isinglass, kit_g(0.1)));
        return;
    }
    const int s = add_step(x, dice(2) ? ST_DO_BLEND : ST_DO_STEEP);
    add(x, s, kit_from(from, ST_LIQUOR, some_part(weighed)));
    if (from > 0 && dice(3) == 0)
        add(x, s, kit_from(dice(from), ST_LIQUOR, some_part(weighed)));
    if (dice(3) == 0)
        add(x, s, kit_from(dice(from + 1), ST_SPENT, dice(2) ? kit_all() : share(between(0.1, 0.9))));
    if (dice(3) == 0)
        add(x, s, kit_line(dice(2) ? &k->plum : &k->zest, scaled_g(10, 300)));
    liquids(x, k, s);
    x->step[s].press = dice(3) == 0;
}

static void random_recipe(struct recipe *x, const struct kitchen *k, bool weighed, bool strained)
{
    start(x);
    const bool toasted = dice(3) == 0;
    if (toasted) {
        add_step(x, ST_DO_TOAST);
        add(x, 0, kit_line(&k->kernel, scaled_g(5, 60)));
    }
    const int s = add_step(x, strained || dice(3) ? ST_DO_STEEP : ST_DO_BLEND);
    const struct st_amount of_toasted = dice(2) ? share(between(0.2, 0.9)) : scaled_g(5, 30);
    add(x, s,
        toasted ? kit_from(0, ST_LIQUOR, dice(2) ? kit_all() : of_toasted) : kit_line(&k->kernel, scaled_g(5, 60)));
    add(x, s, kit_line(&k->spirit, jug_ml(400, 900)));
    if (dice(2))
        add(x, s, kit_line(&k->plum, scaled_g(50, 500)));
    for (int n = dice(6); n > 0; n--)
        go_on(x, k, weighed);
}

enum { TRIED = 2500 };

/* The bound holds what foresee follows of it: the middle of its middle, the high end of its high end. */
static void above_what_is_followed(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("kernel", "x", 1000);
    const struct st_rule_books b = { &t, 1, &c, 1, NULL, 0, NULL };
    struct st_ledger *l = malloc(sizeof *l);
    assert_non_null(l);
    int told = 0, less = 0;
    stock(&k);
    seed = 20;
    for (int i = 0; i < TRIED; i++) {
        struct st_foretold f;
        random_recipe(&x, &k, true, false);
        if (!foretell(&x, &f))
            continue;
        assert_int_equal(st_ledger_make(&x.r, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
        const struct st_interval m = f.n_marker ? f.marker_mg_l[0] : kit_interval(0, 0, 0);
        const double mg_l = l->n_entry ? l->entry[0].mg_l : 0, high = l->n_entry ? l->entry[0].high_mg_l : 0;
        if (!(m.value <= mg_l * (1 + ROUNDING) && m.high <= high * (1 + ROUNDING)))
            fail_msg("recipe %d: %g mg/L at most, high end %g; foresee follows %g, %g", i, mg_l, high, m.value, m.high);
        less += l->n_entry && l->entry[0].carrier[0].share < 1;
        told++;
        st_foretold_done(&f);
    }
    free(l);
    if (told < TRIED / 2 || less < TRIED / 20)
        fail_msg("%d told, %d of a part", told, less);
}

/* mg of x in a kilogram of the drink at most, by the amounts as written; negative: refused. */
static double per_kg(const struct recipe *x, double *mg)
{
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("kernel", "x", 1000);
    const struct st_rule_books b = { &t, 1, &c, 1, NULL, 0, NULL };
    struct st_foretold f;
    struct st_ledger *l = malloc(sizeof *l);
    assert_non_null(l);
    double is = -1;
    if (foretell(x, &f)) {
        assert_int_equal(st_ledger_make(&x->r, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
        is = l->n_entry ? l->entry[0].mg_kg : 0;
        *mg = l->n_entry ? l->entry[0].mg : 0;
        st_foretold_done(&f);
    }
    free(l);
    return is;
}

/* A step put in after step at: what took its liquor takes that of the new one, and so on. */
static void insert(struct recipe *x, int at, enum st_do kind)
{
    assert_true(x->r.n_step < STEPS);
    for (int s = x->r.n_step; s > at + 1; s--) {
        x->step[s] = x->step[s - 1];
        memcpy(x->line[s], x->line[s - 1], sizeof x->line[s]);
        x->step[s].line = x->line[s];
        for (int i = 0; i < x->step[s].n_line; i++) {
            struct st_line *l = &x->line[s][i];
            if (!l->what && (l->from_step > at || (l->from_step == at && l->part == ST_LIQUOR)))
                l->from_step++;
        }
    }
    x->r.n_step++;
    x->step[at + 1] = kit_step("new", kind, x->line[at + 1], 0);
    add(x, at + 1, kit_from(at, ST_LIQUOR, kit_all()));
}

/* Split in two, and poured together again. */
static void split(struct recipe *x, int at)
{
    insert(x, at, ST_DO_BLEND);
    insert(x, at, ST_DO_REST);
    x->line[at + 1][0].amount = share(between(0.2, 0.8)); /* one part rests */
    add(x, at + 2, kit_from(at, ST_LIQUOR, kit_all()));   /* the other comes back to it */
}

static void toast_first(struct recipe *x)
{
    if (x->step[0].kind == ST_DO_TOAST)
        return;
    struct st_line kernel = x->line[0][0];
    struct recipe y;
    memset(&y, 0, sizeof y);
    y = *x;
    for (int s = x->r.n_step; s > 0; s--) {
        x->step[s] = y.step[s - 1];
        memcpy(x->line[s], y.line[s - 1], sizeof x->line[s]);
        x->step[s].line = x->line[s];
        for (int i = 0; i < x->step[s].n_line; i++)
            if (!x->line[s][i].what)
                x->line[s][i].from_step++;
    }
    x->r.n_step++;
    x->step[0] = kit_step("toast", ST_DO_TOAST, x->line[0], 0);
    add(x, 0, kernel);
    x->line[1][0] = kit_from(0, ST_LIQUOR, kit_all());
}

/* Pieces are put into something that is no steep. */
static bool is_unstrained(const struct recipe *x, int first)
{
    for (int s = first + 1; s < x->r.n_step; s++)
        for (int n = 0; n < x->step[s].n_line && x->step[s].kind != ST_DO_STEEP; n++) {
            const struct st_line *l = &x->line[s][n];
            const bool toasted = !l->what && l->from_step == 0 && x->step[0].kind == ST_DO_TOAST;
            if (toasted || (l->what ? st_kind_is_solid(l->what->kind) : l->part == ST_SPENT))
                return true;
        }
    return false;
}

/* Toasting, boiling, straining, splitting, pouring together, waiting: what a gram of kernels may bring into the drink never
 * falls, nor what a kilogram of the drink may hold.
 *
 * The second is not asked of parts by weight or volume: when such a part may hold everything already, less of something
 * light in the liquor makes the same volume of it heavier, by parts in a thousand, and holds no more for it.  Jars are
 * strained at once: where part of an unstrained one was taken, straining first rightly lowers it, since without it all
 * pieces might go with that part. */
static void no_deed_lowers_it(void **state)
{
    (void)state;
    static const enum st_do DEED[] = { ST_DO_REST,   ST_DO_RACK,  ST_DO_FILTER, ST_DO_FINE,
                                       ST_DO_BOTTLE, ST_DO_BLEND, ST_DO_SYRUP };
    struct kitchen k;
    stock(&k);
    seed = 21;
    int told = 0;
    for (int i = 0; i < TRIED; i++) {
        struct recipe *x = malloc(sizeof *x), *y = malloc(sizeof *y);
        assert_non_null(x);
        assert_non_null(y);
        const bool weighed = dice(2);
        random_recipe(x, &k, weighed, true);
        *y = *x;
        y->r.step = y->step;
        for (int s = 0; s < y->r.n_step; s++)
            y->step[s].line = y->line[s];
        const int deed = dice(9), first = y->step[0].kind == ST_DO_TOAST, at = first + dice(y->r.n_step - first);
        const bool pieces = is_unstrained(y, first);
        double was = -1, is = -1, mg[2] = { 0, 0 };
        if (!pieces) {
            was = per_kg(x, &mg[0]);
            if (deed == 8)
                toast_first(y);
            else if (deed == 7)
                split(y, at);
            else
                insert(y, at, DEED[deed]);
            if (deed < 7 && DEED[deed] == ST_DO_SYRUP && dice(2))
                y->step[at + 1].boil_off_g = kit_range(5, 20, 60);
            is = per_kg(y, &mg[1]);
        }
        if (was >= 0 && is >= 0) {
            told++;
            if (!(mg[1] >= mg[0] * (1 - ROUNDING)))
                fail_msg("recipe %d, deed %d after step %d: %.12g mg, then %.12g", i, deed, at, mg[0], mg[1]);
            if (!weighed && !(is >= was * (1 - ROUNDING)))
                fail_msg("recipe %d, deed %d after step %d: %.12g mg/kg, then %.12g", i, deed, at, was, is);
        }
        free(x);
        free(y);
    }
    if (told < TRIED / 3)
        fail_msg("only %d told", told);
}

/* What comes beside it takes nothing away.  Parts by share: of a part by weight, more liquid rightly carries less. */
static void no_addition_lowers_it(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    stock(&k);
    seed = 22;
    int told = 0;
    for (int i = 0; i < TRIED; i++) {
        double mg[2] = { 0, 0 };
        random_recipe(&x, &k, false, false);
        const double was = per_kg(&x, &mg[0]);
        const int s = dice(x.r.n_step);
        if (x.step[s].n_line >= LINES)
            continue;
        const bool first = x.step[s].n_line == 0 && s > 0;
        if (first) /* it took the step before by itself, and goes on doing so */
            add(&x, s, kit_from(s - 1, ST_LIQUOR, kit_all()));
        struct st_ingredient *const more[5] = { &k.kernel, &k.plum, &k.sugar, &k.water, &k.zest };
        add(&x, s, kit_line(more[dice(5)], scaled_g(1, 50)));
        const double is = per_kg(&x, &mg[1]);
        if (was < 0 || is < 0)
            continue;
        told++;
        if (!(mg[1] >= mg[0] * (1 - ROUNDING)))
            fail_msg("recipe %d: %g mg, then %g", i, mg[0], mg[1]);
    }
    if (told < TRIED / 3)
        fail_msg("only %d told", told);
}

/* A part taken in two goes is no less than in one.  With tools that do not err: a smaller jug reads finer. */
static void finer_splits(void **state)
{
    (void)state;
    struct kitchen k;
    struct recipe x;
    stock(&k);
    seed = 23;
    int told = 0;
    for (int i = 0; i < TRIED; i++) {
        double mg[2] = { 0, 0 };
        random_recipe(&x, &k, true, false);
        kit_sharp_tools(&x.r);
        const double was = per_kg(&x, &mg[0]);
        const int s = x.r.n_step - 1;
        struct st_line *l = &x.line[s][0];
        if (was < 0 || s == 0 || x.step[s].n_line == 0 || x.step[s].n_line == LINES || l->what)
            continue;
        struct st_line rest = *l;
        if (l->amount.open == ST_OPEN_SOME) {
            l->amount = share(between(0.1, 0.9));
        } else {
            const double part = between(0.1, 0.9);
            rest.amount.value *= 1 - part, rest.amount.low *= 1 - part, rest.amount.high *= 1 - part;
            l->amount.value *= part, l->amount.low *= part, l->amount.high *= part;
        }
        memmove(&x.line[s][2], &x.line[s][1], (size_t)(x.step[s].n_line - 1) * sizeof x.line[s][0]);
        x.line[s][1] = rest;
        x.step[s].n_line++;
        const double is = per_kg(&x, &mg[1]);
        if (is < 0)
            continue;
        told++;
        if (!(mg[1] >= mg[0] * (1 - ROUNDING)))
            fail_msg("recipe %d: %.12g mg, then %.12g", i, mg[0], mg[1]);
    }
    if (told < TRIED / 6)
        fail_msg("only %d told", told);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_lowers_it), cmocka_unit_test(parts),
        cmocka_unit_test(rest_elsewhere),    cmocka_unit_test(weighed_parts),
        cmocka_unit_test(second_pour),       cmocka_unit_test(part_with_pieces),
        cmocka_unit_test(part_of_toasted),   cmocka_unit_test(beside),
        cmocka_unit_test(long_recipe),       cmocka_unit_test(above_what_is_followed),
        cmocka_unit_test(no_deed_lowers_it), cmocka_unit_test(no_addition_lowers_it),
        cmocka_unit_test(finer_splits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
