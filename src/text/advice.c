#include "advice.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"

static const char *const FIGURE[3] = { "strength", "sugar", "volume" };
static const char *const UNIT[3] = { "% vol", "g/L", "mL" };

/* Where a maker writes: in a recipe file, or on a page, where figures are not written into steps. */
enum medium { IN_FILE, ON_PAGE };

static void weigh_solids(const char *step, bool drained, enum medium m, char *buf, size_t size)
{
    if (drained)
        snprintf(buf, size, "Weigh the drained solids on a finer scale");
    else if (m == ON_PAGE)
        snprintf(buf, size,
                 "Weigh what you strain off and keep the number, so that the liquor it keeps need not be "
                 "guessed");
    else
        snprintf(buf, size,
                 "Weigh what you strain off%s%s%s, and write it there as \"drained: ... g\", so that the "
                 "liquor it keeps need not be guessed",
                 step ? " in \"" : "", step ? step : "", step ? "\"" : "");
}

/* What is only known within a range. */
static bool narrow_range(const char *what, enum medium m, char *buf, size_t size)
{
    if (strncmp(what, "how much ", 9) == 0)
        snprintf(buf, size, "Settle on one amount: %s", what);
    else if (strncmp(what, "whether ", 8) == 0)
        snprintf(buf, size,
                 m == ON_PAGE ? "Say in its line %s (\"as bought\", or \"pitted\")"
                              : "Say on its line %s (`as bought`, or `pitted`)",
                 what);
    else if (strstr(what, " in the ") || strstr(what, "trimmed"))
        snprintf(buf, size, "Learn %s of the lot you have (a pack's label, or a reading of its juice)", what);
    else
        return false;
    return true;
}

/* What a maker can do about an input; false when nothing. */
static bool what_to_do(const struct st_recipe *r, const struct st_effect *e, enum medium m, char *buf, size_t size)
{
    const char *step = e->step >= 0 && e->step < r->n_step ? r->step[e->step].id : NULL;
    switch (e->cause) {
    case ST_CAUSE_TOOL:
        if (e->tool == ST_TOOL_SCALE)
            snprintf(buf, size, "Weigh on a finer scale");
        else
            snprintf(buf, size, "Weigh what you measure with %s", e->what);
        return true;
    case ST_CAUSE_RETENTION: weigh_solids(step, strstr(e->what, "drained") != NULL, m, buf, size); return true;
    case ST_CAUSE_OPEN:
        snprintf(buf, size,
                 m == ON_PAGE ? "Measure %s, and change its line to that"
                              : "Measure %s, and write the amount on its line",
                 e->what);
        return true;
    case ST_CAUSE_LABEL: snprintf(buf, size, "Measure %s, or take it from a finer label", e->what); return true;
    case ST_CAUSE_LOSS:
        snprintf(buf, size,
                 m == ON_PAGE ? "Measure %s, and keep the number" : "Measure %s, and write it in the step as its loss",
                 e->what);
        return true;
    case ST_CAUSE_RANGE: return narrow_range(e->what, m, buf, size);
    }
    return false;
}

/* What a maker notices, of strength, sugar and volume: half a per cent by volume, 10 g/L, one fiftieth of what there
 * is.  Common practice, no source. */
static void noticed(const struct st_foretold *f, double unit[3])
{
    unit[0] = 0.5;
    unit[1] = 10.0;
    unit[2] = f->fig[ST_FIG_VOLUME].known ? 0.02 * f->fig[ST_FIG_VOLUME].value : (double)NAN;
}

/* The figure that is least sure, in those units; all effects are of the same bottle, so any tells. */
static int least_sure(const struct st_effect *e, const double unit[3])
{
    int worst = 0;
    for (int i = 1; i < 3; i++)
        if (e->half[i] / unit[i] > e->half[worst] / unit[worst])
            worst = i;
    return worst;
}

static double gain(const struct st_effect *e, int i)
{
    return e->half[i] - e->half_without[i];
}

static double widths(double half, int *digits)
{
    const int e = half > 0.0 ? (int)floor(log10(half)) : 0;
    const int places = half / pow(10.0, e) < 1.95 ? 1 - e : -e;
    *digits = places > 0 ? places : 0;
    return half;
}

