#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "jar_inside.h"
#include "plan_inside.h"
#include "text.h"

/* From the steps of a recipe to the stages of a jar.  The plan of the recipe has each line's grams as registers, in the
 * order in which plan_build.c joins lines to their step; that order is followed here, and a step that does not fit it
 * is refused. */

struct joint {
    int liquid, pieces; /* index in the plan's joined[]; -1 */
};

enum { LINES = 1000, STEPS = 200 /* as a recipe file may have */, SOLIDS_OF_A_STEP = 64 };

struct maker {
    const struct st_recipe *r;
    const struct st_jar_books *books;
    struct st_jar_source *source;
    struct st_jar *j;
    struct st_problem *problem;
    int first_line[STEPS + 1];                    /* of a step, in joint[] */
    struct joint joint[LINES], before[STEPS + 1]; /* before: of the step before, which a treatment takes whole */
    int stage_of[STEPS];                          /* -1: a step that nothing was steeped in yet */
    bool needed[STEPS];
    int step;
};

/* A heap struct of which copies are handed around; this is where it begins. */
struct kept {
    struct st_jar jar; /* first */
    struct st_jar_source *source;
};

static bool stop(struct maker *m, struct st_place at, const char *what, const char *name, const char *why,
                 const char *try_)
{
    *m->problem = (struct st_problem){ .at = at };
    st_say(m->problem->what, sizeof m->problem->what, what, name, NULL);
    st_say(m->problem->why, sizeof m->problem->why, why, NULL, NULL);
    st_say(m->problem->try_, sizeof m->problem->try_, try_, NULL, NULL);
    return false;
}

/* ---- which line is which joint ---- */

static bool is_treatment(enum st_do kind)
{
    return kind == ST_DO_REST || kind == ST_DO_RACK || kind == ST_DO_FINE || kind == ST_DO_FILTER ||
           kind == ST_DO_BOTTLE;
}

static bool names_a_step(const struct st_step *s)
{
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what)
            return true;
    return false;
}

static bool goes_on_with_the_step_before(const struct st_recipe *r, int step)
{
    return step > 0 && is_treatment(r->step[step].kind) && !names_a_step(&r->step[step]);
}

/* As plan_build.c: measured or taken first, then open, then "to so much". */
static int sort_of(const struct st_line *line)
{
    if (line->amount.make_up_to)
        return 2;
    return line->what && (line->amount.open != ST_CLOSED || line->amount.dim == ST_DIM_OPEN) ? 1 : 0;
}

static struct joint next_joint(const struct st_line *line, int *at)
{
    struct joint k = { -1, -1 };
    if (line && line->what) {
        if (st_kind_is_solid(line->what->kind))
            k.pieces = (*at)++;
        else
            k.liquid = (*at)++;
        return k;
    }
    if (!line || line->part == ST_LIQUOR)
        k.liquid = (*at)++;
    k.pieces = (*at)++;
    return k;
}

static bool match_joints(struct maker *m)
{
    const struct st_plan *plan = st_jar_source_plan(m->source);
    int at = 0, lines = 0;
    for (int s = 0; s < m->r->n_step; s++) {
        const struct st_step *step = &m->r->step[s];
        const int begin = at;
        m->first_line[s] = lines;
        if (lines + step->n_line > LINES)
            return stop(m, step->at, "too many lines for a jar: ", step->id, "the recipe has more than 1000",
                        "take fewer");
        if (goes_on_with_the_step_before(m->r, s))
            m->before[s] = next_joint(NULL, &at);
        for (int sort = 0; sort < 3; sort++)
            for (int i = 0; i < step->n_line; i++)
                if (sort_of(&step->line[i]) == sort)
                    m->joint[lines + i] = next_joint(&step->line[i], &at);
        lines += step->n_line;
        for (int i = begin; i < at; i++)
            if (i >= plan->n_joined || plan->joined[i].step != s)
                return stop(m, step->at, "cannot follow this step in time: ", step->id,
                            "its lines are not where the plan has them",
                            "report this recipe as a mistake of the program");
    }
    return true;
}

/* ---- amounts ---- */

static struct st_tape *tape_of(const struct maker *m)
{
    return &st_jar_source_plan(m->source)->tape;
}

static const struct st_joined *joined_of(const struct maker *m, int joint)
{
    return &st_jar_source_plan(m->source)->joined[joint];
}

static bool goods_of(struct maker *m, const int reg[ST_NCOMP], struct st_jar_goods *out)
{
    bool any = false;
    out->times = 1.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        out->g[c] = 0.0;
        out->column[c] = -1;
        if (reg[c] == ST_ZERO)
            continue;
        out->column[c] = st_jar_source_column(m->source, reg[c], &out->g[c]);
        any = true;
    }
    return any;
}

