#include "agree_words.h"

#include <math.h>
#include <stdio.h>

#include "figure_words.h"
#include "learnt_words.h"

static const double KELVIN = 273.15;

const char *st_agree_doubt_code(enum st_agree_doubt d)
{
    switch (d) {
    case ST_DOUBT_NONE: return "agree";
    case ST_DOUBT_EITHER: return "either";
    case ST_DOUBT_READING: return "reading";
    case ST_DOUBT_RECIPE: return "recipe";
    case ST_DOUBT_UNCLEAR: return "unclear";
    }
    return "";
}

const char *st_agree_use_code(enum st_agree_use u)
{
    switch (u) {
    case ST_AGREE_USED: return "used";
    case ST_AGREE_OTHER_KIND: return "other_kind";
    case ST_AGREE_OF_ONE: return "of_one";
    case ST_AGREE_NOT_FORETOLD: return "not_foretold";
    case ST_AGREE_WHICH_STEEP: return "which_steep";
    }
    return "";
}

/* The value of the slip stands for `%s`. */
static const struct slip_words {
    const char *code, *words;
} SLIP[ST_NSLIP] = {
    [ST_SLIP_NONE] = { "none", "No slip that this program knows explains it: read it again." },
    [ST_SLIP_WARM] = { "warm", "It would fit a liquid of %s: was it warmer or colder than you told when you read it?" },
    [ST_SLIP_ONE_MARK] = { "one_mark", "It would fit with one numbered mark %s: count the marks again." },
    [ST_SLIP_SUGAR_ALONE] = { "sugar_alone",
                              "It is what the sugar alone would show: a refractometer counts alcohol too. Was "
                              "the figure put right for alcohol already, or read after boiling?" },
    [ST_SLIP_NOT_COMPENSATED] = { "not_compensated",
                                  "It would fit a refractometer that does not correct for temperature: "
                                  "read it at 20 °C." },
    [ST_SLIP_SPIRIT_HYDROMETER] = { "spirit_hydrometer", "It is what a spirit hydrometer shows in so sweet a drink: "
                                                         "sugar hides alcohol from "
                                                         "it. It cannot be used here." },
    [ST_SLIP_PROOF] = { "proof", "It is about twice as much: was it proof, not % vol?" },
    [ST_SLIP_BY_MASS] = { "by_mass", "It would fit per cent by weight: was it that, not % vol?" },
    [ST_SLIP_BRIX_AS_SUGAR] = { "brix_as_sugar",
                                "It is what a refractometer shows when all it sees is taken for sugar: it "
                                "counts alcohol too." },
    [ST_SLIP_SG_AS_SUGAR] = { "sg_as_sugar",
                              "It is what a hydrometer gives for sugar when alcohol is forgotten, which makes "
                              "the drink lighter." },
    [ST_SLIP_PER_KG] = { "per_kg", "It would fit grams in a kilogram: was it that, not grams in a litre?" },
    [ST_SLIP_AS_TARTARIC] = { "as_tartaric", "It would fit acid reckoned as tartaric: here it is reckoned as citric." },
    [ST_SLIP_AS_SULPHURIC] = { "as_sulphuric",
                               "It would fit acid reckoned as sulphuric: here it is reckoned as citric." },
    [ST_SLIP_OTHER_CUP] = { "other_cup",
                            "It would fit the other cup: one of 237 mL and one of 250 mL are both called a "
                            "cup." },
    [ST_SLIP_LOST] = { "lost", "%s are not there: was some spilt, tasted, kept by a cloth, or left behind?" },
    [ST_SLIP_WRONG_FLASK] = { "wrong_flask",
                              "It would fit a flask of %s: weigh the flask with water to find what it holds." },
    [ST_SLIP_VESSEL_WEIGHED] = { "vessel_weighed", "It is %s too heavy: was the vessel taken off the weight?" },
    [ST_SLIP_NOT_MADE_UP] = { "not_made_up",
                              "It would fit what boiling left, made up to %s of the volume only: fill it up "
                              "with water to what it was." },
    [ST_SLIP_NOT_BOILED_OFF] = { "not_boiled_off",
                                 "It would fit if alcohol was left in it: boil off half of the volume at "
                                 "least." },
};

const char *st_agree_slip_code(enum st_agree_slip s)
{
    return (unsigned)s < ST_NSLIP ? SLIP[s].code : "";
}

