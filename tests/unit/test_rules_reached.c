/* Cases made from the sheets as the program has them: for each rule that speaks of a drink, a drink that holds exactly its
 * limit, a millionth less and a millionth more, by a carrier that the sheets give that toxicant; plants that are barred or on a
 * condition, with and without them, place by place.  A rule that no case reaches fails here. */
#include "catalogue_kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "ledger_kit.h"
#include "text/ledger_words.h"
#include "text/rules_built.h"

static struct st_rule_books *books;
static struct st_ledger ledger;
static int cases;

static int begin(void **state)
{
    struct st_problem p = { 0 };
    books = st_rules_built(&p);
    return load(state) || !books ? -1 : 0;
}

static int end(void **state)
{
    st_rule_books_free(books);
    return unload(state);
}

static bool of_drinks(const struct st_rule *r)
{
    return r->scope != ST_SCOPE_INGREDIENT && r->scope != ST_SCOPE_BASE_SPIRIT && r->scope != ST_SCOPE_ADDED &&
           r->scope != ST_SCOPE_OTHER_FOOD;
}

/* ---- a drink of one carrier, 1 L with nothing in doubt ---- */

static const double DENSITY = 0.97; /* g/mL */

static double strength_for(const struct st_rule *r)
{
    return r->scope == ST_SCOPE_TO_25 ? 25 : r->scope == ST_SCOPE_UNDER_15 ? 12 : 32;
}

/* mg of the toxicant in that litre at which the rule's figure is x, by the unit's own words and nothing of the ledger. */
static double mg_at(const struct st_rule *r, double x)
{
    const double pct = strength_for(r), servings = 1000.0 / KIT_DRINKER.serving_ml;
    switch (r->unit) {
    case ST_RULE_MG_KG: return x * DENSITY;
    case ST_RULE_MG_KG_PER_PCT_VOL: return x * pct * DENSITY;
    case ST_RULE_MG_L: return x;
    case ST_RULE_MG_KG_BW_DAY: return x * KIT_DRINKER.body_weight_kg * servings;
    case ST_RULE_MG_PERSON_DAY: return x * servings;
    case ST_RULE_G_HL_ALCOHOL: return x * 1000 / 100 * pct / 100; /* 1 g in 100 L is 10 mg in a litre */
    case ST_RULE_G_L_ETHANOL: return x * 1000 * pct / 100;
    case ST_RULE_PRESENT:
    case ST_RULE_NUNIT: break;
    }
    return (double)NAN;
}

struct glass {
    struct st_line line[2];
    struct st_step step;
    struct st_recipe recipe;
};

static void pour(struct glass *g, const struct st_ingredient *in, double grams)
{
    static struct st_ingredient spirit;
    spirit = kit_spirit(40);
    g->line[0] = kit_line(&spirit, kit_ml(900));
    g->line[1] = kit_line(in, kit_g(grams));
    g->step = kit_step("jar", ST_DO_STEEP, g->line, 2);
    g->step.words = "Crack the stones and pips.";
    g->recipe = kit_recipe(&g->step, 1);
    kit_sharp_tools(&g->recipe);
}

static void hold(const struct st_ingredient *in, double grams, const struct st_assay *assay, unsigned places,
                 double pct)
{
    struct glass g;
    pour(&g, in, grams);
    const struct st_foretold f = kit_drink(1000, DENSITY, pct);
    assert_int_equal(st_ledger_make(&g.recipe, &f, books, places, &KIT_DRINKER, assay, assay != NULL, &ledger), ST_OK);
}

static const struct st_test *test_of(const struct st_rule *rule)
{
    for (int i = 0; i < ledger.n_entry; i++)
        for (int k = 0; k < ledger.entry[i].n_test; k++)
            if (ledger.entry[i].test[k].rule == rule)
                return &ledger.entry[i].test[k];
    return NULL;
}

static bool plant_told(const struct st_rule *rule)
{
    for (int i = 0; i < ledger.n_plant; i++)
        if (ledger.plant[i].rule == rule)
            return true;
    return false;
}

/* ---- who can bring it there ---- */

static bool begins(const char *text, const char *with)
{
    return text && strncmp(text, with, strlen(with)) == 0;
}

