#include <ctype.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "number.h"
#include "quantity.h"
#include "take_prose.h"
#include "take_words.h"

/* Sentences that tell more than the reader of lines finds in them. */

/* ", stones and all" goes on with the thing before. */
static size_t tells_how_weighed(const char *text)
{
    struct st_scan s = { text, text + strlen(text) };
    st_scan_blanks(&s);
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_REMARK));
    return w && strcmp(w->value, "gross") == 0 ? (size_t)(s.at - text) : 0;
}

/* Bytes up to where the next thing of a sentence may begin. */
static size_t fragment(const char *text, size_t *gap)
{
    static const char *const LINK[] = { " and ", " with ", " over ", " plus ", " put ", " into ", " in ", " but " };
    for (size_t i = 0; text[i]; i++) {
        *gap = 1;
        const size_t weighed = text[i] == ',' || text[i] == ' ' ? tells_how_weighed(text + i + 1) : 0;
        if (weighed) {
            i += weighed;
            continue;
        }
        const char *close = text[i] == '(' ? strchr(text + i, ')') : NULL;
        if (close && close - text - (ptrdiff_t)i < 12 && memchr(text + i, '%', (size_t)(close - text) - i)) {
            i = (size_t)(close - text); /* "vodka (40%)" */
            continue;
        }
        if (strchr(";()", text[i]) || (text[i] == ',' && text[i + 1] == ' '))
            return i;
        for (size_t k = 0; k < sizeof LINK / sizeof LINK[0]; k++)
            if (strncmp(text + i, LINK[k], strlen(LINK[k])) == 0) {
                *gap = strlen(LINK[k]);
                return i;
            }
    }
    *gap = 0;
    return strlen(text);
}

/* "1.5 litre jar": what it holds, and no amount of anything. */
static bool holds(const char *behind)
{
    struct st_scan s = { behind, behind + strlen(behind) };
    return st_scan_word(&s, "jar|jars|demijohn|crock|carboy|vessel|keg|barrel|cask");
}

/* An amount that could be weighed or counted. */
static bool is_amount(const struct st_taking *t, const char *text, size_t n)
{
    struct st_problem p;
    struct st_amount a;
    size_t used;
    return st_quantity_parse(text, n, t->measures, &a, &used, &p) >= 0 && used < n && a.dim != ST_DIM_TIME &&
           a.dim != ST_DIM_TEMPERATURE && a.dim != ST_DIM_STRENGTH && !holds(text + used);
}

/* "the juice of" right before a byte: where that begins. */
static size_t with_part(const char *text, size_t at)
{
    static const char *const PART[] = { "juice of ",  "zest of ",   "peel of ",  "rind of ",  "juice from ",
                                        "peel from ", "zest from ", "yolks of ", "whites of " };
    for (size_t i = 0; i < sizeof PART / sizeof PART[0]; i++) {
        const size_t k = strlen(PART[i]);
        if (at >= k && strncasecmp(text + at - k, PART[i], k) == 0)
            return at - k;
    }
    return at;
}

/* Where in the fragment an amount begins that can be weighed or counted, an article only where there is no other; n
 * when none. */
static size_t amount_in(const struct st_taking *t, const char *text, size_t n)
{
    size_t article = n;
    for (size_t i = 0; i < n; i++) {
        struct st_scan s = { text + i, text + n };
        if ((i && text[i - 1] != ' ') || !st_take_is_word_byte(text[i]) || !is_amount(t, text + i, n - i))
            continue;
        if (!st_scan_word(&s, "a|an") || with_part(text, i) < i)
            return with_part(text, i);
        article = article < n ? article : i;
    }
    return article;
}

static bool read_thing(struct st_parting *p, const char *text, size_t n, bool open, struct st_take_item *out)
{
    struct st_take_item one[ST_TAKE_ITEMS];
    struct st_take_context context = p->context;

    memset(one, 0, sizeof one);
    context.in_method = false;
    if (st_take_line(text, n, p->t->catalogue, &context, one) != 1 || one[0].role != ST_TAKE_INGREDIENT ||
        one[0].sure == ST_UNREAD || !*one[0].as)
        return false;
    const struct st_amount *a = &one[0].line.amount;
    if (a->dim == ST_DIM_OPEN && (!open || a->open == ST_OPEN_SOME))
        return false;
    *out = one[0];
    if (out->sure == ST_SURE)
        out->sure = ST_LIKELY;
    if (!*out->because)
        (void)snprintf(out->because, sizeof out->because, "picked out of a sentence");
    return true;
}

