#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "steep_task.h"
#include "text/cut_words.h"
#include "util/memory.h"

/* As many as a bottle is foretold with, so that one worst case has one figure on every page. */
enum { DRAWS = 4000 };

/* Texts of lines that a recipe has not; at most one a piece. */
struct own_texts {
    char *text[ST_JAR_PIECES];
    int n;
};

/* A recipe with its own steps and lines, to be changed. */
static struct st_recipe *copy_of(const struct st_recipe *r)
{
    struct st_recipe *copy = x_malloc(sizeof *copy);
    *copy = *r;
    copy->step = x_calloc((size_t)r->n_step + 1, sizeof *copy->step);
    for (int i = 0; i < r->n_step; i++) {
        copy->step[i] = r->step[i];
        copy->step[i].line = x_calloc((size_t)r->step[i].n_line + 1, sizeof *r->step[i].line);
        if (r->step[i].n_line)
            memcpy(copy->step[i].line, r->step[i].line, (size_t)r->step[i].n_line * sizeof *r->step[i].line);
    }
    return copy;
}

static void free_copy(struct st_recipe *copy, struct own_texts *own)
{
    for (int i = 0; i < own->n; i++)
        free(own->text[i]);
    for (int i = 0; i < copy->n_step; i++)
        free(copy->step[i].line);
    free(copy->step);
    free(copy);
}

static void scale(struct st_amount *a, double times)
{
    a->value *= times;
    a->low *= times;
    a->high *= times;
    a->written *= times;
    a->fills *= times;
}

/* A word of that cut that opens stones (stone_words.h): what chops a fruit with its stones breaks some.  NULL: none. */
static const char *opening_word(enum st_cut cut)
{
    return cut == ST_CUT_CRUSHED   ? "crushed"
           : cut == ST_CUT_GROUND  ? "ground"
           : cut == ST_CUT_CHOPPED ? "chopped, broken"
                                   : NULL;
}

/* The line says so where the recipe has another cut. */
static void say_cut(struct st_recipe *r, const struct st_jar_piece *p, struct own_texts *own)
{
    bool said;
    const char *word = opening_word(p->cut);
    struct st_line *line = &r->step[p->step].line[p->line];
    if (!word || st_cut_of_line(r, p->step, p->line, &said) == p->cut)
        return;
    const char *text = line->text ? line->text : "";
    const size_t size = strlen(text) + strlen(word) + 3;
    char *both = x_malloc(size);
    snprintf(both, size, "%s, %s", text, word);
    line->text = own->text[own->n++] = both;
}

static void change_pieces(struct st_recipe *r, const struct st_jar *jar, struct own_texts *own)
{
    for (int k = 0; k < jar->n_piece; k++) {
        const struct st_jar_piece *p = &jar->piece[k];
        if (p->step < 0 || p->line < 0)
            continue;
        if (p->factor != 1.0)
            scale(&r->step[p->step].line[p->line].amount, p->factor);
        say_cut(r, p, own);
    }
}

/* Strengths, temperatures, amounts and opened stones as this jar has them. */
static void change(struct st_recipe *r, const struct st_jar *jar, struct own_texts *own)
{
    change_pieces(r, jar, own);
    for (int k = 0; k < jar->n_pour; k++) {
        const struct st_jar_pour *p = &jar->pour[k];
        if (isfinite(p->strength_pct_vol) && p->step >= 0 && p->line >= 0)
            r->step[p->step].line[p->line].strength = (struct st_range){
                p->strength_pct_vol, p->strength_pct_vol, p->strength_pct_vol, true, 'u', "as asked"
            };
    }
    for (int k = 0; k < jar->n_stage; k++) {
        const struct st_jar_stage *g = &jar->stage[k];
        if (g->temperature_said && g->step >= 0)
            r->step[g->step].temperature_K = g->temperature_K;
    }
}

static bool is_of(const struct st_caution *c, const struct st_jar *jar)
{
    if (c->step < 0)
        return true;
    for (int k = 0; k < jar->n_stage; k++)
        if (jar->stage[k].step == c->step)
            return true;
    for (int k = 0; k < jar->n_piece; k++)
        if (jar->piece[k].step == c->step)
            return true;
    for (int k = 0; k < jar->n_pour; k++)
        if (jar->pour[k].step == c->step)
            return true;
    return false;
}

void st_steep_cautions(const struct st_recipe *r, const struct st_jar *jar, const struct st_watch *w,
                       struct st_cautions *out)
{
    struct st_recipe *copy = copy_of(r);
    struct st_foretold *f = x_calloc(1, sizeof *f); /* large */
    struct st_problem problem = { .what = "" };
    const struct st_options o = { .seed = 1, .draws = DRAWS };
    struct own_texts own = { .n = 0 };
    change(copy, jar, &own);
    struct st_plan *plan = st_plan_create(copy, &problem);
    const bool told = plan && st_plan_run(plan, &o, f) >= 0;
    st_cautions_collect(copy, told ? f : NULL, w, out);
    if (told)
        st_foretold_done(f);
    st_plan_free(plan);
    int n = 0;
    for (int i = 0; i < out->n; i++)
        if (is_of(&out->item[i], jar))
            out->item[n++] = out->item[i];
    out->n = n;
    free(f);
    free_copy(copy, &own);
}

static bool is_known(const struct st_caution *c, const struct st_cautions *known)
{
    for (int i = 0; i < known->n; i++)
        if (strcmp(known->item[i].code, c->code) == 0 && known->item[i].step == c->step &&
            known->item[i].line == c->line && known->item[i].level >= c->level)
            return true;
    return false;
}

void st_steep_new_cautions(struct st_cautions *list, const struct st_cautions *known)
{
    int n = 0;
    for (int i = 0; i < list->n; i++)
        if (!is_known(&list->item[i], known))
            list->item[n++] = list->item[i];
    list->n = n;
}
