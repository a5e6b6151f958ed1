/* What a drink may hold at most, and each limit held against it: books made by hand, drinks as if foretold. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "ledger_kit.h"

static void assert_near(double is, double want, double within)
{
    if (!(fabs(is - want) <= within))
        fail_msg("%.12g is not %.12g", is, want);
}

enum { LINES = 40 };

/* A jar that is the drink: lines of ingredients, nothing taken away. */
struct jar {
    struct st_ingredient what[LINES];
    struct st_line line[LINES];
    struct st_step step;
    struct st_recipe recipe;
};

static void put(struct jar *j, struct st_ingredient in, double g)
{
    const int n = j->step.n_line;
    assert_true(n < LINES);
    if (n == 0) {
        j->step = kit_step("jar", ST_DO_STEEP, j->line, 0);
        j->recipe = kit_recipe(&j->step, 1);
        kit_sharp_tools(&j->recipe);
    }
    j->what[n] = in;
    j->line[n] = kit_line(&j->what[n], kit_g(g));
    j->step.n_line = n + 1;
}

static const struct st_ledger_entry *entry(const struct st_ledger *l, const char *slug)
{
    for (int i = 0; i < l->n_entry; i++)
        if (strcmp(l->entry[i].toxicant->slug, slug) == 0)
            return &l->entry[i];
    return NULL;
}

static const struct st_test *test_of(const struct st_ledger_entry *e, const char *id)
{
    for (int i = 0; e && i < e->n_test; i++)
        if (strcmp(e->test[i].rule->id, id) == 0)
            return &e->test[i];
    return NULL;
}

static struct st_ledger *make(const struct jar *j, const struct st_foretold *f, const struct st_rule_books *b)
{
    struct st_ledger *l = malloc(sizeof *l);
    assert_non_null(l);
    assert_int_equal(st_ledger_make(&j->recipe, f, b, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
    return l;
}

/* ---- the traps ---- */

/* At which dose, at a density of 1.00, the ceiling reaches the benchmark.  dose: as the list of traps of the reference has it,
 * to its last digit; mg_kg: row of the reference sheet of contents (toxicant_content.csv); limit: of its sheet of limits. */
static const struct {
    const char *slug, *toxicant;
    double mg_kg, limit, strength, dose, digit;
} TRAP[] = {
    /* 69 mg/g amygdalin x 0.0591; [ec_1334_2008] annex III part B: 35 mg/kg (EU-B08) */
    { "apricot_kernel_bitter", "hydrogen_cyanide", 69000 * 0.0591, 35, 30, 8.6, 0.05 },
    /* the same as hydrogen cyanide, 4080 mg/kg */
    { "apricot_kernel_bitter", "hydrogen_cyanide", 4080, 35, 30, 8.6, 0.05 },
    /* 50 mg/g amygdalin x 0.0591 */
    { "almond_bitter", "hydrogen_cyanide", 50000 * 0.0591, 35, 30, 11.8, 0.05 },
    /* 17.5 mg/g amygdalin x 0.0591: the ceiling of stone and pome fruit kernels */
    { "cherry_stone", "hydrogen_cyanide", 17500 * 0.0591, 35, 30, 34, 0.5 },
    /* 10 mg/g thujone, from memory; EU-B34 10 mg/kg */
    { "sage", "thujone", 10000, 10, 30, 1, 0.05 },
    /* 140 mg/g, from memory; quinine salts in spirit drinks 250 mg/kg */
    { "cinchona_bark", "quinine", 140000, 250, 30, 1.8, 0.05 },
    /* 150 mg/g, from memory; 550 mg/kg in alcoholic drinks */
    { "liquorice_root", "glycyrrhizic_acid", 150000, 550, 30, 3.7, 0.05 },
    /* 5 mg/g, from memory; EU-B01 1 mg/kg */
    { "calamus", "beta_asarone", 5000, 1, 30, 0.2, 0.005 },
    /* 30 mg/g, from memory; repealed directive 88/388, 10 mg/kg (EU88-05) */
    { "tonka_bean", "coumarin", 30000, 10, 30, 0.33, 0.005 },
    /* 10 000 mg/kg, read; the same */
    { "cassia", "coumarin", 10000, 10, 30, 1, 0.05 },
    /* 4 mg/g safrole, from memory; EU88-11 5 mg/kg over 25 % vol */
    { "nutmeg", "safrole", 4000, 5, 30, 1.25, 0.005 },
};

static void traps(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof TRAP / sizeof TRAP[0]; i++) {
        const struct st_toxicant t = kit_toxicant(TRAP[i].toxicant, "");
        const struct st_content c = kit_content(TRAP[i].slug, TRAP[i].toxicant, TRAP[i].mg_kg);
        const struct st_rule rule = kit_rule("trap", TRAP[i].toxicant, ST_RULE_MG_KG, TRAP[i].limit);
        const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
        const struct st_foretold f = kit_drink(1000, 1.0, TRAP[i].strength);
        struct jar j = { .step = { .n_line = 0 } };
        put(&j, kit_ingredient(TRAP[i].slug, ST_KIND_KERNEL), 1.02 * TRAP[i].limit / TRAP[i].mg_kg * 1e3);
        struct st_ledger *l = make(&j, &f, &b);
        assert_int_equal(l->n_entry, 1);
        assert_int_equal(l->entry[0].verdict, ST_PASSES);
        if (!(fabs(l->entry[0].most_g_l - TRAP[i].dose) <= TRAP[i].digit))
            fail_msg("%s: %g g/L, told %g +/- %g", TRAP[i].slug, l->entry[0].most_g_l, TRAP[i].dose, TRAP[i].digit);
        free(l);
    }
}

/* Within the limit of drinks and above the acute reference dose: at exactly 35 mg/kg and density 1.05 a serving of 40 mL
 * holds 1.47 mg, 122 % of the dose for 60 kg ([efsa_2016] 0.020 mg/kg); 32.7 mL reaches it. */
static void two_tests(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("hydrogen_cyanide", "cyanogenic");
    const struct st_content c = kit_content("kernel", "hydrogen_cyanide", 4080);
    struct st_rule rule[2] = { kit_rule("law", "hydrogen_cyanide", ST_RULE_MG_KG, 35),
                               kit_rule("dose", "hydrogen_cyanide", ST_RULE_MG_KG_BW_DAY, 0.020) };
    rule[1].places = ST_PLACE_HEALTH;
    const struct st_rule_books b = { &t, 1, &c, 1, rule, 2, NULL };
    const struct st_foretold f = kit_drink(1000, 1.05, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("kernel", ST_KIND_KERNEL), 35 * 1.05 / 4.080);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = entry(l, "hydrogen_cyanide");
    assert_int_equal(test_of(e, "law")->verdict, ST_WITHIN);
    assert_int_equal(test_of(e, "dose")->verdict, ST_PASSES);
    assert_ptr_equal(&e->test[0], test_of(e, "dose")); /* worst first */
    assert_int_equal(e->verdict, ST_PASSES);
    assert_int_equal(l->verdict, ST_PASSES);
    assert_near(e->serving_mg, 1.47, 1e-9);
    assert_near(100 * test_of(e, "dose")->is / 0.020, 122.5, 1e-6);
    assert_ptr_equal(e->binds, &rule[1]);
    assert_near(e->most_g_l, 0.020 * 60 / 0.040 / 4.080, 1e-9);
    const struct st_drinker less = { 32.6, 60 }, more = { 32.7, 60 };
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &less, NULL, 0, l), ST_OK);
    assert_int_equal(l->verdict, ST_WITHIN);
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &more, NULL, 0, l), ST_OK);
    assert_int_equal(l->verdict, ST_PASSES);
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_EU, &more, NULL, 0, l), ST_OK);
    assert_int_equal(l->verdict, ST_WITHIN);
    const struct st_drinker none = { 40, 0 }, nobody = { (double)NAN, 60 };
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_EU, &none, NULL, 0, l), ST_E_DOMAIN);
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_EU, &nobody, NULL, 0, l), ST_E_DOMAIN);
    free(l);
}

