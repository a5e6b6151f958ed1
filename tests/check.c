/* Reads sheets of published values and compares the functions of core with them (docs/checks.md).
 *
 *   check SHEET...           one line a failure, one line a function; exit 0 all met, 1 something is not, 2 a bad sheet
 *   check --table SHEET...   the tables of accuracy, as Markdown
 *   check --list             the functions that a sheet can name */
#include <stdio.h>
#include <string.h>

#include "check_report.h"
#include "check_sheet.h"
#include "check_tally.h"

enum { MAX_SECTIONS = 400 };

struct run {
    struct check_tally tally[MAX_SECTIONS];
    int n;
    const char *path;
    bool table;
};

static bool begin_section(void *arg, const struct check_function *f, const struct check_head *head)
{
    struct run *run = arg;
    if (run->n == MAX_SECTIONS)
        return false;
    struct check_tally *t = &run->tally[run->n++];
    *t = (struct check_tally){ .path = run->path, .function = f, .kind = head->kind, .failures_only = run->table };
    t->say = run->table ? stderr : stdout;
    memcpy(t->what, head->what, sizeof t->what);
    memcpy(t->source, head->source, sizeof t->source);
    return true;
}

static void take_row(void *arg, const struct check_row *row)
{
    struct run *run = arg;
    check_count(&run->tally[run->n - 1], row);
}

/* false: a bad sheet. */
static bool read_one(struct run *run, const char *path)
{
    struct check_reader r = { .section = begin_section, .row = take_row, .arg = run };
    run->path = path;
    if (check_read_sheet(path, &r))
        return true;
    fprintf(stderr, "%s:%d: %s\n", check_short_path(path), r.bad_line, r.why);
    return false;
}

static int run_sheets(char **path, int n, bool table)
{
    static struct run run;
    int bad = 0, failures = 0;
    run.table = table;
    for (int i = 0; i < n; i++)
        bad += read_one(&run, path[i]) ? 0 : 1;
    for (int i = 0; i < run.n; i++) {
        failures += check_failures(&run.tally[i]);
        if (!table)
            check_print_summary(&run.tally[i]);
    }
    if (table && !bad)
        check_print_table(run.tally, run.n);
    return bad ? 2 : failures ? 1 : 0;
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "--list") == 0) {
        check_print_list();
        return 0;
    }
    const bool table = argc > 1 && strcmp(argv[1], "--table") == 0;
    const int first = table ? 2 : 1;
    if (argc <= first || argv[first][0] == '-') {
        fprintf(stderr, "usage: check SHEET...; check --table SHEET...; check --list\n");
        return 2;
    }
    return run_sheets(argv + first, argc - first, table);
}
