#include "guest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "label_list.h"
#include "model/line_goods.h"
#include "near.h"

struct asking {
    const struct st_guest_rows *rows;
    const struct st_recipe *r;
    const struct st_foretold *f;
    const struct st_agents *agents;
    const struct st_allergens_in *in;
};

/* ---- words ---- */

/* A cut never leaves part of a letter behind. */
static void whole_letters(char *word)
{
    size_t n = strlen(word), k = n;
    while (k > 0 && ((unsigned char)word[k - 1] & 0xc0u) == 0x80u)
        k--;
    if (k == 0)
        return;
    const unsigned char lead = (unsigned char)word[k - 1];
    const size_t wants = lead >= 0xf0u ? 4 : lead >= 0xe0u ? 3 : lead >= 0xc0u ? 2 : 1;
    if (n - (k - 1) < wants)
        word[k - 1] = '\0';
}

/* How much of from[n] is taken, with less than size bytes: what does not fit stays for the next turn, from its last gap on; of
 * a single word longer than that the rest is passed over (*skip). */
static size_t fitting(const char *from, size_t n, size_t size, size_t *skip)
{
    size_t k = size - 1;
    if (n < size)
        return n;
    while (k > 0 && from[k] != ' ')
        k--;
    *skip = k > 0 ? k : strcspn(from, " ,;?!\n");
    return k > 0 ? k : size - 1;
}

/* The next words asked, cut from *p; false at the end. */
static bool next_word(const char **p, char *word, size_t size)
{
    for (;;) {
        *p += strspn(*p, " ,;?.!\t\n");
        if (!**p)
            return false;
        const char *from = *p, *joint = strstr(from, " and ");
        size_t n = strcspn(from, ",;?!\n"), skip = n;
        if (joint && (size_t)(joint - from) < n) {
            n = (size_t)(joint - from);
            skip = n + 4;
        }
        n = fitting(from, n, size, &skip);
        *p += skip;
        while (n > 0 && strchr(" .\t", from[n - 1]))
            n--;
        if (n == 0)
            continue;
        memcpy(word, from, n);
        word[n] = '\0';
        whole_letters(word);
        for (char *c = word; *c; c++)
            if (*c >= 'A' && *c <= 'Z')
                *c = (char)(*c - 'A' + 'a');
        return true;
    }
}

static const struct st_guest_row *row_of(const struct st_guest_rows *rows, const char *word)
{
    for (int i = 0; i < rows->n; i++)
        if (st_in_list(rows->row[i].names, '|', word) || strcmp(rows->row[i].key, word) == 0)
            return &rows->row[i];
    return NULL;
}

static void ask_back(const struct st_guest_rows *rows, struct st_guest_answer *a)
{
    double best[3] = { 0.5, 0.5, 0.5 };
    for (int i = 0; i < rows->n; i++) {
        const struct st_guest_row *row = &rows->row[i];
        double like = 0.0;
        for (const char *p = row->names; *p;) {
            const size_t n = strcspn(p, "|");
            like = fmax(like, st_near_word(a->asked, strlen(a->asked), p, n));
            p += n + (p[n] == '|');
        }
        for (int k = 0; k < 3; k++)
            if (like > best[k]) {
                for (int m = 2; m > k; m--) {
                    best[m] = best[m - 1];
                    a->near[m] = a->near[m - 1];
                }
                best[k] = like;
                a->near[k] = row->key;
                break;
            }
    }
    a->is = ST_GUEST_ASK_BACK;
    (void)snprintf(a->what, sizeof a->what, "\"%.47s\": this word is not known here%s%s%s%s%s%s%s", a->asked,
                   a->near[0] ? "; did you mean " : "", a->near[0] ? a->near[0] : "", a->near[1] ? " or " : "",
                   a->near[1] ? a->near[1] : "", a->near[2] ? " or " : "", a->near[2] ? a->near[2] : "", a->near[0] ? "?" : "");
    (void)snprintf(a->because, sizeof a->because,
                   "nothing is answered for a word that is not understood; show the guest the list of what went in");
    a->source = "common practice, no source";
}

/* ---- answers ---- */