static bool fits(const struct st_rule *r, const struct st_ingredient *in)
{
    const bool artemisia = begins(in->botanical, "Artemisia");
    if (*r->plant && !st_rule_lists(r->plant, in->slug))
        return false;
    if (r->scope == ST_SCOPE_MINT)
        return begins(in->botanical, "Mentha");
    return r->scope == ST_SCOPE_ARTEMISIA ? artemisia : r->scope == ST_SCOPE_NOT_ARTEMISIA ? !artemisia : true;
}

/* ---- limits ---- */

static const double OFF[3] = { -1e-6, 0, 1e-6 };

static enum st_verdict wanted(const struct st_rule *r, int k)
{
    return r->at_least ? (k == 0 ? ST_WITHIN : ST_PASSES) : k == 2 ? ST_PASSES : ST_WITHIN;
}

static void judge(const struct st_rule *r, const struct st_ingredient *in, int k, const char *by)
{
    const struct st_test *t = test_of(r);
    if (!t)
        fail_msg("%s: not held against a drink with %s", r->id, in->slug);
    if (t->verdict != wanted(r, k))
        fail_msg("%s: %s by %s, %+g of the limit: verdict %d, not %d (%.12g of %.12g)", r->id, in->slug, by, OFF[k],
                 t->verdict, wanted(r, k), t->is, t->limit);
    assert_true(fabs(t->is / (r->limit * (1 + OFF[k])) - 1) < 1e-9);
    assert_true(t->high == t->is); /* nothing was in doubt */
    if (k == 2 && r->in_force && !r->at_least)
        assert_true(st_test_counts(t) && st_ledger_passes(&ledger));
    if (r->at_least || !r->in_force || k < 2)
        assert_false(st_test_counts(t));
    cases++;
}

static bool limits_of(const struct st_rule *r, const struct st_ingredient *in)
{
    const struct st_content *c = st_content_find(books, in, NULL, r->toxicant);
    if (c && !fits(r, in)) {
        hold(in, 50, NULL, r->places, strength_for(r));
        if (test_of(r))
            fail_msg("%s speaks of a drink with %s", r->id, in->slug);
    }
    if (!c || !fits(r, in))
        return false;
    const struct st_toxicant *t = st_toxicant_find(books, r->toxicant);
    for (int k = 0; k < 3; k++) {
        const double mg = mg_at(r, r->limit * (1 + OFF[k]));
        const struct st_assay found = { .ingredient = in->slug,
                                        .toxicant = t->slug,
                                        .mg_kg = mg / 50 * 1000,
                                        .laboratory = "invented",
                                        .date = "2026-01-01" };
        hold(in, 50, &found, r->places, strength_for(r));
        judge(r, in, k, "assay");
        if (isnan(c->ceiling_mg_kg)) {
            hold(in, 50, NULL, r->places, strength_for(r));
            assert_int_equal(test_of(r)->verdict, ST_NOT_ASSESSED);
            continue;
        }
        hold(in, mg / c->ceiling_mg_kg * 1000, NULL, r->places, strength_for(r));
        judge(r, in, k, "ceiling");
    }
    return true;
}

static void every_limit(void **state)
{
    (void)state;
    int missed = 0;
    for (int i = 0; i < books->n_rule; i++) {
        const struct st_rule *r = &books->rule[i];
        int by = 0;
        if (!of_drinks(r) || r->unit == ST_RULE_PRESENT)
            continue;
        for (size_t n = 0; n < st_catalogue_count(all); n++)
            by += limits_of(r, st_catalogue_at(all, n));
        if (by == 0)
            print_message("%s: nothing in the sheets reaches it\n", r->id);
        missed += by == 0;
    }
    print_message("%d cases of limits\n", cases);
    assert_int_equal(missed, 0);
}

/* The scope itself: a hair past its edge another rule speaks. */
static void edges_of_strength(void **state)
{
    (void)state;
    const double pct[] = { 14.999, 15, 25, 25.001 };
    for (int i = 0; i < books->n_rule; i++) {
        const struct st_rule *r = &books->rule[i];
        const bool speaks[4] = { r->scope == ST_SCOPE_TO_25 || r->scope == ST_SCOPE_UNDER_15,
                                 r->scope == ST_SCOPE_TO_25 || r->scope == ST_SCOPE_SPIRIT_DRINK,
                                 r->scope == ST_SCOPE_TO_25 || r->scope == ST_SCOPE_SPIRIT_DRINK,
                                 r->scope == ST_SCOPE_OVER_25 || r->scope == ST_SCOPE_SPIRIT_DRINK };
        if (r->unit == ST_RULE_PRESENT || *r->plant || !(speaks[0] || speaks[2] || speaks[3]))
            continue;
        for (size_t n = 0; n < st_catalogue_count(all); n++) {
            const struct st_ingredient *in = st_catalogue_at(all, n);
            for (int k = 0; k < 4 && st_content_find(books, in, NULL, r->toxicant); k++) {
                hold(in, 1, NULL, r->places, pct[k]);
                if ((test_of(r) != NULL) != speaks[k])
                    fail_msg("%s: %s at %g %% vol", r->id, in->slug, pct[k]);
            }
        }
    }
}

