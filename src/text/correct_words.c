#include "correct_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"
#include "kitchen_words.h"

static const struct {
    const char *code, *words;
} WAY[ST_CORRECT_NBY] = {
    [ST_BY_LEAST] = { "least", "the least that is moved" },
    [ST_BY_HELD] = { "rest_held", "with the rest as it is" },
    [ST_BY_SPIRIT] = { "least_spirit", "the least spirit" },
    [ST_BY_COST] = { "cheapest", "the cheapest" },
    [ST_BY_NO_WATER] = { "no_water", "without water" },
    [ST_BY_NO_DRAW] = { "no_draw_off", "with nothing drawn off" },
    [ST_BY_BLEND] = { "blend", "by blending alone" },
};

const char *st_correct_way_words(enum st_correct_by by)
{
    return WAY[by].words;
}

const char *st_correct_way_code(enum st_correct_by by)
{
    return WAY[by].code;
}

const char *st_correct_none_code(enum st_correct_none n)
{
    static const char *const CODE[] = { [ST_NONE_HERE] = "found",
                                        [ST_NONE_LESS] = "less_sure",
                                        [ST_NONE_REACHED] = "not_reached",
                                        [ST_NONE_SAME] = "same",
                                        [ST_NONE_NOT_APPLIES] = "does_not_apply" };
    return CODE[n];
}

/* ---- building up ---- */

__attribute__((format(printf, 3, 4))) static void more(char *buf, size_t size, const char *format, ...)
{
    const size_t n = strlen(buf);
    va_list args;
    va_start(args, format);
    (void)vsnprintf(buf + n, size - n, format, args);
    va_end(args);
}

/* No finer than a jug or a small measure pours. */
static void volume(char *buf, size_t size, double ml)
{
    if (ml >= 999.5)
        (void)snprintf(buf, size, "%.3g L", ml * 1e-3);
    else
        (void)snprintf(buf, size, ml < 9.95 ? "%.2g mL" : "%.0f mL", ml);
}

static double grams_in(const struct st_correct_thing *t)
{
    double g = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        g += t->g[c];
    return g;
}

void st_correct_amount_words(char *buf, size_t size, const struct st_correct_thing *t, double units)
{
    char g[32];
    st_grams_words(g, sizeof g, units * grams_in(t));
    if (t->by_weight) {
        (void)snprintf(buf, size, "%s", g);
        return;
    }
    volume(buf, size, units);
    more(buf, size, " (%s)", g);
}

void st_correct_written(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_thing *t,
                        double units)
{
    const double digit = !t->by_weight      ? units < 9.95    ? 0.1
                                              : units < 999.5 ? 1.0
                                                              : 10.0
                         : a->digit_g > 0.0 ? a->digit_g
                                            : 1.0;
    const int decimals = digit < 0.0095 ? 3 : digit < 0.095 ? 2 : digit < 0.95 ? 1 : 0;
    (void)snprintf(buf, size, "%.*f %s", decimals, fmax(round(units / digit), 1.0) * digit, t->by_weight ? "g" : "mL");
}

/* ---- one way ---- */

static void draw_words(char *buf, size_t size, double ml, bool then)
{
    char text[32];
    buf[0] = '\0';
    if (!(ml > 0.0))
        return;
    volume(text, sizeof text, ml);
    more(buf, size, "draw off %s first%s", text, then ? ", then " : "");
}

void st_correct_do_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_option *o)
{
    char text[64];
    draw_words(buf, size, o->made.draw_ml, o->n_order > 0);
    for (int k = 0; k < o->n_order; k++) {
        const struct st_correct_thing *t = &a->thing[o->order[k]];
        st_correct_amount_words(text, sizeof text, t, o->made.amount[o->order[k]]);
        more(buf, size, "%s%s of %s", k == 0 ? "pour in " : ", ", text, t->name);
    }
    if (!*buf)
        more(buf, size, "%s",
             o->made.met               ? "nothing: it is there already"
             : o->none == ST_NONE_HERE ? "nothing: it is there, and what would make it surer is too little to matter"
             : o->none == ST_NONE_LESS ? "nothing: by the middle of what is known of it, it is there"
                                       : "nothing of it brings it nearer");
}

bool st_correct_idle(const struct st_correct_option *o)
{
    return o->n_order == 0 && !(o->made.draw_ml > 0.0);
}

