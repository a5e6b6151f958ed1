#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "held.h"
#include "name_form.h"
#include "scan.h"
#include "take_named.h"
#include "take_poured.h"
#include "take_prose.h"
#include "take_words.h"

/* Names that stand in the text and came into no row.  What must not go into a drink is told wherever it is named:
 * in a title, a remark, a line that could not be read. */

enum { MOST_WORDS = 120, MOST_FOUND = 24, LONGEST = 5 };

struct word {
    size_t at, end;
    int clause; /* names do not cross commas, "and", figures */
    bool filler, soft;
};

struct sentence {
    const char *text;
    struct word word[MOST_WORDS];
    int n;
};

struct found {
    int from, end; /* words */
    const struct st_ingredient *what;
};

/* ---- words ---- */

static bool is_letter(unsigned char c)
{
    return isalpha(c) || c >= 0x80;
}

static bool is_word(const struct sentence *s, int i, const char *list)
{
    if (i < 0 || i >= s->n)
        return false;
    struct st_scan scan = { s->text + s->word[i].at, s->text + s->word[i].end };
    return st_scan_word(&scan, list) && scan.at == scan.end;
}

static bool breaks(const struct sentence *s, int i)
{
    return is_word(s, i, "and|or|with|plus|from|into|in|to|on|over|then|but|for|by|at|not") &&
           !(is_word(s, i, "and") && is_word(s, i - 1, "lords"));
}

static void look_at(struct sentence *s, int i)
{
    struct st_name_words w;
    struct word *word = &s->word[i];
    st_name_split(s->text + word->at, word->end - word->at, &w);
    word->filler = w.n == 0;
    word->soft = w.n == 1 && (st_name_is_soft(w.word[0]) || st_name_is_dried(w.word[0]));
}

static void split(struct sentence *s, const char *text)
{
    int clause = 0;
    s->text = text;
    s->n = 0;
    for (size_t i = 0; text[i] && s->n < MOST_WORDS;) {
        const unsigned char c = (unsigned char)text[i];
        if (!is_letter(c)) {
            clause += c != ' ' && c != '-' && c != '\t' && c != '"';
            i++;
            continue;
        }
        size_t n = i;
        while (is_letter((unsigned char)text[n]) || (text[n] == '\'' && isalpha((unsigned char)text[n + 1])))
            n++;
        s->word[s->n++] = (struct word){ i, n, clause, false, false };
        look_at(s, s->n - 1);
        if (breaks(s, s->n - 1))
            s->word[s->n - 1].clause = ++clause, clause++;
        i = n;
    }
}

/* ---- names ---- */

static const struct st_ingredient *name_at(const struct st_catalogue *c, const struct sentence *s, int from, int end)
{
    char form[ST_NAME_BYTES * 2];
    struct st_name_words w;
    const size_t at = s->word[from].at;
    const struct word *last = &s->word[end - 1];

    if (s->word[from].filler || last->filler || s->word[from].clause != last->clause)
        return NULL;
    st_name_split(s->text + at, last->end - at, &w);
    unsigned soft = 0;
    for (int i = 1; i + 1 < w.n; i++)
        soft |= st_name_is_soft(w.word[i]) || st_name_is_dried(w.word[i]) ? 1u << i : 0;
    size_t n = st_name_join(&w, 0, form);
    const struct st_ingredient *in = n ? st_catalogue_by_form(c, form, n) : NULL;
    if (in || !soft)
        return in;
    n = st_name_join(&w, soft, form);
    return n ? st_catalogue_by_form(c, form, n) : NULL;
}

/* The longest names first; those inside them are hidden. */
static int find_names(const struct st_catalogue *c, const struct sentence *s, struct found out[MOST_FOUND])
{
    int n = 0;
    for (int length = LONGEST; length > 0; length--)
        for (int from = 0; from + length <= s->n && n < MOST_FOUND; from++) {
            bool taken = false;
            for (int i = 0; i < n; i++)
                taken = taken || (from < out[i].end && out[i].from < from + length);
            const struct st_ingredient *in = taken ? NULL : name_at(c, s, from, from + length);
            if (in)
                out[n++] = (struct found){ from, from + length, in };
        }
    return n;
}

/* ---- what is not meant to go in ---- */

