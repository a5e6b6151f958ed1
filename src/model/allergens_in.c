#include "allergens_in.h"

#include <stdlib.h>
#include <string.h>

#include "line_goods.h"

enum st_presence st_scope_presence(const char *scope)
{
    return strncmp(scope, "possible", 8) == 0 ? ST_POSSIBLE
           : strcmp(scope, "voluntary") == 0  ? ST_VOLUNTARY
                                              : ST_PRESENT;
}

int st_allergen_codes(const struct st_recipe *r, struct st_allergen_code list[], int max)
{
    int n = 0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            for (int k = 0; in && k < in->n_allergen; k++) {
                const struct st_flag *f = &in->allergen[k];
                const enum st_presence p = st_scope_presence(f->degree);
                int at = 0;
                while (at < n && strcmp(list[at].code, f->what) != 0)
                    at++;
                if (at == n && n < max)
                    list[n++] = (struct st_allergen_code){ f->what, ST_NOT_LISTED };
                if (at < n && p > list[at].presence)
                    list[at].presence = p;
            }
        }
    return n;
}

/* What a scope says of a place. */
static enum st_presence in_place(const char *scope, unsigned places)
{
    const enum st_presence p = st_scope_presence(scope);
    const bool eu = strstr(scope, "eu") != NULL, us = strstr(scope, "us") != NULL;
    if (p == ST_VOLUNTARY)
        return p;
    if (places == (unsigned)ST_PLACE_US)
        return us ? p : ST_NOT_LISTED;
    if (places == (unsigned)ST_PLACE_EU)
        return eu ? p : ST_NOT_LISTED;
    return eu || us ? p : ST_NOT_LISTED;
}

static void add(struct st_allergens_in *out, struct st_allergen_hit hit)
{
    for (int i = 0; i < out->n; i++) {
        struct st_allergen_hit *h = &out->hit[i];
        if (h->row != hit.row || h->step != hit.step || h->line != hit.line ||
            (!hit.row && strcmp(h->code, hit.code) != 0))
            continue;
        if (hit.presence > h->presence)
            *h = hit;
        return;
    }
    if (out->n == ST_MAX_ALLERGEN_HITS)
        out->cut = true;
    else
        out->hit[out->n++] = hit;
}

struct seek {
    const struct st_allergen_lists *lists;
    const struct st_agents *agents;
    unsigned places;
    struct st_allergens_in *out;
    bool unused; /* of the step in hand */
};

/* One code with its scope, against every entry of the places; against none: told as on no list. */
static void code_found(const struct seek *k, const char *code, const char *scope, enum st_presence most,
                       struct st_allergen_hit hit)
{
    bool listed = false;
    hit.code = code;
    hit.unused = k->unused;
    if (k->unused && most > ST_POSSIBLE)
        most = ST_POSSIBLE;
    for (int i = 0; i < k->lists->n; i++) {
        const struct st_allergen_row *row = &k->lists->row[i];
        if (!(row->places & k->places) || !st_in_list(row->codes, '|', code))
            continue;
        enum st_presence p = in_place(scope, row->places);
        if (p == ST_NOT_LISTED)
            continue;
        listed = true;
        p = st_in_list(row->wider, '|', code) && p > ST_POSSIBLE ? ST_POSSIBLE : p;
        p = !row->listed && p > ST_VOLUNTARY ? ST_VOLUNTARY : p;
        hit.row = row;
        hit.presence = p > most ? most : p;
        add(k->out, hit);
    }
    if (!listed) {
        hit.row = NULL;
        hit.presence = ST_VOLUNTARY;
        add(k->out, hit);
    }
}

/* The first word of a '|' list that stands in text. */
static bool names_one(const char *text, const char *list)
{
    char word[64];
    for (const char *p = list; text && *p;) {
        const size_t n = strcspn(p, "|");
        if (n > 0 && n < sizeof word) {
            memcpy(word, p, n);
            word[n] = '\0';
            if (st_has_word(text, word))
                return true;
        }
        p += n + (p[n] == '|');
    }
    return false;
}

/* Words that name an allergen outright, such as chitosan. */
static void words_found(const struct seek *k, const char *text, int step, int line)
{
    for (int i = 0; i < k->lists->n; i++) {
        const struct st_allergen_row *row = &k->lists->row[i];
        if (!(row->places & k->places) || !names_one(text, row->words))
            continue;
        add(k->out, (struct st_allergen_hit){ row, row->codes, ST_POSSIBLE, step, line, NULL, NULL, k->unused });
    }
}

/* A fining named in the words of a step: sure where the step fines, else possible ("wash the milk jug"). */
static void agents_found(const struct seek *k, const struct st_step *s, int step)
{
    for (int i = 0; k->agents && i < k->agents->n; i++) {
        const struct st_agent *a = &k->agents->row[i];
        const bool fines = s->kind == ST_DO_FINE || st_has_word(s->words, "fine") || st_has_word(s->words, "wash") ||
                           st_has_word(s->words, "clarify");
        if (!a->allergen[0] || !fines || (a->role == ST_AGENT_WASH && !st_has_word(s->words, "milk")) ||
            !(st_has_word(s->words, a->name) || names_one(s->words, a->names)))
            continue;
        code_found(k, a->allergen, a->scope, s->kind == ST_DO_FINE ? ST_PRESENT : ST_POSSIBLE,
                   (struct st_allergen_hit){ .step = step, .line = -1, .agent = a });
    }
}

static int surest_first(const void *a, const void *b)
{
    const struct st_allergen_hit *x = a, *y = b;
    if (x->presence != y->presence)
        return x->presence > y->presence ? -1 : 1;
    if (x->step != y->step)
        return x->step < y->step ? -1 : 1;
    if (x->line != y->line)
        return x->line < y->line ? -1 : 1;
    return x->row == y->row ? strcmp(x->code, y->code) : !x->row ? 1 : !y->row ? -1 : x->row < y->row ? -1 : 1;
}

void st_allergens_find(const struct st_recipe *r, const struct st_allergen_lists *lists, const struct st_agents *agents,
                       unsigned places, struct st_allergens_in *out)
{
    out->n = 0;
    out->cut = false;
    struct seek k = { lists, agents, places, out, false };
    for (int s = 0; s < r->n_step; s++) {
        const struct st_step *step = &r->step[s];
        k.unused = !st_step_reaches(r, s);
        for (int i = 0; i < step->n_line; i++) {
            const struct st_ingredient *in = step->line[i].what;
            for (int a = 0; in && a < in->n_allergen; a++)
                code_found(&k, in->allergen[a].what, in->allergen[a].degree, ST_PRESENT,
                           (struct st_allergen_hit){ .step = s, .line = i, .flag = &in->allergen[a] });
            words_found(&k, step->line[i].text, s, i);
        }
        words_found(&k, step->words, s, -1);
        agents_found(&k, step, s);
    }
    qsort(out->hit, (size_t)out->n, sizeof out->hit[0], surest_first);
}
