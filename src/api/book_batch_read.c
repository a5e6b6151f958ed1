#include "api/book_batch.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "core/instruments.h"
#include "text/calendar_day.h"
#include "text/figure_words.h"
#include "text/goods_line.h"
#include "text/near.h"
#include "text/quantity.h"

static const double NORMAL_975 = 1.959963984540054;

enum entry { BY_FIGURE, BY_WEIGHT, BY_VOLUME, BY_TEMPERATURE, BY_FLASK, BY_TASTE };

/* What a maker writes before "=", what it is kept as, what its figure may be, and the least that may stand behind "+-":
 * the reading step of the finest instrument of a kitchen or a small laboratory (from memory; colour: of its own figure). */
static const struct kind {
    const char *key, *kind, *name, *unit;
    enum entry entry;
    double low, high, finest;
} KIND[] = {
    { "sg", "sg", "hydrometer", "", BY_FIGURE, 0.75, 1.5, 1e-4 },
    { "brix", "brix", "refractometer",
      "\xc2\xb0"
      "Bx",
      BY_FIGURE, 0.0, 95.0, 0.02 },
    { "flask", "flask_g", "weighed flask", "g", BY_FLASK, 1.0, 1e5, 1e-3 },
    { "boiled", "sg_boiled", "hydrometer, boiled off and made up", "", BY_FIGURE, 0.9, 1.5, 1e-4 },
    { "temperature", ST_READ_WARMTH, "temperature",
      "\xc2\xb0"
      "C",
      BY_TEMPERATURE, -20.0, 100.0, 0.01 },
    { "drained", "drained_g", "weight of the drained solids", "g", BY_WEIGHT, 0.0, 1e6, 0.01 },
    { "liquor", "liquor_ml", "volume strained off", "mL", BY_VOLUME, 0.0, 1e6, 0.05 },
    { "weight", "liquor_g", "weight of the liquid", "g", BY_WEIGHT, 0.0, 1e6, 0.01 },
    { "volume", ST_READ_VOLUME, "volume", "mL", BY_VOLUME, 1e-3, 1e6, 0.05 },
    { "strength", "strength_pct_vol", "strength", "% vol", BY_FIGURE, 0.0, 100.0, 0.01 },
    { "sugar", "sugar_g_l", "sugar", "g/L", BY_FIGURE, 0.0, 1500.0, 0.05 },
    { "acid", "acid_g_l", "acid", "g/L", BY_FIGURE, 0.0, 500.0, 0.01 },
    { "ph", "ph", "pH", "", BY_FIGURE, 0.0, 14.0, 0.005 },
    { "colour", "colour", "depth of colour", "", BY_FIGURE, 1e-9, 1e9, 1e-3 },
    { "color", "colour", "depth of colour", "", BY_FIGURE, 1e-9, 1e9, 1e-3 },
    { "mark", "mark", "mark from 0 to 10", "", BY_FIGURE, 0.0, 10.0, 0.1 },
    { "taste", "taste", "taste", "", BY_TASTE, -1.0, 1.0, 1.0 },
};
enum { NKIND = sizeof KIND / sizeof *KIND };

static const struct kind *kind_of(const char *kind)
{
    for (int i = 0; i < NKIND; i++)
        if (strcmp(KIND[i].kind, kind) == 0)
            return &KIND[i];
    return NULL;
}

/* What a tongue says, the kind it is kept as, and its figure: under, right, over.  The first of a figure is how it is told. */
static const struct tongue {
    const char *word, *kind;
    double value;
} TONGUE[] = {
    { "too weak", "taste", -1.0 },
    { "right", "taste", 0.0 },
    { "too strong", "taste", 1.0 },
    { "weak", "taste", -1.0 },
    { "not strong enough", "taste", -1.0 },
    { "strong", "taste", 1.0 },
    { "not sweet enough", ST_READ_SWEET, -1.0 },
    { "sweet enough", ST_READ_SWEET, 0.0 },
    { "too sweet", ST_READ_SWEET, 1.0 },
    { "not sour enough", ST_READ_SOUR, -1.0 },
    { "sour enough", ST_READ_SOUR, 0.0 },
    { "too sour", ST_READ_SOUR, 1.0 },
    { "not bitter enough", ST_READ_BITTER, -1.0 },
    { "bitter enough", ST_READ_BITTER, 0.0 },
    { "too bitter", ST_READ_BITTER, 1.0 },
};
enum { NTONGUE = sizeof TONGUE / sizeof *TONGUE };

static const struct tongue *tongue_said(const char *word)
{
    for (int i = 0; i < NTONGUE; i++)
        if (strcasecmp(TONGUE[i].word, word) == 0)
            return &TONGUE[i];
    return NULL;
}

