#include "what_if.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cut_words.h"
#include "name_form.h"
#include "quantity.h"

static const double DAY_S = 86400.0, FRIDGE_K = 277.15;

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

/* ---- names ---- */

static bool has_word(const char *names, const char *word)
{
    struct st_name_words w;
    for (const char *at = names; at && *at;) {
        const size_t n = strcspn(at, "|");
        st_name_split(at, n, &w);
        for (int i = 0; i < w.n; i++)
            if (strcmp(w.word[i], word) == 0)
                return true;
        at += n + (at[n] == '|');
    }
    return false;
}

static bool answers_to(const struct st_jar_piece *p, const struct st_name_words *w)
{
    for (int i = 0; i < w->n; i++)
        if (!has_word(p->name, w->word[i]) && !(p->what && has_word(p->what->names, w->word[i])))
            return false;
    return w->n > 0;
}

static void list_pieces(const struct st_jar *jar, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < jar->n_piece; i++) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, "%s%s", i ? ", " : "", jar->piece[i].name);
    }
}

/* One that is named in full rules over others that have the word too: "orange peel" over "bitter orange peel". */
static bool is_full_name(const struct st_jar_piece *p, const struct st_name_words *w)
{
    char a[ST_NAME_BYTES * 2], b[ST_NAME_BYTES * 2];
    struct st_name_words own;
    st_name_split(p->name, strlen(p->name), &own);
    st_name_join(&own, 0, a);
    st_name_join(w, 0, b);
    return strcmp(a, b) == 0;
}

int st_jar_piece_named(const struct st_jar *jar, const char *name, size_t size, struct st_problem *problem)
{
    struct st_name_words w;
    char said[80], there[200], try_[240];
    int found = -1, n = 0, full = -1;

    st_name_split(name, size, &w);
    for (int i = 0; i < jar->n_piece; i++)
        if (answers_to(&jar->piece[i], &w)) {
            found = i;
            n++;
            if (is_full_name(&jar->piece[i], &w))
                full = i;
        }
    if (n == 1 || full >= 0)
        return full >= 0 ? full : found;
    snprintf(said, sizeof said, "%.*s", (int)(size < 60 ? size : 60), name);
    list_pieces(jar, there, sizeof there);
    snprintf(try_, sizeof try_, "name one of %s", there);
    if (n > 1) {
        refuse(problem, "several things are meant by", said, "several things in the jar answer to that", try_);
        problem->is_question = 1;
    } else
        refuse(problem, "this jar has no", said, "nothing that lies in it answers to that", try_);
    return -1;
}

/* ---- one sentence in words ---- */

struct said {
    char text[TEXT_BYTES]; /* lower case, single blanks */
    struct st_jar *jar;
    double *until_s;
    char *words;
    size_t size;
    struct st_problem *problem;
};

static void squeeze(const char *from, char to[TEXT_BYTES])
{
    size_t n = 0;
    for (; *from && n + 1 < TEXT_BYTES; from++) {
        const char c = *from >= 'A' && *from <= 'Z' ? (char)(*from - 'A' + 'a') : *from;
        if (c == ' ' && (n == 0 || to[n - 1] == ' '))
            continue;
        to[n++] = c;
    }
    while (n > 0 && (to[n - 1] == ' ' || to[n - 1] == '.'))
        n--;
    to[n] = '\0';
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
        refuse(s->problem, "cannot reckon with", s->text, "nothing is known of that cut of it",
               "try chopped, crushed or ground");
        return -1;
    }
    snprintf(s->words, s->size, "%s %s", s->jar->piece[i].name, st_cut_name(cut));
    return 1;
}

static int by_frozen(struct said *s)
{
    size_t left = 0;
    const bool frozen = without_end(s->text, " frozen", &left);
    if (!frozen && !without_end(s->text, " fresh", &left))
        return 0;
    const int i = st_jar_piece_named(s->jar, s->text, left, s->problem);
    if (i < 0)
        return -1;
    if (!st_jar_may_be_frozen(&s->jar->piece[i])) {
        refuse(s->problem, "cannot reckon with", s->text, "only fruit is reckoned fresh or frozen", "leave it out");
        return -1;
    }
    s->jar->piece[i].kind = frozen ? ST_KIND_FROZEN_FRUIT : ST_KIND_FRESH_FRUIT;
    snprintf(s->words, s->size, "%s %s", s->jar->piece[i].name, frozen ? "frozen" : "fresh");
    return 1;
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
    snprintf(s->words, s->size, "%s", s->text);
    return 1;
}

