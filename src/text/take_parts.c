#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "amiss.h"
#include "day_said.h"
#include "scan.h"
#include "take_diary.h"
#include "take_per.h"
#include "take_poured.h"
#include "take_prose.h"

/* ---- rows ---- */

int st_take_section_of(const char *words)
{
    if (st_take_has_word(words, "ingredients|ingredient|you need|you will need|shopping list|what you need"))
        return ST_SECTION_GOODS;
    if (st_take_has_word(words,
                         "method|directions|instructions|preparation|procedure|steps|how to|to make|making|what to do"))
        return ST_SECTION_METHOD;
    if (st_take_has_word(words, "notes|note|tips|tip|to serve|serving|servings|storage|nutrition|comments"))
        return ST_SECTION_NOTES;
    return -1;
}

static struct st_taken *new_row(struct st_parting *p, const char *sentence, const char *own)
{
    struct st_taking *t = p->t;
    if (t->n_row >= ST_TAKE_ROWS) {
        t->too_long = true;
        return NULL;
    }
    struct st_taken *r = &t->row[t->n_row++];
    *r = (struct st_taken){ .line = p->line,
                            .words = own,
                            .sentence = sentence,
                            .own = own,
                            .group = t->n_group,
                            .changed = p->changed,
                            .entry = -1,
                            .stage = -1,
                            .when = p->when };
    r->in_method = p->section == ST_SECTION_METHOD || p->context.in_method || p->story;
    return r;
}

/* "250 g honey", "  * 2 lemons"; not "1. Put ..." */
static bool looks_listed(const char *line, size_t n)
{
    const size_t blanks = strspn(line, " ");
    line += blanks < n ? blanks : n; /* a day stood there */
    n -= blanks < n ? blanks : n;
    const char *bare = st_take_bare(line);
    const bool bullet = bare != line && !isdigit((unsigned char)bare[-1]) && !isdigit((unsigned char)*line) &&
                        strcspn(line, "0123456789") >= (size_t)(bare - line);
    const unsigned char c = (unsigned char)*bare;
    const bool figure =
        isdigit(c) || (c == 0xc2 && (unsigned char)bare[1] >= 0xbc) || (c == 0xe2 && (unsigned char)bare[1] == 0x85);
    if (n > 90 || !(figure || bullet))
        return false;
    return !st_take_has_word(bare, "day|days|week|weeks|month|months|hours|year|years|minutes|wks|mths");
}

/* Where no heading tells: behind a blank line after the ingredients comes what is done with them. */
static void look_for_prose(struct st_parting *p, const char *line, size_t n)
{
    if (p->section == ST_SECTION_NOTES || p->section == ST_SECTION_METHOD)
        return;
    if (looks_listed(line, n))
        p->prose = false;
    else if (p->gap && p->goods > 1 && n > 20)
        p->prose = true;
    p->context.in_method = p->prose && !p->story;
}

static void open_section(struct st_parting *p, const struct st_take_item *item, const char *words)
{
    const int s = item->role == ST_TAKE_HEADING ? st_take_section_of(words) : -1;
    if (s < 0)
        return;
    p->section = (enum st_take_section)s;
    p->context.in_method = s == ST_SECTION_METHOD;
}

/* Remarks are kept, and not reckoned with. */
static void note_row(struct st_parting *p, const char *sentence)
{
    struct st_taken *r = new_row(p, sentence, sentence);
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    r->item->role = ST_TAKE_NOTE;
}

/* "sugar and", "and the water": what joins it to the next thing is no word of it. */
static size_t without_links(const char **from, size_t k)
{
    static const char LINK[] = "and|with|plus|then|but|or|over|into|in|to";
    size_t last = k;
    struct st_scan s = { *from, *from + k };

    while (last && st_take_is_word_byte((*from)[last - 1]))
        last--;
    struct st_scan end = { *from + last, *from + k };
    if (last > 0 && st_scan_word(&end, LINK) && end.at == end.end) {
        k = last;
        while (k && strchr(" \t,;.", (*from)[k - 1]))
            k--;
    }
    if (st_scan_word(&s, "and|plus|then|but") && (size_t)(s.at - *from) < k && st_scan_blanks(&s)) {
        k -= (size_t)(s.at - *from);
        *from = s.at;
    }
    return k;
}

