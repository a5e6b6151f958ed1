#include "rule.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* ---- words ---- */

static bool parts_words(char c)
{
    return c == ',' || c == ' ' || c == '\t';
}

bool st_rule_lists(const char *list, const char *word)
{
    const size_t n = word ? strlen(word) : 0;
    for (const char *p = list; p && *p && n > 0;) {
        while (parts_words(*p))
            p++;
        size_t len = 0;
        while (p[len] && !parts_words(p[len]))
            len++;
        if (len == n && memcmp(p, word, n) == 0)
            return true;
        p += len;
    }
    return false;
}

static bool is_there(const char *text)
{
    return text && *text;
}

static bool same(const char *a, const char *b)
{
    return a && b && *a && *a == *b && strcmp(a, b) == 0;
}

static char folded(char c)
{
    return c == '_' ? ' ' : c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* As far as a name goes without its brackets: "hydrogen cyanide (from kernels)". */
static bool is_named(const char *name, const char *words)
{
    size_t i = 0;
    while (words[i] && name[i] && folded(words[i]) == folded(name[i]))
        i++;
    return !words[i] && (!name[i] || strncmp(name + i, " (", 2) == 0);
}

/* ---- toxicants ---- */

const struct st_toxicant *st_toxicant_find(const struct st_rule_books *b, const char *slug)
{
    for (int i = 0; i < b->n_toxicant; i++)
        if (same(b->toxicant[i].slug, slug))
            return &b->toxicant[i];
    return NULL;
}

const struct st_toxicant *st_toxicant_named(const struct st_rule_books *b, const char *words)
{
    for (int i = 0; i < b->n_toxicant && is_there(words); i++)
        if (is_named(b->toxicant[i].slug, words) || is_named(b->toxicant[i].name, words))
            return &b->toxicant[i];
    return NULL;
}

bool st_toxicant_flagged(const struct st_toxicant *t, const struct st_ingredient *in)
{
    for (int i = 0; i < in->n_caution; i++)
        if (st_rule_lists(t->flags, in->caution[i].what))
            return true;
    return false;
}

/* ---- contents ---- */

/* A caution of the ingredient that a fallback row is of. */
static bool has_caution(const struct st_ingredient *in, const struct st_content *c)
{
    for (int i = 0; i < in->n_caution; i++)
        if (same(c->flag, in->caution[i].what) && (!is_there(c->degree) || same(c->degree, in->caution[i].degree)))
            return true;
    return false;
}

static bool is_of(const struct st_content *c, const struct st_ingredient *in, int sort)
{
    switch (sort) {
    case 0: return same(c->ingredient, in->slug);
    case 1: return same(c->ingredient, in->like);
    default: return !is_there(c->ingredient) && has_caution(in, c);
    }
}

bool st_content_is_of(const struct st_content *c, const struct st_ingredient *in)
{
    return is_of(c, in, 0) || is_of(c, in, 1) || is_of(c, in, 2);
}

/* Nobody knows a worse one. */
static bool is_worse(const struct st_content *a, const struct st_content *b)
{
    if (!b || isnan(b->ceiling_mg_kg))
        return !b;
    return !(a->ceiling_mg_kg <= b->ceiling_mg_kg); /* NAN too */
}

const struct st_content *st_content_find(const struct st_rule_books *b, const struct st_ingredient *in,
                                         const char *flag, const char *toxicant)
{
    const struct st_content *worst[3] = { NULL, NULL, NULL }, *own = NULL;
    for (int i = 0; i < in->n_own; i++)
        if (st_toxicant_named(b, in->own[i].toxicant) == st_toxicant_find(b, toxicant) && is_worse(&in->own[i], own))
            own = &in->own[i];
    if (own)
        return own;
    for (int i = 0; i < b->n_content; i++) {
        const struct st_content *c = &b->content[i];
        if (!same(c->toxicant, toxicant) || (is_there(flag) && is_there(c->flag) && strcmp(flag, c->flag) != 0))
            continue;
        for (int sort = 0; sort < 3; sort++)
            if (is_of(c, in, sort) && is_worse(c, worst[sort]))
                worst[sort] = c;
    }
    return worst[0] ? worst[0] : worst[1] ? worst[1] : worst[2];
}
