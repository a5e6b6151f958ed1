/* Facts of a label: allergens by place, finings, sulphites, animal matter, weights, standard drinks, energy; and what guests ask. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "model/line_goods.h"
#include "plan_kit.h"
#include "text/allergen_list.h"
#include "text/drink_sheet.h"
#include "text/fining.h"
#include "text/guest.h"
#include "text/label_words.h"

#define NONE ((double)NAN)

static struct st_buf file[4];
static struct st_allergen_lists *lists;
static struct st_drink_rows *drinks;
static struct st_guest_rows *guest;
static struct st_agents *agents;
static struct st_allergens_in in;
static struct st_label_facts told;

static int begin(void **state)
{
    static const char *const NAME[] = { "data/allergens.tsv", "data/drinks.tsv", "data/guest.tsv", "data/fining.tsv" };
    struct st_problem p = { 0 };
    if (load(state))
        return -1;
    for (int i = 0; i < 4; i++)
        if (st_file_read(NAME[i], 1u << 20, &file[i]))
            return -1;
    lists = st_allergen_list_create(st_buf_text(&file[0]), file[0].length, &p);
    drinks = lists ? st_drink_sheet_create(st_buf_text(&file[1]), file[1].length, &p) : NULL;
    guest = drinks ? st_guest_sheet_create(st_buf_text(&file[2]), file[2].length, &p) : NULL;
    agents = guest ? st_fining_create(st_buf_text(&file[3]), file[3].length, &p) : NULL;
    if (!agents)
        print_error("%d: %s: %s; %s\n", p.at.line, p.what, p.why, p.try_);
    return agents ? 0 : -1;
}

static int end(void **state)
{
    st_allergen_list_free(lists);
    st_drink_sheet_free(drinks);
    st_guest_sheet_free(guest);
    st_fining_free(agents);
    for (int i = 0; i < 4; i++)
        st_buf_done(&file[i]);
    return unload(state);
}

static struct st_line grams(const char *name, double g)
{
    return kit_line(must(name), kit_g(g));
}

static struct st_interval about(double x, double half)
{
    return (struct st_interval){ x, x - half, x + half, ST_OK, true };
}

/* One jar of these lines. */
static struct st_step jar;
static struct st_recipe jar_of(struct st_line *line, int n)
{
    jar = kit_step("jar", ST_DO_STEEP, line, n);
    return kit_recipe(&jar, 1);
}

/* How sure an entry of a list is. */
static enum st_presence entry(const char *key)
{
    bool known = false;
    for (int i = 0; i < lists->n; i++)
        known = known || strcmp(lists->row[i].key, key) == 0;
    if (!known)
        fail_msg("no entry %s", key);
    for (int i = 0; i < in.n; i++)
        if (in.hit[i].row && strcmp(in.hit[i].row->key, key) == 0)
            return in.hit[i].presence;
    return ST_NOT_LISTED;
}

static void find(const struct st_recipe *r, unsigned places)
{
    memset(&in, 0x5a, sizeof in);
    st_allergens_find(r, lists, agents, places, &in);
}

/* ---- the lists themselves ---- */

/* Regulation (EU) No 1169/2011, Annex II: fourteen, nuts as eight kinds; FDA edition 5 (2025): nine, twelve tree nuts. */
static void lists_are_as_published(void **state)
{
    static const char *const EU[] = { "eu-gluten",  "eu-crustaceans", "eu-egg",    "eu-fish",      "eu-peanut",
                                      "eu-soy",     "eu-milk",        "eu-almond", "eu-hazelnut",  "eu-walnut",
                                      "eu-cashew",  "eu-pecan",       "eu-brazil", "eu-pistachio", "eu-macadamia",
                                      "eu-celery",  "eu-mustard",     "eu-sesame", "eu-sulphites", "eu-lupin",
                                      "eu-molluscs" };
    static const char *const US[] = { "us-almond", "us-black-walnut", "us-brazil",    "us-california-walnut",
                                      "us-cashew", "us-hazelnut",     "us-heartnut",  "us-macadamia",
                                      "us-pecan",  "us-pine-nut",     "us-pistachio", "us-walnut" };
    int eu = 0, tree = 0;
    (void)state;
    for (size_t i = 0; i < sizeof EU / sizeof EU[0]; i++)
        (void)entry(EU[i]);
    for (size_t i = 0; i < sizeof US / sizeof US[0]; i++)
        (void)entry(US[i]);
    for (int i = 0; i < lists->n; i++) {
        const struct st_allergen_row *r = &lists->row[i];
        eu += strcmp(r->list, "EU 14") == 0;
        tree += strcmp(r->list, "US tree nuts") == 0 && r->listed;
        if ((r->places & (unsigned)(ST_PLACE_AU | ST_PLACE_NZ | ST_PLACE_CA | ST_PLACE_UK)) && r->mark != 'm')
            fail_msg("%s was not read", r->key);
    }
    assert_int_equal(eu, 21 + 1); /* and "nuts, not said which" */
    assert_int_equal(tree, 12 + 1);
}

