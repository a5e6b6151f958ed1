#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "cli/aim.h"
#include "cli/larder.h"
#include "model/reverse.h"
#include "text/figure_words.h"
#include "text/quantity.h"
#include "text/yaml_span.h"

/* What each wish is called, its unit as written, and how near counts for a single figure. */
static const struct {
    const char *option, *units, *example;
    enum st_figure of;
    double tolerance, share; /* the larger of an absolute tolerance and a share of the figure */
} WISH[] = {
    { "strength", "%|% vol|vol", "--strength 24 or --strength 22-26", ST_FIG_STRENGTH, 0.5, 0.0 },
    { "sugar", "g/L|g", "--sugar 180 or --sugar 150-200", ST_FIG_SUGAR, 5.0, 0.0 },
    { "acid", "g/L|g", "--acid 6", ST_FIG_ACID, 0.3, 0.05 },
    { "volume", NULL, "--volume 1L", ST_FIG_VOLUME, 1.0, 0.02 },
    { "bottles", NULL, "--bottles \"2 x 500 mL\"", ST_FIG_BOTTLES, 1.0, 0.02 },
    { "cost", "", "--cost \"20 EUR\"", ST_FIG_COST, 0.1, 0.02 },
    { "sugar-acid", "", "--sugar-acid 25", ST_FIG_SUGAR_ACID, 0.1, 0.05 },
};
enum { NWISH = sizeof WISH / sizeof *WISH };

static bool complain(const char *option, const char *said, const char *why, const char *try_)
{
    char what[160];
    snprintf(what, sizeof what, "--%s \"%.80s\"", option, said);
    cli_error(what, why, try_);
    return false;
}

/* ---- off the command line ---- */

/* --have may be said several times. */
static void take_haves(struct cli *c, struct aim_options *o, bool *bad)
{
    int n = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *word = c->argv[i], *value = NULL;
        if (strncmp(word, "--have=", 7) == 0)
            value = word + 7;
        else if (strcmp(word, "--have") == 0 && i + 1 < c->argc)
            value = c->argv[++i];
        else {
            c->argv[n++] = c->argv[i];
            continue;
        }
        if (o->n_have < AIM_HAVES)
            o->have[o->n_have++] = value;
        else if (!*bad)
            *bad = !complain("have", value, "there is room for eight", "name fewer");
    }
    c->argc = n;
}

bool aim_options_take(struct cli *c, struct aim_options *o)
{
    bool bad = false;
    memset(o, 0, sizeof *o);
    take_haves(c, o, &bad);
    for (int i = 0; i < NWISH; i++) {
        o->wish[WISH[i].of] = cli_option(c, WISH[i].option, &bad);
        o->n_wish += o->wish[WISH[i].of] != NULL;
    }
    o->less_sweet = cli_option(c, "less-sweet", &bad);
    o->n_wish += o->less_sweet != NULL;
    o->than = cli_option(c, "than", &bad);
    o->than_sugar = cli_option(c, "than-sugar", &bad);
    o->spirit = cli_option(c, "spirit", &bad);
    o->spirit_for = cli_option(c, "spirit-for", &bad);
    o->whole_bottles = cli_option(c, "whole-bottles", &bad);
    o->jar = cli_option(c, "jar", &bad);
    o->output = cli_option(c, "output", &bad);
    o->force = cli_flag(c, "force");
    o->free = cli_option(c, "free", &bad);
    o->keep = cli_option(c, "keep", &bad);
    (void)cli_option_number(c, "times", 0.01, 1000.0, &o->times, &bad);
    if (!bad && (o->than || o->than_sugar) && !o->less_sweet) {
        cli_error(o->than ? "--than" : "--than-sugar", "it says what --less-sweet compares with, and that is not there",
                  "write for example --less-sweet \"a fifth\" --than-sugar 320");
        bad = true;
    }
    return !bad;
}

/* ---- numbers and ranges ---- */

static const char *after(const char *text, const char *word)
{
    const size_t n = strlen(word);
    if (strncmp(text, word, n) != 0)
        return NULL;
    text += n;
    return text + strspn(text, " ");
}

/* "24", "22-26 %", "at least 22", "at most 200 g/L". */
static bool read_range(const char *text, const char *units, double *low, double *high)
{
    const char *least = after(text, "at least "), *most = after(text, "at most ");
    struct st_span s;
    if (least || most)
        text = least ? least : most;
    if (!st_span_read(text, strlen(text), &s) || (s.unit_size && !(*units && st_span_unit_is(&s, units))))
        return false;
    *low = most ? -(double)INFINITY : s.single ? s.value : s.low;
    *high = least ? (double)INFINITY : s.single ? s.value : s.high;
    return true;
}

static enum st_measures measures_of(const struct cli *c)
{
    return c->units == ST_MEASURES_NONE ? ST_MEASURES_METRIC : c->units;
}

