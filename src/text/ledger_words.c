#include "ledger_words.h"

#include "figure_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *st_limit_words(enum st_rule_unit u)
{
    static const char *const WORDS[ST_RULE_NUNIT] = {
        [ST_RULE_MG_KG] = "mg/kg",
        [ST_RULE_MG_KG_PER_PCT_VOL] = "mg/kg for each % vol",
        [ST_RULE_MG_L] = "mg/L",
        [ST_RULE_MG_KG_BW_DAY] = "mg per kg of body weight",
        [ST_RULE_MG_PERSON_DAY] = "mg a day",
        [ST_RULE_G_HL_ALCOHOL] = "g in 100 L of pure alcohol",
        [ST_RULE_G_L_ETHANOL] = "g in a litre of pure alcohol",
        [ST_RULE_PRESENT] = "",
    };
    return (unsigned)u < ST_RULE_NUNIT ? WORDS[u] : "";
}

/* Rounded up to two digits: a bound that is told smaller than it is would be none. */
const char *st_bound_words(double x, char *buf, size_t size)
{
    if (!(x > 0.0)) {
        snprintf(buf, size, isnan(x) ? "an unknown amount" : "0");
        return buf;
    }
    const int at = (int)floor(log10(x)) - 1; /* place of the second digit */
    const double unit = pow(10.0, at);
    const double up = ceil(x / unit - 1e-9) * unit;
    snprintf(buf, size, "%.*f", at < 0 ? -at : 0, up);
    return buf;
}

/* A limit as its rule has it. */
static const char *limit_words(double x, char *buf, size_t size)
{
    snprintf(buf, size, "%.10g", x);
    return buf;
}

/* "Reg. (EC) 1334/2008, Annex III Part B (EU and UK, 2008; unverified figure)" */
static const char *rule_words(const struct st_rule *r, char *buf, size_t size)
{
    char place[120];
    const bool unverified = r->mark == 'm';
    snprintf(buf, size, "%s%s%s (%s, %d%s%s)", r->document, *r->article ? ", " : "", r->article,
             st_law_place_words(r->places, place, sizeof place), r->year,
             r->in_force ? "" : ", not in force: a benchmark", unverified ? "; unverified figure" : "");
    return buf;
}

static bool is_health(const struct st_rule *r)
{
    return (r->places & ST_PLACE_HEALTH) != 0;
}

static const char *held(const struct st_test *t)
{
    if (t->rule->at_least)
        return t->verdict == ST_WITHIN ? "and declared only from" : "which is declared from";
    return t->verdict == ST_WITHIN      ? "within"
           : t->verdict == ST_MAY_PASS  ? "which may pass"
           : t->verdict == ST_IF_OPENED ? "were they opened, past"
                                        : "over";
}

const char *st_test_words(const struct st_test *t, const struct st_drinker *who, char *buf, size_t size)
{
    char is[40], limit[40], rule[300], pour[80] = "";
    const struct st_rule *r = t->rule;
    rule_words(r, rule, sizeof rule);
    if (r->unit == ST_RULE_PRESENT) {
        snprintf(buf, size, "%s: %s", r->says, rule);
        return buf;
    }
    const bool dose = r->unit == ST_RULE_MG_KG_BW_DAY || r->unit == ST_RULE_MG_PERSON_DAY;
    if (dose && r->unit == ST_RULE_MG_KG_BW_DAY)
        snprintf(pour, sizeof pour, " in %g mL for %g kg", who->serving_ml, who->body_weight_kg);
    else if (dose)
        snprintf(pour, sizeof pour, " in %g mL", who->serving_ml);
    limit_words(t->limit, limit, sizeof limit);
    if (t->verdict == ST_NOT_ASSESSED)
        snprintf(buf, size, "not assessed against %s %s: %s", limit, st_limit_words(r->unit), rule);
    else
        snprintf(buf, size, "at most %s %s%s%s %s %s: %s", st_bound_words(t->high, is, sizeof is),
                 st_limit_words(r->unit), pour, t->verdict == ST_IF_OPENED ? "" : ",", held(t), limit, rule);
    return buf;
}

bool st_test_counts(const struct st_test *t)
{
    return (t->verdict == ST_PASSES || t->verdict == ST_MAY_PASS) && t->rule->in_force && !t->rule->at_least;
}

bool st_ledger_passes(const struct st_ledger *l)
{
    for (int i = 0; i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_test; k++)
            if (st_test_counts(&l->entry[i].test[k]))
                return true;
    return false;
}

/* Tests stand worst first, but a declaration is no limit and a benchmark is behind what is in force. */
const struct st_test *st_entry_worst(const struct st_ledger_entry *e, bool health)
{
    const struct st_test *worst = NULL;
    for (int i = 0; i < e->n_test; i++) {
        const struct st_test *t = &e->test[i];
        if (is_health(t->rule) != health || t->rule->at_least)
            continue;
        if (!worst || (st_test_counts(t) && !st_test_counts(worst)))
            worst = t;
    }
    return worst;
}

