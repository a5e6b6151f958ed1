#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/mix_lines.h"
#include "text/stops.h"

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

/* What is not understood; for the command line, the option that answers it. */
static void tell_unread(struct st_problem *p)
{
    const size_t n = strlen(p->try_);
    if (p->is_question && strstr(p->try_, "measures:"))
        snprintf(p->try_ + n, sizeof p->try_ - n,
                 "; for this command, --units us, --units metric or --units imperial answers it");
    cli_problem("mix", p);
}

static int show_json(const struct page *p, const struct st_mix_remarks *r)
{
    json_t *doc = page_json(p);
    json_t *notes = json_object_get(doc, "notes");
    const char *const said[3] = { r->solids, r->before, r->filled };
    for (int i = 0; i < 3; i++)
        if (*said[i])
            json_array_append_new(notes, json_string(said[i]));
    return cli_json_print(doc);
}

/* What says stop was told before anything else. */
static void print_watch(const struct page *p)
{
    bool any = false;
    for (int i = 0; i < p->cautions->n; i++) {
        if (p->cautions->item[i].level == ST_LEVEL_STOP)
            continue;
        if (!any)
            cli_heading("What to watch");
        any = true;
        page_caution(2, &p->cautions->item[i]);
    }
}

static void show_text(const struct page *p, const struct st_mix_remarks *r)
{
    const char *const said[3] = { r->solids, r->before, r->filled };
    char text[500];
    const bool stopped =
        page_stops(p->cautions, "This is not a drink to make. What was read, and its figures, are told "
                                "below only so that you see what was read.");

    if (stopped)
        putchar('\n');
    for (int k = 0; k < p->recipe->n_step; k++)
        for (int i = 0; i < p->recipe->step[k].n_line; i++)
            if (p->recipe->step[k].line[i].from_step < 0) {
                page_line_text(text, sizeof text, &p->recipe->step[k].line[i]);
                cli_wrap(0, 2, text);
            }
    if (stopped) {
        print_watch(p);
        cli_heading("What was read, in figures");
        page_figures(p->out, p->cli->units);
        if (p->cli->explain)
            page_explain(p);
        return;
    }
    cli_heading("What these make together");
    page_figures(p->out, p->cli->units);
    cli_heading("What your instruments would show, at 20 \xc2\xb0"
                "C");
    page_readings(p->out);
    int told = 0;
    for (int i = 0; i < p->out->n_note; i++)
        told += !st_note_is_caution(&p->out->note[i]);
    if (*said[0] || *said[1] || *said[2] || told)
        cli_heading("Worth knowing");
    for (int i = 0; i < 3; i++)
        if (*said[i])
            cli_wrap(2, 4, said[i]);
    for (int i = 0; i < p->out->n_note; i++) {
        if (st_note_is_caution(&p->out->note[i]))
            continue;
        (void)st_note_words(p->recipe, &p->out->note[i], text, sizeof text);
        cli_wrap(2, 4, text);
    }
    print_watch(p);
    if (p->cli->explain)
        page_explain(p);
}

static void tell_problems(const struct st_recipe *r, const struct st_problem *first)
{
    static struct st_problem all[ST_MAX_PROBLEMS];
    const int n = st_stop_plan_problems(r, all, ST_MAX_PROBLEMS);

    for (int i = 0; i < n; i++)
        cli_problem("mix", &all[i]);
    if (n == 0)
        cli_problem("mix", first);
}

static int tell(struct cli *c, const struct st_mix *m, struct st_foretold *out)
{
    static struct st_cautions cautions;
    static const struct st_recipe_file no_file;
    struct st_mix_remarks r;
    struct st_problem dry;
    int code = ST_EXIT_DONE;

    if (st_mix_is_dry(out, &dry)) {
        cli_problem("mix", &dry);
        return ST_EXIT_INPUT;
    }
    st_mix_forget_crystals(m, out);
    const struct st_watch watch = cli_watch(c, &m->recipe);
    st_cautions_collect(&m->recipe, out, &watch, &cautions);
    st_mix_remark(m, out, &r);
    const struct page p = { c, &no_file, &m->recipe, out, &cautions };
    if (c->json)
        code = show_json(&p, &r);
    else
        show_text(&p, &r);
    return code != ST_EXIT_DONE                                 ? code
           : st_note_limits(out) || st_cautions_stop(&cautions) ? ST_EXIT_UNMET
                                                                : ST_EXIT_DONE;
}

static int foretell(struct cli *c, const struct st_mix *m)
{
    static struct st_foretold out;
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
    else
        code = tell(c, m, &out);
    st_foretold_done(&out);
    st_plan_free(plan);
    return code;
}

int cmd_mix(struct cli *c)
{
    static struct st_problem problem[ST_MAX_PROBLEMS];
    struct st_mix m;

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
    const int bad =
        st_mix_read((const char *const *)c->argv, c->argc, c->units, catalogue, &m, problem, ST_MAX_PROBLEMS);
    for (int i = 0; i < bad; i++)
        tell_unread(&problem[i]);
    const int code = bad ? ST_EXIT_INPUT : foretell(c, &m);
    st_mix_done(&m);
    st_catalogue_free(catalogue);
    return code;
}
