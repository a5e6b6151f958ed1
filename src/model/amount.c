#include "amount.h"

#include <math.h>

/* Half width of a rectangular error whose standard deviation is sd. */
static const double ROOT3 = 1.7320508075688772;

/* Tolerable negative error of a prepack, mL, [eu_76_211] annex I, from memory; a third of it is taken for the standard
 * deviation, so that one bottle in 1600 or fewer falls short by more. */
static double shortfall_ml(double size)
{
    if (size <= 50.0)
        return 0.09 * size;
    if (size <= 100.0)
        return 4.5;
    if (size <= 200.0)
        return 0.045 * size;
    if (size <= 300.0)
        return 9.0;
    if (size <= 500.0)
        return 0.03 * size;
    return size <= 1000.0 ? 15.0 : 0.015 * size;
}

/* Maximum error of a bottle that is itself a measure, mL: 10 at 500..1000 read in [eu_75_107], the rest, two thirds of
 * the prepack's, from memory. */
static double measure_bottle_ml(double size)
{
    return 2.0 / 3.0 * shortfall_ml(size);
}

/* Reading a graduated jug by eye, mL either side: from memory. */
static double jug_line_ml(double size)
{
    return size <= 50.0 ? 1.0 : size <= 250.0 ? 2.5 : size <= 1000.0 ? 5.0 : 10.0;
}

/* Class III with e = 1 g, in service: 1 g to 500 g, 2 g to 2 kg, 3 g beyond, as a share of the load; below 500 g the
 * share at 500 g, since there the reading carries the rest.  [eu_90_384] */
static double scale_share(double load)
{
    const double error = load <= 500.0 ? 1.0 : load <= 2000.0 ? 2.0 : 3.0;
    return error / fmax(load, 500.0);
}

static struct st_tolerance household(double scale, double fill, double step, const char *source)
{
    return (struct st_tolerance){ scale, fill, step, 'r', source };
}

struct st_tolerance st_tolerance_default(enum st_tool tool, double size)
{
    const double x = size > 0.0 && size < HUGE_VAL ? size : 1.0;

    switch (tool) {
    case ST_TOOL_CUP:
    case ST_TOOL_TABLESPOON:
    case ST_TOOL_TEASPOON: return household(0.05, 0.03, 0.0, "[ansi_z61_1] 5 % of capacity; 3 % a filling from memory");
    case ST_TOOL_JUG:
        return household(0.05, 0.0, jug_line_ml(x), "[ansi_z61_1] 5 % at every line; reading it from memory");
    case ST_TOOL_JIGGER: return (struct st_tolerance){ 0.05, 0.03, 0.0, 'm', "as a household spoon, from memory" };
    case ST_TOOL_SCALE:
        return household(scale_share(x), 0.0, 0.5, "[eu_90_384] class III in service, e = 1 g; digit of 1 g");
    case ST_TOOL_BOTTLE:
        return (struct st_tolerance){ 0.0, ROOT3 * shortfall_ml(x) / 3.0 / x, 0.0, 'm',
                                      "[eu_76_211] prepacks, a third of the tolerable error, from memory" };
    case ST_TOOL_VESSEL:
        return household(measure_bottle_ml(x) / x, 0.0, 0.0, "[eu_75_107] measuring bottles; other sizes from memory");
    case ST_TOOL_DROPPER:
        return (struct st_tolerance){ 0.0, 0.10, 0.0, 'm',
                                      "drop by drop, from memory; the size of a drop is in its unit" };
    case ST_TOOL_COUNT_PIECES: return (struct st_tolerance){ 0.0, 0.0, 0.0, 'p', "counting" };
    case ST_TOOL_HAND: return (struct st_tolerance){ 0.0, 0.0, 0.0, 'p', "the unit has its own range" };
    case ST_TOOL_NONE:
    case ST_NTOOL: break;
    }
    return (struct st_tolerance){ 0.0, 0.0, 0.0, 'p', "nothing measured" };
}

const char *st_tool_name(enum st_tool tool)
{
    static const char *const NAME[ST_NTOOL] = {
        [ST_TOOL_NONE] = "eye",
        [ST_TOOL_CUP] = "cup",
        [ST_TOOL_TABLESPOON] = "tablespoon",
        [ST_TOOL_TEASPOON] = "teaspoon",
        [ST_TOOL_JIGGER] = "jigger",
        [ST_TOOL_JUG] = "measuring jug",
        [ST_TOOL_SCALE] = "kitchen scale",
        [ST_TOOL_BOTTLE] = "bottle as sold",
        [ST_TOOL_DROPPER] = "dropper",
        [ST_TOOL_COUNT_PIECES] = "count",
        [ST_TOOL_HAND] = "hand",
        [ST_TOOL_VESSEL] = "vessel",
    };
    return (int)tool >= 0 && tool < ST_NTOOL ? NAME[tool] : "tool";
}