/* ---- every unit, at its limit, under, over ---- */

/* mg in the drink that are the limit, by hand: 800 mL of 1.1 g/mL at 32 % vol hold 0.8 L, 0.88 kg, 0.256 L of ethanol. */
static double mg_at(enum st_rule_unit unit, double limit)
{
    switch (unit) {
    case ST_RULE_MG_KG: return limit * 0.88;
    case ST_RULE_MG_KG_PER_PCT_VOL: return limit * 32 * 0.88;
    case ST_RULE_MG_L: return limit * 0.8;
    case ST_RULE_MG_KG_BW_DAY: return limit * 60 * (800.0 / 40);
    case ST_RULE_MG_PERSON_DAY: return limit * (800.0 / 40);
    case ST_RULE_G_HL_ALCOHOL: return limit * 1000 * 0.00256; /* hL */
    case ST_RULE_G_L_ETHANOL: return limit * 1000 * 0.256;
    default: return 0;
    }
}

static void units(void **state)
{
    (void)state;
    static const double BY[3] = { 1 - 1e-6, 1, 1 + 1e-6 };
    const struct st_foretold f = kit_drink(800, 1.1, 32);
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 2500);
    for (int unit = 0; unit < ST_RULE_PRESENT; unit++)
        for (int i = 0; i < 3; i++)
            for (int least = 0; least < 2; least++) {
                struct st_rule rule = kit_rule("r", "x", (enum st_rule_unit)unit, 7.25);
                rule.at_least = least;
                const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
                const double g = mg_at(rule.unit, rule.limit) / 2.5; /* 2.5 mg/g */
                struct jar j = { .step = { .n_line = 0 } };
                put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), g * BY[i]);
                struct st_ledger *l = make(&j, &f, &b);
                const struct st_ledger_entry *e = entry(l, "x");
                const struct st_test *test = test_of(e, "r");
                assert_int_equal(test->verdict, i == 2 || (least && i == 1) ? ST_PASSES : ST_WITHIN);
                assert_near(test->is, 7.25 * BY[i], 1e-9);
                assert_near(test->high, test->is, 1e-12);
                if (least) { /* a declaration is no limit */
                    assert_int_equal(e->verdict, ST_NOT_ASSESSED);
                    assert_true(isnan(e->most_g_l));
                } else {
                    assert_int_equal(e->verdict, test->verdict);
                    assert_near(e->most_g_l, g / 0.8, 1e-9 * g);
                }
                free(l);
            }
}

/* How much a litre may hold all of, and of how much it may: past the limit just where the one is more than the other, whatever
 * the weight and the drink may be off.  By hand: 0.9 g that may be g.high, in 1 L that may be 0.95, of 10 mg/g against 10 mg/L. */
static void over_where_more_than_the_dose(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 10000);
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_L, 10);
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    static const double HIGH[2] = { 0.94, 0.96 };
    struct st_foretold f = kit_drink(1000, 1, 30);
    f.fig[ST_FIG_VOLUME].low = 950;
    for (int i = 0; i < 2; i++) {
        struct jar j = { .step = { .n_line = 0 } };
        put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 0.9);
        j.line[0].amount.high = HIGH[i];
        struct st_ledger *l = make(&j, &f, &b);
        const struct st_ledger_entry *e = entry(l, "x");
        assert_near(e->most_g_l, 1, 1e-9);
        assert_near(e->is_g_l, HIGH[i] / 0.95, 1e-9);
        assert_int_equal(e->verdict, i ? ST_MAY_PASS : ST_WITHIN);
        free(l);
    }
}

