/* All facts of a label together: from the sheets that are built in, with a ledger, without figures, while something says stop. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "ledger_kit.h"
#include "text/label_told.h"

static struct st_label_books *books;
static struct st_label_facts told;
static struct st_cautions cautions;
static struct st_ledger ledger;
static struct st_step jar;

static int begin(void **state)
{
    struct st_problem p = { 0 };
    if (load(state))
        return -1;
    books = st_label_books_create(&p);
    if (!books)
        print_error("%s: %s; %s\n", p.what, p.why, p.try_);
    return books ? 0 : -1;
}

static int end(void **state)
{
    st_label_books_free(books);
    return unload(state);
}

static struct st_recipe jar_of(struct st_line *line, int n)
{
    jar = kit_step("jar", ST_DO_STEEP, line, n);
    return kit_recipe(&jar, 1);
}

static const struct st_home EU = { .code = "eu", .name = "EU", .places = ST_PLACE_EU };
static const struct st_watch WATCH = { .place = &EU, .who = { 40.0, 60.0 } };

static void tell(const struct st_recipe *r, const struct st_foretold *f)
{
    memset(&told, 0x5a, sizeof told);
    memset(&cautions, 0, sizeof cautions);
    st_cautions_collect(r, f, NULL, &cautions);
    st_label_told(books, r, f, &ledger, &WATCH, &cautions, &told);
}

static const struct st_label_fact *fact(const char *code)
{
    for (int i = 0; i < told.n; i++)
        if (strcmp(told.item[i].code, code) == 0)
            return &told.item[i];
    return NULL;
}

/* Each code has a heading, and its facts stand together. */
static void each_has_its_heading(void **state)
{
    struct st_line line[] = { kit_line(must("vodka"), kit_ml(700)), kit_line(must("hazelnut"), kit_g(100)),
                              kit_line(must("dried apricot"), kit_g(50)), kit_line(must("liquorice root"), kit_g(5)) };
    const struct st_recipe r = jar_of(line, 4);
    (void)state;
    tell(&r, NULL);
    assert_false(told.cut);
    for (int i = 0; i < told.n; i++) {
        const char *code = told.item[i].code;
        if (!st_label_heading(code)[0])
            fail_msg("no heading for %s", code);
        bool left = false;
        for (int k = i; k < told.n; k++) {
            left = left || strcmp(told.item[k].code, code) != 0;
            if (left && strcmp(told.item[k].code, code) == 0)
                fail_msg("%s stands in two places", code);
        }
    }
    assert_non_null(fact("class"));
    assert_non_null(fact("allergen"));
    assert_non_null(fact("sulphites"));
    assert_non_null(fact("named"));
    assert_int_equal(fact("class")->truth, ST_UNDECIDED); /* no figure, no name */
    assert_string_equal(st_label_heading("no such code"), "");
}

/* The ledger's worst case names liquorice, unless a carrier or an entry is missing in it. */
static void named_by_the_ledger(void **state)
{
    struct st_line line[] = { kit_line(must("liquorice root"), kit_g(5)) };
    const struct st_recipe r = jar_of(line, 1);
    const struct st_toxicant acid = kit_toxicant("glycyrrhizic_acid", "glycyrrhizin");
    (void)state;
    ledger.n_entry = 1;
    ledger.entry[0] = (struct st_ledger_entry){ .toxicant = &acid, .high_mg_l = 320.0 };
    tell(&r, NULL);
    assert_non_null(strstr(fact("named")->because, "at most 320 mg/L"));
    ledger.entry[0].n_unknown = 1;
    tell(&r, NULL);
    assert_non_null(strstr(fact("named")->because, "not known here"));
    ledger.entry[0].n_unknown = 0;
    ledger.cut = true;
    tell(&r, NULL);
    assert_non_null(strstr(fact("named")->because, "not known here"));
    ledger.n_entry = 0;
    ledger.cut = false;
    tell(&r, NULL);
    assert_non_null(strstr(fact("named")->because, "not known here"));
}

/* 1.5 % vol for fruit in the bottle, Regulation (EU) No 1169/2011, Annex XII(3). */
static void pieces_in_the_bottle(void **state)
{
    static struct st_foretold f;
    struct st_line line[] = { kit_line(must("vodka"), kit_ml(700)) };
    const struct st_recipe r = jar_of(line, 1);
    (void)state;
    f = (struct st_foretold){ .n_note = 0 };
    f.fig[ST_FIG_STRENGTH] = (struct st_interval){ 40.0, 39.0, 41.0, ST_OK, true };
    tell(&r, &f);
    assert_non_null(fact("usual"));
    assert_non_null(strstr(fact("tolerance")->what, "0.3 % vol"));
    f.note[0].code = ST_NOTE_NOT_STRAINED;
    f.n_note = 1;
    tell(&r, &f);
    assert_non_null(strstr(fact("tolerance")->what, "1.5 % vol"));
}

static void nothing_while_it_stops(void **state)
{
    struct st_line line[] = { kit_line(must("yew"), kit_g(5)), kit_line(must("vodka"), kit_ml(700)) };
    const struct st_recipe r = jar_of(line, 2);
    (void)state;
    tell(&r, NULL);
    assert_int_equal(told.n, 1);
    assert_string_equal(told.item[0].code, "stop");
    assert_int_equal(told.item[0].truth, ST_NO);
    assert_int_equal(told.item[0].line, 0);
}

static void sources_in_words(void **state)
{
    static const struct {
        const char *rule, *source, *is;
        char mark;
    } ROW[] = {
        { "Art. 2", "[eu_2019_787]", "Art. 2 [eu_2019_787]", 'r' },
        { "", "eu_2019_787", "[eu_2019_787]", 'r' },
        { "", "[cfr27_5]", "[cfr27_5] (read in a secondary source)", 's' },
        { "", "[cfr27_5]", "[cfr27_5] (unverified figure)", 'm' },
        { "Art. 36", "from memory", "Art. 36 (unverified, from memory)", 'm' },
        { "", "common practice, no source", "(common practice, no source)", 'm' },
        { "", "", "", 'c' },
    };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof *ROW; i++) {
        char buf[200];
        struct st_label_fact f = { .source = ROW[i].source, .mark = ROW[i].mark };
        (void)snprintf(f.rule, sizeof f.rule, "%s", ROW[i].rule);
        assert_string_equal(st_label_source(&f, buf, sizeof buf), ROW[i].is);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_has_its_heading), cmocka_unit_test(named_by_the_ledger),
        cmocka_unit_test(pieces_in_the_bottle), cmocka_unit_test(nothing_while_it_stops),
        cmocka_unit_test(sources_in_words),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