/* Every code of the sheets of ingredients and finings is on some list, and in some guest's mouth. */
static void no_code_is_lost(void **state)
{
    (void)state;
    for (size_t c = 0; c < st_catalogue_count(all); c++) {
        const struct st_ingredient *what = st_catalogue_at(all, c);
        for (int k = 0; k < what->n_allergen; k++) {
            bool listed = false, asked = false;
            for (int i = 0; i < lists->n; i++)
                listed = listed || st_in_list(lists->row[i].codes, '|', what->allergen[k].what);
            for (int i = 0; i < guest->n; i++)
                asked = asked || (guest->row[i].kind == ST_GUEST_ALLERGEN &&
                                  st_in_list(guest->row[i].codes, '|', what->allergen[k].what));
            if (!listed || !asked)
                fail_msg("%s: allergen %s is %s", what->slug, what->allergen[k].what,
                         listed ? "in no guest's words" : "on no list");
        }
    }
}

/* ---- what is in it ---- */

static void by_place(void **state)
{
    struct st_line line[] = { grams("bitter almond", 20), grams("celery seed", 1), grams("pine nut", 10),
                              grams("malt extract", 10) };
    const struct st_recipe r = jar_of(line, 4);
    (void)state;
    find(&r, ST_PLACE_ALL);
    assert_int_equal(entry("eu-almond"), ST_PRESENT);
    assert_int_equal(entry("us-almond"), ST_PRESENT);
    assert_int_equal(entry("eu-celery"), ST_PRESENT);
    assert_int_equal(entry("us-pine-nut"), ST_PRESENT);
    assert_int_equal(entry("eu-gluten"), ST_PRESENT);
    assert_int_equal(entry("us-wheat"), ST_POSSIBLE); /* gluten, but is it wheat? */
    assert_int_equal(entry("eu-milk"), ST_NOT_LISTED);
    find(&r, ST_PLACE_EU); /* pine nut is on no list there, and told all the same */
    bool told_anyway = false;
    for (int i = 0; i < in.n; i++)
        told_anyway = told_anyway ||
                      (!in.hit[i].row && strcmp(in.hit[i].code, "pine_nut") == 0 && in.hit[i].presence == ST_VOLUNTARY);
    assert_true(told_anyway);
}

/* Kernels of apricots are on no list; the caution beside almond is voluntary. */
static void apricot_kernels_are_voluntary(void **state)
{
    struct st_line line[] = { grams("bitter apricot kernel", 20) };
    const struct st_recipe r = jar_of(line, 1);
    (void)state;
    find(&r, ST_PLACE_EU | ST_PLACE_US);
    assert_int_equal(entry("eu-almond"), ST_VOLUNTARY);
    assert_int_equal(entry("us-almond"), ST_VOLUNTARY);
    told = (struct st_label_facts){ .n = 0 };
    st_label_allergens(&r, &in, &told);
    assert_string_equal(told.item[0].what, "almond: on no list, told all the same");
    assert_int_equal(told.item[0].truth, ST_NO);
}

/* Each flag of each ingredient shows, where its scope has the place. */
static void every_flag_shows(void **state)
{
    (void)state;
    for (size_t c = 0; c < st_catalogue_count(all); c++) {
        const struct st_ingredient *what = st_catalogue_at(all, c);
        struct st_line line[] = { kit_line(what, kit_g(10)) };
        const struct st_recipe r = jar_of(line, 1);
        find(&r, ST_PLACE_EU | ST_PLACE_US);
        for (int k = 0; k < what->n_allergen; k++) {
            bool shown = false;
            for (int i = 0; i < in.n; i++)
                shown = shown || (strcmp(in.hit[i].code, what->allergen[k].what) == 0 &&
                                  in.hit[i].presence == st_scope_presence(what->allergen[k].degree));
            if (!shown)
                fail_msg("%s: %s does not show as it stands in the sheet", what->slug, what->allergen[k].what);
        }
    }
}