/* Only the high end: of the weight, of the drink, of the strength. */
static void high_ends(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 1000);
    const struct st_rule rule[2] = { kit_rule("kg", "x", ST_RULE_MG_KG, 10),
                                     kit_rule("pct", "x", ST_RULE_MG_KG_PER_PCT_VOL, 0.5) };
    for (int i = 0; i < 3; i++) {
        const struct st_rule_books b = { &t, 1, &c, 1, &rule[i == 2], 1, NULL };
        struct st_foretold f = kit_drink(1000, 1, 20);
        struct jar j = { .step = { .n_line = 0 } };
        put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 9.9);
        if (i == 0)
            j.line[0].amount.high = 10.1;
        if (i == 1)
            f.fig[ST_FIG_MASS].low = 980;
        if (i == 2)
            f.fig[ST_FIG_STRENGTH].low = 19.5;
        struct st_ledger *l = make(&j, &f, &b);
        assert_int_equal(l->entry[0].verdict, ST_MAY_PASS);
        assert_true(l->entry[0].test[0].is < l->entry[0].test[0].limit);
        assert_true(l->entry[0].test[0].high > l->entry[0].test[0].limit);
        free(l);
    }
}

/* ---- scopes ---- */

static const struct {
    enum st_rule_scope scope;
    double low, value, high; /* % vol; value < 0: not known */
    const char *botanical;
    bool speaks, maybe;
} SCOPE[] = {
    { ST_SCOPE_ANY, 20, 20, 20, "", true, false },
    { ST_SCOPE_ANY, 0, -1, 0, "", true, false },
    { ST_SCOPE_TO_25, 25, 25, 25, "", true, false },
    { ST_SCOPE_TO_25, 25.01, 25.01, 25.01, "", false, false },
    { ST_SCOPE_TO_25, 24.5, 25.5, 26, "", true, true },
    { ST_SCOPE_TO_25, 0, -1, 0, "", true, true },
    { ST_SCOPE_OVER_25, 25, 25, 25, "", false, false },
    { ST_SCOPE_OVER_25, 25.01, 25.01, 25.01, "", true, false },
    { ST_SCOPE_OVER_25, 24.5, 24.8, 25.5, "", true, true },
    { ST_SCOPE_OVER_25, 0, -1, 0, "", true, true },
    { ST_SCOPE_SPIRIT_DRINK, 14.99, 14.99, 14.99, "", false, false },
    { ST_SCOPE_SPIRIT_DRINK, 15, 15, 15, "", true, false },
    { ST_SCOPE_SPIRIT_DRINK, 14, 14.5, 15.5, "", true, true },
    { ST_SCOPE_UNDER_15, 14.99, 14.99, 14.99, "", true, false },
    { ST_SCOPE_UNDER_15, 15, 15, 15, "", false, false },
    { ST_SCOPE_UNDER_15, 14.9, 15.1, 15.5, "", true, true },
    { ST_SCOPE_ARTEMISIA, 30, 30, 30, "Artemisia absinthium", true, false },
    { ST_SCOPE_ARTEMISIA, 30, 30, 30, "Salvia officinalis", false, false },
    { ST_SCOPE_NOT_ARTEMISIA, 30, 30, 30, "Salvia officinalis", true, false },
    { ST_SCOPE_NOT_ARTEMISIA, 30, 30, 30, "Artemisia absinthium", false, false },
    { ST_SCOPE_MINT, 30, 30, 30, "Mentha x piperita", true, false },
    { ST_SCOPE_MINT, 30, 30, 30, "Agathosma betulina", false, false },
    { ST_SCOPE_BITTER, 30, 30, 30, "", true, true },
    { ST_SCOPE_NOT_BITTER, 30, 30, 30, "", true, true },
    { ST_SCOPE_INGREDIENT, 30, 30, 30, "", false, false },
    { ST_SCOPE_BASE_SPIRIT, 30, 30, 30, "", false, false },
    { ST_SCOPE_ADDED, 30, 30, 30, "", false, false },
    { ST_SCOPE_OTHER_FOOD, 30, 30, 30, "", false, false },
};

static void scopes(void **state)
{
    (void)state;
    static const double BY[3] = { 1 - 1e-6, 1, 1 + 1e-6 };
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("herb", "x", 1000);
    for (size_t i = 0; i < sizeof SCOPE / sizeof SCOPE[0]; i++)
        for (int k = 0; k < 3; k++) {
            struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_KG, 10);
            rule.scope = SCOPE[i].scope;
            const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
            struct st_foretold f = kit_drink(1000, 1, 30);
            f.fig[ST_FIG_STRENGTH] = kit_interval(SCOPE[i].low, SCOPE[i].value, SCOPE[i].high);
            f.fig[ST_FIG_STRENGTH].known = SCOPE[i].value >= 0;
            struct jar j = { .step = { .n_line = 0 } };
            struct st_ingredient herb = kit_ingredient("herb", ST_KIND_HERB_DRY);
            herb.botanical = SCOPE[i].botanical;
            put(&j, herb, 10 * BY[k]);
            struct st_ledger *l = make(&j, &f, &b);
            const struct st_test *test = test_of(entry(l, "x"), "r");
            if ((test != NULL) != SCOPE[i].speaks)
                fail_msg("scope %zu", i);
            if (test && test->maybe != SCOPE[i].maybe)
                fail_msg("scope %zu: maybe", i);
            if (!test) {
                assert_int_equal(l->verdict, ST_NOT_ASSESSED);
            } else if (k < 2) {
                assert_int_equal(test->verdict, ST_WITHIN);
            } else { /* at an end of its strength alone: may */
                const bool middle =
                    !(SCOPE[i].scope == ST_SCOPE_TO_25 && SCOPE[i].value > 25) &&
                    !(SCOPE[i].scope == ST_SCOPE_OVER_25 && SCOPE[i].value > 0 && SCOPE[i].value <= 25) &&
                    !(SCOPE[i].scope == ST_SCOPE_SPIRIT_DRINK && SCOPE[i].value < 15) &&
                    !(SCOPE[i].scope == ST_SCOPE_UNDER_15 && SCOPE[i].value >= 15);
                assert_int_equal(test->verdict, middle ? ST_PASSES : ST_MAY_PASS);
            }
            free(l);
        }
}

