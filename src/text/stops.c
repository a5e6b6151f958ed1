#include "stops.h"

#include <stdio.h>
#include <string.h>

#include "held.h"

bool st_stop_problem(const struct st_ingredient *in, struct st_problem *problem)
{
    const struct st_flag *worst = NULL;
    for (int i = 0; in && i < in->n_caution && !worst; i++)
        if (st_flag_stops(&in->caution[i]))
            worst = &in->caution[i];
    if (!worst)
        return false;
    const struct st_place at = problem->at;
    *problem = (struct st_problem){ .at = at };
    (void)snprintf(problem->what, sizeof problem->what, "STOP: %.80s must not go into a drink", in->name);
    (void)snprintf(problem->why, sizeof problem->why, "%.150s", worst->text ? worst->text : "it is barred");
    (void)snprintf(problem->try_, sizeof problem->try_, "%s",
                   strcmp(worst->what, "denatured") == 0
                       ? "leave it out; use a spirit sold for drinking, with its strength from the label"
                       : "leave it out");
    return true;
}

/* Names do not cross commas and "and": mint leaves and elder flowers are no elder leaves. */
static size_t clause_of(const char *text, size_t size)
{
    static const char *const WORD[] = { " and ", " or ", " with " };
    size_t n = 0;
    while (n < size && !strchr(",;()[]\n", text[n])) {
        for (size_t i = 0; i < sizeof WORD / sizeof *WORD; i++) {
            const size_t k = strlen(WORD[i]);
            if (n > 0 && size - n > k && strncmp(text + n, WORD[i], k) == 0 &&
                !(n >= 5 && strncmp(text + n - 5, "lords", 5) == 0))
                return n;
        }
        n++;
    }
    return n;
}

const struct st_ingredient *st_stop_named(const struct st_catalogue *c, const char *text, size_t size)
{
    for (size_t at = 0; at < size;) {
        const size_t n = clause_of(text + at, size - at);
        const struct st_ingredient *in = n ? st_held_stop(c, text + at, n) : NULL;
        if (in)
            return in;
        at += n + 1;
    }
    return NULL;
}

bool st_stop_in_text(const struct st_catalogue *c, const char *text, size_t size, struct st_problem *problem)
{
    return st_stop_problem(st_stop_named(c, text, size), problem);
}

/* ---- a recipe ---- */

const struct st_ingredient *st_recipe_stop(const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what && st_ingredient_is_stopped(r->step[s].line[i].what))
                return r->step[s].line[i].what;
    return NULL;
}

static bool is_stopped_at(const struct st_recipe *r, struct st_place at)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (l->what && l->at.line == at.line && at.line > 0 && st_ingredient_is_stopped(l->what))
                return true;
        }
    return false;
}

int st_stop_plan_problems(const struct st_recipe *r, struct st_problem problem[], int max)
{
    int n = st_plan_problems(r, problem, max), kept = 0, stops = 0;
    if (n == 0)
        return 0;
    for (int i = 0; i < n; i++)
        if (!is_stopped_at(r, problem[i].at))
            problem[kept++] = problem[i];
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            struct st_problem p = { .at = l->at };
            if (stops + 1 > max || !st_stop_problem(l->what, &p))
                continue;
            if (kept + stops == max)
                kept--;
            memmove(&problem[stops + 1], &problem[stops], (size_t)kept * sizeof *problem);
            problem[stops++] = p;
        }
    return kept + stops;
}