static void finings_count(void **state)
{
    struct st_line line[] = { grams("damson", 500) }, from[] = { kit_from(0, ST_LIQUOR, kit_all()) };
    struct st_step step[2] = { kit_step("jar", ST_DO_STEEP, line, 1), kit_step("clear", ST_DO_FINE, from, 1) };
    const struct st_recipe r = kit_recipe(step, 2);
    struct st_animals a;
    (void)state;
    step[1].words = "fine with isinglass, cold";
    find(&r, ST_PLACE_EU | ST_PLACE_US);
    assert_int_equal(entry("eu-fish"), ST_PRESENT);
    assert_int_equal(entry("us-fish"), ST_PRESENT);
    st_animals_find(&r, agents, &a);
    assert_int_equal(a.vegetarian, ST_ANIMAL_YES);
    step[1].words = "fine with egg white";
    find(&r, ST_PLACE_EU);
    assert_int_equal(entry("eu-egg"), ST_PRESENT);
    st_animals_find(&r, agents, &a);
    assert_int_equal(a.vegan, ST_ANIMAL_YES);
    assert_int_equal(a.vegetarian, ST_ANIMAL_NONE);
    step[1].words = "fine with chitosan";
    find(&r, ST_PLACE_EU);
    assert_int_equal(entry("eu-crustaceans"), ST_POSSIBLE);
    step[1].words = "fine with bentonite";
    find(&r, ST_PLACE_EU);
    assert_int_equal(in.n, 0);
    step[1].kind = ST_DO_FILTER;
    step[1].words = "wash it with hot milk and filter";
    find(&r, ST_PLACE_EU);
    assert_int_equal(entry("eu-milk"), ST_POSSIBLE);
}

/* A jar that the drink takes nothing of: possible, and never left out. */
static void an_unused_jar_is_possible(void **state)
{
    struct st_line nuts[] = { grams("hazelnut", 100) }, fruit[] = { grams("damson", 500) };
    struct st_step step[2] = { kit_step("nuts", ST_DO_STEEP, nuts, 1), kit_step("fruit", ST_DO_STEEP, fruit, 1) };
    const struct st_recipe r = kit_recipe(step, 2);
    (void)state;
    find(&r, ST_PLACE_EU);
    assert_int_equal(entry("eu-hazelnut"), ST_POSSIBLE);
    assert_true(in.hit[0].unused);
}

/* ---- sulphites: 200 g of dried apricots at 2000 mg/kg in 1.5 L are 267 mg/L, as computed from [ec_1333_2008] ---- */

static void sulphites_of_dried_fruit(void **state)
{
    struct st_line line[] = { grams("dried apricot", 200), grams("vodka", 900) };
    struct st_recipe r = jar_of(line, 2);
    const struct st_interval ml = about(1500, 0);
    struct st_sulphites s;
    (void)state;
    st_sulphites_find(&r, &ml, &s);
    assert_true(s.declare && !s.below && fabs(s.mg_l - 266.667) < 0.001);
    told = (struct st_label_facts){ .n = 0 };
    st_label_sulphites(&r, &s, &told);
    assert_non_null(strstr(told.item[0].what, "at most 267 mg/L if all of it transfers; declare them"));
    /* at, just under and just over 10 mg/L: 7.5 g in 1.5 L; declared all the same */
    line[0] = grams("dried apricot", 7.5);
    st_sulphites_find(&r, &ml, &s);
    assert_true(s.declare && !s.below);
    line[0] = grams("dried apricot", 7.49);
    st_sulphites_find(&r, &ml, &s);
    assert_true(s.declare && s.below);
    line[0] = grams("red wine", 500); /* no figure: not known, never none */
    st_sulphites_find(&r, &ml, &s);
    assert_true(s.declare && !s.below && isnan(s.mg_l));
    line[0] = grams("damson", 500);
    st_sulphites_find(&r, &ml, &s);
    assert_false(s.declare);
}

