#include "clearing_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"

#define DEGREE "\xc2\xb0"

static const double FREEZER_K = 255.15;

const char *st_clearness_word(enum st_clearness c)
{
    static const char *const WORD[] = { [ST_STAYS_CLEAR] = "clear",
                                        [ST_MAY_CLOUD] = "undecided",
                                        [ST_CLOUDS] = "cloudy",
                                        [ST_CLEARNESS_UNKNOWN] = "not known" };
    return WORD[c];
}

const char *st_clearness_code(enum st_clearness c)
{
    return c == ST_CLOUDS ? "cloud" : c == ST_CLEARNESS_UNKNOWN ? "not_known" : st_clearness_word(c);
}

const char *st_place_words(enum st_place_of_drink p)
{
    static const char *const WORDS[ST_NPLACES] = { [ST_IN_BOTTLE] = "in the bottle, 20 " DEGREE "C",
                                                   [ST_IN_FRIDGE] = "in the fridge, 5 " DEGREE "C",
                                                   [ST_IN_FREEZER] = "in the freezer, -18 " DEGREE "C",
                                                   [ST_WITH_WATER] = "with as much water" };
    return WORDS[p];
}

const char *st_place_code(enum st_place_of_drink p)
{
    static const char *const CODE[ST_NPLACES] = {
        [ST_IN_BOTTLE] = "bottle", [ST_IN_FRIDGE] = "fridge", [ST_IN_FREEZER] = "freezer", [ST_WITH_WATER] = "water"
    };
    return CODE[p];
}

/* "2.7", "0.45", "130". */
static void two_figures(char *buf, size_t size, double x)
{
    const int tens = x > 0.0 ? (int)floor(log10(x) + 1e-9) : 0;
    const double unit = pow(10.0, tens - 1);
    snprintf(buf, size, "%.*f", tens < 1 ? (int)fmin(1.0 - tens, 6.0) : 0, x > 0.0 ? round(x / unit) * unit : 0.0);
}

static bool any_unknown(const struct st_clearing *c, enum st_oil_known why, char *names, size_t size)
{
    int n = 0;
    *names = '\0';
    for (int i = 0; i < c->n_oil; i++) {
        if (c->oil[i].known != why || strstr(names, c->oil[i].what->name))
            continue;
        const size_t at = strlen(names);
        if (n++ < 3)
            snprintf(names + at, size - at, "%s%s", at ? "; " : "", c->oil[i].what->name);
        else if (n == 5)
            snprintf(names + at, size - at, " and others");
    }
    return n > 0;
}

/* A ratio reaches over powers of ten: two figures of each, so that neither end is rounded away. */
static void ratio_words(char *buf, size_t size, const struct st_interval *x)
{
    char value[24], low[24], high[24];
    two_figures(value, sizeof value, x->value);
    two_figures(low, sizeof low, x->low);
    two_figures(high, sizeof high, x->high);
    snprintf(buf, size, "%s times, likely between %s and %s", value, low, high);
}

void st_clear_index_words(char *buf, size_t size, const struct st_clearing *c, enum st_place_of_drink p)
{
    const struct st_clear_verdict *v = &c->at[p];
    if (c->milky) {
        snprintf(buf, size, "cream, milk or egg makes it milky");
        return;
    }
    if (!v->index.known) {
        snprintf(buf, size, "%s", v->is == ST_CLEARNESS_UNKNOWN ? "no figure for its oil" : "nothing with oil in it");
        return;
    }
    char ratio[120];
    ratio_words(ratio, sizeof ratio, &v->index);
    snprintf(buf, size, "%s%s", ratio, v->is == ST_CLEARNESS_UNKNOWN ? ", by what is known alone" : "");
}

