/* Never less with smaller pieces, more warmth, or more spirit of the same strength in the end: every solid of the sheet, in
 * weak and in strong spirit, oils that do not dissolve and colours that fade among them (what has come, faded or not). */
#include "jar_kit.h"

#include "core/strength.h"

static const double ML = 700.0, WITHIN = 1e-3;

static void fill(struct st_jar *j, const struct st_ingredient *what, double pct_vol)
{
    st_jar_begin(j, &kit_books, 20 * DAY);
    if (!st_jar_add(j, what, 60, 0) || !st_jar_pour_spirit(j, ML, pct_vol, 0))
        fail_msg("%s does not go into a jar", what->slug);
}

/* % vol when all of it is mixed. */
static double mixed(const struct st_jar *j)
{
    double g[ST_NCOMP], w[ST_NCOMP], strength = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        g[c] = j->pour[0].goods.g[c] + (c == ST_SOLIDS || c == ST_FAT ? 0.0 : j->piece[0].goods.g[c]);
    assert_true(st_mixture_from_masses(g, w) >= 0 && st_strength_mixture(w, &strength) >= 0);
    return strength;
}

/* Half as much again, of a strength that comes to the same. */
static void more_spirit(const struct st_jar *a, struct st_jar *b)
{
    const double want = mixed(a);
    double low = 0.0, high = 96.0;
    for (int i = 0; i < 40; i++) {
        const double middle = 0.5 * (low + high);
        *b = *a;
        b->n_pour = 0;
        assert_non_null(st_jar_pour_spirit(b, 1.5 * ML, middle, 0));
        if (mixed(b) < want)
            low = middle;
        else
            high = middle;
    }
}

static int oils, colours;

static void never_less(const struct st_jar *less, const struct st_jar *more, const char *what)
{
    struct st_jar_told a, b;
    const struct st_jar_options o = { .seed = 1, .shells = 24, .tolerance = 1e-5, .coarse = true };
    kit_run(less, &o, &a);
    kit_run(more, &o, &b);
    assert_int_equal(a.n_curve, b.n_curve);
    for (int c = 0; c < a.n_curve; c++) {
        oils += a.curve[c].full > 0.0;
        colours += a.curve[c].fades;
        for (int i = 0; i < a.n_time; i++) {
            const double x = a.curve[c].given.at[i].value * a.curve[c].comes.value;
            const double y = b.curve[c].given.at[i].value * b.curve[c].comes.value;
            if (!(y >= x - WITHIN))
                fail_msg("%s: %s of %s, all mixed %.1f %% vol, at %.2f d gives %.6f instead of %.6f", what,
                         a.curve[c].name, less->piece[0].name, mixed(less), a.t_s[i] / DAY, y, x);
        }
    }
    st_jar_told_done(&a);
    st_jar_told_done(&b);
}

static void each(const struct st_ingredient *what, double pct_vol)
{
    struct st_jar a, b;
    struct st_habit h;
    fill(&a, what, pct_vol);
    assert_true(st_jar_habit(&a, 0, ST_OF_ANY, &h) >= 0);
    b = a;
    a.piece[0].size_mm = 1e3 * h.a_m.value;
    b.piece[0].size_mm = 0.6e3 * h.a_m.value;
    never_less(&a, &b, "smaller");
    fill(&a, what, pct_vol);
    b = a;
    a.stage[0].temperature_K = (struct st_range){ 283.15, 283.15, 283.15, true, 'u', "" };
    b.stage[0].temperature_K = (struct st_range){ 303.15, 303.15, 303.15, true, 'u', "" };
    never_less(&a, &b, "warmer");
    fill(&a, what, pct_vol);
    more_spirit(&a, &b);
    never_less(&a, &b, "more spirit");
}

static void everything_solid_of_the_sheet(void **state)
{
    int tried = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(kit_all); i++) {
        const struct st_ingredient *in = st_catalogue_at(kit_all, i);
        if (!st_kind_is_solid(in->kind))
            continue;
        each(in, 25.0);
        each(in, 60.0);
        tried++;
    }
    print_message("%d ingredients; the liquid was full %d times, colours %d\n", tried, oils, colours);
    assert_true(tried > 200 && oils > 50 && colours > 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(everything_solid_of_the_sheet) };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
