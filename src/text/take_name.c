#include <stdio.h>
#include <string.h>

#include "held.h"
#include "name_form.h"
#include "plant_part.h"
#include "stops.h"
#include "take_run.h"

/* The ingredient is the longest run of words that the sheet knows; what is left beside it is judged. */

/* ---- the longest run that is known ---- */

/* "1 tin (400 g) cherries": what is tinned is not what is fresh. */
static bool says_tin(const struct st_item *it)
{
    for (int i = 0; i < it->n_sum; i++)
        for (size_t k = it->sum[i].at; k < it->sum[i].end; k++) {
            struct st_scan s = { it->d.text + k, it->d.text + it->sum[i].end };
            if (it->d.text[k] != ' ' && st_word_begins(it->d.text, k) && st_scan_word(&s, "tins|tin|cans|can"))
                return true;
        }
    return false;
}

static const struct st_ingredient *find_run(const struct st_item *it, const struct st_tokens *t, int from, int n,
                                            char *name, size_t size)
{
    const size_t length = st_tokens_join(t, from, n, name, size);
    const struct st_ingredient *in = NULL;

    if (it->part[0] && strcmp(it->part, "flesh") != 0) {
        char whole[ST_LINE_NAME + 12];
        (void)snprintf(whole, sizeof whole, "%s %s", name, it->part);
        in = st_catalogue_find(it->c, whole, strlen(whole));
    }
    if (!in && !it->part[0] && says_tin(it)) {
        char tinned[ST_LINE_NAME + 12];
        (void)snprintf(tinned, sizeof tinned, "tinned %s", name);
        in = st_catalogue_find(it->c, tinned, strlen(tinned));
    }
    return in || it->part[0] ? in : st_catalogue_find(it->c, name, length);
}

/* Words that say something count most, then all words; then what stands first in its part, and last in the phrase. */
static int worth_of(const struct st_item *it, const struct st_tokens *t, int from, int n)
{
    int telling = 0, words = 0;

    for (int i = from; i < from + n; i++) {
        const struct st_token *k = &t->of[i];
        const bool figure = st_is_digit((unsigned char)k->word[0]) && !strchr(k->word, ':');
        words += !figure;
        for (size_t j = k->at; j < k->at + k->n; j++)
            words += k->renamed && it->d.work[j] == ' ';
        telling += k->drop || figure ? 0 : k->renamed ? words : 1;
    }
    const int crosses = t->of[from].part != t->of[from + n - 1].part;
    const int part = t->of[from].part > 3 ? 3 : t->of[from].part;
    return 400 * telling + 5 * words - 3 * crosses - 60 * part + 200;
}

static bool all_dropped(const struct st_tokens *t, int from, int n)
{
    for (int i = from; i < from + n; i++)
        if (!t->of[i].drop)
            return false;
    return true;
}

/* "ripe damsons washed and": without what says nothing it is the same. */
static void trim(const struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    while (run->n > 1) {
        const bool last = t->of[run->from + run->n - 1].drop, first = t->of[run->from].drop;
        struct st_run less = *run;
        if (!last && !first)
            return;
        less.n--;
        less.from += last ? 0 : 1;
        if (find_run(it, t, less.from, less.n, less.name, sizeof less.name) != run->what)
            return;
        *run = less;
    }
}

/* Runs may cross one comma: "damsons, dried" is one name. */
static bool find_longest(const struct st_item *it, const struct st_tokens *t, int from, int to, struct st_run *out)
{
    enum { MOST = 7 };
    struct st_run best = { 0 };

    for (int i = from; i < to; i++)
        for (int n = 1; n <= MOST && i + n <= to; n++) {
            struct st_run r = { .from = i, .n = n, .worth = worth_of(it, t, i, n) };
            if (r.worth < best.worth || (n > 4 && t->of[i].part != t->of[i + n - 1].part) ||
                t->of[i + n - 1].part - t->of[i].part > 1 || (all_dropped(t, i, n) && t->n > n))
                continue;
            r.what = find_run(it, t, i, n, r.name, sizeof r.name);
            if (r.what)
                best = r;
        }
    if (!best.what)
        return false;
    trim(it, t, &best);
    *out = best;
    return true;
}

