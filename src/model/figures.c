#include <math.h>

#include "core/density_mixture.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "core/water.h"
#include "plan_inside.h"

static const struct st_figure_info INFO[ST_NFIG] = {
    [ST_FIG_STRENGTH] = { "strength_pct_vol", "strength", "% vol" },
    [ST_FIG_SUGAR] = { "sugar_g_l", "sugar", "g/L" },
    [ST_FIG_SUGAR_INVERT] = { "sugar_invert_g_l", "sugar as invert sugar", "g/L" },
    [ST_FIG_EXTRACT] = { "extract_g_l", "extract", "g/L" },
    [ST_FIG_ACID] = { "acid_g_l", "acid", "g/L" },
    [ST_FIG_VOLUME] = { "volume_ml", "volume", "mL" },
    [ST_FIG_MASS] = { "mass_g", "weight", "g" },
    [ST_FIG_DENSITY] = { "density_kg_m3", "density", "kg/m3" },
    [ST_FIG_SG] = { "sg_20_20", "specific gravity 20/20", "" },
    [ST_FIG_BRIX] = { "brix", "refractometer reading", "Brix" },
    [ST_FIG_N] = { "refractive_index", "refractive index", "" },
    [ST_FIG_ENERGY_KJ] = { "energy_kj_100ml", "energy", "kJ/100 mL" },
    [ST_FIG_ENERGY_KCAL] = { "energy_kcal_100ml", "energy", "kcal/100 mL" },
    [ST_FIG_ETHANOL] = { "ethanol_g", "alcohol", "g" },
    [ST_FIG_BOTTLES] = { "bottles", "bottles", "" },
    [ST_FIG_SUGAR_ACID] = { "sugar_acid_ratio", "sugar to acid", "g/g" },
    [ST_FIG_FAT] = { "fat_g_l", "fat", "g/L" },
    [ST_FIG_COST] = { "cost", "cost", "" },
};

const struct st_figure_info *st_figure_info(enum st_figure f)
{
    return (unsigned)f < ST_NFIG ? &INFO[f] : NULL;
}

/* [eu_1169_2011] annex XIV, per g */
struct factor {
    double kj, kcal;
};
static const struct factor ENERGY[ST_NCOMP] = {
    [ST_ETHANOL] = { 29, 7 },  [ST_SUCROSE] = { 17, 4 }, [ST_GLUCOSE] = { 17, 4 },
    [ST_FRUCTOSE] = { 17, 4 }, [ST_LACTOSE] = { 17, 4 }, [ST_ACID] = { 13, 3 },
    [ST_POLYOL] = { 10, 2.4 }, [ST_PROTEIN] = { 17, 4 }, [ST_FAT] = { 37, 9 },
};

static const double INVERT = 1.052632; /* g of invert sugar from 1 g of sucrose: molar masses */
static const double KCAL_KJ = 1 / 4.184;

/* What the property rules themselves may be wrong by at this drink; as a factor 1 +- half/value. */
static int rule_error(struct st_build *b, double value, double half, const char *what, const char *id)
{
    if (!(half > 0.0 && value > 0.0))
        return ST_ONE;
    const struct st_column c = { .shape = ST_SHAPE_NORMAL,
                                 .value = 1.0,
                                 .low = 1.0 - half / value,
                                 .high = 1.0 + half / value,
                                 .clip_low = 0.5,
                                 .clip_high = 1.5,
                                 .id = st_name_hash(ST_NAME_START, id),
                                 .group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, what, NULL, NULL) };
    return st_tape_input(b->tape, &c);
}

struct drink {
    const int *g;             /* liquid, registers */
    double w[ST_NCOMP];       /* nominal */
    int mass, rho, per_litre; /* per_litre: 1000/mL */
    enum st_status made_of, volumetric, optical;
};

static int per_litre(struct st_build *b, const struct drink *d, int g)
{
    return st_mul(b->tape, g, d->per_litre);
}

static int sum(struct st_build *b, const struct drink *d, const int *of, int n)
{
    int s = ST_ZERO;
    for (int i = 0; i < n; i++)
        s = st_add(b->tape, s, d->g[of[i]]);
    return s;
}

static int sugars_g(struct st_build *b, const struct drink *d)
{
    static const int S[] = { ST_SUCROSE, ST_GLUCOSE, ST_FRUCTOSE, ST_LACTOSE };
    return sum(b, d, S, 4);
}

static int invert_g(struct st_build *b, const struct drink *d)
{
    static const int S[] = { ST_GLUCOSE, ST_FRUCTOSE, ST_LACTOSE };
    return st_madd(b->tape, st_tape_constant(b->tape, INVERT), d->g[ST_SUCROSE], sum(b, d, S, 3));
}

static int extract_g(struct st_build *b, const struct drink *d)
{
    static const int S[] = { ST_ACID, ST_POLYOL, ST_PROTEIN, ST_EXTRACT };
    return st_add(b->tape, sugars_g(b, d), sum(b, d, S, 4));
}

static int energy(struct st_build *b, const struct drink *d, bool kcal)
{
    struct st_tape *t = b->tape;
    int e = st_scaled_by(t, d->g[ST_SLOT_ENERGY], kcal ? KCAL_KJ : 1.0);
    for (int c = 0; c < ST_NCOMP; c++)
        e = st_madd(t, st_tape_constant(t, kcal ? ENERGY[c].kcal : ENERGY[c].kj), d->g[c], e);
    return st_scaled_by(t, per_litre(b, d, e), 0.1);
}