static const char *piece(struct st_parting *p, const char *sentence, const struct st_take_item *item)
{
    const size_t n = strlen(sentence);
    if (item->n == 0 || item->at >= n || item->n > n - item->at)
        return sentence;
    const char *from = sentence + item->at;
    size_t k = item->n;
    while (k && strchr(" \t,;.", from[k - 1]))
        k--;
    k = without_links(&from, k);
    while (k && *from == ' ')
        from++, k--;
    return k ? st_arena_strndup(p->t->arena, from, k) : sentence;
}
bool st_take_is_question(const char *sentence)
{
    size_t n = strlen(sentence);
    while (n && strchr(" \t\")", sentence[n - 1]))
        n--;
    return n > 1 && sentence[n - 1] == '?';
}

/* Told in parts: the places are those of other words. */
static void mark_parts(struct st_take_item item[], int found)
{
    for (int i = 0; i < found && i < ST_TAKE_ITEMS; i++) {
        item[i].at = item[i].n = 0;
        if (item[i].role == ST_TAKE_INGREDIENT && i > 0 && item[i].line.amount.dim == ST_DIM_OPEN) {
            item[i].role = ST_TAKE_NOTHING; /* "... of the liquor": what it is a share of */
            item[i].n_ask = 0;
        }
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].sure < ST_GUESS) {
            item[i].sure = ST_GUESS;
            (void)snprintf(item[i].because, sizeof item[i].because, "told in parts");
        }
    }
}

/* "Syrup of the sugar and water, boiled 5 min": a deed, told by its things, and no syrup that is bought. */
static void see_syrup(const struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    struct st_scan s = { sentence, sentence + strlen(sentence) };
    if (n == 1 && p->goods > 1 && item[0].role == ST_TAKE_INGREDIENT &&
        (item[0].line.amount.dim == ST_DIM_OPEN || !(item[0].line.amount.value > 0)) &&
        (!item[0].line.what || item[0].line.what->kind == ST_KIND_SYRUP) &&
        st_scan_word(&s, "syrup of|a syrup of|syrup from|a syrup from"))
        item[0] = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = { .text = "", .from_step = -1 } };
}

static int items_in(struct st_parting *p, const char *sentence, struct st_take_item item[])
{
    const char *said = st_take_parts_said(p->t, sentence);
    int found = st_take_line(said, strlen(said), p->t->catalogue, &p->context, item);

    const bool listed = looks_listed(sentence, strlen(sentence));
    if (said != sentence) {
        found = listed ? found : st_take_missed(p, said, item, found);
        mark_parts(item, found);
    }
    if (!listed)
        found = st_take_story(p, sentence, strlen(sentence), item, found);
    if (said == sentence && !listed)
        found = st_take_missed(p, sentence, item, found);
    st_take_left_of(p, sentence, item, found);
    see_syrup(p, sentence, item, found);
    found = st_take_added(p, sentence, item, found);
    found = st_take_unmeasured(p, sentence, item, found);
    found = st_take_hearsay(p, sentence, item, found);
    found = st_take_verbless(p, sentence, item, found < ST_TAKE_ITEMS ? found : ST_TAKE_ITEMS);
    st_take_time_left(p, sentence, item, found);
    return found < ST_TAKE_ITEMS ? found : ST_TAKE_ITEMS;
}

/* What is poured without an amount is read apart from the rest of its sentence. */
static int items_of(struct st_parting *p, const char *sentence, struct st_take_item item[])
{
    const struct st_take_context before = p->context;
    const double poured_ml = p->t->poured_ml;
    struct st_take_poured poured;

    int n = items_in(p, sentence, item);
    if (p->section == ST_SECTION_NOTES || !st_take_poured(p, sentence, item, n, &poured))
        return n;
    memset(item, 0, ST_TAKE_ITEMS * sizeof *item);
    p->context = before;
    p->t->poured_ml = poured_ml;
    n = items_in(p, poured.rest, item);
    if (n == 1 && (item[0].role == ST_TAKE_NOTE || item[0].role == ST_TAKE_NOTHING))
        n = 0;
    if (n == ST_TAKE_ITEMS)
        n--;
    item[n] = poured.item;
    return n + 1;
}

/* The item's own words in the sentence as written. */
static const char *own_words(struct st_parting *p, const char *own, const struct st_take_spelt *spelt,
                             const struct st_take_item *item)
{
    struct st_take_item there = *item;
    if (spelt && item->n > 0 && item->at + item->n <= spelt->n) {
        there.at = spelt->from[item->at];
        there.n = spelt->from[item->at + item->n] - there.at;
    }
    return piece(p, own, &there);
}

