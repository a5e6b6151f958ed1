/* Classes of drinks: each limit at it, just under and just over; what the alcohol comes from; what would change it. */
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
#include "text/class_sheet.h"
#include "text/label_words.h"

#define NONE ((double)NAN)

static struct st_buf rows;
static struct st_classes *classes;
static struct st_label_facts told;

static int begin(void **state)
{
    struct st_problem p = { 0 };
    if (load(state) || st_file_read("data/classes.tsv", 1u << 20, &rows))
        return -1;
    classes = st_class_sheet_create(st_buf_text(&rows), rows.length, &p);
    if (!classes)
        print_error("%d: %s: %s\n", p.at.line, p.what, p.why);
    return classes ? 0 : -1;
}

static int end(void **state)
{
    st_class_sheet_free(classes);
    st_buf_done(&rows);
    return unload(state);
}

static const struct st_class_row *row(const char *key)
{
    for (int i = 0; i < classes->n; i++)
        if (strcmp(classes->row[i].key, key) == 0)
            return &classes->row[i];
    fail_msg("no row %s", key);
    return NULL;
}

static struct st_interval about(double x, double half)
{
    return (struct st_interval){ x, x - half, x + half, ST_OK, true };
}

/* What a row says of a jar of these lines with these figures. */
static struct st_class_verdict judge(const char *key, struct st_line *line, int n, double strength, double invert,
                                     double half)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_class_facts f;
    struct st_class_verdict v;
    st_class_facts_of(&r, NULL, &f);
    f.strength = about(strength, half);
    f.invert = about(invert, half);
    st_class_judge(row(key), &f, &v);
    return v;
}

static struct st_line on_line(const char *name, const char *text)
{
    struct st_line l = kit_line(must(name), kit_g(100));
    l.text = text;
    return l;
}

/* Limits as tabulated: Regulation (EU) 2019/787 Art. 2(c), Annex I 33-40 [eu_2019_787]; 27 CFR 5.150 [cfr27_5].  The rows marked m are
 * from memory. */
static const struct {
    const char *key;
    double strength, invert, most, mass, yolk;
    char mark;
} PUBLISHED[] = {
    { "eu-spirit", 15, NONE, NONE, NONE, NONE, 'r' },       { "eu-liqueur", 15, 100, NONE, NONE, NONE, 'r' },
    { "eu-liqueur-cherry", 15, 70, NONE, NONE, NONE, 'r' }, { "eu-liqueur-gentian", 15, 80, NONE, NONE, NONE, 'r' },
    { "eu-creme", 15, 250, NONE, NONE, NONE, 's' },         { "eu-creme-cassis", 15, 400, NONE, NONE, NONE, 's' },
    { "eu-egg-liqueur", 14, 150, NONE, NONE, 140, 's' },    { "eu-liqueur-egg", 15, 150, NONE, NONE, 70, 's' },
    { "eu-sloe-gin", 25, NONE, NONE, NONE, NONE, 'm' },     { "eu-sloe", 25, 80, 250, NONE, NONE, 'm' },
    { "eu-sambuca", 38, 350, NONE, NONE, NONE, 'm' },       { "eu-maraschino", 24, 250, NONE, NONE, NONE, 'm' },
    { "eu-nocino", 30, 100, NONE, NONE, NONE, 'm' },        { "us-cordial", NONE, NONE, NONE, 2.5, NONE, 's' },
};

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || a == b;
}

static void rows_are_as_published(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof PUBLISHED / sizeof PUBLISHED[0]; i++) {
        const struct st_class_row *r = row(PUBLISHED[i].key);
        if (!same(r->strength, PUBLISHED[i].strength) || !same(r->invert, PUBLISHED[i].invert) ||
            !same(r->most_invert, PUBLISHED[i].most) || !same(r->mass_pct, PUBLISHED[i].mass) ||
            !same(r->yolk, PUBLISHED[i].yolk) || r->mark != PUBLISHED[i].mark)
            fail_msg("%s differs from what was published", r->key);
    }
}

