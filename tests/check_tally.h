#ifndef ST_CHECK_TALLY_H
#define ST_CHECK_TALLY_H

#include <stdio.h>

#include "check_sheet.h"

/* Counts of one section of a sheet: the rows of one function. */
struct check_tally {
    const char *path;   /* lent: an argument of main */
    FILE *say;          /* where lines about rows go */
    bool failures_only; /* leave out lines about rows that are only shown */
    char what[200], source[500];
    enum check_kind kind;
    const struct check_function *function;
    int checked, outside;         /* rows counted as checks; of them failed */
    int fitted, fitted_outside;   /* rows used in a fit */
    int shown;                    /* rows from memory, or without a tolerance */
    int misprints;                /* of those checked: printed values that must be contradicted */
    int explained;                /* of those checked: outside, as the sheet says and tells why */
    int statuses, statuses_wrong; /* expect lines */
    int refusals;                 /* of them: negative ones */
    bool has_worst;
    struct check_deviation worst; /* the row nearest to, or furthest over, its tolerance */
    struct check_tolerance worst_tolerance;
    int worst_line;
    double least_size, largest_size; /* of the tolerances of rows checked */
};

/* Judge a row, count it, and print a line if there is something to say. */
void check_count(struct check_tally *t, const struct check_row *row);

/* What is out of tolerance in it. */
int check_failures(const struct check_tally *t);

/* The path from tests/data/ on, if that is in it. */
const char *check_short_path(const char *path);

#endif
