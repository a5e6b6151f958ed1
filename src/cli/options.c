#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/near.h"
#include "text/number.h"

const char *const cli_common_options[] = { "--json",        "--units",   "--seed",  "--draws",
                                           "--timing",      "--explain", "--place", "--serving",
                                           "--body-weight", "--book",    "--today", "--help",
                                           "--version",     NULL };

static const char *bare(const char *name)
{
    while (*name == '-')
        name++;
    return name;
}

/* An option, not a number below zero and not the "-" of standard input. */
static bool is_option(const char *word)
{
    return word[0] == '-' && word[1] != '\0' && strchr("0123456789.,", word[1]) == NULL;
}

static void remove_words(struct cli *c, int at, int n)
{
    for (int i = at; i + n < c->argc; i++)
        c->argv[i] = c->argv[i + n];
    c->argc -= n;
}

/* Whether word is --name; *value is set behind "=", else NULL. */
static bool is_named(const char *word, const char *name, const char **value)
{
    const size_t n = strlen(bare(name));
    *value = NULL;
    if (strncmp(word, "--", 2) != 0 || strncmp(word + 2, bare(name), n) != 0)
        return false;
    if (word[2 + n] == '=')
        *value = word + 3 + n;
    return word[2 + n] == '=' || word[2 + n] == '\0';
}

static void complain(const char *name, const char *why, const char *try_)
{
    char what[80];
    snprintf(what, sizeof what, "--%.60s", bare(name));
    cli_error(what, why, try_);
}

bool cli_flag(struct cli *c, const char *name)
{
    bool found = false;
    for (int i = 0; i < c->argc;) {
        const char *value;
        if (is_named(c->argv[i], name, &value) && !value) {
            remove_words(c, i, 1);
            found = true;
        } else
            i++;
    }
    return found;
}

const char *cli_option(struct cli *c, const char *name, bool *bad)
{
    const char *found = NULL;

    for (int i = 0; i < c->argc;) {
        const char *value;
        int n = 1;
        if (!is_named(c->argv[i], name, &value)) {
            i++;
            continue;
        }
        if (!value && i + 1 < c->argc && !is_option(c->argv[i + 1])) {
            value = c->argv[i + 1];
            n = 2;
        }
        remove_words(c, i, n);
        if (!value || !*value || found) {
            complain(name, found ? "it is given twice" : "its value is missing",
                     found ? "give it once" : "write the value after it");
            *bad = true;
            return NULL;
        }
        found = value;
    }
    return found;
}

bool cli_number(const char *text, double *x)
{
    char copy[64];
    char *end;
    const size_t n = strlen(text);

    if (n == 0 || n >= sizeof copy || strspn(text, "0123456789+-.,eE") != n)
        return false;
    memcpy(copy, text, n + 1);
    char *comma = strchr(copy, ',');
    if (comma && (strchr(copy, '.') || strchr(comma + 1, ',')))
        return false;
    if (comma)
        *comma = '.';
    *x = strtod(copy, &end);
    return end != copy && *end == '\0' && isfinite(*x);
}

/* What a figure that is far too large was probably meant to be: 40 per cent for a fraction, 1043 or 43 for 1.043. */
static double meant(double x, double lo, double hi)
{
    const double guess[] = { x / 100.0, x / 1000.0, 1.0 + x / 1000.0 };
    for (size_t i = 0; i < sizeof guess / sizeof guess[0] && x > hi && hi <= 2.0; i++)
        if (guess[i] >= lo && guess[i] <= hi)
            return guess[i];
    return (double)NAN;
}

/* A figure that somebody might write there, not the end of what may be written. */
static double example_of(const char *name, double lo, double hi)
{
    static const struct {
        const char *name;
        double x;
    } EXAMPLE[] = {
        { "price", 4.5 },        { "strength", 40.0 },
        { "sugar", 250.0 },      { "acid", 6.0 },
        { "pour-price", 6.5 },   { "tax", 20.0 },
        { "cost", 20.0 },        { "potency", 0.8 },
        { "sweeter-than", 250 }, { "less-sweet-than", 300.0 },
    };
    for (size_t i = 0; i < sizeof EXAMPLE / sizeof *EXAMPLE; i++)
        if (strcmp(EXAMPLE[i].name, name) == 0 && EXAMPLE[i].x >= lo && EXAMPLE[i].x <= hi)
            return EXAMPLE[i].x;
    return lo > 0.0 ? lo : hi >= 10.0 ? 10.0 : 0.5 * (lo + hi);
}

