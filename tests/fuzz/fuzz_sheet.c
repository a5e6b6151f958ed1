/* Any bytes as a sheet of ingredients: read, or refused with a place and a reason; then every entry is used. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/ingredients.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void use(const struct st_catalogue *c, const struct st_ingredient *in)
{
    struct st_range part[ST_NCOMP];
    const struct st_ingredient *near[3];
    const char *why;

    if (st_ingredient_parts(in, part, &why) >= 0) {
        double sum = 0;
        for (int k = 0; k < ST_NCOMP; k++)
            sum += part[k].value;
        if (!(sum > 1 - 1e-9 && sum < 1 + 1e-9))
            abort();
    }
    (void)st_ingredient_retention(in);
    (void)st_ingredient_g_per_ml(in, 15);
    (void)st_catalogue_find(c, in->name, strlen(in->name));
    (void)st_catalogue_near(c, in->slug, strlen(in->slug), near, 3);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_problem p = { 0 };
    char *text = malloc(size ? size : 1);
    if (!text)
        return 0;
    if (size)
        memcpy(text, data, size);
    struct st_catalogue *c = st_catalogue_create(text, size, &p);
    if (!c && (!*p.what || !*p.why || !*p.try_))
        abort();
    for (size_t i = 0; c && i < st_catalogue_count(c) && i < 20; i++)
        use(c, st_catalogue_at(c, i));
    if (c && st_catalogue_count(c) > 0) /* the same bytes as a name */
        (void)st_catalogue_find(c, text, size);
    st_catalogue_free(c);
    free(text);
    return 0;
}
