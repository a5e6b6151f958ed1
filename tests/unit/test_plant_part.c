/* What is known of a fruit says nothing about its leaves. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "text/plant_part.h"

static void stands(const char *name, const char *part, bool expected)
{
    const struct st_ingredient *in = st_catalogue_find(all, name, strlen(name));
    if (!in)
        fail_msg("no '%s'", name);
    if (st_stands_for_part(in, part, strlen(part)) != expected)
        fail_msg("%s %s for its %s", name, expected ? "does not stand" : "stands", part);
}

static void own_parts(void **state)
{
    (void)state;
    stands("bay leaf", "leaves", true);
    stands("mint", "stems", true);
    stands("rhubarb", "stalks", true);
    stands("gentian root", "root", true);
    stands("sloes", "berries", true);
    stands("rose water", "water", true);
    stands("sloes", "big", true); /* no part */
}

static void foreign_parts(void **state)
{
    (void)state;
    stands("tomato", "leaves", false);
    stands("elderberry", "bark", false);
    stands("strawberry", "roots", false);
    stands("apricot", "leaf", false);
    stands("mint", "root", false);
    stands("gentian root", "leaves", false);
}

static void part_of_a_name(void **state)
{
    static const char NAME[] = "Leaves of tomato";
    size_t n = 0;
    (void)state;
    assert_ptr_equal(st_part_in(NAME, strlen(NAME), &n), NAME);
    assert_int_equal(n, 6);
    assert_null(st_part_in("damson", 6, &n));
    assert_null(st_part_in("", 0, &n));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(own_parts),
        cmocka_unit_test(foreign_parts),
        cmocka_unit_test(part_of_a_name),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
