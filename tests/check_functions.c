#include <string.h>

#include "check.h"
#include "check_density.h"
#include "check_diffusion.h"
#include "check_reconcile.h"
#include "check_refraction.h"
#include "check_steep.h"
#include "check_strength.h"
#include "check_thermal.h"
#include "check_units.h"

#define MASS_PCT                                                                                                       \
    {                                                                                                                  \
        "mass_pct", "% mass"                                                                                           \
    }
#define T_C                                                                                                            \
    {                                                                                                                  \
        "t_C", "C"                                                                                                     \
    }
#define PCT_VOL                                                                                                        \
    {                                                                                                                  \
        "pct_vol", "% vol at 20 C"                                                                                     \
    }
#define SUCROSE                                                                                                        \
    {                                                                                                                  \
        "sucrose_g_l", "g/L at 20 C"                                                                                   \
    }
#define PROOF                                                                                                          \
    {                                                                                                                  \
        "proof", "US proof"                                                                                            \
    }
#define FIVE                                                                                                           \
    { "ethanol", "kg/kg" }, { "sucrose", "kg/kg" }, { "glucose", "kg/kg" }, { "fructose", "kg/kg" },                   \
    {                                                                                                                  \
        "citric", "kg/kg, the rest is water"                                                                           \
    }
#define BODY                                                                                                           \
    {                                                                                                                  \
        "body", "word"                                                                                                 \
    }
#define ALPHA                                                                                                          \
    {                                                                                                                  \
        "alpha", "V_liquid/(K V_body)"                                                                                 \
    }
#define RHO     "rho_kg_m3", "kg/m3"
#define INDEX   "n", "1"
#define CELSIUS "t_C", "C"

