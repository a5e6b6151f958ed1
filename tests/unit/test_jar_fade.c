/* Red of fruit fades while it steeps: by the law, from when it goes in, in the books, and nothing else does. */
#include "jar_kit.h"

#include "core/ageing.h"
#include "core/arrhenius.h"
#include "core/steep_constants.h"
#include "model/range.h"

static const char RED[] = "cyanidin_3_glucoside";

static void cherries(struct st_jar *j, double days, double t_C)
{
    st_jar_begin(j, &kit_books, days * DAY);
    j->stage[0].temperature_K = (struct st_range){ 273.15 + t_C, 273.15 + t_C, 273.15 + t_C, true, 'u', "" };
    kit_add(j, "sour cherries", 300, 0);
    st_jar_pour_spirit(j, 600, 50, 0);
}

/* share = given 2^(-t/half), of every curve that fades; the others are as given. */
static void by_law(const struct st_jar_told *t, double since_s, double half_s, double within)
{
    int n = 0;
    for (int c = 0; c < t->n_curve + t->n_family; c++) {
        const struct st_jar_curve *k = c < t->n_curve ? &t->curve[c] : &t->family[c - t->n_curve];
        assert_true(k->fades == (k->of == ST_OF_PIGMENT));
        n += k->fades;
        for (int i = 0; i < t->n_time; i++) {
            const double left = k->fades ? exp2(-fmax(t->t_s[i] - since_s, 0.0) / half_s) : 1.0;
            assert_about(k->share.at[i].value, k->given.at[i].value * left, within);
            assert_true(i == 0 || k->given.at[i].value >= k->given.at[i - 1].value - 1e-9);
        }
        if (k->fades)
            assert_about(k->fade_s.value / half_s, 1.0, 1e-6);
    }
    assert_true(n >= 2); /* the curve and its family */
    assert_true(t->closure <= 1e-9);
}

static void red_halves_as_core_says(void **state)
{
    static const double AT[] = { 4, 20, 30 };
    (void)state;
    for (int i = 0; i < 3; i++) {
        struct st_jar j;
        struct st_jar_told t;
        double k = 0.0, half = 0.0;
        cherries(&j, 180, AT[i]);
        kit_run(&j, &(struct st_jar_options){ .seed = 1 }, &t);
        assert_true(st_fading_rate(273.15 + AT[i], &k) >= 0 && st_half_life(k, &half) >= 0);
        by_law(&t, 0.0, half, 1e-9);
        st_jar_told_done(&t);
    }
}

/* [bonerz_2007]: 70 to 75 % of the red of a sour cherry juice gone after 6 months at 20 C (the constant is from there). */
static void half_a_year_at_20(void **state)
{
    struct st_jar j;
    struct st_jar_told t;
    (void)state;
    cherries(&j, 182.625, 20);
    kit_run(&j, &(struct st_jar_options){ .seed = 1, .draws = 400, .shells = 16, .tolerance = 1e-3 }, &t);
    const struct st_jar_curve *red = kit_curve(&t, 0, RED);
    const double left = red->at_plan.value / red->given.at[t.n_time - 1].value;
    assert_about(left, 0.25, 1e-6);
    /* x/: 2 is one standard deviation of the half-life: 95 % from a quarter to four times, about */
    assert_about(red->fade_s.value / (3 * 30.4375 * DAY), 1.0, 1e-6);
    assert_true(red->fade_s.low > 0.2 * red->fade_s.value && red->fade_s.low < 0.33 * red->fade_s.value);
    assert_true(red->fade_s.high > 3.0 * red->fade_s.value && red->fade_s.high < 5.0 * red->fade_s.value);
    /* and the band of what is left has both in it: an eighth power of it, and four fifths */
    assert_true(red->at_plan.low < 0.02 && red->at_plan.high > 0.6);
    /* most is out when most is out, however much of it has faded since */
    assert_true(red->most_s.value < 182 * DAY && red->share.at[t.n_time - 1].value < 0.3);
    st_jar_told_done(&t);
}

/* Cherries that go in on day 30 have not faded before. */
static void what_goes_in_late_fades_late(void **state)
{
    struct st_jar j;
    struct st_jar_told t;
    (void)state;
    cherries(&j, 90, 20);
    assert_true(st_jar_split(&j, 0, 30 * DAY));
    j.piece[0].lies[0] = 0.0;
    kit_run(&j, &(struct st_jar_options){ .seed = 1 }, &t);
    by_law(&t, 30 * DAY, 3 * 30.4375 * DAY, 1e-9);
    st_jar_told_done(&t);
    /* strained out on day 30: what they gave goes on fading */
    cherries(&j, 90, 20);
    assert_true(st_jar_split(&j, 0, 30 * DAY));
    j.piece[0].lies[1] = 0.0;
    kit_run(&j, &(struct st_jar_options){ .seed = 1 }, &t);
    by_law(&t, 0.0, 3 * 30.4375 * DAY, 1e-9);
    st_jar_told_done(&t);
}

