#include "house.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/random.h"
#include "text/calendar_day.h"
#include "util/embedded.h"
#include "util/memory.h"

void house_fail(const char *what, const char *why)
{
    fprintf(stderr, "small_house: %s: %s\n", what, why);
    exit(1);
}

void house_good(struct house *h, enum book_status s)
{
    if (s != BOOK_OK)
        house_fail(book_said(h->book)->what, book_said(h->book)->why);
}

/* ---- days ---- */

long house_day(const char *iso)
{
    long day = 0;
    if (!st_day_number(iso, &day))
        house_fail(iso, "it is no day");
    return day;
}

const char *house_iso(struct house *h, long day)
{
    char iso[11];
    st_day_write(day, iso);
    return st_arena_strdup(&h->arena, iso);
}

void house_new_day(struct house *h, long day)
{
    h->day = day;
    st_day_write(day, h->on);
    h->minute = 0;
}

/* ---- chance ---- */

double house_uniform(struct house *h, double low, double high)
{
    double u;
    st_uniform_n(20260606, 1, h->drawn++, 1, &u);
    return low + u * (high - low);
}

double house_normal(struct house *h, double sd)
{
    return sd * st_normal_from_uniform(house_uniform(h, 0.0, 1.0));
}

double house_round(double x, double step)
{
    /* divided by the inverse of a small step, so that what is written is the decimal itself */
    return step < 1.0 ? round(x / step) / round(1.0 / step) : round(x / step) * step;
}

/* ---- the book ---- */

const char *house_text(struct house *h, const char *format, ...)
{
    char text[2000];
    va_list ap;
    va_start(ap, format);
    vsnprintf(text, sizeof text, format, ap);
    va_end(ap);
    return st_arena_strdup(&h->arena, text);
}

void house_begin(struct house *h, const char *format, ...)
{
    char words[HOUSE_WORDS], at[60];
    va_list ap;

    va_start(ap, format);
    vsnprintf(words, sizeof words, format, ap);
    va_end(ap);
    h->minute += 1 + (int)house_uniform(h, 0.0, 9.0);
    snprintf(at, sizeof at, "%sT%02d:%02d", h->on, 8 + h->minute / 60 % 16, h->minute % 60);
    house_good(h, book_begin(h->book, at, words));
}

void house_end(struct house *h)
{
    house_good(h, book_end(h->book));
}

int64_t house_put(struct house *h, enum book_table t, const void *row)
{
    int64_t id = 0;
    house_good(h, book_put(h->book, t, row, &id));
    return id;
}

/* ---- what the program foresees ---- */

static struct st_catalogue *catalogue(void)
{
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = st_embedded_find("data/ingredients.sheet");
    struct st_catalogue *c = e ? st_catalogue_create((const char *)e->bytes, e->size, &p) : NULL;
    if (!c)
        house_fail("data/ingredients.sheet", p.what);
    return c;
}

void house_read(const char *text, struct house_read *r)
{
    struct st_problem p = { .what = "" };
    const struct st_options options = { .seed = 1, .draws = 4000 };

    r->catalogue = catalogue();
    if (st_recipe_read("recipe", text, strlen(text), r->catalogue, &r->file) != 0)
        house_fail(r->file.problem[0].what, r->file.problem[0].why);
    struct st_plan *plan = st_plan_create(&r->file.recipe, &p);
    if (!plan)
        house_fail(p.what, p.why);
    if (st_plan_run(plan, &options, &r->out) < 0)
        house_fail(r->file.recipe.title, "it gives no figures");
    st_plan_free(plan);
}

void house_make(const struct house_read *r, int k, struct house_made *made)
{
    struct st_problem p = { .what = "" };
    struct st_plan *plan = st_plan_create(&r->file.recipe, &p);

    if (!plan || r->file.recipe.n_step > HOUSE_STEPS)
        house_fail(r->file.recipe.title, plan ? "it has too many steps" : p.why);
    double *x = x_calloc((size_t)st_plan_n_inputs(plan) + 1, sizeof *x);
    st_plan_inputs(plan, 7, (size_t)k, 1, x);
    if (st_plan_evaluate(plan, 1, x, made->y) < 0 || st_plan_balance(plan, x, made->balance) < 0)
        house_fail(r->file.recipe.title, "this making gives no figures");
    free(x);
    st_plan_free(plan);
}

void house_read_done(struct house_read *r)
{
    st_foretold_done(&r->out);
    st_recipe_done(&r->file);
    st_catalogue_free(r->catalogue);
}

/* To ten digits: what compilers make of the last ones is no figure of this house. */
static double ten_digits(double x)
{
    char text[40];
    snprintf(text, sizeof text, "%.10g", x);
    return strtod(text, NULL);
}

void house_keep_foreseen(struct house *h, int64_t try_id, int64_t batch_id, const struct st_foretold *f)
{
    static const char *const WORD[] = { "ok", "extrapolated", "estimated" };

    for (int k = 0; k < ST_NFIG; k++) {
        const struct st_interval *x = &f->fig[k];
        struct book_foreseen row;
        if (!x->known || !isfinite(x->value) || !isfinite(x->low) || !isfinite(x->high))
            continue;
        book_row_init(BOOK_FORESEEN, &row);
        row.try_id = try_id;
        row.batch_id = batch_id;
        row.key = st_figure_info((enum st_figure)k)->key;
        row.value = ten_digits(x->value);
        row.low = ten_digits(x->low);
        row.high = ten_digits(x->high);
        row.status = WORD[x->status == ST_EXTRAPOLATED ? 1 : x->status == ST_ESTIMATED ? 2 : 0];
        row.program = "stillroom 0.1.0, seed 1, 4000 draws";
        house_put(h, BOOK_FORESEEN, &row);
    }
}
