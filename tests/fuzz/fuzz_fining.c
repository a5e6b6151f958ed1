/* Any bytes as the sheet of finings: read, or refused with a line and a reason; then each row is planned and told. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/clearing_words.h"
#include "text/fining.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void use(const struct st_agents *all, const struct st_agent *a)
{
    const struct st_interval batch = { 1000.0, 900.0, 1100.0, ST_OK, true };
    struct st_bench bench;
    struct st_interval loss;
    char text[ST_CLEARING_TEXT];
    if (st_bench_plan(a, 100.0, 1.0, &batch, &bench) >= 0 &&
        !(bench.glass[4].dose >= bench.glass[3].dose && bench.left_ml.low > 0.0))
        abort();
    st_agent_loss(a, &batch, 1.0, &loss);
    st_dose_words(text, sizeof text, a);
    st_dose_trust_words(text, sizeof text, a, 30.0);
    st_agent_label_words(text, sizeof text, a);
    if (!st_agent_find(all, a->key))
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_problem p = { 0 };
    char *text = malloc(size + 1);
    if (!text)
        return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    struct st_agents *all = st_fining_create(text, size, &p);
    if (!all && (!*p.what || !*p.why || !*p.try_))
        abort();
    for (int i = 0; all && i < all->n; i++)
        use(all, &all->row[i]);
    st_fining_free(all);
    free(text);
    return 0;
}