/* Every key of an ingredient that a row names is in the sheet, or nobody could ever fit it. */
static void every_key_is_known(void **state)
{
    (void)state;
    for (int i = 0; i < classes->n; i++)
        for (int k = 0; k < classes->row[i].n_need; k++) {
            const struct st_class_need *n = &classes->row[i].need[k];
            char list[400];
            if (n->kind == ST_NEED_BASE || n->kind == ST_NEED_WITHOUT || n->kind == ST_NEED_FLAVOURED)
                continue;
            (void)snprintf(list, sizeof list, "%s,%s", n->list, n->maybe);
            for (char *p = list, *comma; *p; p = comma ? comma + 1 : p + strlen(p)) {
                bool found = false;
                comma = strchr(p, ',');
                if (comma)
                    *comma = '\0';
                for (size_t c = 0; c < st_catalogue_count(all); c++)
                    found = found || strcmp(st_catalogue_at(all, c)->slug, p) == 0;
                if (*p && !found)
                    fail_msg("%s names %s, which no ingredient is", classes->row[i].key, p);
            }
        }
}

static void at_just_under_just_over(void **state)
{
    struct st_line line[2] = { on_line("vodka", "vodka 40 %"), on_line("damson", "damsons") };
    (void)state;
    /* sharp figures: yes at the limit, no under it */
    assert_int_equal(judge("eu-liqueur", line, 2, 15.0, 100.0, 0.0).truth, ST_YES);
    assert_int_equal(judge("eu-liqueur", line, 2, 14.99, 100.0, 0.0).truth, ST_NO);
    assert_int_equal(judge("eu-liqueur", line, 2, 15.0, 99.99, 0.0).truth, ST_NO);
    assert_int_equal(judge("eu-spirit", line, 2, 15.0, 0.0, 0.0).truth, ST_YES);
    /* a range across it is undecided; just beside it is not */
    assert_int_equal(judge("eu-liqueur", line, 2, 25.0, 100.0, 0.5).truth, ST_UNDECIDED);
    assert_int_equal(judge("eu-liqueur", line, 2, 25.0, 100.5, 0.5).truth, ST_YES);
    assert_int_equal(judge("eu-liqueur", line, 2, 25.0, 99.4, 0.5).truth, ST_NO);
    assert_int_equal(judge("eu-creme", line, 2, 25.0, 249.0, 2.0).truth, ST_UNDECIDED);
    /* 95.0 g/L of sucrose are 100 g/L of invert [eu_2019_787], molar masses: 342.30 and 2 x 180.16 */
    assert_true(fabs(95.0 * ST_INVERT_OF_SUCROSE - 100.0) < 0.001);
    assert_true(fabs(ST_INVERT_OF_SUCROSE - 2 * 180.16 / 342.30) < 1e-4);
}

static void what_the_alcohol_comes_from(void **state)
{
    struct st_line kirsch[2] = { on_line("fruit spirit", "500 mL kirsch 40 %"),
                                 on_line("sour cherry", "sour cherries") };
    struct st_line plum[2] = { on_line("fruit spirit", "500 mL fruit brandy"),
                               on_line("sour cherry", "sour cherries") };
    struct st_line both[3] = { kirsch[0], on_line("vodka", "vodka"), kirsch[1] };
    struct st_line wine[2] = { on_line("red wine", "red wine"), on_line("damson", "damsons") };
    struct st_line fortified[3] = { wine[0], on_line("brandy", "brandy"), wine[1] };
    (void)state;
    assert_int_equal(judge("eu-liqueur-cherry", kirsch, 2, 25, 75, 1).truth, ST_YES);
    assert_int_equal(judge("eu-liqueur", kirsch, 2, 25, 75, 1).truth, ST_NO);
    assert_int_equal(judge("eu-liqueur-cherry", plum, 2, 25, 75, 1).truth, ST_UNDECIDED);
    assert_int_equal(judge("eu-liqueur-cherry", both, 3, 25, 75, 1).truth, ST_NO);
    assert_int_equal(judge("eu-liqueur", wine, 2, 25, 150, 1).truth, ST_NO);
    assert_int_equal(judge("eu-liqueur", fortified, 3, 25, 150, 1).truth, ST_UNDECIDED);
}