/* Milligrams in the liquid and what readings of colour are held against fade too, and what faded is booked: with it all
 * is there. */
static void colour_that_is_seen_fades(void **state)
{
    struct st_jar j, alone;
    struct st_jar_told t;
    double theta[ST_NTHETA] = { 0 };
    (void)state;
    cherries(&j, 365.25, 20);
    for (int m = 0; m < j.piece[0].n_marker; m++)
        if (strncmp(j.piece[0].marker[m].what->name, "cyanidin", 8) == 0)
            j.piece[0].marker[m].mg_g = (struct st_range){ 1, 0.8, 1.2, true, 'm', "for this test" };
    alone = j;
    assert_true(st_jar_run_thetas(&alone, &(struct st_jar_options){ .seed = 1 }, 1, theta, &t) >= 0);
    const struct st_jar_curve *red = kit_curve(&t, 0, RED);
    const int n = t.n_time - 1;
    assert_true(red->mg_l.at && red->here.raw);
    for (int i = n / 2; i <= n;
         i++) { /* of what has come, 2^-(t/half) is in the liquid; its volume hardly changes by then */
        const double now = red->given.at[i].value * exp2(-t.t_s[i] / (3 * 30.4375 * DAY));
        const double last = red->given.at[n].value * exp2(-t.t_s[n] / (3 * 30.4375 * DAY));
        assert_about(red->mg_l.at[i].value / red->mg_l.at[n].value, now / last, 0.02 * now / last);
        assert_about(red->here.raw[i] / red->here.raw[n], now / last, 0.02 * now / last);
    }
    assert_true(red->mg_l.at[n].value < 0.2 * red->mg_l.at[n / 2].value);
    assert_true(t.closure <= 1e-9);
    st_jar_told_done(&t);
}

/* A jar that is warmed and cooled: the integral of the rate. */
static void a_path_of_warmth(void **state)
{
    struct st_jar j;
    struct st_jar_told t;
    double k, sum = 0.0;
    (void)state;
    cherries(&j, 10, 20);
    j.stage[0].n_heat = 2;
    j.stage[0].heat[0] = (struct st_jar_heat){ 0.0, 278.15 };
    j.stage[0].heat[1] = (struct st_jar_heat){ 10 * DAY, 318.15 };
    kit_run(&j, &(struct st_jar_options){ .seed = 1 }, &t);
    const int n = 20000;
    for (int i = 0; i < n; i++) {
        assert_true(st_fading_rate(278.15 + 40.0 * (i + 0.5) / n, &k) >= 0);
        sum += k * 10 * DAY / n;
    }
    const struct st_jar_curve *red = kit_curve(&t, 0, RED);
    const double left = red->at_plan.value / red->given.at[t.n_time - 1].value;
    assert_about(left, exp(-sum), 2e-4);
    assert_about(red->fade_s.value, log(2.0) * 10 * DAY / sum, 1e-3 * red->fade_s.value);
    st_jar_told_done(&t);
}

/* Entries of what faded, added up: with what is left they are what was given, of every draw, time, curve and family. */
static void books_balance(const struct st_jar_told *t, double since_s, double half_s)
{
    int n = 0;
    for (int c = 0; c < t->n_curve + t->n_family; c++) {
        const struct st_jar_curve *k = c < t->n_curve ? &t->curve[c] : &t->family[c - t->n_curve];
        assert_true((k->faded.at != NULL) == k->fades);
        for (int i = 0; k->fades && i < t->n_time; i++) {
            const double given = k->given.at[i].value;
            assert_about(k->share.at[i].value + k->faded.at[i].value, given, 1e-9);
            assert_about(k->faded.at[i].value, given * (1.0 - exp2(-fmax(t->t_s[i] - since_s, 0.0) / half_s)), 1e-9);
            assert_true(i == 0 || k->faded.at[i].value >= k->faded.at[i - 1].value - 1e-12);
            for (int d = 0; k->faded.raw && d < t->draws; d++, n++)
                assert_about(k->share.raw[i * t->draws + d] + k->faded.raw[i * t->draws + d],
                             k->given.raw[i * t->draws + d], 1e-9);
        }
    }
    assert_true(n > 0);
    assert_true(t->closure <= 1e-9);
}