static const char *line_name(const struct st_recipe *r, int step, int line, const struct st_agent *agent)
{
    const struct st_line *l = line >= 0 ? &r->step[step].line[line] : NULL;
    return agent ? agent->name : l && l->what ? l->what->name : "the words of a step";
}

/* Something bought ready made, whose ingredients nobody listed; or NULL. */
static const struct st_ingredient *ready_made(const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            const bool mixed =
                l->what && (strcmp(l->what->slug, "bitters") == 0 || strcmp(l->what->slug, "chocolate_dark") == 0 ||
                            strcmp(l->what->slug, "food_colour") == 0);
            if (l->what && (mixed || (l->what->kind == ST_KIND_WINE && st_line_goods(l) == ST_GOODS_TASTY)))
                return l->what;
        }
    return NULL;
}

static void not_listed(const struct asking *k, struct st_guest_answer *a)
{
    const struct st_ingredient *bought = ready_made(k->r);
    a->is = bought ? ST_GUEST_UNKNOWN : ST_GUEST_NOT_LISTED;
    a->source = "common practice, no source";
    if (bought)
        (void)snprintf(a->what, sizeof a->what,
                       "%s: not among what is listed, but what %s is made of is not known here", a->asked,
                       bought->name);
    else
        (void)snprintf(a->what, sizeof a->what, "%s: not listed among what went in", a->asked);
    (void)snprintf(
        a->because, sizeof a->because,
        "that is all a recipe can tell: traces, and what is in things that were bought, only packs and the maker know; "
        "read the packs");
}

static void found(const struct asking *k, struct st_guest_answer *a, enum st_guest_is is, int step, int line,
                  const struct st_agent *agent, int more)
{
    char rest[32] = "";
    if (more > 0)
        (void)snprintf(rest, sizeof rest, " and %d more", more);
    a->is = is;
    a->step = step;
    a->line = line;
    (void)snprintf(a->what, sizeof a->what, "%s: %s, from %s%s", a->asked,
                   is == ST_GUEST_IN ? "it is in it" : "it may be in it", line_name(k->r, step, line, agent), rest);
}

static void nobody_knows(struct st_guest_answer *a)
{
    a->is = ST_GUEST_UNKNOWN;
    a->source = "common practice, no source";
    (void)snprintf(a->what, sizeof a->what, "%s: not known here", a->asked);
}

static const char *key_or_memory(const char *source)
{
    return source && source[0] && strcmp(source, "memory") != 0 ? source : "from memory";
}

static void allergen(const struct asking *k, struct st_guest_answer *a)
{
    const struct st_allergen_hit *best = NULL;
    int more = 0, step = -1, line = -2;
    for (int i = 0; i < k->in->n; i++) { /* surest first, then by step and line */
        const struct st_allergen_hit *h = &k->in->hit[i];
        if (!st_in_list(a->row->codes, '|', h->code) || (h->step == step && h->line == line))
            continue;
        step = h->step;
        line = h->line;
        more += best != NULL;
        best = best ? best : h;
    }
    if (!best) {
        if (k->in->cut)
            nobody_knows(a); /* more than was looked at */
        else
            not_listed(k, a);
        return;
    }
    found(k, a, best->presence == ST_PRESENT ? ST_GUEST_IN : ST_GUEST_MAY_BE, best->step, best->line, best->agent,
          more);
    if (best->presence == ST_VOLUNTARY)
        (void)snprintf(a->what, sizeof a->what, "%s: not that itself, but %s is close to it", a->asked,
                       line_name(k->r, best->step, best->line, best->agent));
    a->source = best->flag ? key_or_memory(best->flag->source) : best->agent ? best->agent->source : "from memory";
    (void)snprintf(a->because, sizeof a->because, "%s%s",
                   best->flag && best->flag->text ? best->flag->text : "straining and fining do not take it out",
                   best->presence == ST_VOLUNTARY ? " (on no list, told all the same)" : "");
}

static const struct st_flag *caution_of(const struct st_ingredient *in, const char *codes)
{
    return in ? st_ingredient_caution(in, codes) : NULL;
}