/* The rows of a line are numbered; one of them may say something else. */
static void change_row(struct st_parting *p, struct st_taken *r)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    const struct st_take_given *g = p->t->given;

    if (r->item->role == ST_TAKE_NOTHING)
        return;
    r->nth = 1;
    for (const struct st_taken *o = p->t->row; o < r; o++)
        r->nth += o->line == r->line && o->nth > 0;
    for (int i = g ? g->n_change - 1 : -1; i >= 0; i--) {
        const char *as = g->change[i].as;
        if (g->change[i].line != r->line || g->change[i].item != r->nth)
            continue;
        r->changed = true;
        r->was = r->words;
        memset(item, 0, sizeof item);
        if (as[strspn(as, " \t")])
            (void)st_take_line(as, strlen(as), p->t->catalogue, &p->context, item);
        else
            item[0] = (struct st_take_item){ .role = ST_TAKE_NOTHING, .line = { .text = "", .from_step = -1 } };
        *r->item = item[0];
        r->words = st_arena_strdup(p->t->arena, as);
        return;
    }
}

static void give_row(struct st_parting *p, const char *sentence, const char *own, const struct st_take_spelt *spelt,
                     struct st_take_item *item, bool several, const struct st_take_per *per)
{
    open_section(p, item, sentence);
    if (p->story && item->role == ST_TAKE_INGREDIENT && item->line.amount.dim == ST_DIM_PIECE &&
        st_take_has_word(sentence, "each")) {
        item->role = ST_TAKE_NOTE; /* "one each": a share of what was told */
        item->n_ask = 0;
    }
    struct st_taken *r = new_row(p, sentence, own);
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item = *item;
    if (item->role == ST_TAKE_INGREDIENT)
        st_take_ask_either(p->t, r->item);
    r->at = item->at;
    if (per)
        r->per = *per;
    if (several && item->role == ST_TAKE_INGREDIENT)
        r->words = own_words(p, own, spelt, item);
    change_row(p, r);
    p->goods += item->role == ST_TAKE_INGREDIENT && item->sure != ST_UNREAD;
    p->measured += st_take_tells(item, 1) && item->role == ST_TAKE_INGREDIENT;
    st_take_answer_row(p->t, r);
}

/* A whole sentence, and no line of a list. */
static bool is_told_at_length(const char *own)
{
    const size_t n = strlen(own);
    return n > 40 && own[n - 1] == '.' && isalpha((unsigned char)*own) && !looks_listed(own, n);
}

/* "If it is too sharp, add 50 g more sugar." */
static bool is_conditional(const struct st_parting *p, const char *sentence)
{
    const char *bare = st_take_bare(sentence);
    struct st_scan s = { bare, bare + strlen(bare) };
    return (p->story || p->prose || p->section == ST_SECTION_METHOD) &&
           st_scan_word(&s, "if it|if the|if they|if your|if too|if not|should it|should the|in case|unless|otherwise");
}

static bool is_remark(const struct st_parting *p, const char *sentence)
{
    return st_take_is_question(sentence) || is_conditional(p, sentence) ||
           (p->section == ST_SECTION_NOTES && st_take_section_of(sentence) != ST_SECTION_GOODS &&
            st_take_section_of(sentence) != ST_SECTION_METHOD);
}

/* What no step can say is told in a row of its own, and blanked out of the sentence; what is left of it. */
static const char *put_unreckoned(struct st_parting *p, const char *own)
{
    char *left = st_arena_strdup(p->t->arena, own);
    size_t at, n;

    for (const char *why; (why = st_take_away(left, p->t->text, &at, &n)) != NULL;) {
        struct st_taken *r = new_row(p, "", st_arena_strndup(p->t->arena, own + at, n));
        if (!r)
            break;
        r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
        *r->item = (struct st_take_item){ .role = ST_TAKE_INGREDIENT,
                                          .sure = ST_UNREAD,
                                          .line = { .text = "", .from_step = -1 } };
        (void)snprintf(r->item->because, sizeof r->item->because, "%s", why);
        change_row(p, r);
        p->t->n_group++;
        struct st_scan s = { left + at + n, left + strlen(left) };
        while (s.at < s.end && strchr(" ,", *s.at))
            s.at++;
        (void)st_scan_word(&s, "and then|and|then|but"); /* what joins it to the next deed goes with it */
        memset(left + at, ' ', (size_t)(s.at - left) - at);
    }
    return left;
}

/* Days are blanked out of a sentence and told with its rows; a length of time ("after six weeks") stays in it too. */
static const char *put_days(struct st_parting *p, const char *own)
{
    char *left = st_arena_strdup(p->t->arena, own);
    bool since;

    for (size_t at = 0, n; (n = st_take_day_in(left, &at, &since)) > 0; at += n) {
        p->when = st_arena_strndup(p->t->arena, own + at, n);
        if (!since)
            memset(left + at, ' ', n);
    }
    return left;
}

