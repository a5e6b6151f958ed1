#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "quantity.h"
#include "scan.h"
#include "take_poured.h"
#include "take_words.h"

/* Spirit told by what it does: "filled it up with gin", "covered with rum, about a bottle and a half", "the rest gin".
 */

enum { MOST_WORDS_OF_NAME = 4, MOST_SPOKEN = 12 };

/* Where a spirit is named in a sentence. */
struct spoken {
    size_t at, end;
    const struct st_ingredient *what;
};

static size_t word_end(const char *text, size_t i)
{
    while (st_take_is_word_byte(text[i]) || (text[i] == '\'' && st_take_is_word_byte(text[i + 1])))
        i++;
    return i;
}

static bool begins_word(const char *text, size_t i)
{
    return st_take_is_word_byte(text[i]) && (i == 0 || !(st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\''));
}

const struct st_ingredient *st_take_name_at(const struct st_catalogue *c, const char *text, size_t i, size_t *end)
{
    const struct st_ingredient *in = NULL;
    size_t to = i;
    struct st_scan s = { text + i, text + word_end(text, i) };

    if (st_scan_word(&s, "with|of|the|a|an|in|and|some|my|your|our|that|this|up|it|is|for|by|or|to|from|being"))
        return NULL; /* says nothing, and a name may be looked up with it */
    for (int n = 0; n < MOST_WORDS_OF_NAME && st_take_is_word_byte(text[to]); n++) {
        to = word_end(text, to);
        const struct st_ingredient *one = st_catalogue_find(c, text + i, to - i);
        if (one && one != in) { /* a name may be looked up with words that say nothing behind it */
            in = one;
            *end = to;
        }
        if (text[to] != ' ')
            break;
        to++;
    }
    return in;
}

/* "no gin", "never gin": in the words right before it. */
static bool is_denied(const char *text, size_t at)
{
    size_t i = at;
    for (int n = 0; n < 3 && i > 1 && text[i - 1] == ' '; n++) {
        i--;
        while (i && (st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\''))
            i--;
        struct st_scan s = { text + i, text + at };
        if (st_words_at(&s, ST_WORD_BIT(ST_WORD_NOT)))
            return true;
    }
    return false;
}

/* Behind these it is a drink with another name, or a tool: "gin glass". */
static bool is_other_thing(const char *text, size_t end)
{
    struct st_scan s = { text + end, text + strlen(text) };
    st_scan_blanks(&s);
    return st_words_at(&s, ST_WORD_BIT(ST_WORD_TITLE)) ||
           st_scan_word(&s, "glass|glasses|cork|corks|punch|base|syrup|flavour|flavouring|butter|sauce|snaps");
}

static int spoken_in(const struct st_catalogue *c, const char *text, struct spoken out[MOST_SPOKEN])
{
    int n = 0;
    for (size_t i = 0; text[i] && n < MOST_SPOKEN; i++) {
        size_t end = i;
        const struct st_ingredient *in = begins_word(text, i) ? st_take_name_at(c, text, i, &end) : NULL;
        if (!in)
            continue;
        if (in->kind == ST_KIND_SPIRIT && !is_denied(text, i) && !is_other_thing(text, end))
            out[n++] = (struct spoken){ i, end, in };
        i = end - 1;
    }
    return n;
}

/* Which of two things a figure belongs to was not understood. */
static bool is_torn(const struct st_take_item *item)
{
    for (int i = 0; i < item->n_ask; i++)
        if (item->ask[i].kind == ST_ASK_WHICH)
            return true;
    return false;
}

static bool is_read(const struct st_take_item item[], int n, const struct st_ingredient *what)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && !is_torn(&item[i]) &&
            (item[i].line.what == what || (item[i].or_slug[0] && strcmp(item[i].or_slug, what->slug) == 0)))
            return true;
    return false;
}

/* ---- how it goes in ---- */