static void by_line(const struct asking *k, struct st_guest_answer *a)
{
    const struct st_flag *why = NULL;
    int step = -1, line = -1, n = 0;
    for (int s = 0; s < k->r->n_step; s++)
        for (int i = 0; i < k->r->step[s].n_line; i++) {
            const struct st_ingredient *in = k->r->step[s].line[i].what;
            const struct st_flag *f = a->row->kind == ST_GUEST_CAUTION ? caution_of(in, a->row->codes) : NULL;
            if (!f && !(in && a->row->kind == ST_GUEST_SLUG && st_in_list(a->row->codes, '|', in->slug)))
                continue;
            if (n++ == 0) {
                why = f;
                step = s;
                line = i;
            }
        }
    if (n == 0) {
        not_listed(k, a);
        return;
    }
    found(k, a, ST_GUEST_IN, step, line, NULL, n - 1);
    a->source = why ? key_or_memory(why->source) : "common practice, no source";
    (void)snprintf(a->because, sizeof a->because, "%s", why && why->text ? why->text : "it went in");
}

static void diet(const struct asking *k, struct st_guest_answer *a)
{
    struct st_animals animals;
    const bool flesh = a->row->kind == ST_GUEST_VEGETARIAN;
    st_animals_find(k->r, k->agents, &animals);
    const enum st_animal is = flesh ? animals.vegetarian : animals.vegan;
    a->source = "common practice, no source";
    if (is == ST_ANIMAL_NONE) {
        not_listed(k, a);
        a->is = ST_GUEST_NOT_LISTED; /* what is bought ready made stands among the animals already */
        (void)snprintf(a->what, sizeof a->what, "%s: nothing of %s is listed among what went in", a->asked,
                       flesh ? "meat or fish" : "animals");
        return;
    }
    nobody_knows(a);
    for (int i = 0; i < animals.n; i++) {
        const struct st_animal_hit *h = &animals.hit[i];
        if (h->is != is || (flesh && !h->flesh))
            continue;
        a->is = is == ST_ANIMAL_YES ? ST_GUEST_IN : ST_GUEST_UNKNOWN;
        a->step = h->step;
        a->line = h->line;
        (void)snprintf(a->what, sizeof a->what, "%s: %s, because of %s", a->asked,
                       is == ST_ANIMAL_YES ? "no, matter of animals is in it" : "not known",
                       line_name(k->r, h->step, h->line, h->agent));
        (void)snprintf(a->because, sizeof a->because, "%s", h->what);
        return;
    }
}

static void alcohol(const struct asking *k, struct st_guest_answer *a)
{
    char q[64];
    const struct st_interval *x = k->f ? &k->f->fig[ST_FIG_STRENGTH] : NULL;
    const bool poured = st_class_base(k->r) != ST_NO;
    a->source = "common practice, no source";
    bool any = poured || (x && x->known && x->high > 0.0);
    for (int s = 0; s < k->r->n_step; s++)
        for (int i = 0; i < k->r->step[s].n_line; i++)
            any = any || st_line_goods(&k->r->step[s].line[i]) == ST_GOODS_FERMENTED;
    if (!any) {
        not_listed(k, a);
        return;
    }
    a->is = ST_GUEST_IN;
    (void)snprintf(a->what, sizeof a->what, "%s: it holds alcohol, %s%s", a->asked,
                   x ? st_label_interval(x, 1, q) : "how strong is not known", x && x->known ? " % vol" : "");
}

static void sugar(const struct asking *k, struct st_guest_answer *a)
{
    char q[64];
    const struct st_interval *x = k->f ? &k->f->fig[ST_FIG_SUGAR] : NULL;
    a->source = "common practice, no source";
    a->is = x && x->known ? x->high > 0.0 ? ST_GUEST_IN : ST_GUEST_NOT_LISTED : ST_GUEST_UNKNOWN;
    (void)snprintf(a->what, sizeof a->what, "%s: %s%s", a->asked, x ? st_label_interval(x, 0, q) : "not known",
                   x && x->known ? " g/L" : "");
}

