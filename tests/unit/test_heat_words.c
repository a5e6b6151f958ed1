/* Words of heat: found as whole words, not where they are taken back or mean something else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "text/heat_pan.h"
#include "text/heat_words.h"

static void fire(void **state)
{
    static const char *const YES[] = {
        "Simmer gently.", "bring it to the boil", "over a gas flame", "Flambé it", "FLAMBE", "on the hob", "Put it on the stove",
        "in the oven at 80", "Light it with a match", "set alight in the cup", "a candle under the dish", "boiling for an hour",
        "Never mind. Boil it.", "warm it on a hotplate", "heat the wine",
    };
    static const char *const NO[] = {
        "", "never boil it", "do not let it simmer", "away from any flame", "off the heat", "without heating", "no open fire",
        "unboiled", "a lighter glass", "a warm place", "the stovepipe", "hobnail jar", "flameproof", "shake at once",
    };
    (void)state;
    for (size_t i = 0; i < sizeof YES / sizeof YES[0]; i++)
        if (!(st_heat_in(YES[i], NULL, 0) & ST_HEAT_WARMED))
            fail_msg("'%s' tells of no heat", YES[i]);
    for (size_t i = 0; i < sizeof NO / sizeof NO[0]; i++)
        if (st_heat_in(NO[i], NULL, 0))
            fail_msg("'%s' is read as heat", NO[i]);
}

static void hot(void **state)
{
    (void)state;
    assert_true(st_says_hot("pour the boiling syrup into the spirit", false));
    assert_true(st_says_hot("Pour in while warm", false));
    assert_true(st_says_hot("stir in at once", true));
    assert_false(st_says_hot("stir in at once", false));
    assert_false(st_says_hot("never hot", true));
    assert_false(st_says_hot("hot chillies, hot pepper", true));
    assert_false(st_says_hot("a shot of it", true));
    assert_false(st_says_hot(NULL, true));
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(fire), cmocka_unit_test(hot) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
