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
                 "It is milky: cream, milk or egg makes it so, and nothing here clears that: no filter, and no fining. "
                 "It does not keep: see stillroom foresee.");
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

static void print_row(const struct st_agent *a)
{
    enum { NAME = 27, DOSE = 40, AGAINST = 66 };
    char dose[80];
    printf("  ");
    column(a->name, NAME - 2);
    snprintf(dose, sizeof dose, "%g-%g %s", a->low, a->high,
             is_filter(a)   ? "\xc2\xb5m"
             : a->by_volume ? "mL/L"
                            : "mg/L");
    column(dose, DOSE - NAME);
    if (*a->allergen) {
        column(a->against, AGAINST - DOSE - 1);
        printf(" allergen %s\n", a->allergen);
    } else
        puts(a->against);
}

/* Those that act on what may cloud this drink. */
static bool print_agents(const struct st_clear_told *t, bool filters)
{
    int n = 0;
    for (int i = 0; i < t->agents->n; i++) {
        const struct st_agent *a = &t->agents->row[i];
        if (is_filter(a) != filters || !st_agent_acts(a, t->clearing))
            continue;
        if (n++ == 0)
            cli_heading(filters ? "Straining, coarse first" : "Finings, when settling and paper are not enough");
        print_row(a);
    }
    if (n && filters)
        cli_wrap(2, 2, "Each paper keeps 10 to 20 mL. Finest sizes that pass: from memory.");
    else if (n)
        cli_say(2, 2,
                "Doses are for 10 to 14 %% vol%s. [fining_table] Glasses first, then the amount for this batch: "
                "--agent NAME.",
                t->clearing->strength > ST_DOSE_KNOWN_TO ? "; at this strength they are an order of magnitude only"
                                                         : "");
    return n > 0;
}

static void print_ways(const struct st_clear_told *t)
{
    char text[ST_CLEARING_TEXT];
    cli_heading("Straining and fining");
    for (int i = 0;; i++) {
        st_ways_words(text, sizeof text, t->clearing, t->agents, i);
        if (!*text)
            return;
        cli_wrap(2, 4, text);
    }
}

static void print_list(const struct st_clear_told *t)
{
    char text[ST_CLEARING_TEXT];
    const bool strained = print_agents(t, true), fined = print_agents(t, false);
    if (!strained || !fined)
        print_ways(t);
    st_not_for_this_words(text, sizeof text, t->clearing, t->agents);
    if (*text) {
        puts("");
        cli_wrap(2, 4, text);
    }
}

/* In short, where the tables were not asked for. */
static void print_ways_in_short(const struct st_clear_told *t)
{
    const struct st_clearing *c = t->clearing;
    print_ways(t);
    if (c->haze & (ST_CLOUD_TANNIN | ST_CLOUD_PROTEIN))
        cli_say(2, 4,
                "Doses of finings are published for 10 to 14 %% vol%s: glasses first. --agents lists what each is for "
                "and adds to the label; --agent gelatine gives the glasses, and the grams for this batch.",
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

static void print_glass(const struct st_agent *a, const struct st_bench_glass *g, int number)
{
    char amount[120];
    if (!(g->dose > 0.0))
        snprintf(amount, sizeof amount, "none");
    else if (a->by_volume)
        snprintf(amount, sizeof amount, "%.2g mL (%.2g to %.2g)", g->batch_g.value, g->batch_g.low, g->batch_g.high);
    else
        snprintf(amount, sizeof amount, "%.2g g (%.2g to %.2g), = %.3g mL stock", g->batch_g.value, g->batch_g.low,
                 g->batch_g.high, g->batch_stock_ml.value);
    printf("  %d       %-5g   %-8.3g %-9.2f %s\n", number, g->times, g->dose, g->stock_ml, amount);
}

static void print_glasses(const struct st_clear_told *t, const struct st_bench *b)
{
    const struct st_agent *a = t->agent;
    char heading[120], text[ST_CLEARING_TEXT];
    snprintf(heading, sizeof heading, "Five glasses of %.0f mL, 24 to 48 hours", b->sample_ml);
    cli_heading(heading);
    printf("  glass   times   %s     %-9s for the rest of the batch\n", a->by_volume ? "mL/L" : "mg/L",
           a->by_volume ? "mL of it" : "mL stock");
    for (int i = 0; i < ST_BENCH_GLASSES; i++)
        print_glass(a, &b->glass[i], i + 1);
    st_bench_words(text, sizeof text, b);
    cli_wrap(2, 2, text);
    cli_say(2, 2,
            "Stir each, cover it, wait. Take the lowest that is clear beside glass 1, taste the two side by side, then "
            "give the batch its amount%s.",
            a->by_volume ? "" : ": the stock mixes in better than the dry stuff");
    if (b->glass[ST_BENCH_GLASSES - 1].thinner > 0.02)
        cli_say(2, 2,
                "So much stock thins the last glass by %.1f %%: make the stock of this agent stronger if that is too "
                "much, and take less of it.",
                b->glass[ST_BENCH_GLASSES - 1].thinner * 100.0);
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

/* Of what is left after the glasses. */
static void print_loss(const struct st_clear_told *t, const struct st_clear_trial *trial)
{
    char text[ST_CLEARING_TEXT], words[160];
    if (!trial->loss_ml.known || is_filter(t->agent) || t->agent->role == ST_AGENT_WASH)
        return;
    st_figure_words(words, sizeof words, &trial->loss_ml, "mL");
    snprintf(text, sizeof text, "%s with the lees; rack, then filter (10 to 20 mL in each paper); from memory", words);
    cli_figure_line("loss", text);
    if (!trial->is_laid_out)
        return;
    st_figure_words(words, sizeof words, &trial->after_ml, "mL");
    snprintf(text, sizeof text, "%s, after the glasses and the lees", words);
    cli_figure_line("left", text);
}

static void print_wash(const struct st_clear_told *t)
{
    char text[ST_CLEARING_TEXT];
    for (int i = 0;; i++) {
        st_wash_words(text, sizeof text, t->clearing, t->agent, i);
        if (!*text)
            return;
        if (i == 0)
            cli_heading("How");
        cli_wrap(2, 2, text);
    }
}

static void print_agent(const struct st_clear_told *t)
{
    const struct st_agent *a = t->agent;
    struct st_clear_trial trial;
    char text[ST_CLEARING_TEXT];
    st_clear_trial(t, &trial);
    cli_heading(a->name);
    st_agent_no_use_words(text, sizeof text, t->clearing, a);
    if (*text)
        cli_wrap(2, 2, text);
    print_agent_figures(t);
    print_loss(t, &trial);
    st_agent_label_words(text, sizeof text, a);
    if (!is_filter(a))
        cli_figure_line("on the label", text);
    if (trial.is_laid_out)
        print_glasses(t, &trial.bench);
    else if (*trial.because)
        cli_wrap(2, 2, trial.because);
    if (a->role == ST_AGENT_WASH && st_agent_is_tried(a, t->clearing))
        print_wash(t);
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
        print_list(t);
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
        print_ways_in_short(t);
    print_standing(t);
    cli_wrap(0, 0, "");
    cli_wrap(
        0, 0,
        "The cautions of this recipe are told by stillroom foresee. Local rules and licensed practice come first.");
}
