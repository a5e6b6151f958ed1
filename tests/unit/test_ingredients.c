/* The sheet of ingredients: every row is sound, every name finds its row, no trap of food tables shuts. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "text/ingredients.h"
#include "text/rule_sheets.h"
#include "text/near.h"
#include "util/file.h"

/* cmocka compares floats only. */
#define assert_about(a, b, within) assert_true(fabs((a) - (b)) <= (within))

static struct st_buf sheet, sources, markers;
static struct st_catalogue *all;

static int load(void **state)
{
    struct st_problem p = { 0 };

    (void)state;
    if (st_file_read("data/ingredients.sheet", 4u << 20, &sheet) ||
        st_file_read("docs/sources.md", 4u << 20, &sources) ||
        st_file_read("data/markers.tsv", 1u << 20, &markers))
        return -1;
    all = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    if (!all)
        print_error("ingredients.sheet:%d:%d: %s: %s; %s\n", p.at.line, p.at.column, p.what, p.why, p.try_);
    return all ? 0 : -1;
}

static int unload(void **state)
{
    (void)state;
    st_catalogue_free(all);
    st_buf_done(&sheet);
    st_buf_done(&sources);
    st_buf_done(&markers);
    return 0;
}

static const struct st_ingredient *find(const char *name)
{
    return st_catalogue_find(all, name, strlen(name));
}

static const struct st_ingredient *must(const char *name)
{
    const struct st_ingredient *in = find(name);
    if (!in)
        fail_msg("'%s' is not found", name);
    return in;
}

static int finds(const char *name, const char *slug)
{
    const struct st_ingredient *in = find(name);
    if (strcmp(in ? in->slug : "", slug) == 0)
        return 0;
    print_error("'%s' finds '%s', not '%s'\n", name, in ? in->slug : "nothing", slug);
    return 1;
}

/* ---- rows ---- */

static int bad; /* rows complained of in the running test */

static void complain(const struct st_ingredient *in, const char *about)
{
    print_error("%s: %s\n", in->slug, about);
    bad++;
}

static void check_range(const struct st_ingredient *in, struct st_range r, const char *what)
{
    if (!r.known)
        return;
    if (!(r.low >= 0 && r.low <= r.value && r.value <= r.high && isfinite(r.high)))
        complain(in, what);
    if (!r.source || !*r.source || !strchr("rmcpu", r.mark))
        complain(in, "a figure without mark or source");
}

static void check_all_ranges(const struct st_ingredient *in)
{
    for (int c = 0; c < ST_NCOMP; c++)
        check_range(in, in->part[c], st_component_name((enum st_component)c));
    check_range(in, in->sugars, "sugars");
    check_range(in, in->strength, "strength");
    check_range(in, in->density, "density");
    check_range(in, in->extract_share, "dissolves");
    check_range(in, in->cup, "cup");
    check_range(in, in->tbsp, "tbsp");
    check_range(in, in->tsp, "tsp");
    check_range(in, in->piece, "piece");
    check_range(in, in->edible, "edible");
    check_range(in, in->retention, "retention");
    check_range(in, in->sweetness, "sweetness");
    check_range(in, in->energy, "energy");
}

static void ranges_are_ordered(void **state)
{
    (void)state;
    bad = 0;
    assert_true(st_catalogue_count(all) >= 230);
    for (size_t i = 0; i < st_catalogue_count(all); i++)
        check_all_ranges(st_catalogue_at(all, i));
    assert_int_equal(bad, 0);
}

/* Sum of what the sheet prints; a split of the sugars must agree with their total. */
static void parts_are_no_more_than_the_whole(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const double split = in->part[ST_SUCROSE].value + in->part[ST_GLUCOSE].value + in->part[ST_FRUCTOSE].value +
                             in->part[ST_LACTOSE].value;
        double sum = in->sugars.known ? in->sugars.value : split;
        for (int c = 0; c < ST_NCOMP; c++)
            if (c < (int)ST_SUCROSE || c > (int)ST_LACTOSE)
                sum += in->part[c].value;
        if (sum > 1.0005)
            complain(in, "its parts are more than the whole");
        if (in->sugars.known && split > 0 && fabs(split - in->sugars.value) > 0.1*in->sugars.value + 0.012)
            complain(in, "its split of sugars is not their total");
    }
    assert_int_equal(bad, 0);
}