static void set(struct st_build *b, enum st_figure f, int reg, enum st_status s)
{
    b->plan->figure[f] = reg;
    b->plan->figure_status[f] = s;
}

static void write_optics(struct st_build *b, const struct drink *d)
{
    double n, half;
    const bool later = b->tape->sharp; /* the numbers of the day tell what is known */
    if (st_n_mixture(d->w, ST_T20, &n) < 0 && !later)
        return;
    if (st_n_mixture_band(d->w, ST_T20, &half) < 0)
        half = 0.0;
    const int idx = st_mul(b->tape, st_index(b->tape, d->g),
                           rule_error(b, n, half, "the rule for the refraction of mixtures", "rule.refraction"));
    double brix;
    set(b, ST_FIG_N, idx, d->optical);
    if (later || st_brix_from_n(n, &brix) >= 0)
        set(b, ST_FIG_BRIX, st_brix(b->tape, idx), d->optical);
}

static void write_concentrations(struct st_build *b, const struct drink *d)
{
    struct st_tape *t = b->tape;
    const enum st_status s = d->volumetric;
    double rho_ethanol = 0.0;
    (void)st_spirit_density(100.0, &rho_ethanol);

    const int q = st_scaled_by(t, per_litre(b, d, d->g[ST_ETHANOL]), 100.0 / rho_ethanol);
    set(b, ST_FIG_STRENGTH, d->w[ST_ETHANOL] > 0.9 ? st_min(t, q, st_tape_constant(t, 100.0)) : q, s);
    set(b, ST_FIG_SUGAR, per_litre(b, d, sugars_g(b, d)), s);
    set(b, ST_FIG_SUGAR_INVERT, per_litre(b, d, invert_g(b, d)), s);
    set(b, ST_FIG_EXTRACT, per_litre(b, d, extract_g(b, d)), s);
    set(b, ST_FIG_ACID, per_litre(b, d, d->g[ST_ACID]), s);
    set(b, ST_FIG_FAT, per_litre(b, d, d->g[ST_FAT]), s);
    set(b, ST_FIG_ENERGY_KJ, energy(b, d, false), s);
    set(b, ST_FIG_ENERGY_KCAL, energy(b, d, true), s);
    b->plan->acid_share = st_ratio(t, d->g[ST_ACID], d->mass);
    if (t->sharp || d->w[ST_ACID] > ST_ACID_TOLD)
        set(b, ST_FIG_SUGAR_ACID, st_ratio(t, sugars_g(b, d), d->g[ST_ACID]), d->made_of);
    for (int m = 0; m < b->plan->n_marker; m++)
        b->plan->marker_reg[m] = per_litre(b, d, d->g[ST_SLOT_MARKER + m]);
}

static void write_whole(struct st_build *b, const struct drink *d, const struct st_step *last)
{
    struct st_tape *t = b->tape;
    const int volume = st_ratio(t, st_scaled_by(t, d->mass, 1000.0), d->rho);
    double rho_water = 0.0;
    (void)st_density_water(ST_T20, &rho_water);

    set(b, ST_FIG_MASS, d->mass, d->made_of);
    set(b, ST_FIG_ETHANOL, d->g[ST_ETHANOL], d->made_of);
    set(b, ST_FIG_VOLUME, volume, d->volumetric);
    set(b, ST_FIG_DENSITY, d->rho, d->volumetric);
    set(b, ST_FIG_SG, st_scaled_by(t, d->rho, 1.0 / rho_water), d->volumetric);
    if (last->bottle_ml > 0.0) {
        const int bottles = st_scaled_by(t, volume, 1.0 / last->bottle_ml);
        set(b, ST_FIG_BOTTLES, bottles, d->volumetric);
        if (last->bottles > 0 && st_now(b, bottles) < last->bottles)
            st_build_note(b, ST_NOTE_BOTTLES_SHORT, st_now(b, bottles), last->bottles);
    }
    if (b->cost_known)
        set(b, ST_FIG_COST, b->cost, ST_OK);
}

void st_figures_write(struct st_build *b, const struct st_step *last, const struct st_stream *drink)
{
    struct st_tape *t = b->tape;
    struct drink d = { .g = drink->liquid, .made_of = b->made_of };
    double g[ST_NCOMP], rho, n, half = 0.0;

    for (int f = 0; f < ST_NFIG; f++)
        set(b, (enum st_figure)f, -1, ST_E_REFUSED);
    for (int c = 0; c < ST_NCOMP; c++)
        b->plan->final[c] = drink->liquid[c];
    st_nominal_of(t, drink->liquid, g);
    (void)st_mixture_from_masses(g, d.w);
    d.volumetric = st_status_worse(d.made_of, st_density_mixture(d.w, ST_T20, &rho));
    d.optical = st_status_worse(d.made_of, st_n_mixture(d.w, ST_T20, &n));
    (void)st_density_mixture_band(d.w, ST_T20, &half);

    d.mass = st_mass_of(t, drink->liquid);
    d.rho = st_mul(t, st_density(t, drink->liquid),
                   rule_error(b, rho, half, "the rule for the density of mixtures", "rule.density"));
    d.per_litre = st_ratio(t, d.rho, d.mass); /* 1000 mL/L over mL: rho/mass with kg/m3 = g/L */
    write_concentrations(b, &d);
    write_whole(b, &d, last);
    write_optics(b, &d);
}