/* Its words; NULL when the kind is none of a tongue. */
static const char *tongue_words(const char *kind, double value)
{
    const double at = (double)((value > 0.0) - (value < 0.0));
    for (int i = 0; i < NTONGUE; i++)
        if (strcmp(TONGUE[i].kind, kind) == 0 && TONGUE[i].value == at)
            return TONGUE[i].word;
    return NULL;
}

/* ---- figures ---- */

static const char *past_blanks(const char *p)
{
    return p + strspn(p, " ");
}

/* A figure with a point or a comma; where it ends, or NULL. */
static const char *figure(const char *text, double *x)
{
    char copy[40];
    char *end;
    const size_t n = strspn(text, "0123456789.,+-eE");
    if (n == 0 || n >= sizeof copy)
        return NULL;
    memcpy(copy, text, n);
    copy[n] = '\0';
    char *comma = strchr(copy, ',');
    if (comma && !strchr(copy, '.') && !strchr(comma + 1, ','))
        *comma = '.';
    *x = strtod(copy, &end);
    return end != copy && isfinite(*x) ? text + (end - copy) : NULL;
}

/* "g/L", "% vol", "%": what may stand behind a figure of this kind. */
static bool is_unit(const struct kind *k, const char *unit)
{
    static const char *const ALSO[][3] = { { "strength", "%", "vol" },  { "sugar", "g/l", "" },
                                           { "acid", "g/l", "" },       { "brix", "brix", "bx" },
                                           { "brix", "%", "\xc2\xb0" }, { "brix", "Bx", "" } };
    unit = past_blanks(unit);
    if (!*unit || strcasecmp(unit, k->unit) == 0)
        return true;
    for (size_t i = 0; i < sizeof ALSO / sizeof *ALSO; i++)
        for (int j = 1; j < 3; j++)
            if (strcmp(ALSO[i][0], k->key) == 0 && ALSO[i][j][0] && strcasecmp(unit, ALSO[i][j]) == 0)
                return true;
    return false;
}

/* "+- 2" or "\u00b1 2" behind a figure: half of an interval of 19 in 20. */
static const char *plus_minus(const char *text)
{
    const char *a = strstr(text, "+-"), *b = strstr(text, "\xc2\xb1");
    return a ? a : b;
}

static const char *error_of(const char *p, double *half)
{
    const char *at = past_blanks(p);
    const char *end = plus_minus(at) == at ? figure(past_blanks(at + 2), half) : NULL;
    return end ? end : p;
}

static bool amount(const char *text, enum st_dimension dim, double *x)
{
    struct st_amount a;
    struct st_problem why;
    size_t used;
    if (st_quantity_parse(text, strlen(text), ST_MEASURES_METRIC, &a, &used, &why) != 0 || a.dim != dim)
        return false;
    *x = a.value;
    return *past_blanks(text + used) == '\0';
}

/* "22", "22C", "72 F": degrees Celsius.  *bare: without its unit. */
static bool warmth(const char *text, double *t, bool *bare)
{
    double K;
    const char *end = figure(text, t);
    *bare = end && *past_blanks(end) == '\0';
    if (*bare)
        return true;
    if (!amount(text, ST_DIM_TEMPERATURE, &K))
        return false;
    *t = K - 273.15;
    return true;
}

/* "103.2g/100mL". */
static bool flask(const char *text, double *g, double *ml)
{
    char weight[40];
    const char *slash = strchr(text, '/');
    if (!slash || (size_t)(slash - text) >= sizeof weight)
        return false;
    memcpy(weight, text, (size_t)(slash - text));
    weight[slash - text] = '\0';
    return amount(weight, ST_DIM_MASS, g) && amount(slash + 1, ST_DIM_VOLUME, ml) && *g > 0.65 * *ml && *g < 1.7 * *ml;
}

/* "1.2L+-20mL", "412 g +- 2 g". */
static bool amount_with_error(const char *text, enum st_dimension dim, double *x, double *half)
{
    char first[120];
    const char *pm = plus_minus(text);
    if (!pm)
        return amount(text, dim, x);
    (void)snprintf(first, sizeof first, "%.*s", (int)(pm - text), text);
    return amount(first, dim, x) && amount(past_blanks(pm + 2), dim, half);
}

