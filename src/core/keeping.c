#include "keeping.h"

#include <stddef.h>

#include "basis.h"
#include "density_mixture.h"
#include "strength.h"

static const struct st_floor_row FLOORS[ST_NFLOOR] = {
    [ST_FLOOR_STRENGTH_ALONE] = { "strength alone against yeast", "% vol", 17.5, 17.5, "[delle_floors]", 'r' },
    [ST_FLOOR_SUGAR_ALONE] = { "sugar alone against yeast", "g/L", 780.0, 780.0, "[delle_floors]", 'r' },
    [ST_FLOOR_DELLE] = { "strength and sugar together against yeast", "Delle units", 78.0, 85.0, "[delle_floors]",
                         'r' },
    [ST_FLOOR_MACERATE] = { "liquor over fruit in the jar", "% vol", 30.0, 30.0, "policy, from memory", 'p' },
    [ST_FLOOR_SHELF] = { "finished drink on the shelf", "% vol", 20.0, 20.0, "policy, from memory", 'p' },
    [ST_FLOOR_COLD] = { "finished drink in the refrigerator", "% vol", 15.0, 15.0, "policy, from memory", 'p' },
    [ST_FLOOR_CREAM] = { "homogenised cream on the shelf", "% vol", 17.0, 17.0, "trade practice, from memory", 'p' },
};

const struct st_floor_row *st_floor_get(enum st_floor f)
{
    return ((int)f >= 0 && f < ST_NFLOOR) ? &FLOORS[f] : NULL;
}

enum st_status st_sugar_g_l(const double w[ST_NCOMP], double *g_l)
{
    double rho = 0.0;
    const enum st_status s = st_density_mixture(w, ST_T20, &rho);
    if (s < 0)
        return s;
    *g_l = st_mixture_sugars(w) * rho; /* kg/m3 is g/L */
    return s;
}

static double delle(double sugar_g_l, double strength_pct_vol)
{
    return sugar_g_l / 10.0 + 4.5 * strength_pct_vol;
}

enum st_status st_delle_units(const double w[ST_NCOMP], double *du)
{
    double sugar = 0.0, strength = 0.0;
    const enum st_status s = st_status_worse(st_sugar_g_l(w, &sugar), st_strength_mixture(w, &strength));
    if (s < 0)
        return s;
    *du = delle(sugar, strength);
    return s;
}

static enum st_met compare(enum st_floor f, const struct st_keeping *k)
{
    const struct st_floor_row *row = &FLOORS[f];
    const double x = f == ST_FLOOR_DELLE         ? k->delle_units
                     : f == ST_FLOOR_SUGAR_ALONE ? k->sugar_g_l
                                                 : k->strength_pct_vol;
    if (x >= row->clear)
        return ST_MET_YES;
    return x >= row->limit ? ST_MET_NEAR : ST_MET_NO;
}

enum st_status st_keeping(const double w[ST_NCOMP], struct st_keeping *k)
{
    struct st_keeping r = { 0 };
    const enum st_status s =
        st_status_worse(st_sugar_g_l(w, &r.sugar_g_l), st_strength_mixture(w, &r.strength_pct_vol));
    if (s < 0)
        return s;
    if (w[ST_FAT] + w[ST_PROTEIN] > ST_TRACE)
        return ST_E_REFUSED;

    r.delle_units = delle(r.sugar_g_l, r.strength_pct_vol);
    for (int f = 0; f < ST_NFLOOR; f++)
        r.met[f] = compare((enum st_floor)f, &r);
    r.storage = r.met[ST_FLOOR_SHELF] == ST_MET_YES  ? ST_STORE_SHELF
                : r.met[ST_FLOOR_COLD] == ST_MET_YES ? ST_STORE_COLD
                                                     : ST_STORE_PERISHABLE;
    *k = r;
    return s;
}
