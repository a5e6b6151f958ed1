#include "basis.h"

static double ratio(double part, double rest)
{
    return part > 0.0 ? part / (part + rest) : 0.0;
}

enum st_status st_basis_of(const double w[ST_NCOMP], struct st_basis *b)
{
    const enum st_status s = st_mixture_check(w);
    if (s < 0)
        return s;
    if (!(w[ST_WATER] + w[ST_ETHANOL] > ST_TRACE))
        return ST_E_REFUSED;

    const double sugars = st_mixture_sugars(w);
    b->p = ratio(w[ST_ETHANOL], w[ST_WATER]);
    b->s = ratio(sugars, w[ST_WATER]);
    b->s_whole = ratio(sugars, w[ST_WATER] + w[ST_ETHANOL]);
    b->dissolved = ratio(sugars + w[ST_ACID] + w[ST_POLYOL], w[ST_WATER]);
    b->sugars = sugars;
    b->others = w[ST_ACID] + w[ST_POLYOL] + w[ST_PROTEIN] + w[ST_EXTRACT] + w[ST_FAT] + w[ST_SOLIDS];
    b->ethanol = w[ST_ETHANOL] > ST_TRACE;
    b->sugar = sugars > ST_TRACE;
    b->only_sucrose = sugars - w[ST_SUCROSE] <= ST_TRACE;
    return ST_OK;
}

enum st_status st_basis_kind(const struct st_basis *b)
{
    if (b->others > ST_TRACE || (b->ethanol && b->sugar) || !b->only_sucrose)
        return ST_ESTIMATED;
    return ST_OK;
}
