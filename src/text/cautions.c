#include "cautions.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "caution_brought.h"
#include "caution_heat.h"
#include "caution_list.h"
#include "caution_process.h"
#include "core/keeping.h"
#include "dissolve.h"
#include "held.h"
#include "ledger_words.h"
#include "model/allergens_in.h"
#include "model/line_goods.h"
#include "stone_words.h"
#include "util/memory.h"

const char *st_level_name(enum st_level l)
{
    return l == ST_LEVEL_STOP ? "stop" : l == ST_LEVEL_OVER ? "over" : l == ST_LEVEL_CAUTION ? "caution" : "note";
}

static bool is_one_of(const char *code, const char *list)
{
    const size_t n = strlen(code);
    for (const char *p = list; n && (p = strstr(p, code)) != NULL; p += n)
        if ((p == list || p[-1] == '|') && (p[n] == '|' || p[n] == '\0'))
            return true;
    return false;
}

/* Sheets say "memory" and "practice" for short. */
static const char *source_of(const struct st_flag *f)
{
    if (f->source && strcmp(f->source, "practice") == 0)
        return "common practice, no source";
    return f->source && f->source[0] && strcmp(f->source, "memory") != 0 ? f->source : "from memory";
}

static enum st_level flag_level(const struct st_flag *f)
{
    if (st_flag_stops(f))
        return ST_LEVEL_STOP;
    if (is_one_of(f->degree, "low|trace"))
        return ST_LEVEL_NOTE;
    return strcmp(f->degree, "high") == 0 || st_caution_is_toxicant(f->what) ||
                   is_one_of(f->what, "look_alike|pregnancy|heat_first|salmonella|infants|drug_interaction|capsaicin")
               ? ST_LEVEL_CAUTION
               : ST_LEVEL_NOTE;
}

static const char *plain_code(const char *code, char *buf, size_t size)
{
    snprintf(buf, size, "%s", code);
    for (char *p = buf; *p; p++)
        if (*p == '_')
            *p = ' ';
    return buf;
}

/* The maker's own words say that the stone is out. */
static bool stone_is_out(const struct st_flag *f, const struct st_recipe *r, int step, int line)
{
    return strcmp(f->what, "cyanogenic") == 0 && f->text && strncmp(f->text, "the stone", 9) == 0 &&
           r->step[step].line[line].text && st_stones_said(r, step, line) == ST_STONES_OUT;
}

/* The sheet's own cautions of one ingredient, at its line. */
static void flags_of(struct st_cautions *out, const struct st_recipe *r, const struct st_ledger *ledger, int step, int line)
{
    const struct st_ingredient *in = r->step[step].line[line].what;
    char words[40];
    for (int i = 0; i < in->n_caution; i++) {
        const struct st_flag *f = &in->caution[i];
        const char *source = source_of(f);
        if (stone_is_out(f, r, step, line))
            continue;
        if (strcmp(f->what, "own") == 0) { /* several of one author, each in its own words */
            st_caution_because(st_caution_add(out, flag_level(f), f->what, source, step, line, "%s: %s", in->name, f->text),
                               "%s", f->text);
            continue;
        }
        struct st_caution *c =
            st_caution_add(out, flag_level(f), f->what, source, step, line, "%s: %s%s%s", in->name,
                plain_code(f->what, words, sizeof words), f->degree[0] && f->degree[0] != '-' ? ", " : "",
                f->degree[0] != '-' ? f->degree : "");
        const bool reckoned = st_ledger_tells(ledger, step, line, f->what);
        st_caution_because(c, "%s%s", f->text ? f->text : "",
                st_caution_is_toxicant(f->what) && !reckoned ? "; worst case not assessed" : "");
    }
}

