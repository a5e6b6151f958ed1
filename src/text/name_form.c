#include "name_form.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Letters with accents, as their two bytes of UTF-8 follow U+00C0..U+00FF; '*' stands for two letters (below). */
static const char LATIN1[] = "aaaaaa*ceeeeiiiidnooooo ouuuuy**aaaaaa*ceeeeiiiidnooooo ouuuuy*y";
/* U+0100..U+017F */
static const char LATIN_A[] = "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiii**jjkkklllllllllln"
                              "nnnnnnnnoooooo**rrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";

static const char *two_letters(unsigned code)
{
    switch (code) {
    case 0xC6: case 0xE6: return "ae";
    case 0xDF: return "ss";
    case 0xDE: case 0xFE: return "th";
    case 0x132: case 0x133: return "ij";
    case 0x152: case 0x153: return "oe";
    default: return "";
    }
}

/* The letters that stand for one character at p: 0, 1 or 2 of a-z and 0-9, ' ' for what parts words. */
static size_t fold(const unsigned char *p, size_t left, char out[3], size_t *used)
{
    const unsigned c = p[0];

    *used = 1;
    out[0] = ' ';
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
        out[0] = (char)c;
    else if (c >= 'A' && c <= 'Z')
        out[0] = (char)(c - 'A' + 'a');
    else if (c == '\'')
        return 0;
    if (c < 0xC3 || left < 2) {
        return 1;
    } else if (c <= 0xC5) {
        const unsigned code = (c & 0x1Fu) << 6 | (p[1] & 0x3Fu);
        *used = 2;
        if (code < 0x100)
            out[0] = LATIN1[code - 0xC0];
        else
            out[0] = LATIN_A[code - 0x100];
        if (out[0] != '*')
            return 1;
        const char *two = two_letters(code);
        const size_t n = strlen(two);
        memcpy(out, two, n);
        return n;
    } else if (left >= 3 && c == 0xE2 && p[1] == 0x80 && (p[2] == 0x98 || p[2] == 0x99)) {
        *used = 3; /* a typographer's apostrophe */
        return 0;
    }
    return 1;
}

static bool ends(const char *word, size_t n, const char *tail)
{
    const size_t t = strlen(tail);
    return n > t && memcmp(word + n - t, tail, t) == 0;
}

/* Singular and plural meet: cherries, cherry; sloes, sloe; peaches, peach; leaves, leaf. */
static void singular(char *word)
{
    size_t n = strlen(word);
    if (n < 3 || strcmp(word, "bitters") == 0) /* orange bitters are no bitter orange */
        return;
    if (ends(word, n, "eaves") || ends(word, n, "alves")) {
        memcpy(word + n - 3, "f", 2);
        return;
    }
    if (word[n - 1] == 's' && !ends(word, n, "ss") && !ends(word, n, "us") && !ends(word, n, "is"))
        word[--n] = '\0';
    if (ends(word, n, "ie") && n > 3) {
        word[--n] = '\0';
        word[n - 1] = 'y';
    } else if (ends(word, n, "oe") || ends(word, n, "che") || ends(word, n, "she") || ends(word, n, "xe") ||
               ends(word, n, "sse")) {
        word[--n] = '\0';
    }
}