const char *st_oil_known_code(enum st_oil_known k)
{
    static const char *const CODE[] = { [ST_OIL_KNOWN] = "known",
                                        [ST_OIL_NO_CONTENT] = "no_content",
                                        [ST_OIL_NO_MARKER] = "no_marker",
                                        [ST_OIL_NO_WEIGHT] = "no_weight" };
    return CODE[k];
}

/* As chemists write it where the sheet has that, else its name. */
static void compound_words(char *buf, size_t size, const struct st_compound *c)
{
    const char *name = *c->other_names ? c->other_names : c->name;
    snprintf(buf, size, "%.*s", (int)strcspn(name, "|"), name);
    for (char *p = buf; *p; p++)
        if (*p == '_')
            *p = ' ';
}

void st_clear_oil_words(char *buf, size_t size, const struct st_oil_source *o)
{
    char figure[160], as[60];
    switch (o->known) {
    case ST_OIL_NO_CONTENT:
        snprintf(buf, size, "%s: how much oil it holds is on no sheet of ours", o->what->name);
        return;
    case ST_OIL_NO_MARKER:
        snprintf(buf, size, "%s: what its oil is mostly made of has no figures", o->what->name);
        return;
    case ST_OIL_NO_WEIGHT: snprintf(buf, size, "%s: how much of it goes in is not told", o->what->name); return;
    case ST_OIL_KNOWN: break;
    }
    st_figure_words(figure, sizeof figure, &o->g_l, "g/L");
    compound_words(as, sizeof as, o->as);
    snprintf(buf, size, "%s: oil %s, reckoned as %s%s", o->what->name, figure, as,
             o->full ? "; the jar was too weak to take up more" : "");
}

/* ---- remarks ---- */

/* With water alone does not count: nobody has to pour it. */
static bool cloudy_anywhere(const struct st_clearing *c)
{
    for (int i = 0; i < ST_NPLACES; i++)
        if (i != ST_WITH_WATER && (c->at[i].is == ST_CLOUDS || c->at[i].is == ST_MAY_CLOUD))
            return true;
    return false;
}

static bool undecided_anywhere(const struct st_clearing *c)
{
    for (int i = 0; i < ST_NPLACES; i++)
        if (c->at[i].is == ST_MAY_CLOUD || c->at[i].is == ST_CLEARNESS_UNKNOWN)
            return true;
    return false;
}

/* Why nothing is known of the oil, once for all places. */
static void remark_unknown(char *buf, size_t size, const struct st_clearing *c)
{
    char names[240];
    bool fruit = true;
    for (int i = 0; i < c->n_oil; i++)
        fruit = fruit && (c->oil[i].known == ST_OIL_KNOWN || st_clearing_is_flesh(c->oil[i].what));
    if (any_unknown(c, ST_OIL_NO_CONTENT, names, sizeof names))
        snprintf(
            buf, size,
            "Not known: no figure is known to us for the oil of %s, and what is not known is never called clear.%s",
            names,
            fruit ? " Flesh of fruit seldom holds enough to cloud; what clouds it is pulp and pectin (from memory)."
                  : "");
    else if (any_unknown(c, ST_OIL_NO_MARKER, names, sizeof names))
        snprintf(buf, size,
                 "Not known: what the oil of %s is made of has no figures here, and what is not known is never called "
                 "clear.",
                 names);
    else
        snprintf(buf, size,
                 "Not known: how much of the things with oil goes in is not told, and what is not known is never "
                 "called clear.");
}

static void remark_lemon(char *buf, size_t size)
{
    snprintf(buf, size,
             "A lemon liqueur near 30 %% vol carries droplets of about 100 nm over a wide range of strength and sugar: "
             "cloud there is normal, and it will not settle. [chiappisi2018] [chiappisi2019]");
}

static void remark_crystals(char *buf, size_t size)
{
    snprintf(buf, size,
             "Oil of anise is mostly anethole, which freezes at 20 to 21 " DEGREE
             "C when pure (read): a cold bottle may show crystals. Warm it in the hand and shake. (data/markers.tsv)");
}