/* What came off is a volume that was read: no ingredient, and a row of its own. */
static const char *put_came_off(struct st_parting *p, const char *shown, const char *own)
{
    struct st_amount a;
    size_t at, n;

    if (!st_take_came_off(own, p->t->measures, &at, &n, &a))
        return own;
    struct st_taken *r = new_row(p, "", st_arena_strndup(p->t->arena, shown + at, n));
    if (!r)
        return own;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = { .text = "", .from_step = -1 } };
    (void)snprintf(r->item->because, sizeof r->item->because, "%.6g mL came off: a volume that was read, no ingredient",
                   a.value);
    r->came_ml = a.value;
    p->t->n_group++;
    char *left = st_arena_strdup(p->t->arena, own);
    memset(left + at, ' ', n);
    return left;
}

/* What has gone wrong is no ingredient and no deed: a row of its own, kept in the maker's words. */
static const char *put_amiss(struct st_parting *p, const char *own)
{
    size_t at = 0, n = st_amiss_clause(own, &at);

    while (n > 0 && own[at] == ' ')
        at++, n--;
    if (n == 0 || strspn(own, " ,;.") == at) /* the sentence is told as a whole */
        return own;
    struct st_taken *r = new_row(p, "", st_arena_strndup(p->t->arena, own + at, n));
    if (!r)
        return own;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = { .text = "", .from_step = -1 } };
    p->t->n_group++;
    char *left = st_arena_strdup(p->t->arena, own);
    memset(left + at, ' ', n);
    return left;
}

/* Was this place read as a thing, or is it told as unread already? */
static bool is_told(const struct st_take_item item[], int n, size_t at)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && at + 1 > item[i].at && at < item[i].at + item[i].n)
            return true;
    return false;
}

static void put_one_unknown(struct st_parting *p, const char *words, size_t n)
{
    struct st_taken *r = new_row(p, "", st_arena_strndup(p->t->arena, words, n));
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item =
        (struct st_take_item){ .role = ST_TAKE_INGREDIENT, .sure = ST_UNREAD, .line = { .text = "", .from_step = -1 } };
    (void)snprintf(r->item->because, sizeof r->item->because, "no ingredient is found in it");
    if (p->story || p->when)
        st_take_ask_what(p->t, r->item, words, n);
    change_row(p, r);
    st_take_answer_row(p->t, r);
}

/* What a sentence puts in and nobody knows has a row of its own. */
/* found: items whose places are those of the sentence; read: of all. */
static void put_unknown(struct st_parting *p, const char *sentence, const struct st_take_item item[], int found,
                        int read)
{
    int told = 0;
    for (size_t at = 0, n = 0; st_take_unknown_in(p->t->catalogue, sentence, &at, &n); at += n)
        if (!is_told(item, found, at)) {
            put_one_unknown(p, sentence + at, n);
            told++;
        }
    const bool goods = read > 0 && item[0].role == ST_TAKE_INGREDIENT && p->section != ST_SECTION_NOTES;
    for (size_t at = 0, n; told == 0 && goods && (n = st_take_amount_left(p->t, sentence, item, read, &at)) > 0;
         at += n)
        put_one_unknown(p, sentence + at, n);
}

static void read_sentence(struct st_parting *p, const char *text, size_t n)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    struct st_take_spelt spelt;
    const char *own = st_arena_strndup(p->t->arena, text, n), *sentence;

    if (is_remark(p, own)) { /* somebody asks, or remarks: nothing is told */
        note_row(p, own);
        p->t->n_group++;
        return;
    }
    const char *shown = own;
    own = put_days(p, own);
    own = put_came_off(p, shown, own);
    sentence = own = put_amiss(p, put_unreckoned(p, own));
    if (n > 0 && own[strspn(own, " ,;.!()")] == '\0')
        return;
    const bool respelt = !looks_listed(own, n) && st_take_respell(p->t->arena, p->t->catalogue, own, &spelt);
    if (respelt)
        sentence = spelt.text;
    if (respelt && spelt.n == strspn(spelt.text, " ,;.!)")) { /* all of it was taken back */
        note_row(p, own);
        p->t->n_group++;
        return;
    }
    memset(item, 0, sizeof item);
    struct st_take_per per;
    size_t per_at;
    sentence = st_take_per_said(p->t, sentence, &per, &per_at);
    const int found = items_of(p, sentence, item);
    if (p->section == ST_SECTION_HEAD && p->measured == 0 && st_take_tells(item, found) &&
        ((respelt && spelt.told) || is_told_at_length(own)))
        p->story = true;
    for (int i = 0; i < found; i++)
        give_row(p, sentence, shown, respelt ? &spelt : NULL, &item[i], found > 1,
                 per.ml.known && st_take_per_is_of(sentence, per_at, item, found, i) ? &per : NULL);
    put_unknown(p, own, item, respelt ? 0 : found, found);
    p->t->n_group++;
}

