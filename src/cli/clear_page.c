#include <math.h>
#include <string.h>

#include "cli/clear.h"
#include "cli/page.h"

/* ---- columns ---- */

static int width(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += ((unsigned char)*text & 0xc0) != 0x80;
    return n;
}

/* text, then blanks up to the column. */
static void column(const char *text, int wide)
{
    const int n = wide - width(text);
    printf("%s%*s", text, n > 0 ? n : 0, "");
}

/* ---- the whole ---- */

static void print_title(const struct cli *c, const struct st_clear_told *t)
{
    char volume[160];
    st_volume_words(volume, sizeof volume, &t->batch_ml, c->units);
    cli_wrap(0, 0, t->recipe->title && *t->recipe->title ? t->recipe->title : "A recipe without a title");
    cli_say(0, 0, "%.0f %% vol, %.0f g/L of sugar; %s", t->clearing->strength, t->clearing->sugar, volume);
}

static bool all_unknown(const struct st_clearing *c)
{
    for (int i = 0; i < ST_NPLACES; i++)
        if (c->at[i].is != ST_CLEARNESS_UNKNOWN)
            return false;
    return true;
}

static void print_verdicts(const struct st_clearing *c)
{
    enum { PLACE = 25, WORD = 36 };
    char text[ST_CLEARING_TEXT];
    cli_heading("Will it go cloudy?");
    if (c->milky) {
        cli_wrap(2, 2,
                 "It is milky: cream, milk or egg makes it so, and nothing here clears that. It does not keep: see "
                 "stillroom "
                 "foresee.");
        return;
    }
    if (c->n_part == 0 && all_unknown(c))
        return; /* the remark says why, once */
    printf("  ");
    column("", WORD - 2);
    puts("oil, over what stays dissolved");
    for (int i = 0; i < ST_NPLACES; i++) {
        printf("  ");
        column(st_place_words((enum st_place_of_drink)i), PLACE - 2);
        column(st_clearness_word(c->at[i].is), WORD - PLACE);
        st_clear_index_words(text, sizeof text, c, (enum st_place_of_drink)i);
        cli_wrap_on(WORD, WORD, text);
    }
}

/* The three that bring most, unless all are asked for. */
static void print_oils(const struct st_clearing *c, bool all)
{
    enum { SHOWN = 3 };
    bool told[ST_MAX_OILS] = { false };
    char text[ST_CLEARING_TEXT];
    for (int n = 0; n < c->n_part && (all || n < SHOWN); n++) {
        int best = -1;
        for (int i = 0; i < c->n_oil; i++)
            if (c->oil[i].known == ST_OIL_KNOWN && !told[i] &&
                (best < 0 || c->oil[i].g_l.value > c->oil[best].g_l.value))
                best = i;
        if (best < 0)
            return;
        told[best] = true;
        st_clear_oil_words(text, sizeof text, &c->oil[best]);
        cli_wrap(2, 4, text);
    }
    if (!all && c->n_part > SHOWN)
        cli_say(2, 4, "and %d more that bring less (--explain)", c->n_part - SHOWN);
}

static void print_remarks(const struct st_clearing *c)
{
    char text[ST_CLEARING_TEXT];
    for (int i = 0;; i++) {
        st_clear_remark(text, sizeof text, c, i);
        if (!*text)
            return;
        cli_wrap(2, 2, text);
    }
}

static void print_remedies(const struct st_clearing *c)
{
    char text[ST_CLEARING_TEXT];
    for (int i = 0;; i++) {
        st_clear_remedy(text, sizeof text, c, i);
        if (!*text)
            return;
        if (i == 0)
            cli_heading("What helps, in this order");
        cli_say(2, 5, "%d. %s", i + 1, text);
    }
}

static void print_settling(const struct st_clearing *c)
{
    enum { NAME = 40, ONE = 58 };
    const struct st_settling_jar *before = &c->jar[ST_BEFORE_SUGAR], *after = &c->jar[ST_AFTER_SUGAR];
    char text[ST_CLEARING_TEXT];
    if (!after->known)
        return;
    cli_heading("Letting it settle: time through 10 cm, standing still");
    printf("  ");
    column("", NAME - 2);
    if (before->known)
        column("before the sugar", ONE - NAME);
    puts(before->known ? "after it" : "in this drink");
    for (int i = 0; i < ST_GRAINS; i++) {
        printf("  ");
        column(st_grain[i].name, NAME - 2);
        if (before->known) {
            st_settling_words(text, sizeof text, &before->day[i]);
            column(text, ONE - NAME);
        }
        st_settling_words(text, sizeof text, &after->day[i]);
        puts(text);
    }
    st_settle_first_words(text, sizeof text, c);
    if (*text)
        cli_wrap(2, 2, text);
    cli_wrap(2, 2,
             "Grains as round and single: what clots falls faster. Chill, wait, then pour off the clear. [stokes1851]");
}