/* "I filled the jar two thirds with sloes and topped up with gin": open amounts, said as a line says them. */
static int open_things(struct st_parting *p, char *work, struct st_take_item item[])
{
    static const char *const VERB[][2] = { { "filled ", "Fill " },
                                           { "fill ", "Fill " },
                                           { "topped up with ", "Top up with " },
                                           { "top up with ", "Top up with " },
                                           { "covered with ", "cover with " } };
    int n = 0;
    for (size_t i = 0; i < sizeof VERB / sizeof VERB[0] && n < ST_TAKE_ITEMS; i++) {
        char *at = strstr(work, VERB[i][0]);
        if (!at || (at > work && st_take_is_word_byte(at[-1])))
            continue;
        char *from = at + strlen(VERB[i][0]), *end = strstr(from, " and ");
        size_t k = strcspn(from, ",;.(");
        k = end && (size_t)(end - from) < k ? (size_t)(end - from) : k;
        const char *open = strchr(from + k, '('), *close = open ? strchr(open, ')') : NULL;
        const bool strong = close && close - open < 12 && memchr(open, '%', (size_t)(close - open));
        const char *said = st_arena_printf(p->t->arena, "%s%.*s%s%.*s", VERB[i][1], (int)k, from, strong ? " " : "",
                                           strong ? (int)(close - open - 1) : 0, strong ? open + 1 : "");
        if (!read_thing(p, said, strlen(said), true, &item[n]))
            continue;
        item[n].at = (size_t)(at - work);
        item[n].n = (size_t)(from - at) + k;
        memset(at, ',', item[n].n); /* read */
        n++;
    }
    return n;
}

/* The things of a sentence, one after the other; returns how many. */
static int things_in(struct st_parting *p, const char *text, struct st_take_item item[])
{
    char *sentence = st_arena_strdup(p->t->arena, text);
    int n = open_things(p, sentence, item);
    for (size_t at = 0, gap, k; sentence[at] && n < ST_TAKE_ITEMS; at += k + gap) {
        k = fragment(sentence + at, &gap);
        const size_t from = amount_in(p->t, sentence + at, k);
        if (from >= k)
            continue;
        if (!read_thing(p, sentence + at + from, k - from, false, &item[n]))
            continue;
        item[n].at = at + from;
        item[n].n = k - from;
        n++;
    }
    return n;
}

bool st_take_tells(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].line.amount.dim == ST_DIM_OPEN &&
            item[i].line.amount.open == ST_OPEN_SOME)
            continue;
        else if ((item[i].role == ST_TAKE_INGREDIENT || item[i].role == ST_TAKE_STEP) && item[i].sure != ST_UNREAD)
            return true;
    return false;
}

static bool holds_figure(const char *as, const char *figure, size_t size)
{
    for (const char *p = as; *p; p++)
        if (strncmp(p, figure, size) == 0 && !isdigit((unsigned char)p[size]) &&
            (p == as || !isdigit((unsigned char)p[-1])))
            return true;
    return false;
}

/* Is this figure, of item[n], in what was understood already, or in what is asked about?  "500 g damsons, 500 g sugar":
 * the same figure of another thing is another figure. */
static bool is_in(const struct st_take_item item[], int n, size_t at, const char *figure, size_t size)
{
    for (int i = 0; i < n; i++) {
        const bool apart = item[i].role == ST_TAKE_INGREDIENT && item[i].sure != ST_UNREAD && item[n].sure < ST_GUESS &&
                           item[i].line.what != item[n].line.what && item[i].n_ask == 0 &&
                           (at < item[i].at || at >= item[i].at + item[i].n);
        if (!apart && holds_figure(item[i].as, figure, size))
            return true;
        for (int k = 0; k < item[i].n_ask; k++)
            if (item[i].ask[k].n_option && holds_figure(item[i].ask[k].option[0].as, figure, size))
                return true;
    }
    return false;
}

static bool is_same_thing(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].line.what == item[n].line.what)
            return true;
    return false;
}

/* "a coffee paper" */
static bool is_vessel(const char *text, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct st_scan s = { text + i, text + n };
        if (st_take_is_word_byte(text[i]) && (i == 0 || text[i - 1] == ' ') &&
            st_words_at(&s, ST_WORD_BIT(ST_WORD_VESSEL)))
            return true;
    }
    return false;
}

static bool is_told_before(const struct st_taking *t, const struct st_ingredient *what)
{
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].item->role == ST_TAKE_INGREDIENT && t->row[i].item->line.what == what)
            return true;
    return false;
}

/* Was this place read as part of a thing of the same fruit? */
static bool is_within(const struct st_take_item item[], int n, size_t at)
{
    for (int i = 0; i < n; i++) {
        const struct st_ingredient *a = item[i].line.what, *b = item[n].line.what;
        if (item[i].role == ST_TAKE_INGREDIENT && a && b && at >= item[i].at && at < item[i].at + item[i].n &&
            strcspn(a->slug, "_") == strcspn(b->slug, "_") && strncmp(a->slug, b->slug, strcspn(a->slug, "_")) == 0)
            return true;
    }
    return false;
}