static const char *carrier_name(const struct st_recipe *r, const struct st_carrier *c)
{
    const struct st_ingredient *in = c ? r->step[c->step].line[c->line].what : NULL;
    return in ? in->name : "this drink";
}

static bool assessed(const struct st_ledger_entry *e)
{
    return e->n_unknown == 0 && !e->cut && !isnan(e->high_mg_kg);
}

/* Of what nobody has a figure for, be it of what carries it or of how much the drink is: as grave as the sheet calls it. */
static enum st_level unknown_level(const struct st_recipe *r, const struct st_ledger_entry *e)
{
    if (e->cut || e->n_more)
        return ST_LEVEL_CAUTION;
    for (int i = 0; i < e->n_carrier; i++) {
        const struct st_carrier *c = &e->carrier[i];
        const struct st_ingredient *in = r->step[c->step].line[c->line].what;
        const bool unknown = isnan(c->high_mg) || isnan(e->high_mg_kg);
        for (int k = 0; in && unknown && k < in->n_caution; k++)
            if (st_rule_lists(e->toxicant->flags, in->caution[k].what) && strcmp(in->caution[k].degree, "low") != 0 &&
                strcmp(in->caution[k].degree, "trace") != 0)
                return ST_LEVEL_CAUTION;
        for (int k = 0; in && unknown && k < in->n_brought; k++)
            if (st_rule_lists(e->toxicant->flags, in->brought[k].flag.what) &&
                in->brought[k].level >= (int)ST_LEVEL_CAUTION)
                return ST_LEVEL_CAUTION;
    }
    return ST_LEVEL_NOTE;
}

static enum st_level level_of(const struct st_recipe *r, const struct st_ledger_entry *e)
{
    enum st_level level = ST_LEVEL_NOTE;
    for (int i = 0; i < e->n_test; i++) {
        const struct st_test *t = &e->test[i];
        if (st_test_counts(t))
            return ST_LEVEL_OVER;
        const bool past = t->verdict == ST_PASSES || t->verdict == ST_MAY_PASS || t->verdict == ST_IF_OPENED;
        if (past && !t->rule->at_least)
            level = ST_LEVEL_CAUTION; /* an older benchmark, or stones that stay shut */
    }
    return assessed(e) || level == ST_LEVEL_CAUTION ? level : unknown_level(r, e);
}

static const char *two_digits(double x, double (*round)(double), char *buf, size_t size)
{
    if (!(x > 0.0))
        snprintf(buf, size, "0");
    else {
        const int at = (int)floor(log10(x)) - 1;
        const double unit = pow(10.0, at);
        snprintf(buf, size, "%.*f", at < 0 ? -at : 0, round(x / unit) * unit);
    }
    return buf;
}

static double down(double x)
{
    return floor(x + 1e-9);
}

static double up(double x)
{
    return ceil(x - 1e-9);
}

static const char *most_words(double x, char *buf, size_t size)
{
    return two_digits(x, down, buf, size);
}

static const char *least_words(double x, char *buf, size_t size)
{
    return two_digits(x, up, buf, size);
}

const char *st_entry_dense_words(const struct st_ledger_entry *e, char *buf, size_t size)
{
    char ceiling[40], all[40], left[60];
    double most = 0.0;
    for (int i = 0; i < e->n_carrier; i++) {
        const struct st_carrier *c = &e->carrier[i];
        const double x = c->assay ? c->assay->mg_kg : c->content ? c->content->ceiling_mg_kg : (double)NAN;
        most = x > most ? x : most;
    }
    if (size)
        buf[0] = '\0';
    if (e->n_more > 0 || !(most > 0.0) || !(e->high_mg_kg > most))
        return buf;
    st_grams_words(left, sizeof left, e->high_mg / e->high_mg_kg * 1000.0);
    snprintf(
        buf, size,
        "That is more in a kg than what it comes from holds, %s mg: all of it, %s mg, is reckoned to be in the %s of "
        "drink that may be left, and none in what the pieces keep",
        st_bound_words(most, ceiling, sizeof ceiling), st_bound_words(e->high_mg, all, sizeof all), left);
    return buf;
}

const char *st_most_words(const struct st_recipe *r, const struct st_ledger_entry *e, char *buf, size_t size)
{
    char most[40], is[40];
    if (size)
        buf[0] = '\0';
    if (isnan(e->most_g_l) || e->n_carrier == 0)
        return buf;
    const char *name = carrier_name(r, &e->carrier[0]);
    if (!(e->most_g_l > 0.0))
        snprintf(buf, size, "what else is in it reaches the limit without any %s", name);
    else
        snprintf(buf, size,
                 "at most %s g of %s a litre stays within all of them%s; a litre of this may hold all of %s g",
                 most_words(e->most_g_l, most, sizeof most), name, e->n_carrier > 1 ? ", with the rest as it is" : "",
                 least_words(e->is_g_l, is, sizeof is));
    return buf;
}