static void composition_is_complete_or_refused(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        struct st_range part[ST_NCOMP];
        const char *why = NULL;
        const enum st_status s = st_ingredient_parts(in, part, &why);
        const bool needs = (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE) && !in->strength.known;
        if (needs ? s != ST_E_REFUSED : s < 0)
            complain(in, needs ? "should be refused without a strength" : why);
        if (s < 0)
            continue;
        double sum = 0;
        for (int c = 0; c < ST_NCOMP; c++) {
            sum += part[c].value;
            if (!part[c].known || !(part[c].low <= part[c].value && part[c].value <= part[c].high && part[c].low >= 0))
                complain(in, st_component_name((enum st_component)c));
        }
        if (fabs(sum - 1) > 1e-12)
            complain(in, "its composition does not add up to 1");
    }
    assert_int_equal(bad, 0);
}

/* A cup of loose solids is lighter than the solid itself; a liquid weighs by its cup what it weighs by its density. */
static void bulk_is_under_true_density(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const double bulk = in->cup.known ? in->cup.value/236.588 : 0;
        const double water = in->part[ST_WATER].known ? in->part[ST_WATER].value : 0;
        if (bulk > 1.02/(water + (1 - water)/1.6)) /* nothing dry in a kitchen but salt is denser than sugar, 1.6 */
            complain(in, "a cup of it is heavier than it can be");
        if (in->kind == ST_KIND_SUGAR && in->density.known && bulk >= in->density.value)
            complain(in, "a cup is as dense as its crystal");
        const bool liquid = in->density.known && in->kind != ST_KIND_SUGAR;
        if (liquid && in->cup.known && fabs(bulk/in->density.value - 1) > 0.03)
            complain(in, "cup and density of a liquid part by over 3 %");
    }
    assert_int_equal(bad, 0);
}

static int by_value(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median_cup(enum st_kind kind)
{
    static double cup[2000];
    size_t n = 0;
    for (size_t i = 0; i < st_catalogue_count(all) && n < sizeof cup/sizeof cup[0]; i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (in->kind == kind && in->cup.known)
            cup[n++] = in->cup.value;
    }
    qsort(cup, n, sizeof cup[0], by_value);
    return n ? cup[n/2] : 0;
}

static void cups_are_like_their_kind_or_say_why(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (!in->cup.known)
            continue;
        const double usual = median_cup(in->kind);
        if ((in->cup.value > 2*usual || in->cup.value < usual/2) && !*in->note && !*in->cup_note)
            complain(in, "its cup is far from its kind's, and no note says why");
    }
    assert_int_equal(bad, 0);
}

/* Cup, spoons: one powder has one weight a mL, unless whole and chopped are told apart. */
static void spoons_agree_with_cups(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const double a = in->tbsp.known ? in->tbsp.value/14.7868 : 0, b = in->tsp.known ? in->tsp.value/4.92892 : 0;
        const double c = in->cup.known ? in->cup.value/236.588 : 0;
        if ((a > 0 && b > 0 && (a/b > 1.5 || b/a > 1.5)) || (a > 0 && c > 0 && (a/c > 1.5 || c/a > 1.5)))
            if (!*in->cup_note)
                complain(in, "its cup and spoons differ by half, and no cup_note says why");
    }
    assert_int_equal(bad, 0);
}

static void retention_is_ordered(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const struct st_range r = st_ingredient_retention(in);
        const bool solid = st_kind_is_solid(in->kind);
        if (!r.known || !(r.low <= r.value && r.value <= r.high) || (solid ? r.high <= 0 : r.value > 0))
            complain(in, "retention");
        if (r.high > 8)
            complain(in, "keeps more liquor than any plant does");
    }
    assert_int_equal(bad, 0);
}

static bool key_is_listed(const char *key, size_t n)
{
    char heading[80], other[80];
    if (n + 8 > sizeof heading)
        return false;
    (void)snprintf(heading, sizeof heading, "\n### [%.*s]", (int)n, key);
    (void)snprintf(other, sizeof other, "\n| `%.*s` |", (int)n, key);
    return strstr(st_buf_text(&sources), heading) || strstr(st_buf_text(&sources), other);
}

static void check_key(const struct st_ingredient *in, const char *text)
{
    for (const char *p = strchr(text, '['); p; p = strchr(p + 1, '[')) {
        const size_t n = strcspn(p + 1, "]");
        if (!key_is_listed(p + 1, n))
            complain(in, p);
    }
}

