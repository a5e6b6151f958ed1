#ifndef ST_CORE_BASIS_H
#define ST_CORE_BASIS_H

#include <stdbool.h>

#include "mixture.h"

/* The ratios in which the published binaries (ethanol-water, sugar-water) are written, taken from w[ST_NCOMP].
 * Fat and solids are no part of the dissolved liquid: they are left out of every ratio. */
struct st_basis {
    double p;         /* ethanol/(ethanol + water), kg/kg */
    double s;         /* sugars/(sugars + water), kg/kg */
    double s_whole;   /* sugars/(sugars + water + ethanol), kg/kg */
    double dissolved; /* (sugars + acid + polyol)/(the same + water), kg/kg */
    double sugars;    /* of the whole liquid, kg/kg */
    double others;    /* acid, polyol, protein, extract, fat, solids of the whole liquid, kg/kg */
    bool ethanol;     /* more than a trace of it */
    bool sugar;
    bool only_sucrose; /* no other sugar than sucrose */
};

/* Fractions up to this count as none: far under what any reading or kitchen measure can tell. */
#define ST_TRACE 1e-6

/* Fill *b.
 * Status: ST_OK; ST_E_DOMAIN (st_mixture_check says no); ST_E_REFUSED when there is neither water nor ethanol. */
enum st_status st_basis_of(const double w[ST_NCOMP], struct st_basis *b);

/* ST_OK when *b is one of the measured binaries (ethanol-water, sucrose-water), else ST_ESTIMATED. */
enum st_status st_basis_kind(const struct st_basis *b);

#endif