static void remark_law(char *buf, size_t size, bool look, bool index)
{
    snprintf(buf, size, "%s%s", look ? "To see, dilute or chill 10 mL in a glass and look. " : "",
             index ? "Clear is what lies below 0.7 times with its whole range, cloudy above 1.4. The law behind it is "
                     "right within a factor of 2 to 3 at one standard deviation, so 6 at 95 %: the ranges hold that, "
                     "and what is not known of oil, strength, sugar and cold. [yalkowsky_cosolvent]"
                   : "");
}

/* freezing.h is sure to 3 K: whoever is that near is told too. */
static void remark_ice(char *buf, size_t size, double T)
{
    snprintf(buf, size,
             "Ice may form in it from about %.0f " DEGREE
             "C on (give or take 3): no freezer for a full bottle, which may burst. [melinder2010]",
             T - 273.15);
}

void st_clear_remark(char *buf, size_t size, const struct st_clearing *c, int i)
{
    enum { UNKNOWN, LEMON, CRYSTALS, WATER, ICE, LAW, NREMARK };
    const bool settled = c->at[ST_IN_BOTTLE].is == ST_STAYS_CLEAR && c->at[ST_IN_FRIDGE].is == ST_STAYS_CLEAR;
    const bool wanted[NREMARK] = { [UNKNOWN] = !c->oil_known,
                                   [LEMON] = c->lemon,
                                   [CRYSTALS] = c->crystals,
                                   [WATER] = settled && c->at[ST_WITH_WATER].is == ST_CLOUDS,
                                   [ICE] = c->freezes_K > FREEZER_K - 3.0,
                                   [LAW] = c->n_part > 0 || !c->oil_known };
    int at = 0;
    *buf = '\0';
    for (int k = 0; k < NREMARK && !c->milky; k++) {
        if (!wanted[k] || at++ != i)
            continue;
        if (k == UNKNOWN)
            remark_unknown(buf, size, c);
        else if (k == LEMON)
            remark_lemon(buf, size);
        else if (k == CRYSTALS)
            remark_crystals(buf, size);
        else if (k == WATER)
            snprintf(buf, size, "It clouds when water comes to it: that is its oil, and no fault.");
        else if (k == ICE)
            remark_ice(buf, size, c->freezes_K);
        else
            remark_law(buf, size, undecided_anywhere(c), c->n_part > 0);
        return;
    }
}

/* ---- remedies ---- */

static void stronger(char *buf, size_t size, const struct st_clearing *c)
{
    const struct st_interval *from = &c->clear_from;
    char more[200] = "";
    if (from->known)
        snprintf(more, sizeof more,
                 ": by this reckoning it is clear at 20 " DEGREE
                 "C from %.0f %% vol on, likely between %.0f and %.0f%s",
                 ceil(from->value), ceil(from->low), ceil(from->high),
                 from->value > c->strength + 5.0 ? "; that is no small step" : "");
    snprintf(buf, size, "Make it 2 to 5 %% vol stronger%s.", more);
}

void st_clear_remedy(char *buf, size_t size, const struct st_clearing *c, int i)
{
    *buf = '\0';
    if (c->milky || !cloudy_anywhere(c))
        return;
    switch (i) {
    case 0: stronger(buf, size, c); return;
    case 1:
        snprintf(buf, size,
                 "Chill it for 24 to 72 hours and filter it cold: what would cloud the glass stays in the paper, and "
                 "some aroma with it.");
        return;
    case 2: snprintf(buf, size, "Take less of what brings the oil next time, or take it out sooner."); return;
    case 3:
        snprintf(
            buf, size,
            "Leave it as it is: oil clouds the look, and carries the taste. Stirring or shaking does not clear it.");
        return;
    default: return;
    }
}

/* ---- settling ---- */