static void grams_of(struct maker *m, int joint, int reg[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++) {
        const struct st_joined *k = joined_of(m, joint);
        reg[c] = st_mul(tape_of(m), k->share, k->from[c]);
    }
}

/* ---- pieces and pours ---- */

static const struct st_line *line_of(const struct maker *m, int step, int line)
{
    return &m->r->step[step].line[line];
}

static bool add_piece(struct maker *m, int step, int line, const int reg[ST_NCOMP], int stage)
{
    const struct st_line *l = line_of(m, step, line);
    struct st_jar *j = m->j;
    if (j->n_piece == ST_JAR_PIECES)
        return stop(m, l->at, "too many things in one jar: ", l->text, "24 are followed at most",
                    "leave the smallest out");
    struct st_jar_piece *p = &j->piece[j->n_piece];
    *p = (struct st_jar_piece){ .name = l->what->name,
                                .what = l->what,
                                .kind = l->what->kind,
                                .factor = 1.0,
                                .step = step,
                                .line = line,
                                .retention = st_ingredient_retention(l->what) };
    (void)goods_of(m, reg, &p->goods);
    p->lies[stage] = 1.0;
    if (m->books->cut)
        p->cut = m->books->cut(m->r, step, line, &p->cut_said);
    for (int i = 0; i < l->what->n_marker; i++) {
        const struct st_compound *c = st_compound_find(m->books->compounds, l->what->marker[i].marker);
        if (c && c->flavour)
            p->marker[p->n_marker++] = (struct st_jar_marker){ c, l->what->marker[i].mg_g };
    }
    j->n_piece++;
    return true;
}

static bool add_pour(struct maker *m, const char *name, const struct st_ingredient *what, int step, int line,
                     const int reg[ST_NCOMP], int stage)
{
    struct st_jar *j = m->j;
    if (j->n_pour == ST_JAR_POURS)
        return stop(m, m->r->step[step].at, "too many liquids in one jar: ", name, "32 are followed at most",
                    "pour some together");
    struct st_jar_pour *p = &j->pour[j->n_pour];
    *p = (struct st_jar_pour){ .name = name,
                               .what = what,
                               .factor = 1.0,
                               .strength_pct_vol = (double)NAN,
                               .stage = stage,
                               .step = step,
                               .line = line };
    j->n_pour += goods_of(m, reg, &p->goods);
    return true;
}

/* Solid lines of a step that is no jar, and of those it takes from, with what each put in. */
struct solids {
    int n, step[SOLIDS_OF_A_STEP], line[SOLIDS_OF_A_STEP], reg[SOLIDS_OF_A_STEP][ST_NCOMP];
};

static bool gather_solids(struct maker *m, int step, int share, struct solids *out)
{
    const struct st_step *s = &m->r->step[step];
    if (goes_on_with_the_step_before(m->r, step) &&
        !gather_solids(m, step - 1, st_mul(tape_of(m), share, joined_of(m, m->before[step].pieces)->share), out))
        return false;
    for (int i = 0; i < s->n_line; i++) {
        const struct joint k = m->joint[m->first_line[step] + i];
        if (k.pieces < 0)
            continue;
        const int part = st_mul(tape_of(m), share, joined_of(m, k.pieces)->share);
        if (!s->line[i].what) {
            if (s->line[i].part == ST_LIQUOR && !gather_solids(m, s->line[i].from_step, part, out))
                return false;
            continue;
        }
        if (out->n == SOLIDS_OF_A_STEP)
            return stop(m, s->at, "too many things in one step: ", s->id, "64 are followed at most", "take fewer");
        out->step[out->n] = step;
        out->line[out->n] = i;
        for (int c = 0; c < ST_NCOMP; c++)
            out->reg[out->n][c] = st_mul(tape_of(m), part, joined_of(m, k.pieces)->from[c]);
        out->n++;
    }
    return true;
}

/* What came of them all (water driven off by toasting, say) is dealt out as they brought it. */
static bool add_solids(struct maker *m, int from_step, int joint, int stage)
{
    struct solids all = { .n = 0 };
    struct st_tape *t = tape_of(m);
    int total[ST_NCOMP], sum[ST_NCOMP] = { 0 };
    if (joint < 0)
        return true;
    grams_of(m, joint, total);
    if (!gather_solids(m, from_step, joined_of(m, joint)->share, &all))
        return false;
    for (int i = 0; i < all.n; i++)
        for (int c = 0; c < ST_NCOMP; c++)
            sum[c] = st_add(t, sum[c], all.reg[i][c]);
    for (int i = 0; i < all.n; i++) {
        int reg[ST_NCOMP];
        for (int c = 0; c < ST_NCOMP; c++)
            reg[c] = st_mul(t, total[c], st_ratio(t, all.reg[i][c], sum[c]));
        if (!add_piece(m, all.step[i], all.line[i], reg, stage))
            return false;
    }
    return true;
}

