/* What words heat: spirit, or a syrup that is cold before it meets spirit.  The steps hold spirit; whatever is not
 * wholly understood must alarm. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "text/heat_pan.h"

static void no_spirit_is_heated(void **state)
{
    static const char *const WORDS[] = {
        "Boil sugar and water to syrup, cool, mix with the spirit.",
        "Boil the sugar and the water to a syrup. Let it cool. Mix with the vodka.",
        "Bring 200 g sugar and 200 ml water to the boil, leave to cool completely and add to the spirit.",
        "Make a syrup of the sugar and water over low heat, let it cool to room temperature, then stir in the gin.",
        "Dissolve the sugar in the hot water and leave until cold. Pour in the vodka.",
        "Put sugar and water in a saucepan and simmer for 5 minutes. When cold, add the vodka.",
        "Put the sugar and water in a pan, bring to the boil, cool, add to the jar.",
        "Steep the peel in the vodka for 2 weeks. Boil sugar and water to syrup, cool, mix with the spirit.",
        "Let the hot syrup cool, then add the rum.",
        "Add the vodka when the syrup is cold, never while it is hot.",
        "Boil the sugar with the water, skim off the scum, cool to 20 °C and mix with the spirit.",
        "Cool the boiled syrup before adding it to the vodka.",
        "Mix the spirit with the cooled syrup.",
        "Heat the water and sugar gently until all the sugar has dissolved; chill overnight; combine with the "
        "infusion.",
        "Before adding the vodka, let the syrup cool.",
        "Wash the lemons in hot water. Cover with the spirit.",
        "Boil sugar and water, remove from the heat, cool for two hours, add the brandy.",
        "Stand it in a warm, dark place. Keep away from flames, stoves and candles.",
        "Do not boil or heat it.",
        "Stir cold.",
        "Prepare the syrup by boiling the sugar in the water, once cooled add the infusion.",
        "Make a simple syrup: heat equal parts of sugar and water until clear. Let cool. Combine with the infused "
        "vodka.",
        "Boil sugar and water and add vodka once cool.",
        "When the syrup has cooled, stir in the vodka.",
        "Dilute with cold boiled water.",
        "Add the boiled and cooled water.",
        "Boil sugar and water to a syrup, let it go cold and add it.",
        "Boil sugar and water to a syrup. Let it go cold and add it.",
        "Cool the jar in a cold water bath.",
        "Keep the jar away from the radiator.",
        "Sterilise the jar in the oven at 120 C.",
        "Leave it in the sun at 25 °C for a week.",
        "Let the jar cool below 60 C.",
    };
    (void)state;
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (st_heat_in(WORDS[i], NULL, 0))
            fail_msg("'%s' alarms: %u", WORDS[i], st_heat_in(WORDS[i], NULL, 0));
    assert_int_equal(st_heat_in(NULL, NULL, 0), 0);
}

static void alarms(const char *const words[], size_t n, unsigned of)
{
    for (size_t i = 0; i < n; i++)
        if (!(st_heat_in(words[i], NULL, 0) & of))
            fail_msg("'%s' does not alarm: %u", words[i], st_heat_in(words[i], NULL, 0));
}

static void spirit_is_warmed(void **state)
{
    static const char *const WORDS[] = {
        "Put the jar in a low oven, 80 C, for 4 hours.", "Stand the jar in a water bath at 60 °C.",
        "Leave the jar on the radiator overnight.", "Leave it in the sun at 45 °C for a week.",
        "Keep the jar at 110 F for a day.", "Keep the jar at 50 degrees C.",
        "Sterilise the jar in the oven with the vodka in it.",
        "Warm the spirit gently.",
        "Simmer everything.",
        "Gently warm the vodka with the sugar.",
        "Simmer for an hour, cool, bottle.",
        "Add sugar and water and boil, cool, bottle.",
        "Boil with the sugar and water, cool.",
        "Heat gently until the sugar has dissolved in the water, cool.",
        "Heat the sugar gently, cool.",
        "Dissolve the sugar in it over low heat, cool, strain.",
        "Mix the spirit with sugar and water. Boil the sugar and water, cool.",
        "Do not boil, just heat gently, then cool.",
        "Do not boil, warm gently, then cool.",
        "Simmer the drained damsons with sugar and water, cool, add more vodka.",
        "Boil sugar, water and the liquor of the fruit to syrup, cool.",
        "Boil the whole lot with water, cool.",
        "Put sugar and water in a pan with the aquavit, bring to the boil, cool.",
        "Pour the aquavit into the pan. Add sugar and water and boil to syrup, cool.",
        "Boil sugar and water to syrup, cool, mix with the spirit and warm it again.",
        "Boil sugar and water, cool, mix with the spirit, set alight.",
        "There is no need to boil the spirit, warming is enough.",
        "Keep it on the stove.",
        "Burn off the alcohol.",
        "Combine all ingredients in a pan. Boil 5 minutes, cool.",
    };
    (void)state;
    alarms(WORDS, sizeof WORDS / sizeof WORDS[0], ST_HEAT_WARMED);
}

static void hot_meets_spirit(void **state)
{
    static const char *const WORDS[] = {
        "Add the vodka to the hot syrup.",
        "Boil sugar and water to syrup, mix with the spirit.",
        "Boil sugar and water to syrup, mix with the spirit, cool.",
        "Boil sugar and water to syrup, mix with the spirit and cool.",
        "Boil sugar and water, add the cold vodka.",
        "Boil sugar and water. Do not let it cool, pour in the gin.",
        "Boil sugar and water, add the rum before it cools.",
        "Boil sugar and water, cool slightly, add the rum.",
        "Boil sugar and water, cool to 60 °C, add the rum.",
        "Boil sugar and water, let cool for 10 minutes, add the rum.",
        "Boil sugar and water, cool to lukewarm, add the brandy.",
        "Boil sugar and water, remove from the heat, add the vodka.",
        "Boil sugar and water, take off the heat and drown in aquavit, cool.",
        "Boil sugar and water, add to it, cool.",
        "Mix the spirit with the hot syrup until cold.",
        "Pour the boiling syrup into the spirit.",
        "When the syrup has boiled, add the vodka.",
        "Boil sugar and water, put in a cool place, add the vodka.",
        "Boil sugar and water; as it is cooling add the vodka.",
        "Boil sugar and water, cool it with vodka.",
        "Boil sugar and water, cool by adding vodka.",
        "Boil sugar and water. Cool the vodka. Mix.",
        "While the syrup is hot, stir in the vodka.",
    };
    (void)state;
    alarms(WORDS, sizeof WORDS / sizeof WORDS[0], ST_HEAT_POURED);
}

/* What is boiled and never cooled is hot still. */
static void left_hot(void **state)
{
    static const char *const WORDS[] = { "Boil sugar and water to syrup.",
                                         "Heat the water and honey. Do not let it cool.",
                                         "Before adding the vodka, boil the sugar and water." };
    (void)state;
    alarms(WORDS, sizeof WORDS / sizeof WORDS[0], ST_HEAT_LEFT);
}