/* A pinch of wormwood lifts the limit of the drink, not that of what the sage brings. */
static void pinch_of_wormwood(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("thujone", "thujone");
    const struct st_content c[2] = { kit_content("sage", "thujone", 10000), kit_content("wormwood", "thujone", 3500) };
    struct st_rule rule[2] = { kit_rule("other", "thujone", ST_RULE_MG_KG, 10),
                               kit_rule("artemisia", "thujone", ST_RULE_MG_KG, 35) };
    rule[0].scope = ST_SCOPE_NOT_ARTEMISIA;
    rule[1].scope = ST_SCOPE_ARTEMISIA;
    const struct st_rule_books b = { &t, 1, c, 2, rule, 2, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    struct st_ingredient sage = kit_ingredient("sage", ST_KIND_HERB_DRY),
                         worm = kit_ingredient("wormwood", ST_KIND_HERB_DRY);
    worm.botanical = "Artemisia absinthium";
    put(&j, sage, 1.5);
    put(&j, worm, 0.1);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = entry(l, "thujone");
    assert_int_equal(test_of(e, "artemisia")->verdict, ST_WITHIN);
    assert_near(test_of(e, "artemisia")->is, 15.35, 1e-9);
    assert_int_equal(test_of(e, "other")->verdict, ST_PASSES);
    assert_true(test_of(e, "other")->part);
    assert_near(test_of(e, "other")->is, 15, 1e-9);
    assert_int_equal(e->verdict, ST_PASSES);
    assert_ptr_equal(e->binds, &rule[0]);
    assert_near(e->most_g_l, 1, 1e-9);
    free(l);
}

/* ---- what nobody knows ---- */

static void unknown(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "flagged");
    const struct st_content c[2] = { kit_content("none", "x", (double)NAN), kit_content("root", "x", 1000) };
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_KG, 10);
    const struct st_rule_books b = { &t, 1, c, 2, &rule, 1, NULL };
    struct st_foretold f = kit_drink(1000, 1, 30);
    struct st_ingredient none = kit_ingredient("none", ST_KIND_ROOT_DRY),
                         bare = kit_ingredient("bare", ST_KIND_ROOT_DRY),
                         root = kit_ingredient("root", ST_KIND_ROOT_DRY);
    kit_flag(&bare, "flagged", "high");
    for (int i = 0; i < 5; i++) {
        struct jar j = { .step = { .n_line = 0 } };
        put(&j, i == 0 ? none : i == 1 ? bare : root, 5);
        if (i == 2)
            f.fig[ST_FIG_MASS].known = f.fig[ST_FIG_DENSITY].known = false;
        if (i == 3)
            j.line[0].amount = kit_amount(ST_DIM_PIECE, 1); /* no weight of a piece */
        struct st_ledger *l = make(&j, i == 4 ? NULL : &f, &b);
        assert_int_equal(l->n_entry, 1);
        assert_int_equal(l->entry[0].verdict, ST_NOT_ASSESSED);
        assert_int_equal(l->verdict, ST_NOT_ASSESSED);
        assert_int_equal(l->entry[0].n_unknown, i == 2 || i == 4 ? 0 : 1);
        assert_true(isnan(l->entry[0].most_g_l));
        assert_null(l->entry[0].binds);
        if (i == 1)
            assert_null(l->entry[0].carrier[0].content);
        free(l);
        f = kit_drink(1000, 1, 30);
    }
}

/* One unknown among the known: the known may pass by themselves, and are never within. */
static void unknown_beside(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "flagged");
    const struct st_content c = kit_content("root", "x", 1000);
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_KG, 10);
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    for (int i = 0; i < 2; i++) {
        struct jar j = { .step = { .n_line = 0 } };
        struct st_ingredient bare = kit_ingredient("bare", ST_KIND_ROOT_DRY);
        kit_flag(&bare, "flagged", "high");
        put(&j, bare, 5);
        put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), i ? 11 : 9);
        struct st_ledger *l = make(&j, &f, &b);
        assert_int_equal(l->entry[0].verdict, i ? ST_PASSES : ST_NOT_ASSESSED);
        assert_int_equal(l->entry[0].carrier[0].line, 1); /* what is known first */
        assert_true(isnan(l->entry[0].carrier[1].high_mg));
        assert_true(isnan(l->entry[0].most_g_l));
        free(l);
    }
}

static void no_carrier(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "flagged");
    const struct st_rule_books b = { &t, 1, NULL, 0, NULL, 0, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("strawberry", ST_KIND_FRESH_FRUIT), 500);
    struct st_ledger *l = make(&j, &f, &b);
    assert_int_equal(l->n_entry, 0);
    assert_int_equal(l->n_plant, 0);
    assert_int_equal(l->verdict, ST_WITHIN);
    free(l);
}

