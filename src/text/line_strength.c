#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "line_draft.h"
#include "number.h"

/* The strength of a spirit or wine in its line: "40 %", "80 proof", "ABV 40", and the bare figure that needs a
 * question. */

static const char BEFORE[] = "at|of|with|alc|abv|strength|@";

static int keep(struct st_draft *d, const struct st_found *f)
{
    const struct st_range r = st_draft_range(&f->a);

    if (d->strength.known && (r.low > d->strength.high || r.high < d->strength.low)) {
        /* "80 proof (40 %)" says the same twice, within what proof and % vol differ by */
        if (fabs(r.value - d->strength.value) > 0.2)
            return st_draft_stop(d, f->at, "a line has one strength", "keep the one on the label",
                                 "a second strength, %.4g %% vol after %.4g", r.value, d->strength.value);
    } else if (!d->strength.known) {
        d->strength = r;
        d->strength_at = f->at;
        d->strength_n = f->end - f->at;
    }
    st_draft_blank(d, f->at, f->end);
    st_draft_blank_before(d, f->at, BEFORE);
    return 0;
}

static int beyond(struct st_draft *d, size_t at, size_t end)
{
    char clip[40];
    st_scan_clip(d->text + at, end - at, clip, sizeof clip);
    return st_draft_stop(d, at, "strength is 0 to 100 % by volume, or 0 to 200 proof",
                         "write it from the label, for example 40 %, or 80 proof", "there is no strength of %s", clip);
}

/* "vodka -40 %"; but "30 - 40 %" is a range, "vodka - 40 %" a dash, and in "35 -40 %" a figure stands before. */
static size_t sign_before(const struct st_draft *d, size_t at)
{
    static const char MINUS[] = "\xe2\x88\x92";
    const size_t sign = at >= 1 && d->text[at - 1] == '-'                                   ? 1
                        : at >= 3 && memcmp(d->text + at - 3, MINUS, sizeof MINUS - 1) == 0 ? sizeof MINUS - 1
                                                                                            : 0;
    size_t before = at - sign;

    if (sign == 0 || before == 0 || d->text[before - 1] != ' ')
        return 0;
    while (before > 0 && d->text[before - 1] == ' ')
        before--;
    const char last = before > 0 ? d->text[before - 1] : '\0';
    return last == '\0' || last == '%' || st_is_digit((unsigned char)last) ? 0 : sign;
}

static int below_nothing(struct st_draft *d, const struct st_found *f, size_t sign)
{
    char clip[40];
    st_scan_clip(d->text + f->at - sign, f->end - f->at + sign, clip, sizeof clip);
    return st_draft_stop(d, f->at - sign, "a sign stands before the figure",
                         "write it from the label, for example vodka 40 %", "a strength below nothing, %s", clip);
}

/* A number with a unit of strength behind it that made no sense: "140 %". */
static bool is_strength(const struct st_draft *d, size_t at, size_t *end)
{
    const struct st_ask ask = { d->ask.measures, ST_DIM_BIT(ST_DIM_STRENGTH), false, false };
    struct st_scan s = st_draft_from(d, at);
    struct st_number n;
    struct st_pick pick;
    const char *why;

    if (st_number_read(&s, &n, &why) != 1 || !st_unit_read(&s, &ask, &pick))
        return false;
    *end = (size_t)(s.at - d->work);
    return true;
}

/* "40 proof %", "40 % proof": one figure in two units, which differ twofold. */
static int two_units(struct st_draft *d, const struct st_found *f)
{
    struct st_scan s = st_draft_from(d, f->end), unit = { d->work + f->at, d->work + f->end };
    const bool proof = f->a.unit && strstr(f->a.unit->key, "proof") != NULL;

    st_scan_blanks(&s);
    if (proof ? !st_scan_sign(&s, "%") && !st_scan_word(&s, "percent|per cent|abv|vol|alc")
              : !st_scan_word(&s, "proof"))
        return 0;
    char clip[40];
    st_scan_clip(d->text + f->at, (size_t)(s.at - unit.at), clip, sizeof clip);
    return st_draft_stop(d, f->at, "a figure is % by volume or proof, and they differ twofold",
                         "keep the one on the label, for example 40 %, or 80 proof", "two units in '%s'", clip);
}

static bool is_proof(const struct st_found *f)
{
    return f->a.unit && f->a.unit->scale == ST_SCALE_PROOF;
}

/* "70 UK proof", "70 proof (British)": the words go, and it is asked. */
static bool says_british(struct st_draft *d, const struct st_found *f)
{
    static const char BRITISH[] = "british|uk|u.k.|english|sikes|old british|imperial";
    struct st_scan s = st_draft_from(d, f->end);

    st_scan_blanks(&s);
    (void)st_scan_sign(&s, "(");
    (void)st_scan_sign(&s, ",");
    if (!st_scan_word(&s, BRITISH))
        return false;
    (void)st_scan_word(&s, "degrees|measure|scale");
    (void)st_scan_sign(&s, ")");
    st_draft_blank(d, f->end, (size_t)(s.at - d->work));
    return true;
}