/* *kind: as it is kept, where the value tells. */
static bool value_of(const struct kind *k, const char *text, double *x, double *half, const char **kind)
{
    const struct tongue *t;
    double ml;
    switch (k->entry) {
    case BY_WEIGHT: return amount_with_error(text, ST_DIM_MASS, x, half);
    case BY_VOLUME: return amount_with_error(text, ST_DIM_VOLUME, x, half);
    case BY_TEMPERATURE: return warmth(text, x, &(bool){ false });
    case BY_FLASK: return flask(text, x, &ml);
    case BY_TASTE:
        t = tongue_said(text);
        *kind = t ? t->kind : *kind;
        *x = t ? t->value : *x;
        return t != NULL;
    default: break;
    }
    const char *end = figure(text, x);
    return end && is_unit(k, error_of(end, half));
}

/* ---- a reading ---- */

static const struct kind *kind_said(const char *said, size_t n)
{
    for (int i = 0; i < NKIND; i++)
        if (strlen(KIND[i].key) == n && strncasecmp(said, KIND[i].key, n) == 0)
            return &KIND[i];
    return NULL;
}

static const char *example(const struct kind *k)
{
    switch (k->entry) {
    case BY_WEIGHT: return "write a weight: drained=412g";
    case BY_VOLUME: return "write a volume: volume=1.2L";
    case BY_TEMPERATURE: return "write degrees: temperature=18C";
    case BY_FLASK: return "write its weight and its volume: flask=103.2g/100mL";
    case BY_TASTE:
        return "write \"taste=too weak\", taste=right, \"taste=too strong\", or not sweet enough, sweet enough, too "
               "sweet; "
               "the same with sour and bitter";
    default: break;
    }
    if (strcmp(k->key, "colour") == 0 || strcmp(k->key, "color") == 0)
        return "write how deep it is, on any scale of your own that grows with it: colour=3";
    if (strcmp(k->key, "mark") == 0)
        return "write a mark from 0 to 10: mark=6";
    if (strcmp(k->key, "ph") == 0)
        return "write a figure: ph=3.4";
    switch (k->entry) {
    default: return "write a figure, such as sg=1.043 or brix=28, and its temperature behind @: sg=1.043@22C";
    }
}

static const double WARMER_IS_ASKED =
    40.0; /* degrees Celsius; no one reads so hot a drink: it was Fahrenheit, or is asked */

/* Whether a figure behind +- can be: no instrument reads more finely. */
static bool is_exactness(const struct kind *k, double x, double half)
{
    return half >= (strcmp(k->kind, "colour") == 0 ? k->finest * fabs(x) : k->finest) * (1.0 - 1e-9);
}

static int refuse_exactness(const struct kind *k, const char *said, double half, struct st_problem *problem)
{
    char why[120];
    (void)snprintf(why, sizeof why, "no one reads so exactly: the finest that is read is %g%s%s", k->finest,
                   strcmp(k->kind, "colour") == 0 ? " of it"
                   : *k->unit                     ? " "
                                                  : "",
                   k->unit);
    return st_batch_refuse(problem, half > 0.0 ? why : "+- has no figure behind it that can be read",
                           "write behind +- by how much it may be off in 19 of 20 cases: sg=1.043+-0.002", "\"%.80s\"",
                           said);
}

static int refuse_nothing(const struct kind *k, const char *said, struct st_problem *problem)
{
    const bool volume = strcmp(k->kind, ST_READ_VOLUME) == 0;
    return st_batch_refuse(problem, "an amount of nothing was measured",
                           volume ? "what went elsewhere is told with: stillroom batch lose; that it is over: "
                                    "stillroom batch end"
                                  : "look at the figure, or leave it out",
                           "\"%.80s\"", said);
}

/* What is wrong with a figure that could be read; 0 nothing. */
static int check_figure(const struct kind *k, const char *said, double x, double half, struct st_problem *problem)
{
    const bool density = strcmp(k->key, "sg") == 0 || strcmp(k->key, "boiled") == 0;
    if (density && x >= 1000.0 * k->low && x <= 1000.0 * k->high) {
        char meant[64];
        (void)snprintf(meant, sizeof meant, "did you mean %s=%.4g?", k->key, x / 1000.0);
        return st_batch_refuse(problem, "a hydrometer shows about 1", meant, "\"%.80s\"", said);
    }
    if ((k->entry == BY_VOLUME || k->entry == BY_WEIGHT) && x == 0.0)
        return refuse_nothing(k, said, problem);
    if (!(x >= k->low && x <= k->high)) {
        char why[200];
        (void)snprintf(why, sizeof why, "it lies outside of all that can be: %s lies between %g and %g %s",
                       strcmp(k->key, "brix") == 0 ? "a hand refractometer" : k->name, k->low, k->high, k->unit);
        return st_batch_refuse(problem, why, "look at the decimal point and the unit", "\"%.80s\"", said);
    }
    if (plus_minus(said) && !is_exactness(k, x, half))
        return refuse_exactness(k, said, half, problem);
    return 0;
}

