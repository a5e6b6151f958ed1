#include "mix_lines.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "dissolve.h"
#include "figure_words.h"
#include "line.h"
#include "point.h"
#include "stops.h"
#include "util/memory.h"

static struct st_step a_step(const char *id, enum st_do kind, struct st_line *line, int n)
{
    const struct st_range none = { .value = 0.0, .known = true, .mark = 'u', .source = "" };
    struct st_step s = { .id = id, .words = "", .kind = kind, .line = line, .n_line = n };
    s.time.dim = ST_DIM_OPEN;
    s.boil_down_to.dim = ST_DIM_OPEN;
    s.loss_share = none;
    if (kind == ST_DO_STEEP)
        s.exchanged =
            (struct st_range){ .value = 1.0, .low = 1.0, .high = 1.0, .known = true, .mark = 'u', .source = "" };
    return s;
}

static void name_solid(struct st_mix *m, const struct st_line *line)
{
    const size_t n = strlen(m->solids);
    m->n_solid++;
    if (line->what && n < sizeof m->solids)
        snprintf(m->solids + n, sizeof m->solids - n, "%s%s", n ? ", " : "", line->what->name);
}

/* On a command line or a page there is no ingredients: part. */
static void no_recipe_words(struct st_problem *p)
{
    char *recipe_only = strstr(p->try_, " or treat it like");
    if (recipe_only && recipe_only > p->try_)
        recipe_only[recipe_only[-1] == ',' ? -1 : 0] = '\0';
}

static int read_lines(struct st_mix *m, const char *const text[], enum st_measures measures,
                      const struct st_catalogue *c, struct st_problem problem[], int max)
{
    int bad = 0;
    struct st_marks marks = { .comma = false };
    for (int i = 0; i < m->n; i++)
        st_marks_see(&marks, text[i], strlen(text[i]));
    for (int i = 0; i < m->n; i++) {
        struct st_line *l = &m->all[i];
        struct st_problem p = { .what = "" };
        if (st_line_parse(text[i], measures, c, l, &p) != 0 || st_point_question(text[i], strlen(text[i]), marks, &p)) {
            p.at.line = i + 1;
            no_recipe_words(&p);
            if (bad < max)
                problem[bad++] = p;
            continue;
        }
        l->at = (struct st_place){ i + 1, 1 };
        l->from_step = -1;
        l->price = (double)NAN;
        m->n_fill += l->amount.make_up_to;
        if (l->what && st_kind_is_solid(l->what->kind))
            name_solid(m, l);
    }
    return bad;
}

/* A line told as such already: the name of a poison, misspelt. */
static const struct st_problem *stop_at(const struct st_problem problem[], int n, int line)
{
    for (int i = 0; i < n; i++)
        if (problem[i].at.line == line && strncmp(problem[i].what, "STOP:", 5) == 0)
            return &problem[i];
    return NULL;
}

/* While something must not go into a drink, only that is told: nobody is asked how strong the rest is. */
static int stops_alone(const struct st_mix *m, const char *const text[], const struct st_catalogue *c,
                       struct st_problem problem[], int max, int bad)
{
    int n = 0;
    for (int i = 0; i < m->n && n < max; i++) {
        struct st_problem p = { .at = { i + 1, 1 } };
        const struct st_ingredient *in = m->all[i].what;
        const struct st_problem *told = stop_at(problem + n, (bad < max ? bad : max) - n, i + 1);
        if (in ? st_stop_problem(in, &p) : st_stop_in_text(c, text[i], strlen(text[i]), &p))
            problem[n++] = p;
        else if (told)
            problem[n++] = *told;
    }
    return n ? n : bad;
}