/* The stage that lies at t_s on the way, and its beginning; -1 behind the end. */
static int stage_at(const struct st_jar *jar, double t_s, double *start_s)
{
    *start_s = 0.0;
    for (int k = 0; k < jar->n_stage; k++) {
        if (t_s < *start_s + jar->stage[k].time_s)
            return k;
        *start_s += jar->stage[k].time_s;
    }
    return -1;
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
        refuse(s->problem, "cannot read", s->text, "the day must be a number above 0",
               "write for example cloves out on day 3");
        return -1;
    }
    const int i = st_jar_piece_named(s->jar, s->text, (size_t)(at - s->text), s->problem);
    if (i < 0)
        return -1;
    double start_s;
    const int k = stage_at(s->jar, a.value * DAY_S, &start_s);
    const double t_s = a.value * DAY_S - start_s;
    if (k < 0 || (t_s > 0.0 && !st_jar_split(s->jar, k, t_s))) {
        refuse(s->problem, "cannot reckon with", s->text,
               k < 0 ? "the jar is strained before that day" : "the jar has too many stages",
               "name an earlier day, or give the jar more time first, for example 90 days");
        return -1;
    }
    const int first_after = t_s > 0.0 ? k + 1 : k;
    for (int n = 0; n < s->jar->n_stage; n++)
        if (out ? n >= first_after : n < first_after)
            s->jar->piece[i].lies[n] = 0.0;
    snprintf(s->words, s->size, "%s", s->text);
    return 1;
}

static int by_spirit(struct said *s)
{
    const char *number = after(s->text, "spirit ");
    struct st_amount a;
    char text[TEXT_BYTES + 2];
    if (!number)
        return 0;
    snprintf(text, sizeof text, "%s%s", number, strpbrk(number, "%p") ? "" : " %");
    if (!whole_amount(text, ST_DIM_STRENGTH, &a) || !(a.value > 0.0 && a.value <= 100.0)) {
        refuse(s->problem, "cannot read", s->text, "a strength is a number up to 100 %",
               "write for example spirit 60 %");
        return -1;
    }
    int n = 0;
    for (int k = 0; k < s->jar->n_pour; k++)
        if (st_jar_pour_is_spirit(&s->jar->pour[k])) {
            s->jar->pour[k].strength_pct_vol = a.value;
            n++;
        }
    if (n == 0) {
        refuse(s->problem, "cannot reckon with", s->text, "no plain spirit is poured into this jar",
               "change the recipe instead");
        return -1;
    }
    snprintf(s->words, s->size, "spirit of %.4g %% vol", a.value);
    return 1;
}

static int by_warmth(struct said *s)
{
    struct st_amount a;
    double T_K = FRIDGE_K;
    if (strcmp(s->text, "in the fridge") != 0) {
        if (!whole_amount(s->text, ST_DIM_TEMPERATURE, &a))
            return 0;
        T_K = a.value;
    }
    if (!(T_K >= 253.15 && T_K <= 333.15)) {
        refuse(
            s->problem, "cannot reckon with", s->text,
            "how fast things come out is known between -20 and 60 °C at most, and spirit must not be heated on a stove",
            "write for example 30 °C");
        return -1;
    }
    for (int k = 0; k < s->jar->n_stage; k++) {
        struct st_jar_stage *g = &s->jar->stage[k];
        g->temperature_K = (struct st_range){ T_K, T_K - 1.0, T_K + 1.0, true, 'u', "as asked" };
        g->temperature_said = true;
        g->n_heat = 0;
    }
    snprintf(s->words, s->size, "at %.3g °C", T_K - 273.15);
    return 1;
}

static int by_time(struct said *s)
{
    struct st_amount a;
    if (!whole_amount(s->text, ST_DIM_TIME, &a))
        return 0;
    double before = 0.0;
    for (int k = 0; k + 1 < s->jar->n_stage; k++)
        before += s->jar->stage[k].time_s;
    struct st_jar_stage *last = &s->jar->stage[s->jar->n_stage - 1];
    if (!(a.value > before) || a.value > 3660.0 * DAY_S) {
        refuse(s->problem, "cannot reckon with", s->text,
               a.value > before ? "ten years are the most" : "what happens before the last stage takes longer",
               "write for example 90 days");
        return -1;
    }
    last->time_s = last->time_low = last->time_high = a.value - before;
    last->time_said = true;
    *s->until_s = a.value;
    snprintf(s->words, s->size, "%s", s->text);
    return 1;
}

static int by_rest(struct said *s)
{
    const bool still = strcmp(s->text, "left still") == 0 || strcmp(s->text, "never shaken") == 0;
    if (!still && strcmp(s->text, "turned") != 0 && strcmp(s->text, "shaken") != 0)
        return 0;
    for (int k = 0; k < s->jar->n_stage; k++)
        s->jar->stage[k].still = still;
    snprintf(s->words, s->size, "%s", still ? "never turned" : "turned now and then");
    return 1;
}

bool st_what_if(const char *text, struct st_jar *jar, double *until_s, char *words, size_t size,
                struct st_problem *problem)
{
    static int (*const KIND[])(struct said *) = { by_rest, by_spirit, by_warmth, by_time,
                                                  by_day,  by_factor, by_frozen, by_cut };
    struct st_jar changed = *jar;
    struct said s = { .jar = &changed, .until_s = until_s, .words = words, .size = size, .problem = problem };

    squeeze(text, s.text);
    for (size_t k = 0; k < sizeof KIND / sizeof *KIND; k++) {
        const int did = KIND[k](&s);
        if (did > 0)
            *jar = changed;
        if (did != 0)
            return did > 0;
    }
    char said[80];
    snprintf(said, sizeof said, "%.70s", s.text);
    return refuse(
        problem, "cannot understand", said, "it is none of the changes that are reckoned",
        "write for example cloves crushed, cloves out on day 3, half the cloves, damsons frozen, spirit 60 %, "
        "30 °C, in the fridge, 90 days, left still");
}
