#include "api/book_batch_lost.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_rest.h"
#include "util/memory.h"

static const double VOLUME_U = 0.01; /* common practice, no source */
static const double MOST = 0.98;     /* of what the step gives, as of a drink; our own choice */
static const double SURE = 0.9;      /* where more is lost, what fruit keeps decides how much is left; our own choice */

/* The step of a loss that goes into the recipe; -1. */
static int step_of(const struct st_recipe *r, const struct book_loss *l)
{
    static const char *const TAKEN[] = { "spilt", "tasted", "drawn", "thrown", "other" };
    bool taken = false;
    for (size_t i = 0; i < sizeof TAKEN / sizeof *TAKEN; i++)
        taken = taken || strcmp(l->why, TAKEN[i]) == 0;
    if (!taken || !*l->step || st_batch_of_drink(r, l->step))
        return -1;
    for (int i = 0; i < r->n_step; i++)
        if (strcmp(r->step[i].id, l->step) == 0 && r->step[i].kind != ST_DO_TOAST)
            return i;
    return -1;
}

static double ml_of(const struct book_loss *l, const struct st_balance *b)
{
    double g = 0.0;
    if (isfinite(l->volume_ml))
        return l->volume_ml;
    for (int c = 0; c < ST_NCOMP; c++)
        g += b->mass_g[c];
    return g > 0.0 ? l->mass_g * b->volume_ml / g : (double)NAN;
}

/* Told among the cautions each time: what follows is a guess. */
static void say(struct st_recipe_file *file, const char *note)
{
    struct st_recipe *r = &file->recipe;
    const char **all = st_arena_alloc(file->memory, ((size_t)r->n_unreckoned + 1) * sizeof *all);
    if (r->n_unreckoned > 0)
        memcpy(all, r->unreckoned, (size_t)r->n_unreckoned * sizeof *all);
    all[r->n_unreckoned++] = note;
    r->unreckoned = all;
}

static void say_nearly_all(struct st_recipe_file *file, int step, double of_ml)
{
    say(file, st_arena_printf(file->memory,
                              "nearly all of \"%.40s\" was lost, or more than was in it by the recipe (%.3g mL): a "
                              "fiftieth of it at least counts as left, and no figure is sure; read a volume",
                              file->recipe.step[step].id, of_ml));
}

/* mL of each step, never more than all but a fiftieth; false: it gives no figures. */
static bool add_up(struct st_recipe_file *file, const struct book_loss l[], int n, double ml[])
{
    const struct st_recipe *r = &file->recipe;
    struct st_problem p = { .what = "" };
    struct st_plan *plan = st_plan_create(r, &p);
    struct st_balance *b = x_calloc((size_t)r->n_step + 1, sizeof *b);
    const bool good = plan && st_plan_balance(plan, NULL, b) >= 0;
    for (int i = 0; good && i < n; i++) {
        const int at = step_of(r, &l[i]);
        if (at >= 0)
            ml[at] += ml_of(&l[i], &b[at]);
    }
    for (int i = 0; good && i < r->n_step; i++) {
        if (ml[i] > SURE * b[i].volume_ml)
            say_nearly_all(file, i, b[i].volume_ml);
        ml[i] = fmin(ml[i], MOST * b[i].volume_ml);
    }
    free(b);
    st_plan_free(plan);
    return good;
}

static void put(struct st_range *of, double ml)
{
    const double half = 1.96 * VOLUME_U * ml;
    const struct st_range had = *of;
    *of =
        (struct st_range){ .known = true, .value = ml, .low = ml - half, .high = ml + half, .mark = 'u', .source = "" };
    if (!had.known)
        return;
    of->value += had.value;
    of->low += had.low;
    of->high += had.high;
}

/* Into the recipe; where it gives no drink then, out again. */
static bool put_all(struct st_recipe *r, const double ml[])
{
    struct st_problem p = { .what = "" };
    struct st_range *had = x_calloc((size_t)r->n_step + 1, sizeof *had);
    for (int i = 0; i < r->n_step; i++) {
        had[i] = r->step[i].loss_ml;
        if (ml[i] > 0.0)
            put(&r->step[i].loss_ml, ml[i]);
    }
    struct st_plan *plan = st_plan_create(r, &p);
    for (int i = 0; !plan && i < r->n_step; i++)
        r->step[i].loss_ml = had[i];
    const bool good = plan != NULL;
    st_plan_free(plan);
    free(had);
    return good;
}

/* With a->until those that were lost by then. */
static enum book_status until(const struct st_batch_ask *a, struct book_loss l[], int *n)
{
    enum book_status s = BOOK_OK;
    int m = 0;
    for (int i = 0; a->until && i < *n && s == BOOK_OK; i++) {
        const struct st_batch_moment x = {
            .table = BOOK_LOSS, .id = l[i].id, .day = l[i].on_day, .drawn = strcmp(l[i].why, "drawn") == 0
        };
        bool later = false;
        s = x.day ? st_batch_later(a, &x, a->until, &later) : BOOK_OK;
        if (!later)
            l[m++] = l[i];
    }
    *n = a->until ? m : *n;
    return s;
}

enum book_status st_batch_put_lost(const struct st_batch_ask *a, const struct book_batch *batch,
                                   struct st_recipe_file *file, bool *any)
{
    struct st_recipe *r = &file->recipe;
    struct book_loss *l;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_LOSS, &of, a->arena, &l, &n);
    bool some = false;
    *any = false;
    if (s == BOOK_OK)
        s = until(a, l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        some = some || step_of(r, &l[i]) >= 0;
    if (!some)
        return s;
    double *ml = x_calloc((size_t)r->n_step + 1, sizeof *ml);
    *any = add_up(file, l, n, ml) && put_all(r, ml);
    if (!*any)
        say(file, "what was lost of a jar cannot be reckoned in this recipe: figures, limits and label are of all that "
                  "was in "
                  "it, and what is left may hold more; read a volume");
    free(ml);
    return s;
}

void st_batch_lost_out(const struct st_recipe *r, struct st_batch_past *past)
{
    int n = 0;
    for (int i = 0; i < past->n_loss; i++)
        if (step_of(r, &past->loss[i]) < 0)
            past->loss[n++] = past->loss[i];
    past->n_loss = n;
}