static void what_went_in(void **state)
{
    struct st_line gentian[3] = { on_line("vodka", "vodka"), on_line("gentian root", "gentian"),
                                  on_line("sugar", "sugar") };
    struct st_line more[4] = { gentian[0], gentian[1], gentian[2], on_line("cinnamon stick", "cinnamon") };
    struct st_line cream[3] = { gentian[0], on_line("heavy cream", "cream"), on_line("damson", "damsons") };
    struct st_line sloe[3] = { on_line("gin", "gin"), on_line("sloe", "sloes"), gentian[2] };
    struct st_line bare[2] = { gentian[0], gentian[2] };
    (void)state;
    assert_int_equal(judge("eu-liqueur-gentian", gentian, 3, 25, 85, 1).truth, ST_YES);
    assert_int_equal(judge("eu-liqueur-gentian", more, 4, 25, 85, 1).truth, ST_NO);
    assert_int_equal(judge("eu-creme", cream, 3, 25, 300, 1).truth, ST_NO);
    assert_int_equal(judge("eu-sloe-gin", sloe, 3, 26, 100, 0.5).truth, ST_UNDECIDED); /* it asks more than we judge */
    assert_int_equal(judge("eu-sloe-gin", sloe, 3, 24, 100, 0.5).truth, ST_NO);
    assert_int_equal(judge("eu-liqueur", bare, 2, 25, 150, 1).truth, ST_NO); /* nothing flavours it */
}

/* 140 g/L of yolk for egg liqueur, 70 for liqueur with egg; of whole eggs nobody knows. */
static void yolk(void **state)
{
    struct st_line line[3] = { on_line("vodka", "vodka"), on_line("egg yolk", "yolks"), on_line("sugar", "sugar") };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 3);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_foretold f = { .n_effect = 0 };
    struct st_class_facts facts;
    (void)state;
    f.fig[ST_FIG_VOLUME] = about(1000, 0);
    line[1].amount = kit_g(140);
    st_class_facts_of(&r, &f, &facts);
    assert_true(facts.yolk.known && fabs(facts.yolk.value - 140) < 1e-9);
    line[1] = on_line("egg", "eggs");
    st_class_facts_of(&r, &f, &facts);
    assert_false(facts.yolk.known);
}

static const char *tell(struct st_line *line, int n, double strength, double invert, double half, unsigned places)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_class_facts f;
    struct st_class_verdict v[ST_MAX_CLASSES];
    static char text[9000];
    st_class_facts_of(&r, NULL, &f);
    f.strength = about(strength, half);
    f.invert = about(invert, half);
    f.mass_pct = about(invert / 11.0, half / 11.0);
    told = (struct st_label_facts){ .n = 0 };
    st_label_classes(v, st_classes_judge(classes, &f, places, v, ST_MAX_CLASSES), &f, &told);
    text[0] = '\0';
    for (int i = 0; i < told.n; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, sizeof text - used, "%s | %s | %s %s %c\n", told.item[i].what, told.item[i].because,
                       told.item[i].rule, told.item[i].source, told.item[i].mark);
    }
    return text;
}

static void has(const char *text, const char *what)
{
    if (!strstr(text, what))
        fail_msg("no '%s' in:\n%s", what, text);
}