void st_correct_kitchen_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_option *o)
{
    char text[64];
    buf[0] = '\0';
    if (!o->has_kitchen)
        return;
    draw_words(buf, size, o->kitchen.draw_ml, o->n_order > 0);
    for (int k = 0; k < o->n_order; k++) {
        st_kitchen_words(&o->item[o->order[k]], text, sizeof text);
        more(buf, size, "%s%s of %s", k == 0 ? "" : ", ", text, a->thing[o->order[k]].name);
    }
}

static void range(char *buf, size_t size, const struct st_interval *x, int digits, double scale, const char *unit)
{
    char low[24], high[24];
    (void)snprintf(low, sizeof low, "%.*f", digits, x->low * scale);
    (void)snprintf(high, sizeof high, "%.*f", digits, x->high * scale);
    more(buf, size, "%s%.*f %s", *buf ? ", " : "", digits, x->value * scale, unit);
    if (strcmp(low, high) != 0)
        more(buf, size, " (%s to %s)", low, high);
}

void st_correct_figures_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_made *m)
{
    const struct st_interval *v = &m->fig[ST_CORRECT_VOLUME];
    buf[0] = '\0';
    range(buf, size, &m->fig[ST_CORRECT_STRENGTH], 1, 1.0, "% vol");
    range(buf, size, &m->fig[ST_CORRECT_SUGAR], 0, 1.0, "g/L of sugar");
    if (a->batch.is.acid_known || m->fig[ST_CORRECT_ACID].value > 0.05)
        range(buf, size, &m->fig[ST_CORRECT_ACID], 1, 1.0,
              a->batch.is.acid_known ? "g/L of acid" : "g/L of acid added");
    if (v->value >= 999.5)
        range(buf, size, v, 2, 1e-3, "L");
    else
        range(buf, size, v, 0, 1.0, "mL");
}

void st_correct_moved_words(char *buf, size_t size, const struct st_correct_ask *a,
                            const struct st_correct_made *before, const struct st_correct_made *m)
{
    static const struct {
        enum st_correct_figure of;
        const char *name, *unit, *option;
        int digits;
    } MOVES[] = { { ST_CORRECT_STRENGTH, "the strength", "% vol", "strength", 1 },
                  { ST_CORRECT_SUGAR, "the sugar", "g/L", "sugar", 0 },
                  { ST_CORRECT_ACID, "the acid", "g/L", "acid", 1 } };
    const char *option = "";
    buf[0] = '\0';
    for (size_t i = 0; i < sizeof MOVES / sizeof *MOVES; i++) {
        const double was = before->fig[MOVES[i].of].value, is = m->fig[MOVES[i].of].value;
        if (a->wish[MOVES[i].of].asked || (MOVES[i].of == ST_CORRECT_ACID && !a->batch.is.acid_known) ||
            fabs(is - was) <= st_correct_step(a, MOVES[i].of))
            continue;
        more(buf, size, "%s%s from %.*f to %.*f %s", *buf ? ", " : "", MOVES[i].name, MOVES[i].digits, was,
             MOVES[i].digits, is, MOVES[i].unit);
        option = *option ? option : MOVES[i].option;
    }
    if (*buf)
        more(buf, size, ", which nobody asked for: --%s says where it shall be", option);
}

void st_correct_sure_words(char *buf, size_t size, const struct st_correct_made *m)
{
    const double n = floor(100.0 * m->all + 1e-9);
    if (n >= 100.0)
        (void)snprintf(buf, size, "inside in more than 99 of 100");
    else if (n < 1.0)
        (void)snprintf(buf, size, "inside in less than 1 of 100");
    else
        (void)snprintf(buf, size, "inside in %.0f of 100", n);
}

void st_correct_wish_words(char *buf, size_t size, const struct st_correct_ask *a)
{
    static const char *const UNIT[ST_CORRECT_NFIG] = { "% vol", "g/L of sugar", "g/L of acid", "mL in all" };
    buf[0] = '\0';
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        const struct st_correct_wish *w = &a->wish[f];
        if (!w->asked)
            continue;
        if (!isfinite(w->low))
            more(buf, size, "%sat most %.4g %s", *buf ? ", " : "", w->high, UNIT[f]);
        else if (!isfinite(w->high))
            more(buf, size, "%sat least %.4g %s", *buf ? ", " : "", w->low, UNIT[f]);
        else
            more(buf, size, "%s%.4g to %.4g %s", *buf ? ", " : "", w->low, w->high, UNIT[f]);
    }
}

