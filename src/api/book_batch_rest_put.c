/* The rest of a drink as steps of its text. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_instead.h"
#include "api/book_batch_rest.h"
#include "text/figure_words.h"
#include "text/recipe_add.h"
#include "util/memory.h"

static const char OFF[] = "taken off ", REST[] = "remainder ";

/* "remainder 12" of "remainder ". */
static bool is_numbered(const char *id, const char *word)
{
    const size_t n = strlen(word);
    if (strncmp(id, word, n) != 0 || !id[n])
        return false;
    return strspn(id + n, "0123456789") == strlen(id + n);
}

bool st_batch_is_rest(const struct st_step *s)
{
    return (s->kind == ST_DO_BLEND || s->kind == ST_DO_STEEP) && is_numbered(s->id, REST) && s->n_line > 0 &&
           !s->line[0].what;
}

bool st_batch_is_off(const struct st_step *s)
{
    return s->kind == ST_DO_BLEND && is_numbered(s->id, OFF) && s->n_line > 0 && !s->line[0].what;
}

void st_batch_rest_quiet(struct st_recipe_file *file, struct st_foretold *f)
{
    const struct st_recipe *r = &file->recipe;
    int n = 0;
    for (int i = 0; i < file->n_note; i++) {
        bool off = false;
        for (int s = 0; s < r->n_step; s++)
            off = off || (st_batch_is_off(&r->step[s]) && r->step[s].at.line == file->note[i].at.line);
        if (!off)
            file->note[n++] = file->note[i];
    }
    file->n_note = n;
    n = 0;
    for (int i = 0; i < f->n_note; i++)
        if (f->note[i].code != ST_NOTE_UNUSED || !st_batch_is_off(&r->step[f->note[i].step]))
            f->note[n++] = f->note[i];
    f->n_note = n;
}

static bool has_step(const struct st_recipe *r, const char *id)
{
    for (int i = 0; i < r->n_step; i++)
        if (strcmp(r->step[i].id, id) == 0)
            return true;
    return false;
}

/* The first number that no step has. */
static void name_them(const struct st_batch_ask *a, const struct st_recipe *r, const char **off, const char **rest)
{
    for (int n = 1;; n++) {
        *off = st_arena_printf(a->arena, "%s%d", OFF, n);
        *rest = st_arena_printf(a->arena, "%s%d", REST, n);
        if (!has_step(r, *off) && !has_step(r, *rest))
            return;
    }
}

/* ---- how much ---- */

static const double LEAST = 0.02; /* of the drink, where by the recipe nothing was left; our own choice */

static double g_per_ml(const struct st_foretold *f)
{
    const struct st_interval *rho = &f->fig[ST_FIG_DENSITY];
    return rho->known && rho->value > 0.0 ? rho->value / 1000.0 : 1.0;
}

/* By the recipe nothing was left, and no volume that was read says otherwise. */
static bool is_too_much(const struct st_batch_cut *cut, const struct st_foretold *f)
{
    const struct st_interval *v = &f->fig[ST_FIG_VOLUME];
    return !isfinite(cut->rest_ml) && v->known && cut->ml + cut->g / g_per_ml(f) > (1.0 - LEAST) * v->value;
}

/* What left, as lines; how many of line[2]. */
static int off_lines(const struct st_batch_ask *a, const struct st_batch_cut *cut, const struct st_foretold *f,
                     const char *drink, const char *line[2])
{
    int n = 0;
    if (is_too_much(cut, f)) {
        line[n++] = st_arena_printf(a->arena, "%.6g %% of %s", 100.0 * (1.0 - LEAST), drink);
        return n;
    }
    if (cut->ml > 0.0)
        line[n++] = st_arena_printf(a->arena, "%.10g mL of %s", cut->ml, drink);
    if (cut->g > 0.0)
        line[n++] = st_arena_printf(a->arena, "%.10g g of %s", cut->g, drink);
    return n;
}

/* The rest as it was read, where that is less than all that is foretold; NULL: all that is there. */
static const char *read_line(const struct st_batch_ask *a, const struct st_batch_cut *cut, const struct st_foretold *f,
                             const char *drink)
{
    const struct st_interval *v = &f->fig[ST_FIG_VOLUME];
    if (!v->known || cut->rest_ml >= v->value)
        return NULL;
    const double ml = fmax(cut->rest_ml, LEAST * v->value), half = fmin(1.96 * cut->rest_sd, 0.9 * ml);
    if (!(half > 0.0))
        return st_arena_printf(a->arena, "%.10g mL of %s", ml, drink);
    char low[40], high[40]; /* people read them; four figures are far finer than any jug */
    st_plain_figure(low, sizeof low, ml - half, 4);
    st_plain_figure(high, sizeof high, ml + half, 4);
    return st_arena_printf(a->arena, "%s-%s mL of %s", low, high, drink);
}

/* ---- into the text ---- */