/* Regulation (EC) No 1333/2008, Annex II E 04.2.1 */
static void sulphite_maxima(void **state)
{
    static const struct {
        const char *name;
        double mg_kg;
    } ROW[] = { { "dried apricot", 2000 }, { "dried peach", 2000 }, { "raisin", 2000 },
                { "prune", 2000 },         { "dried fig", 2000 },   { "dried apple", 600 },
                { "dried pear", 600 },     { "date", 500 },         { "dried ginger", 150 } };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++)
        if (st_sulphite_most(must(ROW[i].name)) != ROW[i].mg_kg)
            fail_msg("%s: not %g mg/kg", ROW[i].name, ROW[i].mg_kg);
    assert_true(isnan(st_sulphite_most(must("red wine"))));
}

/* ---- animal matter ---- */

static void animal_matter(void **state)
{
    static const struct {
        const char *name;
        enum st_animal vegan, vegetarian;
    } ROW[] = { { "damson", ST_ANIMAL_NONE, ST_ANIMAL_NONE },        { "whole milk", ST_ANIMAL_YES, ST_ANIMAL_NONE },
                { "egg yolk", ST_ANIMAL_YES, ST_ANIMAL_NONE },       { "honey", ST_ANIMAL_YES, ST_ANIMAL_NONE },
                { "gelatine", ST_ANIMAL_YES, ST_ANIMAL_YES },        { "isinglass", ST_ANIMAL_YES, ST_ANIMAL_YES },
                { "coconut milk", ST_ANIMAL_NONE, ST_ANIMAL_NONE },  { "oat milk", ST_ANIMAL_NONE, ST_ANIMAL_NONE },
                { "red wine", ST_ANIMAL_UNKNOWN, ST_ANIMAL_UNKNOWN } };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++) {
        struct st_line line[] = { grams(ROW[i].name, 100) };
        const struct st_recipe r = jar_of(line, 1);
        struct st_animals a;
        st_animals_find(&r, agents, &a);
        if (a.vegan != ROW[i].vegan || a.vegetarian != ROW[i].vegetarian)
            fail_msg("%s: vegan %d, vegetarian %d", ROW[i].name, (int)a.vegan, (int)a.vegetarian);
    }
}

/* ---- weights, drinks, energy ---- */

static void heaviest_first(void **state)
{
    struct st_line line[] = { grams("cinnamon stick", 5), grams("damson", 500), grams("sugar", 200),
                              kit_line(must("vodka"), kit_ml(700)), kit_line(must("vanilla pod"), kit_all()) };
    struct st_part_in part[8];
    struct st_recipe r;
    bool cut;
    (void)state;
    line[3].strength = kit_sharp(40);
    line[4].amount.open = ST_OPEN_TASTE;
    r = jar_of(line, 5);
    assert_int_equal(st_parts_by_weight(&r, part, 8, &cut), 5);
    assert_false(cut);
    assert_string_equal(part[0].what->slug, "vodka"); /* 700 mL of 40 % vol: 664 g by [oiml1975] */
    assert_true(fabs(part[0].g.value - 663.6) < 0.2);
    assert_string_equal(part[1].what->slug, "damson");
    assert_string_equal(part[3].what->name, must("cinnamon stick")->name);
    assert_false(part[4].g.known);
}

static const struct st_drink_row *country(const char *key)
{
    for (int i = 0; i < drinks->n; i++)
        if (strcmp(drinks->row[i].key, key) == 0)
            return &drinks->row[i];
    fail_msg("no country %s", key);
    return NULL;
}

/* Grams and mL as tabulated [drinks_tables] [uk_cmo_2016] [ccsa_2023] [niaaa_drink]. */
static void drinks_are_as_published(void **state)
{
    static const struct {
        const char *key;
        double g, ml;
    } ROW[] = { { "at", 20, 25.3 },  { "au", 10, 12.7 }, { "ca", 13.45, 17.05 }, { "hr", 10, 12.7 }, { "dk", 12, 15.2 },
                { "hu", 17, 21.5 },  { "is", 9.5, 12 },  { "ie", 10, 12.7 },     { "it", 12, 15.2 }, { "jp", 20, 25.3 },
                { "nl", 9.9, 12.5 }, { "nz", 10, 12.7 }, { "pl", 10, 12.7 },     { "pt", 14, 17.7 }, { "es", 10, 12.7 },
                { "uk", 7.9, 10 },   { "us", 14, 17.7 }, { "who", 10, 12.7 } };
    (void)state;
    assert_int_equal(drinks->n, (int)(sizeof ROW / sizeof ROW[0]) + 1); /* and the Nordic countries, without one */
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++) {
        const struct st_drink_row *d = country(ROW[i].key);
        if (d->g != ROW[i].g || d->ml != ROW[i].ml)
            fail_msg("%s differs from what was published", d->key);
    }
}