/* On whose list: "" the lists of EU and US alike. */
static const char *scope_words(const char *scope)
{
    return strncmp(scope, "possible", 8) == 0 ? " (may be there)"
           : strcmp(scope, "eu") == 0         ? " (EU list)"
           : strcmp(scope, "us") == 0         ? " (US list)"
           : strcmp(scope, "voluntary") == 0  ? " (on no list, told all the same)"
                                              : "";
}

static void allergens_of(struct st_cautions *out, const struct st_ingredient *in, int step, int line)
{
    char words[40];
    for (int i = 0; i < in->n_allergen; i++) {
        const struct st_flag *f = &in->allergen[i];
        struct st_caution *c = st_caution_add(out, ST_LEVEL_NOTE, "allergen", source_of(f), step, line, "%s: allergen, %s%s",
                                   in->name, plain_code(f->what, words, sizeof words), scope_words(f->degree));
        st_caution_because(c, "%s", f->text ? f->text : "");
    }
}

/* One line for the whole bottle: who asks "what is in it" should not have to read every line. */
static void allergen_summary(struct st_cautions *out, const struct st_recipe *r)
{
    static const char *const BEFORE[] = { "", "on no list: ", "may be there: ", "" };
    struct st_allergen_code list[64];
    const int n = st_allergen_codes(r, list, 64);
    char names[170] = "", words[40];
    bool all = n < 64;

    for (int p = ST_PRESENT; p > ST_NOT_LISTED; p--) {
        bool first = true;
        for (int i = 0; i < n; i++) {
            const size_t used = strlen(names);
            if ((int)list[i].presence != p)
                continue;
            plain_code(list[i].code, words, sizeof words);
            if (used + strlen(words) + 40 > sizeof names) {
                all = false;
                continue;
            }
            snprintf(names + used, sizeof names - used, "%s%s%s",
                     !used   ? ""
                     : first ? "; "
                             : ", ",
                     first ? BEFORE[p] : "", words);
            first = false;
        }
    }
    if (n)
        st_caution_because(st_caution_add(out, ST_LEVEL_NOTE, "allergens", "[eu_1169_2011]", -1, -1, "allergens in this bottle: %s%s", names,
                    all ? "" : "; and more, see each line"),
                "straining does not take them out; tell whoever drinks it, and read the packs of what you bought");
}

static bool is_fresh(enum st_kind k)
{
    return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_TINNED_FRUIT ||
           k == ST_KIND_GREEN_FRUIT || k == ST_KIND_HERB_FRESH || k == ST_KIND_ROOT_FRESH ||
           k == ST_KIND_FLOWER_FRESH || k == ST_KIND_PEEL_FRESH;
}

/* The strength over the solids after the juice has mixed in, against the policy floor; and the vapour of strong spirit.
 */
static void steep_strength(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    const struct st_step *s = &r->step[step];
    const double q = f->balance[step].strength_in_steep;
    int fresh = -1;

    for (int i = 0; i < s->n_line && fresh < 0; i++)
        if (s->line[i].what && is_fresh(s->line[i].what->kind))
            fresh = i;
    const struct st_floor_row *floor = st_floor_get(ST_FLOOR_MACERATE);
    if (fresh >= 0 && q < floor->limit) {
        const bool weak = q < 20.0;
        const double poured = st_strongest(s);
        const bool thin = poured > 0.0 && poured < floor->limit;
        struct st_caution *c =
            st_caution_add(out, q < 25.0 || thin ? ST_LEVEL_CAUTION : ST_LEVEL_NOTE, "weak_steep", floor->source, step, fresh,
                "%s stands at about %.0f %% vol once its juice has mixed in", s->line[fresh].what->name, q);
        st_caution_because(c,
                "below the %.0f %% vol under which fresh matter is best kept, covered by the liquid: yeasts and moulds "
                "may grow%s; "
                "use stronger spirit or less fruit, keep it under the liquid, or keep the jar cold",
                floor->limit,
                q < 15.0 ? ", and this is no stronger than wine, where they thrive"
                : weak   ? ", and below about 20 % vol they often do"
                         : "");
    }
    if (q >= ST_STRONG_SPIRIT) {
        struct st_caution *c = st_caution_add(out, ST_LEVEL_CAUTION, "flammable", "[flash_table]", step, -1,
                                   "the jar stands at about %.0f %% vol: its vapour burns", q);
        st_caution_because(c, "spirit of 60 %% vol gives off vapour that a flame can light from about 22 °C on; no flame, no "
                   "spark, no stove "
                   "in the room when it is open");
    }
}

