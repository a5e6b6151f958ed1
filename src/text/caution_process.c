#include "caution_process.h"

#include <stdio.h>
#include <string.h>

#include "caution_heat.h"
#include "caution_list.h"
#include "core/flash.h"
#include "core/keeping.h"
#include "core/strength.h"
#include "held.h"
#include "low_acid.h"
#include "said_of.h"

static const char MEMORY[] = "from memory", PRACTICE[] = "common practice, no source", FLASH[] = "[flash_table]";
static const double DAY_S = 86400.0;

static bool is_told(const struct st_cautions *out, const char *code, int step)
{
    for (int i = 0; i < out->n; i++)
        if (out->item[i].step == step && strcmp(out->item[i].code, code) == 0)
            return true;
    return false;
}

static double days_of(const struct st_step *s)
{
    return s->time.dim == ST_DIM_TIME && s->time.high > 0.0 ? s->time.high / DAY_S : 0.0;
}

/* What the liquid of a step stands at while things lie in it, % vol; below 0 when nobody knows. */
static double strength_of(const struct st_recipe *r, const struct st_foretold *f, int step)
{
    if (!f || !f->balance || step >= f->n_balance)
        return -1.0;
    const struct st_balance *b = &f->balance[step];
    return r->step[step].kind == ST_DO_STEEP ? b->strength_in_steep : b->strength;
}

/* ---- low acid, oil ---- */

static void low_acid(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    const struct st_step *s = &r->step[step];
    const double q = strength_of(r, f, step), limit = st_floor_get(ST_FLOOR_SHELF)->limit;
    if ((s->kind != ST_DO_STEEP && s->kind != ST_DO_BLEND) || !(q >= 0.0 && q < limit))
        return;
    for (int i = 0; i < s->n_line; i++)
        if (st_is_low_acid(s->line[i].what))
            st_caution_because(
                st_caution_add(out, ST_LEVEL_CAUTION, "low_acid", "[botulism_advice]", step, i,
                               "%s lies under about %.0f %% vol: little acid, little alcohol", s->line[i].what->name,
                               q),
                "botulism needs little acid (pH above 4.6), no air and little alcohol (stopped near 6 %% vol, an "
                "unverified figure), and its poison has no smell: steep it in %.0f %% vol or more, or keep the jar in "
                "the refrigerator and strain it within days",
                limit);
}

/* The line of fat in a step, and of something low in acid; -1 none. */
static void oil(struct st_cautions *out, const struct st_step *s, int step)
{
    int fat = -1, low = -1;
    for (int i = 0; i < s->n_line; i++) {
        fat = fat < 0 && st_is_fat(s->line[i].what) ? i : fat;
        low = low < 0 && st_is_low_acid(s->line[i].what) ? i : low;
    }
    if (fat < 0 || low < 0)
        return;
    st_caution_because(
        st_caution_add(out, ST_LEVEL_CAUTION, "oil_infusion", "[botulism_advice]", step, fat,
                       "%s lies in %s, where no air comes to it", s->line[low].what->name, s->line[fat].what->name),
        "that is what botulism grows in (pH above 4.6, no air), and alcohol does not go into oil: make "
        "it fresh, keep it in the refrigerator, and bin what is left after 4 days (an unverified figure)");
}

/* ---- made ahead ---- */

static double sugar_share(const struct st_balance *b)
{
    double all = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        all += b->mass_g[c];
    return all > 0.0 ? (b->mass_g[ST_SUCROSE] + b->mass_g[ST_GLUCOSE] + b->mass_g[ST_FRUCTOSE]) / all : 0.0;
}

/* From here on a syrup is counted as one that keeps for a while; from memory. */
static const double STRONG_SYRUP = 0.65;

static void weak_syrup(struct st_cautions *out, const struct st_balance *b, int step)
{
    const double share = sugar_share(b);
    if (share > 0.0 && share < STRONG_SYRUP)
        st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "made_ahead", MEMORY, step, -1,
                                          "this syrup is %.0f %% sugar, and is kept", 100.0 * share),
                           "below about 65 %% a syrup ferments and moulds: equal parts keep about a week in the "
                           "refrigerator, two of sugar to one of water some weeks (unverified figures); make it when "
                           "it is needed, and bin what is cloudy or fizzes");
}