bool aim_volume(const struct cli *c, const char *option, const char *text, struct st_amount *out)
{
    struct st_problem problem = { .what = "" };
    const size_t n = strlen(text);
    size_t used = 0;
    if (cli_asks_amount(text, measures_of(c)))
        return false;
    if (st_quantity_parse(text, n, measures_of(c), out, &used, &problem) != 0 || used != n ||
        out->dim != ST_DIM_VOLUME || !(out->value > 0.0))
        return complain(option, text, *problem.why ? problem.why : "it is no volume", "write for example 2L or 700 mL");
    return true;
}

static bool add_wish(struct aim_task *t, int i, double low, double high)
{
    const double size = isfinite(low) ? low : high;
    for (int k = 0; k < t->core.aim.n_wish; k++) /* what was said goes before what was taken over */
        if (t->core.aim.wish[k].of == WISH[i].of)
            t->core.aim.wish[k--] = t->core.aim.wish[--t->core.aim.n_wish];
    return st_aim_wish(&t->core.aim, WISH[i].of, low, high, fmax(WISH[i].tolerance, WISH[i].share * fabs(size)));
}

static int row_of(enum st_figure f)
{
    int i = 0;
    while (WISH[i].of != f)
        i++;
    return i;
}

static bool wish_volume(struct aim_task *t, const char *text)
{
    const char *least = after(text, "at least "), *most = after(text, "at most ");
    struct st_amount a;
    if (!aim_volume(t->cli, "volume", least ? least : most ? most : text, &a))
        return false;
    return add_wish(t, row_of(ST_FIG_VOLUME), most ? -(double)INFINITY : a.low, least ? (double)INFINITY : a.high);
}

static const char *const NUMBER[] = { "no",    "one",   "two",  "three", "four",   "five",  "six",
                                      "seven", "eight", "nine", "ten",   "eleven", "twelve" };

/* "3", "three": what stands behind it, or NULL. */
static const char *number_word(const char *text, double *x)
{
    char *end;
    *x = strtod(text, &end);
    if (end != text)
        return end + strspn(end, " ");
    for (int i = 1; i < (int)(sizeof NUMBER / sizeof *NUMBER); i++) {
        const size_t n = strlen(NUMBER[i]);
        if (strncmp(text, NUMBER[i], n) == 0 && !isalpha((unsigned char)text[n])) {
            *x = i;
            return text + n + strspn(text + n, " ");
        }
    }
    return NULL;
}

/* What joins a number and a size: "x", "of", "bottles of". */
static const char *after_joint(const char *text)
{
    static const char *const JOINT[] = { "bottles", "bottle", "x", "X", "*", "\xc3\x97", "of" };
    for (size_t i = 0; i < sizeof JOINT / sizeof *JOINT; i++) {
        const char *end = after(text, JOINT[i]);
        text = end ? end : text;
    }
    return text;
}

static double bottle_of_recipe(const struct aim_task *t)
{
    const struct st_recipe *r = &t->core.file->recipe;
    return r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml : 0.0;
}

/* "2 x 500 mL", "three bottles of 70 cl", or "2" of the recipe's own size: they shall be full, and what is over no more
 * than a tenth. */
static bool wish_bottles(struct aim_task *t, const char *text)
{
    double n = 0.0;
    const char *end = number_word(text, &n), *size = end ? after_joint(end) : NULL;
    struct st_amount a = { .value = bottle_of_recipe(t) };
    if (end && !*size && !(a.value > 0.0))
        return complain("bottles", text, "the recipe does not say how large its bottles are",
                        "write the size too, such as --bottles \"2 x 500 mL\", or `size: 500 mL` under `bottle:`, the "
                        "last step of the recipe");
    if (!end || (*size && size == end))
        return complain("bottles", text, "it does not say how many of what size",
                        "write for example --bottles \"2 x 500 mL\"");
    if (!(n >= 1.0 && n <= 1000.0) || n != floor(n))
        return complain("bottles", text, "that is no number of bottles", "write for example --bottles \"2 x 500 mL\"");
    if (*size && !aim_volume(t->cli, "bottles", size, &a))
        return false;
    snprintf(t->core.because, sizeof t->core.because, "%g bottle%s of %g mL, full, and at most a tenth over", n,
             n > 1.0 ? "s" : "", a.value);
    return add_wish(t, row_of(ST_FIG_VOLUME), n * a.value, 1.1 * n * a.value);
}

