#include "check_tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *check_short_path(const char *path)
{
    const char *p = strstr(path, "tests/data/");
    return p ? p : path;
}

int check_failures(const struct check_tally *t)
{
    return t->outside + t->fitted_outside + t->statuses_wrong;
}

/* "sheet.tsv:8: density_ethanol(25, 20)" */
static void say_where(const struct check_tally *t, const struct check_row *row)
{
    fprintf(t->say, "%s:%d: %s(", check_short_path(t->path), row->line, row->function->name);
    for (int i = 0; i < row->n; i++)
        fprintf(t->say, "%s%s", i ? ", " : "", row->in[i].word);
    fprintf(t->say, ")");
}

static void count_status(struct check_tally *t, const struct check_row *row, const struct check_result *got)
{
    t->statuses++;
    t->refusals += row->wanted < 0 ? 1 : 0;
    if (got->status == row->wanted && !got->touched)
        return;
    t->statuses_wrong++;
    say_where(t, row);
    if (got->status != row->wanted)
        fprintf(t->say, " ends %s, expected %s\n", check_status_name(got->status), check_status_name(row->wanted));
    else
        fprintf(t->say, " is refused, yet its output was changed\n");
}

static void say_deviation(const struct check_tally *t, const struct check_row *row, const struct check_result *got,
                          const char *tail)
{
    char value[80], expected[80], tolerance[80];
    check_print_number(value, sizeof value, got->value, &row->tolerance);
    check_print_expected(expected, sizeof expected, &row->expected, &row->tolerance);
    check_print_tolerance(tolerance, sizeof tolerance, &row->tolerance);
    say_where(t, row);
    if (got->status < 0)
        fprintf(t->say, " is refused (%s), %s %s%s\n", check_status_name(got->status),
                t->kind == CHECK_PUBLISHED ? "published" : "expected", expected, tail);
    else
        fprintf(t->say, " = %s, %s %s %s%s\n", value, t->kind == CHECK_PUBLISHED ? "published" : "expected", expected,
                tolerance, tail);
}

static void keep_worst(struct check_tally *t, const struct check_row *row, struct check_deviation d)
{
    const double size = row->tolerance.size;
    if (!t->has_worst || size < t->least_size)
        t->least_size = size;
    if (!t->has_worst || size > t->largest_size)
        t->largest_size = size;
    if (!t->has_worst || d.share > t->worst.share) {
        t->worst = d;
        t->worst_tolerance = row->tolerance;
        t->worst_line = row->line;
    }
    t->has_worst = true;
}

/* Is the row met?  *d tells by how much. */
static bool is_met(const struct check_row *row, const struct check_result *got, struct check_deviation *d)
{
    d->deviation = d->share = 0.0;
    if (row->expected.want == CHECK_NONE)
        return got->status < 0 && !got->touched;
    if (got->status < 0) {
        d->deviation = d->share = (double)INFINITY;
        return false;
    }
    *d = check_judge(got->value, &row->expected, &row->tolerance);
    return d->share <= 1.0;
}

static void count_checked(struct check_tally *t, const struct check_row *row, const struct check_result *got, bool met,
                          struct check_deviation d)
{
    t->checked++;
    if (row->mark == CHECK_MISPRINT)
        t->misprints++;
    else if (row->expected.want != CHECK_NONE)
        keep_worst(t, row, d);
    if (row->mark == CHECK_MISPRINT || row->mark == CHECK_OUTSIDE) {
        /* the function must give a value, and another one than the one in the sheet */
        if (!met && got->status >= 0) {
            t->explained += row->mark == CHECK_OUTSIDE ? 1 : 0;
            return;
        }
        t->outside++;
        say_deviation(t, row, got, ": the sheet says that it is not met; is its mark out of date?");
        return;
    }
    if (met)
        return;
    t->outside++;
    say_deviation(t, row, got, "");
}

void check_count(struct check_tally *t, const struct check_row *row)
{
    const struct check_result got = row->function->run(row->in);
    struct check_deviation d;
    if (row->is_expect) {
        count_status(t, row, &got);
        return;
    }
    const bool met = is_met(row, &got, &d);
    if (row->mark == CHECK_MEMORY || row->tolerance.how == CHECK_SHOWN) {
        t->shown++;
        if (!t->failures_only)
            say_deviation(t, row, &got, row->mark == CHECK_MEMORY ? " [from memory, not gated]" : "");
    } else if (row->mark == CHECK_FIT) {
        t->fitted++;
        if (!met) {
            t->fitted_outside++;
            say_deviation(t, row, &got, " [a row of its own fit]");
        }
    } else {
        count_checked(t, row, &got, met, d);
    }
}