/* Where the verb stands that this spirit belongs to, and what the amount is by it; false: none. */
static bool verb_before(const char *text, size_t at, size_t *from, const char **open)
{
    static const struct {
        const char *words, *open;
        bool with; /* and "with" or "in" before the name */
    } VERB[] = { { "filled up|fill up|filled|fill|topped up|top up|topped off|top off|topped|top|filling up|topping up",
                   "to top up", true },
                 { "covered|cover|covering|drowned|drown|submerge|submerged", "until covered", true },
                 { "the rest being|the rest is|the rest of it|rest of it|the rest with|the rest|the remainder|rest",
                   "to top up", false } };
    size_t least = at > 60 ? at - 60 : 0, i = at;

    while (i > least && !strchr(",;.(", text[i - 1]))
        i--;
    struct st_scan last = { text + (at > 5 ? at - 5 : 0), text + at };
    const bool with = at > 5 && (st_scan_word(&last, "with") || (last.at++, st_scan_word(&last, "with")));
    bool found = false;
    for (; i < at; i++)
        for (size_t k = 0; k < sizeof VERB / sizeof VERB[0] && begins_word(text, i); k++) {
            struct st_scan s = { text + i, text + at };
            if (!st_scan_word(&s, VERB[k].words) || (VERB[k].with && !with))
                continue;
            st_scan_blanks(&s);
            if (!VERB[k].with && s.at != text + at && !st_scan_word(&s, "of|in|with|a|good|the"))
                continue;
            *from = i;
            *open = VERB[k].open;
            found = true;
            i = (size_t)(s.at - text) - 1;
            break;
        }
    return found;
}

/* "gin to cover", "vodka until the jar is full": what the amount is by the words behind it; their bytes, 0 none. */
static size_t words_behind(const char *text, size_t end, const char **open)
{
    struct st_scan s = { text + end, text + strlen(text) };
    (void)st_scan_sign(&s, ",");
    if (st_scan_word(&s, "to just cover|to cover everything|to cover them|to cover it|to cover|until all is covered|"
                         "until everything is covered|until it is covered|until they are covered|until covered|"
                         "till covered|so that all is covered"))
        *open = "until covered";
    else if (st_scan_word(&s,
                          "to fill the jar|to fill it up|to fill it|to fill up|to fill|until the jar is full|"
                          "until it is full|until it was full|till the jar is full|till it is full|till it was full|"
                          "until full|to come up to the neck|to come up to the top|to come up to the brim|"
                          "up to the neck|up to the brim|up to the top|to the brim|to the top|to top it up"))
        *open = "to top up";
    else
        return 0;
    return (size_t)(s.at - text);
}

/* "put 600 g damsons in vodka.": it lies in the spirit, and how much that is nobody says; from "in" on. */
static bool lies_in(const char *text, size_t at, size_t end, size_t *from, const char **open)
{
    static const char *const IN[] = { "in ",    "into ",          "in some ",    "into some ",
                                      "under ", "in a jar with ", "in a jar of " };
    struct st_scan behind = { text + end, text + strlen(text) };
    const char *bare = st_take_bare(text);
    struct st_scan verb = { bare, bare + strlen(bare) };
    if (!(behind.at == behind.end || strchr(".;,!)", *behind.at) || st_scan_word(&behind, "and|for|then|until|with")) ||
        !st_scan_word(&verb, "put|place|steep|soak|infuse|macerate|drop|throw|tip|cover|immerse|layer|pack|pour|fill"))
        return false;
    for (size_t i = 0; i < sizeof IN / sizeof IN[0]; i++) {
        const size_t n = strlen(IN[i]);
        if (at > n && strncasecmp(text + at - n, IN[i], n) == 0 && text[at - n - 1] == ' ') {
            *from = at - n;
            *open = "until covered";
            return true;
        }
    }
    return false;
}

static bool names_goods(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].sure != ST_UNREAD)
            return true;
    return false;
}

/* Is it spoken of only here? */
bool st_take_is_named_once(const char *text, const char *name, size_t n)
{
    int times = 0;
    for (const char *p = text; *p; p++)
        times +=
            strncasecmp(p, name, n) == 0 && (p == text || !st_take_is_word_byte(p[-1])) && !st_take_is_word_byte(p[n]);
    return times == 1;
}

/* From "with", "and enough" on. */
static size_t words_before(const char *text, size_t at)
{
    static const char *const WORD[] = {
        "enough ", "plenty of ", "the ", "and ", "with ", "poured over ", "pour over "
    };
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++) {
        const size_t n = strlen(WORD[i]);
        if (at >= n && strncasecmp(text + at - n, WORD[i], n) == 0 && (at == n || text[at - n - 1] == ' '))
            at -= n;
    }
    return at;
}

/* "40 %", "(40 %)" behind the name; its bytes. */
static size_t strength_behind(const char *text, size_t end, const char **said, int *n)
{
    const char *p = text + end;
    p += strspn(p, " (,");
    const size_t digits = strspn(p, "0123456789.,");
    const char *pct = p + digits + strspn(p + digits, " ");
    *n = 0;
    if (digits == 0 || *pct != '%')
        return end;
    *said = p;
    *n = (int)(pct + 1 - p);
    const size_t to = (size_t)(pct + 1 - text);
    return to + (text[to] == ')');
}