/* Amounts of a sentence of the method that came into no item: nothing is left out in silence. */
int st_take_missed(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    if (!(st_take_tells(item, n) || (n > 0 && item[0].n_ask > 0)) || p->section == ST_SECTION_GOODS ||
        st_take_has_word(sentence, "up to|per|above|instead|if it is|more than|less than|made with|made from"))
        return n;
    for (size_t at = 0, gap, k; sentence[at] && n < ST_TAKE_ITEMS; at += k + gap) {
        k = fragment(sentence + at, &gap);
        const size_t from = amount_in(p->t, sentence + at, k);
        const char *figure = sentence + at + from;
        const size_t figures = strcspn(figure, "0123456789");
        const bool part = with_part(figure, figures) == 0 && figures > 0;
        const size_t digits = strspn(figure + (part ? figures : 0), "0123456789.,/");
        if (from >= k || !read_thing(p, figure, k - from, false, &item[n]) ||
            (digits && is_in(item, n, at + from, figure, digits)))
            continue;
        if (is_within(item, n, at + from))
            continue; /* "peel of 10 lemons (about 120 g)" */
        const bool counted = item[n].line.amount.dim == ST_DIM_PIECE && p->story && item[n].sure < ST_GUESS &&
                             !is_vessel(figure, k - from) && !is_told_before(p->t, item[n].line.what);
        if (digits == 0 && ((item[n].line.amount.dim != ST_DIM_VOLUME && !counted) || is_same_thing(item, n)))
            continue; /* "a teaspoon of vanilla extract"; not "the gin" once more */
        item[n].at = at + from;
        item[n].n = k - from;
        n++;
    }
    return n;
}

/* Where no list stands, a remark with amounts in it is read once more, as part of a method. */
int st_take_story(struct st_parting *p, const char *sentence, size_t n, struct st_take_item item[], int found)
{
    struct st_take_context context = p->context;
    struct st_take_item again[ST_TAKE_ITEMS];

    if (st_take_tells(item, found) || item[0].role == ST_TAKE_TITLE || p->context.in_method || n < 30 ||
        p->section != ST_SECTION_HEAD || (p->measured > 0 && !p->story) ||
        st_take_has_word(sentence,
                         "above|below|post|says|per serving|serves|calories|kcal|you need|you will need|needed"))
        return found;
    memset(again, 0, sizeof again);
    context.in_method = true;
    int k = st_take_line(sentence, n, p->t->catalogue, &context, again);
    if (!st_take_tells(again, k)) {
        memset(again, 0, sizeof again);
        k = things_in(p, sentence, again);
    }
    if (!st_take_tells(again, k))
        return found;
    memcpy(item, again, sizeof again);
    context.in_method = false;
    p->context = context;
    p->story = true;
    return k;
}

/* A time that stands in the sentence and came into no deed belongs to the first that takes time. */
void st_take_time_left(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    struct st_take_item *takes = NULL;
    struct st_amount time;
    size_t where;

    for (int i = 0; i < n; i++) {
        const enum st_do k = item[i].deed.kind;
        if (item[i].role != ST_TAKE_STEP)
            continue;
        if (item[i].deed.time.dim == ST_DIM_TIME)
            return;
        if (!takes && (k == ST_DO_STEEP || k == ST_DO_REST || k == ST_DO_SYRUP || k == ST_DO_TOAST))
            takes = &item[i];
    }
    const double longest = takes && takes->deed.kind == ST_DO_SYRUP ? 3 * 3600.0 : HUGE_VAL; /* longer, it only cools */
    if (!takes || st_take_has_word(sentence, "within|every|not|never|don't|daily|twice") ||
        !st_take_time_at(p->t, sentence, &time, &where) || time.value > longest)
        return;
    takes->deed.time = time;
    if (takes->sure == ST_SURE)
        takes->sure = ST_LIKELY;
    if (!*takes->because)
        (void)snprintf(takes->because, sizeof takes->because, "the time that stands in the sentence");
}

/* "Add the vanilla pod.", of which no amount is told: one of it, unless a list tells more. */
int st_take_added(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    static const char *const VERB[] = {
        "add the ", "add a ", "add an ", "then add the ", "drop in the ", "put in the "
    };
    const char *bare = st_take_bare(sentence);

    if (n != 1 || item[0].role != ST_TAKE_NOTE)
        return n;
    for (size_t i = 0; i < sizeof VERB / sizeof VERB[0]; i++) {
        if (strncasecmp(bare, VERB[i], strlen(VERB[i])) != 0)
            continue;
        const char *name = bare + strlen(VERB[i]);
        const char *said = st_arena_printf(p->t->arena, "1 %.*s", (int)strcspn(name, ".,;("), name);
        if (!read_thing(p, said, strlen(said), false, &item[1]) || item[1].line.amount.dim != ST_DIM_PIECE)
            return n;
        item[1].at = (size_t)(name - sentence);
        item[1].n = strcspn(name, ".,;(");
        item[1].sure = ST_GUESS;
        (void)snprintf(item[1].because, sizeof item[1].because, "no amount is written: one of it");
        st_take_make_deed(&item[0], ST_DO_BLEND, "by its verb");
        return 2;
    }
    return n;
}
