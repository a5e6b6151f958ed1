/* A word of a printed command.  That a shell reads them so: tests/cli/batch_agree_before.case. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "text/shell_word.h"

static void is(const char *text, const char *want)
{
    char word[200];
    assert_int_equal(st_shell_word(word, sizeof word, text), 0);
    assert_string_equal(word, want);
}

static void as_it_is_written(void **state)
{
    (void)state;
    is("B1", "B1");
    is("vodka", "vodka");
    is("11 g sugar", "\"11 g sugar\"");
    is("", "\"\"");
    is("O'Neil", "\"O'Neil\"");
    is("86 mL O'Neil's \"best\" Nussgeist", "'86 mL O'\\''Neil'\\''s \"best\" Nussgeist'");
    is("a `date` b", "'a `date` b'");
    is("$HOME", "'$HOME'");
    is("wow!", "'wow!'");
    is("a;b", "\"a;b\"");
}

static void never_cut(void **state)
{
    (void)state;
    char word[8] = "xxxxxxx";
    assert_int_equal(st_shell_word(word, sizeof word, "a bcdef"), -1);
    assert_string_equal(word, "");
    assert_int_equal(st_shell_word(word, sizeof word, "a bcd"), 0);
    assert_string_equal(word, "\"a bcd\"");
    assert_int_equal(st_shell_word(word, 1, "a"), -1);
    assert_int_equal(st_shell_word(word, 0, "a"), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(as_it_is_written), cmocka_unit_test(never_cut) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