/* What is filled up to a mark comes after the straining. */
static void build(struct st_mix *m, enum st_measures measures)
{
    const int n = m->n;
    struct st_line *all = m->all;
    int n_first = 0, n_last = 0;

    m->recipe = (struct st_recipe){ .file = "mix",
                                    .title = "What these make together",
                                    .note = "",
                                    .currency = "",
                                    .author = "",
                                    .schema_version = 1,
                                    .measures = measures,
                                    .step = m->step,
                                    .serving_ml = 40.0 };
    const bool at_end = m->n_fill == 1 && n > 1 && all[n - 1].amount.make_up_to;
    if (m->n_fill == 0 || m->n_fill == n || (m->n_solid == 0 && !at_end)) {
        m->step[0] = a_step("mix", m->n_solid ? ST_DO_STEEP : ST_DO_BLEND, all, n);
        m->recipe.n_step = 1;
        return;
    }
    m->first = x_calloc((size_t)n, sizeof *m->first);
    m->last = x_calloc((size_t)n + 1, sizeof *m->last);
    m->last[n_last++] = (struct st_line){ .text = "all of it",
                                          .from_step = 0,
                                          .part = ST_LIQUOR,
                                          .price = (double)NAN,
                                          .amount = { .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME } };
    for (int i = 0; i < n; i++)
        if (all[i].amount.make_up_to)
            m->last[n_last++] = all[i];
        else
            m->first[n_first++] = all[i];
    m->step[0] = a_step(m->n_solid ? "steep" : "before", m->n_solid ? ST_DO_STEEP : ST_DO_BLEND, m->first, n_first);
    m->step[1] = a_step("mix", ST_DO_BLEND, m->last, n_last);
    m->recipe.n_step = 2;
    m->filled_last = m->n_fill == 1;
}

int st_mix_read(const char *const text[], int n, enum st_measures measures, const struct st_catalogue *c,
                struct st_mix *out, struct st_problem problem[], int max)
{
    memset(out, 0, sizeof *out);
    out->n = n;
    out->all = x_calloc((size_t)n, sizeof *out->all);
    const int bad = read_lines(out, text, measures, c, problem, max);
    if (bad > 0)
        return stops_alone(out, text, c, problem, max, bad);
    build(out, measures);
    return 0;
}

void st_mix_done(struct st_mix *m)
{
    free(m->first);
    free(m->last);
    free(m->all);
    memset(m, 0, sizeof *m);
}

/* ---- remarks ---- */

/* Measured volumes of the liquids before they were put together; 0 when some liquid was not measured by volume. */
static double volume_before(const struct st_mix *m, bool *with_solids, int *n_liquid)
{
    double ml = 0.0;
    for (int i = 0; i < m->n; i++) {
        const enum st_kind kind = m->all[i].what ? m->all[i].what->kind : ST_KIND_OTHER;
        const bool dry = st_kind_is_solid(kind) || kind == ST_KIND_SUGAR || kind == ST_KIND_ACID;
        if (dry) {
            *with_solids = true;
            continue;
        }
        if (m->all[i].amount.dim != ST_DIM_VOLUME || m->all[i].amount.make_up_to || m->all[i].amount.open != ST_CLOSED)
            return 0.0;
        ml += m->all[i].amount.value;
        ++*n_liquid;
    }
    return ml;
}

static void before_text(const struct st_mix *m, const struct st_foretold *f, char *buf, size_t size)
{
    bool with_solids = false;
    int n = 0;
    const double before = volume_before(m, &with_solids, &n), after = f->fig[ST_FIG_VOLUME].value;
    const bool ounces = m->recipe.measures == ST_MEASURES_US || m->recipe.measures == ST_MEASURES_IMPERIAL;
    const double scale = !ounces ? 1.0 : m->recipe.measures == ST_MEASURES_US ? 1.0 / 29.5735295625 : 1.0 / 28.4130625;
    const char *unit = ounces ? "fl oz" : "mL";
    const int digits = ounces ? 1 : 0;

    char together[40];

    buf[0] = '\0';
    if (!(before > 0.0) || !f->fig[ST_FIG_VOLUME].known || m->n < 2)
        return;
    st_volume_value(together, sizeof together, &f->fig[ST_FIG_VOLUME], m->recipe.measures);
    if (with_solids)
        snprintf(buf, size, "The liquid%s measured %.*f %s; together with the rest it is %s.", n > 1 ? "s" : "", digits,
                 before * scale, unit, together);
    else
        snprintf(buf, size,
                 "Apart they measured %.*f %s; together it is %s (%.1f %s %s, if each was measured exactly).", digits,
                 before * scale, unit, together, fabs(before - after) * scale, unit, after <= before ? "less" : "more");
}