/* What the step brings in itself may be boiled where the spirit is added after it, by its name; not otherwise. */
static void names_of_the_step(void **state)
{
    static const char *const NAME[] = { "damson", "lemon peel" };
    (void)state;
    assert_int_equal(st_heat_in("Simmer the damsons in the water, cool, strain, add the vodka.", NAME, 2), 0);
    assert_int_equal(st_heat_in("Boil water, sugar and lemon peel, cool, add to the vodka.", NAME, 2), 0);
    assert_true(st_heat_in("Simmer the damsons in the water, cool, strain.", NAME, 2) & ST_HEAT_WARMED);
    assert_true(st_heat_in("Simmer the damsons in the water, cool, strain, add the vodka.", NULL, 0) & ST_HEAT_WARMED);
    assert_true(
        st_heat_in("Steep the damsons in vodka. Simmer the damsons in the water, cool, add more vodka.", NAME, 2) &
        ST_HEAT_WARMED);
    assert_true(st_heat_in("Simmer the damsons in the water, strain, add the vodka, cool.", NAME, 2) & ST_HEAT_POURED);
}

/* However long, it ends, and a clause too long to be understood alarms. */
static void long_texts(void **state)
{
    static const char BEGIN[] = "boil water", MORE[] = " of sugar";
    static char text[4000];
    (void)state;
    memcpy(text, BEGIN, sizeof BEGIN);
    for (size_t n = sizeof BEGIN - 1; n + sizeof MORE < sizeof text; n += sizeof MORE - 1)
        memcpy(text + n, MORE, sizeof MORE);
    assert_true(st_heat_in(text, NULL, 0) & ST_HEAT_WARMED);
    assert_true(st_heat_in("boil \xff\xfe \xe2\x80", NULL, 0) & ST_HEAT_WARMED);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_spirit_is_heated), cmocka_unit_test(spirit_is_warmed),
        cmocka_unit_test(hot_meets_spirit),    cmocka_unit_test(left_hot),
        cmocka_unit_test(names_of_the_step),   cmocka_unit_test(long_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