static void what_would_change_it(void **state)
{
    struct st_line line[2] = { on_line("vodka", "vodka"), on_line("damson", "damsons") };
    (void)state;
    const char *t = tell(line, 2, 25.0, 96.0, 1.0, ST_PLACE_EU | ST_PLACE_US);
    has(t, "not liqueur in the EU: 4 g/L more sugar, as invert (3.8 g/L of table sugar), and it is");
    has(t, "strength at least 15 % vol, foretold 25.0 (24.0 to 26.0); sugar, as invert at least 100 g/L, foretold 96 "
           "(95 to 97)");
    has(t, "Regulation (EU) 2019/787, Annex I category 33 (2019) [eu_2019_787] r");
    has(t, "it may be called cordial or liqueur in the US");
    t = tell(line, 2, 13.8, 120.0, 0.1, ST_PLACE_EU);
    has(t, "not liqueur in the EU: 1.2 % vol more, and it is");
    has(t, "below 15 % vol it is no spirit drink in the EU, egg liqueur apart");
    t = tell(line, 2, 25.0, 100.0, 3.0, ST_PLACE_EU);
    has(t,
        "liqueur in the EU: undecided; with 3 g/L more sugar, as invert (2.9 g/L of table sugar) it is, whatever end");
    t = tell(line, 2, 25.0, 100.0, 3.0, ST_PLACE_UK);
    has(t, "the United Kingdom: which names the law of this place keeps is not known here");
}

static void what_is_not_known_is_undecided(void **state)
{
    struct st_line line[2] = { on_line("vodka", "vodka"), on_line("damson", "damsons") };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_class_facts f;
    struct st_class_verdict v;
    (void)state;
    st_class_facts_of(&r, NULL, &f);
    st_class_judge(row("eu-liqueur"), &f, &v);
    assert_int_equal(v.truth, ST_UNDECIDED);
}

static void tolerance(void **state)
{
    const struct st_interval wide = { 24.1, 22.8, 25.3, ST_OK, true }, narrow = { 24.1, 23.9, 24.3, ST_OK, true };
    (void)state;
    told = (struct st_label_facts){ .n = 0 };
    st_label_tolerance(&wide, false, ST_PLACE_EU | ST_PLACE_US, &told);
    assert_int_equal(told.n, 2);
    has(told.item[0].what, "right within 0.3 % vol");
    has(told.item[0].because, "foretold 24.1 (22.8 to 25.3): wider than the label allows; measure before you print");
    assert_int_equal(told.item[0].truth, ST_UNDECIDED);
    told = (struct st_label_facts){ .n = 0 };
    st_label_tolerance(&wide, true, ST_PLACE_EU, &told); /* fruit in the bottle: 1.5 % vol */
    has(told.item[0].what, "1.5 % vol");
    assert_int_equal(told.item[0].truth, ST_YES);
    told = (struct st_label_facts){ .n = 0 };
    st_label_tolerance(&narrow, false, ST_PLACE_EU, &told);
    assert_int_equal(told.item[0].truth, ST_YES);
}

static void refused(const char *from, const char *to, const char *why)
{
    static char changed[1 << 16];
    struct st_problem p = { .what = "" };
    const char *text = st_buf_text(&rows), *at = strstr(text, from);
    assert_non_null(at);
    (void)snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    struct st_classes *c = st_class_sheet_create(changed, strlen(changed), &p);
    if (c || !strstr(p.why, why) || p.at.line < 1)
        fail_msg("'%s': %s, line %d: %s", to, c ? "read" : "refused", p.at.line, p.why);
}

static void what_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    refused("\tspirit drink\teu\t", "\tspirit drink\tmoon\t", "no place 'moon'");
    refused("eu-liqueur\t", "eu-spirit\t", "stands twice");
    refused("\tflavoured\t", "\tpretty\t", "no need 'pretty'");
    refused("\tr\t[eu_2019_787]\tegg", "\tz\t[eu_2019_787]\tegg", "no mark");
    refused("\t15\t100\t", "\t15\tmuch\t", "invert");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_as_published),
        cmocka_unit_test(every_key_is_known),
        cmocka_unit_test(at_just_under_just_over),
        cmocka_unit_test(what_the_alcohol_comes_from),
        cmocka_unit_test(what_went_in),
        cmocka_unit_test(yolk),
        cmocka_unit_test(what_would_change_it),
        cmocka_unit_test(what_is_not_known_is_undecided),
        cmocka_unit_test(tolerance),
        cmocka_unit_test(what_is_wrong_is_refused_with_its_line),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
