#include "plant_part.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "name_form.h"

/* Words as name_form.h folds them, and the kinds that are of that part whatever the plant. */
#define OF(kind) (1ull << (kind))
static const unsigned long long HERBS = OF(ST_KIND_HERB_FRESH) | OF(ST_KIND_HERB_DRY);
static const unsigned long long ROOTS = OF(ST_KIND_ROOT_FRESH) | OF(ST_KIND_ROOT_DRY);
static const unsigned long long SEEDS = OF(ST_KIND_SEED) | OF(ST_KIND_KERNEL) | OF(ST_KIND_NUT);
static const unsigned long long FLOWERS = OF(ST_KIND_FLOWER_FRESH) | OF(ST_KIND_FLOWER_DRY);
static const unsigned long long FRUIT = OF(ST_KIND_FRESH_FRUIT) | OF(ST_KIND_FROZEN_FRUIT) | OF(ST_KIND_DRIED_FRUIT) |
                                        OF(ST_KIND_TINNED_FRUIT) | OF(ST_KIND_GREEN_FRUIT) | OF(ST_KIND_BERRY_DRY) |
                                        OF(ST_KIND_SEED);

struct part {
    const char *words;
    unsigned long long kinds;
};

static int part_of(const char *word, size_t n, struct part *out)
{
    const struct part PART[] = {
        { "|leaf|needle|frond|tip|shoot|", HERBS },
        { "|stalk|stem|", HERBS },
        { "|root|rhizome|tuber|bulb|corm|", ROOTS },
        { "|bark|", OF(ST_KIND_BARK) },
        { "|wood|", OF(ST_KIND_WOOD) | OF(ST_KIND_BARK) },
        { "|seed|pip|kernel|stone|", SEEDS },
        { "|flower|blossom|petal|", FLOWERS },
        { "|berry|", FRUIT },
        { "|sap|resin|latex|oil|water|", 0 },
    };
    struct st_name_words w;
    char key[ST_NAME_WORD_BYTES + 2];

    st_name_split(word, n, &w);
    if (w.n != 1)
        return 0;

    (void)snprintf(key, sizeof key, "|%s|", w.word[0]);

    for (size_t i = 0; i < sizeof PART / sizeof PART[0]; i++)
        if (strstr(PART[i].words, key)) {
            *out = PART[i];
            return 1;
        }
    return 0;
}

/* One of the names in the list ("a b|c d") has this word, folded. */
static bool has_word(const char *list, const char *folded)
{
    struct st_name_words w;
    for (const char *p = list ? list : ""; *p;) {
        const size_t n = strcspn(p, "|");
        st_name_split(p, n, &w);
        for (int i = 0; i < w.n; i++)
            if (strcmp(w.word[i], folded) == 0)
                return true;
        p += n + (p[n] == '|');
    }
    return false;
}

bool st_is_plant_part(const char *word, size_t n)
{
    struct part part;
    return part_of(word, n, &part) != 0;
}

bool st_stands_for_part(const struct st_ingredient *in, const char *word, size_t n)
{
    struct st_name_words w;
    struct part part;

    if (!part_of(word, n, &part) || part.kinds & OF(in->kind))
        return true;
    st_name_split(word, n, &w);
    return has_word(in->name, w.word[0]) || has_word(in->names, w.word[0]) || has_word(in->piece_names, w.word[0]);
}

const char *st_part_in(const char *name, size_t size, size_t *n)
{
    for (size_t i = 0; i < size;) {
        size_t end = i;
        while (end < size && (isalpha((unsigned char)name[end]) || (unsigned char)name[end] >= 0x80))
            end++;
        if (end > i && st_is_plant_part(name + i, end - i)) {
            *n = end - i;
            return name + i;
        }
        i = end > i ? end : i + 1;
    }
    return NULL;
}
