#include <math.h>
#include <stdio.h>
#include <string.h>

#include "clearing_words.h"
#include "core/ageing.h"

/* What a bottle does while it stands, as far as it can be told. */

static const double MONTH_S = 30.4375 * 86400.0;
/* x/: of the two half-lives, one standard deviation (ST_INVERSION_KH, ST_FADING_HALF_LIFE); what is told is 95 %. */
static const double INVERSION_BY = 3.0, FADING_BY = 2.0, NORMAL_975 = 1.959963984540054;

static void a_while(char *buf, size_t size, double s)
{
    const double month = s / MONTH_S;
    if (month < 2.5)
        snprintf(buf, size, s < 1.5 * 86400.0 ? "%.0f day" : "%.0f days", fmax(s / 86400.0, 1.0));
    else if (month < 24.0)
        snprintf(buf, size, "%.2g months", month);
    else
        snprintf(buf, size, "%.2g years", month / 12.0);
}

static void half_words(char *buf, size_t size, double half, double by)
{
    char middle[40], low[40], high[40];
    a_while(middle, sizeof middle, half);
    a_while(low, sizeof low, half * pow(by, -NORMAL_975));
    a_while(high, sizeof high, half * pow(by, NORMAL_975));
    snprintf(buf, size, "%s, likely between %s and %s", middle, low, high);
}

static bool fading(char *buf, size_t size, double T)
{
    double k, half;
    char words[160];
    if (st_fading_rate(T, &k) < 0 || st_half_life(k, &half) < 0)
        return false;
    half_words(words, sizeof words, half, FADING_BY);
    snprintf(buf, size,
             "Red of fruit fades: at %.0f \xc2\xb0"
             "C in the dark half of it is gone after %s; slower in the cold, faster in light. [sokol_letowska_2018] "
             "[bonerz_2007]",
             T - 273.15, words);
    return true;
}

static bool inversion(char *buf, size_t size, double ph, double T)
{
    double k, half;
    char words[160];
    if (isnan(ph)) {
        snprintf(buf, size,
                 "Sugar: acid parts table sugar into two that are sweeter by 0 to 10 %%; how fast hangs on the pH, "
                 "which is not reckoned here. With a test strip's figure: --ph 3.2");
        return true;
    }
    if (st_inversion_rate(ph, T, &k) < 0 || st_half_life(k, &half) < 0)
        return false;
    half_words(words, sizeof words, half, INVERSION_BY);
    snprintf(
        buf, size,
        "Sugar: at pH %.1f and %.0f \xc2\xb0"
        "C half of the table sugar is parted after %s; sweetness 0 to 10 %% up. [tombari_2007], the rate from memory",
        ph, T - 273.15, words);
    return true;
}

static bool colour(char *buf, size_t size, const struct st_recipe *r, const struct st_clearing *c, int i)
{
    if (i >= c->n_colour)
        return false;
    const struct st_colour_left *l = &c->colour[i];
    if (l->share.value > 0.995)
        return false;
    snprintf(
        buf, size,
        "Colour of \"%s\": thinned to %.0f %% of the depth it has in that jar (likely %.0f to %.0f), since %.0f mL "
        "in 100 mL of the drink come from there. %sNot across a change of acid, nor in a cloud. [beer_lambert]",
        r->step[l->step].id, l->share.value * 100.0, floor(l->share.low * 100.0), ceil(l->share.high * 100.0),
        l->share.value * 100.0,
        c->n_colour > 1 && i == 0 ? "Each jar has a figure of its own; in the glass their colours add. " : "");
    return true;
}

void st_standing_words(char *buf, size_t size, const struct st_recipe *r, const struct st_clearing *c, double ph,
                       double T, int i)
{
    int at = 0;
    for (int k = 0; k < ST_MAX_COLOURS + 3; k++) {
        bool said = false;
        *buf = '\0';
        if (k < ST_MAX_COLOURS)
            said = colour(buf, size, r, c, k);
        else if (k == ST_MAX_COLOURS)
            said = c->red && fading(buf, size, T);
        else if (k == ST_MAX_COLOURS + 1)
            said = c->sucrose && inversion(buf, size, ph, T);
        else {
            snprintf(buf, size,
                     "When it will peak, or turn smooth, nobody can reckon, and we do not pretend to: taste it after 2 "
                     "weeks, and after 2, 6 and 12 months, and write down what you find.");
            said = true;
        }
        if (said && at++ == i)
            return;
    }
    *buf = '\0';
}
