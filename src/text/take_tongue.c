#include <stdio.h>
#include <string.h>

#include "take_prose.h"
#include "take_words.h"

/* Text in other languages: it is not read, and somebody who pasted it should not have to guess why. */

enum { MOST_TONGUES = 8, WORDS_TOLD = 3 };

struct tongue {
    const char *name;
    const char *word[WORDS_TOLD];
    int n; /* different words */
    bool unread;
};

static bool begins_word(const char *text, size_t i)
{
    return st_take_is_word_byte(text[i]) && (i == 0 || !(st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\''));
}

static struct tongue *tongue_named(struct tongue list[MOST_TONGUES], const char *name)
{
    for (int i = 0; i < MOST_TONGUES; i++)
        if (!list[i].name || strcmp(list[i].name, name) == 0) {
            list[i].name = name;
            return &list[i];
        }
    return NULL;
}

static void hear(struct tongue *k, const char *word, bool unread)
{
    k->unread = k->unread || unread;
    for (int i = 0; i < k->n && i < WORDS_TOLD; i++)
        if (strcmp(k->word[i], word) == 0)
            return;
    if (k->n < WORDS_TOLD)
        k->word[k->n] = word;
    k->n++;
}

static void listen(struct tongue list[MOST_TONGUES], const struct st_taken *r)
{
    const char *text = r->own;
    const bool unread = r->item->role == ST_TAKE_INGREDIENT && (r->item->sure == ST_UNREAD || r->item->n_ask > 0);
    for (size_t i = 0; text[i]; i++) {
        struct st_scan s = { text + i, text + strlen(text) };
        const struct st_word *w = begins_word(text, i) ? st_words_at(&s, ST_WORD_BIT(ST_WORD_TONGUE)) : NULL;
        struct tongue *k = w ? tongue_named(list, w->value) : NULL;
        if (k)
            hear(k, w->phrase, unread);
    }
}

void st_take_say_tongue(struct st_taking *t)
{
    struct tongue list[MOST_TONGUES] = { 0 };
    const struct tongue *most = NULL;

    for (int i = 0; i < t->n_row; i++)
        if (i == 0 || t->row[i].own != t->row[i - 1].own)
            listen(list, &t->row[i]);
    for (int i = 0; i < MOST_TONGUES && list[i].name; i++)
        if ((list[i].n > 1 || list[i].unread) && (!most || list[i].n > most->n))
            most = &list[i];
    if (!most)
        return;
    t->foreign = st_arena_printf(
        t->arena, "Some of this looks %s (%s%s%s%s%s): only English is read yet. Say those lines in English.",
        most->name, most->word[0], most->n > 1 ? ", " : "", most->n > 1 ? most->word[1] : "", most->n > 2 ? ", " : "",
        most->n > 2 ? most->word[2] : "");
    st_take_say(t, "%s", t->foreign);
}
