#ifndef ST_CHECK_REPORT_H
#define ST_CHECK_REPORT_H

#include "check_tally.h"

/* One line about a section, for people who run a sheet. */
void check_print_summary(const struct check_tally *t);

/* The tables of accuracy of all sections, as Markdown; the same bytes for the same sheets in the same order. */
void check_print_table(const struct check_tally t[], int n);

/* All functions with their arguments and units. */
void check_print_list(void);

#endif
