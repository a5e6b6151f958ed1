#include "steep_constants.h"

#include <assert.h>
#include <stddef.h>

/* The numbers of [name, unit, low, middle, high, mark, source], in SI; why each is so stands in docs/sources.md and
 * beside the function that uses it. */
static const struct st_steep_constant_row ROWS[ST_NSTEEP_CONSTANT] = {
    [ST_SIGMA_SLOPE] = { "slope of sigma against log P", "1", 0.93, 0.95, 0.95, 'm', "[yalkowsky_cosolvent]" },
    [ST_SIGMA_INTERCEPT] = { "sigma at log P = 0", "1", 0.30, 0.30, 0.40, 'm', "[yalkowsky_cosolvent]" },
    [ST_SOLUBILITY_ERROR] = { "error of a solubility, a factor", "1", 0.4, 1.0, 2.5, 'm', "[yalkowsky_cosolvent]" },
    [ST_PARTITION_SHARE] = { "slope of the partition over sigma", "1", 0.3, 0.5, 0.8, 'm', "from memory" },
    [ST_HUMP_CENTRE] = { "best strength for bitters and tannins", "1", 0.40, 0.50, 0.60, 'r', "[arino_1997]" },
    [ST_HUMP_WIDTH] = { "width of the hump", "1", 0.25, 0.25, 0.25, 'm', "from memory" },
    [ST_HUMP_FLOOR] = { "least share from 35 to 65 % vol", "1", 0.8, 0.8, 0.8, 'p', "policy, from memory" },
    [ST_EA_DIFFUSION] = { "activation energy of diffusion", "J/mol", 20e3, 30e3, 40e3, 'm', "from memory" },
    [ST_OIL_HEAT] = { "heat of solution of an oil", "J/mol", 20e3, 30e3, 40e3, 'm', "from memory" },
    [ST_SALTING_OUT] = { "how sugar drives oil out", "m3/kg", 0.0, 3e-4, 1e-3, 'm', "from memory" },
    [ST_LOUCHE_CLEAR] = { "louche index of clear", "1", 0.7, 0.7, 0.7, 'p', "policy, from memory" },
    [ST_LOUCHE_CLOUD] = { "louche index of cloud", "1", 1.4, 1.4, 1.4, 'p', "policy, from memory" },
    [ST_HINDRANCE] = { "exponent of hindered settling", "1", 4.65, 4.65, 4.65, 'm', "[richardson_zaki1954]" },
    [ST_INVERSION_KH] = { "inversion of sucrose at 25 C", "m3/(mol s)", 1.4e-7 / 3.0, 1.4e-7, 4.2e-7, 'm',
                          "from memory" },
    [ST_EA_INVERSION] = { "activation energy of inversion", "J/mol", 107e3, 108e3, 111.2e3, 'r', "[tombari_2007]" },
    /* 3 months of 30.4375 days */
    [ST_FADING_HALF_LIFE] = { "half-life of red at 20 C", "s", 3944700.0, 7889400.0, 15778800.0, 'c', "[bonerz_2007]" },
    /* the ends: 6.6 weeks at 30 C with 3.0 months at 20 C, 5.9 weeks with 3.5 months */
    [ST_EA_FADING] = { "activation energy of fading", "J/mol", 50e3, 58.6e3, 70e3, 'c', "[sokol_letowska_2018]" },
    [ST_EA_FLAVOUR] = { "activation energy of toasted flavour", "J/mol", 80e3, 100e3, 120e3, 'm', "from memory" },
    /* ln(27.64/9.77)/600 s */
    [ST_GLYCOSIDE_RATE] = { "loss of amygdalin, oven at 160 C", "1/s", 8.666e-4, 1.733247e-3, 3.4665e-3, 'c',
                            "[nalcaci_2025]" },
    [ST_EA_GLYCOSIDE] = { "activation energy of that loss", "J/mol", 60e3, 100e3, 140e3, 'm', "from memory" },
    [ST_AMYGDALIN_UNKNOWN] = { "amygdalin of kernels nobody measured", "kg/kg", 0.069, 0.069, 0.069, 'r',
                               "[tuncel_1995]" },
    [ST_QUININE_THRESHOLD] = { "threshold of quinine hydrochloride", "kg/m3", 3.6e-3, 5e-3, 5.8e-3, 'r',
                               "[bp_bitterness]" },
    [ST_BITTERNESS_ERROR] = { "error of a sum of bitterness, a factor", "1", 1.0 / 3.0, 1.0, 3.0, 'm', "from memory" },
    [ST_SWEET_POWER] = { "power of sweetness", "1", 1.1, 1.3, 1.5, 'r', "[moskowitz1970]" },
};

const struct st_steep_constant_row *st_steep_constant_get(enum st_steep_constant c)
{
    return ((int)c >= 0 && c < ST_NSTEEP_CONSTANT) ? &ROWS[c] : NULL;
}

double st_steep_constant(enum st_steep_constant c)
{
    const struct st_steep_constant_row *row = st_steep_constant_get(c);
    assert(row);
    return row->mid;
}