static bool holds_kind(const struct st_recipe *r, enum st_kind k, int *step, int *line)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what && r->step[s].line[i].what->kind == k) {
                *step = s;
                *line = i;
                return true;
            }
    return false;
}

/* So sour that milk and cream curdle with it: juice, fruit and acids from 1 % of acid on (our own limit). */
static bool is_sour(const struct st_ingredient *in)
{
    if (in->kind == ST_KIND_ACID)
        return true;
    const bool fruit = in->kind == ST_KIND_JUICE || in->kind == ST_KIND_FRESH_FRUIT ||
                       in->kind == ST_KIND_FROZEN_FRUIT || in->kind == ST_KIND_TINNED_FRUIT ||
                       in->kind == ST_KIND_GREEN_FRUIT || in->kind == ST_KIND_SYRUP;
    return fruit && in->part[ST_ACID].known && in->part[ST_ACID].value >= 0.01;
}

/* A drink of another batch with milk or cream in it. */
static bool holds_poured_milk(const struct st_recipe *r, int *step, int *line)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            for (int k = 0; in && in->n_brought && st_ingredient_perishable(in) && k < in->n_allergen; k++)
                if (strcmp(in->allergen[k].what, "milk") == 0) {
                    *step = s;
                    *line = i;
                    return true;
                }
        }
    return false;
}

static void curdles(struct st_cautions *out, const struct st_recipe *r)
{
    int step, line;
    if (!holds_kind(r, ST_KIND_DAIRY, &step, &line) && !holds_poured_milk(r, &step, &line))
        return;
    const char *dairy = r->step[step].line[line].what->name;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            if (!in || !is_sour(in))
                continue;
            st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "curdles", "common practice, no source", s, i,
                                              "%s may curdle %s", in->name, dairy),
                               "acid and alcohol make milk and cream clot, at once or in the bottle: try a spoonful of "
                               "each first, or take peel instead of juice; what has clotted is not to be kept");
            return; /* one is enough to say so */
        }
}

static void spoils(struct st_cautions *out, const struct st_recipe *r)
{
    int s, i;
    if (holds_kind(r, ST_KIND_DAIRY, &s, &i))
        st_caution_because(
            st_caution_add(out, ST_LEVEL_CAUTION, "perishable", "from memory", s, i, "%s spoils", r->step[s].line[i].what->name),
            "no home kitchen can make milk or cream keep by spirit alone: keep it in the refrigerator and drink it "
            "within days");
    if (holds_kind(r, ST_KIND_EGG, &s, &i))
        st_caution_because(
            st_caution_add(out, ST_LEVEL_CAUTION, "perishable", "[egg_liqueur_salmonella]", s, i, "%s: raw egg", r->step[s].line[i].what->name),
            "alcohol alone does not make raw egg fit to drink: salmonella put into an egg drink of about 14 %% vol was "
            "still found after the first days in the cold; use pasteurised egg and keep the drink cold");
}

static bool is_animal(const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what && st_ingredient_perishable(r->step[s].line[i].what))
                return true;
    return false;
}

/* With milk, cream or egg in it the floors of wine makers say nothing, and it is perishable at any of these strengths.
 */
