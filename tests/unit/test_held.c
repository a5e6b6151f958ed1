/* What a name says: poisons are found in longer, turned round, plural and botanical names, and nowhere else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "text/held.h"

static const char *stop_in(const char *name)
{
    const struct st_ingredient *in = st_held_stop(all, name, strlen(name));
    return in ? in->slug : "";
}

static void poisons_are_found(void **state)
{
    static const char *const CASE[][2] = {
        { "dried yew", "yew" }, { "YEWS, fresh", "yew" }, { "flowers of oleander", "oleander" },
        { "rosebay oleander", "oleander" }, { "Taxus baccata", "yew" }, { "Nerium oleander, leaves", "oleander" },
        { "Digitalis purpurea", "foxglove" }, { "Aconitum", "aconite" }, { "Conium maculatum seed", "hemlock" },
        { "Atropa belladonna", "deadly_nightshade" }, { "Colchicum bulbs", "colchicum" },
        { "Convallaria", "lily_of_the_valley" }, { "Datura seeds", "thornapple" }, { "Brugmansia", "thornapple" },
        { "Cicuta", "water_hemlock" }, { "Oenanthe crocata root", "water_hemlock" },
        { "Ricinus communis", "castor_bean" }, { "Abrus", "rosary_pea" }, { "Daphne mezereum berries", "daphne" },
        { "a bay of cherry laurel leaves", "cherry_laurel" }, { "candied elder leaves", "elder_leaf" },
        { "Japanese star anise, ground", "star_anise_japanese" }, { "bay laurel cherry", "cherry_laurel" },
        { "tincture of foxglove", "foxglove" }, { "Viscum album", "mistletoe" }, { "dried fox gloves", "foxglove" }, { "deadly night shade", "deadly_nightshade" },
        { "monk's hood root", "aconite" }, { "wisteria blossom", "wisteria" }, { "unsere Taxus-Beeren", "yew" },
        { "cheap methylated spirits", "spirit_denatured" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++)
        if (strcmp(stop_in(CASE[i][0]), CASE[i][1]) != 0)
            fail_msg("'%s' says '%s', not '%s'", CASE[i][0], stop_in(CASE[i][0]), CASE[i][1]);
}

static void others_are_not(void **state)
{
    static const char *const NAME[] = {
        "yewtree honey", "elderflower", "elder flowers", "elderflower cordial", "elderberry", "Sambucus nigra",
        "bay leaf", "bay leaves", "bay laurel", "sweet woodruff", "star anise", "sea buckthorn jam", "hay", "sweet chestnut",
        "white grain spirit", "oak wood chips and spirit", "apple bitters", "bitter apple", "rhubarb", "lavender flowers",
        "parsley", "sour cherries", "saffron crocus", "jasmine flowers", "juniper", "mint",
        "rose petals at christmas", "golden raisins", "chain of gold", "angelica root", "gentian root", "ground ivory", "ground ivy", "alehoof",
        "sweet peas", "garden peas", "hedge strawberry", "vanilla", "",
    };
    (void)state;
    for (size_t i = 0; i < sizeof NAME / sizeof NAME[0]; i++)
        if (*stop_in(NAME[i]))
            fail_msg("'%s' is held to say %s", NAME[i], stop_in(NAME[i]));
}

static void ask(const char *before, const char *name, size_t n, const char *after, const struct st_ingredient *own)
{
    char text[300];
    (void)snprintf(text, sizeof text, "%s%.*s%s", before, (int)n, name, after);
    const struct st_ingredient *stop = st_held_stop(all, text, strlen(text));
    if (stop && !st_ingredient_is_stopped(own))
        fail_msg("'%s' (%s) is held to say %s", text, own->slug, stop->slug);
    if (!stop && st_ingredient_is_stopped(own))
        fail_msg("'%s' (%s) is not stopped", text, own->slug);
}

/* Every name of the sheet, alone and within a longer one: its own stop and no foreign one. */
static void no_name_gains_a_stop(void **state)
{
    int asked = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        ask("", in->name, strlen(in->name), "", in);
        for (const char *p = in->names; *p; asked++) {
            const size_t n = strcspn(p, "|");
            ask("", p, n, "", in);
            ask("my ", p, n, " of the orchard house", in);
            ask("syrup of ", p, n, ", strained", in);
            p += n + (p[n] == '|');
        }
    }
    assert_true(asked > 1000);
}