static void read_line(struct st_parting *p, const char *text, size_t n)
{
    while (n && (*text == ' ' || *text == '\t'))
        text++, n--;
    while (n && (text[n - 1] == ' ' || text[n - 1] == '\t'))
        n--;
    if (n)
        look_for_prose(p, text, n);
    p->gap = n == 0;
    while (n && !p->t->too_long) {
        bool since;
        const size_t day = st_day_words_at(text, true, &since); /* "4.10. added": no end of a sentence */
        size_t k = day < n ? day + st_take_sentence(text + day, n - day) : n;
        k = st_take_before_next_day(p->t->arena, text, day, k);
        read_sentence(p, text, k);
        text += k;
        n -= k;
        while (n && (*text == ' ' || *text == '\t'))
            text++, n--;
    }
}

/* ---- lines ---- */

/* A line that goes on in the next one: prose that was broken to a width. */
static bool goes_on(const struct st_parting *p, const char *line, size_t n, const char *next)
{
    if (n < 40 || (p->section != ST_SECTION_METHOD && n < 55))
        return false;
    while (n && (line[n - 1] == ' ' || line[n - 1] == '\t'))
        n--;
    if (n == 0 || !(st_take_is_word_byte(line[n - 1]) || line[n - 1] == ','))
        return false;
    if (islower((unsigned char)*next))
        return true;
    size_t word = n;
    while (word && st_take_is_word_byte(line[word - 1]))
        word--;
    struct st_scan s = { line + word, line + n };
    return isdigit((unsigned char)*next) &&
           st_scan_word(&s, "a|an|the|of|in|into|with|and|for|to|or|over|by|at|from|add");
}

static const struct st_take_change *change_of(const struct st_taking *t, int line)
{
    for (int i = t->given ? t->given->n_change - 1 : -1; i >= 0; i--)
        if (t->given->change[i].line == line && t->given->change[i].item == 0)
            return &t->given->change[i];
    return NULL;
}

/* How many ingredients these words name with what they are read as. */
static int n_things(const struct st_parting *p, const char *text, size_t n)
{
    int things = 0;
    while (n) {
        struct st_take_item item[ST_TAKE_ITEMS];
        struct st_take_context context = p->context;
        const size_t k = st_take_sentence(text, n);
        memset(item, 0, sizeof item);
        const int found = st_take_line(text, k, p->t->catalogue, &context, item);
        for (int i = 0; i < found; i++)
            things += item[i].role == ST_TAKE_INGREDIENT;
        text += k;
        n -= k;
        while (n && (*text == ' ' || *text == '\t'))
            text++, n--;
    }
    return things;
}

/* A whole line is said otherwise: nothing that stood in it may be lost by that. */
static void see_crowded(const struct st_parting *p, const char *line, size_t n, const char *as)
{
    const size_t k = strcspn(as, "\n");
    const int before = as[strspn(as, " \t")] ? n_things(p, line, n) : 0;
    if (before > 1 && n_things(p, as, k) < before)
        p->t->crowded = p->line;
}

/* The line that begins at *from; *from is moved behind it.  Lines that belong together are joined in joined. */
static void next_line(struct st_parting *p, const char **from, int *number, struct st_buf *joined)
{
    const struct st_take_change *change = change_of(p->t, ++*number);
    size_t n = strcspn(*from, "\n");

    p->line = *number;
    p->changed = change != NULL;
    st_buf_clear(joined);
    if (change)
        see_crowded(p, *from, n, change->as);
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

static void part(struct st_taking *t)
{
    struct st_parting p = { .t = t, .context = { .measures = t->measures } };
    struct st_buf joined = { 0 };
    const char *from = t->text;
    int number = 0;

    t->n_row = t->n_group = 0;
    t->poured_ml = 0;
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
    st_take_title(t);
}

void st_take_part(struct st_taking *t)
{
    const enum st_measures before = t->measures;
    t->row = st_arena_alloc(t->arena, ST_TAKE_ROWS * sizeof *t->row);
    part(t);
    if (t->measures != before && !t->too_long)
        part(t); /* whose cups they are was told below the cups */
}