const char *st_agree_instrument(enum st_seen what)
{
    switch (what) {
    case ST_SEEN_SG: return "hydrometer";
    case ST_SEEN_BRIX: return "refractometer";
    case ST_SEEN_STRENGTH: return "figure of strength";
    case ST_SEEN_SUGAR: return "figure of sugar";
    case ST_SEEN_ACID: return "figure of acid";
    case ST_SEEN_LIQUOR_ML: return "measured volume";
    case ST_SEEN_LIQUOR_G: return "weight of the liquid";
    case ST_SEEN_FLASK_G: return "weighed flask";
    case ST_SEEN_SG_BOILED: return "hydrometer after boiling off";
    case ST_SEEN_DRAINED_G: return "weight of the drained solids";
    default: break;
    }
    const struct st_seen_info *info = st_seen_info(what);
    return info ? info->name : "";
}

static const char *unit_of(enum st_seen what)
{
    return what == ST_SEEN_SG || what == ST_SEEN_SG_BOILED ? "" : st_seen_info(what)->unit;
}

static int used(const struct st_agreement *a, int *first)
{
    int n = 0;
    for (int i = a->n - 1; i >= 0; i--)
        if (a->reading[i].use == ST_AGREE_USED) {
            *first = i;
            n++;
        }
    return n;
}

/* "hydrometer"; "weight of the drained solids of first" */
static void name_of(char *buf, size_t size, const struct st_observation *o)
{
    const bool steep = o->what == ST_SEEN_DRAINED_G && o->jar && *o->jar;
    snprintf(buf, size, "%s%s%.60s", st_agree_instrument(o->what), steep ? " of " : "", steep ? o->jar : "");
}

/* ---- the verdict ---- */

static void all_agree(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[])
{
    int first = -1;
    const int n = used(a, &first);
    if (n == 0 && a->n_carried > 0)
        snprintf(
            buf, size,
            "Nothing was read of it since something was added. What was read before that agrees with the recipe, and "
            "holds through what was added.");
    else if (n == 0)
        snprintf(buf, size, "Nothing was read that can be held against the recipe.");
    else if (a->n_carried > 0 && n == 1)
        snprintf(buf, size, "Your %s, the recipe and what was read before something was added agree.",
                 st_agree_instrument(seen[first].what));
    else if (a->n_carried > 0)
        snprintf(buf, size, "Your %d readings, the recipe and what was read before something was added agree.", n);
    else if (n == 1)
        snprintf(buf, size, "Your %s and the recipe agree.", st_agree_instrument(seen[first].what));
    else
        snprintf(buf, size, "Your %d readings and the recipe agree.", n);
}

/* "it reads 1.066 (20/20 °C), and by the recipe it should be 1.046, likely between ..." */
static void off_words(char *buf, size_t size, const struct st_observation *o, const struct st_interval *should,
                      const char *by)
{
    char value[60], figure[160];
    st_seen_value_words(value, sizeof value, o->what, o->value);
    st_figure_words(figure, sizeof figure, should, unit_of(o->what));
    snprintf(buf, size, "it says %s, and by %s it should be %s", value, by, figure);
}

/* What a figure does to "by the readings": "about 96 g/L of sugar". */
static void by_readings(char *buf, size_t size, const struct st_agreement *a)
{
    size_t n = 0;
    buf[0] = '\0';
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        const struct st_figure_info *info = st_figure_info(st_agree_figure_of((enum st_agree_figure)f));
        char figure[160];
        if (!a->without[f].known || f == ST_AGREE_ACID)
            continue;
        st_figure_words(figure, sizeof figure, &a->without[f], info->unit);
        const int more = snprintf(buf + n, size - n, "%s%s %s", n ? "; " : "", info->name, figure);
        if (more < 0 || (size_t)more >= size - n)
            return;
        n += (size_t)more;
    }
}

static void recipe_in_doubt(char *buf, size_t size, const struct st_agreement *a)
{
    char found[500];
    by_readings(found, sizeof found, a);
    snprintf(buf, size,
             "Your readings agree with each other, but not with the recipe%s. The one to doubt is the recipe: look at "
             "what was "
             "really weighed and poured, and, if one instrument gave them all, at that instrument.%s%s%s",
             a->n_carried > 0 ? " and what was read before something was added" : "",
             *found ? " By the readings alone: " : "", found, *found ? "." : "");
}

