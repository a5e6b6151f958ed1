#include "what_if.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cut_words.h"
#include "name_form.h"
#include "piece_named.h"
#include "quantity.h"
#include "warm_path.h"

static const double DAY_S = 86400.0;

enum { TEXT_BYTES = 200 };

/* WHAT is: before "said" after. */
static bool refuse(struct st_problem *p, const char *before, const char *said, const char *why, const char *try_)
{
    *p = (struct st_problem){ .is_question = 0 };
    snprintf(p->what, sizeof p->what, "%s \"%.140s\"", before, said);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

/* ---- one sentence in words ---- */

struct said {
    char own[TEXT_BYTES];  /* single blanks, no full stop: for messages */
    char text[TEXT_BYTES]; /* the same in lower case */
    struct st_jar *jar;
    struct st_what_said *out;
    struct st_problem *problem;
};

static void squeeze(const char *from, char to[TEXT_BYTES])
{
    size_t n = 0;
    for (; *from && n + 1 < TEXT_BYTES; from++) {
        if (*from == ' ' && (n == 0 || to[n - 1] == ' '))
            continue;
        to[n++] = *from;
    }
    while (n > 0 && (to[n - 1] == ' ' || to[n - 1] == '.'))
        n--;
    to[n] = '\0';
}

static void lower(char *s)
{
    for (; *s; s++)
        if (*s >= 'A' && *s <= 'Z')
            *s = (char)(*s - 'A' + 'a');
}

/* What was done, for the caller: in one or two words. */
static int done(struct said *s, enum st_what_kind kind, int thing, const char *words, const char *more)
{
    s->out->kind = kind;
    s->out->thing = thing;
    snprintf(s->out->words, sizeof s->out->words, "%s%s%s", words, *more ? " " : "", more);
    return 1;
}

/* The text without an ending; NULL when it has another. */
static bool without_end(const char *text, const char *end, size_t *left)
{
    const size_t n = strlen(text), k = strlen(end);
    if (n <= k || strcmp(text + n - k, end) != 0)
        return false;
    *left = n - k;
    return true;
}

static const char *after(const char *text, const char *word)
{
    const size_t n = strlen(word);
    return strncmp(text, word, n) == 0 ? text + n : NULL;
}

static bool whole_amount(const char *text, enum st_dimension dim, struct st_amount *a)
{
    struct st_problem p = { .what = "" };
    size_t used = 0;
    return st_quantity_parse(text, strlen(text), ST_MEASURES_METRIC, a, &used, &p) == 0 && a->dim == dim &&
           a->open == ST_CLOSED && used == strlen(text);
}

/* ---- each kind: 1 done, 0 not of this kind, -1 of this kind but refused ---- */

static int by_cut(struct said *s)
{
    const char *last = strrchr(s->text, ' ');
    enum st_cut cut;
    if (!last || !st_cut_of_word(last + 1, strlen(last + 1), &cut))
        return 0;
    const int i = st_jar_piece_named(s->jar, s->text, (size_t)(last - s->text), s->problem);
    if (i < 0)
        return -1;
    s->jar->piece[i].cut = cut;
    s->jar->piece[i].cut_said = true;
    s->jar->piece[i].size_mm = 0.0;
    struct st_habit h;
    if (st_jar_habit(s->jar, i, ST_OF_ANY, &h) >= 0 && !h.cut_known) {
        refuse(s->problem, "cannot reckon with", s->own, "nothing is known of that cut of it",
               "try chopped, crushed or ground");
        return -1;
    }
    return done(s, ST_WHAT_CUT, i, s->jar->piece[i].name, st_cut_name(cut));
}

/* All the fruit that can be had either way; how many there are. */
static int buy_all(struct st_jar *jar, enum st_kind kind)
{
    int n = 0;
    for (int i = 0; i < jar->n_piece; i++)
        if (st_jar_may_be_frozen(&jar->piece[i])) {
            jar->piece[i].kind = kind;
            n++;
        }
    return n;
}

static int by_frozen(struct said *s)
{
    size_t left = 0;
    const bool all_frozen = strcmp(s->text, "frozen") == 0, all = all_frozen || strcmp(s->text, "fresh") == 0;
    const bool frozen = all_frozen || without_end(s->text, " frozen", &left);
    const enum st_kind kind = frozen ? ST_KIND_FROZEN_FRUIT : ST_KIND_FRESH_FRUIT;
    if (!all && !frozen && !without_end(s->text, " fresh", &left))
        return 0;
    const int i = all ? -1 : st_jar_piece_named(s->jar, s->text, left, s->problem);
    if (!all && i < 0)
        return -1;
    if (all ? buy_all(s->jar, kind) == 0 : !st_jar_may_be_frozen(&s->jar->piece[i])) {
        refuse(s->problem, "cannot reckon with", s->own, "only fruit is reckoned fresh or frozen", "leave it out");
        return -1;
    }
    if (!all)
        s->jar->piece[i].kind = kind;
    return done(s, ST_WHAT_BOUGHT, i, all ? "fruit" : s->jar->piece[i].name, frozen ? "frozen" : "fresh");
}

static int by_factor(struct said *s)
{
    static const struct {
        const char *word;
        double factor;
    } WORD[] = { { "half the ", 0.5 },  { "a third of the ", 1.0 / 3.0 }, { "a quarter of the ", 0.25 },
                 { "twice the ", 2.0 }, { "double the ", 2.0 },           { "no ", 0.0 } };
    const char *name = NULL;
    double factor = 1.0;
    for (size_t k = 0; !name && k < sizeof WORD / sizeof *WORD; k++) {
        name = after(s->text, WORD[k].word);
        factor = WORD[k].factor;
    }
    const char *times = strstr(s->text, " times the ");
    struct st_amount a;
    if (!name && times) {
        char number[TEXT_BYTES];
        snprintf(number, sizeof number, "%.*s", (int)(times - s->text), s->text);
        if (!whole_amount(number, ST_DIM_PIECE, &a) || !(a.value <= 100.0))
            return 0;
        factor = a.value;
        name = times + strlen(" times the ");
    }
    if (!name)
        return 0;
    const int i = st_jar_piece_named(s->jar, name, strlen(name), s->problem);
    if (i < 0)
        return -1;
    s->jar->piece[i].factor *= factor;
    return done(s, ST_WHAT_AMOUNT, i, s->own, "");
}

/* ---- days of a jar ---- */

/* The parts of one jar, first <= s <= last. */
struct parts {
    int first, last;
};

static struct parts jar_of_stage(const struct st_jar *jar, int stage)
{
    const int first = st_jar_filled_at(jar, stage);
    while (stage + 1 < jar->n_stage && st_jar_filled_at(jar, stage + 1) == first)
        stage++;
    return (struct parts){ first, stage };
}

static struct parts last_jar(const struct st_jar *jar)
{
    return jar_of_stage(jar, jar->n_stage - 1);
}

/* The last jar, or the latest that a piece lies in. */
static struct parts jar_of_piece(const struct st_jar *jar, int piece)
{
    int s = jar->n_stage - 1;
    while (s > 0 && !(jar->piece[piece].lies[s] > 0.0))
        s--;
    return jar->piece[piece].lies[s] > 0.0 ? jar_of_stage(jar, s) : last_jar(jar);
}

/* The part that lies at t_s of its jar, and when it began; -1 behind the end. */
static int part_at(const struct st_jar *jar, struct parts of, double t_s, double *start_s)
{
    *start_s = 0.0;
    for (int k = of.first; k <= of.last; k++) {
        if (t_s < *start_s + jar->stage[k].time_s)
            return k;
        *start_s += jar->stage[k].time_s;
    }
    return -1;
}

static void take_out(struct st_jar_piece *p, int first, int last)
{
    for (int k = first; k <= last; k++)
        p->lies[k] = 0.0;
}

static int by_day(struct said *s)
{
    static const char OUT[] = " out on day ", IN[] = " in on day ";
    const char *at = strstr(s->text, OUT);
    const bool out = at != NULL;
    struct st_amount a;
    if (!at)
        at = strstr(s->text, IN);
    if (!at)
        return 0;
    const char *number = at + (out ? sizeof OUT : sizeof IN) - 1;
    if (!whole_amount(number, ST_DIM_PIECE, &a) || !(a.value > 0.0)) {
        refuse(s->problem, "cannot read", s->own, "the day must be a number above 0",
               "write for example cloves out on day 3");
        return -1;
    }
    const int i = st_jar_piece_named(s->jar, s->text, (size_t)(at - s->text), s->problem);
    if (i < 0)
        return -1;
    struct parts of = jar_of_piece(s->jar, i);
    double start_s;
    const int k = part_at(s->jar, of, a.value * DAY_S, &start_s);
    const double t_s = a.value * DAY_S - start_s;
    const bool parts = k >= 0 && t_s > 0.0;
    if (k < 0 || (parts && !st_jar_split(s->jar, k, t_s))) {
        refuse(s->problem, "cannot reckon with", s->own,
               k < 0 ? "the jar is strained before that day" : "the jar has too many stages",
               "name an earlier day, or give the jar more time first, for example 90 days");
        return -1;
    }
    of.last += parts;
    const int first_after = parts ? k + 1 : k;
    take_out(&s->jar->piece[i], out ? first_after : of.first, out ? of.last : first_after - 1);
    return done(s, out ? ST_WHAT_OUT : ST_WHAT_IN, i, s->own, "");
}

/* ---- the liquid ---- */

static bool pour_answers(const struct st_jar_pour *p, const struct st_name_words *w)
{
    for (int i = 0; i < w->n; i++)
        if (!st_name_list_has(p->name, w->word[i]) && !(p->what && st_name_list_has(p->what->names, w->word[i])))
            return false;
    return w->n > 0;
}

/* Where a strength stands at the end of the text, after a name; 0 when none does. */
static size_t strength_at(const char *text, struct st_amount *a)
{
    char number[TEXT_BYTES + 2];
    for (const char *at = strchr(text, ' '); at; at = strchr(at + 1, ' ')) {
        const bool plain = strncmp(text, "spirit ", 7) == 0 && !strpbrk(at, "%p");
        snprintf(number, sizeof number, "%s%s", at + 1, plain ? " %" : "");
        if (whole_amount(number, ST_DIM_STRENGTH, a))
            return (size_t)(at - text);
    }
    return 0;
}

static bool means_any_spirit(const char *name, size_t size)
{
    static const char *const WORD[] = { "spirit", "spirits", "the spirit", "alcohol", "vodka", "neutral spirit" };
    for (size_t i = 0; i < sizeof WORD / sizeof *WORD; i++)
        if (strlen(WORD[i]) == size && strncmp(WORD[i], name, size) == 0)
            return true;
    return false;
}

/* Those of that name or, where none has it and the name is one for all, all; how many, and the last of them. */
static int set_strength(struct st_jar *jar, const char *name, size_t size, double pct_vol, int *last)
{
    struct st_name_words w;
    int n = 0;
    st_name_split(name, size, &w);
    for (int all = 0; all < 2 && n == 0; all++)
        for (int k = 0; k < jar->n_pour && (!all || means_any_spirit(name, size)); k++) {
            struct st_jar_pour *p = &jar->pour[k];
            if (!st_jar_pour_is_spirit(p) || !(all || pour_answers(p, &w)))
                continue;
            p->strength_pct_vol = pct_vol;
            *last = k;
            n++;
        }
    return n;
}

static int spirits_of(const struct st_jar *jar)
{
    int n = 0;
    for (int k = 0; k < jar->n_pour; k++)
        n += st_jar_pour_is_spirit(&jar->pour[k]);
    return n;
}

static int by_spirit(struct said *s)
{
    struct st_amount a = { .value = 0.0 };
    const size_t name = strength_at(s->text, &a);
    int last = -1;
    if (name == 0 && strncmp(s->text, "spirit ", 7) != 0)
        return 0;
    if (name == 0 || !(a.value > 0.0 && a.value <= 100.0)) {
        refuse(s->problem, "cannot read", s->own, "a strength is a number up to 100 %",
               "write for example spirit 60 %");
        return -1;
    }
    const int n = set_strength(s->jar, s->text, name, a.value, &last);
    if (n == 0) {
        refuse(s->problem, "cannot reckon with", s->own,
               spirits_of(s->jar) ? "no plain spirit of that name is poured into this jar"
                                  : "no plain spirit is poured into this jar",
               spirits_of(s->jar) ? "write for example spirit 60 %" : "change the recipe instead");
        return -1;
    }
    const bool all = n == spirits_of(s->jar);
    const char *of = s->jar->pour[last].name;
    char strength[40];
    snprintf(strength, sizeof strength, "of %.4g %% vol", a.value);
    return done(s, ST_WHAT_SPIRIT, all ? -1 : last, all || !of ? "spirit" : of, strength);
}

/* Only the last jar's: days of a path are its days. */
static int by_warmth(struct said *s)
{
    struct st_warm_part part[ST_WARM_PARTS];
    if (!st_is_warmth(s->own, strlen(s->own)))
        return 0;
    const int n = st_warm_path_read(s->own, strlen(s->own), part, s->problem);
    if (n < 0) {
        s->problem->at = (struct st_place){ 0, 0 };
        return -1;
    }
    const struct parts of = last_jar(s->jar);
    double before = 0.0, turns = 0.0;
    for (int k = of.first; k <= of.last; k++) {
        s->jar->stage[k].n_heat = 0;
        st_jar_warm(&s->jar->stage[k], part, n, before);
        before += s->jar->stage[k].time_s;
    }
    for (int i = 0; i + 1 < n; i++)
        turns += part[i].time_s;
    if (n > 1 && turns >= before) {
        refuse(s->problem, "cannot reckon with", s->own, "the jar is strained before the last warmth begins",
               "give the jar more time first, for example 90 days");
        return -1;
    }
    char words[TEXT_BYTES];
    st_warm_path_words(words, sizeof words, part, n);
    return done(s, ST_WHAT_WARMTH, -1, "at", words);
}

static int by_time(struct said *s)
{
    struct st_amount a;
    const char *day = after(s->text, "strain on day ");
    if (!day)
        day = after(s->text, "strained on day ");
    if (day ? !whole_amount(day, ST_DIM_PIECE, &a) : !whole_amount(s->text, ST_DIM_TIME, &a)) {
        if (day)
            refuse(s->problem, "cannot read", s->own, "the day must be a number", "write for example strain on day 10");
        return day ? -1 : 0;
    }
    const double asked_s = a.value * (day ? DAY_S : 1.0);
    const struct parts of = last_jar(s->jar);
    double before = 0.0;
    for (int k = of.first; k < of.last; k++)
        before += s->jar->stage[k].time_s;
    struct st_jar_stage *last = &s->jar->stage[of.last];
    if (!(asked_s > before) || asked_s > 3660.0 * DAY_S) {
        refuse(s->problem, "cannot reckon with", s->own,
               asked_s > before ? "ten years are the most" : "what happens before the last stage takes longer",
               "write for example 90 days");
        return -1;
    }
    last->time_s = last->time_low = last->time_high = asked_s - before;
    last->time_said = true;
    s->out->until_s = asked_s;
    return done(s, ST_WHAT_TIME, -1, day ? "strained on day" : s->own, day ? day : "");
}

static int by_rest(struct said *s)
{
    const bool still = strcmp(s->text, "left still") == 0 || strcmp(s->text, "never shaken") == 0;
    if (!still && strcmp(s->text, "turned") != 0 && strcmp(s->text, "shaken") != 0)
        return 0;
    for (int k = 0; k < s->jar->n_stage; k++)
        s->jar->stage[k].still = still;
    return done(s, ST_WHAT_REST, -1, still ? "never turned" : "turned now and then", "");
}

bool st_what_if(const char *text, struct st_jar *jar, struct st_what_said *said, struct st_problem *problem)
{
    static int (*const KIND[])(struct said *) = { by_rest, by_spirit, by_warmth, by_time,
                                                  by_day,  by_factor, by_frozen, by_cut };
    struct st_jar changed = *jar;
    struct said s = { .jar = &changed, .out = said, .problem = problem };

    said->until_s = 0.0;
    squeeze(text, s.own);
    squeeze(text, s.text);
    lower(s.text);
    for (size_t k = 0; k < sizeof KIND / sizeof *KIND; k++) {
        const int did = KIND[k](&s);
        if (did > 0)
            *jar = changed;
        if (did != 0)
            return did > 0;
    }
    char clipped[80];
    snprintf(clipped, sizeof clipped, "%.70s", s.own);
    return refuse(
        problem, "cannot understand", clipped, "it is none of the changes that are reckoned",
        "write for example cloves crushed, cloves out on day 3, half the cloves, damsons frozen, spirit 60 %, "
        "30 °C, in the fridge, 30 °C for 3 days, then 12 °C, 90 days, strain on day 10, left still");
}

/* One of a sort that is of the whole jar goes against one of a single thing too. */
bool st_what_contradicts(const struct st_what_said *a, const char *text_a, const struct st_what_said *b,
                         const char *text_b, struct st_problem *problem)
{
    if (a->kind != b->kind || !(a->thing == b->thing || a->thing < 0 || b->thing < 0))
        return false;
    *problem = (struct st_problem){ .is_question = 0 };
    snprintf(problem->what, sizeof problem->what, "\"%.70s\" and \"%.70s\" cannot both be", text_a, text_b);
    snprintf(problem->why, sizeof problem->why, "all that is asked for together is one making of the jar");
    snprintf(problem->try_, sizeof problem->try_, "leave one of them out, and ask for the other by itself");
    return true;
}
