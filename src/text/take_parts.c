#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "day_said.h"
#include "scan.h"
#include "take_diary.h"
#include "take_per.h"
#include "take_poured.h"
#include "take_prose.h"
#include "take_row.h"

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

static void give_row(struct st_parting *p, const char *sentence, const char *own, const struct st_take_spelt *spelt,
                     struct st_take_item *item, bool several, const struct st_take_per *per)
{
    open_section(p, item, sentence);
    if (p->story && item->role == ST_TAKE_INGREDIENT && item->line.amount.dim == ST_DIM_PIECE &&
        st_take_has_word(sentence, "each")) {
        item->role = ST_TAKE_NOTE; /* "one each": a share of what was told */
        item->n_ask = 0;
    }
    struct st_taken *r = st_take_new_row(p, sentence, own);
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
    st_take_change_row(p, r);
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

static void read_sentence(struct st_parting *p, const char *text, size_t n)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    struct st_take_spelt spelt;
    const char *own = st_arena_strndup(p->t->arena, text, n), *sentence;

    if (is_remark(p, own)) { /* somebody asks, or remarks: nothing is told */
        st_take_note_row(p, own);
        p->t->n_group++;
        return;
    }
    const char *shown = own;
    own = st_take_put_days(p, own);
    own = st_take_put_came_off(p, shown, own);
    sentence = own = st_take_put_amiss(p, st_take_put_unreckoned(p, own));
    if (n > 0 && own[strspn(own, " ,;.!()")] == '\0')
        return;
    const bool respelt = !looks_listed(own, n) && st_take_respell(p->t->arena, p->t->catalogue, own, &spelt);
    if (respelt)
        sentence = spelt.text;
    if (respelt && spelt.n == strspn(spelt.text, " ,;.!)")) { /* all of it was taken back */
        st_take_note_row(p, own);
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
    st_take_put_unknown(p, own, item, respelt ? 0 : found, found);
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
        st_take_next_line(&p, &from, &number, &joined);
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