static void print_pectin(const struct st_clearing *c)
{
    char text[ST_CLEARING_TEXT];
    for (int i = 0;; i++) {
        st_pectin_words(text, sizeof text, c, i);
        if (!*text)
            return;
        if (i == 0)
            cli_heading("Pectin, where fruit is in it");
        cli_wrap(2, 2, text);
    }
}

static bool is_filter(const struct st_agent *a)
{
    return a->role == ST_AGENT_FILTER;
}

static void print_agents(const struct st_clear_told *t, bool filters)
{
    enum { NAME = 27, DOSE = 41, AGAINST = 66 };
    char dose[80];
    cli_heading(filters ? "Straining, coarse first" : "Finings, when settling and paper are not enough");
    for (int i = 0; i < t->agents->n; i++) {
        const struct st_agent *a = &t->agents->row[i];
        if (is_filter(a) != filters)
            continue;
        printf("  ");
        column(a->name, NAME - 2);
        if (filters)
            snprintf(dose, sizeof dose, "%g-%g \xc2\xb5m", a->low, a->high);
        else
            snprintf(dose, sizeof dose, "%g-%g %s", a->low, a->high, a->by_volume ? "mL/L" : "mg/L");
        column(dose, DOSE - NAME - 1);
        putchar(' ');
        if (*a->allergen) {
            column(a->against, AGAINST - DOSE - 1);
            printf(" allergen %s\n", a->allergen);
        } else
            puts(a->against);
    }
    if (filters)
        cli_wrap(2, 2, "Each paper keeps 10 to 20 mL. Finest sizes that pass: from memory.");
    else
        cli_say(2, 2,
                "Doses are for 10 to 14 %% vol%s. [fining_table] Glasses first, then the amount for this batch: "
                "--agent NAME.",
                t->clearing->strength > ST_DOSE_KNOWN_TO ? "; at this strength they are an order of magnitude only"
                                                         : "");
}

/* In short, where the tables were not asked for. */
static void print_ways(const struct st_clear_told *t)
{
    const struct st_clearing *c = t->clearing;
    cli_heading("Straining and fining");
    cli_wrap(2, 2,
             "Cloth, then paper coffee filters (10 to 20 mL stay in each), then finings if the glass is still hazy: "
             "gelatine, "
             "bentonite, egg white, isinglass, casein, agar, carbon, silica sol, or a milk wash.");
    cli_say(2, 2,
            "Their doses are published for 10 to 14 %% vol%s: glasses first. --agents lists what each is for and adds "
            "to the label; "
            "--agent gelatine gives the glasses, and the grams for this batch.",
            c->strength > ST_DOSE_KNOWN_TO ? ", and are an order of magnitude only at this strength" : "");
}

static void print_standing(const struct st_clear_told *t)
{
    char text[ST_CLEARING_TEXT];
    cli_heading("While it stands");
    for (int i = 0;; i++) {
        st_standing_words(text, sizeof text, t->recipe, t->clearing, t->ph, t->T_K, i);
        if (!*text)
            return;
        cli_wrap(2, 4, text);
    }
}

/* ---- one agent ---- */

