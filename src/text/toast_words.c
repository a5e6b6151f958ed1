#include "toast_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"
#include "heat_words.h"

/* ---- what gives the heat ---- */

static bool says(const char *words, const char *list)
{
    bool begins = true;
    for (const char *p = words ? words : ""; *p; p++) {
        if (begins && st_listed(p, list))
            return true;
        begins = !st_in_word((unsigned char)*p);
    }
    return false;
}

enum st_toast_way st_toast_way_of(const struct st_step *s)
{
    static const char PAN[] = "|pan|frying pan|skillet|dry-fry|dry fry|wok|griddle|", FAN[] = "|fan|convection|",
                      OVEN[] = "|oven|tray|trays|baking sheet|baking tin|bake|";
    const bool pan = says(s->words, PAN) || says(s->id, PAN), fan = says(s->words, FAN) || says(s->id, FAN);
    const bool oven = fan || says(s->words, OVEN) || says(s->id, OVEN);
    if (pan == oven)
        return ST_TOAST_UNSAID;
    return pan ? ST_TOAST_PAN : fan ? ST_TOAST_FAN : ST_TOAST_OVEN;
}

/* ---- figures ---- */

/* Two places below 0.1, one above; nothing below 0.01. */
static void put_index(char *buf, size_t size, double x)
{
    if (x < 0.01)
        snprintf(buf, size, "under 0.01");
    else
        snprintf(buf, size, "%.*f", x < 0.095 ? 2 : x < 9.5 ? 1 : 0, x);
}

static void put_toast(char *buf, size_t size, const struct st_toast_told *t)
{
    const struct st_range *T = &t->temperature_K;
    const int low = (int)lround(T->low - 273.15), high = (int)lround(T->high - 273.15);
    char time[64];
    st_time_words(time, sizeof time, &t->time);
    if (low < high)
        snprintf(buf, size, "%s at %d to %d °C", time, low, high);
    else
        snprintf(buf, size, "%s at %.0f °C", time, T->value - 273.15);
}

/* Rounded outward, but never beyond the oven. */
static void put_core(char *buf, size_t size, const struct st_interval *K)
{
    const double low = floor(K->low - 273.15 + 1e-6), high = ceil(K->high - 273.15 - 1e-6);
    snprintf(buf, size, "about %.0f °C inside at the end (likely between %.0f and %.0f)", K->value - 273.15, low, high);
}

static void put_why(char *buf, size_t size, const struct st_toast_piece *p)
{
    static const char *const WHY[ST_NTOAST_WHY] = {
        [ST_TOAST_RECKONED] = "",
        [ST_TOAST_NO_TEMPERATURE] = "nobody said how hot, so how warm it gets is not known: write `at:` to the toast",
        [ST_TOAST_NO_TIME] = "nobody said how long, so how warm it gets is not known: write `for:` to the toast",
        [ST_TOAST_NEITHER] =
            "nobody said how hot or how long, so how warm it gets is not known: write `at:` and `for:` to the toast",
        [ST_TOAST_WET] = "it holds much water and stays near 100 °C until that is gone: not reckoned",
        [ST_TOAST_NO_SIZE] = "the size of its pieces is not known: not reckoned",
        [ST_TOAST_MADE] = "what an earlier step made: not reckoned",
        [ST_TOAST_OUTSIDE] = "hotter than 300 °C, below -20 °C or longer than a day: not reckoned",
    };
    snprintf(buf, size, "%s: %s.", p->name, WHY[p->why]);
}

void st_toast_piece_words(char *buf, size_t size, const struct st_toast_told *t, const struct st_toast_piece *p)
{
    char toast[120], core[120], value[24], low[24], high[24], cut[24] = "";
    if (p->why != ST_TOAST_RECKONED) {
        put_why(buf, size, p);
        return;
    }
    put_toast(toast, sizeof toast, t);
    put_core(core, sizeof core, &p->core_K);
    put_index(value, sizeof value, p->index.value);
    put_index(low, sizeof low, p->index.low);
    put_index(high, sizeof high, p->index.high);
    if (p->cut_said && p->cut != ST_CUT_WHOLE)
        snprintf(cut, sizeof cut, ", %s", st_cut_name(p->cut));
    snprintf(buf, size,
             "%s%s, %s: %s; toasted flavour %s of a usual toast (%s to %s): compare with another toast of it, not with "
             "a colour.%s",
             p->name, cut, toast, core, value, low, high,
             p->again ? " It was toasted before; this is of this toast alone." : "");
}

/* ---- poison ---- */

const char st_toast_flavour_only[] =
    "A toast of kernels is a flavour step (common practice, no source): it lowers no worst case. No number for the "
    "enzyme after dry heat was found.";

/* Rounded outward, and never to none. */
static void put_left(char *buf, size_t size, const struct st_toast_piece *p)
{
    const double low = floor(100.0 * p->left_low), high = fmin(ceil(100.0 * p->left_high), 100.0);
    if (low < 1.0)
        snprintf(buf, size, "under 1 to %.0f %%", high);
    else
        snprintf(buf, size, "%.0f to %.0f %%", low, high);
}

void st_toast_left_words(char *buf, size_t size, const struct st_toast_piece *p)
{
    char left[48];
    buf[0] = '\0';
    if (!p->cyanogenic)
        return;
    if (!p->amygdalin || p->why != ST_TOAST_RECKONED) {
        snprintf(buf, size, "How much of what frees hydrogen cyanide is left in %s is not known.", p->name);
        return;
    }
    put_left(left, sizeof left, p);
    snprintf(buf, size,
             "Of the amygdalin in %s %s may be left (one published run: 35 %% after 10 min at 160 °C [nalcaci_2025]).",
             p->name, left);
}

/* ---- basis ---- */

void st_toast_basis_words(char *buf, size_t size, const struct st_toast_told *t)
{
    static const char *const HOW[ST_NTOAST] = {
        [ST_TOAST_UNSAID] = "nobody said oven or pan, and both are reckoned with",
        [ST_TOAST_OVEN] = "still oven air",
        [ST_TOAST_FAN] = "an oven with a fan",
        [ST_TOAST_PAN] = "a dry pan, stirred, as hot as told",
    };
    const struct st_range h = st_toast_heat(t->way);
    bool any = false;
    for (int i = 0; i < t->n_piece; i++)
        any = any || t->piece[i].why == ST_TOAST_RECKONED;
    buf[0] = '\0';
    if (!any)
        return;
    snprintf(
        buf, size,
        "Reckoned for one layer put in hot: %s, %.0f to %.0f W/m²K, size and heat of the pieces (from memory). An "
        "upper estimate: water that boils off keeps the piece cooler. A dial may be 10 to 20 °C off (from memory), "
        "which is not in the range. A usual toast: 10 minutes with the inside at 150 °C.",
        HOW[t->way], h.low, h.high);
}
