#include "observation.h"

#include <math.h>
#include <stddef.h>

static const struct st_seen_info INFO[ST_NSEEN] = {
    [ST_SEEN_DRAINED_G] = { "drained_g", "weight of the drained solids", "g", 0.0, 1e6, false },
    [ST_SEEN_LIQUOR_ML] = { "liquor_ml", "volume strained off", "mL", 0.0, 1e6, false },
    [ST_SEEN_SG] = { "sg", "hydrometer", "20/20 °C", 0.75, 1.5, false },
    [ST_SEEN_BRIX] = { "brix", "hand refractometer", "°Bx", 0.0, 95.0, false },
    [ST_SEEN_STRENGTH] = { "strength_pct_vol", "strength", "% vol", 0.0, 100.0, false },
    [ST_SEEN_SUGAR] = { "sugar_g_l", "sugar", "g/L", 0.0, 1500.0, false },
    [ST_SEEN_ACID] = { "acid_g_l", "acid", "g/L", 0.0, 500.0, false },
    [ST_SEEN_PH] = { "ph", "pH", "", 0.0, 14.0, false },
    [ST_SEEN_COLOUR] = { "colour", "depth of colour", "", 0.0, 1e9, false },
    [ST_SEEN_TASTE] = { "taste", "too weak, right, too strong", "", -1.0, 1.0, true },
    [ST_SEEN_MARK] = { "mark", "mark from 0 to 10", "", 0.0, 10.0, true },
    [ST_SEEN_LIQUOR_G] = { "liquor_g", "weight of the liquid", "g", 0.0, 1e6, false },
    [ST_SEEN_FLASK_G] = { "flask_g", "weighed flask", "g", 1.0, 1e5, false },
    [ST_SEEN_SG_BOILED] = { "sg_boiled", "hydrometer after boiling off", "20/20 °C", 0.95, 1.5, false },
};

const struct st_seen_info *st_seen_info(enum st_seen s)
{
    return s >= 0 && s < ST_NSEEN ? &INFO[s] : NULL;
}

double st_seen_usual_sd(enum st_seen s, double value)
{
    switch (s) {
    case ST_SEEN_DRAINED_G:
    case ST_SEEN_LIQUOR_ML: return hypot(0.02 * value, 2.0);
    case ST_SEEN_SG: return 0.001;
    case ST_SEEN_BRIX: return 0.2;
    case ST_SEEN_STRENGTH: return 0.3;
    case ST_SEEN_SUGAR: return hypot(0.05 * value, 1.0);
    case ST_SEEN_ACID: return hypot(0.05 * value, 0.2);
    case ST_SEEN_PH: return 0.1;
    case ST_SEEN_COLOUR: return 0.15 * value;
    case ST_SEEN_TASTE: return 0.5;
    case ST_SEEN_MARK: return 1.0;
    case ST_SEEN_LIQUOR_G: return hypot(0.005 * value, 2.0);
    case ST_SEEN_FLASK_G: return hypot(0.002 * value, 0.03);
    case ST_SEEN_SG_BOILED: return hypot(0.001, 0.01 * (value - 1.0));
    case ST_NSEEN: break;
    }
    return (double)NAN;
}
