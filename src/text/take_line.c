#include "take_line.h"

#include <stdio.h>
#include <string.h>

#include "amiss.h"
#include "take_taken.h"
#include "take_turns.h"

/* What a line is: a heading, a deed, an ingredient or several, a remark. */

/* ---- lines that are no ingredient and no deed ---- */

static bool begins(const struct st_taken *l, size_t at, unsigned long long classes)
{
    struct st_scan s = st_taken_from(l, at);
    return st_words_at(&s, classes) != NULL;
}

static bool holds(const struct st_taken *l, size_t at, unsigned long long classes)
{
    for (size_t i = at; i < l->text.n; i++)
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) && begins(l, i, classes))
            return true;
    return false;
}

static bool is_nothing(const struct st_taken *l)
{
    for (size_t i = l->start; i < l->text.n; i++) {
        const struct st_scan s = st_taken_from(l, i);
        size_t n;
        const unsigned c = st_scan_char(&s, &n);
        if (st_is_letter(c) || st_is_digit(c) || (c >= 0xbc && c <= 0xbe) || (c >= 0x2150 && c <= 0x215e))
            return false;
    }
    return true;
}

/* "[Pin It] [Share] [Print Recipe]": every word is one of those that stand around a recipe on its page. */
static bool is_links(const struct st_taken *l)
{
    bool any = false;

    for (size_t i = l->start; i < l->text.n;) {
        struct st_scan s = st_taken_from(l, i);
        if (!st_is_letter((unsigned char)l->text.s[i])) {
            if ((!any && st_is_digit((unsigned char)l->text.s[i])) || (unsigned char)l->text.s[i] >= 0x80)
                return false; /* but "Share 12" */
            i++;
            continue;
        }
        if (!st_words_at(&s, ST_WORD_BIT(ST_WORD_PAGE)))
            return false;
        any = true;
        i = (size_t)(s.at - l->text.s);
    }
    return any;
}

/* "dana updated june comments": who wrote the page, and when; "© 2019 ...". */
static bool is_imprint(const struct st_taken *l)
{
    const char *from = l->text.s + l->start;
    int said = 0;

    if (strncmp(from, "\xc2\xa9", 2) == 0)
        return true;
    for (size_t i = l->start; i < l->text.n; i++) {
        struct st_scan s = st_taken_from(l, i);
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i))
            said += st_scan_word(&s, "updated|posted|published|comments|comment|min read|all rights reserved");
    }
    return said > 1 && st_taken_words(l, l->start) <= 12;
}

/* "Home > Recipes > Drinks": where on its pages the recipe stood. */
static bool is_trail(const char *text, size_t n)
{
    static const char *const ARROW[] = { ">", "\xc2\xbb", "\xe2\x80\xba", "\xe2\x86\x92", "/", "|" };
    enum { STRONG = 4 }; /* the others also part what may be chosen from */
    struct st_scan s = { text, text + n };

    st_scan_blanks(&s);
    const bool home =
        st_scan_word(&s, "home|start|index|main page|you are here|shop|recipes|food|food and drink|drinks");
    if (n > 120)
        return false;
    for (size_t k = 0; k < sizeof ARROW / sizeof ARROW[0]; k++) {
        const size_t size = strlen(ARROW[k]);
        int arrows = 0, since = 0;
        for (size_t i = 1; i + size < n; i++) {
            if (st_is_digit((unsigned char)text[i]))
                return false;
            since++;
            if (memcmp(text + i, ARROW[k], size) != 0 || text[i - 1] != ' ' || text[i + size] != ' ')
                continue;
            if (since > 35)
                return false;
            arrows++;
            since = 0;
        }
        if (arrows > 1 - (int)home && since <= 45 && (home || k < STRONG))
            return true;
    }
    return false;
}

