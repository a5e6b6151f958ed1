#include <math.h>
#include <string.h>

#include "api/aim_kitchen.h"
#include "cli/aim.h"
#include "text/caution_heat.h"
#include "text/kitchen_words.h"

static const char *currency(const struct aim_task *t)
{
    return t->core.file->recipe.currency ? t->core.file->recipe.currency : "";
}

/* ---- the wish in one sentence ---- */

static void wish_sentence(const struct aim_task *t, char *buf, size_t size)
{
    const char *title = t->core.file->recipe.title;
    char one[120];
    snprintf(buf, size, "%s, ", title && *title ? title : "The recipe");
    if (t->core.times > 0.0) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, "%s.", t->core.because);
        return;
    }
    for (int i = 0; i < t->core.aim.n_wish; i++) {
        const size_t n = strlen(buf);
        st_aim_wish_words(&t->core.aim.wish[i], currency(t), one, sizeof one);
        snprintf(buf + n, size - n, "%s%s", i == 0 ? "with " : i + 1 < t->core.aim.n_wish ? ", " : " and ", one);
    }
    const size_t n = strlen(buf);
    if (*t->core.because)
        snprintf(buf + n, size - n, " (%s).", t->core.because);
    else
        snprintf(buf + n, size - n, ".");
}

/* ---- amounts ---- */

/* What burns is told at the line that pours it. */
void aim_fire(int indent, double strength)
{
    struct st_cautions one = { .n = 0 };
    if (st_caution_strong(&one, strength, -1, -1))
        page_caution(indent, &one.item[0]);
}

static void one_amount(const struct aim_task *t, int k)
{
    const struct st_dial *d = &t->core.aim.dial[k].dial;
    const struct st_line *l = &t->core.file->recipe.step[d->step].line[d->line];
    const bool strength = d->of == ST_DIAL_STRENGTH;
    const double was = !strength ? 1.0 : l->strength.known ? l->strength.value : l->what->strength.value;
    char name[96], before[64], after[64], change[64] = "as it is";

    st_aim_dial_name(&t->core.file->recipe, d, name, sizeof name);
    st_aim_dial_words(&t->core.file->recipe, d, was, before, sizeof before);
    if (t->core.kitchen)
        st_kitchen_item_words(&t->core.aim, &t->core.kitchen->choice.best, k, after, sizeof after);
    else
        st_aim_dial_words(&t->core.file->recipe, d, t->core.value[k], after, sizeof after);
    const double by = t->core.value[k] / was - 1.0;
    if (strength && t->core.value[k] != was)
        snprintf(change, sizeof change, "%s", t->core.value[k] > was ? "stronger" : "weaker");
    else if (strcmp(before, after) != 0 && by > 1.0)
        snprintf(change, sizeof change, "%.3g times as much", 1.0 + by);
    else if (strcmp(before, after) != 0 && fabs(by) < 0.005)
        snprintf(change, sizeof change, "hardly %s", by > 0.0 ? "more" : "less");
    else if (strcmp(before, after) != 0)
        snprintf(change, sizeof change, "%.0f %% %s", fabs(100.0 * by), by > 0.0 ? "more" : "less");
    printf("  %-24s %12s  ->  %-12s  %s\n", name, before, after, change);
    aim_fire(4, st_aim_poured(&t->core, k));
}

static bool has_dial(const struct aim_task *t, int step, int line)
{
    for (int k = 0; k < t->core.aim.n_dial; k++)
        if (t->core.aim.dial[k].dial.step == step && t->core.aim.dial[k].dial.line == line &&
            t->core.aim.dial[k].dial.of == ST_DIAL_AMOUNT)
            return true;
    return false;
}

static void print_amounts(const struct aim_task *t)
{
    char kept[600] = "";
    double strongest = 0.0;
    cli_heading("The amounts");
    for (int k = 0; k < t->core.aim.n_dial; k++)
        one_amount(t, k);
    for (int s = 0; s < t->core.file->recipe.n_step; s++)
        for (int i = 0; i < t->core.file->recipe.step[s].n_line; i++) {
            const struct st_line *l = &t->core.file->recipe.step[s].line[i];
            const size_t n = strlen(kept);
            if (!has_dial(t, s, i))
                strongest = fmax(strongest, st_line_strength(&t->core.recipe->step[s].line[i]));
            if (l->what && !has_dial(t, s, i) && n + strlen(l->text) + 3 < sizeof kept)
                snprintf(kept + n, sizeof kept - n, "%s%s", n ? "; " : "", l->text);
        }
    if (*kept)
        cli_say(2, 4, "As they are: %s.", kept);
    aim_fire(4, strongest);
}

/* ---- figures ---- */