/* One row a function that sheets can name: add a row here to add one (docs/HACKING.md). */
/* clang-format off */
const struct check_function check_functions[] = {
    { "density_water", check_density_water, { T_C }, RHO, "density of water" },
    { "density_ethanol", check_density_ethanol, { MASS_PCT, T_C }, RHO, "density of ethanol + water" },
    { "density_sucrose", check_density_sucrose, { MASS_PCT, T_C }, RHO, "density of sucrose + water" },
    { "density_glucose", check_density_glucose, { MASS_PCT, T_C }, RHO, "density of glucose + water" },
    { "density_fructose", check_density_fructose, { MASS_PCT, T_C }, RHO, "density of fructose + water" },
    { "density_invert", check_density_invert, { MASS_PCT, T_C }, RHO, "density of invert sugar + water" },
    { "density_citric", check_density_citric, { MASS_PCT, T_C }, RHO, "density of anhydrous citric acid + water" },
    { "density_liqueur", check_density_liqueur, { PCT_VOL, SUCROSE }, RHO, "density at 20 C of spirit with sucrose" },
    { "density_mixture", check_density_mixture, { FIVE, T_C }, RHO, "density of a mixture" },
    { "sucrose_from_density", check_sucrose_from_density, { { "rho_kg_m3", "kg/m3" }, T_C }, "mass_pct", "% mass",
      "sucrose in water from its density" },
    { "extract_from_residue", check_extract_from_residue, { { "d_20_20", "relative density" } }, "extract_g_l", "g/L",
      "extract, as sucrose, of a liquid without alcohol" },

    { "strength_from_mass", check_strength_from_mass, { MASS_PCT }, "pct_vol", "% vol", "strength of ethanol + water" },
    { "mass_from_strength", check_mass_from_strength, { PCT_VOL }, "mass_pct", "% mass", "its inverse" },
    { "strength_60f_from_mass", check_strength_60f_from_mass, { MASS_PCT }, "pct_vol_60f", "% vol at 60 F",
      "strength of ethanol + water, volumes at 60 F" },
    { "mass_from_strength_60f", check_mass_from_strength_60f, { { "pct_vol_60f", "% vol at 60 F" } }, "mass_pct",
      "% mass", "its inverse" },
    { "proof_from_mass", check_proof_from_mass, { MASS_PCT }, "proof", "proof", "US proof of ethanol + water" },
    { "mass_from_proof", check_mass_from_proof, { PROOF }, "mass_pct", "% mass", "its inverse" },
    { "strength_mixture", check_strength_mixture, { FIVE }, "pct_vol", "% vol", "strength of a mixture" },
    { "sg_vacuum_60f", check_sg_vacuum_60f, { PROOF }, "sg", "60/60 F", "relative density of a spirit, in vacuum" },
    { "sg_air_60f", check_sg_air_60f, { PROOF }, "sg", "60/60 F", "relative density of a spirit, in air" },
    { "water_parts_60f", check_water_parts_60f, { PROOF }, "water_parts", "parts in 100",
      "volume of water that makes, with the ethanol, 100 volumes" },
    { "reduce_60f", check_reduce_60f, { { "from_pct_vol", "% vol at 60 F" }, { "to_pct_vol", "% vol at 60 F" } },
      "water_parts", "parts to 100", "water that reduces 100 volumes of a spirit" },
    { "pounds_per_gallon", check_pounds_per_gallon, { PROOF }, "lb_per_gal", "lb/gal",
      "weight in air of a US gallon at 60 F" },
    { "gallons_per_pound", check_gallons_per_pound, { PROOF }, "gal_per_lb", "gal/lb", "its inverse" },
    { "proof_gallons_per_pound", check_proof_gallons_per_pound, { PROOF }, "pg_per_lb", "proof gal/lb",
      "proof gallons in a pound" },
    { "equal_volumes", check_equal_volumes, { T_C }, "volume_l", "L", "100 L of ethanol and 100 L of water, mixed" },
    { "hidden_proof", check_hidden_proof, { PCT_VOL, SUCROSE }, "proof", "proof",
      "proof that sugar hides from a hydrometer" },

    { "index_water", check_index_water, { T_C }, INDEX, "refractive index of water" },
    { "index_ethanol", check_index_ethanol, { MASS_PCT, T_C }, INDEX, "refractive index of ethanol + water" },
    { "index_sucrose", check_index_sucrose, { MASS_PCT, T_C }, INDEX, "refractive index of sucrose + water" },
    { "index_glucose", check_index_glucose, { MASS_PCT }, INDEX, "refractive index at 20 C of glucose + water" },
    { "index_fructose", check_index_fructose, { MASS_PCT }, INDEX, "refractive index at 20 C of fructose + water" },
    { "index_citric", check_index_citric, { MASS_PCT }, INDEX, "refractive index at 20 C of citric acid + water" },
    { "index_liqueur", check_index_liqueur, { PCT_VOL, SUCROSE }, INDEX,
      "refractive index at 20 C of spirit with sucrose" },
    { "index_mixture", check_index_mixture, { FIVE, T_C }, INDEX, "refractive index of a mixture" },
    { "index_from_brix", check_index_from_brix, { { "brix", "Brix" } }, INDEX, "index on the sugar scale at 20 C" },
    { "brix_from_index", check_brix_from_index, { { "n", "1" } }, "brix", "Brix", "its inverse" },
    { "brix_correction", check_brix_correction, { { "reading", "Brix" }, T_C }, "add", "% mass",
      "temperature correction of a refractometer, sucrose" },
    { "refractometer", check_refractometer, { FIVE, T_C }, "brix", "Brix", "reading of a compensating refractometer" },
    { "hydrometer_20c", check_hydrometer_20c, { FIVE, T_C }, "sg", "SG 20/20 C", "reading of a hydrometer for 20 C" },
    { "hydrometer_60f", check_hydrometer_60f, { FIVE, T_C }, "sg", "SG 60/60 F", "reading of a hydrometer for 60 F" },
    { "regression_strength", check_regression_strength, { PCT_VOL, SUCROSE }, "pct_vol", "% vol",
      "strength by the regression on 35 fortified wines, from foreseen readings" },
    { "gauge_strength", check_gauge_strength,
      { { "sg", "SG 20/20 C" }, { "sg_t_C", "C" }, { "brix", "Brix" }, { "brix_t_C", "C" } }, "pct_vol", "% vol",
      "strength from hydrometer and refractometer" },
    { "gauge_sugar", check_gauge_sugar,
      { { "sg", "SG 20/20 C" }, { "sg_t_C", "C" }, { "brix", "Brix" }, { "brix_t_C", "C" } }, "sugar_g_l", "g/L",
      "sugar from hydrometer and refractometer" },

    { "freezing_ethanol", check_freezing_ethanol, { MASS_PCT }, CELSIUS, "freezing point of ethanol + water" },
    { "freezing_strength", check_freezing_strength, { PCT_VOL }, CELSIUS, "freezing point of ethanol + water" },
    { "freezing_sucrose", check_freezing_sucrose, { MASS_PCT }, CELSIUS, "freezing point of sucrose + water" },
    { "freezing_glucose", check_freezing_glucose, { MASS_PCT }, CELSIUS, "freezing point of glucose + water" },
    { "freezing_liqueur", check_freezing_liqueur, { PCT_VOL, SUCROSE }, CELSIUS,
      "freezing point of spirit with sucrose" },
    { "freezing_mixture", check_freezing_mixture, { FIVE }, CELSIUS, "freezing point of a mixture" },
    { "boiling_ethanol", check_boiling_ethanol, { { "x_ethanol", "mol/mol" } }, CELSIUS,
      "boiling point of ethanol + water" },
    { "boiling_mixture", check_boiling_mixture, { FIVE }, CELSIUS, "boiling point of a mixture" },
    { "vapour_ethanol", check_vapour_ethanol, { { "x_ethanol", "mol/mol" } }, "y_ethanol", "mol/mol",
      "ethanol in the vapour over boiling ethanol + water" },
    { "vapour_pressure_ethanol", check_vapour_pressure_ethanol, { T_C }, "torr", "torr", "vapour pressure of ethanol" },
    { "vapour_pressure_water", check_vapour_pressure_water, { T_C }, "torr", "torr", "vapour pressure of water" },
    { "heat_capacity_ethanol", check_heat_capacity_ethanol, { { "mass_frac", "kg/kg" }, T_C }, "cp_J_kgK", "J/(kg K)",
      "heat capacity of ethanol + water" },
    { "heat_capacity_mixture", check_heat_capacity_mixture, { FIVE, T_C }, "cp_J_kgK", "J/(kg K)",
      "heat capacity of a mixture" },
    { "viscosity_ethanol", check_viscosity_ethanol, { MASS_PCT }, "eta_mPa_s", "mPa s",
      "viscosity at 20 C of ethanol + water" },
    { "viscosity_sucrose", check_viscosity_sucrose, { MASS_PCT }, "eta_mPa_s", "mPa s",
      "viscosity at 20 C of sucrose + water" },
    { "viscosity_mixture", check_viscosity_mixture, { FIVE, T_C }, "eta_mPa_s", "mPa s", "viscosity of a mixture" },
    { "flash_point", check_flash_point, { PCT_VOL }, CELSIUS, "closed-cup flash point of ethanol + water" },
    { "sucrose_solubility", check_solubility_water, { T_C }, "mass_pct", "% mass", "solubility of sucrose in water" },
    { "sucrose_solubility_100g", check_solubility_per_100g, { T_C }, "g_100g", "g/100 g water",
      "solubility of sucrose in water" },
    { "sucrose_solubility_spirit", check_solubility_spirit, { MASS_PCT, T_C }, "mass_pct", "% mass",
      "solubility of sucrose in ethanol + water" },
    { "water_activity_liqueur", check_activity_liqueur, { PCT_VOL, SUCROSE }, "aw", "1",
      "water activity at 25 C of spirit with sucrose" },
    { "water_activity_mixture", check_activity_mixture, { FIVE, T_C }, "aw", "1", "water activity of a mixture" },
    { "delle_units", check_delle_units, { PCT_VOL, SUCROSE }, "delle", "Delle units", "Delle units" },

    { "solubility_in_spirit", check_solubility_in_spirit,
      { { "log_p", "1" }, { "water_mg_l", "mg/L" }, { "f", "volume fraction" } }, "s_mg_l", "mg/L",
      "what spirit holds of a marker" },
    { "louche_index", check_louche_index,
      { { "log_p", "1" }, { "water_mg_l", "mg/L" }, { "f", "volume fraction" }, { "oil_g_l", "g/L" },
        { "sugar_g_l", "g/L" } },
      "index", "1", "oil there is over oil that stays dissolved" },
    { "chill_ratio", check_chill_ratio, { { "dh_kj_mol", "kJ/mol" }, T_C }, "ratio", "1",
      "solubility of an oil, over that at 20 C" },
    { "viscosity_ratio", check_viscosity_ratio, { MASS_PCT }, "ratio", "1",
      "viscosity of ethanol + water over that of water, 20 C" },
    { "arrhenius_ea", check_arrhenius_ea,
      { { "k1", "any" }, { "k2", "any" }, { "k3", "any" }, { "t1_C", "C" }, { "t2_C", "C" }, { "t3_C", "C" } },
      "ea_kj_mol", "kJ/mol", "activation energy from three speeds" },
    { "arrhenius_at", check_arrhenius_at,
      { { "k1", "any" }, { "k2", "any" }, { "k3", "any" }, { "t1_C", "C" }, { "t2_C", "C" }, { "t3_C", "C" }, T_C },
      "k", "as k1", "speed at another temperature, from three" },
    { "arrhenius_two", check_arrhenius_two, { { "k1", "any" }, { "k2", "any" }, { "t1_C", "C" }, { "t2_C", "C" }, T_C },
      "k", "as k1", "speed at another temperature, from two" },
    { "settling", check_settling,
      { { "d_m", "m" }, { "drho_kg_m3", "kg/m3" }, { "eta_pa_s", "Pa s" }, { "phi", "share of volume" } }, "v_mm_day",
      "mm/day", "speed of settling" },
    { "inversion_half_life", check_inversion_half_life, { { "ph", "pH" }, T_C }, "half_day", "day",
      "half-life of sucrose in acid" },
    { "half_lives_left", check_half_lives_left, { { "half", "any" }, { "time", "as half" } }, "left", "1",
      "share left, first order" },
    { "fading_half_life", check_fading_half_life, { T_C }, "half_day", "day", "half-life of the red of fruit" },
    { "fading_lost", check_fading_lost, { T_C, { "time_day", "day" } }, "lost_pct", "%", "red of fruit lost" },
    { "absorbance", check_absorbance, { { "a0", "1" }, { "dilution", "1" }, { "path", "1" } }, "a", "1",
      "absorbance after dilution" },
    { "apparent_rate", check_apparent_rate,
      { { "before", "mg/g" }, { "after", "mg/g" }, { "time_min", "min" } }, "k", "1/min", "rate of one run" },
    { "roast_left", check_roast_left,
      { { "before", "mg/g" }, { "after", "mg/g after 10 min" }, { "t1_C", "C" }, { "ea_kj_mol", "kJ/mol" },
        { "t2_C", "C" }, { "time_min", "min" } },
      "left", "1", "share left if the piece were that hot throughout" },
    { "toast_core", check_toast_core,
      { { "oven_C", "C" }, { "t0_C", "C" }, { "half_m", "m" }, { "h", "W/(m2 K)" }, { "rho", "kg/m3" },
        { "cp", "J/(kg K)" }, { "time_min", "min" } },
      CELSIUS, "temperature of a piece in an oven" },
    { "uptake_two_speeds", check_uptake_two_speeds,
      { { "w", "1" }, { "kw", "1/h" }, { "kd", "1/h" }, { "time_h", "h" } }, "share", "1", "share that is out" },
    { "uptake_peleg", check_uptake_peleg, { { "k1", "h" }, { "k2", "1" }, { "time_h", "h" } }, "share", "1",
      "share that is out" },
    { "uptake_weibull", check_uptake_weibull, { { "tau_h", "h" }, { "n", "1" }, { "time_h", "h" } }, "share", "1",
      "share that is out" },
    { "hcn_at_most", check_hcn_at_most, { { "amygdalin_mg_g", "mg/g" }, { "kernels_g_l", "g/L" } }, "hcn_mg_l", "mg/L",
      "hydrogen cyanide at most" },
    { "benzaldehyde_at_most", check_benzaldehyde_at_most, { { "amygdalin_mg_g", "mg/g" }, { "kernels_g_l", "g/L" } },
      "benzaldehyde_mg_l", "mg/L", "benzaldehyde at most" },
    { "volume_of_dose", check_volume_of_dose,
      { { "body_kg", "kg" }, { "dose_ug_kg", "ug/kg" }, { "c_mg_l", "mg/L" } }, "volume_ml", "mL",
      "drink that holds a dose" },
    { "kernels_of_dose", check_kernels_of_dose,
      { { "body_kg", "kg" }, { "dose_ug_kg", "ug/kg" }, { "amygdalin_mg_g", "mg/g" } }, "kernels_g", "g",
      "kernels that hold a dose of hydrogen cyanide" },
    { "quinine_equivalent", check_quinine_equivalent, { { "bv", "1" }, { "c_mg_l", "mg/L" } }, "qe_mg_l", "mg/L",
      "bitterness as quinine hydrochloride" },
    { "sucrose_equivalent", check_sucrose_equivalent,
      { { "sucrose", "g/L" }, { "glucose", "g/L" }, { "fructose", "g/L" } }, "se_g_l", "g/L",
      "sweetness as sucrose" },
    { "taste_ratio", check_taste_ratio, { { "ratio", "1" }, { "power", "1" } }, "stronger", "1", "times as strong" },
    { "update_mean", check_update_mean,
      { { "prior", "1" }, { "prior_sd", "1" }, { "seen", "1" }, { "seen_sd", "1" } }, "mean", "1",
      "mean after seeing it once" },
    { "update_sd", check_update_sd,
      { { "prior", "1" }, { "prior_sd", "1" }, { "seen", "1" }, { "seen_sd", "1" } }, "sd", "1",
      "standard deviation after seeing it once" },

    { "crank_uptake", check_crank_uptake, { BODY, ALPHA, { "Fo", "D t/a^2" } }, "share", "of the final exchange",
      "diffusion of one body in a stirred bath" },
    { "crank_root", check_crank_root, { BODY, ALPHA, { "n", "count" } }, "q", "1", "roots of its series" },
    { "crank_time", check_crank_time, { BODY, ALPHA, { "share", "of the final exchange" } }, "Fo", "D t/a^2",
      "its inverse" },
    { "crank_hours", check_crank_hours, { { "a_m", "m" }, { "D_m2_s", "m2/s" }, { "Fo", "D t/a^2" } }, "t_h", "h",
      "time of a given Fo, sphere" },
    { "shared_bath", check_shared_bath,
      { { "shells", "count" }, { "V_mL", "mL" }, { "t_h", "h" }, { "piece_1", "word" }, { "piece_2", "word" },
        { "piece_3", "word" } }, "C", "as the pieces'", "several kinds of pieces in one liquid" },
    { "bath_yield", check_bath_yield,
      { { "V_solid_mL", "mL" }, { "V_liquid_mL", "mL" }, { "K", "c_solid/c_liquid" }, { "baths", "count" } }, "share",
      "1", "what comes out of a piece in the end" },
    { "bath_alpha", check_bath_alpha,
      { { "V_solid_mL", "mL" }, { "V_liquid_mL", "mL" }, { "K", "c_solid/c_liquid" } }, "alpha", "1",
      "liquid to solid in the end" },

    { "chi_square_above", check_chi_square_above, { { "x", "1" }, { "df", "count" } }, "p", "1",
      "how often chance gives a greater sum of squares" },
    { "six_flows", check_six_flows,
      { { "F1", "flow" }, { "F2", "flow" }, { "F3", "flow" }, { "F4", "flow" }, { "F5", "flow" }, { "F6", "flow" },
        { "which", "1 to 6" } }, "F", "flow", "flows of a split and a join, reconciled" },
    { "six_flows_chi2", check_six_flows_chi2,
      { { "F1", "flow" }, { "F2", "flow" }, { "F3", "flow" }, { "F4", "flow" }, { "F5", "flow" }, { "F6", "flow" } },
      "chi2", "1", "their global test, variance 1" },
    { "reconcile_liqueur", check_reconcile_liqueur,
      { { "ethanol_g", "word" }, { "sugar_g", "word" }, { "water_g", "word" }, { "pct_vol", "word" },
        { "sugar_g_l", "word" }, { "volume_mL", "word" }, { "result", "word" } }, "x", "as named",
      "a recipe and three readings of its drink, reconciled" },

    { "unit_base", check_unit_base, { { "unit", "word" }, { "amount", "in that unit" } }, "base", "g, mL, K, s ...",
      "kitchen unit into base units" },
    { "unit_sum", check_unit_sum,
      { { "unit", "word" }, { "amount", "in that unit" }, { "unit_2", "word" }, { "amount_2", "in that unit" } },
      "base", "g, mL", "sum of two amounts" },
    { "unit_celsius", check_unit_celsius, { { "unit", "word" }, { "amount", "in that unit" } }, CELSIUS,
      "temperature into degrees Celsius" },
    { "unit_back", check_unit_back, { { "unit", "word" }, { "base", "g, mL, K, s ..." } }, "amount", "in that unit",
      "base units into a kitchen unit" },
    { .name = NULL },
};
/* clang-format on */

