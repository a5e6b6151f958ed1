#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/dissolve.h"
#include "text/line.h"
#include "util/memory.h"

const char cmd_mix_usage[] = "stillroom mix LINE...\n"
                             "\n"
                             "Puts the lines together, each written as a cook would:\n"
                             "\n"
                             "  stillroom mix \"700 mL vodka 40 %\" \"200 g sugar\" \"water to 1000 mL\"\n"
                             "  stillroom mix --units us \"3 cups 100 proof vodka\" \"1 cup sugar\" \"1 cup water\"\n"
                             "\n"
                             "Fruit and spice among them are taken as steeped until they have given all they\n"
                             "can, and strained off. Nothing is lost on the way but the liquor that they keep.\n"
                             "Volumes and strengths are at 20 \xc2\xb0"
                             "C.\n"
                             "\n"
                             "Ends with 1 when an amount cannot be had as written, or something says STOP.\n";

/* The lines as a recipe in memory: a blend; or a steep and, for what is filled up, a blend after it. */
struct mixing {
    struct st_recipe recipe;
    struct st_step step[2];
    struct st_line *first, *last; /* of the two steps */
    int n_solid, n_fill;
    bool filled_last; /* one line is filled up to a mark, in a step of its own: recipe.step[1] */
    char solids[200];
};

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

static void name_solid(struct mixing *m, const struct st_line *line)
{
    const size_t n = strlen(m->solids);
    m->n_solid++;
    if (line->what && n < sizeof m->solids)
        snprintf(m->solids + n, sizeof m->solids - n, "%s%s", n ? ", " : "", line->what->name);
}

static bool read_lines(struct mixing *m, struct cli *c, const struct st_catalogue *catalogue, struct st_line *all)
{
    bool good = true;
    for (int i = 0; i < c->argc; i++) {
        struct st_problem problem = { .what = "" };
        if (st_line_parse(c->argv[i], c->units, catalogue, &all[i], &problem) != 0) {
            problem.at.line = i + 1;
            char *recipe_only = strstr(problem.try_, " or treat it like"); /* a command line has no ingredients: part */
            if (recipe_only && recipe_only > problem.try_)
                recipe_only[recipe_only[-1] == ',' ? -1 : 0] = '\0';
            if (problem.is_question && strstr(problem.try_, "measures:"))
                snprintf(problem.try_ + strlen(problem.try_), sizeof problem.try_ - strlen(problem.try_),
                         "; for this command, --units us, --units metric or --units imperial answers it");
            cli_problem("mix", &problem);
            good = false;
            continue;
        }
        all[i].at = (struct st_place){ i + 1, 1 };
        all[i].from_step = -1;
        all[i].price = (double)NAN;
        if (all[i].amount.make_up_to)
            m->n_fill++;
        if (all[i].what && st_kind_is_solid(all[i].what->kind))
            name_solid(m, &all[i]);
    }
    return good;
}

