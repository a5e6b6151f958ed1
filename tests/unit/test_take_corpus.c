/* The corpus of free recipe text, line by line: tests/take/README.md tells its form and how readings are compared. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "take_lines.h"

/* What the corpus must reach. */
static const double EXACT_LEAST = 0.97, SILENT_MOST = 0.01;

static void report(const char *which, const struct line_tally *t)
{
    printf("%s, %d lines: %.1f %% exact, %.1f %% wrong but told, %.1f %% wrong and silent\n", which, t->lines,
           100.0 * t->exact / t->lines, 100.0 * t->told / t->lines, 100.0 * t->silent / t->lines);
}

static void lines_are_read_as_by_hand(void **state)
{
    (void)state;
    read_catalogue();
    struct line_tally t[N_SHEETS];
    for (int i = 0; i < N_SHEETS; i++)
        t[i] = compare_sheet(SHEETS[i].path, true);
    st_catalogue_free(catalogue);
    for (int i = 0; i < N_SHEETS; i++)
        report(SHEETS[i].name, &t[i]);
    assert_true(t[0].exact >= EXACT_LEAST * t[0].lines);
    assert_true(t[0].silent < SILENT_MOST * t[0].lines);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(lines_are_read_as_by_hand) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