static void sources_are_listed(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const struct st_range some[] = { in->part[ST_WATER], in->sugars, in->cup, in->tbsp, in->tsp,
                                         in->piece, in->density, in->strength, in->edible, in->energy };
        for (size_t k = 0; k < sizeof some/sizeof some[0]; k++) {
            if (!some[k].known)
                continue;
            check_key(in, some[k].source);
            if (some[k].mark == 'r' && !strchr(some[k].source, '[') && !strstr(some[k].source, "declared"))
                complain(in, "a figure marked as read names no key");
        }
        for (int k = 0; k < in->n_caution + in->n_allergen; k++) {
            const struct st_flag *f = k < in->n_caution ? &in->caution[k] : &in->allergen[k - in->n_caution];
            const char *none = f->mark == 'm' ? "memory" : f->mark == 'p' ? "practice" : "";
            if (!*f->text || (*none && strcmp(f->source, none) != 0))
                complain(in, "a flag whose mark and source do not go together");
            if (!*none && !key_is_listed(f->source, strlen(f->source)))
                complain(in, f->source);
        }
    }
    assert_int_equal(bad, 0);
}

static void markers_are_in_their_table(void **state)
{
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        for (int k = 0; k < in->n_marker; k++) {
            char row[80];
            (void)snprintf(row, sizeof row, "\n%s\t", in->marker[k].marker);
            if (!strstr(st_buf_text(&markers), row))
                complain(in, in->marker[k].marker);
        }
    }
    assert_int_equal(bad, 0);
}

/* ---- names ---- */

static void every_name_finds_its_row(void **state)
{
    (void)state;
    int wrong = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        wrong += finds(in->slug, in->slug) + finds(in->name, in->slug);
        for (const char *p = in->names; *p;) {
            const size_t n = strcspn(p, "|");
            char name[200];
            (void)snprintf(name, sizeof name, "%.*s", (int)n, p);
            wrong += finds(name, in->slug);
            p += n + (p[n] == '|');
        }
    }
    assert_int_equal(wrong, 0);
}

static void lists_are_parted_by_bars_alone(void **state)
{
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const char *list[] = { in->names, in->piece_names };
        for (int k = 0; k < 2; k++)
            if (strstr(list[k], " |") || strstr(list[k], "| ") || strstr(list[k], "||"))
                fail_msg("%s: '%s'", in->slug, list[k]);
    }
    assert_string_equal(must("damson")->piece_names, "damson|damsons|fruit|fruits");
}

static void names_as_people_write_them(void **state)
{
    static const char *const asked[][2] = {
        { "dried apricots", "apricot_dried" }, { "apricots, dried", "apricot_dried" },
        { "Dried Apricot", "apricot_dried" },
        { "fresh damsons", "damson" }, { "damsons, ripe", "damson" }, { "zest of lemon", "lemon_peel_fresh" },
        { "lemon zest", "lemon_peel_fresh" }, { "lemon rind", "lemon_peel_fresh" }, { "sloes, pricked", "sloe" },
        { "spirit", "spirit_neutral" }, { "sugar", "sugar_white" }, { "granulated sugar", "sugar_white" },
        { "water", "water" }, { "boiled water, cooled", "water" }, { "Crème de cassis", "liqueur_cassis" },
        { "vanilla beans", "vanilla_pod" }, { "vanilla pods, split", "vanilla_pod" },
        { "canned peaches", "peach_tinned_syrup" },
        { "licorice root", "liquorice_root" }, { "chile", "chilli_fresh" }, { "dried chilies", "chilli_dry" },
        { "confectioners' sugar", "sugar_powdered" }, { "icing sugar", "sugar_powdered" },
        { "confectioner\xe2\x80\x99s sugar", "sugar_powdered" }, { "bourbon", "whisky" }, { "whiskey", "whisky" },
        { "half-and-half", "half_and_half" }, { "heavy cream", "cream_heavy" }, { "egg yolks", "egg_yolk" },
        { "eggs", "egg_whole" }, { "toasted hazelnuts", "hazelnut_roasted" },
        { "hazelnuts, toasted", "hazelnut_roasted" },
        { "fresh sage", "sage_fresh" }, { "dried sage", "sage_dry" }, { "dried star anise", "star_anise" },
        { "ground cinnamon", "cinnamon_ground" }, { "cinnamon sticks", "cinnamon_stick" },
        { "orange bitters", "bitters" },
        { "bitter oranges", "orange_bitter" }, { "cream of coconut", "cream_of_coconut" },
        { "coconut cream", "coconut_cream" },
        { "mahlab", "cherry_kernel_mahaleb" }, { "peach kernels", "peach_kernel" },
        { "noyaux", "stone_fruit_kernel" },
        { "sour-cherries, pitted", "cherry_sour" }, { "anise hyssop", "anise_hyssop" },
        { "rubbing alcohol", "spirit_isopropyl" },
        { "methylated spirits", "spirit_denatured" }, { "cinammon sticks", "" }, { "rasberries", "raspberry" },
        { "walnuts, green", "walnut_green" }, { "juice of lemon", "lemon_juice" },
        { "lemons, unwaxed", "lemon_flesh" },
    };
    int wrong = 0;
    (void)state;
    for (size_t i = 0; i < sizeof asked/sizeof asked[0]; i++)
        wrong += finds(asked[i][0], asked[i][1]);
    assert_int_equal(wrong, 0);
}

