#ifndef ST_CORE_GAUGE_SOLVE_H
#define ST_CORE_GAUGE_SOLVE_H

#include <stdbool.h>

#include "refraction_kernel.h"

/* For gauge.c only: two residuals in two unknowns, x = (wE, wS), the mass fractions of ethanol and of sugar in
 * the whole liquid. */

enum { ST_GAUGE_STARTS = 4 };

enum reading_kind { READ_DENSITY, READ_INDEX, READ_STRENGTH, READ_SUGAR };

struct reading {
    enum reading_kind kind;
    double T;                         /* K */
    double target;                    /* kg/m3, 1, % vol or g/L */
    double target_warmer;             /* what the same reading means half a kelvin warmer */
    double scale;                     /* residual = (model - target)/scale */
    double u_instrument;              /* standard uncertainty, unit of target */
    struct st_refract at, warmer;     /* model at T, and half a kelvin warmer */
};

struct problem {
    struct reading a, b;
    struct st_mix mix_20;
    double rho_ethanol; /* kg/m3 at 20 C */
    double acid_g_l, invert_share;
};

void st_gauge_prepare(struct problem *p, double acid_g_l, double invert_share);

/* The liquid of x: fractions w, density at 20 C. */
void st_gauge_liquid(const struct problem *p, const double x[2], double w[ST_NCOMP], double *rho_20);

/* Residual of one reading at a liquid. */
double st_gauge_residual(const struct problem *p, const struct reading *r, const double w[ST_NCOMP], bool warmer);

/* J[4] row-major: residuals a, b against wE, wS; strength (% vol), sugar (g/L) against wE, wS.  Central
 * differences. */
void st_gauge_jacobian(const struct problem *p, const double x[2], double J[4]);
void st_gauge_output_jacobian(const struct problem *p, const double x[2], double J[4]);

/* Solve from all starts; the different solutions go to x[], their number is returned. */
int st_gauge_solve(const struct problem *p, double x[ST_GAUGE_STARTS][2], int *iterations);

#endif