/* ---- what is left beside it ---- */

/* A word that makes another thing of it: "dried", "juice". */
static bool is_other(const struct st_token *k)
{
    return st_words_value(ST_WORD_OTHER, k->word) != NULL;
}

static bool is_soft(const struct st_token *k)
{
    struct st_name_words w;

    st_name_split(k->word, strlen(k->word), &w);
    return w.n == 0 || (w.n == 1 && st_name_is_soft(w.word[0]));
}

/* Another ingredient among the rest of the same part? */
static bool another(const struct st_item *it, const struct st_tokens *t, const struct st_run *run, struct st_run *out)
{
    for (int side = 0; side < 2; side++) {
        const int from = side ? run->from + run->n : 0, to = side ? t->n : run->from;
        int first = from, last = to;
        while (first < last && t->of[first].part != t->of[run->from].part)
            first++;
        while (last > first && t->of[last - 1].part != t->of[run->from].part)
            last--;
        if (first < last && find_longest(it, t, first, last, out) && out->what != run->what)
            return true;
    }
    return false;
}

static void note_piece(struct st_item *it, const struct st_token *k)
{
    if (!it->piece && it->main >= 0 && it->sum[it->main].a.dim == ST_DIM_PIECE) {
        it->piece = it->d.text + k->at;
        it->n_piece = k->n;
    }
}

/* "1 msk honey", "a hatful of sloes": a short word behind a bare number, or one before "of". */
static bool may_be_unit(const struct st_item *it, const struct st_tokens *t, const struct st_run *run, int i)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;

    struct st_scan behind = { it->d.work + t->of[i].at + t->of[i].n, it->d.work + it->d.n };
    return sum && sum->a.dim == ST_DIM_PIECE && !sum->a.unit && i == 0 && i < run->from &&
           (strlen(t->of[i].word) <= 4 || st_scan_word(&behind, "of")) && t->of[i].at < sum->end + 3;
}

static void offer_both(struct st_item *it, const struct st_ingredient *one, const struct st_ingredient *two)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_WHICH, "Which of them is meant?");

    if (!ask || st_ingredient_is_stopped(one) || st_ingredient_is_stopped(two)) /* no poison is proposed */
        return;
    (void)snprintf(ask->option[0].label, sizeof ask->option[0].label, "%.31s", one->name);
    (void)snprintf(ask->option[1].label, sizeof ask->option[1].label, "%.31s", two->name);
    ask->n_option = 2;
}

/* "250 g sugar in 400 ml water": what has an amount of its own is a thing of its own. */
static bool amount_between(const struct st_item *it, const struct st_tokens *t, const struct st_run *run, int i)
{
    const struct st_token *last = &t->of[run->from + run->n - 1];
    if (i < run->from)
        return false;
    for (int k = 0; k < it->n_sum; k++)
        if (it->sum[k].at >= last->at + last->n && it->sum[k].end <= t->of[i].at)
            return true;
    return false;
}

/* "200 g sugar and almonds": both went in, and no answer may give the amount of one to the other. */
static bool stand_together(const struct st_tokens *t, const struct st_run *one, const struct st_run *two)
{
    const struct st_run *first = one->from < two->from ? one : two, *last = first == one ? two : one;

    for (int i = first->from + first->n; i < last->from; i++)
        if (strcmp(t->of[i].word, "and") == 0 || strcmp(t->of[i].word, "plus") == 0 ||
            strcmp(t->of[i].word, "with") == 0)
            return true;
    return false;
}

/* "700 mL vodka 40 % - wormwood", "vodka: wormwood": a sign that is no part of a name. */
static bool sign_between(const struct st_item *it, const struct st_tokens *t, const struct st_run *one,
                         const struct st_run *two)
{
    const struct st_run *first = one->from < two->from ? one : two, *last = first == one ? two : one;
    const struct st_token *end = &t->of[first->from + first->n - 1];

    for (size_t k = end->at + end->n; k < t->of[last->from].at; k++)
        if (it->d.work[k] == ':' || (it->d.work[k] == '-' && it->d.work[k - 1] == ' ' && it->d.work[k + 1] == ' '))
            return true;
    return false;
}

