#include <math.h>
#include <string.h>

#include "cli/trial.h"
#include "model/amount.h"

static const char *unit_of(const struct st_trial_add *a)
{
    return a->by == ST_TRIAL_BY_ML ? "mL" : a->by == ST_TRIAL_BY_G ? "g" : "drops";
}

static bool any_drops(const struct trial *t)
{
    bool any = false;
    for (int i = 0; i < t->trial.n_add; i++)
        any = any || t->trial.add[i].by == ST_TRIAL_BY_DROPS;
    return any;
}

static void range_text(const struct st_interval *x, const char *unit, char *buf, size_t size)
{
    st_figure_words(buf, size, x, unit);
}

/* "194 g/L of sugar (192 to 196)"; the range only where it shows. */
static void short_text(const struct st_interval *x, int digits, const char *unit, char *buf, size_t size)
{
    char value[20], low[20], high[20];
    snprintf(value, sizeof value, "%.*f", digits, x->value);
    snprintf(low, sizeof low, "%.*f", digits, x->low);
    snprintf(high, sizeof high, "%.*f", digits, x->high);
    if (strcmp(low, high) == 0)
        snprintf(buf, size, "%s %s", value, unit);
    else
        snprintf(buf, size, "%s %s (%s to %s)", value, unit, low, high);
}

static void print_glass(const struct trial *t, int k)
{
    const struct st_trial_glass *g = &t->glass[k];
    char doses[200] = "", strength[120], sugar[120], acid[120] = "";
    for (int i = 0; i < t->trial.n_add; i++) {
        const size_t n = strlen(doses);
        snprintf(doses + n, sizeof doses - n, "%s%.3g %s of %.60s", n ? " and " : "", g->dose[i].count,
                 unit_of(&t->trial.add[i]), t->name[i]);
    }
    short_text(&g->strength, 1, "% vol", strength, sizeof strength);
    short_text(&g->sugar, 0, "g/L of sugar", sugar, sizeof sugar);
    if (g->acid.value > 0.05)
        short_text(&g->acid, 1, t->by_figures ? "g/L of acid added" : "g/L of acid", acid, sizeof acid);
    cli_say(2, 5, "%d  %s: %s, %s%s%s", k + 1, doses, strength, sugar, *acid ? ", " : "", acid);
}

static void print_drops(const struct trial *t)
{
    for (int i = 0; i < t->trial.n_add; i++) {
        const struct st_trial_add *a = &t->trial.add[i];
        if (a->by != ST_TRIAL_BY_DROPS)
            continue;
        if (t->weighed[i])
            cli_say(2, 4, "A drop of %s is %.3g mL by your weighing, likely between %.2g and %.2g.", t->name[i],
                    a->drop_ml.value, a->drop_ml.low, a->drop_ml.high);
        else
            cli_say(2, 4,
                    "A drop of %s is taken as %.2g mL: water about 0.05 mL, spirit about half of that, and as droppers "
                    "differ it may be twice as much or half of it (common practice, no source). Count 50 into a dish "
                    "on your scale and say --drops-50.",
                    t->name[i], a->drop_ml.value);
    }
}

static void print_rest(const struct trial *t)
{
    char g[96], ml[96], text[96], two[96];
    if (t->pick == 0)
        return;
    cli_heading("For the rest of the batch");
    cli_say(2, 4, "Glass %d, for the %.4g mL that are left (%.4g mL are gone):", t->pick, t->rest.left_ml, t->drunk_ml);
    for (int i = 0; i < t->trial.n_add; i++) {
        const struct st_trial_dose *d = &t->rest.dose[i];
        range_text(&d->g, "g", g, sizeof g);
        range_text(&d->ml, "mL", ml, sizeof ml);
        snprintf(two, sizeof two, "%.3g g", d->g.value * 2.0 / 3.0);
        cli_say(2, 4, "%s: %s; by volume %s. Add two thirds (%s), taste, finish.", t->name[i], g, ml, two);
    }
    short_text(&t->rest.after.strength, 1, "% vol", text, sizeof text);
    short_text(&t->rest.after.sugar, 0, "g/L", g, sizeof g);
    cli_figure_line("strength then", text);
    cli_figure_line("sugar then", g);
    if (t->rest.after.acid.value > 0.05) {
        short_text(&t->rest.after.acid, 1, t->by_figures ? "g/L more" : "g/L", text, sizeof text);
        cli_figure_line("acid then", text);
    }
}

/* What was taken for granted of how mL are measured. */
static void print_measure(const struct trial *t)
{
    const bool syringe = t->trial.with == ST_TRIAL_SYRINGE;
    const char *dose = "";
    for (int i = 0; i < t->trial.n_add; i++)
        if (t->trial.add[i].by == ST_TRIAL_BY_ML)
            dose = syringe ? "A dose is taken as by a syringe with a mark every 0.2 mL: 5 % and half a mark (from "
                             "memory). "
                           : "A dose is taken as by the marks of a small measure: 5 % [ansi_z61_1] and half a mark of "
                             "1 mL (common practice, no source). ";
    if (syringe)
        cli_say(0, 0, "%sThe glass is taken as filled by syringe or scale: 2 %% (from memory).", dose);
    else
        cli_say(0, 0,
                "%sThe glass is taken as filled by a jug: 5 %% [ansi_z61_1] and %.2g mL in reading it (from memory). A "
                "syringe is surer: --measure syringe.",
                dose, st_tolerance_default(ST_TOOL_JUG, t->trial.glass_ml).step);
}

