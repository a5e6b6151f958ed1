#include <stdio.h>
#include <string.h>

#include "number.h"
#include "quantity_read.h"

static const char VESSELS[] = "jars|jar|vessel|demijohn|carboy|crock|container|barrel|cask|keg";
static const char ARTICLES[] = "a|an|the|your|my|that|this";

static void set(struct st_amount *out, enum st_open open)
{
    *out = (struct st_amount){ .dim = ST_DIM_OPEN, .open = open };
}

/* Up to where; the shares of the nominal volume are common practice without a source, or from memory. */
static void set_fill(struct st_amount *out, double share, double low, double high, double vessel_ml)
{
    set(out, ST_OPEN_FILL);
    out->fill_share = share;
    out->low = low;
    out->high = high;
    out->value = vessel_ml;
    out->tool = ST_TOOL_VESSEL;
}

/* ---- "a 2 L jar" ---- */

/* A volume for a vessel's size; false when it would need a question. */
static bool vessel_size(struct st_scan *s, const struct st_ask *ask, double *ml)
{
    const struct st_ask volume = { ask->measures, ST_DIM_BIT(ST_DIM_VOLUME), false, false };
    struct st_problem unused;
    struct st_amount a;
    struct st_scan look = *s;

    if (st_closed_read(&look, &volume, &a, NULL, &unused) != ST_GOT_AMOUNT || a.dim != ST_DIM_VOLUME)
        return false;
    *ml = a.value;
    *s = look;
    return true;
}

/* "the jar", "a 2 L jar"; *ml 0 when no size is said. */
static bool vessel(struct st_scan *s, const struct st_ask *ask, bool bottles_too, double *ml)
{
    struct st_scan a = *s;

    *ml = 0.0;
    (void)st_scan_word(&a, ARTICLES);
    const bool sized = vessel_size(&a, ask, ml);
    (void)st_scan_word(&a, "big|large|small|clean|glass|preserving|wide necked|stone");
    if (!st_scan_word(&a, VESSELS) && !((bottles_too || sized) && st_scan_word(&a, "bottle")))
        return false;
    *s = a;
    return true;
}

/* ---- how full ---- */

static bool mark_on_the_jar(struct st_scan *s, struct st_amount *out)
{
    static const struct {
        const char *words;
        double share, low, high;
    } MARK[] = {
        { "shoulder|shoulders", 0.85, 0.80, 0.90 },
        { "neck", 0.92, 0.88, 0.95 },
        { "top", 0.95, 0.90, 0.99 },
        { "brim|rim", 0.98, 0.95, 1.00 },
    };
    for (size_t i = 0; i < sizeof MARK / sizeof MARK[0]; i++)
        if (st_scan_word(s, MARK[i].words)) {
            set_fill(out, MARK[i].share, MARK[i].low, MARK[i].high, 0.0);
            return true;
        }
    return false;
}

/* "to the shoulder of a 2 L jar" */
static bool to_a_mark(struct st_scan *s, const struct st_ask *ask, struct st_amount *out)
{
    struct st_scan a = *s;
    double ml;

    (void)st_scan_word(&a, "fill|filled|topped|top");
    (void)st_scan_word(&a, "up");
    if (!st_scan_word(&a, "to the|to its|to your") || !mark_on_the_jar(&a, out))
        return false;
    *s = a;
    if (st_scan_word(&a, "of|in") && vessel(&a, ask, true, &ml)) {
        out->value = ml;
        *s = a;
    }
    return true;
}

/* "fill the 1.5 L jar two thirds full", "fill the jar" */
static bool fill_the_jar(struct st_scan *s, const struct st_ask *ask, struct st_amount *out)
{
    struct st_scan a = *s;
    double ml, share;

    if (!st_scan_word(&a, "fill") || !vessel(&a, ask, true, &ml))
        return false;
    *s = a;
    (void)st_scan_word(&a, "to|up to");
    if (st_number_share(&a, &share)) {
        set_fill(out, share, share, share, ml);
        *s = a;
        (void)st_scan_word(s, "full");
        return true;
    }
    a = *s;
    set_fill(out, 0.95, 0.90, 0.99, ml);
    if (st_scan_word(&a, "to the") && mark_on_the_jar(&a, out)) {
        out->value = ml;
        *s = a;
    }
    return true;
}

