#include "point.h"

#include <stdio.h>

#include "scan.h"

static bool is_digit(const char *text, size_t size, size_t i)
{
    return i < size && st_is_digit((unsigned char)text[i]);
}

static size_t digits(const char *text, size_t size, size_t i)
{
    size_t n = 0;
    while (is_digit(text, size, i + n))
        n++;
    return n;
}

/* A number begins here: no digit, point or comma belongs to it before. */
static bool begins(const char *text, size_t size, size_t i)
{
    if (!is_digit(text, size, i))
        return false;
    if (i == 0)
        return true;
    const bool mark = text[i - 1] == '.' || text[i - 1] == ',';
    return !is_digit(text, size, i - 1) && !(mark && i > 1 && is_digit(text, size, i - 2));
}

/* digits MARK digits, and nothing more of a number: the lengths of both. */
static bool two_groups(const char *text, size_t size, size_t i, char mark, size_t *whole, size_t *rest)
{
    *whole = digits(text, size, i);
    const size_t at = i + *whole;
    if (at >= size || text[at] != mark)
        return false;
    *rest = digits(text, size, at + 1);
    const size_t end = at + 1 + *rest;
    const bool more = end < size && (text[end] == '.' || text[end] == ',') && is_digit(text, size, end + 1);
    return *rest > 0 && !more;
}

bool st_has_decimal_comma(const char *text, size_t size)
{
    size_t whole, rest;
    for (size_t i = 0; i < size; i++)
        if (begins(text, size, i) && two_groups(text, size, i, ',', &whole, &rest) &&
            (rest != 3 || whole > 3 || text[i] == '0'))
            return true;
    return false;
}

bool st_point_question(const char *text, size_t size, struct st_problem *problem)
{
    size_t whole, rest;
    for (size_t i = 0; i < size; i++) {
        if (!begins(text, size, i) || !two_groups(text, size, i, '.', &whole, &rest) || rest != 3 || whole > 3 ||
            text[i] == '0')
            continue;
        const int n = (int)whole, k = (int)(whole + 4);
        *problem = (struct st_problem){ .at = { 0, (int)i + 1 }, .is_question = 1 };
        (void)snprintf(problem->what, sizeof problem->what, "two ways to read '%.*s'", k, text + i);
        (void)snprintf(problem->why, sizeof problem->why,
                       "a comma is the decimal sign elsewhere, so this point may part thousands (%.*s%.3s) or be a "
                       "decimal point",
                       n, text + i, text + i + whole + 1);
        (void)snprintf(problem->try_, sizeof problem->try_, "write %.*s%.3s, or for the other %.*s,%.3s0", n, text + i,
                       text + i + whole + 1, n, text + i, text + i + whole + 1);
        return true;
    }
    return false;
}
