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

static void ask_which(struct st_take_item *item, double x, double other)
{
    const size_t size = amount_size(item->as);
    const char *unit = strchr(item->as, ' ') + 1;
    const int n_unit = (int)(item->as + size - unit);
    struct st_take_ask *ask = st_item_ask(item, ST_ASK_AMOUNT, "");
    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "Is it %.10g or %.10g %.*s of %.60s?", x, other, n_unit, unit,
                   item->as + size + 1);
    offer(ask, x, unit, n_unit, item->as + size);
    offer(ask, other, unit, n_unit, item->as + size);
    (void)snprintf(ask->with, sizeof ask->with, "%%s%.180s", item->as + size);
}

/* "vodka ,5 L": where a thing stands before it, the comma parts or is a decimal sign.  Of litres and kilograms alone is a
 * part of one usual.  The value as a decimal, 0 when there is no such figure. */
static double comma_led(const struct st_take_item *item, const char *text, size_t n)
{
    for (size_t i = item->at > 0 ? item->at - 1 : 0; i + 2 < n && i < item->at + item->n; i++) {
        char copy[8] = "0.";
        struct st_scan s = { text + i + 1, text + n };
        size_t k = 2;
        if (text[i] != ',' || i == 0 || text[i - 1] != ' ')
            continue;
        while (s.at < s.end && k < 5 && st_is_digit((unsigned char)*s.at))
            copy[k++] = *s.at++;
        if (k > 2 && st_scan_word(&s, "l|liter|liters|litre|litres|kg|kilo|kilos|kilogram|kilograms"))
            return strtod(copy, NULL);
    }
    return 0.0;
}

static void ask_of_comma(struct st_take_item *item, const char *text, size_t n)
{
    const double other = comma_led(item, text, n);
    if (!(other > 0.0) || amount_size(item->as) == 0)
        return;
    const double x = strtod(item->as, NULL);
    if (x <= other || x >= 1000.0)
        return; /* read as a decimal already */
    st_item_doubt(item, ST_GUESS, "the comma may part two words, or be a decimal sign: %.10g is taken, not %.10g", x,
                  other);
    ask_which(item, x, other);
}

void st_item_points(struct st_take_item *item, const char *text, size_t n)
{
    struct st_marks marks = { .any = true };
    struct st_problem p;

    if (item->role != ST_TAKE_INGREDIENT || item->sure == ST_UNREAD || item->at + item->n > n)
        return;
    ask_of_comma(item, text, n);
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
    ask_which(item, x, other);
}