/* What is filled up to a mark comes after the straining. */
static void build(struct mixing *m, struct cli *c, struct st_line *all)
{
    const int n = c->argc;
    int n_first = 0, n_last = 0;

    m->recipe = (struct st_recipe){ .file = "mix",
                                    .title = "What these make together",
                                    .note = "",
                                    .currency = "",
                                    .author = "",
                                    .schema_version = 1,
                                    .measures = c->units,
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

/* Measured volumes of the liquids before they were put together; 0 when some liquid was not measured by volume. */
static double volume_before(const struct cli *c, const struct st_line *all, bool *with_solids, int *n_liquid)
{
    double ml = 0.0;
    for (int i = 0; i < c->argc; i++) {
        const enum st_kind kind = all[i].what ? all[i].what->kind : ST_KIND_OTHER;
        const bool dry = st_kind_is_solid(kind) || kind == ST_KIND_SUGAR || kind == ST_KIND_ACID;
        if (dry) {
            *with_solids = true;
            continue;
        }
        if (all[i].amount.dim != ST_DIM_VOLUME || all[i].amount.make_up_to || all[i].amount.open != ST_CLOSED)
            return 0.0;
        ml += all[i].amount.value;
        ++*n_liquid;
    }
    return ml;
}

static void before_text(const struct cli *c, const struct st_line *all, const struct st_foretold *f, char *buf,
                        size_t size)
{
    bool with_solids = false;
    int n = 0;
    const double before = volume_before(c, all, &with_solids, &n), after = f->fig[ST_FIG_VOLUME].value;
    const bool ounces = c->units == ST_MEASURES_US || c->units == ST_MEASURES_IMPERIAL;
    const double scale = !ounces ? 1.0 : c->units == ST_MEASURES_US ? 1.0 / 29.5735295625 : 1.0 / 28.4130625;
    const char *unit = ounces ? "fl oz" : "mL";
    const int digits = ounces ? 1 : 0;

    char together[40];

    buf[0] = '\0';
    if (!(before > 0.0) || !f->fig[ST_FIG_VOLUME].known || c->argc < 2)
        return;
    cli_volume_value(together, sizeof together, &f->fig[ST_FIG_VOLUME], c->units);
    if (with_solids)
        snprintf(buf, size, "The liquid%s measured %.*f %s; together with the rest it is %s.", n > 1 ? "s" : "", digits,
                 before * scale, unit, together);
    else
        snprintf(buf, size,
                 "Apart they measured %.*f %s; together it is %s (%.1f %s %s, if each was measured exactly).", digits, before * scale, unit, together, fabs(before - after) * scale, unit,
                 after <= before ? "less" : "more");
}

/* What was filled up to the mark, in grams: "water to 1000 mL" for those who would rather weigh it. */
static void filled_text(const struct mixing *m, const struct st_foretold *f, char *buf, size_t size)
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
static void forget_crystals(const struct mixing *m, struct st_foretold *f)
{
    int n = 0;
    for (int i = 0; i < f->n_note; i++)
        if (!m->filled_last || f->note[i].step != 0 || f->note[i].code != ST_NOTE_CRYSTALLISES)
            f->note[n++] = f->note[i];
    f->n_note = n;
}

/* What mix has to say beside the notes of the plan. */
struct remarks {
    char solids[300], before[200], filled[160];
};

static int show_json(const struct page *p, const struct remarks *r)
{
    json_t *doc = page_json(p);
    json_t *notes = json_object_get(doc, "notes");
    const char *const said[3] = { r->solids, r->before, r->filled };
    for (int i = 0; i < 3; i++)
        if (*said[i])
            json_array_append_new(notes, json_string(said[i]));
    return cli_json_print(doc);
}

static void show_text(const struct page *p, const struct remarks *r)
{
    const char *const said[3] = { r->solids, r->before, r->filled };
    char text[500];

    for (int k = 0; k < p->recipe->n_step; k++)
        for (int i = 0; i < p->recipe->step[k].n_line; i++)
            if (p->recipe->step[k].line[i].from_step < 0) {
                page_line_text(text, sizeof text, &p->recipe->step[k].line[i]);
                cli_wrap(0, 2, text);
            }
    cli_heading("What these make together");
    page_figures(p->out, p->cli->units);
    cli_heading("What your instruments would show, at 20 \xc2\xb0"
                "C");
    page_readings(p->out);
    int told = 0;
    for (int i = 0; i < p->out->n_note; i++)
        told += !page_note_is_caution(&p->out->note[i]);
    if (*said[0] || *said[1] || *said[2] || told)
        cli_heading("Worth knowing");
    for (int i = 0; i < 3; i++)
        if (*said[i])
            cli_wrap(2, 4, said[i]);
    for (int i = 0; i < p->out->n_note; i++) {
        if (page_note_is_caution(&p->out->note[i]))
            continue;
        (void)page_note(p->recipe, &p->out->note[i], text, sizeof text);
        cli_wrap(2, 4, text);
    }
    if (p->cautions->n)
        cli_heading("What to watch");
    for (int i = 0; i < p->cautions->n; i++)
        page_caution(2, &p->cautions->item[i]);
    if (p->cli->explain)
        page_explain(p);
}

/* Sugar with nothing to dissolve it is no liquid: its strength, volume and readings would mean nothing. */
static bool refuse_dry(const struct st_foretold *f)
{
    const double *g = f->final_g;
    struct st_problem p = { .at = { 0, 0 } };
    double more = 0.0;

    if (!st_is_dry_sugar(g) || st_water_to_dissolve(g, &more) < 0)
        return false;
    snprintf(p.what, sizeof p.what, "there is sugar, and next to nothing to dissolve it in");
    snprintf(p.why, sizeof p.why, "dry sugar is a solid, not a liquid that has a strength or a reading");
    snprintf(p.try_, sizeof p.try_, "add water or spirit; about %.0f g of water just dissolves it at 20 \xc2\xb0"
             "C", ceil(more));
    cli_problem("mix", &p);
    return true;
}

static void tell_problems(const struct st_recipe *r, const struct st_problem *first)
{
    static struct st_problem all[ST_MAX_PROBLEMS];
    const int n = st_plan_problems(r, all, ST_MAX_PROBLEMS);

    for (int i = 0; i < n; i++)
        cli_problem("mix", &all[i]);
    if (n == 0)
        cli_problem("mix", first);
}

static int foretell(struct cli *c, const struct mixing *m, const struct st_line *all)
{
    static struct st_foretold out;
    static struct st_cautions cautions;
    static const struct st_recipe_file no_file;
    struct st_problem problem = { .what = "" };
    const double start = cli_now_ms();

    struct st_plan *plan = st_plan_create(&m->recipe, &problem);
    if (!plan) {
        tell_problems(&m->recipe, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options options = { .seed = c->seed, .draws = c->draws, .effects = c->explain || c->json };
    const enum st_status s = st_plan_run(plan, &options, &out);
    if (c->timing)
        fprintf(stderr, "plan and %d draws %.1f ms\n", c->draws, cli_now_ms() - start);
    int code = ST_EXIT_INPUT;
    if (s < 0)
        cli_error("mix", st_status_text(s), "look for an amount that is far too large or too small");
    else if (refuse_dry(&out))
        st_foretold_done(&out);
    else {
        struct remarks r = { .solids = "" };
        forget_crystals(m, &out);
        st_cautions_collect(&m->recipe, &out, &cautions);
        const struct page p = { c, &no_file, &m->recipe, &out, &cautions };
        if (m->n_solid)
            snprintf(r.solids, sizeof r.solids,
                     "Strained off after giving all they can: %s. They keep some of the liquor.", m->solids);
        before_text(c, all, &out, r.before, sizeof r.before);
        filled_text(m, &out, r.filled, sizeof r.filled);
        code = ST_EXIT_DONE;
        if (c->json)
            code = show_json(&p, &r);
        else
            show_text(&p, &r);
        if (code == ST_EXIT_DONE && (page_limits(&out) || page_stops(&cautions)))
            code = ST_EXIT_UNMET;
        st_foretold_done(&out);
    }
    st_plan_free(plan);
    return code;
}

int cmd_mix(struct cli *c)
{
    if (!cli_no_more_options(c, NULL))
        return ST_EXIT_INPUT;
    if (c->argc == 0) {
        fprintf(stderr, "stillroom mix: no lines were given\n\n%s", cmd_mix_usage);
        cli_error_kept("no lines were given", "there is nothing to put together",
                       "write for example: stillroom mix \"700 mL vodka 40 %\" \"200 g sugar\"");
        return ST_EXIT_INPUT;
    }
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;
    struct st_line *all = x_calloc((size_t)c->argc, sizeof *all);
    struct mixing m = { .n_solid = 0 };
    int code = ST_EXIT_INPUT;
    if (read_lines(&m, c, catalogue, all)) {
        build(&m, c, all);
        code = foretell(c, &m, all);
    }
    free(m.first);
    free(m.last);
    free(all);
    st_catalogue_free(catalogue);
    return code;
}