static void made_ahead(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    static const char KEPT[] = "|in advance|ahead|fridge|refrigerator|refrigerate|leftover|left over|for a week|weeks|"
                               "months|days ahead|overnight in|store|stored|";
    const struct st_step *s = &r->step[step];
    const double days = days_of(s);
    size_t n;
    if (!f || !f->balance || step >= f->n_balance || f->balance[step].mass_g[ST_ETHANOL] > 0.0 ||
        step == r->n_step - 1 || is_told(out, "made_ahead", step))
        return;
    if (s->kind == ST_DO_SYRUP && (days >= 1.0 || st_said_of(s->words, KEPT, &n)))
        weak_syrup(out, &f->balance[step], step);
    else if (s->kind != ST_DO_SYRUP && s->kind != ST_DO_TOAST && days >= 1.0 && s->n_line > 0)
        st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "made_ahead", PRACTICE, step, -1,
                                          "this stands without spirit (for about %.0f days)", days),
                           "0 %% vol keeps nothing: it ferments, turns sour or moulds; keep it in the refrigerator, a "
                           "day at most, or give it its spirit first");
}

/* ---- fire ---- */

static bool flash_of(double q, double *T_C)
{
    double w[ST_NCOMP] = { 0 }, T_K = 0.0;
    if (st_p_from_strength(q < 100.0 ? q : 100.0, &w[ST_ETHANOL]) < 0)
        return false;
    w[ST_WATER] = 1.0 - w[ST_ETHANOL];
    if (st_flash_point(w, &T_K) < 0)
        return false;
    *T_C = T_K - 273.15;
    return true;
}

/* The jar as it stands in the room, at the strongest that is poured or stands there; what is heated or strong has its
 * own caution. */
static void flash(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    double T_C, q = strength_of(r, f, step);
    if (q < 0.0 || r->step[step].kind != ST_DO_STEEP || is_told(out, "flammable", step) || is_told(out, "heat", step) ||
        is_told(out, "hot_pour", step))
        return;
    const double poured = st_strongest(&r->step[step]);
    q = poured > q ? poured : q;
    if (!flash_of(q, &T_C))
        return;
    st_caution_because(
        st_caution_add(out, ST_LEVEL_NOTE, "flash", FLASH, step, -1,
                       "its vapour can be lit from about %.0f °C on (%.0f %% vol)", T_C, q),
        "closed-cup flash point, 4 °C either way, and lower on a cloth or near a flame: open it away from "
        "flames");
}

/* ---- glass ---- */

static void glass(struct st_cautions *out, const struct st_recipe *r, int step)
{
    static const char CLOSED[] = "|seal hot|sealed hot|bottle hot|bottled hot|fill hot|filled hot|close hot|while hot|"
                                 "while still hot|while warm|while still warm|still hot|still warm|";
    const struct st_step *s = &r->step[step];
    size_t n;
    if (s->kind == ST_DO_BOTTLE && st_said_of(s->words, CLOSED, &n))
        st_caution_because(
            st_caution_add(out, ST_LEVEL_CAUTION, "glass", PRACTICE, step, -1, "warm liquid is closed into glass here"),
            "with spirit in it pressure builds up as it is warmed, and a full bottle has no room for it: "
            "let it cool to 20 °C first, and leave some air under the stopper");
    else if (is_told(out, "hot_pour", step) || is_told(out, "heat", step))
        st_caution_because(st_caution_add(out, ST_LEVEL_NOTE, "glass", MEMORY, step, -1,
                                          "something hot here: if the vessel is glass it may break"),
                           "plain glass bears a jump of about 40 °C (an unverified figure), less where it is scratched "
                           "or thick: never boiling syrup into a cold jar, never a hot jar on a cold stone, never a "
                           "closed jar warmed");
}

/* ---- fruit that is kept ---- */

static bool is_fruit(const struct st_ingredient *in)
{
    return in && (in->kind == ST_KIND_FRESH_FRUIT || in->kind == ST_KIND_FROZEN_FRUIT ||
                  in->kind == ST_KIND_TINNED_FRUIT || in->kind == ST_KIND_DRIED_FRUIT);
}