/* "Aunt Holly", "Ivy's own", "Yew Tree Cottage": people and places. */
static bool is_somebody(const struct sentence *s, const struct found *f)
{
    const char first = s->text[s->word[f->from].at], *end = s->text + s->word[f->end - 1].end;
    if (f->end - f->from > 1 || first < 'A' || first > 'Z')
        return false;
    return (end[-1] == 's' && end[-2] == '\'') ||
           is_word(s, f->from - 1, "aunt|auntie|uncle|mrs|mr|miss|ms|dr|cousin|granny|gran|grandma|nana|dear|sister") ||
           is_word(s, f->end, "house|cottage|lane|farm|road|street|hall|inn|hill|row") ||
           is_word(s, f->end + 1, "house|cottage|lane|farm|road|street|hall|inn|hill|row");
}

/* "A jelly bag", "a coffee filter": a tool that has its name from what it is for. */
static bool is_tool(const struct sentence *s, const struct found *f)
{
    return !st_ingredient_is_stopped(f->what) && f->end - f->from == 1 &&
           ((is_word(s, f->from, "jelly") && is_word(s, f->end, "bag|bags|cloth|glass|glasses")) ||
            (is_word(s, f->from, "jam|honey") && is_word(s, f->end, "jar|jars")) ||
            (is_word(s, f->from, "coffee") && is_word(s, f->end, "filter|filters|paper|papers|grinder")) ||
            (is_word(s, f->from, "sugar") && is_word(s, f->end, "thermometer")) ||
            (is_word(s, f->from, "tea") && is_word(s, f->end, "towel|towels|strainer|cloth")));
}

/* "No yew", "discard the elder stalks", "elder stalks removed". */
static bool is_kept_out(const struct sentence *s, const struct found *f)
{
    const char *apart = st_ingredient_is_stopped(f->what) ? ",;.:!?(0123456789" : ",;.:!?(";
    static const char BEFORE[] = "no|not|never|don't|dont|cannot|avoid|avoiding|without|unlike|beware|confuse|confused|"
                                 "mistake|mistaken|discard|discarding|discarded|remove|removing|strip|stripping|"
                                 "stripped|except|skip|omit|nor|mistook|threw|throw|throwing|tossed";
    static const char BEHIND[] = "removed|discarded|free|thrown";
    if (is_tool(s, f))
        return true;
    for (int i = f->from - 1; i >= 0 && i >= f->from - 6; i--) {
        for (size_t k = s->word[i].end; k < s->word[i + 1].at; k++)
            if (strchr(apart, s->text[k]))
                return false;
        if (is_word(s, i, BEFORE))
            return true;
    }
    return is_word(s, f->end, BEHIND) || is_word(s, f->end + 1, BEHIND);
}

/* ---- is it in a row already? ---- */

static bool shares_word(const struct found *f, const struct sentence *s, const char *words)
{
    struct st_name_words a, b;
    const size_t at = s->word[f->from].at;
    st_name_split(s->text + at, s->word[f->end - 1].end - at, &a);
    while (*words) { /* names are cut at their limits */
        size_t n = strlen(words) < 100 ? strlen(words) : 100;
        st_name_split(words, n, &b);
        for (int i = 0; i < a.n; i++)
            for (int k = 0; k < b.n; k++)
                if (strlen(a.word[i]) > 2 && strcmp(a.word[i], b.word[k]) == 0)
                    return true;
        words += n < 100 ? n : n - 30;
    }
    return false;
}

/* "200 g sugar plus almonds": a thing of its own, which the words before it do not hold. */
static bool is_added(const struct found *f, const struct sentence *s)
{
    for (int i = f->from - 1; i >= 0 && i >= f->from - 3; i--)
        if (is_word(s, i, "plus"))
            return true;
    return false;
}

/* One thing was read of a whole sentence that told deeds: what else it names is not told by that. */
static bool is_sentence_of_another(const struct st_taken *r, const struct found *f)
{
    return r->words == r->own && r->in_method && r->item->sure != ST_UNREAD && r->item->line.what &&
           r->item->line.what != f->what && r->item->line.amount.dim != ST_DIM_OPEN && strlen(r->own) > 30;
}

