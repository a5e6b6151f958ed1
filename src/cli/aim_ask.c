#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/aim.h"
#include "model/reverse.h"
#include "text/amount_fine.h"

/* ---- spirit and water ---- */

static bool strength_option(struct cli *c, const char *name, double *q, bool *bad)
{
    const char *text = cli_option(c, name, bad);
    char number[40], what[80];
    if (!text || *bad)
        return false;
    const size_t n = strcspn(text, "% ");
    snprintf(number, sizeof number, "%.*s", (int)(n < 39 ? n : 39), text);
    if (cli_number(number, q) && *q > 0.0 && *q <= 100.0 && (text[n] == '\0' || strchr(text + n, '%')))
        return true;
    snprintf(what, sizeof what, "--%s \"%.40s\"", name, text);
    cli_error(what, "it is no strength in % vol above 0 and up to 100",
              "write for example --dilute 95 --to 50 --have \"500 mL\"");
    *bad = true;
    return false;
}

static json_t *dilution_json(const struct st_dilution *d)
{
    return json_pack("{s:f, s:f, s:f, s:f, s:f, s:f, s:f}", "spirit_ml", d->spirit_ml, "spirit_g", d->spirit_g,
                     "water_ml", d->water_ml, "water_g", d->water_g, "made_ml", d->made_ml, "made_g", d->made_g,
                     "shrinks_ml", d->shrinks_ml);
}

static void say_dilution(const char *heading, const struct st_dilution *d, double from, double to)
{
    cli_heading(heading);
    cli_say(2, 4, "%.4g mL (%.4g g) of %.4g %% vol and %.4g mL (%.4g g) of water make %.4g mL (%.4g g) of %.4g %% vol.",
            d->spirit_ml, d->spirit_g, from, d->water_ml, d->water_g, d->made_ml, d->made_g, to);
    if (d->shrinks_ml >= 0.05)
        cli_say(2, 4, "Together it is %.2g mL less than the two measured apart.", d->shrinks_ml);
}

int aim_dilute(struct cli *c)
{
    static const char *const known[] = { "--dilute", "--to", "--have", "--json", NULL };
    bool bad = false;
    double from = 0.0, to = 0.0;
    struct st_amount have;
    struct st_dilution all, make;

    const bool has_from = strength_option(c, "dilute", &from, &bad),
               has_to = !bad && strength_option(c, "to", &to, &bad);
    const char *said = bad ? NULL : cli_option(c, "have", &bad);
    if (bad || !cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    if (!has_from || !has_to || !said || c->argc > 0) {
        cli_error(c->argc > 0 ? c->argv[0] : "aim --dilute",
                  c->argc > 0 ? "no recipe is wanted here" : "it wants --to and --have too",
                  "write for example: stillroom aim --dilute 95 --to 50 --have \"500 mL\"");
        return ST_EXIT_INPUT;
    }
    if (!aim_volume(c, "have", said, &have))
        return ST_EXIT_INPUT;
    if (st_dilute_all(from, to, have.value, &all) < 0 || st_dilute_make(from, to, have.value, &make) < 0) {
        cli_error("--to", "water makes spirit weaker, not stronger", "wish for a strength below that of the spirit");
        return ST_EXIT_INPUT;
    }
    if (c->json)
        return cli_json_print(json_pack("{s:f, s:f, s:o, s:o, s:[s]}", "strength_pct_vol", to, "from_pct_vol", from,
                                        "use_all", dilution_json(&all), "make_in_all", dilution_json(&make), "sources",
                                        "oiml1975"));
    char heading[80];
    printf("Spirit of %.4g %% vol brought down to %.4g %% vol with water, at 20 \xc2\xb0"
           "C\n",
           from, to);
    snprintf(heading, sizeof heading, "All of your %.4g mL", have.value);
    say_dilution(heading, &all, from, to);
    snprintf(heading, sizeof heading, "%.4g mL in all", have.value);
    say_dilution(heading, &make, from, to);
    puts("");
    cli_wrap(
        0, 0,
        "Weigh the water: a gram of it is near a millilitre. Strong spirit burns: no flame near it while you pour.");
    cli_wrap(0, 0, "By the density tables of ethanol and water [oiml1975]; a label may be 0.3 % vol off.");
    return ST_EXIT_DONE;
}

/* ---- what spirit over this fruit ---- */

static bool first_steep(const struct st_recipe *r, int *step, int *line)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line && r->step[s].kind == ST_DO_STEEP; i++)
            if (r->step[s].line[i].what && r->step[s].line[i].what->kind == ST_KIND_SPIRIT) {
                *step = s;
                *line = i;
                return true;
            }
    return false;
}