static void append(char *buf, size_t size, const char *text)
{
    const size_t n = strlen(buf);
    if (n + strlen(text) + 3 < size)
        snprintf(buf + n, size - n, "%s%s", n ? "; " : "", text);
}

static void why(struct st_caution *c, const struct st_recipe *r, const struct st_ledger_entry *e,
                const struct st_watch *w)
{
    char text[sizeof c->because] = "", one[360];
    const struct st_test *both[2] = { st_entry_worst(e, false), st_entry_worst(e, true) };
    if (both[0] && both[1] && st_test_counts(both[1]) && !st_test_counts(both[0])) { /* the worse first */
        const struct st_test *first = both[1];
        both[1] = both[0];
        both[0] = first;
    }
    if (e->verdict == ST_IF_OPENED)
        append(text, sizeof text,
               "what shut stones give was published nowhere: take them out, or reckon with all of it");
    for (int i = 0; i < 2; i++)
        if (both[i])
            append(text, sizeof text, st_test_words(both[i], &w->who, one, sizeof one));
    if (!both[0] && !both[1])
        append(text, sizeof text, "no limit for it in a drink is known here");
    if (c->level == ST_LEVEL_OVER && *st_most_words(r, e, one, sizeof one))
        append(text, sizeof text, one);
    st_caution_because(c, "%s", text);
}

/* Plants that a rule names as such. */
static void plants(const struct st_recipe *r, const struct st_ledger *l, struct st_cautions *out)
{
    for (int i = 0; i < l->n_plant; i++) {
        const struct st_plant_rule *p = &l->plant[i];
        const struct st_ingredient *in = r->step[p->step].line[p->line].what;
        char rule[300], place[120];
        const bool barred = p->rule->in_force && !p->rule->at_least;
        st_caution_because(
            st_caution_add(out, barred ? ST_LEVEL_OVER : ST_LEVEL_NOTE, "plant_rule", p->rule->source, p->step, p->line,
                           barred ? "%s: barred in a drink, %s" : "%s: on a condition, %s", in ? in->name : "a plant",
                           st_law_place_words(p->rule->places, place, sizeof place)),
            "%s: %s", p->rule->says, rule_words(p->rule, rule, sizeof rule));
    }
}

/* "sour cherry and 1 more line: at most 69 mg/kg of hydrogen cyanide in the drink" */
bool st_entry_is_known(const struct st_ledger_entry *e)
{
    return e->n_unknown < e->n_carrier + e->n_more;
}

static const struct st_test *worst_of(const struct st_ledger_entry *e)
{
    const struct st_test *law = st_entry_worst(e, false), *health = st_entry_worst(e, true);
    return health && st_test_counts(health) && !(law && st_test_counts(law)) ? health : law ? law : health;
}

/* Behind what is in buf, as far as there is room. */
static void put_behind(char *buf, size_t size, const char *text)
{
    const size_t n = strlen(buf), more = strlen(text), room = size - 1 - n;
    memcpy(buf + n, text, more < room ? more : room);
    buf[n + (more < room ? more : room)] = '\0';
}

/* ", 3.1 times what Australia and New Zealand allow": of the worst limit that is passed; "" where none is. */
static const char *times_words(const struct st_ledger_entry *e, char *buf, size_t size)
{
    const struct st_test *t = worst_of(e);
    char place[120], times[40];
    buf[0] = '\0';
    if (!t || !st_test_counts(t) || !(t->limit > 0.0) || isnan(t->high))
        return buf;
    st_law_place_words(t->rule->places, place, sizeof place);
    const char *the = place[0] == 'E' || place[0] == 'U' ? "the " : "";
    if (t->high < 1.05 * t->limit)
        snprintf(buf, size, ", just past what %s%s allow%s", the, place,
                 is_health(t->rule) || !strstr(place, " and ") ? "s" : "");
    else
        snprintf(buf, size, ", %s times what %s%s allow%s", st_bound_words(t->high / t->limit, times, sizeof times),
                 the, place, is_health(t->rule) || !strstr(place, " and ") ? "s" : "");
    return buf;
}

