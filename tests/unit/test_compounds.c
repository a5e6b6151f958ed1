/* The table of what is followed: every row is read, and tables that are not are refused with their line. */
#include "jar_kit.h"

static const struct st_compound *must(const char *name)
{
    const struct st_compound *c = st_compound_find(kit_compounds, name);
    if (!c)
        fail_msg("no compound %s", name);
    return c;
}

static void rows_say_what_they_say(void **state)
{
    (void)state;
    const struct st_compound *v = must("vanillin");
    assert_about(v->mw, 152.15, 1e-9);
    assert_about(v->water_mg_l, 10400, 1e-9);
    assert_about(v->d_water, 7.67e-10, 1e-15);
    assert_about(v->sigma, 1.45, 1e-9);
    assert_about(v->ethanolic_high, 0.2, 1e-12);
    assert_string_equal(v->family, "vanilla");
    assert_true(isinf(must("ethanol")->water_mg_l));
    assert_true(isnan(must("tannic_acid")->log_p));
    assert_true(isnan(must("myristicin")->d_water));
    assert_about(st_compound_d_water(must("myristicin")), 7e-10, 1e-15);
    assert_about(must("amarogentin")->bitterness, 5.8e7, 1.0);
    for (int i = 0; i < kit_compounds->n; i++)
        assert_true(kit_compounds->row[i].mw > 0.0 && kit_compounds->row[i].family[0] && kit_compounds->row[i].mark[0]);
}

static void strength_acts_by_kind(void **state)
{
    (void)state;
    assert_int_equal(must("limonene")->action, ST_ACTION_OIL);
    assert_int_equal(must("vanillin")->action, ST_ACTION_OIL);
    assert_int_equal(must("gentiopicroside")->action, ST_ACTION_HUMP);
    assert_int_equal(must("amarogentin")->action, ST_ACTION_HUMP); /* has a slope, and is bitter all the same */
    assert_int_equal(must("tannic_acid")->action, ST_ACTION_HUMP);
    assert_int_equal(must("cyanidin_3_glucoside")->action, ST_ACTION_HUMP);
    assert_int_equal(must("furaneol")->action, ST_ACTION_FREE);
    assert_int_equal(must("sucrose")->action, ST_ACTION_FREE);
}

static void poisons_are_no_flavours(void **state)
{
    static const char *const POISON[] = { "amygdalin",    "coumarin",         "quinine",    "thujone",
                                          "beta_asarone", "safrole",          "estragole",  "caffeine",
                                          "quassin",      "hydrogen_cyanide", "myristicin", "juglone" };
    static const char *const FLAVOUR[] = { "vanillin", "limonene", "eugenol", "gentiopicroside", "tannic_acid" };
    (void)state;
    for (size_t i = 0; i < sizeof POISON / sizeof POISON[0]; i++)
        if (must(POISON[i])->flavour)
            fail_msg("%s is told as a flavour", POISON[i]);
    for (size_t i = 0; i < sizeof FLAVOUR / sizeof FLAVOUR[0]; i++)
        assert_true(must(FLAVOUR[i])->flavour);
}

/* Every marker that the sheet of ingredients names is in the table, by one of its names. */
static void every_marker_of_the_sheet_is_there(void **state)
{
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(kit_all); i++) {
        const struct st_ingredient *in = st_catalogue_at(kit_all, i);
        for (int m = 0; m < in->n_marker; m++)
            assert_non_null(must(in->marker[m].marker));
    }
    assert_null(st_compound_find(kit_compounds, "vanil"));
    assert_null(st_compound_find(kit_compounds, ""));
    assert_null(st_compound_find(kit_compounds, NULL));
}

static char changed[1 << 20];

/* The sheet with one text put in the place of another. */
static void with(const char *from, const char *to)
{
    const char *all = st_buf_text(&kit_markers), *at = strstr(all, from);
    assert_non_null(at);
    (void)snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - all), all, to, at + strlen(from));
}

static void refused(const char *from, const char *to, const char *why)
{
    struct st_problem p = { .what = "" };
    with(from, to);
    struct st_compounds *c = st_compounds_create(changed, strlen(changed), &p);
    if (c || !strstr(p.why, why) || p.at.line < 1)
        fail_msg("'%s' for '%s': %s, line %d: %s", to, from, c ? "read" : "refused", p.at.line, p.why);
}

static void what_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    refused("vanillin\t152.15", "vanillin\theavy", "mw is `heavy`");
    refused("vanillin\t152.15", "vanillin\t-1", "mw is");
    refused("vanillin\t152.15", "benzaldehyde\t152.15", "twice");
    refused("vanillin\t152.15", "vanillin", "columns");
    refused("\tlog_p\t", "\tlogp\t", "`logp` is not known");
    refused("\tlog_p\t", "\tmw\t", "there twice");
    refused("0.02-0.2", "0.2-0.02", "no range");
    refused("10400", "plenty", "water_mg_l");
    struct st_problem p = { .what = "" };
    assert_null(st_compounds_create("# nothing\n", 10, &p));
    assert_null(st_compounds_create("", 0, &p));
    assert_null(st_compounds_create("marker\x01\n", 8, &p));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_say_what_they_say),
        cmocka_unit_test(strength_acts_by_kind),
        cmocka_unit_test(poisons_are_no_flavours),
        cmocka_unit_test(every_marker_of_the_sheet_is_there),
        cmocka_unit_test(what_is_wrong_is_refused_with_its_line),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