/* A name that says a poison is near to nothing: neither to another thing, nor is the poison proposed. */
static void hints_do_not_lead_away(void **state)
{
    static const char *const NAME[] = { "dried yew", "oleander petals", "hemlock spruce", "bryony roots, cut" };
    const struct st_ingredient *near[4];
    (void)state;
    for (size_t i = 0; i < sizeof NAME / sizeof NAME[0]; i++) {
        assert_int_equal(st_catalogue_near(all, NAME[i], strlen(NAME[i]), near, 4), 0);
        assert_true(*stop_in(NAME[i]));
    }
}

static bool one_is_stopped(const char *name, size_t size)
{
    const struct st_ingredient *near[8];
    const int n = st_catalogue_near(all, name, size, near, 8);
    for (int i = 0; i < n; i++)
        if (st_ingredient_is_stopped(near[i]))
            return true;
    return false;
}

/* No poison is proposed for any name of the sheet with a letter gone, nor for a made-up one. */
static void no_poison_is_proposed(void **state)
{
    static const char *const NAME[] = { "unicorn tincture", "laurel wotter", "elderberry twigs", "tonka",
                                        "damsn",            "hemlok",        "rosebay flowers" };
    char text[100];
    (void)state;
    for (size_t i = 0; i < sizeof NAME / sizeof NAME[0]; i++)
        if (one_is_stopped(NAME[i], strlen(NAME[i])))
            fail_msg("a poison is proposed for '%s'", NAME[i]);
    for (size_t i = 0; i < st_catalogue_count(all); i += 3) {
        (void)snprintf(text, sizeof text, "%.90s", st_catalogue_at(all, i)->name);
        text[strlen(text) - 1] = '\0';
        if (one_is_stopped(text, strlen(text)))
            fail_msg("a poison is proposed for '%s'", text);
    }
}

static const char *slip_of(const char *name)
{
    const struct st_ingredient *in = st_catalogue_slip(all, name, strlen(name));
    return in ? in->slug : "";
}

/* A poison misspelt is told; what is likelier something else is not. */
static void slips_are_told(void **state)
{
    static const char *const NONE[] = { "unicorn tincture", "damsn", "vodca", "hedgerow", "private water", "" };
    (void)state;
    assert_string_equal(slip_of("foxgloove"), "foxglove");
    assert_string_equal(slip_of("foxgloove leaves"), "foxglove");
    assert_string_equal(slip_of("hemlok"), "hemlock");
    assert_string_equal(slip_of("methilated spirits"), "spirit_denatured");
    for (size_t i = 0; i < sizeof NONE / sizeof NONE[0]; i++)
        if (*slip_of(NONE[i]))
            fail_msg("'%s' is held a slip of %s", NONE[i], slip_of(NONE[i]));
}

/* Preparations and parts of a poison say it too. */
static void parts_and_preparations(void **state)
{
    static const char *const CASE[][2] = {
        { "laurel water", "cherry_laurel" }, { "cherry-laurel water", "cherry_laurel" }, { "yew syrup", "yew" },
        { "oleander honey", "oleander" }, { "foxglove tea", "foxglove" }, { "hemlock root", "hemlock" },
        { "elderberry leaves", "elder_leaf" }, { "leaves of elderberry", "elder_leaf" },
        { "elderberry bark", "elder_leaf" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++)
        if (strcmp(stop_in(CASE[i][0]), CASE[i][1]) != 0)
            fail_msg("'%s' says '%s', not '%s'", CASE[i][0], stop_in(CASE[i][0]), CASE[i][1]);
}

/* Botanical names of what may go into a drink are hints: Ruta graveolens is rue, with its cautions. */
static void botanical_names_are_hints(void **state)
{
    const struct st_ingredient *near[4];
    (void)state;
    assert_true(st_catalogue_near(all, "Ruta graveolens", 15, near, 4) >= 1);
    assert_string_equal(near[0]->slug, "rue");
    assert_true(st_catalogue_near(all, "Sambucus nigra", 14, near, 4) >= 1);
    assert_false(st_ingredient_is_stopped(near[0]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(poisons_are_found),
        cmocka_unit_test(others_are_not),
        cmocka_unit_test(no_name_gains_a_stop),
        cmocka_unit_test(hints_do_not_lead_away),
        cmocka_unit_test(no_poison_is_proposed),
        cmocka_unit_test(slips_are_told),
        cmocka_unit_test(parts_and_preparations),
        cmocka_unit_test(botanical_names_are_hints),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
