#include "api/book_lot_cautions.h"

#include <stdio.h>
#include <string.h>

#include "model/line_goods.h"
#include "text/allergen_heard.h"
#include "text/held.h"
#include "text/stops.h"

/* ---- which is the gravest ---- */

static int grave(const struct st_flag *f)
{
    static const char *const DEGREE[] = { "trace", "low", "moderate", "high" };
    for (int i = 0; i < 4; i++)
        if (strcmp(f->degree, DEGREE[i]) == 0)
            return i;
    return 4; /* of no degree: not allowed somewhere, not to be mixed with a medicine */
}

const struct st_flag *st_flag_worst(const struct st_ingredient *in, int k)
{
    for (int degree = 4; degree >= 0; degree--)
        for (int i = 0; i < in->n_caution; i++)
            if (grave(&in->caution[i]) == degree && k-- == 0)
                return &in->caution[i];
    return NULL;
}

/* ---- what stops ---- */

static bool stops(const struct st_catalogue *c, const char *text, struct st_problem *p)
{
    return text && *text && st_stop_in_text(c, text, strlen(text), p);
}

bool st_lot_stopped(const struct st_catalogue *c, const struct book_lot *l, struct st_problem *problem)
{
    const struct st_ingredient *like = st_lot_ingredient(c, l);
    problem->at = (struct st_place){ 0, 0 };
    return (like && st_stop_problem(like, problem)) || stops(c, l->name, problem);
}

/* ---- what is told ---- */

enum { TOLD = 2 };

static void add(struct st_lot_told *t, const struct st_flag *f, bool more, const char *name)
{
    if (t->n_remark == ST_LOT_REMARKS)
        return;
    const int n = snprintf(t->remark[t->n_remark++], sizeof t->remark[0], "Caution: %.175s [%.40s]",
                           f->text ? f->text : f->what, f->source && *f->source ? f->source : "memory");
    if (more && n > 0 && (size_t)n < sizeof t->remark[0])
        (void)snprintf(t->remark[t->n_remark - 1] + n, sizeof t->remark[0] - (size_t)n,
                       "; more: stillroom ingredient \"%.40s\"", name);
}

static void warn_of(const struct st_ingredient *in, struct st_lot_told *t)
{
    for (int k = 0; k < TOLD && k < in->n_caution; k++)
        add(t, st_flag_worst(in, k), k == TOLD - 1 && in->n_caution > TOLD, in->name);
}

static void put_code(char *words, size_t size, const char *code, const char *scope)
{
    const size_t n = strlen(words);
    if (!st_has_word(words, code))
        (void)snprintf(words + n, size - n, "%s%.40s%s", n ? ", " : "", code, st_allergen_write(scope));
}

/* All allergens of both, and those that the name says, each once, in one remark. */
static void tell_allergens(const struct st_catalogue *c, const struct st_ingredient *one,
                           const struct st_ingredient *other, const char *name, struct st_lot_told *t)
{
    const struct st_ingredient *both[] = { one, other != one ? other : NULL };
    struct st_allergen_said heard[ST_MAX_ALLERGENS];
    const int n_heard = st_allergen_heard(name, c, heard, ST_MAX_ALLERGENS);
    char words[200] = "";
    for (int k = 0; k < 2; k++)
        for (int i = 0; both[k] && i < both[k]->n_allergen; i++)
            put_code(words, sizeof words, both[k]->allergen[i].what, both[k]->allergen[i].degree);
    for (int i = 0; i < n_heard; i++)
        put_code(words, sizeof words, heard[i].code, heard[i].scope);
    if (words[0] && t->n_remark < ST_LOT_REMARKS)
        (void)snprintf(t->remark[t->n_remark++], sizeof t->remark[0], "Allergens: %s.", words);
}

void st_lot_warn(const struct st_catalogue *c, const struct st_ingredient *said, const struct book_lot *l,
                 struct st_lot_told *t)
{
    const struct st_ingredient *like = st_lot_ingredient(c, l);
    tell_allergens(c, like, said, l->name, t);
    if (like)
        warn_of(like, t);
    if (said && said != like)
        warn_of(said, t);
    const struct st_ingredient *what = like ? like : said;
    if (what && (what->kind == ST_KIND_EGG || what->kind == ST_KIND_DAIRY) && !l->use_by &&
        t->n_remark < ST_LOT_REMARKS)
        (void)snprintf(t->remark[t->n_remark++], sizeof t->remark[0],
                       "Use by when? Write it from the box: stillroom larder change %.40s --use-by DATE", l->code);
}
