#include "rescue_weigh.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/keeping.h"
#include "low_acid.h"
#include "stops.h"

const char *st_answer_name(enum st_answer a)
{
    return a == ST_ANSWER_YES ? "yes" : a == ST_ANSWER_NO ? "no" : "open";
}

struct told {
    enum st_answer answer;
    char *because;
    size_t size;
};

__attribute__((format(printf, 3, 4))) static void tell(struct told *t, enum st_answer a, const char *text, ...)
{
    va_list ap;
    va_start(ap, text);
    t->answer = a;
    (void)vsnprintf(t->because, t->size, text, ap);
    va_end(ap);
}

/* The weakest that the drink or a jar of it is likely to stand at, % vol; below 0 when nobody knows.  *jar: whose. */
static double weakest(const struct st_recipe *r, const struct st_foretold *f, const char **jar)
{
    const struct st_interval *q = &f->fig[ST_FIG_STRENGTH];
    *jar = NULL;
    if (!q->known)
        return -1.0;
    double least = q->low;
    for (int i = 0; f->balance && i < f->n_balance && i < r->n_step; i++) {
        const struct st_balance *b = &f->balance[i];
        if (r->step[i].kind == ST_DO_STEEP && b->mass_g[ST_ETHANOL] > 0.0 && b->strength_in_steep < least) {
            least = b->strength_in_steep;
            *jar = r->step[i].id;
        }
    }
    return least;
}

typedef bool is_such(const struct st_ingredient *in);

static const struct st_ingredient *first(const struct st_recipe *r, is_such *such)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what && such(r->step[s].line[i].what))
                return r->step[s].line[i].what;
    return NULL;
}

static bool is_animal(const struct st_ingredient *in)
{
    return st_ingredient_perishable(in);
}

static bool has_flag(const struct st_ingredient *in, const char *code)
{
    return st_ingredient_caution(in, code) != NULL;
}

static bool is_cyanogenic(const struct st_ingredient *in)
{
    return has_flag(in, "cyanogenic");
}

/* Not the fruit that may still have its stones. */
static bool is_kernel(const struct st_ingredient *in)
{
    return is_cyanogenic(in) && (in->kind == ST_KIND_KERNEL || in->kind == ST_KIND_NUT || in->kind == ST_KIND_SEED ||
                                 in->kind == ST_KIND_POWDER || in->kind == ST_KIND_OTHER);
}

static bool is_unfit(const struct st_ingredient *in)
{
    return has_flag(in, "denatured") || has_flag(in, "unlicensed");
}

static bool is_low_acid_or_fat(const struct st_ingredient *in)
{
    return st_is_low_acid(in) || st_is_fat(in);
}

static void weak(struct told *t, const struct st_recipe *r, const struct st_foretold *f)
{
    const char *jar;
    const double limit = st_floor_get(ST_FLOOR_SHELF)->limit, q = weakest(r, f, &jar);
    if (q < 0.0)
        tell(t, ST_ANSWER_YES, "the recipe gives no strength");
    else if (jar)
        tell(t, q < limit ? ST_ANSWER_YES : ST_ANSWER_NO, "jar \"%.40s\" stands at about %.1f %% vol", jar, q);
    else
        tell(t, q < limit ? ST_ANSWER_YES : ST_ANSWER_NO, "likely from %.1f %% vol on", q);
}

static void low_acid(struct told *t, const struct st_recipe *r, const struct st_foretold *f)
{
    const struct st_ingredient *in = first(r, is_low_acid_or_fat);
    const char *jar;
    const double q = weakest(r, f, &jar);
    if (!in)
        tell(t, ST_ANSWER_NO, "the recipe names none");
    else if (q < 0.0)
        tell(t, ST_ANSWER_YES, "%.60s, and the recipe gives no strength", in->name);
    else
        tell(t, q < st_floor_get(ST_FLOOR_SHELF)->limit ? ST_ANSWER_YES : ST_ANSWER_NO, "%.60s, at %.1f %% vol",
             in->name, q);
}

static void kernel(struct told *t, const struct st_recipe *r)
{
    const struct st_ingredient *in = first(r, is_kernel), *fruit = first(r, is_cyanogenic);
    if (in)
        tell(t, ST_ANSWER_YES, "%.80s", in->name);
    else if (fruit)
        tell(t, ST_ANSWER_OPEN, "%.80s: cracked stones count as kernels", fruit->name);
    else
        tell(t, ST_ANSWER_NO, "the recipe names none");
}

static void named(struct told *t, const struct st_recipe *r, is_such *such)
{
    const struct st_ingredient *in = first(r, such);
    if (in)
        tell(t, ST_ANSWER_YES, "%.80s", in->name);
    else
        tell(t, ST_ANSWER_NO, "the recipe names none");
}

static void answer(struct told *t, const char *key, const struct st_recipe *r, const struct st_foretold *f)
{
    if (strcmp(key, "weak") == 0)
        weak(t, r, f);
    else if (strcmp(key, "lowacid") == 0)
        low_acid(t, r, f);
    else if (strcmp(key, "animal") == 0)
        named(t, r, is_animal);
    else if (strcmp(key, "kernel") == 0)
        kernel(t, r);
    else if (strcmp(key, "unfit") == 0)
        named(t, r, is_unfit);
    else if (strcmp(key, "unnamed") == 0)
        tell(t, ST_ANSWER_NO, "the recipe names them");
}

void st_rescue_weigh(const struct st_rescue_row *row, const struct st_recipe *r, const struct st_foretold *f,
                     struct st_rescue_weighed *out)
{
    memset(out, 0, sizeof *out);
    out->verdict = row->verdict;
    out->decided_by = -1;
    for (int i = 0; i < row->n_ask; i++) {
        struct told t = { ST_ANSWER_OPEN, out->ask[i].because, sizeof out->ask[i].because };
        if (r && f)
            answer(&t, row->ask[i].ask->key, r, f);
        out->ask[i].answer = t.answer;
        if (t.answer != ST_ANSWER_YES || row->ask[i].then < out->verdict)
            continue;
        if (out->decided_by < 0 || row->ask[i].then > out->verdict)
            out->decided_by = i;
        out->verdict = row->ask[i].then;
    }
    out->stopped = r ? st_recipe_stop(r) : NULL;
    if (out->stopped)
        out->verdict = ST_RESCUE_BIN;
}