/* g and mL of each row agree: 0.78924 g/mL, within what the tables round to. */
static void drinks_agree_with_themselves(void **state)
{
    (void)state;
    for (int i = 0; i < drinks->n; i++) {
        const struct st_drink_row *d = &drinks->row[i];
        if (d->g > 0.0 && fabs(d->ml * ST_ETHANOL_G_ML - d->g) > 0.05)
            fail_msg("%s: %g mL are not %g g", d->key, d->ml, d->g);
    }
}

static void standard_drinks(void **state)
{
    const struct st_interval q = about(40, 0), wide = { 24.1, 22.8, 25.3, ST_OK, true }, unknown = { .known = false };
    (void)state;
    /* a UK unit is 10 mL of ethanol: 25 mL of 40 % vol are one, by definition; 0.6 US fl oz of ethanol are one in the US */
    assert_true(fabs(st_standard_drinks(country("uk"), &q, 25).value - 1.0) < 1e-12);
    assert_true(fabs(st_standard_drinks(country("us"), &q, 1.5 * 29.5735).value - 1.0) < 0.005);
    assert_true(fabs(st_ethanol_grams(&q, 100).value - 31.57) < 0.005);
    assert_true(st_standard_drinks(country("uk"), &wide, 40).low < 0.92 &&
                st_standard_drinks(country("uk"), &wide, 40).high > 1.01);
    assert_false(st_standard_drinks(country("uk"), &unknown, 40).known);
    assert_false(st_standard_drinks(country("nordic"), &q, 40).known);
    told = (struct st_label_facts){ .n = 0 };
    st_label_drinks(drinks, NULL, ST_PLACE_UK, &wide, 40, 500, &told);
    assert_int_equal(told.n, 3); /* grams, the UK, the World Health Organization */
    assert_non_null(strstr(told.item[0].what, "a serving of 40 mL holds 7.6 (7.1 to 8.0) g of alcohol"));
    assert_non_null(strstr(told.item[1].because, "14 units a week"));
    told = (struct st_label_facts){ .n = 0 };
    st_label_drinks(drinks, "it", 0, &wide, 40, 0, &told);
    assert_non_null(strstr(told.item[1].because, "sources differ: a table of 2007 gives 10 g"));
}

/* Erythritol has 0 kJ/g by the annex [eu_1169_2011], other polyols 10. */
static void energy_of_polyols(void **state)
{
    const struct st_ingredient *e = must("erythritol");
    (void)state;
    assert_true(e->energy.known && e->energy.value == 0.0);
    for (size_t i = 0; i < 4; i++) {
        static const char *const POLYOL[] = { "xylitol", "sorbitol", "maltitol", "glycerol" };
        const struct st_ingredient *p = must(POLYOL[i]);
        if (p->energy.known ? fabs(p->energy.value - 10.0) > 1e-9 : !p->part[ST_POLYOL].known)
            fail_msg("%s: not the 10 kJ/g of polyols", POLYOL[i]);
    }
}

static void energy_is_told(void **state)
{
    struct st_foretold f = { .n_effect = 0 };
    (void)state;
    f.fig[ST_FIG_ENERGY_KJ] = about(900, 20);
    f.fig[ST_FIG_ENERGY_KCAL] = about(216, 5);
    told = (struct st_label_facts){ .n = 0 };
    st_label_energy(&f, 40, 0, &told);
    assert_non_null(strstr(told.item[0].what, "900 (880 to 920) kJ, 216 (211 to 221) kcal in 100 mL"));
    assert_non_null(strstr(told.item[0].because, "a serving of 40 mL: 360 (352 to 368) kJ"));
    assert_null(strstr(told.item[0].because, "not counted"));
    f.fig[ST_FIG_VOLUME] = about(1000, 0);
    f.final_g[ST_EXTRACT] = 10; /* 1 g in 100 mL, 17 kJ/g */
    told = (struct st_label_facts){ .n = 0 };
    st_label_energy(&f, 40, 500, &told);
    assert_non_null(strstr(told.item[0].because, "not counted: 17 kJ more in 100 mL"));
}