/* "two thirds of a 2 L jar", "to 67 % of the jar", "half a 2 L jar", "two thirds full" */
static bool share_of_a_jar(struct st_scan *s, const struct st_ask *ask, struct st_amount *out)
{
    struct st_scan a = *s;
    double share, ml = 0.0;

    (void)st_scan_word(&a, "fill|filled");
    const bool told = st_scan_word(&a, "up to|to");
    if (!st_number_share(&a, &share))
        return false;
    if (!st_scan_word(&a, "full")) {
        (void)st_scan_word(&a, "of|in");
        if (!vessel(&a, ask, told, &ml))
            return false;
    }
    set_fill(out, share, share, share, ml);
    *s = a;
    return true;
}

/* ---- words alone ---- */

static bool plain_words(struct st_scan *s, struct st_amount *out)
{
    static const struct {
        const char *words;
        enum st_open open;
    } WORDS[] = {
        { "to taste|to your taste|to your liking|as you like it|as you like", ST_OPEN_TASTE },
        { "until just covered|until well covered|until covered|until all is covered|until everything is covered|"
          "until they are covered|until it is covered|till covered|to just cover|just to cover|enough to cover|to "
          "cover|"
          "covered|cover",
          ST_OPEN_COVER },
        { "to top up|top up|topped up|to top off|top off|to fill up|fill up|to fill", ST_OPEN_TOP_UP },
        { "as needed|as required|as necessary|some more|some|a little bit of|a little|a bit of|a drizzle of|a drizzle|"
          "a glug of|a glug|enough|q.s.|qs",
          ST_OPEN_SOME },
    };
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (st_scan_word(s, WORDS[i].words)) {
            set(out, WORDS[i].open);
            return true;
        }
    return false;
}

/* ---- making up to a total ---- */

static enum st_got make_up(struct st_scan *s, const struct st_ask *ask, struct st_amount *out,
                           struct st_problem *problem)
{
    const struct st_ask total = { ask->measures, ST_DIM_BIT(ST_DIM_MASS) | ST_DIM_BIT(ST_DIM_VOLUME), ask->liquid,
                                  false };
    struct st_scan a = *s;
    struct st_amount sum;

    if (!st_scan_word(&a, "make up to|made up to|make it up to|to make up to|to make|make|topped up to|top up to|"
                          "top it up to|filled up to|fill up to|fill to|filled to|up to|q.s. to|qs to|qs ad|ad|to"))
        return ST_GOT_NONE;
    st_scan_blanks(&a);
    const struct st_scan number = a;
    const enum st_got got = st_closed_read(&a, &total, &sum, NULL, problem);
    if (got < 0 || (sum.dim != ST_DIM_MASS && sum.dim != ST_DIM_VOLUME))
        return got == ST_GOT_NONSENSE && number.at < number.end && st_is_digit((unsigned char)*number.at) ? got
                                                                                                          : ST_GOT_NONE;
    sum.make_up_to = true;
    *out = sum;
    *s = a;
    return got;
}

enum st_got st_open_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out, struct st_problem *problem)
{
    struct st_scan a = *s;

    st_scan_blanks(&a);
    if (to_a_mark(&a, ask, out) || fill_the_jar(&a, ask, out) || share_of_a_jar(&a, ask, out)) {
        *s = a;
        return ST_GOT_AMOUNT;
    }
    const enum st_got got = make_up(&a, ask, out, problem);
    if (got == ST_GOT_NONE) {
        if (!plain_words(&a, out))
            return ST_GOT_NONE;
        *s = a;
        return ST_GOT_AMOUNT;
    }
    if (got >= 0)
        *s = a;
    return got;
}