/* The line that brings fruit into a step, by itself or drained from an earlier jar; its fruit in *in.  -1 none. */
static int fruit_line(const struct st_recipe *r, int step, const struct st_ingredient **in)
{
    for (int i = 0; i < r->step[step].n_line; i++) {
        const struct st_line *l = &r->step[step].line[i];
        if (is_fruit(l->what)) {
            *in = l->what;
            return i;
        }
        if (l->from_step >= 0 && l->from_step < step && l->part == ST_SPENT && fruit_line(r, l->from_step, in) >= 0)
            return i;
    }
    return -1;
}

/* All of it goes into another jar, which tells it. */
static bool goes_on(const struct st_recipe *r, int step)
{
    for (int s = step + 1; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (l->from_step == step && l->part == ST_SPENT && l->amount.dim == ST_DIM_OPEN)
                return true;
        }
    return false;
}

static void steeped_fruit(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    static const char EATEN[] =
        "|eat|eaten|serve|dessert|cake|cakes|ice cream|pudding|snack|jam|chocolate|keep the fruit|"
        "children|";
    const struct st_step *s = &r->step[step];
    const struct st_ingredient *in = NULL;
    const int line = fruit_line(r, step, &in);
    double all = 0.0;
    size_t n;
    if (!f || !f->balance || step >= f->n_balance || s->kind != ST_DO_STEEP || line < 0 || goes_on(r, step))
        return;
    const struct st_balance *b = &f->balance[step];
    for (int c = 0; c < ST_NCOMP; c++)
        all += b->spent_g[c];
    const double share = all > 0.0 ? 100.0 * b->spent_g[ST_ETHANOL] / all : 0.0;
    if (share < 0.1)
        return;
    st_caution_because(st_caution_add(out, st_step_says(s, EATEN, &n) ? ST_LEVEL_CAUTION : ST_LEVEL_NOTE,
                                      "steeped_fruit", PRACTICE, step, line,
                                      "%s, strained off, holds about %.0f g of ethanol in 100 g", in->name, share),
                       "what it holds is about %.0f %% vol, by the balance of this recipe: not for children, not "
                       "before driving; baking drives "
                       "off part of it only",
                       b->strength_in_steep);
}

/* ---- light ---- */

static bool is_cyanogenic(const struct st_ingredient *in)
{
    for (int i = 0; in && i < in->n_caution; i++)
        if (strcmp(in->caution[i].what, "cyanogenic") == 0 && !st_flag_stops(&in->caution[i]))
            return true;
    return false;
}

/* Once a recipe, at the first such thing, toasted first or not. */
static void light(struct st_cautions *out, const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            if (!is_cyanogenic(in) || (in->kind != ST_KIND_KERNEL && !st_ingredient_has_stones(in)))
                continue;
            st_caution_because(st_caution_add(out, ST_LEVEL_NOTE, "light", MEMORY, s, i,
                                              "%s: keep the jar and the bottle dark", in->name),
                               "in light and warmth hydrogen cyanide and alcohol make ethyl carbamate (EU mark for "
                               "stone-fruit spirits: 1 mg/L, an unverified figure)");
            return;
        }
}

/* What a pasted recipe asks for in a sentence that came into no step. */
static void whole_text(struct st_cautions *out, const struct st_recipe *r)
{
    for (int i = 0; i < out->n; i++)
        if (strcmp(out->item[i].code, "distil") == 0)
            return;
    if (st_asks_for_a_still(r->original))
        st_caution_distil(out, -1, -1);
}

void st_caution_process(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f)
{
    for (int s = 0; s < r->n_step; s++) {
        low_acid(out, r, f, s);
        oil(out, &r->step[s], s);
        made_ahead(out, r, f, s);
        flash(out, r, f, s);
        glass(out, r, s);
        steeped_fruit(out, r, f, s);
        st_caution_words(out, r->step[s].words, s, -1);
        for (int i = 0; i < r->step[s].n_line; i++)
            st_caution_words(out, r->step[s].line[i].text, s, i);
    }
    light(out, r);
    whole_text(out, r);
}