/* ---- several carriers ---- */

static void several(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c[2] = { kit_content("a", "x", 1000), kit_content("b", "x", 200) };
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_L, 10);
    const struct st_rule_books b = { &t, 1, c, 2, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(2000, 1.07, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("b", ST_KIND_ROOT_DRY), 20);
    put(&j, kit_ingredient("a", ST_KIND_ROOT_DRY), 15.9);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = &l->entry[0];
    assert_near(e->mg, 19.9, 1e-9);
    assert_int_equal(e->verdict, ST_WITHIN);
    assert_int_equal(e->carrier[0].line, 1);
    assert_near(e->most_g_l, 8, 1e-9); /* 2 mg/L are the other's */
    free(l);
    j.line[0].amount = kit_g(101); /* 10.1 mg/L by itself, though less than the main one's */
    j.line[1].amount = kit_g(50);
    l = make(&j, &f, &b);
    assert_int_equal(l->entry[0].verdict, ST_PASSES);
    assert_true(l->entry[0].most_g_l == 0.0);
    free(l);
}

/* More than fits: the sums hold all, and say so. */
static void too_many(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 1000);
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_KG, 100);
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    double sum = 0;
    for (int i = 0; i < ST_MAX_SOURCES + 8; i++) {
        put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 1 + (i * 7) % 11);
        sum += 1 + (i * 7) % 11;
    }
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = &l->entry[0];
    assert_int_equal(e->n_carrier, ST_MAX_SOURCES);
    assert_int_equal(e->n_more, 8);
    assert_true(e->cut && l->cut);
    assert_near(e->mg, sum, 1e-9);
    assert_int_equal(e->verdict, ST_PASSES);
    for (int i = 1; i < e->n_carrier; i++)
        assert_true(e->carrier[i - 1].high_mg >= e->carrier[i].high_mg);
    free(l);
    for (int i = 0; i < j.step.n_line; i++)
        j.line[i].amount = kit_g(0.01);
    l = make(&j, &f, &b);
    assert_true(l->cut);
    assert_int_equal(l->entry[0].verdict, ST_WITHIN); /* its sums are whole */
    assert_int_equal(l->verdict, ST_NOT_ASSESSED);    /* never within */
    free(l);
}

enum { MANY = ST_MAX_TOXICANTS + 40 };

/* More toxicants than fit, and more than have a bit: the worst stay, and the verdict is of all. */
static void too_many_toxicants(void **state)
{
    (void)state;
    static char slug[MANY][16];
    struct st_toxicant t[MANY];
    struct st_content c[MANY];
    struct st_rule rule[MANY];
    for (int i = 0; i < MANY; i++) {
        (void)snprintf(slug[i], sizeof slug[i], "x%d", i);
        t[i] = kit_toxicant(slug[i], "");
        c[i] = kit_content("root", slug[i], 1000);
        rule[i] = kit_rule("r", slug[i], ST_RULE_MG_KG, i == MANY - 1 ? 1 : 100 + i);
    }
    const struct st_rule_books b = { t, MANY, c, MANY, rule, MANY, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 5);
    struct st_ledger *l = make(&j, &f, &b);
    assert_int_equal(l->n_entry, ST_MAX_TOXICANTS);
    assert_true(l->cut);
    assert_string_equal(l->entry[0].toxicant->slug, slug[MANY - 1]);
    assert_int_equal(l->verdict, ST_PASSES);
    for (int i = 1; i < l->n_entry; i++)
        assert_string_equal(l->entry[i].toxicant->slug, slug[i - 1]);
    rule[MANY - 1].limit = 1000;
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
    assert_int_equal(l->verdict, ST_NOT_ASSESSED);
    free(l);
}

static void too_many_rules(void **state)
{
    (void)state;
    enum { RULES = ST_MAX_TESTS + 9 };
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 1000);
    struct st_rule rule[RULES];
    for (int i = 0; i < RULES; i++)
        rule[i] = kit_rule("r", "x", ST_RULE_MG_KG, 1000.0 - 30 * i);
    const struct st_rule_books b = { &t, 1, &c, 1, rule, RULES, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 50);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = &l->entry[0];
    assert_int_equal(e->n_test, ST_MAX_TESTS);
    assert_true(e->cut && l->cut);
    for (int i = 0; i < e->n_test; i++)
        assert_ptr_equal(e->test[i].rule, &rule[RULES - 1 - i]);
    assert_ptr_equal(e->binds, &rule[RULES - 1]);
    free(l);
}

/* ---- rules of another sort ---- */

static void benchmarks_and_places(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("coumarin", "");
    const struct st_content c = kit_content("cassia", "coumarin", 10000);
    struct st_rule rule[2] = { kit_rule("old", "coumarin", ST_RULE_MG_KG, 10),
                               kit_rule("dose", "coumarin", ST_RULE_MG_KG_BW_DAY, 0.1) };
    rule[0].places = ST_PLACE_OLD;
    rule[0].in_force = false;
    rule[1].places = ST_PLACE_HEALTH;
    const struct st_rule_books b = { &t, 1, &c, 1, rule, 2, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("cassia", ST_KIND_BARK), 3); /* 30 mg/kg; a serving 1.2 mg of 6 */
    struct st_ledger *l = make(&j, &f, &b);
    assert_int_equal(l->entry[0].verdict, ST_WITHIN);
    assert_int_equal(l->entry[0].benchmark, ST_PASSES);
    assert_int_equal(l->verdict, ST_WITHIN);
    assert_ptr_equal(l->entry[0].binds, &rule[1]);
    assert_near(l->entry[0].most_g_l, 15, 1e-9);
    const unsigned places[3] = { ST_PLACE_OLD, ST_PLACE_HEALTH, ST_PLACE_AU };
    for (int i = 0; i < 3; i++) {
        assert_int_equal(st_ledger_make(&j.recipe, &f, &b, places[i], &KIT_DRINKER, NULL, 0, l), ST_OK);
        assert_int_equal(l->entry[0].n_test, i < 2);
        assert_int_equal(l->entry[0].verdict, i == 1 ? ST_WITHIN : ST_NOT_ASSESSED); /* no rule is no "within" */
    }
    free(l);
}