static void finished_strength(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f)
{
    const struct st_interval *q = &f->fig[ST_FIG_STRENGTH], *sugar = &f->fig[ST_FIG_SUGAR];
    const struct st_floor_row *shelf = st_floor_get(ST_FLOOR_SHELF), *cold = st_floor_get(ST_FLOOR_COLD);
    if (q->known && q->value >= shelf->limit && q->low < shelf->limit)
        st_caution_because(st_caution_add(out, ST_LEVEL_NOTE, "weak_bottle", shelf->source, -1, -1,
                    "it may come out too weak to keep on a shelf (likely from %.1f %% vol on)", q->low),
                "below %.0f %% vol strength alone is not counted on to keep a drink; measure it, or keep it cold",
                shelf->limit);
    if (!q->known || q->value >= shelf->limit)
        return;
    const double delle = sugar->known ? sugar->value / 10.0 + 4.5 * q->value : 4.5 * q->value;
    const bool animal = is_animal(r);
    const bool weak = animal || q->value < cold->limit;
    struct st_caution *c = st_caution_add(out, ST_LEVEL_CAUTION, "weak_bottle", shelf->source, -1, -1, "%s (%.1f %% vol)",
                               weak ? "treat it as perishable" : "keep it in the refrigerator", q->value);
    if (animal)
        st_caution_because(c, "with milk, cream or egg in it no strength of this sort is counted on to keep it; refrigerator, "
                   "within days");
    else if (q->value < 1.0)
        st_caution_because(c, "there is next to no alcohol in it: it spoils as juice or syrup does; keep it cold");
    else
        st_caution_because(c,
                "below %.0f %% vol strength is not counted on to keep a drink; keep it cold and use it within %s. "
                "Sugar helps "
                "against yeast only, which was stopped from 75 to 85 Delle units on (a tenth of the sugar in g/L and "
                "4.5 times "
                "the strength: %.0f here) [delle_floors], not against mould",
                weak ? cold->limit : shelf->limit, weak ? "days" : "months", delle);
}

/* In the recipe's order, the whole bottle last; what the rest does not speak of first, so that it is never among "more". */
static int place(const struct st_caution *c)
{
    return strcmp(c->code, ST_CAUTION_UNRECKONED) == 0 ? -1 : c->step < 0 ? 10000 : c->step;
}

static int by_level(const void *a, const void *b)
{
    const struct st_caution *x = a, *y = b;
    if (x->level != y->level)
        return x->level > y->level ? -1 : 1;
    const int xs = place(x), ys = place(y);
    if (xs != ys)
        return xs < ys ? -1 : 1;
    return x->line != y->line ? (x->line < y->line ? -1 : 1) : strcmp(x->what, y->what);
}

/* Where nobody knows how strong it is, whatever holds alcohol counts. */
static bool holds_alcohol(const struct st_recipe *r, const struct st_foretold *f)
{
    if (f && f->fig[ST_FIG_STRENGTH].known)
        return f->fig[ST_FIG_STRENGTH].value > 1.2;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const enum st_goods g = st_line_goods(&r->step[s].line[i]);
            if (g == ST_GOODS_SPIRIT || g == ST_GOODS_TASTY || g == ST_GOODS_FERMENTED)
                return true;
        }
    return false;
}

static void whole_bottle(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, bool held)
{
    spoils(out, r);
    curdles(out, r);
    allergen_summary(out, r);
    if (f)
        finished_strength(out, r, f);
    if ((f || held) && holds_alcohol(r, f))
        st_caution_because(
            st_caution_add(out, ST_LEVEL_NOTE, "alcohol", "common practice, no source", -1, -1, "the usual cautions of alcohol"),
            "not for children, not in pregnancy, not before driving or machines; ask a pharmacist about medicines; "
            "local rules and "
            "licensed practice come first");
}

