#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "number.h"
#include "quantity.h"
#include "take_whole.h"
#include "yaml_report.h"

enum st_take_section { ST_SECTION_HEAD, ST_SECTION_GOODS, ST_SECTION_METHOD, ST_SECTION_NOTES };

/* ---- text as it can be kept ---- */

/* Marks that turn the direction of text, or end a line where nobody sees it. */
static bool is_unseen(const unsigned char *p, size_t n)
{
    if (n == 2)
        return p[0] == 0xc2 && p[1] < 0xa0;
    if (n != 3)
        return false;
    if (p[0] == 0xe2 && p[1] == 0x80)
        return p[2] >= 0xa8 && p[2] <= 0xae;
    return (p[0] == 0xe2 && p[1] == 0x81 && p[2] >= 0xa6 && p[2] <= 0xa9) ||
           (p[0] == 0xef && p[1] == 0xbb && p[2] == 0xbf) || (p[0] == 0xef && p[1] == 0xbf && p[2] >= 0xbe);
}

char *st_take_tidy(struct st_arena *a, const char *text, size_t size)
{
    const unsigned char *p = (const unsigned char *)text;
    char *out = st_arena_alloc(a, size + 1);
    size_t n = 0;

    for (size_t i = 0, k; i < size; i += k) {
        k = st_utf8_length(p + i, size - i);
        if (k == 0) {
            out[n++] = '?';
            k = 1;
        } else if (p[i] == '\r') {
            if (i + 1 >= size || p[i + 1] != '\n')
                out[n++] = '\n';
        } else if (is_unseen(p + i, k) || (p[i] < 0x20 && p[i] != '\n' && p[i] != '\t') || p[i] == 0x7f) {
            out[n++] = ' ';
        } else {
            memcpy(out + n, p + i, k);
            n += k;
        }
    }
    out[n] = '\0';
    return out;
}

void st_take_say(struct st_taking *t, const char *format, ...)
{
    char text[300];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    for (int i = 0; i < t->n_said; i++)
        if (strcmp(t->said[i], text) == 0)
            return;
    if (t->n_said < (int)(sizeof t->said / sizeof t->said[0]))
        t->said[t->n_said++] = st_arena_strdup(t->arena, text);
}

static bool is_word_byte(char c)
{
    return isalnum((unsigned char)c) || (unsigned char)c >= 0x80;
}

static bool has_one(const char *text, const char *word, size_t n)
{
    for (const char *p = text; *p; p++)
        if ((p == text || !is_word_byte(p[-1])) && strncasecmp(p, word, n) == 0 && !is_word_byte(p[n]))
            return true;
    return false;
}

/* Behind bullets, numbers and Markdown marks. */
const char *st_take_bare(const char *text)
{
    static const char *const MARK[] = { "\xe2\x80\xa2", "\xe2\x80\x93", "\xe2\x80\x94", "\xe2\x97\xa6", "\xe2\x96\xa2",
                                        "\xe2\x98\x90", "\xc2\xb7" };
    const char *p = text, *before = NULL;
    while (p != before) {
        before = p;
        p += strspn(p, " \t*#>_");
        if ((*p == '-' || *p == '+') && (p[1] == ' ' || p[1] == '\t'))
            p += 2;
        for (size_t i = 0; i < sizeof MARK / sizeof MARK[0]; i++)
            if (strncmp(p, MARK[i], strlen(MARK[i])) == 0)
                p += strlen(MARK[i]);
    }
    const size_t n = strspn(p, "0123456789");
    if (n > 0 && n < 3 && (p[n] == '.' || p[n] == ')') && (p[n + 1] == ' ' || p[n + 1] == '\t'))
        p += n + 1 + strspn(p + n + 1, " \t");
    return *p ? p : text;
}

bool st_take_has_word(const char *text, const char *words)
{
    while (*words) {
        const size_t n = strcspn(words, "|");
        if (n && has_one(text, words, n))
            return true;
        words += n + (words[n] == '|');
    }
    return false;
}

/* ---- sentences ---- */

/* A point behind these ends no sentence. */
static const char SHORT[] = "tbsp|tbs|tsp|oz|fl|lb|lbs|approx|ca|min|mins|hr|hrs|no|vol|pt|pts|qt|qts|gal|pkg|pkt|st|etc|eg|ie|"
                            "wt|abv|cl|ml|kg|g|l|c|t|wks|incl|esp|opt";