static bool is_one_of(const char *word, const char *const list[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (word[0] == list[i][0] && strcmp(word, list[i]) == 0)
            return true;
    return false;
}
#define IS_ONE_OF(word, list) is_one_of(word, list, sizeof(list)/sizeof (list)[0])

/* One spelling for each thing; both sides are folded and singular. */
static void one_spelling(char *word)
{
    static const char *const same[][2] = {
        { "zest", "peel" }, { "rind", "peel" }, { "canned", "tinned" }, { "dry", "dried" },
        { "dehydrated", "dried" }, { "licorice", "liquorice" }, { "chili", "chilli" }, { "chile", "chilli" },
        { "chilly", "chilli" }, { "chily", "chilli" }, { "whiskey", "whisky" }, { "pit", "stone" },
        { "kernal", "kernel" },
        { "cardamon", "cardamom" }, { "cardamum", "cardamom" }, { "cinamon", "cinnamon" },
        { "cinnammon", "cinnamon" }, { "rasberry", "raspberry" }, { "vanila", "vanilla" }, { "vannila", "vanilla" },
        { "anis", "anise" }, { "tangerin", "tangerine" }, { "defrosted", "frozen" }, { "thawed", "frozen" },
    };
    for (size_t i = 0; i < sizeof same/sizeof same[0]; i++) {
        if (word[0] == same[i][0][0] && strcmp(word, same[i][0]) == 0) {
            memcpy(word, same[i][1], strlen(same[i][1]) + 1);
            return;
        }
    }
}

static bool is_filler(const char *word)
{
    static const char *const filler[] = { "of", "the", "a", "an", "and", "some", "with", "from", "our", "my" };
    return IS_ONE_OF(word, filler);
}

int st_name_is_dried(const char *word)
{
    return strcmp(word, "dried") == 0;
}

int st_name_is_ground(const char *word)
{
    static const char *const ground[] = { "ground", "powdered", "roasted", "toasted" };
    return IS_ONE_OF(word, ground);
}

int st_name_is_soft(const char *word)
{
    /* "wild" is none: a gathered plant is not its garden kin. */
    static const char *const soft[] = {
        "fresh", "freshly", "ripe", "whole", "raw", "organic", "unwaxed", "untreated", "unsprayed", "washed",
        "chopped", "sliced", "pitted", "stoned", "peeled", "halved", "quartered", "crushed", "bruised", "cracked",
        "pricked", "large", "small", "medium", "big", "little", "good", "best", "quality", "finely", "thinly", "thin",
        "thick", "roughly", "coarsely", "coarse", "fine", "pure", "plain", "natural", "cold", "warm", "hot", "boiled",
        "boiling", "chilled", "cooled", "filtered", "squeezed", "grated", "picked", "ground", "powdered", "homemade",
        "heaped", "broken", "torn", "split", "toasted", "roasted", "lightly", "unsalted", "shelled", "blanched",
        "bought", "food", "grade", "unsulphured", "unsulfured", "sulphured", "sulfured", "cored", "trimmed", "very",
        "firm", "soft", "seedless", "deseeded", "destoned", "hulled", "topped", "tailed", "removed", "unpeeled",
        "drained", "table", "everyday", "half", "piece", "granulated", "premium", "cheap", "in", "strip", "wide", "long",
        "uncoated", "dusted", "size", "1", "2", "3",
    };
    return IS_ONE_OF(word, soft);
}

static void keep_word(struct st_name_words *out, char *word)
{
    singular(word);
    one_spelling(word);
    if (strcmp(word, "of") == 0 && out->n > 0 && strcmp(out->word[out->n - 1], "cream") == 0)
        memcpy(out->word[out->n - 1], "creamof", sizeof "creamof"); /* cream of coconut is no coconut cream */
    else if (!is_filler(word) && *word)
        memcpy(out->word[out->n++], word, strlen(word) + 1);
}

void st_name_split(const char *name, size_t size, struct st_name_words *out)
{
    const unsigned char *p = (const unsigned char *)name;
    char word[ST_NAME_WORD_BYTES], letters[3];
    size_t n = 0, used;

    out->n = 0;
    if (size > ST_NAME_BYTES)
        size = ST_NAME_BYTES;
    for (size_t i = 0; i < size && out->n < ST_NAME_WORDS && p[i]; i += used) {
        const size_t k = fold(p + i, size - i, letters, &used);
        for (size_t j = 0; j < k; j++) {
            if (letters[j] != ' ') {
                if (n + 12 < sizeof word) /* room for a longer spelling of the same word */
                    word[n++] = letters[j];
            } else if (n > 0) {
                word[n] = '\0';
                n = 0;
                keep_word(out, word);
            }
        }
    }
    word[n] = '\0';
    if (n > 0 && out->n < ST_NAME_WORDS)
        keep_word(out, word);
}

size_t st_name_join(const struct st_name_words *w, unsigned leave_out, char form[ST_NAME_BYTES*2])
{
    const char *sorted[ST_NAME_WORDS];
    int n = 0;
    size_t length = 0;

    for (int i = 0; i < w->n; i++) {
        if (leave_out >> i & 1u)
            continue;
        int at = n++;
        for (; at > 0 && strcmp(sorted[at - 1], w->word[i]) > 0; at--)
            sorted[at] = sorted[at - 1];
        sorted[at] = w->word[i];
    }
    for (int i = 0; i < n; i++) {
        const size_t k = strlen(sorted[i]);
        if (i > 0)
            form[length++] = ' ';
        memcpy(form + length, sorted[i], k);
        length += k;
    }
    form[length] = '\0';
    return length;
}