static void what_faded_is_in_the_books(void **state)
{
    const double half = 3 * 30.4375 * DAY;
    const struct st_jar_options o = { .seed = 1, .draws = 60, .shells = 16, .tolerance = 1e-4, .keep = true };
    struct st_jar j;
    struct st_jar_told t;
    (void)state;
    cherries(&j, 180, 20);
    kit_run(&j, &o, &t);
    books_balance(&t, 0.0, half);
    st_jar_told_done(&t);
    /* put in late, with raspberries, of which the red has faded for longer: a family of both */
    cherries(&j, 180, 20);
    kit_add(&j, "raspberries", 200, 0);
    assert_true(st_jar_split(&j, 0, 60 * DAY));
    j.piece[0].lies[0] = 0.0;
    kit_run(&j, &o, &t);
    const struct st_jar_curve *early = kit_curve(&t, 1, RED), *late = kit_curve(&t, 0, RED);
    int both = 0;
    for (int f = 0; f < t.n_family; f++)
        for (int i = 0; t.family[f].fades && i < t.n_time; i++, both++) {
            const struct st_jar_curve *all = &t.family[f];
            assert_about(all->share.at[i].value + all->faded.at[i].value, all->given.at[i].value, 1e-9);
            assert_about(all->faded.at[i].value, 0.5 * (early->faded.at[i].value + late->faded.at[i].value), 1e-9);
        }
    assert_true(both > 0 && t.closure <= 1e-9);
    st_jar_told_done(&t);
}

/* Cherries steeped, strained, and steeped again in fresh spirit: the second jar's clock, shares and entries begin when it
 * is filled, and its milligrams are what they are by any clock. */
static void a_second_pour_fades_by_its_own_clock(void **state)
{
    const double half = 3 * 30.4375 * DAY;
    const struct st_jar_options all = { .seed = 1, .draws = 40, .shells = 16, .tolerance = 1e-4, .keep = true };
    struct st_jar_options own_o = all;
    struct st_jar j;
    struct st_jar_told own, whole;
    (void)state;
    own_o.own_clock = true;
    cherries(&j, 40, 20);
    assert_true(st_jar_split(&j, 0, 10 * DAY));
    j.stage[0].step = 0;
    j.stage[1].step = 1;
    j.stage[0].strain = true;
    j.stage[1].n_take = 0;
    st_jar_pour_spirit(&j, 400, 50, 1);
    for (int m = 0; m < j.piece[0].n_marker; m++)
        if (strncmp(j.piece[0].marker[m].what->name, "cyanidin", 8) == 0)
            j.piece[0].marker[m].mg_g = (struct st_range){ 1, 0.8, 1.2, true, 'm', "for this test" };
    kit_run(&j, &own_o, &own);
    kit_run(&j, &all, &whole);
    assert_about(own.filled_s, 10 * DAY, 1e-6);
    assert_about(own.t_s[0], 0.0, 1e-6);
    books_balance(&own, 0.0, half);
    books_balance(&whole, 0.0, half);
    by_law(&own, 0.0, half, 1e-9);
    const struct st_jar_curve *o = kit_curve(&own, 0, RED), *w = kit_curve(&whole, 0, RED);
    int at = 0;
    while (whole.stage[at] != 1)
        at++;
    const double before = w->given.at[at].value;
    assert_true(before > 0.05 && before < 0.9);
    assert_about(o->before.value, before, 1e-9);
    for (int i = 0; i < own.n_time; i++) {
        assert_about(own.t_s[i] + 10 * DAY, whole.t_s[at + i], 1e-3);
        assert_about(o->given.at[i].value, (w->given.at[at + i].value - before) / (1.0 - before), 1e-9);
        assert_about(o->mg_l.at[i].value, w->mg_l.at[at + i].value, 1e-9 * (1.0 + w->mg_l.at[at + i].value));
    }
    assert_true(o->most_s.value > 0.0 && o->faded.at[own.n_time - 1].value > 0.1);
    st_jar_told_done(&own);
    st_jar_told_done(&whole);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(red_halves_as_core_says),
        cmocka_unit_test(half_a_year_at_20),
        cmocka_unit_test(what_goes_in_late_fades_late),
        cmocka_unit_test(colour_that_is_seen_fades),
        cmocka_unit_test(a_path_of_warmth),
        cmocka_unit_test(what_faded_is_in_the_books),
        cmocka_unit_test(a_second_pour_fades_by_its_own_clock),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
