#include "allergen_heard.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "allergen_list.h"
#include "built_sheet.h"

enum { BYTES = 256, WORDS = BYTES / 2 };

struct words {
    char text[BYTES];
    const char *word[WORDS];
    bool apart[WORDS]; /* a comma or another sign stands before it */
    int n;
};

struct ear {
    const struct st_allergen_lists *lists;
    const struct st_catalogue *c;
    struct st_allergen_said *out;
    int n, max;
};

/* Small letters; what is neither letter nor digit parts words, but an apostrophe does not. */
static void split(const char *name, struct words *w)
{
    bool inside = false, apart = false;
    size_t n = 0;
    w->n = 0;
    for (; *name && n + 1 < BYTES; name++) {
        const unsigned char c = (unsigned char)*name;
        const bool letter = isalnum(c) || c >= 0x80;
        if (c == '\'')
            continue;
        if (letter && !inside && w->n < WORDS) {
            w->apart[w->n] = apart;
            w->word[w->n++] = w->text + n;
        }
        apart = !letter && (apart || (c != ' ' && c != '-'));
        w->text[n++] = letter ? (char)tolower(c) : '\0';
        inside = letter;
    }
    w->text[n] = '\0';
}

static const char *at(const struct words *w, int i)
{
    return i >= 0 && i < w->n ? w->word[i] : "";
}

static bool is(const char *word, const char *one)
{
    const size_t n = strlen(one);
    return strncmp(word, one, n) == 0 && (word[n] == '\0' || strcmp(word + n, "s") == 0);
}

/* ---- what is meant otherwise ---- */

/* Behind the word, before it: what makes another thing of it.  Common practice, no source. */
static const struct {
    const char *word, *before, *behind;
} OTHER[] = {
    { "crab", "", "apple" },    { "oyster", "", "mushroom" },  { "oyster", "", "plant" },  { "oyster", "", "leaf" },
    { "oyster", "", "leaves" }, { "lobster", "", "mushroom" }, { "shrimp", "", "plant" },  { "fish", "", "mint" },
    { "egg", "", "plant" },     { "egg", "", "fruit" },        { "cream", "", "sherry" },  { "cream", "", "soda" },
    { "cream", "", "tartar" },  { "milk", "", "thistle" },     { "milk", "", "vetch" },    { "milk", "", "parsley" },
    { "milk", "", "wort" },     { "butter", "", "nut" },       { "butter", "", "bean" },   { "butter", "", "bur" },
    { "butter", "", "cup" },    { "nut", "", "meg" },          { "nut", "", "grass" },     { "nut", "tiger", "" },
    { "nut", "kola", "" },      { "nut", "cola", "" },         { "nut", "betel", "" },     { "nut", "areca", "" },
    { "nut", "coco", "" },      { "nut", "butter", "" },       { "wheat", "buck", "" },    { "butter", "cocoa", "" },
    { "butter", "shea", "" },   { "butter", "coconut", "" },   { "butter", "peanut", "" }, { "butter", "almond", "" },
    { "butter", "apple", "" },  { "cream", "coconut", "" },    { "milk", "coconut", "" },  { "milk", "almond", "" },
    { "milk", "oat", "" },      { "milk", "soy", "" },         { "milk", "soya", "" },     { "milk", "rice", "" },
    { "milk", "cashew", "" },   { "milk", "hazelnut", "" },    { "cream", "oat", "" },     { "ale", "ginger", "" },
    { "beer", "ginger", "" },   { "beer", "root", "" },        { "beer", "spruce", "" },
};

static bool is_other(const struct words *w, int i)
{
    const char *behind = is(at(w, i + 1), "of") ? at(w, i + 2) : at(w, i + 1);
    for (size_t k = 0; k < sizeof OTHER / sizeof *OTHER; k++)
        if (is(at(w, i), OTHER[k].word) &&
            (*OTHER[k].before ? is(at(w, i - 1), OTHER[k].before) : is(behind, OTHER[k].behind)))
            return true;
    return false;
}

