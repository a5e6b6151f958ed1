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

/* ",5": the figure begins with it. */
static bool leads(const char *text, size_t size, size_t i, char mark)
{
    return text[i] == mark && is_digit(text, size, i + 1) && (i == 0 || text[i - 1] == ' ');
}

static bool has_decimal(const char *text, size_t size, char mark)
{
    size_t whole, rest;
    for (size_t i = 0; i < size; i++)
        if (leads(text, size, i, mark) || (begins(text, size, i) && two_groups(text, size, i, mark, &whole, &rest) &&
                                           (rest != 3 || whole > 3 || text[i] == '0')))
            return true;
    return false;
}

void st_marks_see(struct st_marks *m, const char *text, size_t size)
{
    m->comma = m->comma || has_decimal(text, size, ',');
    m->point = m->point || has_decimal(text, size, '.');
}

/* A unit of which no kitchen measures a thousandth. */
static bool is_fine(const char *text, size_t size, size_t i)
{
    struct st_scan s = { text + i, text + size };
    return st_scan_word(&s, "g|gr|gram|grams|gramme|grammes|ml|cc|millilitre|millilitres|milliliter|milliliters");
}

static void ask(struct st_problem *p, const char *figure, int whole, bool comma)
{
    const char *rest = figure + whole + 1;
    const int n = rest[2] != '0' ? 3 : rest[1] != '0' ? 2 : rest[0] != '0' ? 1 : 0;

    (void)snprintf(p->what, sizeof p->what, "two ways to read '%.*s'", whole + 4, figure);
    if (comma) {
        (void)snprintf(p->why, sizeof p->why,
                       "a comma is the decimal sign elsewhere, so this point may part thousands (%.*s%.3s) or be a "
                       "decimal point",
                       whole, figure, rest);
        (void)snprintf(p->try_, sizeof p->try_, "write %.*s%.3s, or for the other %.*s,%.3s0", whole, figure, rest,
                       whole, figure, rest);
        return;
    }
    (void)snprintf(p->why, sizeof p->why, "the point may part thousands (%.*s%.3s), or be a decimal point (%.*s%s%.*s)",
                   whole, figure, rest, whole, figure, n ? "." : "", n, rest);
    (void)snprintf(p->try_, sizeof p->try_, "write %.*s%.3s, or %.*s%s%.*s", whole, figure, rest, whole, figure,
                   n ? "." : "", n, rest);
}

bool st_point_question(const char *text, size_t size, struct st_marks m, struct st_problem *problem)
{
    size_t whole, rest;
    for (size_t i = 0; i < size && (m.comma || !m.point); i++) {
        if (!begins(text, size, i) || !two_groups(text, size, i, '.', &whole, &rest) || rest != 3 || whole > 3 ||
            text[i] == '0')
            continue;
        const size_t end = i + whole + 1 + rest;
        if (!m.comma && !(is_fine(text, size, end) && (m.any || text[end - 1] == '0')))
            continue;
        *problem = (struct st_problem){ .at = { 0, (int)i + 1 }, .is_question = 1 };
        ask(problem, text + i, (int)whole, m.comma);
        return true;
    }
    return false;
}