static void print_wish(const struct aim_task *t, int i)
{
    const struct st_wish *w = &t->core.aim.wish[i];
    char text[160], line[320], wish[96];
    const struct st_interval *x = &t->core.out.fig[w->of];
    const int n = st_pips_inside(&t->core.out, w);

    if (w->of == ST_FIG_VOLUME)
        st_volume_words(text, sizeof text, x, t->cli->units);
    else
        st_figure_words(text, sizeof text, x, w->of == ST_FIG_COST ? currency(t) : st_figure_info(w->of)->unit);
    if (w->of == ST_FIG_COST && fabs(x->high - x->low) < 0.005) /* prices are given: nothing to doubt but cents */
        snprintf(text, sizeof text, "%.2f %s", x->value, currency(t));
    st_aim_wish_words(w, currency(t), wish, sizeof wish);
    if (n < 0)
        snprintf(line, sizeof line, "%s%s", text, t->core.miss[i] == 0.0 ? "" : "; MISSED");
    else
        snprintf(line, sizeof line, "%s%s; %d of 20 makings inside %s%s", text,
                 t->core.miss[i] == 0.0 ? "" : "; MISSED", n, wish, w->low == w->high ? ", give or take" : "");
    if (n >= 0 && w->low == w->high) {
        const size_t k = strlen(line);
        snprintf(line + k, sizeof line - k, " %.3g", w->tolerance);
    }
    cli_figure_line(st_figure_info(w->of)->name, line);
}

static bool is_wished(const struct aim_task *t, enum st_figure f)
{
    for (int i = 0; i < t->core.aim.n_wish; i++)
        if (t->core.aim.wish[i].of == f)
            return true;
    return false;
}

/* Figures of the recipe as written, so that what moved though nobody wished for it shows. */
static bool figures_before(const struct aim_task *t, double y[ST_NFIG])
{
    struct st_problem problem;
    struct st_foretold out;
    struct st_plan *p = st_plan_create(&t->core.file->recipe, &problem);
    const struct st_options o = { .draws = 0 };
    const bool done = p && st_plan_run(p, &o, &out) >= 0;
    for (int f = 0; done && f < ST_NFIG; f++)
        y[f] = out.fig[f].value;
    if (done)
        st_foretold_done(&out);
    st_plan_free(p);
    return done;
}

static void add_before(const struct aim_task *t, enum st_figure f, double was, char *buf, size_t size)
{
    const double now = t->core.out.fig[f].value;
    const size_t n = strlen(buf);
    if (!(fabs(now - was) > 0.05 * fabs(was)))
        return;
    if (f == ST_FIG_VOLUME)
        snprintf(buf + n, size - n, was >= 999.5 ? "; %.3g L before" : "; %.0f mL before",
                 was >= 999.5 ? was * 1e-3 : was);
    else
        snprintf(buf + n, size - n, f == ST_FIG_ACID ? "; %.2g before" : "; %.3g before", was);
}

static void print_figures(const struct aim_task *t)
{
    static const enum st_figure ALSO[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_ACID, ST_FIG_VOLUME };
    char text[200];
    double before[ST_NFIG];
    const bool known = figures_before(t, before);
    cli_heading(t->core.met ? "What you will get" : "The nearest that can be had");
    for (int i = 0; i < t->core.aim.n_wish; i++)
        print_wish(t, i);
    for (size_t i = 0; i < sizeof ALSO / sizeof *ALSO; i++) {
        const struct st_interval *x = &t->core.out.fig[ALSO[i]];
        if (is_wished(t, ALSO[i]) || !x->known || (ALSO[i] == ST_FIG_ACID && !(x->value > 0.0)))
            continue;
        if (ALSO[i] == ST_FIG_VOLUME)
            st_volume_words(text, sizeof text, x, t->cli->units);
        else
            st_figure_words(text, sizeof text, x, st_figure_info(ALSO[i])->unit);
        if (known)
            add_before(t, ALSO[i], before[ALSO[i]], text, sizeof text);
        cli_figure_line(st_figure_info(ALSO[i])->name, text);
    }
    if (t->core.aim.n_wish > 1 && t->core.out.draws > 0)
        cli_say(2, 2, "All of it together: %.0f of 20 makings.", round(20.0 * t->core.odds.all));
}

/* What nobody asked to change and that moved far. */
static void print_gave(const struct aim_task *t, const double y[ST_NFIG])
{
    char gave[500];
    st_aim_gave_words(&t->core.found.stays, y, gave, sizeof gave);
    if (*gave)
        cli_say(2, 4, "What gives way: %s.", gave);
}

/* ---- what stopped it ---- */