/* Old British proof spirit held 57.1 % vol, four sevenths: common practice, no source. */
static void ask_proof(struct st_draft *d, const struct st_found *f)
{
    const double us = f->a.value, figure = f->a.written > 0.0 ? f->a.written : round(2.0 * us);
    struct st_problem p = { .is_question = 1 };

    (void)snprintf(p.what, sizeof p.what, "which proof is meant");
    if (figure <= 175.0)
        (void)snprintf(p.why, sizeof p.why,
                       "%.4g degrees of old British proof are %.3g %% vol, %.4g US proof are %.3g %% vol", figure,
                       figure * 4.0 / 7.0, figure, us);
    else
        (void)snprintf(p.why, sizeof p.why, "old British proof ends at 175 degrees, US proof at 200");
    (void)snprintf(p.try_, sizeof p.try_, "write the strength in %% vol");
    st_draft_question(d, f->at, &p);
}

int st_draft_strength(struct st_draft *d)
{
    struct st_found f;

    for (size_t i = 0; st_draft_next(d, ST_DIM_STRENGTH, i, &f); i++) {
        i = f.at;
        if (f.got < 0) {
            if (is_strength(d, f.at, &f.end))
                return beyond(d, f.at, f.end);
            continue;
        }
        struct st_scan after = st_draft_from(d, f.end);
        if (st_scan_word(&after, "of the|of a|of an|of your|full"))
            continue;
        const size_t sign = sign_before(d, f.at);
        if (two_units(d, &f) || (sign > 0 && !d->pasted && below_nothing(d, &f, sign)))
            return -1;
        d->dashed = d->dashed || sign > 0;
        const bool proof = is_proof(&f), british = proof && says_british(d, &f);
        if (proof && (british || f.got == ST_GOT_QUESTION))
            ask_proof(d, &f);
        else if (f.got == ST_GOT_QUESTION)
            st_draft_question(d, f.at, &f.problem);
        d->proof = d->proof || (proof && !d->asks);
        if (keep(d, &f))
            return -1;
        i = f.end - 1;
    }
    return 0;
}

/* ---- "vodka 40" ---- */

/* Where the figure begins that ends the name; 0 when none does. */
static size_t last_figure(const char *name, size_t n)
{
    size_t at = n;

    while (at > 0 && ((name[at - 1] >= '0' && name[at - 1] <= '9') || (name[at - 1] == '.' && at < n)))
        at--;
    return at > 0 && at < n && name[at] != '.' && name[at - 1] == ' ' ? at : 0;
}

/* The name without what leads to the figure; *told: it was said to be a strength. */
static size_t before_figure(const char *name, size_t at, bool *told)
{
    static const char *const WORD[] = { "abv", "alc", "alcohol", "strength", "vol", "at", "of", "@", ",", ":", "." };
    bool cut = true;

    *told = false;
    while (cut) {
        cut = false;
        while (at > 0 && name[at - 1] == ' ')
            at--;
        for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++) {
            const size_t k = strlen(WORD[i]);
            struct st_scan s = { name + at - (at >= k ? k : 0), name + at };
            const bool sign = WORD[i][0] < 'a' && WORD[i][0] != '@';
            if (at <= k || (!sign && name[at - k - 1] != ' ' && name[at - k - 1] != ',') ||
                !(sign ? st_scan_sign(&s, WORD[i]) : st_scan_word(&s, WORD[i]) || st_scan_sign(&s, WORD[i])))
                continue;
            *told = *told || i < 5;
            at -= k;
            cut = true;
            break;
        }
    }
    return at;
}

static void ask_unit(struct st_draft *d, size_t at, const char *figure, double x)
{
    struct st_problem p = { .is_question = 1 };
    char other[40] = "";

    if (x <= 100.0)
        (void)snprintf(other, sizeof other, "%s %% (that is %g proof), or ", figure, 2.0 * x);
    (void)snprintf(p.what, sizeof p.what, "%s what", figure);
    (void)snprintf(p.why, sizeof p.why, "a figure alone may be %% by volume or proof, and they differ twofold");
    (void)snprintf(p.try_, sizeof p.try_, "write %s%s proof", other, figure);
    st_draft_question(d, at, &p);
}

int st_draft_bare_strength(struct st_draft *d, const struct st_catalogue *c)
{
    const size_t n = strlen(d->name), at = last_figure(d->name, n);
    bool told = false;

    if (d->strength.known || at == 0 || st_catalogue_find(c, d->name, n))
        return 0;
    const double x = strtod(d->name + at, NULL);
    const size_t end = before_figure(d->name, at, &told);
    const struct st_ingredient *in = end > 0 ? st_catalogue_find(c, d->name, end) : NULL;
    if (!in || (in->kind != ST_KIND_SPIRIT && in->kind != ST_KIND_WINE))
        return 0;
    const char *written = strstr(d->text + d->name_at, d->name + at);
    const size_t place = written ? (size_t)(written - d->text) : d->name_at;
    d->what = in;
    if (x > 200.0 || (told && x > 100.0))
        return beyond(d, place, place + (n - at));
    if (told)
        d->strength = (struct st_range){ x, x, x, true, 'u', "" };
    else
        ask_unit(d, place, d->name + at, x);
    return 1;
}