static void print_glasses(const struct st_clear_told *t)
{
    const struct st_agent *a = t->agent;
    struct st_bench_glass glass[ST_BENCH_GLASSES];
    char heading[120], grams[120];
    if (st_bench_plan(a, ST_BENCH_SAMPLE_ML, ST_BENCH_STOCK_PCT, &t->batch_ml, glass) < 0)
        return;
    snprintf(heading, sizeof heading, "Five glasses of %d mL, 24 to 48 hours", (int)ST_BENCH_SAMPLE_ML);
    cli_heading(heading);
    printf("  glass   times   %s     %-9s for the batch\n", a->by_volume ? "mL/L" : "mg/L",
           a->by_volume ? "mL of it" : "mL stock");
    for (int i = 0; i < ST_BENCH_GLASSES; i++) {
        const struct st_bench_glass *g = &glass[i];
        if (a->by_volume || !(g->dose > 0.0))
            snprintf(grams, sizeof grams, g->dose > 0.0 ? "%.3g mL (%.3g to %.3g)" : "none", g->batch_g.value,
                     g->batch_g.low, g->batch_g.high);
        else
            snprintf(grams, sizeof grams, "%.2g g (%.2g to %.2g), as %.3g mL of stock", g->batch_g.value,
                     g->batch_g.low, g->batch_g.high, g->batch_stock_ml.value);
        printf("  %d       %-5g   %-8.3g %-9.2f %s\n", i + 1, g->times, g->dose, g->stock_ml, grams);
    }
    cli_say(2, 2,
            "Stir each, cover it, wait. Take the lowest that is clear beside glass 1, taste the two side by side, then "
            "give the batch its amount%s.",
            a->by_volume ? "" : ": the stock mixes in better than the dry stuff");
    if (glass[ST_BENCH_GLASSES - 1].thinner > 0.02)
        cli_say(2, 2,
                "So much stock thins the last glass by %.1f %%: make the stock of this agent stronger if that is too "
                "much, and take less of it.",
                glass[ST_BENCH_GLASSES - 1].thinner * 100.0);
}

static void print_agent_figures(const struct st_clear_told *t)
{
    const struct st_agent *a = t->agent;
    char text[ST_CLEARING_TEXT], words[ST_CLEARING_TEXT + 80];
    cli_figure_line("against", a->against);
    st_dose_words(text, sizeof text, a);
    snprintf(words, sizeof words, "%s %s%s", text, a->source[0] == '[' ? a->source : "(from memory)",
             a->mark == 'm' && a->source[0] == '[' ? " (from memory)" : "");
    cli_figure_line(is_filter(a) ? "grains" : "dose", words);
    st_dose_trust_words(text, sizeof text, a, t->clearing->strength);
    if (*text)
        cli_figure_line("", text);
    if (a->role != ST_AGENT_WASH) /* told step by step below */
        cli_figure_line(a->role == ST_AGENT_FINE ? "stock of 1 %" : "how", a->prepare);
    if (*a->note)
        cli_figure_line("note", a->note);
}

static void print_loss(const struct st_clear_told *t)
{
    const struct st_agent *a = t->agent;
    struct st_interval loss;
    char text[ST_CLEARING_TEXT], words[160];
    if (is_filter(a) || a->role == ST_AGENT_FRUIT || a->role == ST_AGENT_WASH)
        return;
    const double g = a->by_volume ? 0.0 : 0.5 * (a->low + a->high) * 1e-6 * t->batch_ml.value;
    st_agent_loss(a, &t->batch_ml, g, &loss);
    st_figure_words(words, sizeof words, &loss, "mL");
    snprintf(text, sizeof text, "%s with the lees; rack, then filter (10 to 20 mL in each paper); from memory", words);
    cli_figure_line("loss", text);
}

static void print_agent(const struct st_clear_told *t)
{
    const struct st_agent *a = t->agent;
    char text[ST_CLEARING_TEXT];
    cli_heading(a->name);
    print_agent_figures(t);
    print_loss(t);
    st_agent_label_words(text, sizeof text, a);
    if (!is_filter(a))
        cli_figure_line("on the label", text);
    print_glasses(t);
    for (int i = 0; a->role == ST_AGENT_WASH; i++) {
        st_wash_words(text, sizeof text, t->clearing, a, i);
        if (!*text)
            break;
        if (i == 0)
            cli_heading("How");
        cli_wrap(2, 2, text);
    }
    if (a->role == ST_AGENT_FRUIT)
        print_pectin(t->clearing);
}

void clear_page(const struct cli *c, const struct st_clear_told *t, bool agents)
{
    if (page_stops(t->cautions, "This is not a drink to make: how it would be cleared is not told."))
        return;
    print_title(c, t);
    if (t->agent) {
        print_agent(t);
        return;
    }
    if (agents) {
        print_agents(t, true);
        print_agents(t, false);
        return;
    }
    print_verdicts(t->clearing);
    if (!t->clearing->milky)
        print_oils(t->clearing, c->explain);
    print_remarks(t->clearing);
    print_remedies(t->clearing);
    print_settling(t->clearing);
    print_pectin(t->clearing);
    if (!t->clearing->milky)
        print_ways(t);
    print_standing(t);
    cli_wrap(0, 0, "");
    cli_wrap(
        0, 0,
        "The cautions of this recipe are told by stillroom foresee. Local rules and licensed practice come first.");
}
