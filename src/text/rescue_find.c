#include <ctype.h>
#include <string.h>

#include "name_form.h"
#include "near.h"
#include "rescue.h"

/* A maker's words against the phrases of the sheet, word by word whatever their order: a phrase is said when each of
 * its words is there, by its letters, by its stem or with a slip. */

enum { SAID_WORDS = 40, PHRASE_WORDS = 10, WORD = ST_NAME_WORD_BYTES };

struct words {
    char word[SAID_WORDS][WORD];
    int n;
};

/* Words that tell nothing here; what is in a bottle and a jar is everywhere. */
static bool is_filler(const char *word)
{
    static const char LIST[] =
        "|a|an|and|the|it|its|is|are|was|has|have|had|my|our|of|in|into|on|at|to|from|with|i|me|there|this|that|some|"
        "very|quite|bit|been|be|liqueur|drink|bottle|jar|when|after|what|which|so|all|got|went|gone|like|as|by|for|";
    const size_t n = strlen(word);
    for (const char *p = LIST; (p = strstr(p, word)) != NULL; p += n)
        if (p[-(p > LIST)] == '|' && p[n] == '|')
            return true;
    return false;
}

static void add_word(struct words *out, const char *text, size_t n)
{
    struct st_name_words one;
    char low[WORD] = "";
    for (size_t i = 0; i < n && i + 1 < sizeof low; i++)
        low[i] = (char)tolower((unsigned char)text[i]);
    if (is_filler(low))
        return;
    st_name_split(text, n, &one);
    for (int i = 0; i < one.n && out->n < SAID_WORDS; i++)
        memcpy(out->word[out->n++], one.word[i], WORD);
}

static void split(const char *text, size_t size, struct words *out)
{
    static const char PARTS[] = " \t\r\n.,;:!?()\"/-|";
    out->n = 0;
    for (size_t i = 0; i < size;) {
        size_t n = 0;
        while (i + n < size && !strchr(PARTS, text[i + n]))
            n++;
        if (n > 0)
            add_word(out, text + i, n);
        i += n + 1;
    }
}

/* The same but for an ending: fizzes, fizzy; curdled, curdles; crystals, crystallised. */
static bool same_stem(const char *a, const char *b)
{
    const size_t na = strlen(a), nb = strlen(b), longer = na > nb ? na : nb;
    size_t k = 0;
    while (a[k] && a[k] == b[k])
        k++;
    return k >= 4 && longer - k <= 4 && 2 * k > longer && na - k <= 3 + (k > 6) && nb - k <= 3 + (k > 6);
}

/* What goes into a drink is no fault of it: water is not watery, syrup not syrupy. */
static bool is_goods(const char *said)
{
    return strcmp(said, "water") == 0 || strcmp(said, "syrup") == 0;
}

/* a: of the sheet; b: as said. */
static bool same_word(const char *a, const char *b)
{
    const size_t na = strlen(a), nb = strlen(b);
    if (strcmp(a, b) == 0)
        return true;
    if (na < 4 || nb < 4 || isdigit((unsigned char)*a) || is_goods(b))
        return false;
    return same_stem(a, b) || (*a == *b && st_near_word(a, na, b, nb) >= 0.8);
}

/* What of a phrase was said. */
struct fit {
    int n, of;               /* words said, and all of them */
    int exact;               /* said letter by letter */
    unsigned long long said; /* which of the maker's words were used */
};

/* Which of the maker's words this one is, by its letters before anything else; -1 none. */
static int where_said(const struct words *said, const char *word)
{
    for (int k = 0; k < said->n; k++)
        if (strcmp(word, said->word[k]) == 0)
            return k;
    for (int k = 0; k < said->n; k++)
        if (same_word(word, said->word[k]))
            return k;
    return -1;
}

static struct fit fit_phrase(const struct words *said, const char *phrase, size_t size)
{
    struct words w;
    struct fit f = { 0 };
    split(phrase, size, &w);
    f.of = w.n;
    for (int i = 0; i < w.n; i++) {
        const int k = where_said(said, w.word[i]);
        if (k < 0)
            continue;
        f.n++;
        f.exact += strcmp(w.word[i], said->word[k]) == 0;
        f.said |= 1ULL << k;
    }
    return f;
}

static bool better(const struct fit *a, const struct fit *b)
{
    const bool a_whole = a->of > 0 && a->n == a->of, b_whole = b->of > 0 && b->n == b->of;
    if (a_whole != b_whole)
        return a_whole;
    if (a->n != b->n)
        return a->n > b->n;
    if (a->exact != b->exact)
        return a->exact > b->exact;
    return a->n > 0 && a->of < b->of;
}

/* The phrase of a row that says most of what was said; words of taken are used up. */
static struct fit fit_row(const struct words *said, const struct st_rescue_row *row, unsigned long long taken)
{
    const char *const list[] = { row->name, row->words };
    struct fit best = { 0 };
    for (int i = 0; i < 2; i++)
        for (const char *p = list[i]; *p;) {
            const size_t n = strcspn(p, "|");
            const struct fit f = fit_phrase(said, p, n);
            if ((f.said & ~taken) && better(&f, &best))
                best = f;
            p += n + (p[n] == '|');
        }
    return best;
}

static bool holds(const struct st_rescue_found *found, const struct st_rescue_row *row)
{
    for (int i = 0; i < found->n; i++)
        if (found->row[i] == row)
            return true;
    return false;
}

/* The best row that is not yet found and says something new. */
static const struct st_rescue_row *next_row(const struct st_rescue_book *book, const struct words *said,
                                            const struct st_rescue_found *found, unsigned long long taken,
                                            struct fit *fit)
{
    const struct st_rescue_row *best = NULL;
    *fit = (struct fit){ 0 };
    for (int i = 0; i < book->n_row; i++) {
        if (holds(found, &book->row[i]))
            continue;
        const struct fit f = fit_row(said, &book->row[i], taken);
        if (2 * f.n >= f.of && f.n > 0 && (!best || better(&f, fit))) {
            best = &book->row[i];
            *fit = f;
        }
    }
    return best;
}

/* Worst verdict first, else as they were found. */
static void worst_first(struct st_rescue_found *found)
{
    for (int i = 1; i < found->n; i++)
        for (int k = i; k > 0 && found->row[k]->verdict > found->row[k - 1]->verdict; k--) {
            const struct st_rescue_row *swap = found->row[k];
            found->row[k] = found->row[k - 1];
            found->row[k - 1] = swap;
        }
}

void st_rescue_find(const struct st_rescue_book *book, const char *words, struct st_rescue_found *found)
{
    struct words said;
    unsigned long long taken = 0;

    *found = (struct st_rescue_found){ .n = 0 };
    split(words, strlen(words), &said);
    while (found->n < ST_RESCUE_FOUND) {
        struct fit f;
        const struct st_rescue_row *row = next_row(book, &said, found, taken, &f);
        const bool whole = row && f.n == f.of;
        if (!row || (found->sure && !whole))
            break;
        if (found->n == 0)
            found->sure = whole;
        found->row[found->n++] = row;
        taken |= found->sure ? f.said : 0;
        if (!found->sure && found->n == 3)
            break;
    }
    if (found->sure)
        worst_first(found);
}
