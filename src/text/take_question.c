#include <stdio.h>
#include <string.h>

#include "take_say.h"

/* Questions about one item; each answer offered is the whole item said again with it. */

static void option(struct st_take_ask *ask, const char *label, const struct st_item *it, const struct st_say *say)
{
    if (ask->n_option >= ST_TAKE_OPTIONS)
        return;
    (void)snprintf(ask->option[ask->n_option].label, sizeof ask->option[0].label, "%s", label);
    st_say_line(it, say, ask->option[ask->n_option].as, sizeof ask->option[0].as);
    ask->n_option++;
}

void st_ask_strength(struct st_item *it, const struct st_say *say)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_STRENGTH, "");
    struct st_usual u;
    struct st_say other = *say;

    if (!ask)
        return;
    st_say_usual_strength(it, &u);
    (void)snprintf(ask->ask, sizeof ask->ask, "How strong is the %.60s, in %% vol?", it->what->name);
    for (int i = 0; i < u.n_option; i++) {
        char label[24];
        (void)snprintf(label, sizeof label, "%.4g", u.option[i]);
        other.strength = label;
        option(ask, label, it, &other);
    }
    other.strength = "%s";
    st_say_line(it, &other, ask->with, sizeof ask->with);
}

void st_ask_measures_of(struct st_item *it, const struct st_say *say, const struct st_meanings *m)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_MEASURES, "Whose measures are these: US, metric, imperial?");
    struct st_say other = *say;

    if (!ask)
        return;
    for (int i = 0; i < m->n; i++) {
        char words[60];
        st_say_metric(&m->a[i], m->a[i].low, m->a[i].high, words, sizeof words);
        other.amount = words;
        option(ask, m->label[i], it, &other);
    }
    other.amount = "%s";
    st_say_line(it, &other, ask->with, sizeof ask->with);
}

void st_ask_size(struct st_item *it, const struct st_say *say, const struct st_sum *sum, const char *unit)
{
    struct st_take_ask *ask;
    struct st_say other = *say;
    struct st_usual u;

    st_usual_read(sum->size->value, &u);
    if (u.n_option < 2) { /* "a handle", "a fifth" */
        if (!strstr(sum->size->phrase, "lit"))
            st_item_doubt(it->out, ST_LIKELY, "%.30s is taken as %.4g %s", sum->size->phrase, u.option[0], unit);
        return;
    }
    st_item_doubt(it->out, ST_GUESS, "how large it is, is not said: %.4g to %.4g %s is usual", u.low, u.high, unit);
    ask = st_item_ask(it->out, ST_ASK_SIZE, "");
    if (!ask)
        return;
    const char *what = strncmp(sum->size->phrase, "a ", 2) == 0 ? sum->size->phrase + 2 : sum->size->phrase;
    ask->times[0] = sum->a.low / u.low;
    ask->times[1] = sum->a.high / u.high;
    (void)snprintf(ask->ask, sizeof ask->ask, "How much does %s %.40s hold?",
                   ask->times[1] > 1.5 ? "each of the" : "the", what);
    for (int i = 0; i < u.n_option; i++) {
        char words[60], label[32];
        (void)snprintf(words, sizeof words, "%.6g %s", ask->times[1] * u.option[i], unit);
        if (ask->times[0] < 0.999 * ask->times[1])
            (void)snprintf(words, sizeof words, "%.5g-%.5g %s", ask->times[0] * u.option[i],
                           ask->times[1] * u.option[i], unit);
        (void)snprintf(label, sizeof label, "%.4g %s", u.option[i], unit);
        other.amount = words;
        option(ask, label, it, &other);
    }
    other.amount = "%s";
    st_say_line(it, &other, ask->with, sizeof ask->with);
}

/* "fill the jar": which? */
void st_ask_jar(struct st_item *it, const struct st_say *say, const struct st_amount *a)
{
    static const double ML[] = { 500.0, 1000.0, 1500.0, 2000.0 };
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_SIZE, "How much does the jar hold?");
    struct st_say other = *say;
    struct st_amount sized = *a;

    st_item_doubt(it->out, ST_GUESS, "how large the jar is, is not said");
    for (size_t i = 0; ask && i < sizeof ML / sizeof ML[0]; i++) {
        char words[60], label[24];
        sized.value = ML[i];
        st_say_fill(&sized, words, sizeof words);
        (void)snprintf(label, sizeof label, "%.4g mL", ML[i]);
        other.amount = words;
        option(ask, label, it, &other);
    }
}