/* "700 mL vodka 40 %, the neighbour's wormwood": named behind a comma, where nothing of what the row was read as stands. */
static bool is_behind_comma(const struct st_taken *r, const struct found *f, const struct sentence *s)
{
    const size_t at = s->word[f->from].at, n = s->word[f->end - 1].end - at;
    const char *words = r->words, *name = NULL;

    for (const char *p = words; *p && !name; p++)
        name = strncmp(p, s->text + at, n) == 0 && (p == words || !is_letter((unsigned char)p[-1])) ? p : NULL;
    if (f->what->kind == ST_KIND_KERNEL && is_word(s, f->from, "stone|stones"))
        return false; /* "plums, weighed with their stones" */
    if (!name || r->item->sure == ST_UNREAD || !r->item->line.what || r->item->line.what == f->what)
        return false;
    bool behind = false;
    int depth = 0;
    for (const char *p = words; p < name; p++) {
        depth += *p == '(' ? 1 : *p == ')' && depth > 0 ? -1 : 0;
        behind = behind || (depth == 0 && (*p == ',' || *p == ';') && p[1] == ' ');
    }
    return behind && depth == 0;
}

static bool is_told(const struct st_taking *t, const struct found *f, const struct sentence *s, bool stop)
{
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *item = t->row[i].item;
        if (!stop && t->row[i].was && shares_word(f, s, t->row[i].was))
            return true; /* the maker said something else for it, or left it out */
        if (item->role != ST_TAKE_INGREDIENT)
            continue;
        if (item->line.what == f->what)
            return true;
        if (stop || (strncmp(item->because, "two things are named", 20) == 0 && item->n_ask == 0 &&
                     strstr(item->because, f->what->name)))
            continue; /* the amount is the other one's */
        if ((item->or_slug[0] && strcmp(item->or_slug, f->what->slug) == 0) ||
            (!is_added(f, s) && !is_sentence_of_another(&t->row[i], f) && !is_behind_comma(&t->row[i], f, s) &&
             shares_word(f, s, t->row[i].words)) ||
            shares_word(f, s, item->as))
            return true;
    }
    return false;
}

/* Is it named in a line that the maker left out, or said otherwise? */
static bool is_left_out(const struct st_taking *t, const struct found *f, const struct sentence *s)
{
    for (int i = 0; t->given && i < t->given->n_change; i++) {
        const char *line = t->given->change[i].item ? NULL : t->text;
        for (int k = 1; line && k < t->given->change[i].line; k++)
            line = (line = strchr(line, '\n')) ? line + 1 : NULL;
        if (line && shares_word(f, s, st_arena_strndup(t->arena, line, strcspn(line, "\n"))))
            return true;
    }
    return false;
}

/* ---- rows ---- */

/* A line that could not be read, and names it: its row is the one that tells. */
static bool tell_in_row(struct st_taking *t, int row, const struct found *f, const char *name)
{
    for (int i = row; i < t->n_row && t->row[i].group == t->row[row].group; i++) {
        struct st_take_item *item = t->row[i].item;
        if (item->role != ST_TAKE_INGREDIENT || item->sure != ST_UNREAD || item->line.what ||
            !strstr(t->row[i].words, name))
            continue;
        item->line.what = f->what;
        return true;
    }
    return false;
}

/* " 37.5-43 %": what is usual for a spirit of that name, so that an amount of it can be reckoned with; "" none. */
static const char *usual_strength(struct st_taking *t, const char *name, const struct st_ingredient *what)
{
    struct st_take_item one[ST_TAKE_ITEMS];
    struct st_take_context context = { .measures = t->measures };
    const char *said = st_arena_printf(t->arena, "1 L %.100s", name);

    memset(one, 0, sizeof one);
    if (what->kind != ST_KIND_SPIRIT || st_take_line(said, strlen(said), t->catalogue, &context, one) != 1 ||
        !one[0].line.strength.known)
        return "";
    return st_arena_printf(t->arena, " %.4g-%.4g %%", one[0].line.strength.low, one[0].line.strength.high);
}

/* "How much quinces went in?" */
static void ask_for_it(struct st_taking *t, struct st_taken *r, const char *name, const struct st_ingredient *what)
{
    struct st_take_ask *ask = &r->item->ask[r->item->n_ask++];
    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT };
    (void)snprintf(ask->ask, sizeof ask->ask, "How much of the %.60s went in?", name);
    (void)snprintf(ask->with, sizeof ask->with, "%%s %.100s%s", name, usual_strength(t, name, what));
    st_take_answer_row(t, r);
}

