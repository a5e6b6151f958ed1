#include <ctype.h>
#include <string.h>

#include "take_whole.h"

/* Which ingredients a sentence of the method names: "cover the damsons with the vodka". */

enum { MOST_TOKENS = 160, MOST_NAMES = 40 };

struct token {
    size_t at;
    char word[ST_NAME_WORD_BYTES];
    bool claimed;
};

struct sentence {
    struct token token[MOST_TOKENS];
    int n;
};

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
}

static void split(const char *text, struct sentence *s)
{
    struct st_name_words w;
    s->n = 0;
    for (size_t i = 0; text[i] && s->n < MOST_TOKENS;) {
        size_t n = 0;
        while (is_letter(text[i + n]))
            n++;
        if (n == 0) {
            i++;
            continue;
        }
        st_name_split(text + i, n, &w);
        if (w.n > 0) {
            struct token *k = &s->token[s->n++];
            k->at = i;
            k->claimed = false;
            memcpy(k->word, w.word[0], sizeof k->word);
        }
        i += n;
    }
}

/* ---- the names of an entry ---- */

void st_take_names(struct st_arena *a, const struct st_ingredient *what, struct st_entry *e)
{
    struct st_name_words *name = st_arena_alloc(a, MOST_NAMES * sizeof *name);
    const char *all = what->names ? what->names : "";
    int n = 0;

    st_name_split(what->name, strlen(what->name), &name[n++]);
    while (*all && n < MOST_NAMES) {
        const size_t k = strcspn(all, "|");
        st_name_split(all, k, &name[n]);
        n += name[n].n > 0;
        all += k + (all[k] == '|');
    }
    e->name = name;
    e->n_name = n;
}

static bool holds(const struct st_name_words *name, const char *word)
{
    for (int i = 0; i < name->n; i++)
        if (strcmp(name->word[i], word) == 0)
            return true;
    return false;
}

/* The words of the name, in any order, from token i on. */
static bool fits(const struct sentence *s, int i, const struct st_name_words *name)
{
    if (i + name->n > s->n)
        return false;
    for (int k = 0; k < name->n; k++)
        if (s->token[i + k].claimed || !holds(name, s->token[i + k].word))
            return false;
    for (int k = 0; k < name->n; k++) {
        bool there = false;
        for (int j = 0; j < name->n; j++)
            there = there || strcmp(s->token[i + j].word, name->word[k]) == 0;
        if (!there)
            return false;
    }
    return true;
}

/* ---- how much of it ---- */

static bool is_word(const struct sentence *s, int i, const char *word)
{
    return i >= 0 && i < s->n && strcmp(s->token[i].word, word) == 0;
}

static double share_before(const struct sentence *s, int i)
{
    if (is_word(s, i - 1, "half"))
        return is_word(s, i - 2, "other") || is_word(s, i - 2, "second") ? -1 : 0.5;
    if (is_word(s, i - 1, "third"))
        return is_word(s, i - 2, "two") ? 2.0 / 3 : 1.0 / 3;
    if (is_word(s, i - 1, "quarter"))
        return is_word(s, i - 2, "three") ? 0.75 : 0.25;
    if (is_word(s, i - 1, "rest") || is_word(s, i - 1, "remaining") || is_word(s, i - 1, "remainder"))
        return -1;
    return 1;
}

static bool excepted(const struct sentence *s, int i)
{
    for (int k = i - 1; k >= 0 && k >= i - 6; k--)
        if (is_word(s, k, "except") || is_word(s, k, "excepting") || is_word(s, k, "without") ||
            (is_word(s, k, "but") && (is_word(s, k - 1, "all") || is_word(s, k - 1, "everything"))))
            return true;
    return false;
}

struct finding {
    const struct st_taking *t;
    struct sentence s;
    struct st_mention *out;
    int n;
};

static void found(struct finding *f, int entry, int i, int words)
{
    if (f->n < ST_TAKE_MENTIONS)
        f->out[f->n++] = (struct st_mention){
            .entry = entry, .at = f->s.token[i].at, .share = share_before(&f->s, i), .except = excepted(&f->s, i)
        };
    for (int k = 0; k < words; k++)
        f->s.token[i + k].claimed = true;
}

static bool named_already(const struct finding *f, int entry)
{
    for (int k = 0; k < f->n; k++)
        if (f->out[k].entry == entry)
            return true;
    return false;
}

/* Names of one length; free entries first, so that a second sugar takes the second mention. */
static void find_names(struct finding *f, int words, bool left)
{
    for (int e = 0; e < f->t->n_entry; e++) {
        const struct st_entry *entry = &f->t->entry[e];
        if ((entry->left > 0) != left || entry->free)
            continue;
        for (int k = 0; k < entry->n_name; k++)
            for (int i = 0; entry->name[k].n == words && i + words <= f->s.n; i++)
                if (fits(&f->s, i, &entry->name[k]))
                    found(f, e, i, words);
    }
}