const struct check_function *check_function_by_name(const char *name)
{
    for (const struct check_function *f = check_functions; f->name; f++)
        if (strcmp(f->name, name) == 0)
            return f;
    return NULL;
}

int check_n_args(const struct check_function *f)
{
    int n = 0;
    while (n < CHECK_MAX_ARGS && f->arg[n].name)
        n++;
    return n;
}

/* How many letters to change, add or leave out to come from a to b; both at most 40 long. */
static size_t distance(const char *a, const char *b)
{
    enum { LONGEST = 40 };
    size_t row[LONGEST + 1];
    const size_t na = strlen(a), nb = strlen(b);
    if (na > LONGEST || nb > LONGEST)
        return LONGEST;
    for (size_t j = 0; j <= nb; j++)
        row[j] = j;
    for (size_t i = 1; i <= na; i++) {
        size_t corner = row[0];
        row[0] = i;
        for (size_t j = 1; j <= nb; j++) {
            const size_t change = corner + (a[i - 1] != b[j - 1]);
            const size_t gap = 1 + (row[j] < row[j - 1] ? row[j] : row[j - 1]);
            corner = row[j];
            row[j] = change < gap ? change : gap;
        }
    }
    return row[nb];
}

const struct check_function *check_function_near(const char *name)
{
    const struct check_function *best = NULL;
    size_t least = strlen(name) / 2 + 1; /* further than that it is another word */
    for (const struct check_function *f = check_functions; f->name; f++) {
        const size_t d = distance(name, f->name);
        if (d < least) {
            least = d;
            best = f;
        }
    }
    return best;
}
