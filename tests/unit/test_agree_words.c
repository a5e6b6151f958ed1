/* Whether readings agree, said to a cook: every verdict, slip and use has its words and its key. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "text/agree_words.h"

static char text[ST_AGREE_TEXT];

static const struct st_observation SEEN[3] = {
    { .what = ST_SEEN_SG, .value = 1.066, .of = "" },
    { .what = ST_SEEN_BRIX, .value = 27.4, .of = "" },
    { .what = ST_SEEN_FLASK_G, .value = 104.3, .flask_ml = 100.0, .of = "" },
};

static struct st_interval ends(double value, double low, double high)
{
    return (struct st_interval){ .value = value, .low = low, .high = high, .known = true };
}

static struct st_agreement found(enum st_agree_doubt doubt, int n)
{
    struct st_agreement a = { .n = n, .p = 0.43, .df = n, .agree = true, .suspect = -1, .rival = -1, .doubt = doubt };
    for (int i = 0; i < n; i++) {
        a.reading[i].what = SEEN[i].what;
        a.reading[i].before = ends(1.046, 1.0403, 1.0517);
        a.reading[i].after = ends(1.0481, 1.0462, 1.05);
        a.reading[i].others = ends(1.0461, 1.0442, 1.048);
    }
    if (doubt != ST_DOUBT_NONE) {
        a.agree = false;
        a.p = 0.0004;
    }
    if (doubt == ST_DOUBT_EITHER || doubt == ST_DOUBT_READING)
        a.suspect = 0;
    a.without[ST_AGREE_STRENGTH] = ends(26.0, 25.4, 26.6);
    a.without[ST_AGREE_SUGAR] = ends(96.0, 90.0, 102.0);
    return a;
}

static void holds(const char *what)
{
    if (!strstr(text, what))
        fail_msg("`%s` is not in: %s", what, text);
}

static void verdicts(void **state)
{
    (void)state;
    struct st_agreement a = found(ST_DOUBT_NONE, 1);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    assert_string_equal(text, "Your hydrometer and the recipe agree.");
    a = found(ST_DOUBT_NONE, 3);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    assert_string_equal(text, "Your 3 readings and the recipe agree.");
    a.reading[0].use = a.reading[1].use = a.reading[2].use = ST_AGREE_OTHER_KIND;
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("Nothing was read");
    a = found(ST_DOUBT_EITHER, 1);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds(
        "Your hydrometer and the recipe do not agree: it says 1.066 (20/20 °C), and by the recipe it should be 1.046, "
        "likely between 1.040 and 1.052.");
    holds("cannot tell which");
    a = found(ST_DOUBT_READING, 3);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("The one to doubt is the hydrometer: it says 1.066 (20/20 °C), and by the recipe and the other readings it "
          "should "
          "be 1.0461");
    assert_null(strstr(text, "as well"));
    a.rival = 2;
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("It may as well be the weighed flask");
    a = found(ST_DOUBT_RECIPE, 3);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("The one to doubt is the recipe");
    holds("sugar 96 g/L, likely between 90 and 102");
    a = found(ST_DOUBT_UNCLEAR, 3);
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("no single reading makes the difference");
}

static void slips(void **state)
{
    (void)state;
    struct st_agreement a = found(ST_DOUBT_READING, 3);
    for (int i = 0; i < ST_NSLIP; i++) {
        a.slip = (enum st_agree_slip)i;
        a.slip_value = i == ST_SLIP_WARM ? 306.15 : i == ST_SLIP_NOT_MADE_UP ? 0.8 : 105.7;
        st_agree_slip_words(text, sizeof text, &a, SEEN);
        assert_true(strlen(text) > 20 && text[strlen(text) - 1] != ' ');
        assert_null(strstr(text, "%s"));
        assert_null(strstr(text, "%%"));
        assert_true(*st_agree_slip_code(a.slip));
        for (int k = 0; k < i; k++)
            assert_string_not_equal(st_agree_slip_code(a.slip), st_agree_slip_code((enum st_agree_slip)k));
    }
    a.slip = ST_SLIP_WARM;
    a.slip_value = 306.15;
    st_agree_slip_words(text, sizeof text, &a, SEEN);
    holds("a liquid of about 33 °C");
    a.slip = ST_SLIP_WRONG_FLASK;
    a.slip_value = 105.72;
    a.suspect = 2;
    st_agree_slip_words(text, sizeof text, &a, SEEN);
    holds("a flask of 106 mL");
    a.slip = ST_SLIP_VESSEL_WEIGHED;
    a.slip_value = 48.2;
    st_agree_slip_words(text, sizeof text, &a, SEEN);
    holds("about 48 g too heavy");
    a.suspect = -1;
    st_agree_slip_words(text, sizeof text, &a, SEEN);
    assert_string_equal(text, "");
}

static void single_readings(void **state)
{
    (void)state;
    struct st_agreement a = found(ST_DOUBT_NONE, 3);
    st_agree_reading_words(text, sizeof text, &a, SEEN, 0);
    holds("hydrometer, 1.066 (20/20 °C): foretold 1.046, likely between 1.040 and 1.052; by all together 1.048");
    a.reading[0].standard = (double)NAN;
    st_agree_reading_words(text, sizeof text, &a, SEEN, 0);
    holds("nothing else says anything");
    for (int u = ST_AGREE_OTHER_KIND; u <= ST_AGREE_NOT_FORETOLD; u++) {
        a.reading[1].use = (enum st_agree_use)u;
        st_agree_reading_words(text, sizeof text, &a, SEEN, 1);
        holds("refractometer, 27.4 °Bx: not used; ");
        assert_true(*st_agree_use_code((enum st_agree_use)u));
    }
    for (int k = 0; k < ST_NSEEN; k++)
        assert_true(*st_agree_instrument((enum st_seen)k));
}

static void remarks(void **state)
{
    (void)state;
    struct st_agreement a = found(ST_DOUBT_READING, 3);
    a.refractometer = a.warm_unsaid = a.reading[0].warm_unsaid = true;
    int n = 0;
    for (st_agree_remark(text, sizeof text, &a, 0); *text; st_agree_remark(text, sizeof text, &a, ++n))
        assert_true(text[strlen(text) - 1] == '.');
    assert_int_equal(n, 4);
    st_agree_remark(text, sizeof text, &a, 0);
    holds("fewer than 1 of 1000");
    st_agree_remark(text, sizeof text, &a, 1); /* so far apart that no fit of both is told */
    holds("so far apart supports no figure");
    st_agree_reading_words(text, sizeof text, &a, SEEN, 0);
    assert_null(strstr(text, "together"));
    a.p = 0.004;
    st_agree_remark(text, sizeof text, &a, 1);
    holds("given twice: with all, and without the one in doubt.");
    a.doubt = ST_DOUBT_RECIPE;
    st_agree_remark(text, sizeof text, &a, 1);
    holds("given twice: with all, and by the readings without the recipe.");
    a.doubt = ST_DOUBT_READING;
    st_agree_remark(text, sizeof text, &a, 2);
    holds("0.5 % vol");
    st_agree_remark(text, sizeof text, &a, 3);
    holds("20 °C");
    holds("warm the liquid was for the hydrometer:"); /* the one that lacked it, no other */
    a.reading[1].what = ST_SEEN_SG;
    st_agree_remark(text, sizeof text, &a, 3);
    holds("as of one instrument");
    a = found(ST_DOUBT_UNCLEAR, 3);
    st_agree_remark(text, sizeof text, &a, 1);
    holds("supports no figure");
    st_agree_reading_words(text, sizeof text, &a, SEEN, 0);
    assert_null(strstr(text, "together"));
    a.no_liquid = true;
    st_agree_verdict_words(text, sizeof text, &a, SEEN);
    holds("There is no such liquid");
    a = found(ST_DOUBT_NONE, 1);
    st_agree_remark(text, sizeof text, &a, 0);
    holds("43 of 100");
    st_agree_remark(text, sizeof text, &a, 1);
    assert_string_equal(text, "");
}

/* However small the room: it ends in NUL and nothing is written past it. */
static void small_rooms(void **state)
{
    (void)state;
    for (int d = ST_DOUBT_NONE; d <= ST_DOUBT_UNCLEAR; d++) {
        struct st_agreement a = found((enum st_agree_doubt)d, 3);
        assert_true(*st_agree_doubt_code((enum st_agree_doubt)d));
        a.slip = ST_SLIP_WARM;
        a.slip_value = 300.0;
        for (size_t size = 1; size < 200; size++) {
            memset(text, 'x', sizeof text);
            st_agree_verdict_words(text, size, &a, SEEN);
            assert_true(memchr(text, '\0', size) && text[size] == 'x');
            st_agree_slip_words(text, size, &a, SEEN);
            assert_true(memchr(text, '\0', size) && text[size] == 'x');
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts), cmocka_unit_test(slips),       cmocka_unit_test(single_readings),
        cmocka_unit_test(remarks),  cmocka_unit_test(small_rooms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