/* The recipe with that spirit, held against the limits.  False after a message. */
static bool with_spirit(struct aim_task *t, int step, int line, double q)
{
    struct st_problem problem = { .what = "" };
    struct st_aim_task *a = &t->core;
    aim_give(t);
    if (!st_aim_free_strength(&a->aim, step, line, q, q, ST_BOUND_ASKED))
        return true;
    a->value[0] = q;
    a->made = st_aim_recipe(&a->aim, a->value);
    if (!a->made || !st_aim_foretell(a, a->made, &problem)) {
        cli_problem(t->name, &problem);
        return false;
    }
    (void)st_aim_watch(a);
    return true;
}

int aim_spirit_for(struct aim_task *t, const char *strength)
{
    struct st_problem problem = { .what = "" };
    const struct st_recipe *r = &t->core.file->recipe;
    int step = 0, line = 0;
    double wish, q;
    if (!cli_number(strength, &wish) || !(wish > 0.0 && wish < 96.0)) {
        cli_error("--spirit-for", "it is no strength in % vol", "write for example --spirit-for 30");
        return ST_EXIT_INPUT;
    }
    if (!first_steep(r, &step, &line)) {
        cli_error(t->name, "it steeps nothing in a spirit", "name a recipe that does");
        return ST_EXIT_INPUT;
    }
    const enum st_status s = st_spirit_for(r, step, line, wish, &q, &problem);
    if (s < 0) {
        cli_problem(t->name, &problem);
        return s == ST_E_REFUSED && strstr(problem.what, "no spirit leaves") ? ST_EXIT_UNMET : ST_EXIT_INPUT;
    }
    if (!with_spirit(t, step, line, q))
        return ST_EXIT_INPUT;
    const int code = t->core.over ? ST_EXIT_UNMET : ST_EXIT_DONE;
    const struct st_line *l = &r->step[step].line[line];
    if (t->cli->json) {
        const int printed = cli_json_print(json_pack("{s:f, s:f, s:s, s:i, s:i, s:s, s:b, s:o}", "spirit_pct_vol", q,
                                                     "over_fruit_pct_vol", wish, "name", l->what->name, "step",
                                                     step + 1, "line", line + 1, "status", st_status_text(s),
                                                     "over_limit", t->core.over, "limits", st_doc_aim_held(&t->core)));
        return printed != ST_EXIT_DONE ? printed : code;
    }
    cli_say(0, 0,
            "%s of %.1f %% vol in the place of \"%s\" leaves %.3g %% vol over the fruit of %s, once all has mixed.",
            l->what->name, q, l->text, wish, r->step[step].id);
    aim_fire(2, q);
    aim_over(t);
    return code;
}

/* ---- everything by one factor ---- */

/* Figures of steps that a factor has to reach too, and that stand in the file apart from the lines. */
static const char *own_figure(const struct st_step *s)
{
    return s->drained_solids_g.known                 ? "drained"
           : s->boil_off_g.known                     ? "boil_off"
           : s->boil_down_to.dim != ST_DIM_OPEN      ? "boil_down_to"
           : s->loss_ml.known && s->loss_ml.high > 0 ? "loss_ml"
                                                     : NULL;
}