/* Of what a maker can act on, what takes most off the figure that is least sure. */
static const struct st_effect *best_effect(const struct st_recipe *r, const struct st_foretold *f, int *figure)
{
    const struct st_effect *best = NULL;
    double unit[3];
    char todo[220];

    noticed(f, unit);
    *figure = f->n_effect > 0 ? least_sure(&f->effect[0], unit) : 0;
    for (int i = 0; i < f->n_effect; i++) {
        const struct st_effect *e = &f->effect[i];
        if (what_to_do(r, e, IN_FILE, todo, sizeof todo) && (!best || gain(e, *figure) > gain(best, *figure)))
            best = e;
    }
    return best;
}

static void tip(const struct st_recipe *r, const struct st_foretold *f, enum medium m, char *buf, size_t size)
{
    static const double WORTH = 0.04; /* of the half width */
    int k;
    const struct st_effect *best = best_effect(r, f, &k);
    char todo[220];

    if (!best || gain(best, k) < WORTH * best->half[k]) {
        snprintf(buf, size, "Nothing that you could weigh or measure better would change these figures much.");
        return;
    }
    int a, b;
    (void)what_to_do(r, best, m, todo, sizeof todo);
    (void)widths(best->half[k], &a);
    (void)widths(best->half_without[k], &b);
    const int digits = a > b ? a : b;
    snprintf(buf, size, "%s: the likely range of the %s shrinks from %.*f to %.*f %s either way.", todo, FIGURE[k],
             digits, best->half[k], digits, best->half_without[k], UNIT[k]);
}

void st_tip_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size)
{
    tip(r, f, IN_FILE, buf, size);
}

void st_tip_page_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size)
{
    tip(r, f, ON_PAGE, buf, size);
}

/* ---- notes of the plan ---- */

static const char *where(const struct st_recipe *r, const struct st_note *n, char *buf, size_t size)
{
    const struct st_step *s = n->step >= 0 && n->step < r->n_step ? &r->step[n->step] : NULL;
    if (!s)
        return "the recipe";
    if (n->line >= 0 && n->line < s->n_line)
        snprintf(buf, size, "%.80s", s->line[n->line].text);
    else
        snprintf(buf, size, "%.80s", s->id);
    return buf;
}

int st_note_limits(const struct st_foretold *f)
{
    int n = 0;
    for (int i = 0; i < f->n_note; i++) {
        const enum st_note_code c = f->note[i].code;
        n += c == ST_NOTE_TAKEN_TOO_MUCH || c == ST_NOTE_BOILED_DRY || c == ST_NOTE_ALREADY_FULL ||
             c == ST_NOTE_OVERFULL || c == ST_NOTE_BOTTLES_SHORT;
    }
    return n;
}

bool st_cautions_stop(const struct st_cautions *c)
{
    for (int i = 0; i < c->n; i++)
        if (c->item[i].level == ST_LEVEL_STOP)
            return true;
    return false;
}

bool st_note_is_caution(const struct st_note *n)
{
    return n->code == ST_NOTE_CRYSTALLISES;
}

/* Notes that tell weights. */
static void weights_words(const struct st_note *n, const char *w, char *buf, size_t size)
{
    char a[32], b[32], c[32];

    st_grams_words(a, sizeof a, n->is);
    st_grams_words(b, sizeof b, n->limit);
    st_grams_words(c, sizeof c, n->low);
    switch (n->code) {
    case ST_NOTE_KEEPS_ALL:
        snprintf(buf, size,
                 "%s: the solids would soak up %s, nearly all the liquid there is (%s was left to them). Add "
                 "spirit, or press.",
                 w, a, b);
        return;
    case ST_NOTE_TAKEN_TOO_MUCH:
        snprintf(buf, size, "%s: there is less than that: %s asked, %s there, and all of it was taken.", w, a, b);
        return;
    case ST_NOTE_BOILED_DRY:
        snprintf(buf, size, "%s: %s of water cannot boil off; %s was taken at most.", w, a, b);
        return;
    case ST_NOTE_BOILS_SPIRIT:
        snprintf(buf, size,
                 "%s: a syrup with %s of alcohol in it is heated; what boils off of that is not reckoned, and the "
                 "vapour burns. Add the spirit when it is cold.",
                 w, a);
        return;
    case ST_NOTE_OPEN:
        snprintf(buf, size,
                 "%s: how much is that? %s was taken, anything from %s to %s. Weigh or measure it when you do it, "
                 "and write it on the line.",
                 w, a, c, b);
        return;
    case ST_NOTE_NOT_STRAINED:
        snprintf(buf, size, "%s of pieces still lie in the drink; the figures are of the liquid.", a);
        return;
    case ST_NOTE_UNUSED: snprintf(buf, size, "%s: no later step takes from it; %s is left over.", w, a); return;
    case ST_NOTE_ALSO_LOST:
        snprintf(buf, size, "%s: what is put in to clear it (%s) is counted as lost with the lees.", w, a);
        return;
    default: snprintf(buf, size, "%s: there is a note without words", w);
    }
}

