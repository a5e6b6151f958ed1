#include "ticks.h"

#include <math.h>

static const double GRAMS[ST_TICKS] = { 5.0, 1.0, 0.5, 0.1 };
static const double MILLILITRES[ST_TICKS] = { 10.0, 5.0, 1.0, 0.5 };
static const double PIECES[ST_TICKS] = { 1.0, 0.5, 0.25, 0.25 };

double st_tick(enum st_dimension dim, double amount)
{
    const double *tick = dim == ST_DIM_MASS ? GRAMS : dim == ST_DIM_VOLUME ? MILLILITRES : PIECES;
    const double steps = dim == ST_DIM_PIECE ? 4.0 : 20.0;
    for (int i = 0; i < ST_TICKS - 1; i++)
        if (amount >= steps * tick[i])
            return tick[i];
    return tick[ST_TICKS - 1];
}

void st_tick_range(enum st_dial_of of, double written, double tick, double *low, double *high)
{
    const double least = of == ST_DIAL_STRENGTH ? 0.5 : 0.25, most = 2.0;
    *low = fmax(tick, tick * round(least * written / tick));
    *high = tick * round(most * written / tick);
    if (of == ST_DIAL_STRENGTH && *high > 96.0)
        *high = fmax(96.0, written);
    *low = fmin(*low, written);
    *high = fmax(*high, written);
}

double st_wish_tolerance(enum st_figure f, double value)
{
    switch (f) {
    case ST_FIG_STRENGTH: return 0.5;
    case ST_FIG_SUGAR: return 5.0;
    case ST_FIG_ACID: return fmax(0.3, 0.05 * value);
    default: return 0.02 * fabs(value);
    }
}