static void complain_number(const char *name, const char *value, double lo, double hi)
{
    char why[160], try_[120];
    double x = 0.0;
    const double guess = cli_number(value, &x) ? meant(x, lo, hi) : (double)NAN;

    snprintf(why, sizeof why, "\"%.40s\" is not a number from %g to %g", value, lo, hi);
    if (isnan(guess))
        snprintf(try_, sizeof try_, "write for example --%.40s %g", bare(name), example_of(bare(name), lo, hi));
    else if (lo == 0.0)
        snprintf(try_, sizeof try_, "it is a share of the whole: for %g %% write --%.40s %g", x, bare(name), guess);
    else
        snprintf(try_, sizeof try_, "did you mean --%.40s %g?", bare(name), guess);
    complain(name, why, try_);
}

/* Figures in per cent may have their sign: "19 %", "40 % vol". */
static bool is_in_percent(const char *name)
{
    static const char *const IN[] = { "strength", "tax", "certainty" };
    for (size_t i = 0; i < sizeof IN / sizeof *IN; i++)
        if (strcmp(IN[i], name) == 0)
            return true;
    return false;
}

static bool number_of(const char *name, const char *value, double *x)
{
    char figure[64];
    const size_t n = strspn(value, "0123456789+-.,eE");
    if (!is_in_percent(name) || n >= sizeof figure || !st_is_percent(value + n))
        return cli_number(value, x);
    (void)snprintf(figure, sizeof figure, "%.*s", (int)n, value);
    return cli_number(figure, x);
}

bool cli_option_number(struct cli *c, const char *name, double lo, double hi, double *x, bool *bad)
{
    const char *value = cli_option(c, name, bad);
    double y;

    if (!value)
        return false;
    if (!number_of(bare(name), value, &y) || y < lo || y > hi) {
        complain_number(name, value, lo, hi);
        *bad = true;
        return false;
    }
    *x = y;
    return true;
}

/* Liquids of water, alcohol and sugar are liquid well within these. */
static const double COLDEST_K = 123.15, HOTTEST_K = 423.15;

/* celsius: the figure as written, NAN when it had a letter of its own or is no figure. */
static bool complain_temperature(const char *name, const char *value, double celsius, bool *bad)
{
    char why[160], try_[120];

    snprintf(why, sizeof why,
             "\"%.40s\" is not a temperature from -150 to 150 \xc2\xb0"
             "C",
             value);
    if (celsius >= 233.15 && celsius <= HOTTEST_K)
        snprintf(try_, sizeof try_,
                 "if that is kelvin, write --%.40s %.0f, in \xc2\xb0"
                 "C",
                 bare(name), celsius - 273.15);
    else if (celsius > HOTTEST_K - 273.15 && celsius <= 302.0)
        snprintf(try_, sizeof try_, "if that is Fahrenheit, write its letter: --%.40s %gF", bare(name), celsius);
    else
        snprintf(try_, sizeof try_, "write for example 20 or 20C, or 68F");
    complain(name, why, try_);
    *bad = true;
    return false;
}

bool cli_option_temperature(struct cli *c, const char *name, double *T_K, bool *bad)
{
    const char *value = cli_option(c, name, bad);
    char copy[32] = "";
    double t;

    if (!value)
        return false;
    size_t n = strlen(value);
    char scale = 'C';
    if (n > 0 && strchr("CcFfK", value[n - 1])) {
        n--;
        scale = value[n] == 'K' ? 'K' : strchr("Cc", value[n]) ? 'C' : 'F';
    }
    while (n > 0 && value[n - 1] == ' ')
        n--;
    if (n > 1 && n < sizeof copy && memcmp(value + n - 2, "\xc2\xb0", 2) == 0)
        n -= 2;
    while (n > 0 && value[n - 1] == ' ')
        n--;
    if (n < sizeof copy)
        memcpy(copy, value, n);
    if (!cli_number(copy, &t))
        return complain_temperature(name, value, (double)NAN, bad);
    const double T = scale == 'F' ? (t - 32.0) / 1.8 + 273.15 : scale == 'C' ? t + 273.15 : t;
    if (T < COLDEST_K || T > HOTTEST_K)
        return complain_temperature(name, value, scale == 'C' ? t : (double)NAN, bad);
    *T_K = T;
    return true;
}