static bool is_heading(struct st_taken *l, const struct st_word **word)
{
    struct st_scan s = st_taken_from(l, l->start);
    const size_t end = st_taken_end(l);
    struct st_scan only = { s.at, l->text.s + end };

    *word = st_words_at(&s, ST_WORD_BIT(ST_WORD_HEADING));
    if (*word) {
        const size_t at = (size_t)(s.at - l->text.s);
        if (at >= end)
            return true;
        struct st_scan rest = { s.at, only.end };
        st_scan_blanks(&rest);
        if (rest.at < rest.end && *rest.at == '(')
            return true;
    }
    *word = NULL;
    const bool colon = l->text.n > l->start && end < l->text.n && strchr(l->text.s + end, ':') != NULL;
    struct st_scan f = only;
    if (!st_taken_has_digit(l, l->start) && ((colon && st_taken_words(l, l->start) <= 6) ||
                                             (st_scan_word(&f, "for the|for") && st_taken_words(l, l->start) <= 5)))
        return true;
    return l->hashes >= 2;
}

static void note_heading(struct st_taken *l, const struct st_word *word)
{
    (void)st_taken_give(l, ST_TAKE_HEADING, l->start, l->text.n);
    if (word)
        l->context->in_method = strcmp(word->value, "method") == 0;
}

/* "Makes about 1 litre", "No sugar", "Since 1954". */
static bool is_note(const struct st_taken *l)
{
    const size_t at = l->start;

    if (begins(l, at, ST_WORD_BIT(ST_WORD_NOTE) | ST_WORD_BIT(ST_WORD_NOT)))
        return true;
    struct st_scan s = st_taken_from(l, at);
    if (st_scan_word(&s, "if|unless|otherwise|see|page"))
        return true;
    s = st_taken_from(l, st_taken_end(l) > 4 ? st_taken_end(l) - 4 : 0);
    return st_scan_word(&s, "none");
}

/* ---- what an unread line may be instead ---- */

static bool says_vessel(const struct st_taken *l, size_t at)
{
    for (size_t i = at; i < l->text.n; i++) {
        struct st_scan s = st_taken_from(l, i);
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) && st_words_at(&s, ST_WORD_BIT(ST_WORD_VESSEL)))
            return true;
    }
    return false;
}

static bool looks_like_title(const struct st_taken *l)
{
    const size_t end = st_taken_end(l);
    const int words = st_taken_words(l, l->start);

    if (l->title || l->hashes == 1)
        return true;
    if (words == 0 || words > 9 || l->text.s[l->text.n - 1] == '.')
        return false;
    for (size_t i = l->start; i < end; i++) {
        struct st_scan s = { l->text.s + i, l->text.s + end };
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) && st_words_at(&s, ST_WORD_BIT(ST_WORD_TITLE)) &&
            (words > 1 || s.at == s.end))
            return true;
    }
    return false;
}

static bool only_figures(const struct st_taken *l)
{
    for (size_t i = l->start; i < l->text.n; i++)
        if (st_is_letter((unsigned char)l->text.s[i]))
            return false;
    return true;
}