/* How sure the batch itself is: the glasses differ from one another as told, and all move with it. */
static void print_batch(const struct trial *t)
{
    char strength[96], sugar[96];
    range_text(&t->strength, "% vol", strength, sizeof strength);
    range_text(&t->sugar, "g/L", sugar, sizeof sugar);
    cli_say(
        0, 0,
        "The ranges are what dosing and filling a glass may be off by, if the batch is exactly as reckoned. It is not "
        "as sure as that: its strength is %s, its sugar %s. All glasses move with it; how they differ is what the "
        "ranges tell.",
        strength, sugar);
}

void trial_page(const struct trial *t)
{
    cli_say(0, 0, "%s: %d glasses of %.3g mL each.", t->title, t->trial.n_glass, t->trial.glass_ml);
    cli_heading("The glasses");
    for (int k = 0; k < t->trial.n_glass; k++)
        print_glass(t, k);
    if (any_drops(t)) {
        cli_heading("Drops");
        print_drops(t);
    }
    print_rest(t);
    puts("");
    print_measure(t);
    if (t->by_figures)
        cli_wrap(0, 0,
                 "All this if the batch is exactly of the strength and sugar you gave; the ranges are what dosing and "
                 "filling a glass may be off by. Of its acid nothing is known: what is told is what is added.");
    else
        print_batch(t);
    if (t->pick == 0)
        cli_wrap(0, 0,
                 "Taste them in mixed order, with water between, and let somebody else pour. Small sips: it is still "
                 "alcohol. Then say --pick N.");
}

/* ---- JSON ---- */

static json_t *doses(const struct trial *t, const struct st_trial_dose dose[])
{
    json_t *all = json_array();
    for (int i = 0; i < t->trial.n_add; i++) {
        json_t *o = json_object();
        json_object_set_new(o, "name", json_string(t->name[i]));
        json_object_set_new(o, "amount", json_real(dose[i].count));
        json_object_set_new(o, "unit", json_string(unit_of(&t->trial.add[i])));
        json_object_set_new(o, "volume_ml", st_doc_interval(&dose[i].ml));
        json_object_set_new(o, "mass_g", st_doc_interval(&dose[i].g));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *glass(const struct trial *t, const struct st_trial_glass *g)
{
    json_t *o = json_object();
    json_object_set_new(o, "add", doses(t, g->dose));
    json_object_set_new(o, "strength_pct_vol", st_doc_interval(&g->strength));
    json_object_set_new(o, "sugar_g_l", st_doc_interval(&g->sugar));
    json_object_set_new(o, "acid_g_l", st_doc_interval(&g->acid));
    json_object_set_new(o, "volume_ml", st_doc_interval(&g->volume));
    return o;
}

json_t *trial_json(const struct trial *t)
{
    json_t *doc = json_object(), *glasses = json_array(), *drops = json_array();
    for (int k = 0; k < t->trial.n_glass; k++)
        json_array_append_new(glasses, glass(t, &t->glass[k]));
    for (int i = 0; i < t->trial.n_add; i++) {
        const struct st_range d = t->trial.add[i].drop_ml;
        if (t->trial.add[i].by == ST_TRIAL_BY_DROPS)
            json_array_append_new(drops, json_pack("{s:s, s:f, s:f, s:f, s:s}", "name", t->name[i], "value", d.value,
                                                   "low", d.low, "high", d.high, "source", d.source));
    }
    json_object_set_new(doc, "title", json_string(t->title));
    json_object_set_new(doc, "acid_is_added", json_boolean(t->by_figures));
    json_object_set_new(doc, "measure", json_string(t->trial.with == ST_TRIAL_SYRINGE ? "syringe" : "marks"));
    if (!t->by_figures) {
        json_object_set_new(doc, "batch_strength_pct_vol", st_doc_interval(&t->strength));
        json_object_set_new(doc, "batch_sugar_g_l", st_doc_interval(&t->sugar));
    }
    json_object_set_new(doc, "batch_ml", json_real(t->trial.batch.ml));
    json_object_set_new(doc, "glass_ml", json_real(t->trial.glass_ml));
    json_object_set_new(doc, "glasses", glasses);
    json_object_set_new(doc, "drop_ml", drops);
    if (t->pick > 0) {
        json_t *rest = glass(t, &t->rest.after);
        json_object_set_new(rest, "pick", json_integer(t->pick));
        json_object_set_new(rest, "left_ml", json_real(t->rest.left_ml));
        json_object_set_new(doc, "rest", rest);
    }
    return doc;
}
