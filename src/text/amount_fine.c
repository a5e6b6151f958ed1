#include "amount_fine.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "quantity.h"

/* x to digits behind the point, no trailing noughts. */
static void put(char *buf, size_t size, double x, int digits, const char *unit)
{
    char text[64];
    (void)snprintf(text, sizeof text, "%.*f", digits, x);
    if (strchr(text, '.')) {
        size_t n = strlen(text);
        while (text[n - 1] == '0')
            text[--n] = '\0';
        if (text[n - 1] == '.')
            text[--n] = '\0';
    }
    (void)snprintf(buf, size, "%s%s%s", text, *unit ? " " : "", unit);
}

static int digits_for(double step)
{
    int d = 0;
    while (step < 0.999 && d < 5) {
        step *= 10.0;
        d++;
    }
    return d;
}

static double fine_step(double base)
{
    return base >= 20.0 ? 1.0 : base >= 2.0 ? 0.1 : 0.01;
}

static bool is_kitchen(enum st_tool tool)
{
    return tool == ST_TOOL_CUP || tool == ST_TOOL_TABLESPOON || tool == ST_TOOL_TEASPOON;
}

void st_amount_fine(const struct st_amount *as, double value, enum st_measures measures, char *buf, size_t size)
{
    const struct st_unit *u = as->unit;
    if (as->dim == ST_DIM_PIECE && (!u || u->factor == 1.0)) {
        put(buf, size, fmax(0.25 * round(4.0 * value), value > 0.0 ? 0.25 : 0.0), 2, "");
        return;
    }
    if (as->dim == ST_DIM_VOLUME && u && is_kitchen(u->tool)) {
        struct st_amount a = *as;
        a.value = a.low = a.high = value;
        a.written = u->factor > 0.0 ? value / u->factor : value;
        a.vague = a.heaped = a.scant = a.make_up_to = false;
        (void)st_quantity_print(&a, measures, buf, size);
        return;
    }
    const double factor = u && u->factor > 0.0 ? u->factor : 1.0;
    const char *name = u ? u->name : as->dim == ST_DIM_MASS ? "g" : as->dim == ST_DIM_VOLUME ? "mL" : "";
    put(buf, size, value / factor, digits_for(fine_step(value) / factor), name);
}