bool aim_share(const char *text, double *share)
{
    static const struct {
        const char *word;
        double share;
    } PART[] = { { "half", 1.0 / 2 },  { "third", 1.0 / 3 },  { "quarter", 1.0 / 4 }, { "fifth", 1.0 / 5 },
                 { "sixth", 1.0 / 6 }, { "eighth", 1.0 / 8 }, { "tenth", 1.0 / 10 } };
    double many = 1.0;
    const char *behind = number_word(text, &many), *word = after(text, "a ") ? after(text, "a ")
                                                           : behind          ? behind
                                                                             : text;
    many = behind ? many : 1.0;
    for (size_t i = 0; i < sizeof PART / sizeof *PART; i++) {
        const char *last = after(word, PART[i].word);
        if (last && (*last == '\0' || (many > 1.0 && strcmp(last, "s") == 0)) && many >= 1.0 &&
            many * PART[i].share < 1.0) {
            *share = many * PART[i].share;
            return true;
        }
    }
    char *end;
    double x = strtod(text, &end);
    if (end == text)
        return false;
    end += strspn(end, " ");
    if (*end == '%' && end[1] == '\0')
        x /= 100.0;
    else if (*end == '/') {
        char *last;
        const double under = strtod(end + 1, &last);
        if (last == end + 1 || *last || !(under > 0.0))
            return false;
        x /= under;
    } else
        return false;
    if (!(x > 0.0 && x < 1.0))
        return false;
    *share = x;
    return true;
}

/* ---- less sweet than ---- */

static bool sugar_of(const struct st_recipe *r, double *g_l)
{
    struct st_problem problem;
    struct st_foretold out;
    struct st_plan *p = st_plan_create(r, &problem);
    if (!p) {
        cli_problem(r->file, &problem);
        return false;
    }
    const enum st_status s = st_plan_run(p, &(struct st_options){ .draws = 0 }, &out);
    *g_l = out.fig[ST_FIG_SUGAR].value;
    st_foretold_done(&out);
    st_plan_free(p);
    if (s < 0)
        cli_error(r->file, st_status_text(s), "look for an amount that is far too large or too small");
    return s >= 0;
}

static bool sugar_of_file(struct aim_task *t, const char *name, double *g_l)
{
    static struct st_recipe_file other; /* large */
    struct st_buf text = { 0 };
    struct st_catalogue *c = cli_catalogue();
    bool good = c && aim_read(t->cli, name, c, &text, &other) == ST_EXIT_DONE;
    if (good) {
        good = sugar_of(&other.recipe, g_l);
        st_recipe_done(&other);
    }
    st_buf_done(&text);
    st_catalogue_free(c);
    return good;
}

/* A bought bottle of the book; *of: how it is told. Where only a tongue or one side is known, nobody knows where between the
 * two it lies: what is less sweet than the least of it is less sweet than it. */
static bool sugar_of_bottle(const struct aim_options *o, const struct cli_bottle *b, double *g_l, char *of, size_t size)
{
    char figure[160];
    if (!b->sugar.known && !(b->by == ST_REFERENCE_ONE_SIDE && b->above > 0.0))
        return complain("than", o->than, b->words, "\"stillroom larder reference\" takes what you find out of it");
    if (!b->sugar.known || b->by == ST_REFERENCE_TONGUE) {
        *g_l = b->above;
        if (b->sugar.known)
            snprintf(of, size,
                     "%.80s, of %.4g to %.4g g/L by tongue: below the low end, so that it is so wherever it lies",
                     o->than, b->sugar.low, b->sugar.high);
        else
            snprintf(of, size, "%.80s, of more than %.4g g/L by tongue: below that", o->than, b->above);
        return *g_l > 0.0 || complain("than", o->than, "by tongue it may hold no sugar at all",
                                      "taste it against a sample of known sugar: --sweeter-than");
    }
    *g_l = b->sugar.value;
    st_figure_words(figure, sizeof figure, &b->sugar, "g/L");
    snprintf(of, size, "%.80s of %.90s", o->than, figure);
    return *g_l > 0.0 || complain("than", o->than, "it holds no sugar", "nothing can be less sweet");
}

static bool is_file(const char *name)
{
    const size_t size = strlen(name);
    return strchr(name, '/') || (size > 5 && strcmp(name + size - 5, ".yaml") == 0) || strcmp(name, "-") == 0 ||
           access(name, F_OK) == 0;
}

/* What --than names; *of: how it is told. */
static bool sugar_of_other(struct aim_task *t, const struct aim_options *o, double *g_l, char *of, size_t size)
{
    struct cli_bottle b;
    if (access(o->than, F_OK) != 0 && strcmp(o->than, "-") != 0 && cli_reference_found(t->cli, o->than, &b))
        return sugar_of_bottle(o, &b, g_l, of, size);
    if (!is_file(o->than)) {
        char try_[460];
        snprintf(try_, sizeof try_, "%.380s; a file ends in .yaml", b.words);
        return complain("than", o->than, "no such bottle is in the book, and no file is called so", try_);
    }
    if (!sugar_of_file(t, o->than, g_l))
        return false;
    snprintf(of, size, "%.80s of %.0f g/L", o->than, *g_l);
    return true;
}