/* Words that stand as one name: nothing between them that counts up ("milk and butter", "apple, crab"). */
static bool is_one_name(const struct words *w, int from, int many)
{
    static const char *const BETWEEN[] = { "and", "or", "with", "plus", "in", "und" };
    for (int i = from; i < from + many; i++) {
        if (i > from && w->apart[i])
            return false;
        for (size_t k = 0; k < sizeof BETWEEN / sizeof *BETWEEN; k++)
            if (strcmp(w->word[i], BETWEEN[k]) == 0)
                return false;
    }
    return true;
}

/* A name of the sheet of two or three words with this one among them: its allergens are the sheet's. */
static bool is_of_sheet(const struct st_catalogue *c, const struct words *w, int i)
{
    char name[BYTES];
    for (int many = 3; many > 1; many--)
        for (int from = i - many + 1; from <= i; from++) {
            if (from < 0 || from + many > w->n || !is_one_name(w, from, many))
                continue;
            const int n = snprintf(name, sizeof name, "%s %s%s%s", w->word[from], w->word[from + 1],
                                   many > 2 ? " " : "", many > 2 ? w->word[from + 2] : "");
            if (n > 0 && (size_t)n < sizeof name && st_catalogue_find(c, name, (size_t)n))
                return true;
        }
    return false;
}

static bool is_denied(const struct words *w, int i)
{
    static const char *const NOT[] = { "no", "non", "without", "not" };
    const char *before = at(w, i - 1);
    for (size_t k = 0; k < sizeof NOT / sizeof *NOT; k++)
        if (strcmp(before, NOT[k]) == 0)
            return true;
    return is(at(w, i + 1), "free") ||
           ((strcmp(before, "of") == 0 || strcmp(before, "from") == 0) && is(at(w, i - 2), "free"));
}

/* ---- what is meant ---- */

static bool known(struct ear *e, const char *word)
{
    struct st_allergen_said one[8];
    const int n = st_allergen_word(word, e->lists, e->c, one, 8);
    for (int i = 0; i < n; i++) {
        int k = 0;
        while (k < e->n && strcmp(e->out[k].code, one[i].code) != 0)
            k++;
        if (k == e->n && e->n < e->max)
            e->out[e->n++] = one[i];
    }
    return n > 0;
}

/* "almondy", "buttered", "eggy", "creamish": the stem, with a doubled letter or a lost e put right. */
static void stems(struct ear *e, const char *word)
{
    static const char *const END[] = { "y", "ed", "ish", "like" };
    char stem[BYTES + 1];
    const size_t n = strlen(word);
    for (size_t k = 0; k < sizeof END / sizeof *END; k++) {
        const size_t m = strlen(END[k]);
        if (n < m + 3 || strcmp(word + n - m, END[k]) != 0)
            continue;
        (void)snprintf(stem, sizeof stem, "%.*s", (int)(n - m), word);
        if (known(e, stem))
            return;
        (void)snprintf(stem, sizeof stem, "%.*se", (int)(n - m), word);
        if (known(e, stem))
            return;
        if (word[n - m - 1] == word[n - m - 2]) {
            (void)snprintf(stem, sizeof stem, "%.*s", (int)(n - m - 1), word);
            if (known(e, stem))
                return;
        }
    }
}

int st_allergen_heard(const char *name, const struct st_catalogue *c, struct st_allergen_said out[], int max)
{
    struct st_problem none;
    const struct st_embedded *file = st_built_sheet("data/allergens.tsv", &none);
    struct st_allergen_lists *lists =
        file ? st_allergen_list_create((const char *)file->bytes, file->size, &none) : NULL;
    struct ear e = { lists, c, out, 0, max };
    struct words w;
    char two[2 * BYTES];

    split(name, &w);
    for (int i = 0; i < w.n; i++) {
        if (is_denied(&w, i) || is_other(&w, i) || is_of_sheet(c, &w, i))
            continue;
        (void)snprintf(two, sizeof two, "%s %s", w.word[i], at(&w, i + 1));
        if (i + 1 < w.n && !is_denied(&w, i + 1) && known(&e, two))
            i++;
        else if (!known(&e, w.word[i]))
            stems(&e, w.word[i]);
    }
    st_allergen_list_free(lists);
    return e.n;
}