/* Presence: of a toxicant, of a plant with an entry, of a plant without. */
static void presence(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("coumarin", "");
    const struct st_content c[2] = { kit_content("tonka_bean", "coumarin", 30000),
                                     kit_content("cassia", "coumarin", 10000) };
    struct st_rule rule[4] = { kit_rule("tonka", "coumarin", ST_RULE_PRESENT, (double)NAN),
                               kit_rule("any", "coumarin", ST_RULE_PRESENT, (double)NAN),
                               kit_rule("snakeroot", "", ST_RULE_PRESENT, (double)NAN),
                               kit_rule("tansy", "coumarin", ST_RULE_PRESENT, (double)NAN) };
    rule[0].plant = "tonka_bean, tonka_extract";
    rule[1].at_least = true;
    rule[2].plant = "snakeroot";
    rule[3].plant = "tansy";
    const struct st_rule_books b = { &t, 1, c, 2, rule, 4, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("cassia", ST_KIND_BARK), 1);
    struct st_ledger *l = make(&j, &f, &b);
    assert_int_equal(l->entry[0].n_test, 1); /* cassia is no tonka */
    assert_int_equal(test_of(&l->entry[0], "any")->verdict, ST_PASSES);
    assert_int_equal(l->entry[0].verdict, ST_NOT_ASSESSED); /* a condition is no bar */
    assert_int_equal(l->n_plant, 0);
    free(l);
    put(&j, kit_ingredient("tonka_bean", ST_KIND_BEAN), 0.1);
    put(&j, kit_ingredient("snakeroot", ST_KIND_ROOT_DRY), 0.1);
    put(&j, kit_ingredient("tansy", ST_KIND_HERB_DRY), 0.1); /* the books give it no coumarin: still told */
    l = make(&j, &f, &b);
    assert_int_equal(test_of(&l->entry[0], "tonka")->verdict, ST_PASSES);
    assert_int_equal(l->entry[0].verdict, ST_PASSES);
    assert_int_equal(l->n_plant, 2);
    assert_string_equal(l->plant[0].rule->id, "snakeroot");
    assert_int_equal(l->plant[0].line, 2);
    assert_string_equal(l->plant[1].rule->id, "tansy");
    assert_int_equal(l->verdict, ST_PASSES);
    free(l);
}

/* A rule with a figure and a plant speaks where the plant brings it. */
static void of_plants_alone(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("thujone", "");
    const struct st_content c = kit_content("sage", "thujone", 10000);
    struct st_rule rule = kit_rule("us", "thujone", ST_RULE_MG_KG, 10);
    rule.plant = "wormwood,mugwort";
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("sage", ST_KIND_HERB_DRY), 5);
    struct st_ledger *l = make(&j, &f, &b);
    assert_int_equal(l->entry[0].n_test, 0);
    free(l);
    rule.plant = "wormwood,sage";
    l = make(&j, &f, &b);
    assert_int_equal(l->entry[0].verdict, ST_PASSES);
    free(l);
}

/* 30 mL of drink are no serving of 40: nobody drinks more than all there is, whatever a litre would hold. */
static void no_more_than_all(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", 30000);
    struct st_rule rule = kit_rule("day", "x", ST_RULE_MG_PERSON_DAY, 2000);
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 50);
    struct st_foretold f = kit_drink(30, 1, 30);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = entry(l, "x");
    assert_near(e->mg, 1500, 1e-9);
    assert_near(e->mg_kg, 50000, 1e-6); /* more than the root itself holds in a kg: it is all in 30 g */
    assert_near(e->high_serving_mg, e->high_mg, 1e-9);
    assert_int_equal(test_of(e, "day")->verdict, ST_WITHIN);
    free(l);
    f = kit_drink(80, 1, 30); /* two servings: half of it in each */
    l = make(&j, &f, &b);
    assert_near(entry(l, "x")->serving_mg, 750, 1e-9);
    free(l);
    rule.unit = ST_RULE_MG_KG_BW_DAY;
    rule.limit = 20;
    f = kit_drink(30, 1, 30);
    l = make(&j, &f, &b);
    assert_near(test_of(entry(l, "x"), "day")->is, 1500.0 / 60.0, 1e-9);
    assert_int_equal(entry(l, "x")->verdict, ST_PASSES);
    free(l);
}

