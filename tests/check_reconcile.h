#ifndef ST_CHECK_RECONCILE_H
#define ST_CHECK_RECONCILE_H

#include "check.h"

/* Reconciliation: chi-square, six flows, a liqueur. */
struct check_result check_chi_square_above(const struct check_field in[]);
struct check_result check_six_flows(const struct check_field in[]);
struct check_result check_six_flows_chi2(const struct check_field in[]);
struct check_result check_reconcile_liqueur(const struct check_field in[]);

#endif