void st_ask_part(struct st_item *it, const struct st_say *say)
{
    static const struct {
        const char *label, *part;
    } PART[] = { { "juice", "juice" }, { "peel", "peel" } };
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_PART, "");
    struct st_say other = *say;
    char peeled[ST_TAKE_TEXT];

    st_item_doubt(it->out, ST_GUESS, "which part of the %.40s goes in is not said", it->bare);
    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "Which part of the %.60s goes in?", it->bare);
    other.name = it->bare;
    for (size_t i = 0; i < sizeof PART / sizeof PART[0]; i++) {
        other.part = PART[i].part;
        option(ask, PART[i].label, it, &other);
    }
    other.part = "";
    (void)snprintf(peeled, sizeof peeled, "peeled %.200s", it->bare);
    other.name = peeled;
    option(ask, "flesh", it, &other);
    option(ask, "all of it", it, say);
}

void st_ask_amount(struct st_item *it, const struct st_say *say, const char *words)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_AMOUNT, "");
    struct st_say other = *say;

    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "How much %.60s?", say->name);
    for (int i = 0; i < it->n_sum && it->conflict; i++) {
        if (it->sum[i].a.dim == ST_DIM_OPEN || it->sum[i].size)
            continue;
        other.amount = it->sum[i].words;
        option(ask, it->sum[i].words, it, &other);
    }
    (void)words;
    other.amount = "%s";
    other.behind = false;
    st_say_line(it, &other, ask->with, sizeof ask->with);
}

/* What stands for the strength of a drink that is only offered: what the line says, else what is usual. */
static void offered_strength(const struct st_item *it, const char *name, char *out, size_t size)
{
    const struct st_ingredient *in = st_catalogue_find(it->c, name, strlen(name));
    const struct st_range *r = &it->d.strength;
    const bool drink = in && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE);

    out[0] = '\0';
    if (!drink || (in->strength.known && !r->known))
        return;
    if (r->known) {
        (void)snprintf(out, size, " %.4g %%", r->value);
        return;
    }
    struct st_usual u;
    const char *value = st_words_value(ST_WORD_USUAL, in->slug);
    st_usual_read(value ? value : st_words_value(ST_WORD_USUAL, "other"), &u);
    (void)snprintf(out, size, " %.4g-%.4g %%", u.low, u.high);
}

/* The amount as the line says it; in mL over all meanings where the measures are not known. */
static void offered_amount(const struct st_item *it, char *out, size_t size)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;

    if (!sum)
        (void)snprintf(out, size, "some");
    else if (sum->size || sum->question)
        st_say_metric(&sum->a, sum->a.low, sum->a.high, out, size);
    else
        (void)snprintf(out, size, "%s", sum->words);
}

/* The item with this name, or with %s for it. */
static void named(const struct st_item *it, const char *name, char *out, size_t size)
{
    char strength[32], label[64], amount[96];

    (void)snprintf(label, sizeof label, "%.60s", name);
    offered_strength(it, label, strength, sizeof strength);
    offered_amount(it, amount, sizeof amount);
    if (it->main >= 0 && st_say_is_behind(&it->sum[it->main].a))
        (void)snprintf(out, size, "%.60s%s %.90s", label, strength, amount);
    else
        (void)snprintf(out, size, "%.90s %.60s%s", amount, label, strength);
}

void st_item_options(struct st_item *it)
{
    for (int i = 0; i < it->out->n_ask; i++) {
        struct st_take_ask *ask = &it->out->ask[i];
        if (ask->kind != ST_ASK_WHICH)
            continue;
        for (int k = 0; k < ask->n_option; k++)
            named(it, ask->option[k].label, ask->option[k].as, sizeof ask->option[k].as);
        named(it, "%s", ask->with, sizeof ask->with);
    }
}
