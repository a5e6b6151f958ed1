#include <stdio.h>
#include <string.h>

#include "take_tokens.h"

static const char TAILS[] = "for|into|per|until|so|because|which|that|where|when|while|if|but|except|instead|from|in|"
                            "stuck|not|then|or|plus|to";

static bool is_word_byte(char c)
{
    return st_is_letter((unsigned char)c) || st_is_digit((unsigned char)c) || c == '\'' || (c & 0x80) != 0 || c == ':';
}

static void add(struct st_tokens *t, const char *word, size_t n, size_t at, size_t length, int part)
{
    if (t->n == ST_ITEM_WORDS || n == 0)
        return;
    struct st_token *k = &t->of[t->n++];
    if (n >= sizeof k->word)
        n = sizeof k->word - 1;
    memcpy(k->word, word, n);
    k->word[n] = '\0';
    for (char *c = k->word; *c; c++)
        if (*c >= 'A' && *c <= 'Z')
            *c = (char)(*c | 0x20);
    k->at = at;
    k->n = length;
    k->part = part;
    k->drop = k->renamed = false;
}

void st_tokens_split(const struct st_item *it, struct st_tokens *t, bool rename)
{
    const char *work = it->d.work;
    int part = 0;

    t->n = 0;
    for (size_t i = 0; i < it->d.n;) {
        struct st_scan s = { work + i, work + it->d.n };
        if (!is_word_byte(work[i])) {
            part += strchr(",;()[]", work[i]) != NULL && t->n > 0;
            i++;
            continue;
        }
        const struct st_word *w = rename ? st_words_at(&s, ST_WORD_BIT(ST_WORD_NAME)) : NULL;
        if (w) {
            const size_t from = (size_t)t->n;
            add(t, w->value, strlen(w->value), i, (size_t)(s.at - work) - i, part);
            if ((size_t)t->n > from)
                t->of[from].renamed = true;
            i = (size_t)(s.at - work);
            continue;
        }
        if (t->n > 0 && st_scan_word(&s, TAILS))
            part++;
        size_t n = 0;
        while (i + n < it->d.n && is_word_byte(work[i + n]) &&
               (work[i + n] != ':' || (i + n + 1 < it->d.n && st_is_digit((unsigned char)work[i + n + 1]))))
            n++;
        if (n == 0) {
            i++;
            continue;
        }
        add(t, work + i, n, i, n, part);
        i += n;
    }
}

/* Mark words that say nothing: phrases of the list, from where they begin. */
void st_tokens_drop(const struct st_item *it, struct st_tokens *t)
{
    for (int i = 0; i < t->n; i++) {
        struct st_scan s = { it->d.work + t->of[i].at, it->d.work + it->d.n };
        if (t->of[i].renamed || t->of[i].drop)
            continue;
        if (!st_words_at(&s, ST_WORD_BIT(ST_WORD_DROP) | ST_WORD_BIT(ST_WORD_LEAD) | ST_WORD_BIT(ST_WORD_STRONG)))
            continue;
        for (int k = i; k < t->n && it->d.work + t->of[k].at < s.at; k++)
            t->of[k].drop = true;
    }
}

size_t st_tokens_join(const struct st_tokens *t, int from, int n, char *out, size_t size)
{
    size_t used = 0;

    out[0] = '\0';
    for (int i = from; i < from + n; i++) {
        const int k = snprintf(out + used, size - used, "%s%s", used ? " " : "", t->of[i].word);
        if (k < 0 || used + (size_t)k >= size)
            break;
        used += (size_t)k;
    }
    return used;
}

bool st_token_is_piece(const struct st_token *k)
{
    return st_words_value(ST_WORD_PIECE, k->word) != NULL;
}

bool st_token_is_number(const struct st_token *k)
{
    return st_is_digit((unsigned char)k->word[0]);
}

size_t st_tokens_bare(const struct st_tokens *t, bool pieces, char *out, size_t size)
{
    struct st_tokens bare = { .n = 0 };
    int part = -1;

    for (int i = 0; i < t->n; i++) {
        if (t->of[i].drop || (!pieces && st_token_is_piece(&t->of[i])) || st_token_is_number(&t->of[i]))
            continue;
        if (part < 0)
            part = t->of[i].part;
        if (t->of[i].part == part)
            bare.of[bare.n++] = t->of[i];
    }
    return st_tokens_join(&bare, 0, bare.n, out, size);
}