/* A drink made before: its own rows go before those of what it is like, and its plants stay what they are. */
static void made_before(void **state)
{
    (void)state;
    const struct st_toxicant t[2] = { kit_toxicant("thujone", "thujone"), kit_toxicant("coumarin", "") };
    const struct st_content row[2] = { kit_content("wormwood", "thujone", 10000),
                                       kit_content("poured", "coumarin", 7) };
    struct st_content own[2] = { kit_content("poured", "thujone", 400),
                                 kit_content("poured", "coumarin", (double)NAN) };
    struct st_rule rule = kit_rule("us", "thujone", ST_RULE_MG_KG, 10);
    rule.plant = "wormwood,mugwort";
    const struct st_rule_books b = { t, 2, row, 2, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    struct st_ingredient in = kit_ingredient("poured", ST_KIND_WINE);
    in.like = "wormwood"; /* as spent wormwood is */
    in.own = own;
    in.n_own = 1;
    in.made_of = "vodka,wormwood";
    put(&j, in, 50);
    struct st_ledger *l = make(&j, &f, &b);
    assert_near(entry(l, "thujone")->mg_kg, 50 * 400e-3, 1e-9); /* not 50 g of the plant */
    assert_int_equal(entry(l, "thujone")->verdict, ST_PASSES);  /* the rule names wormwood */
    assert_near(entry(l, "coumarin")->mg_kg, 50 * 7e-3, 1e-9);  /* of which its own rows say nothing */
    free(l);
    j.what[0].n_own = 2;
    j.what[0].like = "";
    j.what[0].made_of = "vodka";
    l = make(&j, &f, &b);
    assert_int_equal(entry(l, "coumarin")->verdict, ST_NOT_ASSESSED); /* not known is never within */
    assert_int_equal(entry(l, "thujone")->n_test, 0);
    own[0].stones = own[0].shut = true;
    rule.plant = "";
    free(l);
    l = make(&j, &f, &b);
    assert_int_equal(entry(l, "thujone")->verdict, ST_IF_OPENED);
    free(l);
}

/* 20 mg/kg for apricot kernels sold to be eaten ([ec_2022_1364]) says nothing of the drink. */
static void as_sold(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("hydrogen_cyanide", "");
    struct st_content c = kit_content("apricot_kernel", "hydrogen_cyanide", 4080);
    struct st_rule rule = kit_rule("sold", "hydrogen_cyanide", ST_RULE_MG_KG, 20);
    rule.scope = ST_SCOPE_INGREDIENT;
    rule.plant = "apricot_kernel";
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("apricot_kernel", ST_KIND_KERNEL), 0.1);
    struct st_ledger *l = make(&j, &f, &b);
    const struct st_ledger_entry *e = &l->entry[0];
    assert_int_equal(e->n_test, 0);
    assert_int_equal(e->n_sold, 1);
    assert_near(e->sold[0].is, 4080, 0);
    assert_int_equal(e->sold[0].verdict, ST_MAY_PASS);
    c.found_mg_kg = kit_range(24.6, 27, 30.3); /* even sweet ones */
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
    assert_int_equal(e->sold[0].verdict, ST_PASSES);
    const struct st_assay assay = {
        .ingredient = "apricot_kernel", .toxicant = "Hydrogen cyanide", .mg_kg = 12, .laboratory = "", .date = ""
    };
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, &assay, 1, l), ST_OK);
    assert_int_equal(e->sold[0].verdict, ST_WITHIN);
    free(l);
}

/* ---- assays ---- */

static void assays(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("root", "x", (double)NAN);
    const struct st_rule rule = kit_rule("r", "x", ST_RULE_MG_KG, 10);
    const struct st_rule_books b = { &t, 1, &c, 1, &rule, 1, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    put(&j, kit_ingredient("root", ST_KIND_ROOT_DRY), 5);
    const struct st_assay a[5] = { { .ingredient = "root", .toxicant = "x", .mg_kg = 1500 },
                                   { .ingredient = "root", .toxicant = "X", .mg_kg = 1800 },
                                   { .ingredient = "root", .toxicant = "x", .mg_kg = (double)NAN },
                                   { .ingredient = "root", .toxicant = "x", .mg_kg = -1 },
                                   { .ingredient = "bark", .toxicant = "x", .mg_kg = 9000 } };
    struct st_ledger *l = malloc(sizeof *l);
    assert_non_null(l);
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, a, 5, l), ST_OK);
    assert_ptr_equal(l->entry[0].carrier[0].assay, &a[1]); /* the highest of them */
    assert_near(l->entry[0].mg_kg, 9, 1e-9);
    assert_int_equal(l->entry[0].verdict, ST_WITHIN);
    assert_int_equal(st_ledger_make(&j.recipe, &f, &b, ST_PLACE_ALL, &KIT_DRINKER, a + 2, 3, l), ST_OK);
    assert_null(l->entry[0].carrier[0].assay);
    assert_int_equal(l->entry[0].verdict, ST_NOT_ASSESSED);
    free(l);
}

/* ---- weights ---- */

