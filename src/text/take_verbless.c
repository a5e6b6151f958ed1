#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "number.h"
#include "quantity.h"
#include "take_prose.h"
#include "take_words.h"

/* ---- deeds without a verb: "6 weeks, dark."; "All into the jar." ---- */

bool st_take_time_at(const struct st_taking *t, const char *text, struct st_amount *out, size_t *where)
{
    struct st_problem p;
    struct st_amount a;
    size_t used;
    for (size_t i = 0; text[i]; i++) {
        if (i && (st_take_is_word_byte(text[i - 1]) || text[i - 1] == '.' || text[i - 1] == '-'))
            continue;
        if (!st_take_is_word_byte(text[i]))
            continue;
        struct st_scan s = { text + i, text + strlen(text) };
        const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_TIME));
        const char *said = w ? w->value : text + i;
        s = (struct st_scan){ text + i, text + strlen(text) };
        if (!w && st_scan_word(&s, "another|a further|one more") && st_scan_blanks(&s) && isalpha((unsigned char)*s.at))
            said = st_arena_printf(t->arena, "1 %.20s", s.at);
        if (st_quantity_parse(said, strlen(said), t->measures, &a, &used, &p) == 0 && a.dim == ST_DIM_TIME &&
            a.value > 0) {
            struct st_scan so = { said + used, said + strlen(said) };
            st_scan_blanks(&so);
            if (st_scan_word(&so, "or so|or thereabouts")) { /* as the reader of lines takes it */
                a.low *= 0.9;
                a.high *= 1.15;
                a.vague = true;
            }
            *out = a;
            *where = i;
            return true;
        }
    }
    return false;
}

bool st_take_has_time(const struct st_taking *t, const char *text)
{
    struct st_amount a;
    size_t where;
    return st_take_time_at(t, text, &a, &where);
}

bool st_take_find_time(const struct st_taking *t, const char *text, struct st_amount *out)
{
    size_t where;
    return st_take_time_at(t, text, out, &where);
}

static bool is_open_to_us(const struct st_take_item *i)
{
    return i->role == ST_TAKE_NOTE || i->role == ST_TAKE_HEADING ||
           (i->role == ST_TAKE_INGREDIENT && i->sure == ST_UNREAD);
}

void st_take_make_deed(struct st_take_item *item, enum st_do kind, const char *why)
{
    const size_t at = item->at, n = item->n;
    *item = (struct st_take_item){ .role = ST_TAKE_STEP, .sure = ST_LIKELY, .line = { .text = "", .from_step = -1 } };
    item->at = at;
    item->n = n;
    item->deed.kind = kind;
    item->deed.time.dim = ST_DIM_OPEN;
    item->deed.time.open = ST_OPEN_SOME;
    (void)snprintf(item->because, sizeof item->because, "%s", why);
}

/* "into three bottles" */
static int bottles_in(const char *sentence)
{
    for (const char *p = sentence; *p; p++) {
        struct st_scan s = { p, p + strlen(p) };
        struct st_number n;
        const char *why;
        if ((p == sentence || p[-1] == ' ') && *p != ' ' && st_number_read(&s, &n, &why) == 1 && n.value >= 1 &&
            n.value < 100 && n.low >= n.high && st_scan_word(&s, "bottles|bottle"))
            return (int)n.value;
    }
    return 0;
}

/* "sugar in, shake": that is all of it. */
static bool goes_in(const char *sentence)
{
    for (const char *p = strstr(sentence, " in"); p; p = strstr(p + 1, " in"))
        if (p[3] == '\0' || strchr(",.;", p[3]))
            return true;
    return false;
}

/* Was a straining told already? */
static bool was_strained(const struct st_taking *t)
{
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].item->role == ST_TAKE_STEP && t->row[i].item->deed.strain)
            return true;
    return false;
}

/* Items of a sentence in which the reader of lines found no deed; returns how many there are then. */
int st_take_verbless(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    struct st_amount time = { .dim = ST_DIM_OPEN };
    size_t where = 0;

    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_STEP || item[i].role == ST_TAKE_TITLE)
            return n;
    const bool timed = st_take_time_at(p->t, st_take_bare(sentence), &time, &where);
    const bool into = st_take_has_word(sentence, "into the jar|in the jar|in the big jar|in the large jar|in a big "
                                                 "jar|in a large jar|in a jar|into a jar|into jar|in jar|into|on "
                                                 "top|go in|goes in|in goes|in go|over that|"
                                                 "pour over") ||
                      goes_in(sentence);
    int things = 0;
    for (int i = 0; i < n; i++)
        things += item[i].role == ST_TAKE_INGREDIENT && item[i].sure != ST_UNREAD;
    if (st_take_has_word(sentence, "within|fridge|freezer|drink by|use by"))
        return n; /* how it keeps */
    if (timed && where < 6 &&
        st_take_has_word(sentence, "it goes|it turns|they go|they turn|it becomes|it gets|it looks"))
        return n; /* what becomes of it */
    const bool in_all = st_take_has_word(sentence, "in all|altogether|all told");
    if (timed && in_all) /* "shake it every day for a week ..., three months in all" */
        for (size_t i = where + 1; st_take_time_at(p->t, sentence + i, &time, &where); i += where + 1)
            continue;
    const bool ready = p->goods > 0 && st_take_has_word(sentence, "ready at|ready by|ready for|ready in|ready after|"
                                                                  "fit to drink|ready to drink");
    const bool wait =
        ready || (timed && in_all) ||
        (timed && (things > 1 || where < 6 ||
                   st_take_has_word(sentence, "wait|keep|after|wants|stand|stood|stands|sat|sits|lay|lies")));
    if (!p->prose && !p->story && p->section != ST_SECTION_METHOD && !(timed && where < 3 && p->goods > 0) &&
        !(timed && things > 1))
        return n;
    if (!into && !wait)
        return n;
    const int k = is_open_to_us(&item[0]) || n >= ST_TAKE_ITEMS ? 0 : n;
    if (!is_open_to_us(&item[k]) && k == 0)
        return n;
    if (k == n)
        memset(&item[k], 0, sizeof item[k]);
    const bool over = wait && st_take_has_word(sentence, "strain|drain|press|squeeze");
    const bool bottles = st_take_has_word(sentence, "into bottles|into three bottles|into two bottles|bottles");
    st_take_make_deed(&item[k],
                      bottles && !timed                     ? ST_DO_BOTTLE
                      : into && !wait && was_strained(p->t) ? ST_DO_BLEND
                      : wait && !over && things < 2         ? ST_DO_REST
                                                            : ST_DO_STEEP,
                      wait ? "a time alone: it waits" : "put together: it steeps");
    if (timed)
        item[k].deed.time = time;
    item[k].deed.strain = over;
    if (item[k].deed.kind == ST_DO_BOTTLE)
        item[k].deed.bottles = bottles_in(sentence);
    return k == n ? n + 1 : n;
}
