#include <string.h>

#include "line_draft.h"

/* Amounts by eye: a length of root, a bunch of herbs.  Grams of one, as middle, low and high: common practice, no
 * source.  A root is as thick as a thumb or as two; a bunch is what a hand holds, or what a shop ties. */
static const double ROOT_G_CM[3] = { 6, 2.5, 12 }, BUNCH_G[3] = { 30, 15, 60 };
static const double INCH_CM = 2.54;

static void weigh(struct st_draft *d, const double g[3], double times)
{
    struct st_amount *a = &d->amount;
    const double low = a->low, high = a->high;

    a->dim = ST_DIM_MASS;
    a->unit = NULL;
    a->tool = ST_TOOL_HAND;
    a->low = low * times * g[1];
    a->high = high * times * g[2];
    a->value *= times * g[0];
    a->fills = 1.0;
    a->vague = true;
}

/* "cm piece of", "inch knob": 1 and the name follows at s. */
static bool skip_length(struct st_scan *s, double *cm)
{
    struct st_scan a = *s;

    *cm = 1.0;
    if (!st_scan_word(&a, "cm|cms|centimetre|centimetres|centimeter|centimeters")) {
        *cm = INCH_CM;
        if (!st_scan_word(&a, "inch|inches") && !st_scan_sign(&a, "\"") && !st_scan_sign(&a, "\xe2\x80\xb3"))
            return false;
    }
    (void)st_scan_word(&a, "long");
    (void)st_scan_word(&a, "piece|pieces|knob|knobs|length|lengths|stick|sticks|thumb|lump|chunk|root|bit|stub");
    (void)st_scan_word(&a, "of the|of");
    st_scan_blanks(&a);
    *s = a;
    return true;
}

int st_draft_rough(struct st_draft *d, const struct st_catalogue *c, const char *name, size_t n)
{
    struct st_scan s = { name, name + n };
    const bool counted = d->amount.dim == ST_DIM_PIECE && !d->amount.unit;
    double cm;

    if (!counted)
        return 0;
    if (skip_length(&s, &cm)) {
        const struct st_ingredient *in = st_catalogue_find(c, s.at, (size_t)(s.end - s.at));
        if (!in)
            return 0;
        if (in->kind != ST_KIND_ROOT_FRESH)
            return st_draft_stop(d, d->name_at, "only of fresh roots a length says how much it is",
                                 "give its weight, or count its pieces", "no weight is known for a length of %.60s",
                                 in->name);
        d->what = in;
        weigh(d, ROOT_G_CM, cm);
        return 1;
    }
    if (!st_scan_word(&s, "bunches|bunch|bundles|bundle"))
        return 0;
    (void)st_scan_word(&s, "of the|of");
    st_scan_blanks(&s);
    const struct st_ingredient *in = st_catalogue_find(c, s.at, (size_t)(s.end - s.at));
    if (!in || in->kind != ST_KIND_HERB_FRESH)
        return 0;
    d->what = in;
    weigh(d, BUNCH_G, 1.0);
    return 1;
}