static int add_steps(struct st_batch_work *k, const struct st_recipe *r, const struct st_new_step step[], int n)
{
    struct st_buf out = { 0 };
    if (st_recipe_add_steps(st_buf_text(&k->text), k->text.length, r, step, n, &out, k->problem) != 0) {
        st_buf_done(&out);
        return -1;
    }
    st_buf_done(&k->text);
    k->text = out;
    return 0;
}

/* Told among the cautions: what follows is a guess. */
static void say(struct st_batch_work *k, const char *note)
{
    struct st_buf out = { 0 };
    st_batch_unreckoned_put(st_buf_text(&k->text), &note, 1, &out);
    st_buf_done(&k->text);
    k->text = out;
}

static void say_too_much(struct st_batch_work *k, const struct st_foretold *f)
{
    say(k,
        st_arena_printf(k->a->arena,
                        "more had left than there was by the recipe (%.3g mL) when something was added: what was left "
                        "then counts as a fiftieth of it, and no figure is sure; read a volume of that day",
                        f->fig[ST_FIG_VOLUME].value));
}

/* More was left by what was read than all that is foretold, beyond what the reading may be off. */
static bool is_more_read(const struct st_batch_cut *cut, const struct st_foretold *f)
{
    const struct st_interval *v = &f->fig[ST_FIG_VOLUME];
    return v->known && isfinite(cut->rest_ml) && cut->rest_ml - 1.96 * cut->rest_sd > v->value;
}

static void say_more_read(struct st_batch_work *k, const struct st_batch_cut *cut, const struct st_foretold *f)
{
    const double ml = f->fig[ST_FIG_VOLUME].value;
    /* `unreckoned` takes 190 bytes */
    say(k, st_arena_printf(
               k->a->arena,
               "%.0f mL were read on %.10s, and %.0f mL left of them: more than the %.0f mL that are foretold of all. "
               "The rest counts as %.0f mL; doubt that reading, or weigh what is missing",
               cut->read_ml, cut->read_on, cut->rest_ml, ml, ml));
}

/* ---- what lies in it ---- */

static bool strains(enum st_do k)
{
    return k == ST_DO_STEEP || k == ST_DO_SYRUP || k == ST_DO_FILTER;
}

static bool comes_with_pieces(const struct st_recipe *r, int step);

static bool brings_pieces(const struct st_recipe *r, int step, const struct st_line *l)
{
    if (l->what)
        return st_kind_is_solid(l->what->kind);
    return l->part == ST_SPENT || (l->from_step >= 0 && l->from_step < step && !strains(r->step[l->from_step].kind) &&
                                   comes_with_pieces(r, l->from_step));
}

static bool comes_with_pieces(const struct st_recipe *r, int step)
{
    for (int i = 0; i < r->step[step].n_line; i++)
        if (brings_pieces(r, step, &r->step[step].line[i]))
            return true;
    return false;
}

/* What had left, where that is told, and the rest. */
static int add_both(struct st_batch_work *k, const struct st_batch_made *m, const struct st_batch_cut *cut,
                    const char **step)
{
    const struct st_recipe *r = &m->file.recipe;
    const char *drink = st_arena_strdup(k->a->arena, r->step[r->n_step - 1].id);
    const char *line[2], *off, *in[2] = { NULL };
    const bool lies = cut->lies && r->step[r->n_step - 1].kind == ST_DO_STEEP && comes_with_pieces(r, r->n_step - 1);
    name_them(k->a, r, &off, step);
    const bool read = isfinite(cut->rest_ml);
    const int n = read || cut->ml + cut->g == 0.0 ? 0 : off_lines(k->a, cut, &m->out, drink, line);
    if (read)
        in[0] = read_line(k->a, cut, &m->out, drink);
    if (!in[0])
        in[0] = st_arena_printf(k->a->arena, "all of %s", drink);
    in[1] = st_arena_printf(k->a->arena, "the drained solids of %s", drink);
    const struct st_new_step both[] = { { ST_DO_BLEND, off, line, n },
                                        { lies ? ST_DO_STEEP : cut->kind, *step, in, lies ? 2 : 1 } };
    const int done = n > 0 ? add_steps(k, r, both, 2) : add_steps(k, r, both + 1, 1);
    if (done == 0 && is_too_much(cut, &m->out))
        say_too_much(k, &m->out);
    if (done == 0 && is_more_read(cut, &m->out))
        say_more_read(k, cut, &m->out);
    return done;
}

int st_batch_rest_put(struct st_batch_work *k, const struct st_batch_cut *cut, const char **step)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    struct st_batch_ask few = *k->a;
    int done = -1;
    few.draws = 0; /* only how much there is by the middle of all */
    if (st_batch_made_of(&few, st_buf_text(&k->text), true, m))
        done = add_both(k, m, cut, step);
    else
        *k->problem = m->problem;
    st_batch_made_done(m);
    free(m);
    return done;
}