static int check_warmth(const char *said, double t, bool bare, struct st_problem *problem)
{
    char meant[80];
    (void)snprintf(meant, sizeof meant, "say %gF or %gC behind @", t, t);
    if (bare && t > WARMER_IS_ASKED)
        return st_batch_refuse(problem, "so warm may be Celsius or Fahrenheit", meant, "\"%.80s\"", said);
    if (!(t >= -20.0 && t <= 100.0))
        return st_batch_refuse(problem, "so cold or so warm is no drink", "look at the temperature behind @",
                               "\"%.80s\"", said);
    return 0;
}

/* Names that people know and that are kept under another, and what to write. */
static const char *other_scale(const char *word)
{
    static const char *const OTHER[][2] = {
        { "oechsle", "degrees Oechsle are the thousandths above 1: 43 is sg=1.043" },
        { "oe", "degrees Oechsle are the thousandths above 1: 43 is sg=1.043" },
        { "plato",
          "that scale of a hydrometer is made for sugar in water alone: write its sg=, from its other scale or its "
          "table; brix= is for a hand refractometer" },
        { "balling",
          "that scale of a hydrometer is made for sugar in water alone: write its sg=, from its other scale or "
          "its table; brix= is for a hand refractometer" },
        { "baume", "several scales bear that name: write its sg=, from the hydrometer's other scale or its table" },
        { "baum\xc3\xa9",
          "several scales bear that name: write its sg=, from the hydrometer's other scale or its table" },
        { "proof", "US proof is twice the % vol: 80 is strength=40" },
        { "abv", "write % vol as strength=24.3" },
        { "alcohol", "write % vol as strength=24.3" },
        { "sweetness", "write a tongue's word as \"taste=too sweet\", measured sugar as sugar=212" },
        { "sourness", "write a tongue's word as \"taste=too sour\", titrated acid as acid=6.5" },
        { "bitterness", "write a tongue's word as \"taste=too bitter\"" },
    };
    for (size_t i = 0; i < sizeof OTHER / sizeof *OTHER; i++)
        if (strcasecmp(word, OTHER[i][0]) == 0)
            return OTHER[i][1];
    return NULL;
}

static int refuse_name(const char *said, const char *name, size_t n, struct st_problem *problem)
{
    const char *known[NKIND];
    char word[24], meant[80];
    (void)snprintf(word, sizeof word, "%.*s", n < sizeof word ? (int)n : 0, name);
    const char *hint = other_scale(word);
    if (hint)
        return st_batch_refuse(problem, "a reading is not kept on that scale", hint, "\"%.80s\"", said);
    for (int i = 0; i < NKIND; i++)
        known[i] = KIND[i].key;
    const char *near = *word && said[strcspn(said, "=")] ? st_near_key(word, known, NKIND) : NULL;
    (void)snprintf(meant, sizeof meant, "did you mean %s%.40s", near ? near : "", said + strcspn(said, "="));
    return st_batch_refuse(
        problem, "no reading of that name is known",
        near ? meant
             : "sg, brix, flask, boiled, temperature, drained, liquor, weight, volume, strength, sugar, acid, "
               "ph, colour, mark, taste: each as sg=1.043",
        "\"%.80s\"", said);
}

int st_batch_reading(const char *said, struct book_reading *out, struct st_problem *problem)
{
    char text[120];
    double x = 0.0, half = 0.0, t = (double)NAN;
    const char *word = past_blanks(said);
    const size_t key = strcspn(said, "=");
    size_t n = said + key > word ? (size_t)(said + key - word) : 0;
    while (n > 0 && word[n - 1] == ' ')
        n--;
    const struct kind *k = kind_said(word, n);
    if (!k)
        return refuse_name(said, word, n, problem);
    if (said[key] != '=')
        return st_batch_refuse(problem, "no figure stands behind it", example(k), "\"%.80s\"", said);
    const char *kind = k->kind;
    (void)snprintf(text, sizeof text, "%s", past_blanks(said + key + 1));
    char *at = strchr(text, '@');
    if (at)
        *at++ = '\0';
    for (size_t end = strlen(text); end > 0 && text[end - 1] == ' ';)
        text[--end] = '\0';
    bool bare = false, plain = false;
    if ((k->entry == BY_WEIGHT || k->entry == BY_VOLUME) && st_amount_asks(text, ST_MEASURES_METRIC, problem))
        return -1;
    if (!value_of(k, text, &x, &half, &kind) || (at && !warmth(past_blanks(at), &t, &bare)))
        return st_batch_refuse(problem, at && isnan(t) ? "its temperature cannot be read" : "its figure cannot be read",
                               example(k), "\"%.80s\"", said);
    if (k->entry == BY_TEMPERATURE && warmth(text, &x, &plain) && check_warmth(said, x, plain, problem) != 0)
        return -1;
    if (check_figure(k, said, x, half, problem) != 0 || (at && check_warmth(said, t, bare, problem) != 0))
        return -1;
    out->kind = kind;
    out->value = x;
    out->sd = half > 0.0 ? half / NORMAL_975 : (double)NAN;
    out->temperature_c = t;
    out->words = said;
    out->after_straining = strncmp(k->kind, "drained", 7) == 0 || strncmp(k->kind, "liquor", 6) == 0;
    return 0;
}