void st_correct_jar_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_made *m)
{
    char jar[32], stands[32], high[32];
    buf[0] = '\0';
    if (!(a->jar_ml > 0.0))
        return;
    volume(jar, sizeof jar, a->jar_ml);
    volume(stands, sizeof stands, m->stands_ml);
    volume(high, sizeof high, m->stands_high_ml);
    if (m->stands_ml > a->jar_ml * (1.0 + 1e-9))
        more(buf, size, "holds %s, too small for the %s that would stand in it", jar, stands);
    else if (m->stands_high_ml > a->jar_ml)
        more(buf, size, "holds %s, and %s will stand in it; by the doubt it may be %s, so keep a second vessel at hand",
             jar, stands, high);
    else
        more(buf, size, "holds %s, and %s will stand in it", jar, stands);
}

/* ---- haze ---- */

static void crystals(char *buf, size_t size, const struct st_correct_made *m)
{
    if (m->sugar_full > 1.0)
        more(buf, size,
             "So much sugar does not dissolve in it: at 20 \xc2\xb0"
             "C it holds %.0f parts of 100 of it [schrefeld1894].",
             100.0 / m->sugar_full);
    else if (m->sugar_full > ST_AIM_DISSOLVED)
        more(buf, size,
             "The sugar is near what dissolves at 20 \xc2\xb0"
             "C (%.0f of 100 parts): crystals may grow in the cold [schrefeld1894].",
             100.0 * m->sugar_full);
}

static void oil_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_made *before,
                      const struct st_correct_made *m)
{
    const double was = before->fig[ST_CORRECT_STRENGTH].value, is = m->fig[ST_CORRECT_STRENGTH].value;
    if (a->batch.oil_known && m->clear.index.known) {
        more(buf, size,
             m->clear.is == ST_STAYS_CLEAR ? "By the oil that is known in it, it stays clear at 20 \xc2\xb0"
                                             "C"
             : m->clear.is == ST_CLOUDS    ? "By the oil that is known in it, it will go cloudy"
                                           : "By the oil that is known in it, it may go cloudy");
        more(buf, size, ": %.2g times what stays dissolved, likely between %.2g and %.2g [yalkowsky_cosolvent].",
             m->clear.index.value, m->clear.index.low, m->clear.index.high);
    } else if (is < was - 0.05)
        more(buf, size,
             "It may go cloudy: the strength falls from %.1f to %.1f %% vol, and oil of peel, seed or spice that a "
             "stronger liquid holds comes out as it falls; more sugar drives it out too [yalkowsky_cosolvent].",
             was, is);
    else if (m->fig[ST_CORRECT_SUGAR].value > before->fig[ST_CORRECT_SUGAR].value + 0.5)
        more(buf, size,
             "More sugar drives oil of peel, seed or spice out [yalkowsky_cosolvent]: if there is any in it, it may go "
             "cloudy.");
}

/* Neither the batch nor anything that is poured in has oil that could come out. */
static bool without_oil(const struct st_correct_ask *a, const struct st_correct_made *m)
{
    bool none = a->batch.no_oil;
    for (int i = 0; i < a->n_thing && none; i++) {
        const struct st_correct_thing *t = &a->thing[i];
        const bool pure =
            t->kind == ST_ADD_WATER || t->kind == ST_ADD_SUGAR || t->kind == ST_ADD_SYRUP || t->kind == ST_ADD_ACID ||
            (t->kind == ST_ADD_SPIRIT && t->line && t->line->what && st_clearing_without_oil(t->line->what));
        none = pure || !(m->amount[i] > 0.0);
    }
    return none;
}

static bool hazy(const struct st_correct_ask *a, const struct st_correct_made *m)
{
    return !(a->batch.oil_known && m->clear.index.known && m->clear.is == ST_STAYS_CLEAR);
}