static void reading_in_doubt(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[])
{
    char off[400], rival[160] = "", name[120];
    const struct st_observation *o = &seen[a->suspect];
    name_of(name, sizeof name, o);
    if (a->doubt == ST_DOUBT_EITHER) {
        const struct st_agree_reading *r = &a->reading[a->suspect];
        const char *by = a->n_carried > 0 ? "the recipe and what was read before something was added" : "the recipe";
        off_words(off, sizeof off, o, a->n_carried > 0 ? &r->others : &r->before, by);
        snprintf(buf, size,
                 "Your %s and %s do not agree: %s. One reading cannot tell which of the two is wrong: read it "
                 "again, "
                 "read something else too, and look at what was really weighed and poured.",
                 name, by, off);
        return;
    }

    off_words(off, sizeof off, o, &a->reading[a->suspect].others, "the recipe and the other readings");
    if (a->rival >= 0)
        snprintf(rival, sizeof rival, " It may as well be the %s: read both again.",
                 seen[a->rival].what == o->what ? "other one of that kind" : st_agree_instrument(seen[a->rival].what));
    snprintf(buf, size, "Your readings and the recipe do not agree. The one to doubt is the %s: %s.%s", name, off,
             rival);
}

void st_agree_verdict_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[])
{
    switch (a->doubt) {
    case ST_DOUBT_NONE: all_agree(buf, size, a, seen); return;
    case ST_DOUBT_RECIPE: recipe_in_doubt(buf, size, a); return;
    case ST_DOUBT_EITHER:
    case ST_DOUBT_READING:
        if (a->suspect >= 0) {
            reading_in_doubt(buf, size, a, seen);
            return;
        }
        break;
    case ST_DOUBT_UNCLEAR: break;
    }
    if (a->no_liquid)
        snprintf(buf, size,
                 "There is no such liquid: none of alcohol, sugar and water shows what you read. Read them all again, "
                 "at 20 °C, one instrument after the other in the same glass.");
    else
        snprintf(buf, size,
                 "Your readings and the recipe do not agree, and no single reading makes the difference: read them all "
                 "again, at "
                 "20 °C, and look at what was really weighed and poured.");
}

/* ---- why ---- */

void st_agree_slip_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[])
{
    char value[60] = "", figure[32];
    buf[0] = '\0';
    if (a->suspect < 0 || (unsigned)a->slip >= ST_NSLIP)
        return;
    const struct st_observation *o = &seen[a->suspect];
    const double x = a->slip_value;
    st_plain_figure(figure, sizeof figure, x, 2);
    switch (a->slip) {
    case ST_SLIP_WARM: snprintf(value, sizeof value, "about %.0f °C", x - KELVIN); break;
    case ST_SLIP_ONE_MARK: snprintf(value, sizeof value, "%s", x > 0.0 ? "less" : "more"); break;
    case ST_SLIP_LOST:
    case ST_SLIP_VESSEL_WEIGHED: snprintf(value, sizeof value, "about %s %s", figure, unit_of(o->what)); break;
    case ST_SLIP_WRONG_FLASK:
        st_plain_figure(figure, sizeof figure, x, 3);
        snprintf(value, sizeof value, "%s mL", figure);
        break;
    case ST_SLIP_NOT_MADE_UP: snprintf(value, sizeof value, "about %.0f %%", 100.0 * x); break;
    default: break;
    }
    const char *words = SLIP[a->slip].words;
    for (size_t n = 0; *words && n + 1 < size;) {
        if (words[0] == '%' && words[1] == 's') {
            const int more = snprintf(buf + n, size - n, "%s", value);
            n += more < 0 ? 0 : (size_t)more;
            words += 2;
            continue;
        }
        buf[n++] = *words++;
        buf[n] = '\0';
    }
    buf[size - 1] = '\0';
}

/* ---- single readings ---- */