/* "vodka 700 ml with wormwood", not "gin and 250 g sugar": the linking word stands behind the amount. */
static bool link_behind(const struct st_tokens *t, const struct st_sum *sum, const struct st_run *run)
{
    for (int i = 0; i < run->from; i++)
        if (t->of[i].at >= sum->end && (strcmp(t->of[i].word, "and") == 0 || strcmp(t->of[i].word, "plus") == 0 ||
                                        strcmp(t->of[i].word, "with") == 0))
            return true;
    return false;
}

/* The amount is of what it stands before, or right behind. */
static void take_first(const struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;
    struct st_run more;

    if (!sum || !another(it, t, run, &more) || more.from >= run->from ||
        !(stand_together(t, &more, run) || sign_between(it, t, &more, run)))
        return;
    if (sum->at < t->of[more.from].at || (sum->at < t->of[run->from].at && link_behind(t, sum, run)))
        *run = more;
}

/* The part of the words in which the amount stands; -1 none. */
static int part_of_amount(const struct st_item *it, const struct st_tokens *t)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;
    int part = -1;

    for (int i = 0; sum && i < t->n; i++) {
        const struct st_token *k = &t->of[i];
        const size_t from = k->at < sum->at ? k->at + k->n : sum->end, to = k->at < sum->at ? sum->at : k->at;
        bool apart = from > to;
        for (size_t b = from; b < to; b++)
            apart = apart || strchr(",;()[]", it->d.work[b]) != NULL;
        if (!apart)
            part = k->part;
    }
    return part;
}

/* "700 mL vodka 40 %, my neighbour's bitter almonds": the amount is of what is named beside it. */
static void take_beside(const struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    const int part = part_of_amount(it, t);
    struct st_run beside;
    int from = 0, to;

    if (part < 0 || t->of[run->from].part <= part)
        return;
    while (from < t->n && t->of[from].part != part)
        from++;
    for (to = from; to < t->n && t->of[to].part == part;)
        to++;
    if (!find_longest(it, t, from, to, &beside) || beside.what == run->what)
        return;
    for (int i = run->from; i < run->from + run->n; i++)
        for (int k = beside.from; k < beside.from + beside.n; k++)
            if (strcmp(t->of[i].word, t->of[k].word) == 0)
                return; /* "pepper, Sichuan pepper": the same, told better */
    *run = beside;
}

/* Nothing but blanks and joining words ("of the") between two tokens of one part. */
static bool stand_beside(const struct st_item *it, const struct st_tokens *t, int one, int two)
{
    if (one < 0 || two >= t->n || t->of[one].part != t->of[two].part)
        return false;
    for (int i = one + 1; i < two; i++)
        if (strcmp(t->of[i].word, "of") != 0 && strcmp(t->of[i].word, "the") != 0)
            return false;
    for (size_t k = t->of[one].at + t->of[one].n; k < t->of[two].at; k++)
        if (strchr(",;()/+", it->d.work[k]))
            return false;
    return true;
}

static bool is_taken_off(const struct st_tokens *t, int i)
{
    static const char *const OFF[] = { "removed", "off", "on", "discarded", "picked", "out", "attached" };
    for (size_t k = 0; i < t->n && k < sizeof OFF / sizeof OFF[0]; k++)
        if (strcmp(t->of[i].word, OFF[k]) == 0)
            return true;
    return false;
}

/* "elderberry leaves", "leaves of the tomato": the part stands beside the name, and the entry is of another one. */
static bool is_foreign_part(const struct st_item *it, const struct st_tokens *t, const struct st_run *run, int i)
{
    const struct st_token *k = &t->of[i];

    if (!st_token_is_piece(k) || st_stands_for_part(run->what, k->word, strlen(k->word)) || is_taken_off(t, i + 1))
        return false;
    return i < run->from ? stand_beside(it, t, i, run->from) : stand_beside(it, t, run->from + run->n - 1, i);
}