static void finding(const struct st_recipe *r, const struct st_ledger_entry *e, const char *name, char *buf,
                    size_t size)
{
    char amount[40], more[40] = "", times[200];
    const int lines = e->n_carrier + e->n_more;
    (void)r;
    if (lines > 1)
        snprintf(more, sizeof more, " and %d more line%s", lines - 1, lines > 2 ? "s" : "");
    st_bound_words(isnan(e->high_mg_kg) ? e->high_mg : e->high_mg_kg, amount, sizeof amount);
    if (e->n_unknown == 0 && isnan(e->high_mg_kg) && !isnan(e->high_mg))
        snprintf(buf, size, "%s%s: at most %s mg of %s in all of the drink, whose amount is unknown: not assessed",
                 name, more, amount, e->toxicant->name);
    else if (e->n_unknown == lines || isnan(e->high_mg_kg))
        snprintf(buf, size, "%s%s: an unknown amount of %s, not assessed", name, more, e->toxicant->name);
    else if (e->n_unknown > 0)
        snprintf(buf, size, "%s%s: %s mg/kg of %s, and more from %d line%s without a figure: not assessed", name, more,
                 amount, e->toxicant->name, e->n_unknown, e->n_unknown > 1 ? "s" : "");
    else if (e->n_shut == lines)
        snprintf(buf, size, "%s%s: at most %s mg/kg of %s, were every stone and pip opened", name, more, amount,
                 e->toxicant->name);
    else {
        snprintf(buf, size, "%s%s: at most %s mg/kg of %s in the drink", name, more, amount, e->toxicant->name);
        put_behind(buf, size, times_words(e, times, sizeof times));
    }
    const struct st_test *bar = worst_of(e);
    if (bar && bar->rule->unit == ST_RULE_PRESENT && st_test_counts(bar)) {
        char place[120];
        put_behind(buf, size, ", and barred in a drink, ");
        put_behind(buf, size, st_law_place_words(bar->rule->places, place, sizeof place));
    }
}

/* What a laboratory found, and nobody can hold against anything: the published worst case then stands, and that is said. */
static void assays_left(const struct st_recipe *r, const struct st_watch *w, struct st_cautions *out)
{
    for (int i = 0; i < r->n_assay; i++) {
        const struct st_assay *a = &r->assay[i];
        int step = -1, line = -1;
        for (int s = 0; s < r->n_step; s++)
            for (int k = 0; k < r->step[s].n_line && step < 0; k++) {
                const struct st_ingredient *in = r->step[s].line[k].what;
                if (in && a->ingredient && strcmp(in->slug, a->ingredient) == 0)
                    step = s, line = k;
            }
        const bool named = st_toxicant_named(w->books, a->toxicant) != NULL;
        if (named && step >= 0)
            continue;
        struct st_caution *c =
            st_caution_add(out, named ? ST_LEVEL_NOTE : ST_LEVEL_CAUTION, "assay_unused", "common practice, no source",
                           step, line, "the assay of %s is not used", a->toxicant ? a->toxicant : "nothing");
        if (named)
            st_caution_because(c, "what it is of is in no step of this recipe");
        else
            st_caution_because(
                c, "no poison is known here by that name, so the published worst case stands: write the name "
                   "that `--explain` tells, such as hydrogen cyanide");
    }
}

void st_cautions_of_ledger(const struct st_recipe *r, const struct st_ledger *l, const struct st_watch *w,
                           struct st_cautions *out)
{
    for (int i = 0; i < l->n_entry; i++) {
        const struct st_ledger_entry *e = &l->entry[i];
        const struct st_carrier *c = e->n_carrier ? &e->carrier[0] : NULL;
        const char *name = carrier_name(r, c);
        const struct st_test *worst = worst_of(e);
        char what[sizeof out->item[0].what];
        finding(r, e, name, what, sizeof what);
        struct st_caution *told =
            st_caution_add(out, level_of(r, e), "worst_case", worst ? worst->rule->source : e->toxicant->source,
                           c ? c->step : -1, c ? c->line : -1, "%s", what);
        if (told)
            why(told, r, e, w);
    }
    plants(r, l, out);
    assays_left(r, w, out);
    if (l->cut)
        st_caution_because(st_caution_add(out, ST_LEVEL_CAUTION, "worst_case", "common practice, no source", -1, -1,
                                          "more is in this recipe than can be reckoned at once"),
                           "part of what may be poisonous in it was not assessed: write it as several smaller recipes");
}

bool st_ledger_names(const struct st_ledger *l, int step, int line, const char *flag)
{
    for (int i = 0; l && i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_carrier && st_rule_lists(l->entry[i].toxicant->flags, flag); k++)
            if (l->entry[i].carrier[k].step == step && l->entry[i].carrier[k].line == line)
                return true;
    return false;
}

bool st_ledger_tells(const struct st_ledger *l, int step, int line, const char *flag)
{
    bool any = false;
    for (int i = 0; l && i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_carrier && st_rule_lists(l->entry[i].toxicant->flags, flag); k++) {
            const struct st_carrier *c = &l->entry[i].carrier[k];
            if (c->step != step || c->line != line)
                continue;
            if (isnan(c->high_mg))
                return false;
            any = true;
        }
    return any;
}
