#include "cautions.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/flash.h"
#include "core/keeping.h"

const char *st_level_name(enum st_level l)
{
    return l == ST_LEVEL_STOP ? "stop" : l == ST_LEVEL_CAUTION ? "caution" : "note";
}

static bool known_already(const struct st_cautions *out, const char *code, const char *what, int step, int line)
{
    for (int i = 0; i < out->n; i++)
        if (out->item[i].step == step && out->item[i].line == line && strcmp(out->item[i].code, code) == 0 &&
            strcmp(out->item[i].what, what) == 0)
            return true;
    return false;
}

/* Room for one more: at the end, or in a full list where the latest of the least stood, if this one is worse. */
static struct st_caution *room_for(struct st_cautions *out, enum st_level level)
{
    if (out->n < ST_MAX_CAUTIONS)
        return &out->item[out->n++];
    struct st_caution *least = &out->item[0];
    for (int i = 1; i < out->n; i++)
        if (out->item[i].level <= least->level)
            least = &out->item[i];
    return level > least->level ? least : NULL;
}

/* Begin a caution; NULL when it is there already or the list is full of nothing lesser. */
__attribute__((format(printf, 7, 8))) static struct st_caution *add(struct st_cautions *out, enum st_level level,
                                                                    const char *code, const char *source, int step,
                                                                    int line, const char *what, ...)
{
    char text[sizeof out->item[0].what];
    va_list ap;
    va_start(ap, what);
    vsnprintf(text, sizeof text, what, ap);
    va_end(ap);
    struct st_caution *c = known_already(out, code, text, step, line) ? NULL : room_for(out, level);
    if (!c)
        return NULL;
    memset(c, 0, sizeof *c);
    c->level = level;
    c->code = code;
    c->source = source;
    c->step = step;
    c->line = line;
    memcpy(c->what, text, sizeof text);
    return c;
}

__attribute__((format(printf, 2, 3))) static void because(struct st_caution *c, const char *text, ...)
{
    va_list ap;
    if (!c)
        return;
    va_start(ap, text);
    vsnprintf(c->because, sizeof c->because, text, ap);
    va_end(ap);
}

static bool is_one_of(const char *code, const char *list)
{
    const size_t n = strlen(code);
    for (const char *p = list; n && (p = strstr(p, code)) != NULL; p += n)
        if ((p == list || p[-1] == '|') && (p[n] == '|' || p[n] == '\0'))
            return true;
    return false;
}

/* Poisons of which a worst case must be reckoned before anyone can judge the dose. */
static bool is_toxicant(const char *code)
{
    return is_one_of(code, "cyanogenic|thujone|coumarin|asarone|safrole|estragole|methyleugenol|pulegone|quinine|"
                           "glycyrrhizin|furanocoumarin|raw_toxic|leaves_toxic");
}

/* Sheets say "memory" for short. */
static const char *source_of(const struct st_flag *f)
{
    return f->source && f->source[0] && strcmp(f->source, "memory") != 0 ? f->source : "from memory";
}

