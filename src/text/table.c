#include "table.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int st_table_problem(const struct st_table *t, struct st_problem *problem, const char *attempt, const char *why, ...)
{
    va_list more;
    *problem = (struct st_problem){ .at = { t->line, 1 } };
    (void)snprintf(problem->what, sizeof problem->what, "%s: a row that cannot be read", t->name);
    va_start(more, why);
    (void)vsnprintf(problem->why, sizeof problem->why, why, more);
    va_end(more);
    (void)snprintf(problem->try_, sizeof problem->try_, "%s", attempt);
    return -1;
}

/* The next line, remarks and empty ones passed over; NULL at the end, or with *failed. */
static char *next_line(struct st_table *t, struct st_problem *problem, bool *failed)
{
    while (*t->next) {
        char *line = t->next, *end = line + strcspn(line, "\n");
        t->line++;
        t->next = *end ? end + 1 : end;
        *end = '\0';
        if (end > line && end[-1] == '\r')
            *--end = '\0';
        *failed = end - line > ST_TABLE_LINE_LIMIT;
        for (const char *p = line; p < end && !*failed; p++)
            *failed = (unsigned char)*p < ' ' && *p != '\t';
        if (*failed) {
            (void)st_table_problem(t, problem, "write it anew as plain text",
                                   "the line is longer than %d bytes or holds a control character",
                                   ST_TABLE_LINE_LIMIT);
            return NULL;
        }
        if (*line && *line != '#')
            return line;
    }
    return NULL;
}

/* Cut at tabs; how many there were, more than ST_TABLE_COLUMNS counted as one more. */
static int cut(char *line, char *field[])
{
    int n = 0;
    for (char *at = line; at; n++) {
        char *tab = strchr(at, '\t');
        if (n == ST_TABLE_COLUMNS)
            return n + 1;
        if (tab)
            *tab = '\0';
        at += strspn(at, " ");
        for (char *end = at + strlen(at); end > at && end[-1] == ' ';)
            *--end = '\0';
        field[n] = at;
        at = tab ? tab + 1 : NULL;
    }
    return n;
}

static int find(const char *const column[], int n, const char *name)
{
    for (int i = 0; i < n; i++)
        if (strcmp(column[i], name) == 0)
            return i;
    return -1;
}

int st_table_open(struct st_table *t, const char *name, char *text, const char *const column[], int n,
                  struct st_problem *problem)
{
    bool failed = false, seen[ST_TABLE_COLUMNS] = { false };
    char *field[ST_TABLE_COLUMNS + 1];
    *t = (struct st_table){ .next = text, .name = name };
    char *line = next_line(t, problem, &failed);
    if (!line)
        return failed ? -1
                      : st_table_problem(t, problem, "begin with a line that names the columns", "it holds no row");
    t->n_column = cut(line, field);
    for (int i = 0; i < t->n_column && i < ST_TABLE_COLUMNS; i++) {
        t->known[i] = find(column, n, field[i]);
        if (t->known[i] < 0 || seen[t->known[i]])
            return st_table_problem(t, problem, "name each column once, as its page tells it",
                                    "the column `%.60s` is %s", field[i],
                                    t->known[i] < 0 ? "not known" : "there twice");
        seen[t->known[i]] = true;
    }
    for (int i = 0; i < n; i++)
        if (!seen[i])
            return st_table_problem(t, problem, "name each column once, as its page tells it",
                                    "the column `%s` is missing", column[i]);
    return 0;
}

int st_table_next(struct st_table *t, const char *out[], struct st_problem *problem)
{
    bool failed = false;
    char *field[ST_TABLE_COLUMNS + 1];
    char *line = next_line(t, problem, &failed);
    if (!line)
        return failed ? -1 : 0;
    const int n = cut(line, field);
    if (n != t->n_column)
        return st_table_problem(t, problem, "part fields by one tab, and leave the tab where a field is empty",
                                "it has %d fields, and there are %d columns", n, t->n_column);
    for (int i = 0; i < n; i++)
        out[t->known[i]] = field[i];
    return 1;
}

int st_table_number(const struct st_table *t, const char *field, const char *what, double least, double most,
                    double *out, struct st_problem *problem)
{
    char *end;
    const double x = strtod(field, &end);
    if (end == field || *end || !(x >= least && x <= most))
        return st_table_problem(t, problem, "write a plain number", "%s is `%.40s`, and not a number from %g to %g",
                                what, field, least, most);
    *out = x;
    return 0;
}
