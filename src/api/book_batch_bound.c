#include "api/book_batch_bound.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "text/figure_words.h"

static const double MORE = 1.1;       /* times what went in */
static const double LIGHTEST = 0.789; /* g/mL: ethanol at 20 C [oiml1975] */

double st_batch_strongest(const struct st_recipe *r)
{
    double most = 0.0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            const struct st_range *q = l->strength.known || !l->what ? &l->strength : &l->what->strength;
            if (q->known)
                most = fmax(most, q->high);
        }
    return most > 0.0 ? most : (double)NAN;
}

double st_batch_in_g(const struct st_batch_made *made, const char *step)
{
    double most = (double)NAN;
    if (!made->whole || !made->told)
        return most;
    const struct st_recipe *r = &made->file.recipe;
    for (int i = 0; i < made->out.n_balance; i++) {
        const struct st_balance *x = &made->out.balance[i];
        double in = 0.0;
        for (int k = 0; k < ST_NCOMP; k++)
            in += x->in_g[k];
        if (*step && x->step < r->n_step && strcasecmp(r->step[x->step].id, step) == 0)
            return in;
        most = fmax(most, in); /* of NAN and a figure the figure */
    }
    return most;
}

static bool too_heavy(const struct st_batch_made *made, const char *step, double g, const char *what,
                      struct st_problem *problem)
{
    char in[40];
    const double most = st_batch_in_g(made, step);
    if (!(g > MORE * most))
        return false;
    st_grams_words(in, sizeof in, most);
    char why[120];
    (void)snprintf(why, sizeof why, "all that went in weighs %s", in);
    st_batch_refuse(problem, why, "look at the figure and its unit, or weigh in what is missing", "%.100s", what);
    return true;
}

static bool can_be(const struct st_batch_made *made, const char *step, const struct book_reading *r,
                   struct st_problem *problem)
{
    static const char *const GRAMS[] = { "drained_g", "liquor_g" };
    char what[120];
    st_batch_reading_words(what, sizeof what, r);
    for (size_t i = 0; i < sizeof GRAMS / sizeof *GRAMS; i++)
        if (strcmp(r->kind, GRAMS[i]) == 0 && too_heavy(made, step, r->value, what, problem))
            return false;
    if (strcmp(r->kind, "liquor_ml") == 0 && too_heavy(made, step, LIGHTEST * r->value, what, problem))
        return false;
    if (strcmp(r->kind, st_seen_info(ST_SEEN_STRENGTH)->key) != 0 ||
        !(r->value > st_batch_strongest(&made->file.recipe)))
        return true;
    st_batch_refuse(problem, "nothing that went into it is so strong",
                    "look at the reading, or weigh in what is missing", "%.100s", what);
    return false;
}

bool st_batch_can_be(const struct st_batch_made *made, const char *step, const struct book_reading r[], int n,
                     struct st_problem *problem)
{
    for (int i = 0; i < n && made->whole && made->told; i++)
        if (!can_be(made, step, &r[i], problem))
            return false;
    return true;
}

bool st_batch_can_be_drained(const struct st_batch_made *made, const char *step, double g, struct st_problem *problem)
{
    char kept[40], what[80];
    st_grams_words(kept, sizeof kept, g);
    (void)snprintf(what, sizeof what, "%s of drained fruit", kept);
    return !too_heavy(made, step, g, what, problem);
}
