#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "core/units.h"
#include "quantity.h"
#include "take_inside.h"
#include "take_prose.h"

/* Things that a sentence puts in and nobody knows: "stir in the quonk". */

/* What was spoken of before, tools, and words that only tell how. */
static const char SPOKEN_OF[] =
    "it|its|them|this|that|these|those|everything|all|fruit|fruits|berries|mixture|mix|liquid|liquids|liquor|contents|"
    "ingredients|ingredient|solids|rest|remaining|remainder|jar|jars|bottle|bottles|half|other|others|one|ones|spices|"
    "spice|herbs|herb|flavourings|flavouring|flavorings|aromatics|botanicals|more|little|bit|some|any|syrup|infusion|"
    "spirit|alcohol|pieces|skins|stones|pits|pulp|peel|peels|zest|rind|juice|seeds|leaves|flowers|petals|kernels|"
    "powder|"
    "bag|cloth|lid|colour|color|taste|flavour|flavor|batch|amount|quantity|time|times|day|days|week|weeks|ice|heat|"
    "thing|"
    "things|hand|pan|bowl|sieve|filter|paper|last|love|care|patience|first|second|same|together|again|slowly|gently|"
    "well|drink|liqueur|"
    "cordial|sweetener|sweetness|solution|base|goods|stuff|lot|spoon|nothing|none|too|also|enough|up|cool|cold|hot|"
    "warm|"
    "room|place|cupboard|flesh|slices|halves|quarters|stalks|pods|sticks|nuts|beans|wine|beer|drops|water|on|off|out";
static const char LINK[] = "and|with|plus|or|along with|together with|as well as";
static const char STOP[] =
    "to|into|in|until|till|for|over|from|at|on|while|when|then|by|before|after|if|as|so|which|that|but|per|not|than|"
    "through|under|because|without|is|are|was|were|will|has|have|it|you|we|i|they|he|she|every|once|onto|around|about|"
    "between|during|now|next|right|except";

static size_t word_end(const char *text, size_t i, size_t end)
{
    while (i < end && (st_take_is_word_byte(text[i]) || text[i] == '\'' || text[i] == '-'))
        i++;
    return i;
}

/* Does the program know this word in some way? */
static bool is_known(const struct st_catalogue *c, const char *text, size_t i, size_t end)
{
    struct st_scan s = { text + i, text + end };
    const struct st_unit *unit[8];
    size_t n = 0;

    while (i + n < end && st_is_letter((unsigned char)text[i + n]))
        n++;
    if (n < 3 || n < end - i || (unsigned char)text[i] >= 0x80)
        return true; /* figures, short words, other scripts */
    if (n > 4 && (memcmp(text + end - 2, "ly", 2) == 0 || memcmp(text + end - 2, "ed", 2) == 0))
        return true; /* how it is done, or what was done with it */
    for (size_t k = end; k < end + 40 && text[k]; k++)
        s.end = text + k; /* phrases of several words */
    return st_words_at(&s, ~0ull >> (64 - ST_NWORD)) != NULL || st_catalogue_find(c, text + i, n) != NULL ||
           st_unit_match(text + i, n, ST_MEASURES_US, ST_DIM_OPEN, unit, 8) > 0;
}

bool st_take_has_unknown(const struct st_catalogue *c, const char *text, size_t at, size_t end)
{
    bool unknown = false;

    for (size_t i = at, next; i < end; i = next) {
        size_t to;
        next = i + 1;
        if (!st_take_is_word_byte(text[i]) || (i > at && st_take_is_word_byte(text[i - 1])))
            continue;
        if (st_take_name_at(c, text, i, &to) && to <= end)
            return false;
        next = word_end(text, i, end);
        struct st_scan s = { text + i, text + next };
        unknown = unknown || (!st_scan_word(&s, SPOKEN_OF) && !is_known(c, text, i, next));
    }
    return unknown;
}

/* ---- in a sentence ---- */

/* Where the words for one thing end: before a sign, a link, or what is no name. */
static size_t thing_end(const char *text, size_t i, size_t end)
{
    while (i < end) {
        struct st_scan s = { text + i, text + end };
        if (strchr(".,;:()!?", text[i]) ||
            (st_take_is_word_byte(text[i]) && (st_scan_word(&s, LINK) || st_scan_word(&s, STOP))))
            break;
        i = word_end(text, i, end);
        while (i < end && !st_take_is_word_byte(text[i]) && !strchr(".,;:()!?", text[i]))
            i++;
    }
    while (i > 0 && text[i - 1] == ' ')
        i--;
    return i;
}

/* "a glug of quumquat essence": the name stands behind the last "of". */
static size_t name_of(const char *text, size_t i, size_t end)
{
    for (size_t k = i; k + 4 < end; k++)
        if (strncmp(text + k, " of ", 4) == 0)
            i = k + 4;
    return i;
}

static bool ends_spoken_of(const char *text, size_t i, size_t end)
{
    size_t last = end;
    while (last > i && st_take_is_word_byte(text[last - 1]))
        last--;
    struct st_scan s = { text + last, text + end };
    return last == end || st_scan_word(&s, SPOKEN_OF);
}

