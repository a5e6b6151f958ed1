#ifndef ST_CORE_MIXTURE_H
#define ST_CORE_MIXTURE_H

#include "status.h"

/* What a stream of liquid is made of.  The order is fixed: arrays of all rooms use it. */
enum st_component {
    ST_WATER,
    ST_ETHANOL,
    ST_SUCROSE,
    ST_GLUCOSE,
    ST_FRUCTOSE,
    ST_LACTOSE,
    ST_ACID,    /* as anhydrous citric acid */
    ST_POLYOL,  /* glycerol, sorbitol, xylitol, erythritol ... */
    ST_PROTEIN,
    ST_EXTRACT, /* other dissolved matter: tannin, minerals, gums, other carbohydrate */
    ST_FAT,     /* emulsified or floating */
    ST_SOLIDS,  /* insoluble, suspended or strained off */
    ST_NCOMP
};

/* Short lower-case English name ("water", "ethanol", ...); static text. */
const char *st_component_name(enum st_component c);

/* Check mass fractions w[ST_NCOMP]: each in 0..1, sum 1 within 1e-9.  ST_OK or ST_E_DOMAIN. */
enum st_status st_mixture_check(const double w[ST_NCOMP]);

/* Scale masses m[ST_NCOMP] (any unit, each >= 0, sum > 0) to fractions w[].  ST_OK or ST_E_DOMAIN. */
enum st_status st_mixture_from_masses(const double m[ST_NCOMP], double w[ST_NCOMP]);

/* Sum of the sugars sucrose, glucose, fructose, lactose in w[] (any unit). */
double st_mixture_sugars(const double w[ST_NCOMP]);

#endif