/* ", about a bottle and a half": the amount behind it; its bytes. */
static size_t amount_behind(const struct st_parting *p, const char *text, size_t end, const char *name, char *said,
                            size_t size)
{
    static const char *const BOTTLES[][2] = { { "a bottle and a half", "1.5 bottles" },
                                              { "one and a half bottles", "1.5 bottles" },
                                              { "half a bottle", "half a bottle" },
                                              { "a whole bottle", "1 bottle" },
                                              { "a bottle", "1 bottle" },
                                              { "two bottles", "2 bottles" } };
    const char *s = text + end + strspn(text + end, " ,(-");
    if (s == text + end)
        return end;
    struct st_scan about = { s, s + strlen(s) };
    if (st_scan_word(&about, "about|roughly|some|around|maybe|it took about|it took"))
        s = about.at + strspn(about.at, " ");
    for (size_t i = 0; i < sizeof BOTTLES / sizeof BOTTLES[0]; i++)
        if (strncasecmp(s, BOTTLES[i][0], strlen(BOTTLES[i][0])) == 0) {
            (void)snprintf(said, size, "%s %s", BOTTLES[i][1], name);
            return (size_t)(s - text) + strlen(BOTTLES[i][0]);
        }
    struct st_problem problem;
    struct st_amount a;
    size_t used = 0;
    const int got = st_quantity_parse(s, strlen(s), p->t->measures, &a, &used, &problem);
    if (got < 0 || a.dim != ST_DIM_VOLUME || used == 0 || used > 40 || (s[used] && !strchr(" ,.;)", s[used])))
        return end;
    struct st_scan more = { s + used, s + strlen(s) };
    if (st_scan_word(&more, "jar|of|bottle|jars"))
        return end;
    (void)snprintf(said, size, "%.*s %s", (int)used, s, name);
    return (size_t)(s - text) + used;
}

/* ---- reading it ---- */

/* How much, in the maker's own words or in bottles that are sold: 350 to 1500 mL, common practice, no source. */
static void ask_how_much(struct st_take_item *item, const char *name)
{
    static const char *const LABEL[] = { "350 mL", "500 mL", "700 mL", "1 L", "1.5 L" };
    if (item->n_ask >= ST_TAKE_ASKS)
        return;
    const bool known = item->line.strength.known && !(item->line.strength.low < item->line.strength.high);
    char strength[24] = "";
    if (item->line.strength.known)
        (void)snprintf(strength, sizeof strength, known ? " %.4g %%" : " %.4g-%.4g %%", item->line.strength.low,
                       item->line.strength.high);
    struct st_take_ask *ask = &item->ask[item->n_ask++];
    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT };
    (void)snprintf(ask->ask, sizeof ask->ask, "How much %.60s went in?", name);
    for (size_t i = 0; i < sizeof LABEL / sizeof LABEL[0]; i++) {
        (void)snprintf(ask->option[i].label, sizeof ask->option[i].label, "%s", LABEL[i]);
        (void)snprintf(ask->option[i].as, sizeof ask->option[i].as, "%s %.80s%s", LABEL[i], name, strength);
    }
    ask->n_option = ST_TAKE_OPTIONS;
    (void)snprintf(ask->with, sizeof ask->with, "%%s %.80s%s", name, strength);
}

static bool read_as(struct st_parting *p, const char *said, struct st_take_item *out)
{
    struct st_take_item one[ST_TAKE_ITEMS];
    struct st_take_context context = p->context;

    memset(one, 0, sizeof one);
    context.in_method = false;
    if (st_take_line(said, strlen(said), p->t->catalogue, &context, one) != 1 || one[0].role != ST_TAKE_INGREDIENT ||
        one[0].sure == ST_UNREAD || !one[0].line.what || !*one[0].as)
        return false;
    *out = one[0];
    return true;
}