/* What was filled up to the mark, in grams: "water to 1000 mL" for those who would rather weigh it. */
static void filled_text(const struct st_mix *m, const struct st_foretold *f, char *buf, size_t size)
{
    buf[0] = '\0';
    if (!m->filled_last || f->n_balance != 2)
        return;
    double g = 0.0;
    for (int k = 0; k < ST_NCOMP; k++)
        g += f->balance[1].mass_g[k] - f->balance[0].mass_g[k];
    if (g > 0.0 && isfinite(g))
        snprintf(buf, size, "\"%.60s\" takes about %.0f g of it.", m->last[1].text, g);
}

/* Before it is filled up, a mixture may well hold more sugar than dissolves. */
void st_mix_forget_crystals(const struct st_mix *m, struct st_foretold *f)
{
    int n = 0;
    for (int i = 0; i < f->n_note; i++)
        if (!m->filled_last || f->note[i].step != 0 || f->note[i].code != ST_NOTE_CRYSTALLISES)
            f->note[n++] = f->note[i];
    f->n_note = n;
}

/* Sugar with nothing to dissolve it is no liquid: its strength, volume and readings would mean nothing. */
bool st_mix_is_dry(const struct st_foretold *f, struct st_problem *problem)
{
    const double *g = f->final_g;
    double more = 0.0;

    if (!st_is_dry_sugar(g) || st_water_to_dissolve(g, &more) < 0)
        return false;
    *problem = (struct st_problem){ .at = { 0, 0 } };
    snprintf(problem->what, sizeof problem->what, "there is sugar, and next to nothing to dissolve it in");
    snprintf(problem->why, sizeof problem->why, "dry sugar is a solid, not a liquid that has a strength or a reading");
    snprintf(problem->try_, sizeof problem->try_,
             "add water or spirit; about %.0f g of water just dissolves it at 20 \xc2\xb0"
             "C",
             ceil(more));
    return true;
}

void st_mix_remark(const struct st_mix *m, const struct st_foretold *f, struct st_mix_remarks *out)
{
    memset(out, 0, sizeof *out);
    if (m->n_solid)
        snprintf(out->solids, sizeof out->solids,
                 "Strained off after giving all they can: %s. They keep some of the liquor.", m->solids);
    before_text(m, f, out->before, sizeof out->before);
    filled_text(m, f, out->filled, sizeof out->filled);
}

/* ---- as a recipe file ---- */

static void yaml_line(struct st_buf *out, const char *text)
{
    st_buf_add(out, "      - '");
    for (const char *p = text; *p; p++) {
        if (*p == '\'')
            st_buf_char(out, '\'');
        st_buf_char(out, (unsigned char)*p < ' ' ? ' ' : *p);
    }
    st_buf_add(out, "'\n");
}

void st_mix_yaml(const struct st_mix *m, struct st_buf *out)
{
    static const char *const MEASURES[] = { [ST_MEASURES_NONE] = NULL,
                                            [ST_MEASURES_US] = "us",
                                            [ST_MEASURES_METRIC] = "metric",
                                            [ST_MEASURES_IMPERIAL] = "imperial" };
    st_buf_printf(out, "schema_version: 1\ntitle: %s\n", m->recipe.title);
    if (MEASURES[m->recipe.measures])
        st_buf_printf(out, "measures: %s\n", MEASURES[m->recipe.measures]);
    st_buf_add(out, "\nsteps:\n");
    for (int i = 0; i < m->recipe.n_step; i++) {
        const struct st_step *s = &m->step[i];
        st_buf_printf(out, "%s  - %s: %s\n", i ? "\n" : "", st_do_name(s->kind), s->id);
        if (s->kind == ST_DO_STEEP)
            st_buf_add(out, "    exchanged: 100 %\n    loss: 0 %\n");
        st_buf_add(out, "    add:\n");
        for (int k = 0; k < s->n_line; k++) {
            if (s->line[k].from_step >= 0)
                st_buf_printf(out, "      - all of %s\n", m->step[s->line[k].from_step].id);
            else
                yaml_line(out, s->line[k].text);
        }
    }
}
