#include <math.h>
#include <stdio.h>
#include <string.h>

#include "clearing_words.h"
#include "figure_words.h"

/* What a fining agent or a wash is, does, and leaves on the label. */

void st_dose_words(char *buf, size_t size, const struct st_agent *a)
{
    if (a->role == ST_AGENT_FILTER)
        snprintf(buf, size, "lets %g to %g \xc2\xb5m through", a->low, a->high);
    else
        snprintf(buf, size, "%g to %g %s", a->low, a->high, a->by_volume ? "mL/L" : "mg/L");
}

void st_bench_words(char *buf, size_t size, const struct st_bench *b)
{
    char left[160];
    st_figure_words(left, sizeof left, &b->left_ml, "mL");
    snprintf(buf, size,
             "The five glasses take %.0f mL out of the batch and do not go back into it: the amounts are for what is "
             "left, %s.",
             b->taken_ml, left);
}

void st_dose_trust_words(char *buf, size_t size, const struct st_agent *a, double strength)
{
    *buf = '\0';
    if (a->role != ST_AGENT_FINE && a->role != ST_AGENT_NEAT)
        return;
    if (strength > ST_DOSE_KNOWN_TO)
        snprintf(buf, size,
                 "order of magnitude only: doses are published for 10 to 14 %% vol, this drink has %.0f, and protein "
                 "finings weaken with strength",
                 strength);
    else
        snprintf(buf, size, "for drinks of 10 to 14 %% vol");
}

static const char *lists(const char *scope)
{
    return strcmp(scope, "eu_us") == 0 ? "lists of EU and US"
           : strcmp(scope, "eu") == 0  ? "list of the EU"
           : strcmp(scope, "us") == 0  ? "list of the US"
                                       : "read the pack";
}

void st_agent_label_words(char *buf, size_t size, const struct st_agent *a)
{
    if (*a->allergen)
        snprintf(buf, size, "allergen %s (%s), filtered off or not [eu_1169_2011]%s%s", a->allergen, lists(a->scope),
                 *a->diet ? "; " : "", a->diet);
    else
        snprintf(buf, size, "%s", *a->diet ? a->diet : "nothing that we know of");
}

/* The strength when so much milk has come to it; a tenth of milk is no water (from memory). */
static double washed(const struct st_clearing *c, double ml_l)
{
    return c->strength / (1.0 + 0.9 * ml_l * 1e-3);
}

void st_wash_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agent *a, int i)
{
    const double l = c->volume_ml.value * 1e-3;
    *buf = '\0';
    switch (i) {
    case 0:
        snprintf(buf, size,
                 "%.0f to %.0f mL of milk for this batch (%g to %g mL/L: from memory). It brings %.0f %% vol down to "
                 "%.0f to %.0f.",
                 a->low * l, a->high * l, a->low, a->high, c->strength, washed(c, a->high), washed(c, a->low));
        return;
    case 1:
        snprintf(buf, size,
                 "Pour the drink slowly into the milk, never the milk into the drink; leave it an hour or a night in "
                 "the refrigerator; strain it through the curd, the first cloudy runnings once more (common practice, "
                 "no source).");
        return;
    case 2:
        if (isfinite(c->acid_g_l) && c->acid_g_l < 2.0)
            snprintf(buf, size,
                     "Milk curdles at pH 4.6 to 5.0 [fining_table]. This drink has little acid (about %.1f g/L): "
                     "without lemon juice in it the milk may not curdle.",
                     c->acid_g_l);
        else
            snprintf(buf, size,
                     "Milk curdles at pH 4.6 to 5.0 [fining_table]: acid does it. Try a spoonful of each first.");
        return;
    case 3:
        snprintf(
            buf, size,
            "Loss: 2 to 10 %% with the curd (%.0f to %.0f mL), and 10 to 20 mL in each paper filter (from memory).",
            c->volume_ml.low * a->loss_low, c->volume_ml.high * a->loss_high);
        return;
    case 4:
        snprintf(buf, size,
                 "Milk stays an allergen however clear it runs [eu_1169_2011]; whey stays in the drink: use "
                 "pasteurised milk, keep it in the refrigerator, drink it soon (from memory).");
        return;
    default: return;
    }
}
