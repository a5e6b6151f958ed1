/* Any bytes as what may be poured into a batch: read, with figures that a mixture can have, or refused with a reason.  What
 * is behind the first line is asked for as how much there is of it. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/correct_thing.h"
#include "util/embedded.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const struct st_catalogue *sheet(void)
{
    static struct st_catalogue *all;
    struct st_problem p;
    const struct st_embedded *e = st_embedded_find("data/ingredients.sheet");
    if (!all && e)
        all = st_catalogue_create((const char *)e->bytes, e->size, &p);
    if (!all)
        abort();
    return all;
}

static void check(const struct st_correct_thing *t)
{
    double mass = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (!(t->g[c] >= 0.0 && t->g[c] < 10.0) || !isfinite(t->wrong[0][c] + t->wrong[1][c] + t->wrong[2][c]))
            abort();
        mass += t->g[c];
    }
    if (!(mass > 0.0) || t->cost < 0.0 || !(t->have > 0.0))
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct st_correct_named named; /* large */
    struct st_problem p = { .what = "" };
    double units;
    char *text = malloc(size + 1);
    if (!text)
        return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    char *behind = strchr(text, '\n');
    if (behind)
        *behind++ = '\0';
    if (!st_correct_thing_read(text, sheet(), &named, &p)) {
        if (!*p.what || !*p.why)
            abort();
    } else {
        check(&named.thing);
        if (behind && st_correct_have_read(behind, &named.thing, 1, &units, &p) >= 0 &&
            !(units >= 0.0 && isfinite(units)))
            abort();
    }
    free(text);
    return 0;
}