/* The next thing that a sentence puts in, from *from on: where, and its end; false: none. */
static bool next_put_in(const char *text, size_t *from, size_t *end)
{
    static const char PUT[] =
        "add in|add|added|throw in|threw in|stir in|stirred in|put in|drop in|dropped in|pour in|"
        "poured in|toss in|tossed in|mix in|mixed in|tip in|tipped in|sprinkle in|fold in|"
        "finish with|flavour with|flavor with|season with|scent with|put|threw|dropped|tipped|soaked|steeped|used";
    const size_t n = strlen(text);

    for (size_t i = *from; i < n; i++) {
        struct st_scan s = { text + i, text + n };
        const bool put = st_take_is_word_byte(text[i]) && st_word_begins(text, i) && st_scan_word(&s, PUT);
        if (!put && i == *from && i > 0) { /* behind a thing: another one, or a deed */
            while (s.at < s.end && strchr(" ,", *s.at))
                s.at++;
            const bool link = st_scan_word(&s, LINK) || s.at > text + i;
            if (!link || st_deed_begins(s.at, (size_t)(s.end - s.at)) || st_words_at(&s, ST_WORD_BIT(ST_WORD_PAST)))
                continue;
        } else if (!put)
            continue;
        st_scan_blanks(&s);
        *from = (size_t)(s.at - text);
        *end = thing_end(text, *from, n);
        if (*end > *from)
            return true;
    }
    return false;
}

bool st_take_unknown_in(const struct st_catalogue *c, const char *sentence, size_t *from, size_t *n)
{
    for (size_t end; next_put_in(sentence, from, &end); *from = end) {
        const size_t name = name_of(sentence, *from, end);
        struct st_scan s = { sentence + name, sentence + end };
        if (st_scan_word(&s, "no|nothing") || ends_spoken_of(sentence, name, end) ||
            !st_take_has_unknown(c, sentence, name, end))
            continue;
        *n = end - *from;
        return true;
    }
    return false;
}

/* ---- amounts that came into nothing ---- */

/* As st_take_has_unknown, and words of another language are of no name that is known. */
static bool is_foreign(const struct st_catalogue *c, const char *text, size_t at, size_t end)
{
    if (st_take_has_unknown(c, text, at, end))
        return true;
    bool tongue = false;
    for (size_t i = at, to; i < end; i++) {
        struct st_scan s = { text + i, text + end };
        if (!st_take_is_word_byte(text[i]) || (i > at && st_take_is_word_byte(text[i - 1])))
            continue;
        if (st_take_name_at(c, text, i, &to) && to <= end)
            return false;
        tongue = tongue || st_words_at(&s, ST_WORD_BIT(ST_WORD_TONGUE)) != NULL;
    }
    return tongue;
}

/* "600 g Schlehen in 700 ml gin": a weight or volume of the sentence that came into no item, with a name nobody knows; its
 * bytes from *at on, 0 none. */
size_t st_take_amount_left(const struct st_taking *t, const char *sentence, const struct st_take_item item[], int found,
                           size_t *at)
{
    for (size_t i = *at, used; sentence[i]; i++) {
        struct st_problem problem;
        struct st_amount a;
        bool read = false;
        if (!isdigit((unsigned char)sentence[i]) || (i && sentence[i - 1] != ' ') ||
            st_quantity_parse(sentence + i, strlen(sentence + i), t->measures, &a, &used, &problem) < 0 ||
            (a.dim != ST_DIM_MASS && a.dim != ST_DIM_VOLUME) || a.open != ST_CLOSED || !a.unit)
            continue;
        const size_t figure = strspn(sentence + i, "0123456789.,"), n = used + strcspn(sentence + i + used, ",.;:(");
        for (int k = 0; k < found; k++)
            read = read || strncmp(item[k].as, sentence + i, figure) == 0 || item[k].n_ask > 0 ||
                   item[k].sure == ST_UNREAD || strstr(item[k].as, "about ") != NULL;
        size_t end = used;
        while (end < n && strncmp(sentence + i + end, " in ", 4) != 0 &&
               strncmp(sentence + i + end, " with ", 6) != 0 && strncmp(sentence + i + end, " and ", 5) != 0 &&
               strncmp(sentence + i + end, " into ", 6) != 0)
            end++;
        if (!read && end > used + 2 && is_foreign(t->catalogue, sentence, i + used, i + end)) {
            *at = i;
            return end;
        }
        i += used - 1;
    }
    return 0;
}

/* "300 g schwarzdings": what it is, is asked; its amount is kept. */
void st_take_ask_what(const struct st_taking *t, struct st_take_item *item, const char *words, size_t n)
{
    struct st_problem problem;
    struct st_amount a;
    size_t used = 0;
    struct st_take_ask *ask = &item->ask[0];
    if (st_quantity_parse(words, n, t->measures, &a, &used, &problem) < 0 || used >= n)
        used = 0;
    while (used < n && words[used] == ' ')
        used++;
    *ask = (struct st_take_ask){ .kind = ST_ASK_WHICH };
    (void)snprintf(ask->ask, sizeof ask->ask, "What is \"%.*s\"?", (int)(n - used < 60 ? n - used : 60), words + used);
    (void)snprintf(ask->with, sizeof ask->with, "%.*s%s%%s", (int)(used < 60 ? used : 60), words,
                   used && words[used - 1] != ' ' ? " " : "");
    item->n_ask = 1;
}
