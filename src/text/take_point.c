#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "point.h"
#include "take_inside.h"

/* "1.000 g sugar" in a pasted text: a thousand, or one.  One of them is taken, it is told, and the other is offered. */

/* The bytes of "1000 g" in "1000 g sugar"; 0 where the amount does not stand first. */
static size_t amount_size(const char *as)
{
    char *end;
    const double x = strtod(as, &end);
    if (end == as || !(x > 0.0) || *end != ' ')
        return 0;
    const size_t unit = strcspn(end + 1, " ");
    return end[1 + unit] == ' ' ? (size_t)(end - as) + 1 + unit : 0;
}

static void offer(struct st_take_ask *ask, double x, const char *unit, int n_unit, const char *rest)
{
    const int k = ask->n_option++;
    (void)snprintf(ask->option[k].label, sizeof ask->option[k].label, "%.10g %.*s", x, n_unit, unit);
    (void)snprintf(ask->option[k].as, sizeof ask->option[k].as, "%.10g %.*s%.180s", x, n_unit, unit, rest);
}

/* Written so that the recipe made of it is not asked about again. */
static void say_plainly(struct st_take_item *item, double x, size_t n_number)
{
    char as[ST_TAKE_TEXT];
    (void)snprintf(as, sizeof as, "%.10g%.220s", x, item->as + n_number);
    (void)snprintf(item->as, sizeof item->as, "%s", as);
}

void st_item_points(struct st_take_item *item, const char *text, size_t n)
{
    struct st_marks marks = { .any = true };
    struct st_problem p;

    if (item->role != ST_TAKE_INGREDIENT || item->sure == ST_UNREAD || item->at + item->n > n)
        return;
    st_marks_see(&marks, text, n);
    if (!st_point_question(text + item->at, item->n, marks, &p))
        return;
    if (amount_size(item->as) == 0)
        return;
    const double x = strtod(item->as, NULL), other = x < 1000.0 ? x * 1000.0 : x / 1000.0;
    say_plainly(item, x, strcspn(item->as, " "));
    const size_t size = amount_size(item->as);
    const char *unit = strchr(item->as, ' ') + 1;
    const int n_unit = (int)(item->as + size - unit);
    st_item_doubt(item, ST_GUESS, "the point may part thousands, or be a decimal sign: %.10g %.*s is taken", x, n_unit,
                  unit);
    struct st_take_ask *ask = st_item_ask(item, ST_ASK_AMOUNT, "");
    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "Is it %.10g or %.10g %.*s of %.60s?", x, other, n_unit, unit,
                   item->as + size + 1);
    offer(ask, x, unit, n_unit, item->as + size);
    offer(ask, other, unit, n_unit, item->as + size);
    (void)snprintf(ask->with, sizeof ask->with, "%%s%.180s", item->as + size);
}
