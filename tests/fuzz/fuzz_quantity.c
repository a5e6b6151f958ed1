/* Any bytes as a quantity and as an ingredient line: read, asked about or refused; what was read is a possible amount,
 * and printed it reads as the same again.  The first byte chooses the measures. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/line.h"
#include "text/quantity.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A small larder: one of each sort that is treated in its own way. */
static const char SHEET[] =
    "ingredient damson\nname damson\nnames damsons\nkind fresh_fruit\nsugars 9 7..12 % m test\npiece 12 8..18 g m "
    "test\n\n"
    "ingredient lemon_juice\nname lemon juice\nkind juice\nsugars 2 1..3 % m test\npiece 48 31..72 g m test\n"
    "piece_names lemon | lemons\n\n"
    "ingredient lemon_peel\nname lemon peel\nkind peel_fresh\nsugars 4 3..5 % m test\npiece 12 4..20 g m test\n"
    "piece_names lemon | strip | strips\n\n"
    "ingredient honey\nname honey\nkind syrup\nsugars 80 78..82 % m test\n\n"
    "ingredient meths\nname denatured alcohol\nkind spirit\ncaution denatured high m [test] it is poisonous\n\n"
    "ingredient wine\nname red wine\nkind wine\nsugars 0 0..1 % m test\nstrength 13 11..15 %vol m test\n\n"
    "ingredient vodka\nname vodka\nnames spirit\nkind spirit\n\n"
    "ingredient sugar\nname sugar\nkind sugar\nsugars 100 100..100 % m test\n\n"
    "ingredient water\nname water\nnames hot water\nkind water\nwater 100 100..100 % m test\n";

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check_problem(const struct st_problem *p, int result, size_t size)
{
    demand(*p->what && *p->why && *p->try_);
    demand(p->is_question == (result > 0));
    demand(p->at.column >= 1 && (size_t)p->at.column <= size + 1);
}

static void check_amount(const struct st_amount *a)
{
    demand(isfinite(a->value) && isfinite(a->low) && isfinite(a->high) && isfinite(a->fills));
    demand((int)a->tool >= 0 && a->tool < ST_NTOOL);
    if (a->dim == ST_DIM_OPEN) {
        demand(a->open != ST_CLOSED);
        if (a->open == ST_OPEN_FILL)
            demand(a->fill_share > 0 && a->fill_share <= 1 && a->low <= a->fill_share && a->fill_share <= a->high);
        return;
    }
    demand(a->value >= 0 && a->low <= a->value && a->value <= a->high && a->low >= 0);
    demand(a->high <= (a->dim == ST_DIM_TIME ? 3.2e9 : 1e6));
}

/* What is printed reads as the same sort of amount, and as the same value within the step it is printed in. */
static void check_round_trip(const struct st_amount *a, enum st_measures m)
{
    char text[160];
    struct st_amount b;
    struct st_problem p;
    size_t used = 0;
    const size_t n = st_quantity_print(a, m, text, sizeof text);

    demand(n == strlen(text) && n > 0 && n + 1 < sizeof text);
    demand(st_quantity_parse(text, n, m, &b, &used, &p) == 0);
    demand(used == n && b.dim == a->dim && b.open == a->open && b.make_up_to == a->make_up_to);
    check_amount(&b);
    if (a->dim == ST_DIM_OPEN)
        return;
    const double by = a->dim == ST_DIM_STRENGTH ? 0.06
                      : a->dim == ST_DIM_TEMPERATURE
                          ? 0.06 + 0.01 * fmax(fabs(a->value - 273.15), fabs(a->value - 255.0))
                      : a->dim == ST_DIM_TIME ? 0.02 * a->value + 1e-3 * (a->unit ? a->unit->factor : 1.0)
                                              : 0.021 * a->value + 0.7 + 0.002 * (a->unit ? a->unit->factor : 1.0);
    demand(fabs(b.value - a->value) <= by);
}

static void try_quantity(const char *text, size_t size, enum st_measures m)
{
    struct st_amount a = { .dim = ST_DIM_OPEN };
    struct st_problem p = { 0 };
    size_t used = 0;
    const int result = st_quantity_parse(text, size, m, &a, &used, &p);

    demand(result >= -1 && result <= 1 && used <= size);
    if (result != 0) {
        check_problem(&p, result, size);
        return;
    }
    demand(used > 0);
    check_amount(&a);
    check_round_trip(&a, m);
}

static void try_line(const char *text, enum st_measures m)
{
    static struct st_catalogue *c;
    struct st_line line;
    struct st_problem p = { 0 };

    if (!c)
        c = st_catalogue_create(SHEET, sizeof SHEET - 1, &p);
    demand(c != NULL);
    const int result = st_line_parse(text, m, c, &line, &p);
    demand(result >= -1 && result <= 1);
    if (result != 0) {
        check_problem(&p, result, strlen(text));
        return;
    }
    demand(line.what && line.from_step == -1 && line.text == text && isnan(line.price));
    demand(strcmp(line.what->slug, "meths") != 0);
    demand(line.what->kind != ST_KIND_SPIRIT || line.strength.known);
    if (line.strength.known)
        demand(line.strength.low <= line.strength.value && line.strength.high <= 100);
    check_amount(&line.amount);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    const enum st_measures m = (enum st_measures)(data[0] % 4u);
    char *text = malloc(size); /* the last byte for NUL, so that the quantity ends where the memory does */
    demand(text != NULL);
    memcpy(text, data + 1, size - 1);
    text[size - 1] = '\0';
    try_line(text, m);
    char *exact = malloc(size > 1 ? size - 1 : 1);
    demand(exact != NULL);
    memcpy(exact, text, size - 1);
    try_quantity(exact, size - 1, m);
    free(exact);
    free(text);
    return 0;
}
