/* Any bytes as the sheet of shop packs: read, or refused with a line and a reason; then a list is made by it. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/shopping.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static struct st_ingredient thing(const char *slug, enum st_kind kind)
{
    const struct st_range g = { 50.0, 40.0, 60.0, true, 'u', "" };
    return (struct st_ingredient){ .slug = slug,
                                   .name = slug,
                                   .names = slug,
                                   .kind = kind,
                                   .piece = g,
                                   .edible = { 0.6, 0.5, 0.7, true, 'u', "" },
                                   .strength = { 40.0, 40.0, 40.0, true, 'u', "" },
                                   .piece_names = "",
                                   .like = "",
                                   .botanical = "" };
}

static void use(const struct st_packs *packs, bool us)
{
    const struct st_ingredient of[] = { thing("quince", ST_KIND_FRESH_FRUIT),
                                        thing("sugar", ST_KIND_SUGAR),
                                        thing("vodka", ST_KIND_SPIRIT),
                                        thing("lemon_juice", ST_KIND_JUICE),
                                        thing("lemon_peel_fresh", ST_KIND_PEEL_FRESH),
                                        thing("egg_whole", ST_KIND_EGG) };
    enum { N = sizeof of / sizeof *of };
    struct st_line line[N];
    struct st_step step = { .id = "jar", .words = "", .line = line, .n_line = N };
    const struct st_recipe r = { .step = &step, .n_step = 1, .title = "", .currency = "" };
    struct st_reach x;
    struct st_shopping list;
    for (int i = 0; i < N; i++)
        line[i] = (struct st_line){
            .text = of[i].name,
            .what = &of[i],
            .from_step = -1,
            .price = (double)NAN,
            .amount = { .dim = (enum st_dimension)(i % 3), .value = 123.0, .low = 123.0, .high = 123.0, .fills = 1.0 }
        };
    if (!st_reach_find(&r, NULL, NULL, 0, 0, &x))
        return;
    st_shopping_make(&r, &x, packs, us, &list);
    for (int i = 0; i < list.n; i++)
        if (!*list.item[i].text || (list.item[i].n_buy > 0 && list.item[i].bought < list.item[i].needed.value * 0.999))
            abort();
    st_shopping_done(&list);
    st_reach_done(&x);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_problem p = { 0 };
    struct st_packs *packs = st_packs_create((const char *)data, size, &p);
    if (!packs && (!*p.what || !*p.why || !*p.try_))
        abort();
    if (packs) {
        use(packs, false);
        use(packs, true);
    }
    st_packs_free(packs);
    return 0;
}
