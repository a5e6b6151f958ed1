/* Any bytes as a kitchen file: read, or refused with a reason and left as it was; what was read can be measured with. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/kitchen_yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check(const struct st_kitchen *k)
{
    demand(k->n_jigger >= 0 && k->n_jigger <= ST_KITCHEN_SIZES && k->n_bottle >= 0 && k->n_bottle <= ST_KITCHEN_SIZES);
    for (int i = 0; i < k->n_jigger; i++)
        demand(k->jigger_ml[i] >= 5.0 && k->jigger_ml[i] <= 200.0);
    for (int i = 0; i < k->n_bottle; i++)
        demand(k->bottle_ml[i] >= 20.0 && k->bottle_ml[i] <= 5000.0);
    demand(k->jug_step_ml >= 1.0 && k->scale_step_g >= 0.01 && k->measures != ST_MEASURES_NONE);
    for (int i = 0; i < ST_NTOOL; i++)
        if (k->tools.given[i])
            demand(k->tools.of[i].scale >= 0.0 && k->tools.of[i].scale <= 0.5 && k->tools.of[i].source);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct st_recipe_file out; /* large */
    struct st_kitchen k, was;
    st_kitchen_usual(&k, ST_MEASURES_METRIC);
    memcpy(&was, &k, sizeof was);
    if (st_kitchen_read("kitchen.yaml", (const char *)data, size, &k, &out) == 0) {
        check(&k);
    } else {
        demand(out.n_problem > 0 && *out.problem[0].what && *out.problem[0].why);
        demand(memcmp(&was, &k, sizeof was) == 0);
    }
    st_recipe_done(&out);
    return 0;
}