static bool wish_less_sweet(struct aim_task *t, const struct aim_options *o)
{
    double share, base;
    char of[240];
    if (!aim_share(o->less_sweet, &share))
        return complain("less-sweet", o->less_sweet, "it is no share", "write for example \"a fifth\" or 20%");
    if (o->than_sugar) {
        double high;
        if (!read_range(o->than_sugar, "g/L|g", &base, &high) || base != high || !(base > 0.0))
            return complain("than-sugar", o->than_sugar, "it is no sugar in g/L", "write for example --than-sugar 320");
        snprintf(of, sizeof of, "a bottle of %.0f g/L", base);
    } else if (o->than) {
        if (!sugar_of_other(t, o, &base, of, sizeof of))
            return false;
    } else {
        if (!sugar_of(&t->core.file->recipe, &base))
            return false;
        snprintf(of, sizeof of, "the recipe as written of %.0f g/L", base);
    }
    const double wish = base * (1.0 - share);
    snprintf(t->core.because, sizeof t->core.because, "%s less sweet than %s", o->less_sweet, of);
    return add_wish(t, row_of(ST_FIG_SUGAR), wish, wish);
}

/* ---- all wishes ---- */

static bool wishes_of_recipe(struct aim_task *t)
{
    const struct st_recipe *r = &t->core.file->recipe;
    if (r->wish.has_strength)
        (void)add_wish(t, row_of(ST_FIG_STRENGTH), r->wish.strength_low, r->wish.strength_high);
    if (r->wish.has_sugar)
        (void)add_wish(t, row_of(ST_FIG_SUGAR), r->wish.sugar_low, r->wish.sugar_high);
    if (t->core.aim.n_wish > 0)
        snprintf(t->core.because, sizeof t->core.because, "the recipe's own wish");
    return true;
}

/* Sums are written with their money, as prices are: "20 EUR", "at most €20,50", "15-20 EUR"; it must be the recipe's. */
static bool wish_cost(struct aim_task *t, const char *said)
{
    const char *least = after(said, "at least "), *most = after(said, "at most "), *own = t->core.file->recipe.currency;
    const char *sum = least ? least : most ? most : said, *money = NULL;
    char code[4];
    struct st_span s;
    double low, high;
    if (st_span_read(sum, strlen(sum), &s) && !s.single) {
        low = s.low;
        high = s.high;
        money = s.unit_size ? larder_money_of(s.unit, s.unit_size, code) : NULL;
        if ((s.unit_size && !money) || least || most)
            return complain("cost", said, "it is no sum, nor a range of sums",
                            "write for example --cost \"15-20 EUR\"");
    } else {
        if (!larder_money("--cost", sum, &low, &money))
            return false;
        high = low;
    }
    if (money && !*money)
        return complain("cost", said, "several countries call their money so",
                        "write its three letters: --cost \"20 USD\"");
    if (money && own && *own && strcasecmp(money, own) != 0) {
        char why[80];
        snprintf(why, sizeof why, "the prices of the recipe are in %.8s", own);
        return complain("cost", said, why, "write what it is in that money");
    }
    return add_wish(t, row_of(ST_FIG_COST), most ? -(double)INFINITY : low, least ? (double)INFINITY : high);
}

static bool one_wish(struct aim_task *t, int i, const char *said)
{
    double low, high;
    if (WISH[i].of == ST_FIG_VOLUME)
        return wish_volume(t, said);
    if (WISH[i].of == ST_FIG_BOTTLES)
        return wish_bottles(t, said);
    if (WISH[i].of == ST_FIG_COST)
        return wish_cost(t, said);
    if (!read_range(said, WISH[i].units, &low, &high)) {
        char try_[120];
        snprintf(try_, sizeof try_, "write for example %s", WISH[i].example);
        return complain(WISH[i].option, said, "it is no figure, nor a range of figures", try_);
    }
    if (WISH[i].of == ST_FIG_STRENGTH && ((isfinite(high) && high > 96.0) || (isfinite(low) && low > 96.0)))
        return complain(WISH[i].option, said, "nothing above 96 % vol can be had", "write the strength in % vol");
    return add_wish(t, i, low, high);
}

bool aim_wishes(struct aim_task *t, const struct aim_options *o)
{
    for (int i = 0; i < NWISH; i++)
        if (o->wish[WISH[i].of] && !one_wish(t, i, o->wish[WISH[i].of]))
            return false;
    if (o->less_sweet && !wish_less_sweet(t, o))
        return false;
    if (t->core.aim.n_wish == 0)
        (void)wishes_of_recipe(t);
    if (t->core.aim.n_wish > 0)
        return true;
    cli_error("aim", "nothing is wished for",
              "write for example --strength 24 --sugar 180; or give the recipe a `wish:`");
    return false;
}