void st_correct_haze_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f,
                           const struct st_correct_made *m, const char *batch, int i)
{
    char all[3][ST_CORRECT_TEXT] = { "", "", "" }, ml[32];
    int n = 0;
    buf[0] = '\0';
    if (!without_oil(a, m))
        oil_words(all[n], sizeof all[n], a, &f->before, m);
    n += *all[n] != '\0';
    if (n > 0 && hazy(a, m)) {
        volume(ml, sizeof ml, m->fig[ST_CORRECT_VOLUME].value);
        more(
            all[n], sizeof all[n],
            "Try 10 mL in a glass in the same parts first, and look an hour later. How to clear %s of %.1f %% vol with "
            "%.0f g/L: stillroom clear %.40s --volume %.0fmL.",
            ml, m->fig[ST_CORRECT_STRENGTH].value, m->fig[ST_CORRECT_SUGAR].value, *batch ? batch : "RECIPE",
            m->fig[ST_CORRECT_VOLUME].value);
        n++;
    }
    crystals(all[n], sizeof all[n], m);
    n += *all[n] != '\0';
    if (i < n)
        (void)snprintf(buf, size, "%s", all[i]);
}

/* ---- how ---- */

void st_correct_how_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_option *o,
                          int i)
{
    bool sugar = false;
    for (int k = 0; k < o->n_order; k++)
        sugar = sugar || a->thing[o->order[k]].by_weight;
    buf[0] = '\0';
    if (o->n_order == 0)
        return;
    int k = i;
    if (o->made.draw_ml > 0.0 && k-- == 0)
        (void)snprintf(buf, size,
                       "Stir well and draw off first: what is drawn off is of the old strength. Keep it, it can "
                       "be blended in later.");
    else if (k-- == 0)
        (void)snprintf(buf, size,
                       "Pour the small amounts first, in the order above; stir after each. Weigh if you can: "
                       "the grams stand in brackets.");
    else if (sugar && k-- == 0)
        (void)snprintf(buf, size, "Stir what is dry into a cup of the liquid until it is clear, then pour that back.");
    else if (k-- == 0)
        (void)snprintf(buf, size,
                       "Hold the last tenth of each back. Wait an hour, taste and measure before it goes in: "
                       "what is in cannot be taken out.");
}

/* ---- why not ---- */

/* What of the things named goes in besides, where it is more than the search's rounding. */
static void with_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_need *n)
{
    char much[64];
    const char *join = ", with ";
    for (int i = 0; i < a->n_thing; i++) {
        if (i == n->index || !(n->with[i] * grams_in(&a->thing[i]) > 1e-3 * a->batch.ml))
            continue;
        st_correct_amount_words(much, sizeof much, &a->thing[i], n->with[i]);
        more(buf, size, "%s%s of %s", join, much, a->thing[i].name);
        join = " and ";
    }
}

static void need_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_need *n)
{
    char ml[32], draw[32], g[32];
    volume(ml, sizeof ml, n->amount);
    st_grams_words(g, sizeof g, n->amount);
    volume(draw, sizeof draw, n->draw_ml);
    switch (n->of) {
    case ST_NEED_MORE: {
        char much[64];
        st_correct_amount_words(much, sizeof much, &a->thing[n->index], n->amount);
        more(buf, size, "More %s would do: %s in all", a->thing[n->index].name, much);
        break;
    }
    case ST_NEED_DRAW: more(buf, size, "Drawing off %s first would do", draw); break;
    case ST_NEED_JAR: more(buf, size, "A jar that holds %s would do", ml); break;
    case ST_NEED_SPIRIT: more(buf, size, "A spirit of %g %% vol would do: %s of it", n->strength, ml); break;
    case ST_NEED_WATER: more(buf, size, "Water would do: %s of it", ml); break;
    case ST_NEED_SUGAR: more(buf, size, "Sugar would do: %s of it", g); break;
    case ST_NEED_ACID: more(buf, size, "Citric acid would do: %s of it", g); break;
    }
    if (n->of != ST_NEED_DRAW && n->draw_ml > 0.5)
        more(buf, size, ", with %s drawn off first", draw);
    if (n->of == ST_NEED_WATER || n->of == ST_NEED_SUGAR || n->of == ST_NEED_ACID || n->of == ST_NEED_SPIRIT)
        with_words(buf, size, a, n);
    if (n->digit_g > 0.0)
        more(buf, size, ", on a scale that shows %g g", n->digit_g);
    more(buf, size, "%s.",
         !n->sharp           ? ""
         : a->batch.foretold ? ", once it is read and so surer than it is foretold"
                             : ", once the readings are surer than they are");
}