/* Nothing was named that is known: a remark, a title, or something to be asked about. */
static void settle_unread(struct st_taken *l, size_t at)
{
    struct st_take_item *item = &l->item[0];
    const bool amount = st_taken_has_digit(l, at) || (item->line.amount.dim != ST_DIM_OPEN && item->line.amount.unit);
    const char last = l->text.s[l->text.n - 1];

    if (only_figures(l)) {
        if (!strchr(l->text.s + at, ':'))
            item->role = ST_TAKE_NOTHING;
        item->n_ask = 0;
        (void)st_item_ask(item, ST_ASK_AMOUNT, "What is meant by these figures?");
        return;
    }
    const bool drink = amount && strchr(l->text.s + at, '%') != NULL; /* a strength is told: it goes in */
    if ((!amount && st_says_amiss(l->text.s + at, l->text.n - at)) || (says_vessel(l, at) && !drink) ||
        (!amount && (st_taken_words(l, at) > 3 || last == '.')) || last == '!' || last == '?') {
        item->role = looks_like_title(l) ? ST_TAKE_TITLE : ST_TAKE_NOTE;
        item->sure = ST_SURE;
        item->because[0] = '\0';
        item->n_ask = 0;
    } else if (!amount && looks_like_title(l)) {
        item->role = ST_TAKE_TITLE;
        item->sure = ST_SURE;
        item->because[0] = '\0';
        item->n_ask = 0;
    } else if (item->n_ask == 0) {
        char ask[sizeof item->ask[0].ask];
        size_t n = st_taken_end(l) - at;
        while (n > 70 && l->text.s[at + n - 1] != ' ')
            n--;
        (void)snprintf(ask, sizeof ask, "What is meant by \"%.*s\"?", (int)(n < 90 ? n : 90), l->text.s + at);
        (void)st_item_ask(item, ST_ASK_WHICH, ask);
    }
}

/* Was something put into a jar before byte `end` of this line? */
static bool is_filled(const struct st_taken *l, size_t end)
{
    for (size_t i = l->start; i < end; i++) {
        struct st_scan s = { l->text.s + i, l->text.s + end };
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) &&
            st_scan_word(&s, "put|place|pour|cover|layer|pack|fill"))
            return true;
    }
    return false;
}

static void read_prose(struct st_taken *l, size_t at, size_t end)
{
    struct st_take_item item[ST_TAKE_ITEMS + 1]; /* one more, so that too many are seen */
    const int n = st_deed_read(l->text.s + at, end - at, l->c, l->context, is_filled(l, at), item, ST_TAKE_ITEMS + 1);

    for (int i = 0; i < n; i++)
        st_taken_put(l, &item[i], at + item[i].at, at + item[i].at + item[i].n);
}

/* Sentences behind the first: deeds, or things with an amount; remarks are dropped. */
static void read_more(struct st_taken *l, size_t at)
{
    while (at < l->text.n) {
        const size_t end = st_taken_sentence(l, at);
        if (st_deed_begins(l->text.s + at, end - at))
            read_prose(l, at, end);
        at = end;
        while (at < l->text.n && l->text.s[at] == ' ')
            at++;
    }
}

/* "Aunt Odile's Famous Cherry Brandy": capitals throughout, and the word for a drink at the end. */
static bool is_drink_name(const struct st_taken *l, size_t end)
{
    const size_t stop = st_taken_end(l);
    size_t last = stop;

    if (end < l->text.n || st_taken_has_digit(l, l->start) || st_taken_words(l, l->start) < 3 || !looks_like_title(l))
        return false;
    for (size_t i = l->start; i + 3 < stop; i++)
        if (st_word_begins(l->text.s, i) && l->text.s[i] >= 'a' && l->text.s[i] <= 'z') {
            struct st_scan s = { l->text.s + i, l->text.s + stop };
            if (!st_scan_word(&s, "and|of|the|for|with|in|a|from|de|la|our|my"))
                return false;
        }
    while (last > l->start && l->text.s[last - 1] != ' ')
        last--;
    struct st_scan s = { l->text.s + last, l->text.s + stop };
    return st_words_at(&s, ST_WORD_BIT(ST_WORD_TITLE)) && s.at == s.end &&
           !st_catalogue_find(l->c, l->text.s + l->start, stop - l->start);
}

/* "Quince liqueur": two things and no amount, as drinks are called. */
static bool is_two_names(const struct st_taken *l)
{
    const struct st_take_item *item = &l->item[0];
    bool which = false;

    for (int i = 0; i < item->n_ask; i++)
        which = which || item->ask[i].kind == ST_ASK_WHICH;
    return item->role == ST_TAKE_INGREDIENT && which && item->sure == ST_GUESS && !st_taken_has_digit(l, l->start) &&
           item->line.amount.dim == ST_DIM_OPEN && item->line.amount.open == ST_OPEN_SOME && looks_like_title(l);
}

