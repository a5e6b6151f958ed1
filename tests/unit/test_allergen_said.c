/* An allergen in the words of a recipe's author: its code on the lists of law, the gravest scope of it, never less. */
#include <stdio.h>

#include "catalogue_kit.h"
#include "text/allergen_list.h"
#include "text/allergen_said.h"

static struct st_allergen_lists *lists;
static struct st_buf list_file;
static struct st_allergen_said said[8];

static int begin(void **state)
{
    struct st_problem p = { 0 };
    if (load(state) || st_file_read("data/allergens.tsv", 1u << 20, &list_file))
        return -1;
    lists = st_allergen_list_create(st_buf_text(&list_file), list_file.length, &p);
    return lists ? 0 : -1;
}

static int end(void **state)
{
    st_allergen_list_free(lists);
    st_buf_done(&list_file);
    return unload(state);
}

static void is(const char *text, const char *code, const char *scope)
{
    const int n = st_allergen_said(text, lists, all, said, 8);
    if (n != 1 || strcmp(said[0].code, code) != 0 || strcmp(said[0].scope, scope) != 0)
        fail_msg("%s: %d of them, the first %s, %s", text, n, n ? said[0].code : "", n ? said[0].scope : "");
}

/* Apricot kernels stand before almonds in the sheet, and their voluntary caution makes no almond lighter. */
static void gravest(void **state)
{
    (void)state;
    is("almond", "almond", "eu_us");
    is("cashew", "cashew", "eu_us");
    is("celery", "celery", "eu");
    is("pine nut", "pine_nut", "us");
    is("coconut", "coconut", "voluntary"); /* taken off the list of the US, on none of the EU */
}

static void everyday_names(void **state)
{
    (void)state;
    is("nuts", "nuts", "eu_us");
    is("Tree nuts", "nuts", "eu_us");
    is("nut", "nuts", "eu_us");
    is("Almonds", "almond", "eu_us");
    is("Brazil nuts", "brazil_nut", "eu_us");
    is("eggs", "egg", "eu_us");
    is("egg white", "egg", "eu_us");
    is("lupin", "lupin", "eu");
    is("lupins", "lupin", "eu");
    is("crustacean", "crustaceans", "eu_us");
    is("shrimps", "crustaceans", "eu_us");
    is("mollusc", "molluscs", "eu");
    is("wheat", "wheat", "eu_us");
    is("wheat flour", "wheat", "eu_us");
    is("spelt", "wheat", "eu_us");
    is("gluten", "gluten", "eu_us");
    is("oats", "gluten", "eu");
    is("milk powder", "milk", "eu_us");
    is("soya", "soy", "eu_us");
    is("soybeans", "soy", "eu_us");
    is("sesame seed", "sesame", "eu_us");
    is("sulfites", "sulphites", "eu_us");
    is("sulphur dioxide", "sulphites", "eu_us");
    is("peanuts", "peanut", "eu_us");
    is("mustard", "mustard", "eu");
}

static void several_at_once(void **state)
{
    (void)state;
    assert_int_equal(st_allergen_said("walnut, milk and eggs", lists, all, said, 8), 3);
    assert_string_equal(said[0].code, "walnut");
    assert_string_equal(said[2].code, "egg");
    assert_int_equal(st_allergen_said("shellfish", lists, all, said, 8), 2);
    assert_int_equal(st_allergen_said("walnut, milk and eggs", lists, all, said, 2), 2);
}

static void unknown_stays(void **state)
{
    (void)state;
    is("kiwi", "kiwi", "voluntary");
    is("", "", "voluntary");
}

/* What a drink said of itself it says in another drink too. */
static void written_and_read(void **state)
{
    static const char *const SCOPE[] = { "eu_us", "possible_eu_us", "voluntary" };
    char text[60];
    (void)state;
    for (size_t i = 0; i < sizeof SCOPE / sizeof *SCOPE; i++) {
        (void)snprintf(text, sizeof text, "almond%s", st_allergen_write(SCOPE[i]));
        is(text, "almond", SCOPE[i]);
    }
    assert_true(st_scope_weight("eu_us") > st_scope_weight("us"));
    assert_true(st_scope_weight("us") > st_scope_weight("possible_eu_us"));
    assert_true(st_scope_weight("possible_eu") > st_scope_weight("voluntary"));
}

/* Without the lists the sheet says what it can. */
static void by_the_sheet_alone(void **state)
{
    (void)state;
    assert_int_equal(st_allergen_said("almond", NULL, all, said, 8), 1);
    assert_string_equal(said[0].scope, "eu_us");
}

static int add_code(char known[][40], int n, const char *code, size_t size)
{
    for (int i = 0; i < n; i++)
        if (strlen(known[i]) == size && strncmp(known[i], code, size) == 0)
            return n;
    assert_true(n < 200 && size < 40);
    (void)snprintf(known[n], 40, "%.*s", (int)size, code);
    return n + 1;
}

/* All sorts that the lists of law and the ingredient sheet know stand in one ingredient: none of them is ever dropped. */
static void all_sorts_have_room(void **state)
{
    static char known[200][40];
    int n = 0;
    (void)state;
    for (int i = 0; i < lists->n; i++)
        for (const char *p = lists->row[i].codes; *p; p += strspn(p, "|")) {
            const size_t size = strcspn(p, "|");
            n = add_code(known, n, p, size);
            p += size;
        }
    for (size_t i = 0; i < st_catalogue_count(all); i++)
        for (int k = 0; k < st_catalogue_at(all, i)->n_allergen; k++)
            n = add_code(known, n, st_catalogue_at(all, i)->allergen[k].what,
                         strlen(st_catalogue_at(all, i)->allergen[k].what));
    assert_true(n > 30);
    assert_true(n <= ST_MAX_ALLERGENS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gravest),
        cmocka_unit_test(everyday_names),
        cmocka_unit_test(several_at_once),
        cmocka_unit_test(unknown_stays),
        cmocka_unit_test(written_and_read),
        cmocka_unit_test(by_the_sheet_alone),
        cmocka_unit_test(all_sorts_have_room),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