static bool batch_factor(struct aim_task *t, const struct aim_options *o, double *factor)
{
    struct st_problem problem = { .what = "" };
    const struct st_recipe *r = &t->core.file->recipe;
    struct st_amount a;
    double spirit, bottles;
    int step = 0;
    *factor = o->times > 0.0 ? o->times : 1.0;
    if (o->whole_bottles) {
        if (!aim_volume(t->cli, "whole-bottles", o->whole_bottles, &a))
            return false;
        if (st_spirit_in(r, &spirit) < 0) {
            cli_error(t->name, "its spirit is not all measured by volume", "write it in mL, or use --times alone");
            return false;
        }
        const double times = *factor;
        (void)st_whole_bottles(spirit, a.value, times, &bottles, factor);
        snprintf(t->core.because, sizeof t->core.because, "%.3g times everything: %g bottle%s of %g mL of spirit%s",
                 *factor, bottles, bottles > 1.0 ? "s" : "", a.value,
                 fabs(*factor / times - 1.0) > 0.005 ? ", the nearest whole number" : "");
    } else if (o->times > 0.0) {
        snprintf(t->core.because, sizeof t->core.because, "%.4g times everything", *factor);
    }
    if (!o->jar)
        return true;
    double fits;
    if (!aim_volume(t->cli, "jar", o->jar, &a))
        return false;
    aim_set_jar(t, a.value);
    if (st_fits_jar(r, ST_AIM_BRIM * a.value, &fits, &step, &problem) < 0) {
        cli_problem(t->name, &problem);
        return false;
    }
    if (o->times > 0.0 || o->whole_bottles) {
        if (*factor <= fits)
            return true;
        cli_error("--jar", "it does not hold that much", "take a larger one, or leave --times out to fill it");
        return false;
    }
    *factor = fits;
    snprintf(t->core.because, sizeof t->core.because, "%.3g times everything, which fills the jar of %.3g L (step %s)",
             fits, a.value * 1e-3, r->step[step].id);
    return true;
}

int aim_batch(struct aim_task *t, const struct aim_options *o)
{
    const struct st_recipe *r = &t->core.file->recipe;
    double factor;
    if (o->n_wish > 0 || o->free || o->keep || o->n_have || o->spirit) {
        cli_error("aim", "everything by one factor and a wish do not go together",
                  "ask for one, then for the other of its result");
        return ST_EXIT_INPUT;
    }
    if (!batch_factor(t, o, &factor))
        return ST_EXIT_INPUT;
    for (int s = 0; s < r->n_step; s++) {
        if (own_figure(&r->step[s])) {
            char what[80];
            snprintf(what, sizeof what, "step %.40s", r->step[s].id);
            struct st_problem p = { .at = r->step[s].at };
            snprintf(p.what, sizeof p.what, "%s has a figure of its own: `%s`", what, own_figure(&r->step[s]));
            snprintf(p.why, sizeof p.why, "it belongs to this batch size and would have to follow");
            snprintf(p.try_, sizeof p.try_, "take it out, or make it a share, before changing the batch");
            cli_problem(t->name, &p);
            return ST_EXIT_INPUT;
        }
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_amount *m = &r->step[s].line[i].amount;
            const bool share = !r->step[s].line[i].what && m->dim == ST_DIM_PIECE; /* "half of jar" stays half */
            if (share || m->open != ST_CLOSED || m->dim == ST_DIM_OPEN)
                continue;
            if (!st_aim_free(&t->core.aim, s, i)) {
                cli_error(t->name, "it has more lines than can be changed at once", "sixteen is the most");
                return ST_EXIT_INPUT;
            }
            t->core.found.value[t->core.aim.n_dial - 1] = factor;
        }
    }
    t->core.times = factor;
    t->core.found.met = true;
    return ST_EXIT_DONE;
}