/* Begins with a time, and no deed follows it. */
static bool is_time(const struct st_taken *l, size_t at)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_TIME), false, false };
    struct st_scan s = st_taken_from(l, at);
    struct st_amount a;
    struct st_problem p;

    if (st_closed_read(&s, &ask, &a, NULL, &p) != ST_GOT_AMOUNT || a.dim != ST_DIM_TIME || st_scan_word(&s, "old"))
        return false;
    return !st_deed_begins(l->text.s + at, l->text.n - at);
}

/* "Core the pears." names something, but is no list: nothing is said of how much. */
static bool is_sentence(const struct st_taken *l, size_t at)
{
    const struct st_take_item *item = &l->item[0];

    return l->n == 1 && item->role == ST_TAKE_INGREDIENT && !st_taken_has_digit(l, at) &&
           l->text.s[l->text.n - 1] == '.' && st_taken_words(l, at) > 3 && !st_goods_has_amount(item) &&
           item->sure != ST_UNREAD;
}

static void read_first(struct st_taken *l)
{
    const size_t at = l->start, end = st_taken_sentence(l, at);
    const bool goods = st_goods_opens(l, at, end) && !l->context->in_method;

    if (is_time(l, at)) { /* "Four weeks." */
        (void)st_taken_give(l, ST_TAKE_NOTE, at, end);
        read_more(l, end);
        return;
    }
    if (is_drink_name(l, end)) {
        (void)st_taken_give(l, ST_TAKE_TITLE, at, l->text.n);
        return;
    }
    if (st_deed_begins(l->text.s + at, end - at) &&
        !(goods && st_is_digit((unsigned char)l->text.s[at]) && !strstr(l->text.s + at, "later"))) {
        read_prose(l, at, end);
    } else if (!is_note(l) && !(holds(l, at, ST_WORD_BIT(ST_WORD_STORY)))) {
        const bool named = !st_taken_has_digit(l, at) && st_taken_words(l, at) > 5 && end == l->text.n && !goods;
        st_goods_read(l, at, end);
        if (named && l->n > 0 && !st_goods_has_amount(&l->item[0]) && l->item[0].role == ST_TAKE_INGREDIENT)
            l->item[0].sure = ST_UNREAD, l->item[0].line.what = NULL, l->item[0].as[0] = '\0';
        if (is_sentence(l, at))
            l->n = 0;
        if (l->n == 1 && is_two_names(l))
            l->item[0] = (struct st_take_item){
                .role = ST_TAKE_TITLE, .at = l->item[0].at, .n = l->item[0].n, .line = { .text = "", .from_step = -1 }
            };
        if (l->n == 1 && l->item[0].sure == ST_UNREAD && !l->item[0].line.what)
            settle_unread(l, at);
    }
    read_more(l, end);
    if (l->n == 0)
        (void)st_taken_give(l, ST_TAKE_NOTE, at, l->text.n);
}

/* "For the syrup: 200 g sugar", "Spices: 2 cloves": what it is for stands before a colon. */
static void skip_purpose(struct st_taken *l)
{
    size_t colon = l->start;

    while (colon < l->text.n && colon - l->start < 40 && l->text.s[colon] != ':')
        colon++;
    if (colon + 1 >= l->text.n || l->text.s[colon] != ':' || colon == l->start || l->text.s[colon + 1] != ' ')
        return;
    for (size_t i = l->start; i < colon; i++)
        if (st_is_digit((unsigned char)l->text.s[i]))
            return;
    const size_t rest = colon + 2;
    struct st_scan s = st_taken_from(l, l->start);
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_NOTE) | ST_WORD_BIT(ST_WORD_HEADING));
    if (w && w->what == ST_WORD_NOTE)
        return;
    if (w && strcmp(w->value, "other") == 0) {
        (void)st_taken_give(l, ST_TAKE_NOTE, l->start, l->text.n);
        return;
    }
    if (st_deed_begins(l->text.s + l->start, colon - l->start))
        return;
    const bool goods = st_goods_opens(l, rest, l->text.n), deed = st_deed_begins(l->text.s + rest, l->text.n - rest);
    if ((!goods && !deed) || (goods && st_catalogue_find(l->c, l->text.s + l->start, colon - l->start)))
        return;
    if (w)
        l->context->in_method = strcmp(w->value, "method") == 0;
    l->start = rest;
}