static bool is_short_word(const char *from, const char *point)
{
    const char *w = point;
    char word[12];
    while (w > from && isalpha((unsigned char)w[-1]))
        w--;
    const size_t n = (size_t)(point - w);
    if (n == 0 || n >= sizeof word)
        return false;
    memcpy(word, w, n);
    word[n] = '\0';
    return n == 1 || st_take_has_word(SHORT, word) || st_take_has_word(word, SHORT);
}

/* "1." before the first word. */
static bool is_numbering(const char *from, const char *point)
{
    const char *p = from;
    while (p < point && (isdigit((unsigned char)*p) || *p == ' ' || *p == '\t' || *p == '#' || *p == '*' || *p == '('))
        p++;
    return p == point;
}

static bool begins_sentence(const char *p, const char *end)
{
    while (p < end && (*p == ' ' || *p == '\t'))
        p++;
    return p < end && (isupper((unsigned char)*p) || *p == '"' || *p == '(' || *p == '*' || (unsigned char)*p >= 0x80);
}

/* Bytes of the first sentence of text[0..n). */
static size_t first_sentence(const char *text, size_t n)
{
    const char *end = text + n;
    for (const char *p = text; p < end; p++) {
        if (*p != '.' && *p != '!' && *p != '?')
            continue;
        const char *next = p + 1;
        while (next < end && (*next == ')' || *next == '"' || *next == '.' || *next == '!' || *next == '?'))
            next++;
        if (next >= end || (*next != ' ' && *next != '\t') || !begins_sentence(next, end))
            continue;
        if (*p == '.' && (is_numbering(text, p) || is_short_word(text, p)))
            continue;
        return (size_t)(next - text);
    }
    return n;
}

/* ---- rows ---- */

struct parting {
    struct st_taking *t;
    struct st_take_context context;
    enum st_take_section section;
    int line;
    bool changed;
    bool gap;  /* a blank line stands before this one */
    int goods; /* ingredients read so far */
    bool prose; /* behind the ingredients, and no list again */
    bool story; /* no list: the ingredients stand in sentences */
};

/* What a heading opens; -1 when it is none of these. */
static int section_of(const char *words)
{
    if (st_take_has_word(words, "ingredients|ingredient|you need|you will need|shopping list|what you need"))
        return ST_SECTION_GOODS;
    if (st_take_has_word(words, "method|directions|instructions|preparation|procedure|steps|how to|to make|making|what to do"))
        return ST_SECTION_METHOD;
    if (st_take_has_word(words, "notes|note|tips|tip|to serve|serving|servings|storage|nutrition|comments"))
        return ST_SECTION_NOTES;
    return -1;
}

static struct st_taken *new_row(struct parting *p, const char *sentence)
{
    struct st_taking *t = p->t;
    if (t->n_row >= ST_TAKE_ROWS) {
        t->too_long = true;
        return NULL;
    }
    struct st_taken *r = &t->row[t->n_row++];
    *r = (struct st_taken){ .line = p->line,
                            .words = sentence,
                            .sentence = sentence,
                            .group = t->n_group,
                            .changed = p->changed,
                            .entry = -1,
                            .stage = -1 };
    r->in_method = p->section == ST_SECTION_METHOD || p->context.in_method || p->story;
    return r;
}

/* "250 g honey", "  * 2 lemons"; not "1. Put ..." */
static bool looks_listed(const char *line, size_t n)
{
    const char *bare = st_take_bare(line);
    const bool bullet = bare != line && !isdigit((unsigned char)bare[-1]) && !isdigit((unsigned char)*line) &&
                        strcspn(line, "0123456789") >= (size_t)(bare - line);
    const unsigned char c = (unsigned char)*bare;
    const bool figure = isdigit(c) || (c == 0xc2 && (unsigned char)bare[1] >= 0xbc) || (c == 0xe2 && (unsigned char)bare[1] == 0x85);
    if (n > 90 || !(figure || bullet))
        return false;
    return !st_take_has_word(bare, "day|days|week|weeks|month|months|hours|year|years|minutes|wks|mths");
}