/* ---- lines of a stage ---- */

static bool take_spent(struct maker *m, int step, const struct st_line *l, int joint, int stage)
{
    const int from = m->stage_of[l->from_step];
    double share = 1.0;
    if (from < 0 || !m->j->stage[from].steeps)
        return stop(m, l->at, "cannot follow these solids in time: ", l->text, "they did not lie in a jar before",
                    "steep them");
    (void)step;
    share = tape_of(m)->nominal[joined_of(m, joint)->share];
    for (int p = 0; p < m->j->n_piece; p++) {
        double *lies = m->j->piece[p].lies;
        if (!(lies[from] > 0.0))
            continue;
        for (int s = from + 1; s < m->j->n_stage - 1; s++)
            if (lies[s] > 0.0)
                return stop(m, l->at, "cannot follow these solids in time: ", l->text,
                            "a part of them lies in another jar", "take all of them into one jar");
        lies[stage] = fmin(share, 1.0);
    }
    return true;
}

static bool take_liquor(struct maker *m, int from_step, struct joint k, struct st_place at, int stage)
{
    const int from = m->stage_of[from_step];
    const char *id = m->r->step[from_step].id;
    struct st_jar_stage *g = &m->j->stage[stage];
    if (from < 0) {
        int reg[ST_NCOMP];
        grams_of(m, k.liquid, reg);
        return add_pour(m, id ? id : "", NULL, from_step, -1, reg, stage) && add_solids(m, from_step, k.pieces, stage);
    }
    if (g->n_take == ST_JAR_TAKES)
        return stop(m, at, "too many jars poured into one: ", id, "8 are followed at most", "blend some of them first");
    struct st_jar_take *t = &g->take[g->n_take++];
    *t = (struct st_jar_take){ .from = from };
    t->column = st_jar_source_column(m->source, joined_of(m, k.liquid)->share, &t->share);
    return true;
}

static bool join_line(struct maker *m, int step, int i, int stage)
{
    const struct st_line *l = line_of(m, step, i);
    const struct joint k = m->joint[m->first_line[step] + i];
    int reg[ST_NCOMP];
    if (!l->what)
        return l->part == ST_SPENT ? take_spent(m, step, l, k.pieces, stage)
                                   : take_liquor(m, l->from_step, k, l->at, stage);
    if (k.liquid >= 0) {
        grams_of(m, k.liquid, reg);
        return add_pour(m, l->what->name, l->what, step, i, reg, stage);
    }
    if (!m->j->stage[stage].steeps) /* finings, or what somebody left lying in a blend: not followed */
        return m->r->step[step].kind == ST_DO_FINE || stop(m, l->at, "cannot follow this in time: ", l->text,
                                                           "it lies in no steep", "give it a steep of its own");
    grams_of(m, k.pieces, reg);
    return add_piece(m, step, i, reg, stage);
}

/* ---- stages ---- */

bool st_jar_is_at(const struct st_recipe *r, int step)
{
    if (step < 0 || step >= r->n_step)
        return false;
    const struct st_step *s = &r->step[step];
    if (s->kind == ST_DO_STEEP)
        return true;
    for (int i = 0; i < s->n_line && s->kind == ST_DO_SYRUP; i++)
        if ((s->line[i].what && st_kind_is_solid(s->line[i].what->kind)) ||
            (!s->line[i].what && s->line[i].part == ST_SPENT))
            return true;
    return false;
}

static bool comes_of_a_jar(const struct maker *m, int step)
{
    const struct st_step *s = &m->r->step[step];
    if (st_jar_is_at(m->r, step))
        return true;
    if (goes_on_with_the_step_before(m->r, step) && m->stage_of[step - 1] >= 0)
        return true;
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what && m->stage_of[s->line[i].from_step] >= 0)
            return true;
    return false;
}

static void mark_needed(struct maker *m, int step)
{
    const struct st_step *s = &m->r->step[step];
    if (m->needed[step])
        return;
    m->needed[step] = true;
    if (goes_on_with_the_step_before(m->r, step))
        mark_needed(m, step - 1);
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what && s->line[i].from_step >= 0)
            mark_needed(m, s->line[i].from_step);
}

static const double DAY_S = 86400.0;

/* Share of the liquid that goes on: the film on jar and strainer as plan_steep.c has it, else what the plan lost. */
static double keeps_of(const struct maker *m, int step, bool steeps)
{
    const struct st_plan *plan = st_jar_source_plan(m->source);
    const struct st_step_account *a = &plan->account[step];
    const struct st_step *s = &m->r->step[step];
    double in = 0.0, out = 0.0;
    if (steeps)
        return 1.0 - (s->loss_share.known ? fmin(fmax(s->loss_share.value, 0.0), 0.95) : 0.005);
    for (int c = 0; c < ST_NCOMP; c++) {
        in += plan->tape.nominal[a->in[c]];
        out += plan->tape.nominal[a->out[c]];
    }
    return in > 0.0 ? fmin(out / in, 1.0) : 1.0;
}