/* "dandelion water" is no water. */
static bool is_made_of(const struct st_item *it, const struct st_tokens *t, const struct st_run *run, int i)
{
    const struct st_token *k = &t->of[i];
    return i == run->from - 1 && strcmp(run->what->slug, "water") == 0 &&
           strncmp(t->of[run->from].word, "water", 5) == 0 && !k->drop && !is_soft(k) && !st_token_is_number(k) &&
           !may_be_unit(it, t, run, i) && stand_beside(it, t, i, run->from);
}

/* False: the rest makes it another thing. */
static bool judge_rest(struct st_item *it, const struct st_tokens *t, const struct st_run *run)
{
    struct st_run more;

    for (int i = 0; i < t->n; i++) {
        const struct st_token *k = &t->of[i];
        if (i >= run->from && i < run->from + run->n) {
            if (run->n > 1 && st_token_is_piece(k) && is_soft(k)) /* "strip of lemon rind" */
                note_piece(it, k);
            continue;
        }
        if (is_foreign_part(it, t, run, i)) {
            it->out->line.what = run->what; /* what is known of the plant is told all the same */
            return false;
        }
        if (st_token_is_piece(k)) {
            note_piece(it, k);
            continue;
        }
        if (is_made_of(it, t, run, i))
            return false;
        if (is_other(k) && (k->part == t->of[run->from].part || k->part == t->of[run->from].part + 1) && !k->drop) {
            const int gap = i < run->from ? run->from - i : i - run->from - run->n + 1;
            if (gap <= 2 && !amount_between(it, t, run, i))
                return false;
        }
        if (k->drop || is_soft(k) || k->part != t->of[run->from].part)
            continue;
        if (may_be_unit(it, t, run, i)) {
            it->unit_like = true;
            st_item_doubt(it->out, ST_GUESS, "'%.30s' stands where a unit would and is not known", k->word);
        }
        if (!st_token_is_number(k))
            st_item_doubt(it->out, ST_LIKELY, "read as %.40s; '%.30s' says nothing to the reckoning", run->what->name,
                          k->word);
    }
    if (another(it, t, run, &more)) {
        st_item_doubt(it->out, ST_GUESS, "two things are named: %.40s and %.40s", run->what->name, more.what->name);
        if (!stand_together(t, run, &more) && !sign_between(it, t, run, &more))
            offer_both(it, run->what, more.what);
    }
    return true;
}

/* ---- parts behind the name: "10 lemons, zest only" ---- */

static void part_behind(struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    static const struct {
        const char *word, *part;
    } PART[] = { { "juice", "juice" }, { "juiced", "juice" }, { "zest", "peel" }, { "zested", "peel" },
                 { "peel", "peel" },   { "rind", "peel" },    { "peels", "peel" } };
    char whole[ST_LINE_NAME + 12];

    if (it->part[0])
        return;
    const struct st_token *last = &t->of[run->from + run->n - 1];
    if (run->n > 1 && t->of[run->from].part != last->part &&
        strncmp(last->word, "juice", 5) == 0) { /* "2 lemons, juice only" */
        struct st_run less = *run;
        less.n--;
        if (find_run(it, t, less.from, less.n, less.name, sizeof less.name))
            *run = less;
    }
    for (int i = 0; i < t->n; i++)
        for (size_t p = 0; p < sizeof PART / sizeof PART[0]; p++) {
            if ((i >= run->from && i < run->from + run->n) || strcmp(t->of[i].word, PART[p].word) != 0)
                continue;
            if (i + 2 < t->n && strcmp(t->of[i + 1].word, "and") == 0)
                return; /* "zest and flesh": the whole */
            (void)snprintf(whole, sizeof whole, "%s %s", run->name, PART[p].part);
            const struct st_ingredient *in = st_catalogue_find(it->c, whole, strlen(whole));
            if (!in)
                continue;
            it->part = PART[p].part;
            run->what = in;
            return;
        }
}