/* Where no heading tells: behind a blank line after the ingredients comes what is done with them. */
static void look_for_prose(struct parting *p, const char *line, size_t n)
{
    if (p->section == ST_SECTION_NOTES || p->section == ST_SECTION_METHOD)
        return;
    if (looks_listed(line, n))
        p->prose = false;
    else if (p->gap && p->goods > 1 && n > 20)
        p->prose = true;
    p->context.in_method = p->prose && !p->story;
}

static void open_section(struct parting *p, const struct st_take_item *item, const char *words)
{
    const int s = item->role == ST_TAKE_HEADING ? section_of(words) : -1;
    if (s < 0)
        return;
    p->section = (enum st_take_section)s;
    p->context.in_method = s == ST_SECTION_METHOD;
}

/* Remarks are kept, and not reckoned with. */
static void note_row(struct parting *p, const char *sentence)
{
    struct st_taken *r = new_row(p, sentence);
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    r->item->role = ST_TAKE_NOTE;
}

static const char *piece(struct parting *p, const char *sentence, const struct st_take_item *item)
{
    const size_t n = strlen(sentence);
    if (item->n == 0 || item->at >= n || item->n > n - item->at)
        return sentence;
    const char *from = sentence + item->at;
    size_t k = item->n;
    while (k && strchr(" \t,;.", from[k - 1]))
        k--;
    return k ? st_arena_strndup(p->t->arena, from, k) : sentence;
}

/* ---- deeds without a verb: "6 weeks, dark."; "All into the jar." ---- */

