#include "quantity_read.h"

#include <math.h>

/* Fewest household measures (a half, a third, a quarter, an eighth) that make up a fraction; 1 when none do: then one
 * is filled in part, by eye. */
static double fills_of_fraction(double f)
{
    static const double SIZE[] = { 1.0 / 2, 1.0 / 3, 1.0 / 4, 1.0 / 8 };
    enum { N = sizeof SIZE / sizeof SIZE[0] };
    const double by = 1e-3;

    if (f < by)
        return 0.0;
    for (int a = 0; a < N; a++)
        if (fabs(SIZE[a] - f) < by)
            return 1.0;
    for (int a = 0; a < N; a++)
        for (int b = a; b < N; b++)
            if (fabs(SIZE[a] + SIZE[b] - f) < by)
                return 2.0;
    for (int a = 0; a < N; a++)
        for (int b = a; b < N; b++)
            for (int c = b; c < N; c++)
                if (fabs(SIZE[a] + SIZE[b] + SIZE[c] - f) < by)
                    return 3.0;
    return 1.0;
}

static double at_least_one(double x)
{
    return x > 1.0 ? x : 1.0;
}

double st_fills_of(enum st_tool tool, double written, double base)
{
    const double whole = floor(written + 1e-6);

    switch (tool) {
    case ST_TOOL_CUP:
    case ST_TOOL_TABLESPOON:
    case ST_TOOL_TEASPOON: return at_least_one(whole + fills_of_fraction(fmax(written - whole, 0.0)));
    case ST_TOOL_JUG: return at_least_one(ceil(base / 1000.0 - 1e-6)); /* a jug of 1 L, common practice */
    case ST_TOOL_JIGGER:
    case ST_TOOL_BOTTLE:
    case ST_TOOL_DROPPER:
    case ST_TOOL_HAND:
    case ST_TOOL_VESSEL: return at_least_one(ceil(written - 1e-6));
    default: return 1.0;
    }
}

double st_quantity_limit(enum st_dimension dim)
{
    switch (dim) {
    case ST_DIM_TIME: return 100.0 * 366.0 * 86400.0;
    case ST_DIM_TEMPERATURE: return 1300.0;
    case ST_DIM_STRENGTH: return 100.0;
    default: return 1e6;
    }
}