/* Regulation (EU) No 1169/2011, Annex III: named from 10 mg/L, warned from 300 mg/L above 1.2 % vol. */
static void liquorice(void **state)
{
    static const struct {
        double mg_l;
        const char *says, *not ;
    } ROW[] = { { 9.9, "under what must be named", "warn who" },
                { 10.0, "name it", "warn who" },
                { 299.9, "name it", "warn who" },
                { 300.0, "warn who has high blood pressure", "under what" },
                { NONE, "is not known here", "at most" } };
    struct st_line line[] = { grams("liquorice root", 10) };
    const struct st_recipe r = jar_of(line, 1);
    const struct st_interval q = about(25, 1);
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++) {
        const double mg_l[ST_NNAMED] = { NONE, NONE, ROW[i].mg_l };
        told = (struct st_label_facts){ .n = 0 };
        st_label_named(&r, mg_l, &q, &told);
        assert_int_equal(told.n, 1);
        if (!strstr(told.item[0].because, ROW[i].says) || strstr(told.item[0].because, ROW[i].not ))
            fail_msg("%g mg/L: %s", ROW[i].mg_l, told.item[0].because);
    }
}

/* ---- guests ---- */

static struct st_guest_answer answer[ST_MAX_GUEST];

static int ask(const char *words, struct st_line *line, int n)
{
    bool cut;
    const struct st_recipe r = jar_of(line, n);
    const int k = st_guest_check(guest, words, &r, NULL, lists, agents, answer, ST_MAX_GUEST, &cut);
    assert_false(cut);
    return k;
}

static void guests_ask(void **state)
{
    struct st_line line[] = { kit_line(must("vodka"), kit_ml(700)), grams("hazelnut", 100), grams("dried fig", 100),
                              grams("cinchona bark", 2), grams("double cream", 200) };
    static const enum st_guest_is IS[] = { ST_GUEST_IN, ST_GUEST_IN,         ST_GUEST_MAY_BE, ST_GUEST_NOT_LISTED,
                                           ST_GUEST_IN, ST_GUEST_NOT_LISTED, ST_GUEST_IN,     ST_GUEST_IN };
    (void)state;
    assert_int_equal(ask("nuts, milk, sulphites, gluten, quinine, egg, vegan, pregnancy?", line, 5), 8);
    for (int i = 0; i < 8; i++)
        if (answer[i].is != IS[i] || !answer[i].what[0] || !answer[i].because[0] || !answer[i].source ||
            !answer[i].source[0])
            fail_msg("%s: %d, '%s' '%s'", answer[i].asked, (int)answer[i].is, answer[i].what, answer[i].because);
    assert_int_equal(answer[0].line, 1);
    assert_int_equal(answer[4].line, 3);
    assert_int_equal(ask("Is there any egg or WHEAT in it and pine nuts?", line, 5), 3);
    assert_string_equal(answer[1].asked, "wheat");
    assert_string_equal(answer[2].asked, "pine nuts");
}

static void an_unknown_word_is_asked_back(void **state)
{
    struct st_line line[] = { grams("damson", 500), grams("cinnamon stick", 5) };
    (void)state;
    assert_int_equal(ask("glutn, zzzz, cinnamon", line, 2), 3);
    assert_int_equal(answer[0].is, ST_GUEST_ASK_BACK);
    assert_string_equal(answer[0].near[0], "gluten");
    assert_int_equal(answer[1].is, ST_GUEST_ASK_BACK);
    assert_null(answer[1].near[0]);
    assert_int_equal(answer[2].is, ST_GUEST_IN); /* an ingredient of this recipe */
}

static void kernels_are_no_almonds(void **state)
{
    struct st_line line[] = { grams("bitter apricot kernel", 20) };
    (void)state;
    assert_int_equal(ask("almonds, kernels", line, 1), 2);
    assert_int_equal(answer[0].is, ST_GUEST_MAY_BE);
    assert_non_null(strstr(answer[0].what, "close to it"));
    assert_int_equal(answer[1].is, ST_GUEST_IN);
}

