#ifndef ST_MODEL_OIL_CONTENT_H
#define ST_MODEL_OIL_CONTENT_H

#include "compound.h"
#include "ingredient.h"

/* How much oil there is behind a marker that dissolves as oils do: what a weak liquid can hold of it is a share of that.
 */

enum st_oil_from {
    ST_OIL_FROM_NOWHERE, /* no oil at all (the sheet says 0), or the marker is no oil: nothing limits it */
    ST_OIL_FROM_MARKER,  /* the sheet gives the marker's own content */
    ST_OIL_FROM_SHARE,   /* the sheet gives the oil, a source the marker's share of it */
    ST_OIL_FROM_OIL,     /* the sheet gives the oil as a whole */
    ST_OIL_FROM_KIND     /* nobody gave it: a wide guess by kind, from memory */
};

struct st_oil_content {
    enum st_oil_from from;
    struct st_range mg_g;     /* of the marker; known: FROM_MARKER and FROM_SHARE alone, where mg/L may be told */
    struct st_range oil_mg_g; /* of the whole oil; the limit goes by this or by mg_g, whichever is more */
};

/* Given:
 *   in     the ingredient; NULL: made by hand, nothing is known of it but its kind
 *   kind   its kind now (fresh fruit may have been turned into frozen)
 *   what   the marker
 *   mg_g   what the sheet says of its content
 * Notes:
 *   1. The limit goes by the whole oil: of a mixture that parts from the liquid as droplets the liquid holds each part in
 *      proportion to its share of the droplets, so that the share of a part that dissolves is its solubility over the
 *      oil there is, whatever its own share (ideal mixture, as clearing.h takes it).  Where the marker's own content is
 *      given the oil counts for no less than that.
 *   2. Ranges hold 19 lots of 20 and are wide: distances of the logarithm (draw them so).
 * Source:
 *   oil: data/ingredients.sheet; limonene in oil of lemon peel [golukcu2024]; guesses by kind from memory. */
void st_oil_content_of(const struct st_ingredient *in, enum st_kind kind, const struct st_compound *what,
                       struct st_range mg_g, struct st_oil_content *out);

#endif