/* What is said decides what it is: these must not slip into something else. */
static void names_that_must_not_be_found(void **state)
{
    static const char *const unknown[] = { "dried damsons", "fresh star anise", "fresh wormwood", "", " ", "of the",
                                           "dried", "fresh", "zzz", "\xff\xfe", "dried pineapple", "frozen quince" };
    (void)state;
    for (size_t i = 0; i < sizeof unknown/sizeof unknown[0]; i++)
        if (find(unknown[i]))
            fail_msg("'%s' finds %s", unknown[i], find(unknown[i])->slug);
    char longer[4000];
    memset(longer, 'a', sizeof longer);
    assert_null(st_catalogue_find(all, longer, sizeof longer));
}

static void near_names_help(void **state)
{
    static const char *const asked[][2] = {
        { "damsn", "damson" }, { "vodca", "vodka" }, { "blackcurants", "blackcurrant" },
        { "star annise", "star_anise" },
        { "cinammmon sticks", "cinnamon_stick" }, { "dried sour cherries", "cherry_sour" },
        { "limonchello", "liqueur_lemon" },
        { "vanilla pdo", "vanilla_pod" }, { "gentain root", "gentian_root" }, { "hazlenuts", "hazelnut" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof asked/sizeof asked[0]; i++) {
        const struct st_ingredient *near[3] = { NULL };
        const int n = st_catalogue_near(all, asked[i][0], strlen(asked[i][0]), near, 3);
        bool among = false;
        for (int k = 0; k < n; k++)
            among = among || strcmp(near[k]->slug, asked[i][1]) == 0;
        if (!among)
            fail_msg("'%s' is not near '%s', best of %d: %s", asked[i][0], asked[i][1], n, n ? near[0]->slug : "none");
        for (int k = 1; k < n; k++)
            assert_ptr_not_equal(near[k], near[k - 1]);
    }
    const struct st_ingredient *near[3];
    assert_int_equal(st_catalogue_near(all, "qqqqxxxx", 8, near, 3), 0);
    /* another plant, another salt, another part: no slip of the pen */
    static const char *const other[] = { "cow parsley",  "quinine sulphate", "potato sprouts",          "fool's parsley",
                                         "horse radish leaves", "wood garlic", "potassium metabisulphate" };
    for (size_t i = 0; i < sizeof other / sizeof other[0]; i++) {
        const int n = st_catalogue_near(all, other[i], strlen(other[i]), near, 3);
        if (n != 0)
            fail_msg("'%s' leads to %s", other[i], near[0]->slug);
    }
    assert_int_equal(st_catalogue_near(all, "damson", 6, near, 0), 0);
}

static void likeness_of_words(void **state)
{
    (void)state;
    assert_true(st_near_word("damson", 6, "damson", 6) >= 1);
    assert_true(st_near_word("damosn", 6, "damson", 6) > 0.8); /* two neighbours swapped: one edit */
    assert_true(st_near_word("a", 1, "damson", 6) <= 0);
    assert_true(st_near_word("", 0, "", 0) >= 1);
}

/* ---- traps of food tables ---- */

static double g_per_ml(const char *name, double size_ml)
{
    const struct st_range r = st_ingredient_g_per_ml(must(name), size_ml);
    assert_true(r.known);
    return r.value;
}

static void a_cup_of_sugar_is_200_g(void **state)
{
    (void)state;
    assert_true(must("sugar")->density.value > 1.5); /* the crystal */
    assert_about(g_per_ml("sugar", 236.588)*236.588, 200, 1e-9);
    assert_about(g_per_ml("sugar", 4.92892)*4.92892, 4.2, 1e-9);
    assert_about(g_per_ml("water", 236.588), 0.9982, 1e-9);
}

static void whipped_cream_is_half_as_heavy(void **state)
{
    (void)state;
    const double liquid = g_per_ml("heavy cream", 236.588), whipped = g_per_ml("whipped cream", 236.588);
    assert_true(liquid/whipped > 1.8 && liquid/whipped < 2.2);
    assert_string_equal(must("whipping cream")->slug, "cream_whipping"); /* not yet whipped */
}

static void solids_hold_no_sugar_twice(void **state)
{
    struct st_range part[ST_NCOMP];
    const char *why;
    (void)state;
    assert_int_equal(st_ingredient_parts(must("dried apricots"), part, &why), ST_OK);
    const double sugars = part[ST_SUCROSE].value + part[ST_GLUCOSE].value + part[ST_FRUCTOSE].value;
    assert_about(sugars, 0.5344, 1e-9);
    assert_about(part[ST_SOLIDS].value + part[ST_EXTRACT].value, 1 - 0.3089 - 0.5344 - 0.024, 1e-9);
}

static void a_blank_sugar_is_not_none(void **state)
{
    static const char text[] = "ingredient thing\nname thing\nkind fresh_fruit\nwater 80 70..90 % m guess\n";
    struct st_problem p;
    struct st_range part[ST_NCOMP];
    const char *why = "";
    (void)state;
    struct st_catalogue *c = st_catalogue_create(text, sizeof text - 1, &p);
    assert_non_null(c);
    part[ST_WATER].value = 7; /* untouched when refused */
    assert_int_equal(st_ingredient_parts(st_catalogue_at(c, 0), part, &why), ST_E_REFUSED);
    assert_string_equal(why, "its sugar is not known");
    assert_about(part[ST_WATER].value, 7, 0);
    st_catalogue_free(c);
    for (size_t i = 0; i < st_catalogue_count(all); i++) { /* spices that the tables leave blank have a wide guess */
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (in->kind == ST_KIND_SEED)
            assert_true(in->sugars.known && in->sugars.high > 0);
    }
}

static void spirit_needs_its_strength(void **state)
{
    struct st_range part[ST_NCOMP];
    const char *why;
    (void)state;
    struct st_ingredient vodka = *must("vodka");
    assert_int_equal(st_ingredient_parts(&vodka, part, &why), ST_E_REFUSED);
    assert_false(st_ingredient_g_per_ml(&vodka, 1000).known);
    vodka.strength = (struct st_range){ 40, 40, 40, true, 'u', "label" };
    assert_true(st_ingredient_parts(&vodka, part, &why) >= 0);
    assert_about(part[ST_ETHANOL].value, 0.3330, 2e-4); /* 40 % vol at 20 C is 33.30 % mass [oiml1975] */
    assert_about(st_ingredient_g_per_ml(&vodka, 1000).value, 0.94805, 2e-4);
}

static void wine_strength_counts_its_sugar(void **state)
{
    struct st_range part[ST_NCOMP];
    const char *why;
    (void)state;
    const struct st_ingredient *in = must("port");
    assert_true(st_ingredient_parts(in, part, &why) >= 0);
    /* ethanol g/g = % vol x 0.78924 / density: near 1.02 for port, by its own figures */
    assert_about(part[ST_ETHANOL].value, in->strength.value/100*0.78924/in->density.value, 0.003);
}

static bool has_flag(const struct st_flag *flag, int n, const char *what, const char *degree)
{
    for (int i = 0; i < n; i++)
        if (strcmp(flag[i].what, what) == 0 && (!degree || strcmp(flag[i].degree, degree) == 0))
            return true;
    return false;
}

static void allergens_have_their_scope(void **state)
{
    static const struct {
        const char *name, *what, *scope;
    } must_have[] = {
        { "bitter almonds", "almond", "eu_us" }, { "apricot kernels", "almond", "voluntary" },
        { "green walnuts", "walnut", "eu_us" },
        { "black walnut", "black_walnut", "us" }, { "pine nuts", "pine_nut", "us" },
        { "celery seed", "celery", "eu" },
        { "mustard seed", "mustard", "eu" }, { "cocoa nibs", "nuts", "possible_eu_us" },
        { "milk", "milk", "eu_us" },
        { "dried apricots", "sulphites", "eu_us" }, { "isinglass", "fish", "eu_us" },
        { "egg white", "egg", "eu_us" },
        { "sesame", "sesame", "eu_us" }, { "peanuts", "peanut", "eu_us" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof must_have/sizeof must_have[0]; i++) {
        const struct st_ingredient *in = must(must_have[i].name);
        if (!has_flag(in->allergen, in->n_allergen, must_have[i].what, must_have[i].scope))
            fail_msg("%s lacks %s %s", in->slug, must_have[i].what, must_have[i].scope);
    }
    assert_int_equal(must("desiccated coconut")->n_allergen, 1); /* sulphites perhaps, but no nut */
    assert_int_equal(must("chestnut")->n_allergen, 0);
    assert_int_equal(must("aniseed")->n_allergen, 0); /* a relative of celery is not celery */
}

static void every_scope_is_known(void **state)
{
    static const char *const scopes[] = { "eu_us",          "eu",          "us",         "voluntary",
                                          "possible_eu_us", "possible_eu", "possible_us" };
    static const char *const degrees[] = { "high", "moderate", "low", "trace", "" };
    (void)state;
    bad = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        for (int k = 0; k < in->n_allergen; k++) {
            bool known = false;
            for (size_t j = 0; j < sizeof scopes/sizeof scopes[0]; j++)
                known = known || strcmp(in->allergen[k].degree, scopes[j]) == 0;
            if (!known)
                complain(in, in->allergen[k].degree);
        }
        for (int k = 0; k < in->n_caution; k++) {
            bool known = false;
            for (size_t j = 0; j < sizeof degrees/sizeof degrees[0]; j++)
                known = known || strcmp(in->caution[k].degree, degrees[j]) == 0;
            known = known || (strcmp(in->caution[k].what, "banned") == 0 && st_rule_places(in->caution[k].degree + (in->caution[k].degree[0] == '=')));
            if (!known)
                complain(in, in->caution[k].degree);
        }
    }
    assert_int_equal(bad, 0);
}

static void dangers_are_known_by_name(void **state)
{
    static const char *const flagged[][2] = {
        { "apricot kernels", "cyanogenic" }, { "mahlab", "cyanogenic" }, { "peach kernels", "cyanogenic" },
        { "cherry stones", "cyanogenic" }, { "wormwood", "thujone" }, { "tonka beans", "coumarin" },
        { "cassia", "coumarin" },
        { "woodruff", "coumarin" }, { "calamus", "banned" }, { "pennyroyal", "banned" }, { "sassafras", "banned" },
        { "Japanese star anise", "banned" }, { "hemlock", "look_alike" }, { "white hellebore", "look_alike" },
        { "foxglove", "look_alike" }, { "comfrey", "banned" }, { "lily of the valley", "look_alike" },
        { "deadly nightshade", "banned" }, { "yew", "banned" }, { "oleander", "banned" }, { "laburnum", "banned" },
        { "monkshood", "banned" }, { "elder leaves", "banned" }, { "rhubarb leaves", "banned" },
        { "birthwort", "banned" },
        { "autumn crocus", "look_alike" }, { "denatured alcohol", "denatured" }, { "isopropanol", "denatured" },
        { "methanol", "denatured" }, { "elderberries", "heat_first" }, { "honey", "infants" },
        { "egg yolk", "salmonella" },
        { "rhubarb", "leaves_toxic" }, { "grapefruit peel", "drug_interaction" }, { "gentian", "look_alike" },
        { "star anise", "look_alike" }, { "angelica root", "look_alike" }, { "wild garlic", "look_alike" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof flagged/sizeof flagged[0]; i++) {
        const struct st_ingredient *in = must(flagged[i][0]);
        if (!has_flag(in->caution, in->n_caution, flagged[i][1], NULL))
            fail_msg("%s lacks the caution %s", in->slug, flagged[i][1]);
    }
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const bool kernel = in->kind == ST_KIND_KERNEL && strcmp(in->slug, "avocado_stone") != 0;
        if (kernel && !has_flag(in->caution, in->n_caution, "cyanogenic", NULL))
            fail_msg("%s is a kernel without its caution", in->slug);
    }
}

static void fat_of_nuts_stays_in_the_solids(void **state)
{
    struct st_range part[ST_NCOMP];
    const char *why;
    (void)state;
    assert_true(st_ingredient_parts(must("hazelnuts"), part, &why) >= 0);
    assert_true(part[ST_FAT].value <= 0 && part[ST_PROTEIN].value <= 0);
    assert_true(part[ST_EXTRACT].value < 0.02 && part[ST_SOLIDS].value > 0.85);
    assert_true(st_ingredient_parts(must("heavy cream"), part, &why) >= 0);
    assert_true(part[ST_FAT].value > 0.3 && part[ST_LACTOSE].value > 0.02 && part[ST_SUCROSE].value <= 0);
}

static void sweet_is_not_sugar(void **state)
{
    static const char *const names[] = { "xylitol", "erythritol", "stevia", "sucralose", "saccharin", "glycerine" };
    struct st_range part[ST_NCOMP];
    const char *why;
    (void)state;
    for (size_t i = 0; i < sizeof names/sizeof names[0]; i++) {
        const struct st_ingredient *in = must(names[i]);
        assert_true(in->sweetness.known && in->energy.known);
        assert_true(st_ingredient_parts(in, part, &why) >= 0);
        assert_true(st_mixture_sugars((const double[ST_NCOMP]){ 0, 0, part[ST_SUCROSE].value, part[ST_GLUCOSE].value,
                                                                part[ST_FRUCTOSE].value, part[ST_LACTOSE].value }) <= 0);
    }
}

static void retention_prior_is_the_kinds(void **state)
{
    (void)state;
    const struct st_range r = st_ingredient_retention(must("damson"));
    assert_about(r.value, 0.75, 1e-12);
    assert_about(r.low, 0.75/1.96, 1e-12);
    assert_about(r.high, 0.75*1.6, 1e-12);
    assert_int_equal(r.mark, 'm');
    assert_about(st_ingredient_retention(must("sloe")).value, 0.7, 1e-12); /* the sheet's own */
    assert_true(st_ingredient_retention(must("honey")).value <= 0);
}

/* ---- reading ---- */

#define HEAD "ingredient thing\nname thing\nkind fresh_fruit\n"

static void refusals_name_the_line(void **state)
{
    static const struct {
        const char *text;
        int line;
        const char *why, *attempt;
    } bad_sheet[] = {
        { HEAD "watre 80 70..90 % m x\n", 4, "no key", "water" },
        { "ingredient thing\nname thing\nkind fresh_friut\n", 3, "no kind", "fresh_fruit" },
        { HEAD "water 80 70..90 g m x\n", 4, "unit", "" },
        { HEAD "water 80 90..95 % m x\n", 4, "not between", "" },
        { HEAD "water 180 70..190 % m x\n", 4, "not between", "" },
        { HEAD "water nan 0..1 % m x\n", 4, "not a number", "" },
        { HEAD "water 0x10 0..99 % m x\n", 4, "not a number", "" },
        { HEAD "water 8O 0..99 % m x\n", 4, "not a number", "" },
        { HEAD "water 1e999 0..99 % m x\n", 4, "not a number", "" },
        { HEAD "water 80 % m x\n", 4, "low..high", "" },
        { HEAD "water 80 70..90 % q x\n", 4, "mark", "" },
        { HEAD "water 80 70..90 % m\n", 4, "no source", "" },
        { HEAD "water\n", 4, "not a number", "" },
        { HEAD "water 80 70..90 % m x\nwater 80 70..90 % m x\n", 5, "before", "" },
        { HEAD "caution cyanogenic high x text\n", 4, "mark", "" },
        { HEAD "caution cyanogenic high m [memory\n", 4, "mark", "" },
        { HEAD "caution cyanogenic high m [memory]\n", 4, "sentence", "" },
        { HEAD "botanical\n", 4, "nothing follows", "" },
        { "name thing\n", 1, "before the first", "" },
        { "ingredient Thing\n", 1, "a-z", "" },
        { "ingredient thing\nkind nut\n", 1, "no name", "" },
        { "ingredient thing\nname thing\n", 1, "no kind", "" },
        { HEAD "\n# remark\ningredient other\nname other\nnames things\nkind nut\n", 6, "already means 'thing'",
          "" },
        { "# one\n\x01", 2, "control", "" },
        { "# one\n#\xc3(", 2, "UTF-8", "" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof bad_sheet/sizeof bad_sheet[0]; i++) {
        struct st_problem p = { 0 };
        struct st_catalogue *c = st_catalogue_create(bad_sheet[i].text, strlen(bad_sheet[i].text), &p);
        if (c)
            fail_msg("sheet %zu is taken, but: %s", i, bad_sheet[i].why);
        if (p.at.line != bad_sheet[i].line || !strstr(p.why, bad_sheet[i].why) || !strstr(p.try_, bad_sheet[i].attempt))
            fail_msg("sheet %zu: line %d: %s: %s; %s", i, p.at.line, p.what, p.why, p.try_);
        assert_true(*p.what && *p.try_);
    }
}

static void limits_hold(void **state)
{
    struct st_problem p = { 0 };
    (void)state;
    char *big = calloc(1, (4u << 20) + 2);
    assert_non_null(big);
    memset(big, '#', (4u << 20) + 1);
    assert_null(st_catalogue_create(big, (4u << 20) + 1, &p));
    assert_null(st_catalogue_create(big, 3000, &p)); /* one long line */
    assert_int_equal(p.at.line, 1);
    free(big);
    struct st_catalogue *c = st_catalogue_create("", 0, &p);
    assert_non_null(c);
    assert_int_equal(st_catalogue_count(c), 0);
    assert_null(st_catalogue_find(c, "x", 1));
    st_catalogue_free(c);
    st_catalogue_free(NULL);
}

static void defining_adds_or_replaces(void **state)
{
    static const char text[] = HEAD "names thingy\nsugars 9 8..10 % m guess\n";
    struct st_problem p;
    (void)state;
    struct st_catalogue *c = st_catalogue_create(text, sizeof text - 1, &p);
    assert_non_null(c);
    const struct st_ingredient *old = st_catalogue_find(c, "thing", 5);
    struct st_ingredient *own = st_catalogue_define(c, "My Cherry Plums", old);
    own->sugars.value = 0.12;
    assert_string_equal(own->slug, "my_cherry_plums");
    assert_string_equal(own->like, "thing");
    assert_ptr_equal(st_catalogue_find(c, "cherry plum, my", 15), own);
    assert_about(old->sugars.value, 0.09, 1e-12); /* the base is as it was */
    struct st_ingredient *again = st_catalogue_define(c, "things", old);
    assert_ptr_equal(st_catalogue_find(c, "thing", 5), again);
    assert_ptr_equal(st_catalogue_find(c, "thingy", 6), again); /* its other names follow */
    assert_int_equal(st_catalogue_count(c), 2);
    struct st_ingredient *bare = st_catalogue_define(c, "Thingy", NULL); /* a further name alone is taken over */
    assert_ptr_equal(st_catalogue_find(c, "thingy", 6), bare);
    assert_ptr_equal(st_catalogue_find(c, "thing", 5), again);
    assert_false(bare->sugars.known);
    assert_string_equal(st_catalogue_keep(c, "abcdef", 3), "abc");
    st_catalogue_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranges_are_ordered),
        cmocka_unit_test(parts_are_no_more_than_the_whole),
        cmocka_unit_test(composition_is_complete_or_refused),
        cmocka_unit_test(bulk_is_under_true_density),
        cmocka_unit_test(cups_are_like_their_kind_or_say_why),
        cmocka_unit_test(spoons_agree_with_cups),
        cmocka_unit_test(retention_is_ordered),
        cmocka_unit_test(sources_are_listed),
        cmocka_unit_test(markers_are_in_their_table),
        cmocka_unit_test(every_name_finds_its_row),
        cmocka_unit_test(lists_are_parted_by_bars_alone),
        cmocka_unit_test(names_as_people_write_them),
        cmocka_unit_test(names_that_must_not_be_found),
        cmocka_unit_test(near_names_help),
        cmocka_unit_test(likeness_of_words),
        cmocka_unit_test(a_cup_of_sugar_is_200_g),
        cmocka_unit_test(whipped_cream_is_half_as_heavy),
        cmocka_unit_test(solids_hold_no_sugar_twice),
        cmocka_unit_test(a_blank_sugar_is_not_none),
        cmocka_unit_test(spirit_needs_its_strength),
        cmocka_unit_test(wine_strength_counts_its_sugar),
        cmocka_unit_test(allergens_have_their_scope),
        cmocka_unit_test(every_scope_is_known),
        cmocka_unit_test(dangers_are_known_by_name),
        cmocka_unit_test(fat_of_nuts_stays_in_the_solids),
        cmocka_unit_test(sweet_is_not_sugar),
        cmocka_unit_test(retention_prior_is_the_kinds),
        cmocka_unit_test(refusals_name_the_line),
        cmocka_unit_test(limits_hold),
        cmocka_unit_test(defining_adds_or_replaces),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