void st_settling_words(char *buf, size_t size, const struct st_interval *day)
{
    static const struct {
        double below, day;
        const char *name;
    } UNIT[] = { { 1.0 / 24.0, 1.0 / 1440.0, "minute" },
                 { 2.0, 1.0 / 24.0, "hour" },
                 { 21.0, 1.0, "day" },
                 { 90.0, 7.0, "week" },
                 { HUGE_VAL, 30.4375, "month" } };
    int k = 0;
    if (!day->known || !(day->value > 0.0)) {
        snprintf(buf, size, "stays up");
        return;
    }
    while (!(day->value < UNIT[k].below))
        k++;
    const int low = (int)fmax(floor(day->low / UNIT[k].day), 1.0), high = (int)fmax(ceil(day->high / UNIT[k].day), 1.0);
    if (low < high)
        snprintf(buf, size, "%d to %d %ss", low, high, UNIT[k].name);
    else
        snprintf(buf, size, "%d %s%s", low, UNIT[k].name, low == 1 ? "" : "s");
}

void st_settle_first_words(char *buf, size_t size, const struct st_clearing *c)
{
    static const char STILL[] =
        "chill it, give it the time of the last column, and pour off the clear before any paper";
    const struct st_settling_jar *before = &c->jar[ST_BEFORE_SUGAR], *after = &c->jar[ST_AFTER_SUGAR];
    *buf = '\0';
    if (!after->known)
        return;
    if (c->sugar_when == ST_SUGAR_AT_ONCE && after->eta > c->plain_eta * 1.05)
        snprintf(buf, size,
                 "The sugar goes in with what is steeped, so it cannot settle before: with it the drink is %.1f times "
                 "as thick (%.1f mPa s at 20 " DEGREE "C, by this reckoning %.1f without). What can still be done: %s. "
                 "Next time keep the sugar back until it has settled.",
                 after->eta / c->plain_eta, after->eta * 1e3, c->plain_eta * 1e3, STILL);
    else if (before->known && after->eta > before->eta * 1.05 &&
             (c->sugar_when == ST_SUGAR_LATER || c->sugar_when == ST_SUGAR_PART_LATER))
        snprintf(buf, size,
                 "Let it settle before the %ssugar goes in: this drink is %.1f times as thick afterwards (%.1f against "
                 "%.1f mPa s at 20 " DEGREE "C). If it is in already: %s.",
                 c->sugar_when == ST_SUGAR_PART_LATER ? "rest of the " : "", after->eta / before->eta, after->eta * 1e3,
                 before->eta * 1e3, STILL);
}

/* ---- pectin ---- */

void st_pectin_words(char *buf, size_t size, const struct st_clearing *c, int i)
{
    *buf = '\0';
    if (!c->fruit)
        return;
    if (i == 0)
        snprintf(buf, size,
                 "Test: 1 part of the drink into 3 to 4 parts of 96 %% spirit of food grade. Clots or strings within "
                 "minutes are pectin. Pour the sample away. [pectin_test]");
    else if (i == 1)
        snprintf(buf, size,
                 "Pectin enzyme works on the crushed fruit before the spirit, at 20 to 30 " DEGREE
                 "C; above 15 to 20 %% vol it hardly works (from memory).%s",
                 c->strength > 15.0
                     ? " In this drink it comes too late: settle, filter or fine it, and use it next time."
                     : "");
    else if (i == 2 && c->fruit_g.known && c->fruit_g.value > 1.0) {
        char low[40], high[40], fruit[40];
        st_grams_words(low, sizeof low, c->fruit_g.value * 2e-5);
        st_grams_words(high, sizeof high, c->fruit_g.value * 5e-4);
        st_grams_words(fruit, sizeof fruit, c->fruit_g.value);
        snprintf(buf, size,
                 "For the %s of fruit here: %s to %s of enzyme (0.02 to 0.5 g in 1 kg; the upper end read, the lower "
                 "from memory), or what its pack says. [fining_table]",
                 fruit, low, high);
    }
}