/* The sentence without the verb and what is poured; "covered 2 lb of plums with rum" puts them in. */
static const char *without(const struct st_parting *p, const char *sentence, size_t from, size_t name, size_t end)
{
    char *rest = st_arena_strdup(p->t->arena, sentence);
    const size_t verb = word_end(rest, from);
    size_t with = name;

    while (with > verb && strncasecmp(rest + with - 1, " with", 5) != 0)
        with--;
    const bool covers = strncasecmp(rest + from, "cover", 5) == 0 && with > verb + 1;
    memset(rest + (covers ? with - 1 : from), ' ', end - (covers ? with - 1 : from));
    if (covers) {
        memset(rest + from, ' ', verb - from);
        memcpy(rest + from, "put", 3);
    } else if (from < 2 || rest[from - 2] != ',') {
        rest[from] = ',';
    }
    if (strncmp(rest + end, " and ", 5) == 0)
        memset(rest + end, ' ', 5);
    return rest;
}

bool st_take_poured(struct st_parting *p, const char *sentence, const struct st_take_item item[], int n,
                    struct st_take_poured *out)
{
    struct spoken spoken[MOST_SPOKEN];
    const int found = spoken_in(p->t->catalogue, sentence, spoken);

    for (int i = 0; i < found; i++) {
        const struct spoken *k = &spoken[i];
        const char *open = NULL, *strong = "", *name;
        int n_strong = 0;
        size_t from = k->at;
        char said[200];

        if (is_read(item, n, k->what))
            continue;
        size_t end = strength_behind(sentence, k->end, &strong, &n_strong);
        const size_t told = words_behind(sentence, end, &open);
        if (told)
            from = words_before(sentence, k->at);
        else if (!verb_before(sentence, k->at, &from, &open) &&
                 !(names_goods(item, n) && st_take_is_named_once(p->t->text, sentence + k->at, k->end - k->at) &&
                   lies_in(sentence, k->at, end, &from, &open)))
            continue;
        name = st_arena_printf(p->t->arena, "%.*s%s%.*s", (int)(k->end - k->at), sentence + k->at, n_strong ? " " : "",
                               n_strong, strong);
        const size_t behind = told ? told : amount_behind(p, sentence, end, name, said, sizeof said);
        if (told || behind == end)
            (void)snprintf(said, sizeof said, "%.120s %s", name, open);
        if (!read_as(p, said, &out->item))
            continue;
        if (told || behind == end) {
            out->item.sure = ST_GUESS;
            (void)snprintf(out->item.because, sizeof out->item.because, "no amount is written: %s",
                           strcmp(open, "until covered") == 0 ? "so much that all is covered"
                                                              : "so much that it is full");
            ask_how_much(&out->item, st_arena_strndup(p->t->arena, sentence + k->at, k->end - k->at));
        }
        out->rest = without(p, sentence, from, k->at, behind);
        out->item.at = from;
        out->item.n = behind - from;
        return true;
    }
    return false;
}

/* ---- is there none at all? ---- */

static bool is_strong(const struct st_ingredient *in)
{
    return in->kind == ST_KIND_SPIRIT || (in->kind == ST_KIND_WINE && in->strength.known && in->strength.value >= 15);
}

static const struct st_ingredient *strong_in(const struct st_catalogue *c, const char *text)
{
    for (size_t i = 0; text[i]; i++) {
        size_t end = i;
        const struct st_ingredient *in = begins_word(text, i) ? st_take_name_at(c, text, i, &end) : NULL;
        if (in && is_strong(in) && text[end] != '-' && !is_denied(text, i))
            return in;
        i = in ? end - 1 : i;
    }
    return NULL;
}

/* What is said of how it is drunk, or could be made otherwise, names nothing that goes in. */
static bool is_aside(const struct st_taken *r)
{
    const size_t n = strlen(r->own);
    return r->item->role == ST_TAKE_NOTHING || (n && r->own[n - 1] == '?') ||
           st_take_has_word(r->own, "serve|serves|serving|served|instead|good with|lovely with|cocktail|cocktails|"
                                    "tip|alcohol free|alcohol-free|drink it with|glass of");
}

const struct st_ingredient *st_take_lost_spirit(const struct st_taking *t)
{
    for (int e = 0; e < t->n_entry; e++) {
        const struct st_entry *o = &t->entry[e];
        const enum st_kind k = o->what->kind;
        if ((k == ST_KIND_SPIRIT || k == ST_KIND_WINE || o->item->line.strength.known) && o->item->sure != ST_UNREAD)
            return NULL;
    }
    for (int i = 0; i < t->n_row && t->n_entry > 0; i++) {
        const struct st_ingredient *in = is_aside(&t->row[i]) ? NULL : strong_in(t->catalogue, t->row[i].own);
        if (in)
            return in;
    }
    return NULL;
}
