/* Any bytes as the table of habits and as that of markers: read, or refused with a place and a reason; what was read is
 * looked up. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/compounds.h"
#include "text/cut_words.h"
#include "text/habits.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char *const REF[] = {
    "sucrose", "cyanidin_3_glucoside", "tannic_acid", "naringin", "vanillin", "caffeine"
};
enum { N_REF = sizeof REF / sizeof REF[0] };

static void use(const struct st_habits *h)
{
    for (int k = 0; k < ST_NKIND; k++)
        for (int of = 0; of < ST_NOF; of++) {
            struct st_habit one;
            const struct st_habit_row *row[ST_NOF];
            if (st_habit_find(h, "nutmeg", (enum st_kind)k, ST_CUT_CRUSHED, (enum st_of)of, &one) >= 0 &&
                !(one.d.value > 0.0 && one.a_m.value > 0.0 && one.w > 0.0 && one.w < 1.0 && one.biot.value > 0.0))
                abort();
            (void)st_habit_late(h, "nutmeg", (enum st_kind)k, ST_CUT_ZEST, row, ST_NOF);
        }
}

static void check(const void *made, const struct st_problem *p)
{
    if (!made && (!*p->what || !*p->why || !*p->try_))
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_compound row[N_REF];
    struct st_problem p = { 0 };
    enum st_cut cut;
    char *text = malloc(size ? size : 1);
    if (!text)
        return 0;
    if (size)
        memcpy(text, data, size);
    memset(row, 0, sizeof row);
    for (int i = 0; i < N_REF; i++)
        row[i] = (struct st_compound){ .name = REF[i], .other_names = "", .family = "", .d_water = 5e-10 };
    const struct st_compounds known = { row, N_REF };
    struct st_habits *h = st_habits_create(text, size, &known, &p);
    check(h, &p);
    if (h)
        use(h);
    struct st_compounds *c = st_compounds_create(text, size, &p);
    check(c, &p);
    if (c && c->n > 0 && st_compound_find(c, c->row[0].name) != &c->row[0])
        abort();
    (void)st_cut_of_word(text, size, &cut);
    st_habits_free(h);
    st_compounds_free(c);
    free(text);
    return 0;
}