static const char *const DOUBT[ST_NDOUBT] = { "the reading of the strength", "the reading of the sugar",
                                              "the reading of the acid", "the volume",
                                              "the label and the measuring of what is poured in" };
static const char *const FORETOLD[ST_NDOUBT] = { "what is foretold of the strength", "what is foretold of the sugar",
                                                 "what is foretold of the acid", "what is foretold of the volume",
                                                 "the label and the measuring of what is poured in" };
static const char *const FIGURE[ST_CORRECT_NFIG] = { "the strength", "the sugar", "the acid", "the volume" };

static int largest(const struct st_correct_found *f)
{
    int most = 0;
    for (int k = 1; k < ST_NDOUBT; k++)
        most = f->share[k] > f->share[most] ? k : most;
    return most;
}

void st_correct_doubt_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f)
{
    const int most = largest(f);
    buf[0] = '\0';
    if (f->share[most] > 0.0)
        more(buf, size, "Of the doubt about %s, %.0f of 100 parts come from %s.", FIGURE[f->about],
             100.0 * f->share[most], a->batch.foretold ? FORETOLD[most] : DOUBT[most]);
}

static double is_known_to(const struct st_correct_ask *a, int of)
{
    const struct st_correct_liquid *l = &a->batch.is;
    return of == ST_DOUBT_STRENGTH ? l->strength_u
           : of == ST_DOUBT_SUGAR  ? l->sugar_u
           : of == ST_DOUBT_ACID   ? l->acid_u
                                   : a->batch.ml_u;
}

void st_correct_why_words(char *buf, size_t size, const struct st_correct_ask *a, const struct st_correct_found *f,
                          int i)
{
    static const char *const UNIT[ST_NDOUBT] = { "% vol", "g/L", "g/L", "mL", "" };
    buf[0] = '\0';
    const bool less = f->option[ST_BY_LEAST].none == ST_NONE_LESS;
    if (f->met && !less)
        return;
    if (i == 0 && f->by_reading) {
        more(buf, size, "%s for a target so narrow at this certainty.",
             a->batch.foretold ? "Nothing was read of it, and what is foretold is too wide"
                               : "The readings are too rough");
        if (f->needs_u > 0.0)
            more(buf, size,
                 " With %s known to \xc2\xb1%.2g %s, not \xc2\xb1%.2g, it could be done: measure again, or ask for a "
                 "wider range or "
                 "less certainty.",
                 FIGURE[largest(f)], 1.96 * f->needs_u, UNIT[largest(f)], 1.96 * is_known_to(a, largest(f)));
        else
            more(buf, size,
                 a->batch.foretold
                     ? " Read it first (stillroom batch read), or ask for a wider range or less certainty."
                     : " Measure again and take the mean, or ask for a wider range or less certainty.");
    } else if (i == 1 && f->by_reading && less)
        more(buf, size,
             "Pouring in more than that makes no reading surer: it thins the doubt only as it thins the drink, and "
             "is not offered for that.");
    else if (i == 0 && f->n_need == 0 && (less || (f->share[ST_DOUBT_ADDED] > 0.5 && f->nearest.made.all > 0.05)))
        more(buf, size,
             "What is poured in cannot be measured well enough for a target so narrow: take a finer scale "
             "(--scale 0.1g), a larger batch, or a wider range.");
    else if (i == 0 && f->n_need == 0)
        more(buf, size,
             "No addition brings it there, and nothing that could be poured in would: what is too much in it "
             "cannot be taken out. Blend it into a larger batch, or move the target.");
    else if (i == 0)
        more(buf, size, "What may be poured in does not bring it there.");
    else if (i - 1 < f->n_need && !(f->by_reading && less))
        need_words(buf, size, a, &f->need[i - 1]);
}

void st_correct_left_words(char *buf, size_t size, const struct st_correct_found *f, enum st_correct_by by)
{
    const struct st_correct_option *o = &f->option[by];
    buf[0] = '\0';
    if (f->enough) /* there is nothing to choose */
        return;
    if (o->none == ST_NONE_SAME)
        more(buf, size, "%s: the same as %s", WAY[by].words, WAY[o->same].words);
    else if (o->none == ST_NONE_REACHED && f->met)
        more(buf, size, "%s: does not reach it with this certainty", WAY[by].words);
}