/* Names that mean two things: "currants". */
static void ask_which(struct st_item *it, const struct st_run *run)
{
    const char *value = st_words_value(ST_WORD_WHICH, run->name);
    struct st_take_ask *ask = value ? st_item_ask(it->out, ST_ASK_WHICH, "Which of them is meant?") : NULL;

    if (!ask)
        return;
    st_item_doubt(it->out, ST_GUESS, "'%.40s' can mean several things", run->name);
    while (*value && ask->n_option < ST_TAKE_OPTIONS) {
        const size_t n = strcspn(value, ";");
        (void)snprintf(ask->option[ask->n_option++].label, sizeof ask->option[0].label, "%.*s", (int)n, value);
        value += n + (value[n] == ';');
    }
}

/* "1 tsp vanilla": a pod goes into no spoon. */
static void spoon_of_vanilla(struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    static const char EXTRACT[] = "vanilla extract";
    const struct st_ingredient *in = st_catalogue_find(it->c, EXTRACT, strlen(EXTRACT));

    if (!in || it->main < 0 || it->sum[it->main].a.dim != ST_DIM_VOLUME || strcmp(run->name, "vanilla") != 0 ||
        strcmp(run->what->slug, "vanilla_pod") != 0)
        return;
    for (int i = 0; i < t->n; i++)
        if (!t->of[i].drop && (i < run->from || i >= run->from + run->n))
            return; /* seeds, powder, paste */
    run->what = in;
    (void)snprintf(run->name, sizeof run->name, "%s", EXTRACT);
    st_item_doubt(it->out, ST_LIKELY, "vanilla by the spoon is taken for vanilla extract");
}

/* "yew syrup", "foxglove tea": the poison in front of it is what is meant, whatever was made of it. */
static bool poison_before(struct st_item *it, const struct st_tokens *t, struct st_run *run)
{
    int from = run->from;

    if (st_ingredient_is_stopped(run->what))
        return false;
    while (from > 0 && stand_beside(it, t, from - 1, from) && !strstr(t->of[from - 1].word, "'s"))
        from--;
    const size_t at = t->of[from].at;
    if (from == run->from)
        return false;
    const struct st_token *last = &t->of[run->from + run->n - 1];
    const struct st_ingredient *stop = st_stop_named(it->c, it->d.work + at, t->of[run->from].at - at);
    if (!stop) /* "methilated spirits" */
        stop = st_catalogue_slip(it->c, it->d.work + at, last->at + last->n - at);
    if (!stop)
        return false;
    st_item_doubt(it->out, ST_LIKELY, "read as %.40s, which stands before %.40s", stop->name, run->name);
    *run = (struct st_run){ .from = from, .n = run->from + run->n - from, .what = stop };
    (void)snprintf(run->name, sizeof run->name, "%s", stop->name);
    return true;
}

bool st_item_name(struct st_item *it)
{
    struct st_tokens t, plain;
    struct st_run run = { 0 }, other = { 0 };

    st_tokens_split(it, &t, true);
    st_tokens_drop(it, &t);
    if (t.n == 0)
        return false;
    const bool renamed = find_longest(it, &t, 0, t.n, &run);
    st_tokens_split(it, &plain, false);
    st_tokens_drop(it, &plain);
    if (find_longest(it, &plain, 0, plain.n, &other) && (!renamed || other.worth >= run.worth)) {
        t = plain;
        run = other;
    } else if (!renamed && !st_item_near(it, &plain, &run)) {
        return false;
    } else if (!renamed) {
        t = plain;
    }
    take_beside(it, &t, &run);
    take_first(it, &t, &run);
    part_behind(it, &t, &run);
    if (poison_before(it, &t, &run)) {
        it->what = run.what;
        (void)snprintf(it->name, sizeof it->name, "%s", run.name);
        return true;
    }
    if (!it->part[0] && !judge_rest(it, &t, &run))
        return st_item_another(it, &t, &run);
    ask_which(it, &run);
    spoon_of_vanilla(it, &t, &run);
    it->what = run.what;
    (void)snprintf(it->name, sizeof it->name, "%s", run.name);
    return true;
}
