#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "steep_task.h"
#include "text/learnt_words.h"
#include "text/piece_named.h"
#include "util/memory.h"

/* ---- the readings of one file, as they belong to the jar ---- */

static bool is_of_jar(const struct st_steep_task *t, const struct st_seen_file *f)
{
    return f->n == 0 || !*f->seen[0].jar || strcmp(f->seen[0].jar, t->recipe->step[t->step].id) == 0;
}

static bool pieces_of(const struct st_steep_task *t, const struct st_seen_file *f, int piece[],
                      struct st_problem *problem)
{
    for (int i = 0; i < f->n; i++) {
        const struct st_observation *o = &f->seen[i];
        piece[i] = -1;
        if (!*o->of)
            continue;
        piece[i] = st_jar_piece_named(t->jar, o->of, strlen(o->of), problem);
        problem->at = o->at;
        if (piece[i] < 0)
            return false;
    }
    return true;
}

static bool refuse(struct st_problem *problem, const char *what, const char *why, const char *try_)
{
    *problem = (struct st_problem){ .is_question = 0 };
    snprintf(problem->what, sizeof problem->what, "%s", what);
    snprintf(problem->why, sizeof problem->why, "%s", why);
    snprintf(problem->try_, sizeof problem->try_, "%s", try_);
    return false;
}

/* The same records, whatever the file is called: one who writes the same twice means one making. */
static bool is_same(const struct st_seen_file *a, const struct st_seen_file *b)
{
    bool same = a->n == b->n;
    for (int i = 0; i < a->n && same; i++) {
        const struct st_observation *x = &a->seen[i], *y = &b->seen[i];
        same = x->what == y->what && x->value == y->value && x->sd == y->sd && x->t_s == y->t_s &&
               strcmp(x->of, y->of) == 0 && strcmp(x->by, y->by) == 0;
    }
    return same;
}

static const char *batch_of(const struct st_seen_file *f)
{
    return f->n ? f->seen[0].batch : "";
}

/* No making counts twice.  *problem is of the later one, t->asked. */
static bool is_new(const struct st_steep_task *t, struct st_problem *problem)
{
    const struct st_seen_file *f = t->seen[t->asked];
    const char *batch = batch_of(f);
    for (int k = 0; k < t->asked; k++) {
        const struct st_seen_file *g = t->seen[k];
        const bool named = *batch && *batch_of(g), alike = strcmp(batch, batch_of(g)) == 0;
        if (is_same(f, g) && (alike || !named)) {
            (void)refuse(problem, "these readings are given twice",
                         "another file has the same ones, and a making that is counted twice seems surer than it is",
                         "leave one of the two out; of two makings that were alike name each with `batch:`");
        } else if (named && alike) {
            (void)refuse(problem, "", "another file has that `batch:`, and each file is one making",
                         "put all readings of one making into one file, or correct `batch:`");
            snprintf(problem->what, sizeof problem->what, "the batch \"%.60s\" is given twice", batch);
        } else
            continue;
        if (f->n)
            problem->at = f->seen[0].at;
        return false;
    }
    return true;
}

static bool learn(struct st_steep_task *t, const struct st_learn_batch batch[], struct st_problem *problem)
{
    const enum st_status s = st_learn(batch, t->n_seen, &t->learnt);
    t->has_learnt = true; /* to be freed */
    if (s == ST_E_REFUSED)
        return refuse(problem, "nothing can be learnt from these readings",
                      "none of them speaks of something that is followed in this jar",
                      "add for example a depth of colour, a mark or a taste, with the day");
    if (s < 0 && s != ST_E_NOCONV)
        return refuse(problem, "these readings do not fit this jar",
                      "with them nothing can be reckoned: a time or a figure is outside all that can be",
                      "look at days and units");
    (void)st_learnt_apply(&t->learnt, t->jar);
    return true;
}

