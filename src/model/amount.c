#include "model/amount.h"

/* Tolerable shortfall of a prepacked bottle of so many mL, [eu_76_211] annex I (from memory): no more than one pack in forty
 * may fall short by more, the mean is not below the nominal. */
static double prepack_shortfall(double ml)
{
    static const struct {
        double to, share, ml; /* the share of the content, or the figure in mL */
    } ROW[] = {
        { 50, 0.09, 0 }, { 100, 0, 4.5 }, { 200, 0.045, 0 }, { 300, 0, 9 }, { 500, 0.03, 0 }, { 1000, 0, 15 }, { 1e300, 0.015, 0 },
    };
    int i = 0;
    while (ml > ROW[i].to)
        i++;
    return ROW[i].share > 0.0 ? ROW[i].share * ml : ROW[i].ml;
}

/* A bottle as sold: standard deviation a third of the shortfall (5 mL at 700 mL), as the half width of an even spread. */
static struct st_tolerance bottle_tolerance(double ml)
{
    const double root3 = 1.7320508075688772;
    const double size = ml > 1.0 ? ml : 1.0;
    return (struct st_tolerance){ 0.0, prepack_shortfall(size) / (root3 * size), 0.0, 'm', "[eu_76_211]" };
}

/* scale: [ansi_z61_1], read: every graduation within 5 % of the designated capacity.  fill: from memory, one filling. */
static const struct st_tolerance CUP = { 0.05, 0.03, 0.0, 'r', "[ansi_z61_1]; one filling 3 %: from memory" };
static const struct st_tolerance SPOON = { 0.05, 0.05, 0.0, 'r', "[ansi_z61_1]; one filling 5 %: from memory" };
static const struct st_tolerance JUG = { 0.05, 0.01, 0.0, 'r', "[ansi_z61_1]; one reading 1 %: from memory" };
/* [eu_90_384], read: class III in service, 1 e to 500 e; e = 1 g gives 0.2 % at 500 g.  A kitchen scale is not verified. */
static const struct st_tolerance SCALE = { 0.002, 0.0, 0.5, 'r', "[eu_90_384]" };
static const struct st_tolerance JIGGER = { 0.05, 0.03, 0.0, 'm', "from memory" };
static const struct st_tolerance DROPPER = { 0.2, 0.05, 0.0, 'm', "from memory" };
static const struct st_tolerance VESSEL = { 0.02, 0.01, 0.0, 'm', "from memory" };
static const struct st_tolerance NOTHING = { 0.0, 0.0, 0.0, 'p', "common practice, no source" };

struct st_tolerance st_tolerance_default(enum st_tool tool, double size)
{
    switch (tool) {
    case ST_TOOL_CUP: return CUP;
    case ST_TOOL_TABLESPOON:
    case ST_TOOL_TEASPOON: return SPOON;
    case ST_TOOL_JUG: return JUG;
    case ST_TOOL_SCALE: return SCALE;
    case ST_TOOL_JIGGER: return JIGGER;
    case ST_TOOL_DROPPER: return DROPPER;
    case ST_TOOL_VESSEL: return VESSEL;
    case ST_TOOL_BOTTLE: return bottle_tolerance(size);
    case ST_TOOL_NONE:
    case ST_TOOL_COUNT_PIECES: /* counted exactly; the weight of a piece has its own range */
    case ST_TOOL_HAND:         /* the range of a handful is the unit's */
    case ST_NTOOL: break;
    }
    return NOTHING;
}

const char *st_tool_name(enum st_tool tool)
{
    switch (tool) {
    case ST_TOOL_CUP: return "cup";
    case ST_TOOL_TABLESPOON: return "tablespoon";
    case ST_TOOL_TEASPOON: return "teaspoon";
    case ST_TOOL_JIGGER: return "jigger";
    case ST_TOOL_JUG: return "measuring jug";
    case ST_TOOL_SCALE: return "kitchen scale";
    case ST_TOOL_BOTTLE: return "bottle as sold";
    case ST_TOOL_DROPPER: return "dropper";
    case ST_TOOL_COUNT_PIECES: return "counting";
    case ST_TOOL_HAND: return "hand";
    case ST_TOOL_VESSEL: return "jar";
    case ST_TOOL_NONE:
    case ST_NTOOL: break;
    }
    return "no tool";
}