static const char *nearest(const char *word, const char *const known[])
{
    const char *all[64];
    size_t n = 0;
    for (int i = 0; known && known[i] && n < 48; i++)
        all[n++] = bare(known[i]);
    for (int i = 0; cli_common_options[i] && n < 64; i++)
        all[n++] = bare(cli_common_options[i]);
    return st_near_key(bare(word), all, n);
}

bool cli_no_more_options(struct cli *c, const char *const known[])
{
    bool good = true;
    for (int i = 0; i < c->argc; i++) {
        char what[80], try_[120], word[64];
        if (!is_option(c->argv[i]))
            continue;
        snprintf(word, sizeof word, "%.*s", (int)strcspn(c->argv[i], "="), c->argv[i]);
        const char *near = nearest(word, known);
        snprintf(what, sizeof what, "%.64s", word);
        if (near && strcmp(near, bare(word)) == 0)
            snprintf(try_, sizeof try_, "write --%s%s", near, strchr(c->argv[i], '=') ? " without a value" : "");
        else if (near)
            snprintf(try_, sizeof try_, "did you mean --%s", near);
        else
            snprintf(try_, sizeof try_, "\"stillroom help%s%s\" lists them", c->command ? " " : "",
                     c->command ? c->command : "");
        cli_error(what, "there is no such option here", try_);
        good = false;
    }
    return good;
}

static bool take_units(struct cli *c, bool *bad)
{
    static const char *const NAME[] = { "us", "metric", "imperial" };
    static const enum st_measures MEANS[] = { ST_MEASURES_US, ST_MEASURES_METRIC, ST_MEASURES_IMPERIAL };
    const char *value = cli_option(c, "units", bad);

    if (!value)
        return !*bad;
    for (int i = 0; i < 3; i++)
        if (strcmp(value, NAME[i]) == 0) {
            c->units = MEANS[i];
            return true;
        }
    complain("units", "these measures are not known", "write --units us, --units metric or --units imperial");
    *bad = true;
    return false;
}

static void take_seed(struct cli *c, bool *bad)
{
    const char *value = cli_option(c, "seed", bad);
    char *end;

    if (!value)
        return;
    errno = 0;
    const unsigned long long seed = strtoull(value, &end, 10);
    if (errno || *end || seed > INT64_MAX || strspn(value, "0123456789") != strlen(value)) {
        char why[120];
        snprintf(why, sizeof why, "\"%.40s\" is not a whole number from 0 to %lld", value, (long long)INT64_MAX);
        complain("seed", why, "write for example --seed 1");
        *bad = true;
        return;
    }
    c->seed = seed;
}

static void take_draws(struct cli *c, bool *bad)
{
    double n = 0.0;
    if (!cli_option_number(c, "draws", 100.0, 1e6, &n, bad))
        return;
    if (n != floor(n)) {
        complain("draws", "it is not a whole number", "write for example --draws 4000");
        *bad = true;
    }
    c->draws = (int)n;
    c->draws_said = true;
}

bool cli_take_common(struct cli *c, bool *help, bool *version)
{
    bool bad = false;
    c->json = cli_flag(c, "json");
    c->timing = cli_flag(c, "timing");
    c->explain = cli_flag(c, "explain");
    *help = cli_flag(c, "help");
    for (int i = 0; i < c->argc; i++)
        if (strcmp(c->argv[i], "-h") == 0) {
            remove_words(c, i--, 1);
            *help = true;
        }
    *version = cli_flag(c, "version");
    (void)take_units(c, &bad);
    take_seed(c, &bad);
    take_draws(c, &bad);
    c->book = cli_option(c, "--book", &bad);
    c->today = cli_option(c, "--today", &bad);
    return cli_take_watch(c) && !bad;
}