/* The first time in the text. */
static bool find_time(const struct st_taking *t, const char *text, struct st_amount *out, size_t *where)
{
    struct st_problem p;
    struct st_amount a;
    size_t used;
    for (size_t i = 0; text[i]; i++) {
        if (i && (is_word_byte(text[i - 1]) || text[i - 1] == '.' || text[i - 1] == '-'))
            continue;
        if (!is_word_byte(text[i]))
            continue;
        if (st_quantity_parse(text + i, strlen(text + i), t->measures, &a, &used, &p) == 0 && a.dim == ST_DIM_TIME &&
            a.value > 0) {
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
    return find_time(t, text, &a, &where);
}

bool st_take_find_time(const struct st_taking *t, const char *text, struct st_amount *out)
{
    size_t where;
    return find_time(t, text, out, &where);
}

static bool is_open_to_us(const struct st_take_item *i)
{
    return i->role == ST_TAKE_NOTE || i->role == ST_TAKE_HEADING || (i->role == ST_TAKE_INGREDIENT && i->sure == ST_UNREAD);
}

static void make_deed(struct st_take_item *item, enum st_do kind, const char *why)
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

/* Items of a sentence in which the reader of lines found no deed; returns how many there are then. */
static int without_verb(struct parting *p, const char *sentence, struct st_take_item item[], int n)
{
    struct st_amount time = { .dim = ST_DIM_OPEN };
    size_t where = 0;

    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_STEP || item[i].role == ST_TAKE_TITLE)
            return n;
    const bool timed = find_time(p->t, st_take_bare(sentence), &time, &where);
    const bool into = st_take_has_word(sentence, "into the jar|in the jar|in a jar|into a jar|into jar|in jar|into|on top|go in|goes in|over that|pour over");
    int things = 0;
    for (int i = 0; i < n; i++)
        things += item[i].role == ST_TAKE_INGREDIENT && item[i].sure != ST_UNREAD;
    if (st_take_has_word(sentence, "within|fridge|freezer|drink by|use by"))
        return n; /* how it keeps */
    const bool wait = timed && (things > 1 || where < 6 || st_take_has_word(sentence, "wait|keep|after|wants|stand|stood|stands|sat|sits|lay|lies"));
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
    make_deed(&item[k], bottles && !timed ? ST_DO_BOTTLE : wait && !over && things < 2 ? ST_DO_REST : ST_DO_STEEP, wait ? "a time alone: it waits" : "put together: it steeps");
    if (timed)
        item[k].deed.time = time;
    if (item[k].deed.kind == ST_DO_BOTTLE)
        item[k].deed.bottles = bottles_in(sentence);
    return k == n ? n + 1 : n;
}

/* Bytes up to where the next thing of a sentence may begin. */
static size_t fragment(const char *text, size_t *gap)
{
    static const char *const LINK[] = { " and ", " with ", " over ", " plus ", " put ", " into ", " in " };
    for (size_t i = 0; text[i]; i++) {
        *gap = 1;
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

/* Where in the fragment an amount begins that can be weighed; n when none. */
static size_t amount_in(const struct st_taking *t, const char *text, size_t n)
{
    struct st_problem p;
    struct st_amount a;
    size_t used;
    for (size_t i = 0; i < n; i++)
        if ((i == 0 || text[i - 1] == ' ') && is_word_byte(text[i]) &&
            st_quantity_parse(text + i, n - i, t->measures, &a, &used, &p) >= 0 && used < n - i &&
            a.dim != ST_DIM_TIME && a.dim != ST_DIM_TEMPERATURE && a.dim != ST_DIM_STRENGTH)
            return i;
    return n;
}

static bool read_thing(struct parting *p, const char *text, size_t n, bool open, struct st_take_item *out)
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
static int open_things(struct parting *p, char *work, struct st_take_item item[])
{
    static const char *const VERB[][2] = { { "filled ", "Fill " }, { "fill ", "Fill " }, { "topped up with ", "Top up with " },
                                           { "top up with ", "Top up with " }, { "covered with ", "cover with " } };
    int n = 0;
    for (size_t i = 0; i < sizeof VERB / sizeof VERB[0] && n < ST_TAKE_ITEMS; i++) {
        char *at = strstr(work, VERB[i][0]);
        if (!at || (at > work && is_word_byte(at[-1])))
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
static int things_in(struct parting *p, const char *text, struct st_take_item item[])
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

static bool is_told_of(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].line.amount.dim == ST_DIM_OPEN &&
            item[i].line.amount.open == ST_OPEN_SOME)
            continue;
        else if ((item[i].role == ST_TAKE_INGREDIENT || item[i].role == ST_TAKE_STEP) && item[i].sure != ST_UNREAD)
            return true;
    return false;
}

/* Is this figure in what was understood already? */
static bool is_in(const struct st_take_item item[], int n, const char *figure, size_t size)
{
    for (int i = 0; i < n; i++) {
        for (const char *as = item[i].as; *as; as++)
            if (strncmp(as, figure, size) == 0 && !isdigit((unsigned char)as[size]) &&
                (as == item[i].as || !isdigit((unsigned char)as[-1])))
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

/* Amounts of a sentence of the method that came into no item: nothing is left out in silence. */
static int missed_things(struct parting *p, const char *sentence, struct st_take_item item[], int n)
{
    if (!is_told_of(item, n) || p->section == ST_SECTION_GOODS ||
        st_take_has_word(sentence, "up to|per|above|instead|if it is|more than|less than"))
        return n;
    for (size_t at = 0, gap, k; sentence[at] && n < ST_TAKE_ITEMS; at += k + gap) {
        k = fragment(sentence + at, &gap);
        const size_t from = amount_in(p->t, sentence + at, k);
        const char *figure = sentence + at + from;
        const size_t digits = strspn(figure, "0123456789.,/");
        if (from >= k || (digits && is_in(item, n, figure, digits)) ||
            !read_thing(p, figure, k - from, false, &item[n]))
            continue;
        if (digits == 0 && (item[n].line.amount.dim != ST_DIM_VOLUME || is_same_thing(item, n)))
            continue; /* "a teaspoon of vanilla extract"; not "the gin" once more */
        item[n].at = at + from;
        item[n].n = k - from;
        n++;
    }
    return n;
}

/* Where no list stands, a remark with amounts in it is read once more, as part of a method. */
static int as_story(struct parting *p, const char *sentence, size_t n, struct st_take_item item[], int found)
{
    struct st_take_context context = p->context;
    struct st_take_item again[ST_TAKE_ITEMS];

    if (is_told_of(item, found) || item[0].role == ST_TAKE_TITLE || p->context.in_method || n < 30 ||
        p->section != ST_SECTION_HEAD || (p->goods > 0 && !p->story) ||
        st_take_has_word(sentence, "above|below|post|says|per serving|serves|calories|kcal|you need|you will need|needed"))
        return found;
    memset(again, 0, sizeof again);
    context.in_method = true;
    int k = st_take_line(sentence, n, p->t->catalogue, &context, again);
    if (!is_told_of(again, k)) {
        memset(again, 0, sizeof again);
        k = things_in(p, sentence, again);
    }
    if (!is_told_of(again, k))
        return found;
    memcpy(item, again, sizeof again);
    context.in_method = false;
    p->context = context;
    p->story = true;
    return k;
}

/* A time that stands in the sentence and came into no deed belongs to the first that takes time. */
static void time_left_over(struct parting *p, const char *sentence, struct st_take_item item[], int n)
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
    if (!takes || st_take_has_word(sentence, "within|every|not|never|don't|daily|twice") ||
        !find_time(p->t, sentence, &time, &where))
        return;
    takes->deed.time = time;
    if (takes->sure == ST_SURE)
        takes->sure = ST_LIKELY;
    if (!*takes->because)
        (void)snprintf(takes->because, sizeof takes->because, "the time that stands in the sentence");
}

static bool is_question(const char *sentence)
{
    size_t n = strlen(sentence);
    while (n && strchr(" \t\")", sentence[n - 1]))
        n--;
    return n > 1 && sentence[n - 1] == '?';
}

static void read_sentence(struct parting *p, const char *text, size_t n)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    const char *sentence = st_arena_strndup(p->t->arena, text, n);

    if (is_question(sentence)) { /* somebody asks: nothing is told */
        note_row(p, sentence);
        p->t->n_group++;
        return;
    }
    if (p->section == ST_SECTION_NOTES && section_of(sentence) != ST_SECTION_GOODS &&
        section_of(sentence) != ST_SECTION_METHOD) {
        note_row(p, sentence);
        p->t->n_group++;
        return;
    }
    memset(item, 0, sizeof item);
    const char *said = st_take_parts_said(p->t, sentence);
    int found = st_take_line(said, strlen(said), p->t->catalogue, &p->context, item);
    for (int i = 0; said != sentence && i < found && i < ST_TAKE_ITEMS; i++) {
        item[i].at = item[i].n = 0; /* the places are those of other words */
        if (item[i].role == ST_TAKE_INGREDIENT && i > 0 && item[i].line.amount.dim == ST_DIM_OPEN) {
            item[i].role = ST_TAKE_NOTHING; /* "... of the liquor": what it is a share of */
            item[i].n_ask = 0;
        }
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].sure < ST_GUESS) {
            item[i].sure = ST_GUESS;
            (void)snprintf(item[i].because, sizeof item[i].because, "told in parts");
        }
    }
    found = as_story(p, sentence, n, item, found);
    if (said == sentence && !looks_listed(sentence, n))
        found = missed_things(p, sentence, item, found);
    found = without_verb(p, sentence, item, found < ST_TAKE_ITEMS ? found : ST_TAKE_ITEMS);
    time_left_over(p, sentence, item, found);
    for (int i = 0; i < found && i < ST_TAKE_ITEMS; i++) {
        open_section(p, &item[i], sentence);
        if (p->story && item[i].role == ST_TAKE_INGREDIENT && st_take_has_word(sentence, "each")) {
            item[i].role = ST_TAKE_NOTE; /* "one each": a share of what was told */
            item[i].n_ask = 0;
        }
        struct st_taken *r = new_row(p, sentence);
        if (!r)
            return;
        r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
        *r->item = item[i];
        r->at = item[i].at;
        if (found > 1 && item[i].role == ST_TAKE_INGREDIENT)
            r->words = piece(p, sentence, &item[i]);
        p->goods += item[i].role == ST_TAKE_INGREDIENT && item[i].sure != ST_UNREAD;
        st_take_answer_row(p->t, r);
    }
    p->t->n_group++;
}

static void read_line(struct parting *p, const char *text, size_t n)
{
    while (n && (*text == ' ' || *text == '\t'))
        text++, n--;
    while (n && (text[n - 1] == ' ' || text[n - 1] == '\t'))
        n--;
    if (n)
        look_for_prose(p, text, n);
    p->gap = n == 0;
    while (n && !p->t->too_long) {
        const size_t k = first_sentence(text, n);
        read_sentence(p, text, k);
        text += k;
        n -= k;
        while (n && (*text == ' ' || *text == '\t'))
            text++, n--;
    }
}

/* ---- lines ---- */

/* A line that goes on in the next one: prose that was broken to a width. */
static bool goes_on(const struct parting *p, const char *line, size_t n, const char *next)
{
    if (n < 40 || (p->section != ST_SECTION_METHOD && n < 55))
        return false;
    while (n && (line[n - 1] == ' ' || line[n - 1] == '\t'))
        n--;
    return n && (is_word_byte(line[n - 1]) || line[n - 1] == ',') && islower((unsigned char)*next);
}

static const struct st_take_change *change_of(const struct st_taking *t, int line)
{
    for (int i = t->given ? t->given->n_change - 1 : -1; i >= 0; i--)
        if (t->given->change[i].line == line)
            return &t->given->change[i];
    return NULL;
}

/* The line that begins at *from; *from is moved behind it.  Lines that belong together are joined in joined. */
static void next_line(struct parting *p, const char **from, int *number, struct st_buf *joined)
{
    const struct st_take_change *change = change_of(p->t, ++*number);
    size_t n = strcspn(*from, "\n");

    p->line = *number;
    p->changed = change != NULL;
    st_buf_clear(joined);
    if (change)
        st_buf_add_n(joined, change->as, strcspn(change->as, "\n"));
    else
        st_buf_add_n(joined, *from, n);
    while ((*from)[n] == '\n' && !change && !change_of(p->t, *number + 1) &&
           goes_on(p, st_buf_text(joined), joined->length, *from + n + 1)) {
        const char *more = *from + n + 1;
        const size_t k = strcspn(more, "\n");
        ++*number;
        st_buf_char(joined, ' ');
        st_buf_add_n(joined, more, k);
        n += 1 + k;
    }
    *from += n + ((*from)[n] == '\n');
}

/* Nothing that could be weighed. */
static bool is_plain_words(const struct st_taking *t, const struct st_taken *r, int next)
{
    const struct st_take_item *i = r->item;
    const bool apart = next < t->n_row && t->row[next].line > r->line + 1;

    if (i->role == ST_TAKE_NOTE || (i->role == ST_TAKE_HEADING && section_of(r->words) < 0))
        return true;
    return i->role == ST_TAKE_INGREDIENT &&
           (i->sure == ST_UNREAD || (i->sure >= ST_LIKELY && apart) ||
            (i->line.amount.dim == ST_DIM_OPEN && i->line.amount.open == ST_OPEN_SOME));
}

/* The first words, when they read as nothing else. */
static void find_title(struct st_taking *t)
{
    int n = 0;
    bool plain = t->n_row > 0 && strlen(t->row[0].sentence) <= 80 && !isdigit((unsigned char)*t->row[0].sentence);
    const bool figures = t->n_row > 0 && strpbrk(t->row[0].sentence, "0123456789");

    for (int i = 0; i < t->n_row && !t->title; i++)
        if (t->row[i].item->role == ST_TAKE_TITLE)
            t->title = t->row[i].words;
    while (n < t->n_row && t->row[n].group == 0)
        n++;
    for (int i = 0; i < n; i++)
        plain = plain && is_plain_words(t, &t->row[i], n) &&
                (!figures || (t->row[i].item->sure >= ST_GUESS && n < t->n_row && t->row[n].line > t->row[0].line + 1));
    if (t->title || !plain || is_question(t->row[0].sentence))
        return;
    for (int i = 0; i < n; i++) {
        struct st_taken *r = &t->row[i];
        *r->item = (struct st_take_item){ .role = i ? ST_TAKE_NOTHING : ST_TAKE_TITLE,
                                          .line = { .text = "", .from_step = -1 } };
        r->words = r->sentence;
        memset(r->put, 0, sizeof r->put);
    }
    t->title = t->row[0].words;
}

static void part(struct st_taking *t)
{
    struct parting p = { .t = t, .context = { .measures = t->measures } };
    struct st_buf joined = { 0 };
    const char *from = t->text;
    int number = 0;

    t->n_row = t->n_group = 0;
    t->title = NULL;
    while (*from && !t->too_long) {
        next_line(&p, &from, &number, &joined);
        read_line(&p, st_buf_text(&joined), joined.length);
        t->too_long = t->too_long || number > ST_TAKE_LINES;
    }
    t->n_line = number;
    if (t->measures == ST_MEASURES_NONE)
        t->measures = p.context.measures;
    st_buf_done(&joined);
    find_title(t);
}

void st_take_part(struct st_taking *t)
{
    const enum st_measures before = t->measures;
    t->row = st_arena_alloc(t->arena, ST_TAKE_ROWS * sizeof *t->row);
    part(t);
    if (t->measures != before && !t->too_long)
        part(t); /* whose cups they are was told below the cups */
}
