/* One line of free text: what it is read as, what is asked, and that every answer offered is a line of its own. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "text/take_line.h"
#include "text/take_words.h"
#include "util/embedded.h"

static struct st_catalogue *catalogue;
static struct st_take_item item[ST_TAKE_ITEMS];

static int take(const char *text, enum st_measures m)
{
    struct st_take_context context = { .measures = m };
    return st_take_line(text, strlen(text), catalogue, &context, item);
}

static void expect(const char *text, enum st_measures m, const char *reading)
{
    char all[1200] = "";
    const int n = take(text, m);
    size_t used = 0;

    for (int i = 0; i < n; i++) {
        char one[400];
        st_take_reading(&item[i], one, sizeof one);
        used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", i ? " + " : "", one);
    }
    if (strcmp(all, reading) != 0)
        fail_msg("'%s' is read as '%s', not as '%s'", text, all, reading);
}

static const struct st_take_ask *asked(const struct st_take_item *it, enum st_take_kind kind)
{
    for (int i = 0; i < it->n_ask; i++)
        if (it->ask[i].kind == kind)
            return &it->ask[i];
    fail_msg("not asked: %s", st_take_kind_name(kind));
    return NULL;
}

static void words_are_in_order(void **state)
{
    const struct st_embedded *file = st_embedded_find("data/take.words");
    struct st_problem p;

    (void)state;
    assert_non_null(file);
    assert_int_equal(st_words_check((const char *)file->bytes, file->size, &p), 0);
    assert_int_equal(st_words_check("drop\tlovely\nnonsense\tx\n", 23, &p), -1);
    assert_int_equal(p.at.line, 2);
    assert_int_equal(st_words_check("drop lovely\n", 12, &p), -1);
    assert_int_equal(st_words_check("drop\tLovely\n", 12, &p), -1);
    assert_null(st_words_value(ST_WORD_NAME, "no such thing"));
}

/* Strengths asked about must be kinds of the sheet: a slug that was renamed would be lost in silence. */
static void strengths_are_of_the_sheet(void **state)
{
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(catalogue); i++) {
        const struct st_ingredient *in = st_catalogue_at(catalogue, i);
        if (in->kind == ST_KIND_SPIRIT && !in->strength.known && in->n_caution == 0 &&
            !st_words_value(ST_WORD_USUAL, in->slug))
            fail_msg("no usual strength is listed for %s", in->slug);
    }
}

static void plain_lines(void **state)
{
    (void)state;
    expect("340g gooseberries, topped and tailed", ST_MEASURES_METRIC, "gooseberry 340 g");
    expect("&frac12; lb <b>damsons</b>", ST_MEASURES_METRIC, "damson 226.796 g");
    expect("- [x] 2 kg of lovely ripe plums from our garden", ST_MEASURES_METRIC, "plum_fresh 2000 g");
    expect("juice of 1 lemon or lime", ST_MEASURES_METRIC, "lemon_juice 1 piece or lime_juice");
    expect("zest of 1 lemon and 1 orange", ST_MEASURES_METRIC, "lemon_peel_fresh 1 piece + orange_peel_fresh 1 piece");
    expect("1 (750 ml) bottle of 96 % spirit", ST_MEASURES_NONE, "spirit_neutral 750 mL strength 96");
    assert_string_equal(item[0].line.text, item[0].as);
}

static void what_is_not_sure_is_told(void **state)
{
    (void)state;
    assert_int_equal(take("500 g damsens", ST_MEASURES_METRIC), 1);
    assert_string_equal(item[0].line.what->slug, "damson");
    assert_int_equal(take("500 g damsans", ST_MEASURES_METRIC), 1);
    assert_int_equal(item[0].sure, ST_LIKELY);
    assert_non_null(strstr(item[0].because, "damsans"));
    assert_int_equal(take("500 g Merryfield damsons", ST_MEASURES_METRIC), 1);
    assert_int_equal(item[0].sure, ST_LIKELY);
    assert_int_equal(take("a handful of mint", ST_MEASURES_METRIC), 1);
    assert_int_equal(item[0].sure, ST_GUESS);
    assert_true(item[0].line.amount.low < item[0].line.amount.high);
    assert_int_equal(take("1 kg sugar (2 kg)", ST_MEASURES_METRIC), 1);
    (void)asked(&item[0], ST_ASK_AMOUNT);
}