static void add_row(struct st_taking *t, int behind, const char *name, const struct st_ingredient *what, bool stop)
{
    if (t->n_row >= ST_TAKE_ROWS)
        return;
    struct st_taken *r = &t->row[behind + 1];
    memmove(r + 1, r, (size_t)(t->n_row - behind - 1) * sizeof *r);
    t->n_row++;
    *r = t->row[behind];
    r->words = name;
    r->was = NULL;
    r->nth = 0;
    r->entry = r->stage = -1;
    memset(r->put, 0, sizeof r->put);
    memset(r->id, 0, sizeof r->id);
    memset(r->answered, 0, sizeof r->answered);
    memset(r->asked, 0, sizeof r->asked);
    r->item = st_arena_alloc(t->arena, sizeof *r->item);
    r->item->role = ST_TAKE_INGREDIENT;
    r->item->sure = ST_UNREAD;
    r->item->line = (struct st_line){ .text = "", .from_step = -1, .what = what };
    (void)snprintf(r->item->because, sizeof r->item->because,
                   stop ? "named here, and must not go into a drink" : "named, but no amount was found: left out");
    if (!stop && (r->in_method || r->when) && st_take_is_named_once(t->text, name, strlen(name)))
        ask_for_it(t, r, name, what);
}

static bool is_worth_telling(const struct st_taking *t, int row, const struct sentence *s, const struct found *f)
{
    const struct st_taken *r = &t->row[row];
    if (r->item->role != ST_TAKE_NOTE && r->item->role != ST_TAKE_STEP && r->item->role != ST_TAKE_INGREDIENT)
        return false;
    const size_t n = strlen(r->own);
    if (f->what->kind == ST_KIND_WATER || (n && r->own[n - 1] == '?'))
        return false;
    if (is_word(s, 0, "tip|tips|note|variation|variations|alternatively") ||
        (f->end - f->from > 1 && is_word(s, f->end - 1, "filter|filters|paper")) ||
        is_word(s, f->end, "paper|papers|filter|filters|spoon|spoons|cup|cups|grinder|mill|press|tree|trees|bush") ||
        (f->end - f->from == 1 &&
         is_word(s, f->from, "syrup|liquor|liqueur|spirit|spirits|alcohol|jam|kernel|kernels")))
        return false; /* a tool, or what was made of the rest */
    struct st_scan next = { s->text, s->text };
    if (f->end < s->n)
        next = (struct st_scan){ s->text + s->word[f->end].at, s->text + s->word[f->end].end };
    return !st_words_at(&next, ST_WORD_BIT(ST_WORD_TITLE));
}

/* "My sister puts in pepper; we left it out." */
static bool is_denied(const struct sentence *s, const struct found *f)
{
    size_t at = 0, next = 0, n;
    while ((n = st_take_denied(s->text, next, &at)) > 0) {
        if (s->word[f->from].at >= at && s->word[f->end - 1].end <= at + n)
            return true;
        next = at + n;
    }
    return false;
}

static bool is_notes(const char *words)
{
    return st_take_has_word(words, "notes|note|tips|tip|to serve|serving|servings|storage|nutrition|comments");
}

/* One sentence, whose rows begin at `row`; the last row of it. */
static int tell_sentence(struct st_taking *t, int row, bool remarks)
{
    struct sentence s = { .text = NULL };
    struct found f[MOST_FOUND];
    int last = row;

    split(&s, t->row[row].own);
    const int n = find_names(t->catalogue, &s, f);
    while (last + 1 < t->n_row && t->row[last + 1].group == t->row[row].group)
        last++;
    for (int i = 0; i < n; i++) {
        const bool stop = st_ingredient_is_stopped(f[i].what);
        if (is_somebody(&s, &f[i]) || is_kept_out(&s, &f[i]) || is_told(t, &f[i], &s, stop) ||
            (!stop &&
             (remarks || is_denied(&s, &f[i]) || is_left_out(t, &f[i], &s) || !is_worth_telling(t, row, &s, &f[i]))))
            continue;
        const size_t at = s.word[f[i].from].at;
        const char *name = st_arena_strndup(t->arena, s.text + at, s.word[f[i].end - 1].end - at);
        if (stop && tell_in_row(t, row, &f[i], name))
            continue;
        add_row(t, last++, name, f[i].what, stop);
    }
    return last;
}

void st_take_named(struct st_taking *t)
{
    bool remarks = false;
    for (int i = 0; i < t->n_row; i++) {
        if (t->row[i].item->role == ST_TAKE_HEADING)
            remarks = is_notes(t->row[i].own);
        i = tell_sentence(t, i, remarks);
    }
}