/* ---- whose measures ---- */

static void see_measures(struct st_taken *l)
{
    if (l->context->measures != ST_MEASURES_NONE)
        return;
    for (size_t i = l->start; i < l->text.n; i++) {
        struct st_scan s = st_taken_from(l, i);
        const struct st_word *w;
        if (l->text.s[i] == ' ' || !st_word_begins(l->text.s, i) ||
            !(w = st_words_at(&s, ST_WORD_BIT(ST_WORD_MEASURES))))
            continue;
        l->context->measures = strcmp(w->value, "us") == 0         ? ST_MEASURES_US
                               : strcmp(w->value, "imperial") == 0 ? ST_MEASURES_IMPERIAL
                                                                   : ST_MEASURES_METRIC;
        return;
    }
}

static void say_cut(struct st_taken *l)
{
    if (!l->text.cut && !l->plain.cut)
        return;
    if (l->n == ST_TAKE_ITEMS)
        l->n--;
    struct st_take_item *item = st_taken_give(l, ST_TAKE_INGREDIENT, l->text.n, l->text.n);
    item->sure = ST_UNREAD;
    (void)snprintf(item->because, sizeof item->because, "%s", "the line is too long: the rest of it was not read");
}

/* "sugar and sometimes a few almonds": the last of them need not be in it. */
static void see_sometimes(struct st_taken *l)
{
    for (size_t i = l->start; i < l->plain.n; i++) {
        struct st_scan s = { l->plain.s + i, l->plain.s + l->plain.n };
        struct st_take_item *last = &l->item[l->n - 1];
        if (l->plain.s[i] == ' ' || !st_word_begins(l->plain.s, i) || last->role != ST_TAKE_INGREDIENT ||
            !st_scan_word(&s, "and sometimes|and occasionally|and now and then|and perhaps|and maybe"))
            continue;
        last->optional = true;
        st_item_doubt(last, ST_LIKELY, "not always put in, the words say: taken as put in");
        return;
    }
}

int st_take_line(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context,
                 struct st_take_item item[ST_TAKE_ITEMS])
{
    struct st_taken l = { .c = c, .context = context, .item = item };
    const struct st_word *word;
    char turned[80];

    st_clean_plain(text, n, &l.plain);
    st_clean_write(&l.plain, &l.text);
    st_taken_skip_marks(&l);
    st_turns_write(&l.text, l.start, c, turned, sizeof turned);
    see_measures(&l);
    if (is_nothing(&l) || begins(&l, l.start, ST_WORD_BIT(ST_WORD_NOTHING)) || is_links(&l) || is_imprint(&l) ||
        is_trail(text, n))
        (void)st_taken_give(&l, ST_TAKE_NOTHING, l.start, l.text.n);
    else if (is_heading(&l, &word))
        note_heading(&l, word);
    else if (l.title || l.hashes == 1)
        (void)st_taken_give(&l, ST_TAKE_TITLE, l.start, l.text.n);
    else {
        skip_purpose(&l);
        if (l.n == 0)
            read_first(&l);
    }
    for (int i = 0; turned[0] && i < l.n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT)
            st_item_doubt(&item[i], ST_LIKELY, "%s", turned);
    see_sometimes(&l);
    for (int i = 0; i < l.n; i++)
        st_item_points(&item[i], text, n);
    say_cut(&l);
    return l.n;
}