bool st_note_words(const struct st_recipe *r, const struct st_note *n, char *buf, size_t size)
{
    char at[100];
    const char *w = where(r, n, at, sizeof at);

    switch (n->code) {
    case ST_NOTE_CRYSTALLISES:
        snprintf(buf, size,
                 "%s: sugar may crystallise: %.0f %% of the liquid is sugar, about %.0f %% dissolves at 20 \xc2\xb0"
                 "C. Add water, or keep it warm.",
                 w, 100.0 * n->is, 100.0 * n->limit);
        break;
    case ST_NOTE_ALREADY_FULL:
        snprintf(buf, size, "%s: %.0f mL are there already, more than the wished %.0f mL; nothing was added.", w, n->is,
                 n->limit);
        break;
    case ST_NOTE_OVERFULL:
        snprintf(buf, size,
                 "%s: it does not fit: %.0f mL of liquid and pieces, and the vessel holds %.0f mL. Take a larger "
                 "one, or share it out.",
                 w, n->is, n->limit);
        break;
    case ST_NOTE_STONES_UNSAID:
        snprintf(
            buf, size,
            "%s: with or without its stones: not said. Both are in the ranges (%.0f to 100 %% of it is fruit); write "
            "`as bought` or `pitted` on its line.",
            w, 100.0 * n->is);
        break;
    case ST_NOTE_AS_TRIMMED:
        snprintf(buf, size, "%s: weight taken as trimmed. As bought, about %.0f %% of it would be left.", w,
                 100.0 * n->is);
        break;
    case ST_NOTE_BOTTLES_SHORT:
        snprintf(buf, size, "It gives %.1f bottles, and %.0f are wished.", n->is, n->limit);
        break;
    default: weights_words(n, w, buf, size);
    }
    return n->code == ST_NOTE_OPEN;
}

/* ---- cautions, flavours, prices ---- */

/* A key stands in brackets, words for "no source" do not. */
const char *st_caution_source(const struct st_caution *c, char *buf, size_t size)
{
    const char *source = c->source && c->source[0] ? c->source : "no source";
    const bool key = source[0] != '[' && !strchr(source, ' ');
    snprintf(buf, size, key ? "[%s]" : "%s", source);
    return buf;
}

/* Poisons are not flavours: a middle estimate of one beside "worst case not assessed" would be read as an
 * assessment. */
bool st_marker_is_flavour(const char *name)
{
    static const char *const POISON[] = { "amygdalin",   "prunasin",   "coumarin",     "thujone",       "asarone",
                                          "safrole",     "myristicin", "estragole",    "methyleugenol", "pulegone",
                                          "menthofuran", "quinine",    "glycyrrhizin", "juglone",       "capsaicin",
                                          "caffeine",    "synephrine", "tomatine",     "oxal",          "quassin",
                                          "teucrin",     "hypericin",  "berberine",    "aloin",         "cyanide" };
    for (size_t i = 0; i < sizeof POISON / sizeof POISON[0]; i++)
        if (strstr(name, POISON[i]))
            return false;
    return true;
}

bool st_recipe_is_priced(const struct st_recipe *r)
{
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++)
            if (isfinite(r->step[i].line[k].price))
                return true;
    return false;
}