static void stones(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("cherry", "x", 100);
    const struct st_rule_books b = { &t, 1, &c, 1, NULL, 0, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    struct st_ingredient cherry = kit_ingredient("cherry", ST_KIND_FRESH_FRUIT);
    cherry.botanical = "Prunus avium";
    cherry.edible = kit_range(0.8, 0.9, 0.95);
    cherry.piece = kit_range(6, 7, 9);
    put(&j, cherry, 500);
    for (int i = 0; i < 4; i++) {
        j.line[0].gross = i == 1;
        j.line[0].weighing_unsaid = i == 2;
        if (i == 3)
            j.line[0].amount = kit_amount(ST_DIM_PIECE, 70);
        struct st_ledger *l = make(&j, &f, &b);
        const struct st_carrier *k = &l->entry[0].carrier[0];
        assert_near(k->source_g, i < 3 ? 500 : 70 * 7 / 0.9, 1e-9); /* with all that was weighed or counted */
        assert_near(k->source_high_g, i < 3 ? 500 : 70 * 9 / 0.8, 1e-9);
        free(l);
    }
}

static void spoons(void **state)
{
    (void)state;
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content("powder", "x", 100);
    const struct st_rule_books b = { &t, 1, &c, 1, NULL, 0, NULL };
    const struct st_foretold f = kit_drink(1000, 1, 30);
    struct jar j = { .step = { .n_line = 0 } };
    struct st_ingredient powder = kit_ingredient("powder", ST_KIND_POWDER);
    powder.tsp = kit_range(2, 2.5, 3.5);
    put(&j, powder, 1);
    j.recipe.tools.given[ST_TOOL_TEASPOON] = false;
    j.line[0].amount = kit_ml(4.92892159375);
    j.line[0].amount.tool = ST_TOOL_TEASPOON;
    for (int heaped = 0; heaped < 2; heaped++) {
        j.line[0].amount.heaped = heaped;
        struct st_ledger *l = make(&j, &f, &b);
        const struct st_carrier *k = &l->entry[0].carrier[0];
        const double times = heaped ? 1.45 : 1, most = heaped ? 1.6 : 1;
        assert_near(k->source_g, 2.5 * times, 0.01);
        assert_near(k->source_high_g, 3.5 * most * 1.08, 0.01); /* 5 % the spoon, 3 % the filling */
        free(l);
    }
}

/* ---- the books ---- */

static void rows(void **state)
{
    (void)state;
    const struct st_content c[] = { kit_content("kernel", "hcn", 100),
                                    kit_content("kernel", "hcn", 300),
                                    kit_content("bean", "hcn", 50),
                                    kit_content("bean", "hcn", (double)NAN),
                                    kit_fallback("cyanogenic", "", "hcn", 10),
                                    kit_fallback("cyanogenic", "high", "hcn", 900),
                                    kit_fallback("other", "", "hcn", 5000) };
    const struct st_toxicant t[2] = { kit_toxicant("hcn", "other, cyanogenic"), kit_toxicant("coumarin", "coumarin") };
    const struct st_rule_books b = { t, 2, c, 7, NULL, 0, NULL };
    struct st_ingredient kernel = kit_ingredient("kernel", ST_KIND_KERNEL), bean = kit_ingredient("bean", ST_KIND_BEAN),
                         seed = kit_ingredient("seed", ST_KIND_SEED), mine = kit_ingredient("mine", ST_KIND_SEED);
    assert_ptr_equal(st_content_find(&b, &kernel, "cyanogenic", "hcn"), &c[1]);
    assert_ptr_equal(st_content_find(&b, &bean, NULL, "hcn"), &c[3]); /* unknown is worse than any */
    assert_null(st_content_find(&b, &seed, NULL, "hcn"));
    kit_flag(&seed, "cyanogenic", "low");
    assert_ptr_equal(st_content_find(&b, &seed, "cyanogenic", "hcn"), &c[4]);
    seed.caution[0].degree = "high";
    assert_ptr_equal(st_content_find(&b, &seed, "cyanogenic", "hcn"), &c[5]);
    assert_null(st_content_find(&b, &seed, "coumarin", "hcn"));
    assert_null(st_content_find(&b, &seed, NULL, "coumarin"));
    mine.like = "kernel";
    assert_ptr_equal(st_content_find(&b, &mine, NULL, "hcn"), &c[1]);
    assert_true(st_toxicant_flagged(&t[0], &seed));
    assert_false(st_toxicant_flagged(&t[1], &seed));
    assert_false(st_rule_lists("cyanogenic_high", "cyanogenic"));
    assert_false(st_rule_lists("a b", ""));
    assert_false(st_rule_lists("", "a"));
    assert_true(st_rule_lists("b , a", "a"));
}

static void names(void **state)
{
    (void)state;
    struct st_toxicant t = kit_toxicant("hydrogen_cyanide", "");
    t.name = "hydrogen cyanide (from kernels)";
    const struct st_rule_books b = { &t, 1, NULL, 0, NULL, 0, NULL };
    assert_ptr_equal(st_toxicant_named(&b, "Hydrogen Cyanide"), &t);
    assert_ptr_equal(st_toxicant_named(&b, "hydrogen cyanide (from kernels)"), &t);
    assert_ptr_equal(st_toxicant_named(&b, "hydrogen_cyanide"), &t);
    assert_null(st_toxicant_named(&b, "hydrogen"));
    assert_null(st_toxicant_named(&b, "hydrogen cyanide (from"));
    assert_null(st_toxicant_named(&b, ""));
    assert_null(st_toxicant_named(&b, NULL));
    assert_ptr_equal(st_toxicant_find(&b, "hydrogen_cyanide"), &t);
    assert_null(st_toxicant_find(&b, ""));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(traps),
        cmocka_unit_test(two_tests),
        cmocka_unit_test(units),
        cmocka_unit_test(over_where_more_than_the_dose),
        cmocka_unit_test(high_ends),
        cmocka_unit_test(scopes),
        cmocka_unit_test(pinch_of_wormwood),
        cmocka_unit_test(unknown),
        cmocka_unit_test(unknown_beside),
        cmocka_unit_test(no_carrier),
        cmocka_unit_test(several),
        cmocka_unit_test(too_many),
        cmocka_unit_test(too_many_toxicants),
        cmocka_unit_test(too_many_rules),
        cmocka_unit_test(benchmarks_and_places),
        cmocka_unit_test(presence),
        cmocka_unit_test(of_plants_alone),
        cmocka_unit_test(made_before),
        cmocka_unit_test(no_more_than_all),
        cmocka_unit_test(as_sold),
        cmocka_unit_test(assays),
        cmocka_unit_test(stones),
        cmocka_unit_test(spoons),
        cmocka_unit_test(rows),
        cmocka_unit_test(names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
