/* Tolerances of tools: sources beside each in src/model/amount.c and docs/sources.md. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "model/amount.h"

static void published(void **state)
{
    (void)state;
    assert_true(fabs(st_tolerance_default(ST_TOOL_CUP, 240).scale - 0.05) < 1e-12);    /* [ansi_z61_1] read */
    assert_true(fabs(st_tolerance_default(ST_TOOL_SCALE, 500).scale * 500 - 1) < 1e-9); /* [eu_90_384] 1 e in service at 500 e */
    /* [eu_76_211]: 15 mL at 700 mL; a third of it is the standard deviation of an even spread */
    const struct st_tolerance b = st_tolerance_default(ST_TOOL_BOTTLE, 700);
    assert_true(fabs(b.fill * 700 / sqrt(3.0) - 5.0) < 1e-9);
}

static void bounded(void **state)
{
    (void)state;
    for (int t = 0; t < ST_NTOOL; t++)
        for (double ml = 0.01; ml < 1e7; ml *= 3) {
            const struct st_tolerance a = st_tolerance_default((enum st_tool)t, ml);
            assert_true(a.scale >= 0 && a.scale < 0.5 && a.fill >= 0 && a.fill < 0.5 && a.step >= 0);
            assert_true(strlen(a.source) > 0 && strlen(st_tool_name((enum st_tool)t)) > 0);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(published), cmocka_unit_test(bounded) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
