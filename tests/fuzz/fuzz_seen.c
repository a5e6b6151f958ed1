/* Any bytes as a file of readings: read, or refused with a reason; what was read is a moment and a value that can be.
 */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "text/seen_yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check(const struct st_observation *o)
{
    const struct st_seen_info *i = st_seen_info(o->what);
    demand(i && o->value >= i->low && o->value <= i->high);
    demand(o->t_s >= 0.0 && isfinite(o->t_s) && o->sd >= 0.0 && isfinite(o->sd));
    demand(isnan(o->temperature_K) || o->temperature_K > 0.0);
    demand(o->of && o->by && o->jar && o->batch && o->words);
    demand(st_seen_usual_sd(o->what, o->value) > 0.0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct st_seen_file out; /* large */
    if (st_seen_read("seen.yaml", (const char *)data, size, &out) == 0)
        for (int i = 0; i < out.n; i++)
            check(&out.seen[i]);
    else
        demand(out.file.n_problem > 0 && *out.file.problem[0].what && *out.file.problem[0].why);
    st_seen_done(&out);
    return 0;
}