/* Only a steep lets fruit give its juice here; in a blend it lies in the drink and the figures leave it out. */
static void lies_in_blend(struct st_cautions *out, const struct st_step *s, int step)
{
    for (int i = 0; s->kind == ST_DO_BLEND && i < s->n_line; i++) {
        const struct st_ingredient *in = s->line[i].what;
        if (in && st_kind_is_solid(in->kind) && in->kind != ST_KIND_POWDER)
            st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "unsteeped", "common practice, no source", step, i,
                        "%s lies in a blend and is reckoned to give nothing", in->name),
                    "its juice weakens the drink and its sugar sweetens it, but only a `steep` step counts that: make "
                    "this step a "
                    "steep if it stands and is strained");
    }
}

/* More sugar than dissolves: what the plan notes, told where it is read as a caution too. */
static void crystals(struct st_cautions *out, const struct st_foretold *f)
{
    for (int i = 0; i < f->n_note; i++) {
        const struct st_note *n = &f->note[i];
        if (n->code != ST_NOTE_CRYSTALLISES)
            continue;
        const bool spirit = f->balance && n->step < f->n_balance && f->balance[n->step].mass_g[ST_ETHANOL] > 0.0;
        char add_water[60] = "add water";
        double more = 0.0;
        if (f->balance && n->step < f->n_balance && st_water_to_dissolve(f->balance[n->step].mass_g, &more) >= 0 &&
            more >= 1.0)
            (void)snprintf(add_water, sizeof add_water, "add about %.*f g of water", more < 10.0 ? 1 : 0, more);
        st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "crystallises", spirit ? "[schrefeld1894]" : "[browne_sucrose]", n->step, -1,
                    "sugar may crystallise: %.0f %% of the liquid is sugar", 100.0 * n->is),
                "about %.0f %% dissolves at 20 °C%s, and less in the cold; what falls out is missing from the drink and from "
                "its figures: %s or take less sugar, and stir until it is clear",
                100.0 * n->limit, spirit ? ", with this much alcohol" : "", add_water);
    }
}

/* What went in without figures: whatever else is told here does not speak of it. */
static void unreckoned(struct st_cautions *out, const struct st_recipe *r)
{
    for (int i = 0; i < r->n_unreckoned; i++)
        st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, ST_CAUTION_UNRECKONED, "common practice, no source", -1,
                                          -1, "%s", r->unreckoned[i]),
                           "what it may hold of poisons and allergens was not assessed, and no limit, figure or list of "
                           "allergens here counts it: read its pack, and ask who knows it before anyone drinks of this");
}

static void collect(const struct st_recipe *r, const struct st_foretold *f, const struct st_ledger *ledger,
                    struct st_cautions *out)
{
    if (f)
        crystals(out, f);
    unreckoned(out, r);
    whole_bottle(out, r, f, ledger != NULL); /* first: in a full list the latest note gives way */
    for (int s = 0; s < r->n_step; s++) {
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what) {
                flags_of(out, r, ledger, s, i);
                st_caution_brought(out, r, ledger, s, i);
                allergens_of(out, r->step[s].line[i].what, s, i);
            }
        if (f && f->balance && r->step[s].kind == ST_DO_STEEP)
            steep_strength(out, r, f, s);
        st_caution_strong_pour(out, &r->step[s], s);
        lies_in_blend(out, &r->step[s], s);
        st_caution_heat(out, r, f && f->balance ? f : NULL, s);
    }
    st_caution_process(out, r, f);
}

void st_cautions_collect(const struct st_recipe *r, const struct st_foretold *f, const struct st_watch *w,
                         struct st_cautions *out)
{
    out->n = out->left_out = 0;
    struct st_ledger *ledger = w && w->books ? x_calloc(1, sizeof *ledger) : NULL;
    if (ledger && st_ledger_make(r, f, w->books, w->place->places, &w->who, r->assay, r->n_assay, ledger) >= 0)
        st_cautions_of_ledger(r, ledger, w, out);
    collect(r, f, ledger, out);
    free(ledger);
    st_caution_overflow(out);
    qsort(out->item, (size_t)out->n, sizeof out->item[0], by_level);
}