bool st_steep_learn(struct st_steep_task *t, struct st_problem *problem)
{
    struct st_learn_batch batch[ST_STEEP_SEEN];
    int *piece[ST_STEEP_SEEN] = { NULL };
    bool ok = true;
    for (int k = 0; ok && k < t->n_seen; k++) {
        const struct st_seen_file *f = t->seen[k];
        t->asked = k;
        piece[k] = x_calloc((size_t)f->n + 1, sizeof *piece[k]);
        ok = is_of_jar(t, f) ||
             refuse(problem, "these readings are of another jar", "their `jar:` is not the one that is shown",
                    "say which with --step, or correct `jar:`");
        ok = ok && is_new(t, problem) && pieces_of(t, f, piece[k], problem);
        batch[k] = (struct st_learn_batch){ t->jar, f->seen, piece[k], f->n };
    }
    ok = ok && learn(t, batch, problem);
    if (ok)
        t->asked = -1;
    for (int k = 0; k < t->n_seen; k++)
        free(piece[k]);
    return ok;
}

/* ---- the document ---- */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *theta(const struct st_learnt_thing *l, int k)
{
    static const char *const GRADE[] = {
        [ST_LEARNT_NOTHING] = "nothing", [ST_LEARNT_LITTLE] = "little", [ST_LEARNT_MUCH] = "much"
    };
    const double sd = sqrt(l->cov[k * ST_NTHETA + k]);
    return json_pack("{s:o, s:o, s:o, s:o, s:s, s:b}", "ln_mean", real(l->mean[k]), "ln_low",
                     real(l->mean[k] - 1.959964 * sd), "ln_high", real(l->mean[k] + 1.959964 * sd), "prior_ln_sd",
                     real(l->prior_sd[k]), "learnt", GRADE[l->grade[k]], "far", l->far[k]);
}

static json_t *thing(const struct st_learnt_thing *l)
{
    json_t *o = json_object(), *twins = json_array();
    json_object_set_new(o, "ingredient", st_doc_text(l->name));
    for (int k = 0; k < ST_NTHETA; k++)
        json_object_set_new(o, st_theta_key((enum st_theta)k), theta(l, k));
    for (int i = 0; i < l->n_twin; i++)
        json_array_append_new(twins, json_pack("[s, s]", st_theta_key((enum st_theta)l->twin[i][0]),
                                               st_theta_key((enum st_theta)l->twin[i][1])));
    json_object_set_new(o, "cannot_be_told_apart", twins);
    json_object_set_new(o, "makings", json_integer(l->batches));
    return o;
}

json_t *st_doc_learnt(const struct st_steep_task *t)
{
    json_t *o = json_object(), *things = json_array(), *readings = json_array();
    char text[600];
    for (int i = 0; i < t->learnt.n_thing; i++)
        json_array_append_new(things, thing(&t->learnt.thing[i]));
    for (int k = 0; k < t->n_seen; k++)
        for (int i = 0; i < t->seen[k]->n; i++) {
            const struct st_observation *s = &t->seen[k]->seen[i];
            const struct st_learnt_reading *r = &t->learnt.reading[k][i];
            st_seen_reading_words(text, sizeof text, t->seen[k]->seen, t->seen[k]->n, i, r);
            json_array_append_new(readings,
                                  json_pack("{s:o, s:i, s:s, s:o, s:o, s:b, s:o, s:o, s:b, s:o}", "file",
                                            st_doc_text(t->seen[k]->file.recipe.file), "line", s->at.line, "what",
                                            st_seen_info(s->what)->key, "day", real(s->t_s / 86400.0), "seen",
                                            real(s->value), "used", r->used, "before", real(r->before), "after",
                                            real(r->after), "odd", r->odd, "words", st_doc_text(text)));
        }
    json_object_set_new(o, "things", things);
    json_object_set_new(o, "readings", readings);
    st_learnt_advice(text, sizeof text, &t->learnt);
    json_object_set_new(o, "advice", st_doc_text(text));
    return o;
}
