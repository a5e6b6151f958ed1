#ifndef ST_CORE_DRINK_READING_H
#define ST_CORE_DRINK_READING_H

#include "instruments.h"

/* What an instrument, a scale or a jug shows of a whole drink, from what is in it. */

enum st_shows {
    ST_SHOWS_STRENGTH,   /* % vol at 20 C */
    ST_SHOWS_SUGAR,      /* g/L at 20 C, all sugars */
    ST_SHOWS_ACID,       /* g/L at 20 C */
    ST_SHOWS_VOLUME,     /* mL at T */
    ST_SHOWS_MASS,       /* g */
    ST_SHOWS_DENSITY,    /* kg/m3 at T */
    ST_SHOWS_SG,         /* hydrometer 20/20 C, the liquid at T */
    ST_SHOWS_BRIX,       /* compensating hand refractometer, at T */
    ST_SHOWS_BRIX_PLAIN, /* one that does not compensate */
    ST_SHOWS_FLASK,      /* g of liquid in a flask, weighed in air, at T */
    ST_SHOWS_SG_BOILED,  /* hydrometer at T, alcohol boiled off and the volume made up with water at 20 C */
    ST_NSHOWS
};

/* The reading.
 *
 * Given:
 *   m[ST_NCOMP]  grams of each component in the drink; a little below 0 is allowed for a search (Note 1)
 *   what, T      what is read, and at which temperature, K
 *   flask_ml     volume of the flask at 20 C, mL; only for ST_SHOWS_FLASK
 * Returned:
 *   *y           in the unit above; untouched when the status is negative
 * Status:
 *   as st_density_mixture, st_refractometer_reading; ST_E_DOMAIN when nothing is in the drink, a number is NaN, or the flask
 *   holds nothing
 * Notes:
 *   1. Where a component is negative the reading is 2 y(m clipped at 0) - y(|m|): straight on from 0, with the slope kept,
 *      so that a least-squares search meets no kink at a drink without sugar.
 */
enum st_status st_drink_reading(const double m[ST_NCOMP], enum st_shows what, double T, double flask_ml, double *y);

#endif