/* Limits in force that hold the amounts back; what is passed is told under what to watch. */
static void print_held(const struct aim_task *t)
{
    char already[300] = "";
    int n = 0;
    for (int i = 0; i < t->core.n_held; i++) {
        const struct st_aim_held *h = &t->core.held[i];
        const size_t used = strlen(already);
        if (h->as_written && !strstr(already, h->toxicant->name))
            snprintf(already + used, sizeof already - used, "%s%s", used ? ", " : "", h->toxicant->name);
        if (h->passed)
            continue;
        if (n++ == 0)
            cli_heading("Held to limits");
        cli_say(2, 4, "%s: %s%s%s.", h->toxicant->name, h->text, *h->most ? "; " : "", h->most);
    }
    if (*already && n == 0)
        cli_heading("Held to limits");
    if (*already)
        cli_say(2, 4, "The recipe as written passes a limit already (%s): these amounts hold no more of it, but for a hundredth of rounding.", already);
}

static void print_stops(const struct aim_task *t)
{
    char text[600], near[300], gave[500];
    if (t->core.found.met)
        return;
    cli_heading("Stopped by");
    for (int i = 0; i < t->core.found.n_stop && i < 3; i++) {
        const struct st_aim_stop *s = &t->core.found.stop[i];
        const double gap = st_aim_stop_gap(&t->core.aim, &t->core.found, i);
        st_aim_stop_words(&t->core.aim, s, text, sizeof text);
        if (gap < ST_AIM_HARDLY) { /* the first is told anyway: it is what stops */
            if (i == 0)
                cli_say(2, 4, "%s.", text);
            continue;
        }
        cli_say(2, 4, "%s. %s would close about %.0f %% of the gap.", text,
                s->dial >= 0 && t->core.aim.dial[s->dial].dial.of == ST_DIAL_STRENGTH ? "One % vol to the other side"
                : s->upper                                                            ? "A tenth more"
                                                                                      : "A tenth less",
                100.0 * gap);
    }
    if (t->core.found.n_stop == 0)
        cli_say(2, 4, "the wishes themselves: with these lines more of one is less of another.");
    st_aim_near_words(&t->core.aim, t->core.found.y, currency(t), near, sizeof near);
    cli_say(2, 4, "The nearest bottle: %s.", near);
    print_gave(t, t->core.found.y);
    if (t->core.n_way == 0) {
        cli_say(2, 4,
                "No single change was found that meets every wish: free more lines with --free, or wish for less.");
        return;
    }
    cli_heading(t->core.n_way == 1 ? "A way round it" : "Ways round it");
    for (int i = 0; i < t->core.n_way; i++) {
        st_aim_way_words(&t->core.aim, &t->core.way[i], currency(t), text, sizeof text);
        st_aim_near_words(&t->core.way[i].aim, t->core.way[i].found.y, currency(t), near, sizeof near);
        st_aim_gave_words(&t->core.found.stays, t->core.way[i].found.y, gave, sizeof gave);
        cli_say(2, 4, "%s: gives %s%s%s.", text, near, *gave ? "; " : "", gave);
        aim_fire(4, st_aim_way_poured(&t->core.way[i]));
    }
}

static void print_notes(const struct aim_task *t)
{
    char text[500];
    bool any = false;
    for (int i = 0; i < t->core.out.n_note; i++) {
        if (st_note_words(t->core.recipe, &t->core.out.note[i], text, sizeof text))
            continue;
        if (!any)
            cli_heading("Worth knowing");
        any = true;
        cli_wrap(2, 4, text);
    }
}

static void print_cautions(const struct aim_task *t)
{
    int notes = 0;
    bool any = false;
    for (int i = 0; i < t->core.cautions.n; i++) {
        const struct st_caution *c = &t->core.cautions.item[i];
        if (c->level == ST_LEVEL_NOTE) {
            notes++;
            continue;
        }
        if (!any)
            cli_heading("What to watch");
        any = true;
        page_caution(2, c);
    }
    if (notes)
        cli_say(2, 2, "%s%d more to know about its ingredients: stillroom foresee shows %s.", any ? "" : "\n", notes,
                notes > 1 ? "them" : "it");
}

void aim_over(const struct aim_task *t)
{
    bool any = false;
    for (int i = 0; i < t->core.cautions.n; i++) {
        if (t->core.cautions.item[i].level != ST_LEVEL_OVER)
            continue;
        if (!any)
            cli_heading("What to watch");
        any = true;
        page_caution(2, &t->core.cautions.item[i]);
    }
}

void aim_page(const struct aim_task *t)
{
    char text[600];
    wish_sentence(t, text, sizeof text);
    cli_wrap(0, 0, text);
    if (!t->core.met) { /* that it cannot be had comes before amounts that do not give it */
        print_stops(t);
        print_figures(t);
    }
    print_amounts(t);
    if (t->core.met) {
        double y[ST_NFIG];
        print_figures(t);
        for (int f = 0; f < ST_NFIG; f++)
            y[f] = t->core.out.fig[f].value;
        print_gave(t, y);
    }
    if (t->core.kitchen)
        aim_kitchen_page(t);
    if (t->core.met) /* what was written meets it, though exact amounts fell short */
        print_stops(t);
    print_held(t);
    print_notes(t);
    print_cautions(t);
}