static void bought_ready_made_is_unknown(void **state)
{
    struct st_line line[] = { grams("damson", 500), kit_line(must("herb liqueur"), kit_ml(100)) };
    (void)state;
    assert_int_equal(ask("nuts, vegan", line, 2), 2);
    assert_int_equal(answer[0].is, ST_GUEST_UNKNOWN);
    assert_int_equal(answer[1].is, ST_GUEST_UNKNOWN);
}

/* Any bytes are answered, and no answer is cut inside a letter. */
static void any_words_are_answered(void **state)
{
    static const char *const PIECE[] = {
        "nuts", " and ", ",", "?", "  ", "\xc3\xa9", "\xf0\x9f\x8d\x92", "milk", "aaaaaaaaaaaaaaaaaaaaaaaaaaaa",
        ".",    "\n"
    };
    struct st_line line[] = { grams("damson", 500) };
    const struct st_recipe r = jar_of(line, 1);
    unsigned x = 12345;
    (void)state;
    for (int i = 0; i < 2000; i++) {
        char text[600] = "";
        bool cut;
        for (int k = 0; k < 18; k++) {
            x = x * 1664525u + 1013904223u;
            const size_t used = strlen(text);
            (void)snprintf(text + used, sizeof text - used, "%s", PIECE[(x >> 16) % (sizeof PIECE / sizeof PIECE[0])]);
        }
        const int n = st_guest_check(guest, text, &r, NULL, lists, agents, answer, ST_MAX_GUEST, &cut);
        assert_in_range(n, 0, ST_MAX_GUEST);
        for (int k = 0; k < n; k++) {
            const size_t size = strlen(answer[k].asked);
            if (!answer[k].what[0] || !answer[k].because[0] || !size ||
                (unsigned char)answer[k].asked[size - 1] >= 0xc0u)
                fail_msg("'%s': '%s'", text, answer[k].asked);
        }
    }
}

/* Another ingredient, in the same jar or in one poured in later, never takes an allergen out. */
static void more_never_takes_away(void **state)
{
    const int count = (int)st_catalogue_count(all);
    static enum st_presence before[256];
    (void)state;
    assert_true(lists->n <= 256);
    for (int c = 0; c < 3 * count; c++) {
        struct st_line line[2] = { kit_line(st_catalogue_at(all, (size_t)(c % count)), kit_g(10)),
                                   kit_line(st_catalogue_at(all, (size_t)((c * 7 + c / count) % count)), kit_g(10)) };
        struct st_line from[2] = { kit_from(0, ST_LIQUOR, kit_amount(ST_DIM_PIECE, 0.5)), line[1] };
        struct st_step step[2] = { kit_step("jar", ST_DO_STEEP, line, 1), kit_step("mix", ST_DO_BLEND, from, 2) };
        struct st_recipe r = kit_recipe(step, 1);
        find(&r, ST_PLACE_ALL);
        for (int i = 0; i < lists->n; i++)
            before[i] = entry(lists->row[i].key);
        for (int later = 0; later < 2; later++) {
            step[0].n_line = later ? 1 : 2;
            r.n_step = later ? 2 : 1;
            find(&r, ST_PLACE_ALL);
            for (int i = 0; i < lists->n; i++)
                if (entry(lists->row[i].key) < before[i])
                    fail_msg("%s with %s: %s is surer without", line[0].what->slug, line[1].what->slug,
                             lists->row[i].key);
        }
    }
}

static char changed[1 << 16];

static const char *change(const struct st_buf *sheet_of, const char *from, const char *to)
{
    const char *text = st_buf_text(sheet_of), *at = strstr(text, from);
    if (!at)
        fail_msg("'%s' is not in the sheet", from);
    (void)snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    return changed;
}

static void is_refused(const void *sheet_read, const struct st_problem *p, const char *why)
{
    if (sheet_read || !strstr(p->why, why) || p->at.line < 1)
        fail_msg("%s, line %d: '%s' is not '%s'", sheet_read ? "read" : "refused", p->at.line, p->why, why);
}

#define REFUSED(create, sheet_of, from, to, why)                                                                       \
    do {                                                                                                               \
        struct st_problem p = { .what = "" };                                                                          \
        const char *text = change(sheet_of, from, to);                                                                 \
        is_refused(create(text, strlen(text), &p), &p, why);                                                           \
    } while (0)