static enum st_level flag_level(const struct st_flag *f)
{
    if (is_one_of(f->what, "banned|denatured"))
        return ST_LEVEL_STOP;
    if (is_one_of(f->degree, "low|trace"))
        return ST_LEVEL_NOTE;
    return is_toxicant(f->what) ||
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

/* The sheet's own cautions of one ingredient, at its line. */
static void flags_of(struct st_cautions *out, const struct st_ingredient *in, int step, int line)
{
    char words[40];
    for (int i = 0; i < in->n_caution; i++) {
        const struct st_flag *f = &in->caution[i];
        const char *source = source_of(f);
        struct st_caution *c =
            add(out, flag_level(f), f->what, source, step, line, "%s: %s%s%s", in->name,
                plain_code(f->what, words, sizeof words), f->degree[0] && f->degree[0] != '-' ? ", " : "",
                f->degree[0] != '-' ? f->degree : "");
        const bool said = f->text && strstr(f->text, "not yet assessed");
        because(c, "%s%s", f->text ? f->text : "",
                is_toxicant(f->what) && !said ? "; worst case not yet assessed" : "");
    }
}

static void allergens_of(struct st_cautions *out, const struct st_ingredient *in, int step, int line)
{
    char words[40];
    for (int i = 0; i < in->n_allergen; i++) {
        const struct st_flag *f = &in->allergen[i];
        struct st_caution *c =
            add(out, ST_LEVEL_NOTE, "allergen", source_of(f), step, line, "%s: allergen, %s%s", in->name,
                plain_code(f->what, words, sizeof words), strncmp(f->degree, "possible", 8) == 0 ? " (possible)" : "");
        because(c, "%s", f->text ? f->text : "");
    }
}

/* One line for the whole bottle: who asks "what is in it" should not have to read every line. */
static void allergen_summary(struct st_cautions *out, const struct st_recipe *r)
{
    char names[160] = "", words[40];
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            for (int k = 0; r->step[s].line[i].what && k < r->step[s].line[i].what->n_allergen; k++) {
                const struct st_flag *f = &r->step[s].line[i].what->allergen[k];
                const char *name = plain_code(f->what, words, sizeof words);
                const size_t n = strlen(names);
                if (!strstr(names, name))
                    snprintf(names + n, sizeof names - n, "%s%s%s", n ? ", " : "", name,
                             strncmp(f->degree, "possible", 8) == 0 ? " (possible)" : "");
            }
    if (names[0])
        because(add(out, ST_LEVEL_NOTE, "allergens", "[eu_1169_2011]", -1, -1, "allergens in this bottle: %s", names),
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
        struct st_caution *c =
            add(out, q < 25.0 ? ST_LEVEL_CAUTION : ST_LEVEL_NOTE, "weak_steep", floor->source, step, fresh,
                "%s stands at about %.0f %% vol once its juice has mixed in", s->line[fresh].what->name, q);
        because(c,
                "below the %.0f %% vol under which fresh matter is best kept, covered by the liquid: yeasts and moulds "
                "may grow%s; "
                "use stronger spirit or less fruit, keep it under the liquid, or keep the jar cold",
                floor->limit, weak ? ", and below about 20 % vol they often do" : "");
    }
    if (q > 60.0) {
        struct st_caution *c = add(out, ST_LEVEL_CAUTION, "flammable", "[flash_table]", step, -1,
                                   "the jar stands at about %.0f %% vol: its vapour burns", q);
        because(c, "spirit of 60 %% vol gives off vapour that a flame can light from about 22 °C on; no flame, no "
                   "spark, no stove "
                   "in the room when it is open");
    }
}

static double strongest(const struct st_step *s)
{
    double q = 0.0;
    for (int i = 0; i < s->n_line; i++) {
        const struct st_line *l = &s->line[i];
        if (!l->what)
            continue;
        const struct st_range *x = l->strength.known ? &l->strength : &l->what->strength;
        if (x->known && x->value > q)
            q = x->value;
    }
    return q;
}

static bool is_hot(const struct st_step *s, double limit_K)
{
    if (s->temperature_K.known && s->temperature_K.high > limit_K)
        return true;
    for (int i = 0; i < s->n_line; i++)
        if (s->line[i].temperature_K.known && s->line[i].temperature_K.high > limit_K)
            return true;
    return false;
}

static void heating(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step)
{
    const struct st_step *s = &r->step[step];
    const double in_jar = f ? f->balance[step].strength : 0.0;
    const double q = strongest(s) > in_jar ? strongest(s) : in_jar;
    const bool boiled = s->boil_off_g.known || s->boil_down_to.dim == ST_DIM_VOLUME;

    if (s->kind == ST_DO_TOAST || q < 1.0 || !(is_hot(s, 303.15) || (boiled && q > 1.0)))
        return;
    struct st_caution *c = add(out, ST_LEVEL_CAUTION, "heat", "[flash_table]", step, -1,
                               "spirit is warmed in this step (about %.0f %% vol)", q);
    because(c, "its vapour can catch fire: the closed-cup flash point of 40 %% vol is about 26 °C; never over a flame "
               "or on a stove, "
               "never in a closed vessel; let syrup cool below 30 °C before it meets spirit");
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

static void spoils(struct st_cautions *out, const struct st_recipe *r)
{
    int s, i;
    if (holds_kind(r, ST_KIND_DAIRY, &s, &i))
        because(
            add(out, ST_LEVEL_CAUTION, "perishable", "from memory", s, i, "%s spoils", r->step[s].line[i].what->name),
            "no home kitchen can make milk or cream keep by spirit alone: keep it in the refrigerator and drink it "
            "within days");
    if (holds_kind(r, ST_KIND_EGG, &s, &i))
        because(
            add(out, ST_LEVEL_CAUTION, "perishable", "from memory", s, i, "%s: raw egg", r->step[s].line[i].what->name),
            "alcohol alone does not make raw egg fit to drink; use pasteurised egg and keep the drink cold");
}

/* With milk, cream or egg in it the floors of wine makers say nothing, and it is perishable at any of these strengths.
 */
static void finished_strength(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f)
{
    const struct st_interval *q = &f->fig[ST_FIG_STRENGTH], *sugar = &f->fig[ST_FIG_SUGAR];
    const struct st_floor_row *shelf = st_floor_get(ST_FLOOR_SHELF), *cold = st_floor_get(ST_FLOOR_COLD);
    int step, line;
    if (!q->known || q->value >= shelf->limit)
        return;
    const double delle = sugar->known ? sugar->value / 10.0 + 4.5 * q->value : 4.5 * q->value;
    const bool animal = holds_kind(r, ST_KIND_DAIRY, &step, &line) || holds_kind(r, ST_KIND_EGG, &step, &line);
    const bool weak = animal || q->value < cold->limit;
    struct st_caution *c = add(out, ST_LEVEL_CAUTION, "weak_bottle", shelf->source, -1, -1, "%s (%.1f %% vol)",
                               weak ? "treat it as perishable" : "keep it in the refrigerator", q->value);
    if (animal)
        because(c, "with milk, cream or egg in it no strength of this sort is counted on to keep it; refrigerator, "
                   "within days");
    else
        because(c,
                "below %.0f %% vol strength alone is not counted on to keep a drink; with its sugar it has %.0f Delle "
                "units, and yeast was stopped from 75 to 85 on [delle_floors]; keep it cold and use it within %s",
                weak ? cold->limit : shelf->limit, delle, weak ? "days" : "months");
}

static int by_level(const void *a, const void *b)
{
    const struct st_caution *x = a, *y = b;
    if (x->level != y->level)
        return x->level > y->level ? -1 : 1;
    const int xs = x->step < 0 ? 10000 : x->step, ys = y->step < 0 ? 10000 : y->step;
    if (xs != ys)
        return xs < ys ? -1 : 1;
    return x->line != y->line ? (x->line < y->line ? -1 : 1) : strcmp(x->what, y->what);
}

void st_cautions_collect(const struct st_recipe *r, const struct st_foretold *f, struct st_cautions *out)
{
    out->n = 0;
    for (int s = 0; s < r->n_step; s++) {
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what) {
                flags_of(out, r->step[s].line[i].what, s, i);
                allergens_of(out, r->step[s].line[i].what, s, i);
            }
        if (f && f->balance && r->step[s].kind == ST_DO_STEEP)
            steep_strength(out, r, f, s);
        heating(out, r, f && f->balance ? f : NULL, s);
    }
    spoils(out, r);
    allergen_summary(out, r);
    if (f)
        finished_strength(out, r, f);
    if (f && f->fig[ST_FIG_STRENGTH].known && f->fig[ST_FIG_STRENGTH].value > 1.2)
        because(
            add(out, ST_LEVEL_NOTE, "alcohol", "common practice, no source", -1, -1, "the usual cautions of alcohol"),
            "not for children, not in pregnancy, not before driving or machines; ask a pharmacist about medicines; "
            "local rules and "
            "licensed practice come first");
    qsort(out->item, (size_t)out->n, sizeof out->item[0], by_level);
}