int st_batch_reading_scale(struct book_reading *r, enum st_hydrometer scale, struct st_problem *problem)
{
    double rho, as_20 = 1.0, at_one;
    const bool density = strcmp(r->kind, "sg") == 0 || strcmp(r->kind, "sg_boiled") == 0;
    const double T = isfinite(r->temperature_c) ? r->temperature_c + 273.15 : 293.15;
    if (scale == ST_HYDROMETER_20C || !density)
        return 0;
    /* the same density on the other scale: both marks are in proportion to it */
    if (st_density_from_hydrometer(r->value, T, scale, &rho) < 0 ||
        st_density_from_hydrometer(as_20, T, ST_HYDROMETER_20C, &at_one) < 0)
        return st_batch_refuse(problem, "no density is known for it", "look at the reading and its temperature",
                               "\"%.80s\"", r->words);
    r->value = rho / at_one;
    return 0;
}

void st_batch_reading_words(char *buf, size_t size, const struct book_reading *r)
{
    const struct kind *k = kind_of(r->kind);
    const char *tongue = tongue_words(r->kind, r->value);
    char value[40];
    if (tongue)
        (void)snprintf(buf, size, "taste %s", tongue);
    else {
        const bool as_density = k && (strcmp(k->key, "sg") == 0 || strcmp(k->key, "boiled") == 0);
        st_plain_figure(value, sizeof value, r->value, as_density ? 5 : 6);
        if (as_density)
            (void)snprintf(value, sizeof value, "%.*f", fabs(r->value * 1e3 - round(r->value * 1e3)) < 1e-6 ? 3 : 4,
                           r->value);
        (void)snprintf(buf, size, "%s %s%s%s", k ? k->name : r->kind, value, k && *k->unit ? " " : "",
                       k ? k->unit : "");
    }
    const size_t n = strlen(buf);
    if (isfinite(r->temperature_c))
        (void)snprintf(buf + n, size - n,
                       " at %.3g \xc2\xb0"
                       "C",
                       r->temperature_c);
    const size_t m = strlen(buf);
    if (*r->of)
        (void)snprintf(buf + m, size - m, " (of %s)", r->of);
}

/* What the flask holds stands only in the words, as it was entered. */
static double flask_of(const char *words)
{
    char text[120];
    double g, ml;
    const char *value = strchr(words, '=');
    (void)snprintf(text, sizeof text, "%s", value ? past_blanks(value + 1) : "");
    text[strcspn(text, "@")] = '\0';
    return flask(text, &g, &ml) ? ml : (double)NAN;
}

bool st_batch_seen(const struct book_reading *r, long begun, struct st_observation *out)
{
    int what = -1;
    long day = begun;
    char date[11];
    for (int k = 0; k < ST_NSEEN; k++)
        if (strcmp(st_seen_info((enum st_seen)k)->key, r->kind) == 0)
            what = k;
    *out =
        (struct st_observation){ .value = r->value,
                                 .sd = isfinite(r->sd) ? r->sd : 0.0,
                                 .temperature_K = isfinite(r->temperature_c) ? r->temperature_c + 273.15 : (double)NAN,
                                 .of = r->of,
                                 .by = r->by_whom,
                                 .jar = r->step,
                                 .batch = "",
                                 .words = r->words,
                                 .after_straining = r->after_straining == 1,
                                 .flask_ml = 0.0 };
    if (what == ST_SEEN_FLASK_G)
        out->flask_ml = flask_of(r->words);
    if (what == ST_SEEN_FLASK_G && !(out->flask_ml > 0.0))
        return false;
    (void)snprintf(date, sizeof date, "%.10s", r->at);
    if (what < 0 || !st_day_number(date, &day))
        return false;
    out->what = (enum st_seen)what;
    out->t_s = day > begun ? (double)(day - begun) * 86400.0 : 0.0;
    return true;
}