static void what_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    REFUSED(st_allergen_list_create, &file[0], "\teu\tcereals", "\tmoon\tcereals", "no place 'moon'");
    REFUSED(st_allergen_list_create, &file[0], "eu-fish", "eu-egg", "stands twice");
    REFUSED(st_allergen_list_create, &file[0], "\tr\t[eu_1169_2011]", "\tr\t", "no source");
    REFUSED(st_allergen_list_create, &file[0], "\tyes\t", "\tperhaps\t", "another word");
    REFUSED(st_drink_sheet_create, &file[1], "\t20\t25.3\t", "\t20\t\t", "does not fit");
    REFUSED(st_drink_sheet_create, &file[1], "\t20\t25.3\t", "\tmany\t25.3\t", "g ");
    REFUSED(st_drink_sheet_create, &file[1], "\tr\t[drinks_tables]\t\n", "\tq\t[drinks_tables]\t\n", "no mark");
    REFUSED(st_guest_sheet_create, &file[2], "\tallergen\t", "\tallergy\t", "no kind 'allergy'");
    REFUSED(st_guest_sheet_create, &file[2], "\tvegan\t\t", "\tvegan\tmilk\t", "codes do not fit");
}

/* Nothing that is told of any ingredient promises anything. */
static void no_promises(void **state)
{
    static const char *const BAD[] = { "safe", "harmless", " free of", "-free" };
    static const double unknown[ST_NNAMED] = { NONE, NONE, NONE };
    const struct st_interval q = about(25, 1), ml = about(1000, 50);
    (void)state;
    for (size_t c = 0; c < st_catalogue_count(all); c++) {
        struct st_line line[] = { kit_line(st_catalogue_at(all, c), kit_g(10)) };
        const struct st_recipe r = jar_of(line, 1);
        struct st_sulphites s;
        struct st_animals a;
        find(&r, ST_PLACE_ALL);
        st_sulphites_find(&r, &ml, &s);
        st_animals_find(&r, agents, &a);
        told = (struct st_label_facts){ .n = 0 };
        st_label_allergens(&r, &in, &told);
        st_label_sulphites(&r, &s, &told);
        st_label_made_of(&r, &told);
        st_label_named(&r, unknown, &q, &told);
        st_label_animals(&r, &a, &told);
        assert_false(told.cut);
        for (int i = 0; i < told.n; i++) {
            const struct st_label_fact *f = &told.item[i];
            for (size_t b = 0; b < sizeof BAD / sizeof BAD[0]; b++)
                if (!strstr(line[0].what->name, BAD[b]) && /* lactose-free milk is called so */
                    (strstr(f->what, BAD[b]) || (strcmp(f->code, "allergen") != 0 && strstr(f->because, BAD[b]))))
                    fail_msg("%s: '%s' '%s'", line[0].what->slug, f->what, f->because);
            if (!f->what[0] || !f->source || !f->source[0] || strlen(f->because) + 1 == sizeof f->because ||
                strlen(f->what) + 1 == sizeof f->what)
                fail_msg("%s: '%s' has no source or is too long", line[0].what->slug, f->what);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lists_are_as_published),
        cmocka_unit_test(no_code_is_lost),
        cmocka_unit_test(by_place),
        cmocka_unit_test(apricot_kernels_are_voluntary),
        cmocka_unit_test(every_flag_shows),
        cmocka_unit_test(finings_count),
        cmocka_unit_test(an_unused_jar_is_possible),
        cmocka_unit_test(sulphites_of_dried_fruit),
        cmocka_unit_test(sulphite_maxima),
        cmocka_unit_test(animal_matter),
        cmocka_unit_test(heaviest_first),
        cmocka_unit_test(drinks_are_as_published),
        cmocka_unit_test(drinks_agree_with_themselves),
        cmocka_unit_test(standard_drinks),
        cmocka_unit_test(energy_of_polyols),
        cmocka_unit_test(energy_is_told),
        cmocka_unit_test(liquorice),
        cmocka_unit_test(guests_ask),
        cmocka_unit_test(an_unknown_word_is_asked_back),
        cmocka_unit_test(kernels_are_no_almonds),
        cmocka_unit_test(bought_ready_made_is_unknown),
        cmocka_unit_test(any_words_are_answered),
        cmocka_unit_test(more_never_takes_away),
        cmocka_unit_test(what_is_wrong_is_refused_with_its_line),
        cmocka_unit_test(no_promises),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