void st_agree_reading_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[],
                            int i)
{
    static const char *const WHY[] = {
        [ST_AGREE_USED] = "",
        [ST_AGREE_OTHER_KIND] = "it says nothing of strength, sugar, acid or volume",
        [ST_AGREE_OF_ONE] = "it is of one ingredient, not of the drink",
        [ST_AGREE_NOT_FORETOLD] = "nothing foretells it here, or not at that temperature",
        [ST_AGREE_WHICH_STEEP] = ("several steeps are strained, and it does not say of which, or is of a fifth, and "
                                  "four are told apart: read it with --step"),
    };
    const struct st_agree_reading *r = &a->reading[i];
    char value[60], before[160], after[160], name[120];
    name_of(name, sizeof name, &seen[i]);
    st_seen_value_words(value, sizeof value, seen[i].what, seen[i].value);
    if (r->use != ST_AGREE_USED) {
        snprintf(buf, size, "%s, %s: not used; %s", name, value, WHY[r->use]);
        return;
    }
    st_figure_words(before, sizeof before, &r->before, unit_of(seen[i].what));
    if (!st_agree_together(a)) {
        snprintf(buf, size, "%s, %s: foretold %s", name, value, before);
        return;
    }
    st_figure_words(after, sizeof after, &r->after, unit_of(seen[i].what));
    snprintf(buf, size, "%s, %s: foretold %s; by all together %s%s", name, value, before, after,
             isfinite(r->standard) ? "" : "; nothing else says anything of it");
}

/* ---- what goes with it ---- */

static void chance_words(char *buf, size_t size, const struct st_agreement *a)
{
    if (a->p < 0.001)
        snprintf(buf, size, "Chance alone would part them so far in fewer than 1 of 1000 cases.");
    else if (a->p < 0.01)
        snprintf(buf, size, "Chance alone would part them so far in about %.0f of 1000 cases.", 1000.0 * a->p);
    else
        snprintf(buf, size, "Chance alone would part them so far in about %.0f of 100 cases%s.", 100.0 * a->p,
                 st_agree_straggles(a) ? ": unlikely, and no contradiction, so it is used all the same [iso5725_2]"
                                       : "");
}

/* "hydrometer", "hydrometer and refractometer": which came without a temperature that matters. */
static void unsaid_words(char *buf, size_t size, const struct st_agreement *a)
{
    bool done[ST_NSEEN] = { false };
    size_t n = 0;
    buf[0] = '\0';
    for (int i = 0; i < a->n; i++) {
        const struct st_agree_reading *r = &a->reading[i];
        if (!r->warm_unsaid || done[r->what])
            continue;
        done[r->what] = true;
        const int more = snprintf(buf + n, size - n, "%s%s", n ? ", " : "", st_agree_instrument(r->what));
        if (more < 0 || (size_t)more >= size - n)
            return;
        n += (size_t)more;
    }
}

static bool repeated(const struct st_agreement *a)
{
    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < i; k++)
            if (a->reading[i].use == ST_AGREE_USED && a->reading[k].use == ST_AGREE_USED &&
                a->reading[i].what == a->reading[k].what && a->reading[i].steep == a->reading[k].steep)
                return true;
    return false;
}

static const char APART[] =
    "What is so far apart supports no figure by all together; there are those of the recipe and those %s.";

void st_agree_remark(char *buf, size_t size, const struct st_agreement *a, int i)
{
    int first;
    int k = 0;
    buf[0] = '\0';
    if (i < 0)
        return;
    if (used(a, &first) > 0 && k++ == i)
        chance_words(buf, size, a);
    else if (a->doubt != ST_DOUBT_NONE && a->doubt != ST_DOUBT_UNCLEAR && k++ == i)
        snprintf(buf, size, st_agree_together(a) ? "The figures are given twice: with all, and %s." : APART,
                 a->doubt == ST_DOUBT_RECIPE ? "by the readings without the recipe" : "without the one in doubt");
    else if (a->no_liquid && a->doubt != ST_DOUBT_NONE && a->doubt != ST_DOUBT_UNCLEAR && k++ == i)
        snprintf(buf, size, "By themselves they are of no liquid: none of alcohol, sugar and water shows all of them.");
    else if (a->refractometer && k++ == i)
        snprintf(buf, size,
                 "How a refractometer sees sugar and alcohol together is known to about 0.5 %% vol only, and that "
                 "error is the "
                 "same each time: reading it again does not make it smaller.");
    else if (a->doubt == ST_DOUBT_UNCLEAR && k++ == i)
        snprintf(buf, size, "What does not fit together supports no figure: none is given by all together.");
    else if (repeated(a) && k++ == i)
        snprintf(buf, size,
                 "Readings of one kind are taken as of one instrument: half of its error is the same each time, so "
                 "reading it again makes it a little surer only.");
    else if (a->warm_unsaid && k++ == i) {
        char which[200];
        unsaid_words(which, sizeof which, a);
        snprintf(buf, size, "Nobody told how warm the liquid was for the %s: 20 °C was taken, give or take 4 °C.",
                 which);
    }
}