/* ---- there or not ---- */

static bool told(const struct st_rule *r)
{
    const struct st_test *t = test_of(r);
    return (t && t->verdict == ST_PASSES) || plant_told(r);
}

static bool is_of(const struct st_rule *r, const struct st_ingredient *in)
{
    const struct st_toxicant *t = st_toxicant_find(books, r->toxicant);
    if (*r->plant)
        return st_rule_lists(r->plant, in->slug) || st_rule_lists(r->plant, in->like);
    return st_content_find(books, in, NULL, r->toxicant) || (t && st_toxicant_flagged(t, in));
}

/* What the rules of one place tell of a tenth of a gram of it, and nothing else. */
static void in_place(const struct st_ingredient *in, unsigned place)
{
    hold(in, 0.1, NULL, place, 32);
    for (int i = 0; i < books->n_rule; i++) {
        const struct st_rule *r = &books->rule[i];
        if (!of_drinks(r) || r->unit != ST_RULE_PRESENT)
            continue;
        const bool is = told(r), should = is_of(r, in) && (r->places & place);
        if (is != should)
            fail_msg("%s: %s, place %u: %s", r->id, in->slug, place, is ? "told" : "not told");
        if (is && r->in_force && !r->at_least)
            assert_int_equal(ledger.verdict, ST_PASSES);
    }
}

static void every_plant(void **state)
{
    (void)state;
    int missed = 0;
    for (size_t n = 0; n < st_catalogue_count(all); n++)
        for (unsigned place = 1; place < ST_PLACE_ALL; place <<= 1)
            in_place(st_catalogue_at(all, n), place);
    for (int i = 0; i < books->n_rule; i++) {
        const struct st_rule *r = &books->rule[i];
        bool there = !of_drinks(r) || r->unit != ST_RULE_PRESENT;
        for (size_t n = 0; n < st_catalogue_count(all) && !there; n++)
            there = is_of(r, st_catalogue_at(all, n));
        if (!there)
            print_message("%s: nothing in the sheets brings it\n", r->id);
        missed += !there;
    }
    assert_int_equal(missed, 0);
}

/* Each plant that a rule names is an ingredient of the sheet: a name that nothing has is a rule that never speaks. */
static void plants_are_known(void **state)
{
    (void)state;
    int missed = 0;
    for (int i = 0; i < books->n_rule; i++) {
        char list[400], *rest = NULL;
        snprintf(list, sizeof list, "%s", books->rule[i].plant);
        for (char *p = strtok_r(list, ", ", &rest); p; p = strtok_r(NULL, ", ", &rest)) {
            bool there = false;
            for (size_t n = 0; n < st_catalogue_count(all) && !there; n++)
                there = strcmp(st_catalogue_at(all, n)->slug, p) == 0;
            if (!there)
                print_message("%s names %s, which is no ingredient\n", books->rule[i].id, p);
            missed += !there;
        }
    }
    assert_int_equal(missed, 0);
}

/* Nothing that tests no drink is held against one. */
static void other_rules_are_silent(void **state)
{
    (void)state;
    for (size_t n = 0; n < st_catalogue_count(all); n++) {
        hold(st_catalogue_at(all, n), 100, NULL, ST_PLACE_ALL, 32);
        for (int i = 0; i < books->n_rule; i++)
            if (!of_drinks(&books->rule[i]) && (test_of(&books->rule[i]) || plant_told(&books->rule[i])))
                fail_msg("%s speaks of a drink with %s", books->rule[i].id, st_catalogue_at(all, n)->slug);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_limit),      cmocka_unit_test(edges_of_strength),      cmocka_unit_test(every_plant),
        cmocka_unit_test(plants_are_known), cmocka_unit_test(other_rules_are_silent),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