/* The word names an ingredient of this recipe, though the table does not know it: "cinnamon". */
static bool named_on_a_line(const struct asking *k, struct st_guest_answer *a)
{
    for (int s = 0; s < k->r->n_step; s++)
        for (int i = 0; i < k->r->step[s].n_line; i++) {
            const struct st_line *l = &k->r->step[s].line[i];
            if (!l->what || !((l->text && st_has_word(l->text, a->asked)) || st_has_word(l->what->name, a->asked) ||
                              st_has_word(l->what->names, a->asked)))
                continue;
            found(k, a, ST_GUEST_IN, s, i, NULL, 0);
            a->source = "common practice, no source";
            (void)snprintf(a->because, sizeof a->because, "it went in");
            return true;
        }
    return false;
}

static void say_more(struct st_guest_answer *a)
{
    const size_t used = strlen(a->because);
    if (a->row->says[0])
        (void)snprintf(a->because + used, sizeof a->because - used, "%s%s", used ? "; " : "", a->row->says);
    else if (!used)
        (void)snprintf(a->because, sizeof a->because, "as foretold of what the recipe lists");
}

static void answer(const struct asking *k, struct st_guest_answer *a)
{
    a->step = a->line = -1;
    a->row = row_of(k->rows, a->asked);
    if (!a->row) {
        if (!named_on_a_line(k, a))
            ask_back(k->rows, a);
        return;
    }
    switch (a->row->kind) {
    case ST_GUEST_ALLERGEN: allergen(k, a); break;
    case ST_GUEST_CAUTION:
    case ST_GUEST_SLUG: by_line(k, a); break;
    case ST_GUEST_VEGAN:
    case ST_GUEST_VEGETARIAN: diet(k, a); break;
    case ST_GUEST_ALCOHOL: alcohol(k, a); break;
    case ST_GUEST_SUGAR: sugar(k, a); break;
    case ST_GUEST_NOBODY_KNOWS:
    case ST_NGUEST_KIND: nobody_knows(a); break;
    }
    say_more(a);
}

/* ---- what was asked, word by word ---- */

static bool says_nothing(const char *word)
{
    return st_in_list("is|are|there|any|in|it|this|that|does|do|contain|contains|have|has|hold|the|a|an|of|or|with|no|"
                      "free|what|about|please",
                      '|', word);
}

/* Cut the longest beginning of *p that is known, or else its first word, into word. */
static void cut_known(const struct asking *k, char **p, char *word, size_t size)
{
    size_t n = strlen(*p);
    for (;;) {
        (void)snprintf(word, size, "%.*s", (int)n, *p);
        whole_letters(word);
        const char *space = strrchr(word, ' ');
        if (!space || row_of(k->rows, word))
            break;
        n = (size_t)(space - word);
    }
    *p += n;
    *p += strspn(*p, " ");
}

struct answers {
    struct st_guest_answer *out;
    int n, max;
    bool cut;
};

static void put(const struct asking *k, const char *word, struct answers *to)
{
    if (to->n == to->max) {
        to->cut = true;
        return;
    }
    struct st_guest_answer *a = &to->out[to->n++];
    *a = (struct st_guest_answer){ .is = ST_GUEST_UNKNOWN };
    (void)snprintf(a->asked, sizeof a->asked, "%s", word);
    answer(k, a);
}

int st_guest_check(const struct st_guest_rows *rows, const char *asked, const struct st_recipe *r,
                   const struct st_foretold *f, const struct st_allergen_lists *lists, const struct st_agents *agents,
                   struct st_guest_answer out[], int max, bool *cut)
{
    struct st_allergens_in in;
    const struct asking k = { rows, r, f, agents, &in };
    struct answers to = { out, 0, max, false };
    char phrase[160], word[sizeof out->asked];
    st_allergens_find(r, lists, agents, ST_PLACE_ALL, &in);
    for (const char *p = asked; next_word(&p, phrase, sizeof phrase);)
        for (char *rest = phrase; *rest;) {
            cut_known(&k, &rest, word, sizeof word);
            if (!says_nothing(word))
                put(&k, word, &to);
        }
    *cut = to.cut;
    return to.n;
}