static void time_and_warmth(const struct st_step *s, bool steeps, struct st_jar_stage *g)
{
    g->time_said = s->time.dim == ST_DIM_TIME && s->time.value >= 0.0;
    g->time_s = g->time_said ? s->time.value : steeps ? 30.0 * DAY_S : 0.0;
    g->time_low = g->time_said ? fmin(s->time.low > 0.0 ? s->time.low : s->time.value, s->time.value) : g->time_s;
    g->time_high = g->time_said ? fmax(s->time.high, s->time.value) : g->time_s;
    g->temperature_said = s->temperature_K.known;
    if (s->temperature_K.known)
        g->temperature_K = s->temperature_K;
    st_jar_warm(g, s->warm, s->n_warm, 0.0);
}

static bool begin_stage(struct maker *m, int step)
{
    const struct st_step *s = &m->r->step[step];
    const bool steeps = st_jar_is_at(m->r, step);
    struct st_jar *j = m->j;
    if (j->n_stage == ST_JAR_STAGES)
        return stop(m, s->at, "too many steps lead to this jar: ", s->id, "16 are followed at most",
                    "make it of fewer");
    if (!steeps && (s->boil_off_g.known || s->boil_down_to.dim == ST_DIM_VOLUME))
        return stop(m, s->at, "cannot follow this step in time: ", s->id, "liquor of a jar is boiled down in it",
                    "boil the syrup apart");
    struct st_jar one;
    st_jar_begin(&one, m->books, 0.0);
    struct st_jar_stage *g = &j->stage[j->n_stage];
    *g = one.stage[0];
    g->id = s->id ? s->id : "";
    g->step = step;
    g->steeps = g->strain = steeps;
    g->press = steeps && s->press;
    if (s->press_share.known)
        g->press_share = s->press_share;
    g->drained_solids_g = s->drained_solids_g;
    g->keeps = keeps_of(m, step, steeps);
    time_and_warmth(s, steeps, g);
    m->stage_of[step] = j->n_stage++;
    return true;
}

static bool make_stages(struct maker *m)
{
    for (int s = 0; s <= m->step; s++) {
        m->stage_of[s] = -1;
        if (!m->needed[s] || !comes_of_a_jar(m, s))
            continue;
        if (!begin_stage(m, s))
            return false;
        if (goes_on_with_the_step_before(m->r, s) &&
            !take_liquor(m, s - 1, m->before[s], m->r->step[s].at, m->stage_of[s]))
            return false;
        for (int i = 0; i < m->r->step[s].n_line; i++)
            if (!join_line(m, s, i, m->stage_of[s]))
                return false;
    }
    return true;
}

static bool make(struct maker *m)
{
    if (!st_jar_is_at(m->r, m->step))
        return stop(m, m->step >= 0 && m->step < m->r->n_step ? m->r->step[m->step].at : (struct st_place){ 0, 0 },
                    "this step is no jar", NULL, "nothing is steeped in it", "choose a step that steeps");
    if (m->r->n_step > STEPS)
        return stop(m, m->r->step[STEPS].at, "too many steps to follow in time", NULL, "200 are followed at most",
                    "part the recipe");
    if (!match_joints(m))
        return false;
    mark_needed(m, m->step);
    if (!make_stages(m))
        return false;
    return st_jar_source_ready(m->source) || stop(m, m->r->step[m->step].at, "cannot follow this jar in time", NULL,
                                                  "memory ran out", "close other programs");
}

struct st_jar *st_jar_of_recipe(const struct st_jar_books *books, const struct st_recipe *r, int step,
                                struct st_problem *problem)
{
    struct st_plan *plan = st_plan_create(r, problem);
    struct maker *m = calloc(1, sizeof *m);
    struct kept *k = calloc(1, sizeof *k);
    if (!plan || !m || !k) {
        if (plan)
            *problem = (struct st_problem){ .what = "cannot follow this jar in time",
                                            .why = "memory ran out",
                                            .try_ = "close other programs" };
        st_plan_free(plan);
        free(m);
        free(k);
        return NULL;
    }
    *m = (struct maker){ .r = r, .books = books, .j = &k->jar, .problem = problem, .step = step };
    m->source = k->source = st_jar_source_create(plan);
    k->jar.habits = books->habits;
    k->jar.compounds = books->compounds;
    k->jar.source = k->source;
    const bool done = k->source && make(m);
    free(m);
    if (done)
        return &k->jar;
    st_jar_free(&k->jar);
    return NULL;
}

void st_jar_free(struct st_jar *j)
{
    if (!j)
        return;
    st_jar_source_free(((struct kept *)j)->source);
    free(j);
}