/* "sweet almond" is meant by "the almonds" where nothing else is. */
static void find_heads(struct finding *f)
{
    for (int e = 0; e < f->t->n_entry; e++) {
        const struct st_entry *entry = &f->t->entry[e];
        const struct st_name_words *n = &entry->name[0];
        if (entry->left <= 0 || entry->free || named_already(f, e) || n->n < 1)
            continue;
        for (int w = n->n - 1; w >= 0 && !named_already(f, e); w--)
            for (int i = 0; i < f->s.n && strlen(n->word[w]) > 3 && !st_name_is_soft(n->word[w]); i++)
                if (!f->s.token[i].claimed && strcmp(f->s.token[i].word, n->word[w]) == 0) {
                    found(f, e, i, 1);
                    break;
                }
    }
}

/* ---- words for a whole kind ---- */

#define K(kind) (1ull << ST_KIND_##kind)
#define FRUIT   (K(FRESH_FRUIT) | K(FROZEN_FRUIT) | K(TINNED_FRUIT) | K(DRIED_FRUIT) | K(GREEN_FRUIT) | K(BERRY_DRY))
#define PEEL    (K(PEEL_FRESH) | K(PEEL_DRY))
#define SPICE                                                                                                          \
    (K(SEED) | K(BARK) | K(ROOT_DRY) | K(ROOT_FRESH) | K(BEAN) | K(POWDER) | K(BERRY_DRY) | K(PEEL_DRY) |              \
     K(FLOWER_DRY) | K(HERB_DRY))
#define HERB (K(HERB_FRESH) | K(HERB_DRY) | K(FLOWER_FRESH) | K(FLOWER_DRY))

static const struct {
    const char *word;
    unsigned long long kinds;
} CLASS[] = {
    { "fruit", FRUIT },
    { "berry", FRUIT },
    { "spice", SPICE },
    { "aromatic", SPICE },
    { "herb", HERB },
    { "leaf", HERB },
    { "flower", K(FLOWER_FRESH) | K(FLOWER_DRY) },
    { "peel", PEEL },
    { "nut", K(NUT) },
    { "kernel", K(KERNEL) },
    { "bean", K(BEAN) | K(COFFEE) },
    { "alcohol", K(SPIRIT) },
    { "spirit", K(SPIRIT) },
    { "booze", K(SPIRIT) },
    { "sugar", K(SUGAR) },
    { "sweeten", K(SUGAR) | K(SYRUP) | K(SWEETENER) },
    { "sweetener", K(SUGAR) | K(SYRUP) | K(SWEETENER) },
    { "juice", K(JUICE) },
    { "cream", K(DAIRY) },
    { "milk", K(DAIRY) },
    { "egg", K(EGG) },
    { "yolk", K(EGG) },
    { "coffee", K(COFFEE) | K(BREW) },
};

static bool has_claim_of(const struct finding *f, unsigned long long kinds)
{
    for (int k = 0; k < f->n; k++)
        if (!f->out[k].except && (kinds >> f->t->entry[f->out[k].entry].what->kind & 1))
            return true;
    return false;
}

static void find_classes(struct finding *f)
{
    for (int i = 0; i < f->s.n; i++)
        for (size_t c = 0; c < sizeof CLASS / sizeof CLASS[0] && !f->s.token[i].claimed; c++) {
            if (strcmp(f->s.token[i].word, CLASS[c].word) != 0)
                continue;
            if (has_claim_of(f, CLASS[c].kinds))
                break;
            for (int e = 0; e < f->t->n_entry; e++)
                if ((CLASS[c].kinds >> f->t->entry[e].what->kind & 1) && f->t->entry[e].left > 0 &&
                    !f->t->entry[e].free && !named_already(f, e))
                    found(f, e, i, 1);
        }
}

/* "Put it all in a jar." */
static void find_all(struct finding *f, const char *sentence)
{
    if (f->s.n == 0 ||
        !st_take_has_word(sentence, "it all|all in|all into|all together|combine all|mix all|them all|all of it|"
                                    "everything|the lot|all the ingredients|all ingredients"))
        return;
    bool before = false; /* is there a list above? else it stands below */
    for (int e = 0; e < f->t->n_entry; e++)
        before = before || f->t->entry[e].row < f->t->now;
    for (int e = 0; e < f->t->n_entry; e++)
        if (f->t->entry[e].left > 0 && !f->t->entry[e].free && !named_already(f, e) &&
            (!before || f->t->entry[e].row < f->t->now))
            found(f, e, 0, 0);
}

int st_take_mentions(const struct st_taking *t, const char *sentence, struct st_mention out[ST_TAKE_MENTIONS])
{
    struct finding f = { .t = t, .out = out };
    split(sentence, &f.s);
    for (int words = 4; words >= 1; words--) {
        find_names(&f, words, true);
        find_names(&f, words, false);
    }
    find_heads(&f);
    find_classes(&f);
    find_all(&f, sentence);
    return f.n;
}