/* What a line names without an amount is a thing of its own; what only says how it is stays with it. */
static void bare_names_behind_commas(void **state)
{
    static const struct {
        const char *text, *reading;
    } CASE[] = {
        { "700 mL vodka 40 %, some wormwood", "vodka 700 mL strength 40 + wormwood some" },
        { "700 mL vodka 40 %, a little honey", "vodka 700 mL strength 40 + honey some" },
        { "700 mL vodka 40 %, cinnamon", "vodka 700 mL strength 40 + cinnamon_stick some" },
        { "700 mL vodka (40 %), cinnamon (one stick)", "vodka 700 mL strength 40 + cinnamon_stick some" },
        { "700 mL vodka 40 %, bitter almonds", "vodka 700 mL strength 40 + almond_bitter some" },
        { "700 mL vodka 40 %, my neighbour's bitter almonds", "vodka 700 mL strength 40" }, /* told by the whole text */
        { "700 mL vodka 40 % - wormwood", "vodka 700 mL strength 40" },
        { "vodka 40 % 700 ml with wormwood", "vodka 700 mL strength 40" },
        { "2 cloves, wormwood", "clove 2 piece + wormwood some" },
        { "500 g damsons, sugar", "damson 500 g + sugar_white some" },
        { "some sugar; 700 mL vodka 40%", "sugar_white some + vodka 700 mL strength 40" },
        { "cinnamon, vodka 40 % 700 ml, sugar 200 g",
          "cinnamon_stick some + vodka 700 mL strength 40 + sugar_white 200 g" },
        { "1 L vodka 40 %, milk, sugar, cocoa",
          "vodka 1000 mL strength 40 + milk_whole some + sugar_white some + cocoa_powder some" },
        { "damsons, sugar and 1 L gin 40 %", "damson some + sugar_white some + gin 1000 mL strength 40" },
        { "500 g walnuts, quartered", "walnut_kernel 500 g" },
        { "1 lemon, zest only", "lemon_peel_fresh 1 piece" },
        { "vodka 40 %, 700 mL", "vodka 700 mL strength 40" },
        { "cloves, whole, 5", "clove 5 piece" },
        { "300 g cherries, in syrup", "cherry_sweet 300 g" },
        { "500 g sugar, brown", "sugar_brown 500 g" },
        { "100 g coffee, freshly roasted beans", "coffee_bean_roasted 100 g" },
        { "500 ml rum, white, 40 %", "rum 500 mL strength 40" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++)
        expect(CASE[i].text, ST_MEASURES_METRIC, CASE[i].reading);
}

static void every_option_is_a_line(void **state)
{
    static const char *const TEXT[] = { "700 ml vodka",
                                        "2 cups sugar",
                                        "2 lemons",
                                        "a bottle of gin",
                                        "fill the jar with sloes",
                                        "half a bottle of red wine",
                                        "1 pint gin",
                                        "vodka to cover",
                                        "1 tin condensed milk" };
    struct st_line line;
    struct st_problem p;

    (void)state;
    for (size_t t = 0; t < sizeof TEXT / sizeof TEXT[0]; t++) {
        assert_int_equal(take(TEXT[t], ST_MEASURES_NONE), 1);
        assert_true(item[0].n_ask > 0);
        for (int a = 0; a < item[0].n_ask; a++)
            for (int i = 0; i < item[0].ask[a].n_option; i++)
                if (st_line_parse(item[0].ask[a].option[i].as, ST_MEASURES_NONE, catalogue, &line, &p) != 0)
                    fail_msg("'%s' of '%s': %s", item[0].ask[a].option[i].as, TEXT[t], p.what);
    }
}

static void strength_is_asked_with_the_usual_ones(void **state)
{
    (void)state;
    assert_int_equal(take("700 ml vodka", ST_MEASURES_METRIC), 1);
    const struct st_take_ask *ask = asked(&item[0], ST_ASK_STRENGTH);
    assert_int_equal(item[0].sure, ST_GUESS);
    assert_true(item[0].line.strength.low > 37.0 && item[0].line.strength.high < 44.0);
    assert_string_equal(ask->option[1].label, "40");
    assert_string_equal(ask->option[1].as, "700 ml vodka 40 %");
    assert_string_equal(ask->with, "700 ml vodka %s %");
    assert_int_equal(take("700 ml vodka, 38 %", ST_MEASURES_METRIC), 1);
    assert_int_equal(item[0].n_ask, 0);
    assert_int_equal(item[0].sure, ST_SURE);
}

static void measures_are_asked_once_and_then_known(void **state)
{
    struct st_take_context context = { 0 };
    static const char KNOWN[] = "2 US cups sugar", CUP[] = "1 cup water";

    (void)state;
    assert_int_equal(take("2 cups sugar", ST_MEASURES_NONE), 1);
    assert_int_equal(asked(&item[0], ST_ASK_MEASURES)->n_option, 3);
    assert_int_equal(st_take_line(KNOWN, strlen(KNOWN), catalogue, &context, item), 1);
    assert_int_equal(context.measures, ST_MEASURES_US);
    assert_int_equal(st_take_line(CUP, strlen(CUP), catalogue, &context, item), 1);
    assert_int_equal(item[0].n_ask, 0);
}

static void poison_is_no_spirit(void **state)
{
    static const char *const TEXT[] = {
        "1 l methylated spirits",   "500 ml rubbing alcohol 70 %",
        "1 l denatured alcohol",    "250 ml industrial alcohol, 96 %",
        "700 ml bio-ethanol (96%)", "Cover with 1 l methylated spirits and leave for 2 weeks"
    };

    (void)state;
    for (size_t t = 0; t < sizeof TEXT / sizeof TEXT[0]; t++) {
        const int n = take(TEXT[t], ST_MEASURES_METRIC);
        assert_true(n >= 1);
        assert_int_equal(item[0].sure, ST_UNREAD);
        assert_string_equal(item[0].as, "");
        assert_non_null(strstr(item[0].because, "poison"));
    }
}

static void deeds(void **state)
{
    (void)state;
    expect("Strain through muslin, squeezing well, and bottle in 2 x 500ml bottles.", ST_MEASURES_METRIC,
           "step steep press + step bottle size 500 mL bottles 2");
    expect("Put everything in a jar. Seal. Store in the dark for 6 weeks.", ST_MEASURES_METRIC, "step steep time 42 d");
    expect("Strain but do not squeeze.", ST_MEASURES_METRIC, "step steep");
    expect("Toast 50 g almonds at 180 C for 10 minutes", ST_MEASURES_METRIC,
           "almond_sweet 50 g + step toast time 10 min at 180 C");
    expect("Boil the sugar and water to a syrup.", ST_MEASURES_METRIC, "step syrup");
    expect("Cover the fruit with the vodka.", ST_MEASURES_METRIC, "note");
}

static void traps(void **state)
{
    static const char *const NOTE[] = { "Makes 2 bottles",
                                        "Serves 12",
                                        "no sugar",
                                        "Do not add 200 g sugar.",
                                        "We have made this since 1954",
                                        "If sharp, use 50 g more sugar." };

    (void)state;
    for (size_t i = 0; i < sizeof NOTE / sizeof NOTE[0]; i++)
        expect(NOTE[i], ST_MEASURES_METRIC, "note");
    expect("Quince liqueur", ST_MEASURES_METRIC, "title");
    expect("", ST_MEASURES_METRIC, "nothing");
    expect("2 kg snozzberries", ST_MEASURES_METRIC, "ask which");
}

static void too_much_is_said(void **state)
{
    char text[6000];

    (void)state;
    assert_int_equal(
        take("1 g sugar, 2 g salt, 3 g honey, 4 g cloves, 5 g mace, 6 g nutmeg, 7 g cassia", ST_MEASURES_METRIC),
        ST_TAKE_ITEMS);
    assert_int_equal(item[ST_TAKE_ITEMS - 1].sure, ST_UNREAD);
    memset(text, 'x', sizeof text);
    memcpy(text, "500 g sugar ", 12);
    struct st_take_context context = { 0 };
    const int n = st_take_line(text, sizeof text, catalogue, &context, item);
    assert_int_equal(item[n - 1].sure, ST_UNREAD);
    assert_non_null(strstr(item[n - 1].because, "too long"));
}

static void places_are_those_of_the_line(void **state)
{
    static const char TEXT[] = "\xe2\x80\xa2 1 kg sugar and 1 litre water";

    (void)state;
    assert_int_equal(take(TEXT, ST_MEASURES_METRIC), 2);
    assert_int_equal(item[0].at, 4);
    assert_memory_equal(TEXT + item[1].at + item[1].n - 5, "water", 5);
}

static int read_catalogue(void **state)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p;

    (void)state;
    if (!sheet)
        return -1;
    catalogue = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    return catalogue ? 0 : -1;
}

static int free_catalogue(void **state)
{
    (void)state;
    st_catalogue_free(catalogue);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_in_order),
        cmocka_unit_test(strengths_are_of_the_sheet),
        cmocka_unit_test(plain_lines),
        cmocka_unit_test(what_is_not_sure_is_told),
        cmocka_unit_test(bare_names_behind_commas),
        cmocka_unit_test(every_option_is_a_line),
        cmocka_unit_test(strength_is_asked_with_the_usual_ones),
        cmocka_unit_test(measures_are_asked_once_and_then_known),
        cmocka_unit_test(poison_is_no_spirit),
        cmocka_unit_test(deeds),
        cmocka_unit_test(traps),
        cmocka_unit_test(too_much_is_said),
        cmocka_unit_test(places_are_those_of_the_line),
    };
    return cmocka_run_group_tests(tests, read_catalogue, free_catalogue);
}
