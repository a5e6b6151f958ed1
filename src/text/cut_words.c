#include "cut_words.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "name_form.h"

/* Words of cutting, in every form that is met; common practice, no source.  "Half", "quarter" and "pound" are amounts
 * more often than deeds, and are no words here. */
static const struct {
    const char *words;
    enum st_cut cut;
} WORD[] = {
    { "|whole|uncut|intact|unpricked|unbroken|uncracked|", ST_CUT_WHOLE },
    { "|prick|pricked|pricking|pierce|pierced|piercing|scored|", ST_CUT_PRICKED },
    { "|halve|halved|halves|halving|split|splitting|", ST_CUT_HALVED },
    { "|quartered|quarters|quartering|wedge|wedges|", ST_CUT_QUARTERED },
    { "|slice|sliced|slices|slicing|slivered|slivers|rounds|", ST_CUT_SLICED },
    { "|strip|strips|shred|shredded|shreds|julienne|julienned|ribbons|matchsticks|", ST_CUT_STRIPS },
    { "|chop|chopped|chopping|dice|diced|dicing|cube|cubed|cubes|broken|break|snap|snapped|torn|tear|",
      ST_CUT_CHOPPED },
    { "|zest|zests|zested|zesting|", ST_CUT_ZEST },
    { "|crush|crushed|crushing|bruise|bruised|bruising|crack|cracked|cracking|flaked|flakes|mash|mashed|muddle|muddled|"
      "smash|smashed|pounded|bash|bashed|minced|mince|grate|grated|grating|",
      ST_CUT_CRUSHED },
    { "|ground|grind|grinding|milled|powdered|powder|puree|pureed|pulverised|pulverized|", ST_CUT_GROUND },
};

enum { WORD_BYTES = 32, WORDS = 400 };

bool st_cut_of_word(const char *word, size_t size, enum st_cut *cut)
{
    char bars[WORD_BYTES + 3] = "|";
    if (size == 0 || size >= WORD_BYTES)
        return false;
    for (size_t i = 0; i < size; i++)
        bars[i + 1] = (char)tolower((unsigned char)word[i]);
    bars[size + 1] = '|';
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++)
        if (strstr(WORD[i].words, bars)) {
            *cut = WORD[i].cut;
            return true;
        }
    return false;
}

/* ---- sentences ---- */

struct said {
    int n;
    char word[WORDS][WORD_BYTES];
    int sentence[WORDS];
};

static bool in_word(char c)
{
    return isalpha((unsigned char)c) || c == '\'' || (unsigned char)c >= 0x80;
}

static void hear(const char *text, struct said *s)
{
    int sentence = s->n > 0 ? s->sentence[s->n - 1] + 1 : 0;
    for (const char *at = text ? text : ""; *at && s->n < WORDS;) {
        size_t n = 0;
        while (in_word(at[n]))
            n++;
        if (n == 0) {
            sentence += *at == '.' || *at == ';' || *at == '!' || *at == '?' || *at == ':';
            at++;
            continue;
        }
        const size_t kept = n < WORD_BYTES - 1 ? n : WORD_BYTES - 1;
        for (size_t i = 0; i < kept; i++)
            s->word[s->n][i] = (char)tolower((unsigned char)at[i]);
        s->word[s->n][kept] = '\0';
        s->sentence[s->n++] = sentence;
        at += n;
    }
}

static bool is(const struct said *s, int i, int sentence, const char *words)
{
    char bars[WORD_BYTES + 3];
    if (i < 0 || i >= s->n || s->sentence[i] != sentence)
        return false;
    bars[0] = '|';
    memcpy(bars + 1, s->word[i], strlen(s->word[i]));
    memcpy(bars + 1 + strlen(s->word[i]), "|", 2);
    return strstr(words, bars) != NULL;
}

/* "do not crack", "without crushing", "never": up to four words before it. */
static bool is_denied(const struct said *s, int i)
{
    for (int k = i - 1; k >= 0 && k >= i - 4 && s->sentence[k] == s->sentence[i]; k--)
        if (is(s, k, s->sentence[i], "|not|don't|dont|never|without|no|avoid|"))
            return true;
    return false;
}

static bool within(const struct said *s, int from, int to, int sentence, const char *words)
{
    for (int k = from; k <= to; k++)
        if (is(s, k, sentence, words))
            return true;
    return false;
}

/* The cut that word i says: "grate coarsely" is shreds, "cut up" and "cut small" are chopped, "cut in half" halves. */
static bool cut_at(const struct said *s, int i, enum st_cut *cut)
{
    const int here = s->sentence[i];
    if (is(s, i, here, "|cut|cutting|")) {
        if (within(s, i + 1, i + 3, here, "|half|two|"))
            *cut = ST_CUT_HALVED;
        else if (within(s, i + 1, i + 3, here, "|four|quarters|wedges|"))
            *cut = ST_CUT_QUARTERED;
        else if (within(s, i + 1, i + 3, here, "|up|small|pieces|chunks|fine|finely|"))
            *cut = ST_CUT_CHOPPED;
        else
            return false;
    } else if (!st_cut_of_word(s->word[i], strlen(s->word[i]), cut) || *cut == ST_CUT_ZEST)
        return false; /* whether it is zest is asked of peel alone, below */
    if (is(s, i, here, "|grate|grated|grating|") && within(s, i - 1, i + 1, here, "|coarse|coarsely|"))
        *cut = ST_CUT_STRIPS;
    if (is_denied(s, i))
        *cut = ST_CUT_WHOLE;
    return true;
}

/* ---- who is meant ---- */

/* Words of a name that say what a thing is, and not which sort or state of it. */
static bool says_what(const char *word)
{
    static const char STATE[] =
        "|fresh|dried|dry|frozen|tinned|sweet|sour|bitter|white|black|red|green|yellow|whole|raw|"
        "ripe|wild|in|of|with|and|toasted|roasted|";
    char bars[ST_NAME_WORD_BYTES + 3];
    (void)snprintf(bars, sizeof bars, "|%s|", word);
    return strlen(word) > 2 && !strstr(STATE, bars);
}

/* Whether word i names this thing: one of the words of its name, in the form that names are compared in. */
static bool names(const struct said *s, int i, const struct st_name_words *thing)
{
    struct st_name_words w;
    st_name_split(s->word[i], strlen(s->word[i]), &w);
    for (int a = 0; a < w.n; a++)
        for (int b = 0; b < thing->n; b++)
            if (says_what(thing->word[b]) && strcmp(w.word[a], thing->word[b]) == 0)
                return true;
    return false;
}

static void name_of(const struct st_line *l, struct st_name_words *out)
{
    const char *name = l->what && l->what->name ? l->what->name : "";
    st_name_split(name, strlen(name), out);
}

static bool is_solid_line(const struct st_line *l)
{
    return l->what && st_kind_is_solid(l->what->kind);
}

static bool is_fruit(const struct st_line *l)
{
    return l->what && (l->what->kind <= ST_KIND_GREEN_FRUIT || l->what->kind == ST_KIND_ROOT_FRESH);
}

/* A sentence that names nothing of its step is about the fruit, or about everything where there is none. */
static bool is_meant(const struct st_step *step, const struct st_line *l)
{
    bool fruit = false;
    for (int i = 0; i < step->n_line; i++)
        fruit = fruit || is_fruit(&step->line[i]);
    return is_fruit(l) || !fruit;
}

static bool names_any(const struct said *s, int sentence, const struct st_step *step)
{
    for (int k = 0; k < step->n_line; k++) {
        struct st_name_words thing;
        if (!is_solid_line(&step->line[k]))
            continue;
        name_of(&step->line[k], &thing);
        for (int i = 0; i < s->n; i++)
            if (s->sentence[i] == sentence && names(s, i, &thing))
                return true;
    }
    return false;
}

/* The deed of the thing named at word i: the nearest before it in its sentence, else the nearest behind it. */
static bool deed_for(const struct said *s, int i, enum st_cut *cut)
{
    for (int k = i - 1; k >= 0 && s->sentence[k] == s->sentence[i]; k--)
        if (cut_at(s, k, cut))
            return true;
    for (int k = i + 1; k < s->n && s->sentence[k] == s->sentence[i]; k++)
        if (cut_at(s, k, cut))
            return true;
    return false;
}

static bool by_step(const struct st_step *step, const struct st_step *of, const struct st_line *l, enum st_cut *cut)
{
    struct said s = { .n = 0 };
    struct st_name_words thing;
    bool found = false;
    hear(step->words, &s);
    name_of(l, &thing);
    for (int i = 0; i < s.n; i++)
        if (names(&s, i, &thing) && deed_for(&s, i, cut))
            return true;
    for (int i = 0; i < s.n && !found; i++) {
        enum st_cut it;
        if (!names_any(&s, s.sentence[i], of) && is_meant(of, l) && cut_at(&s, i, &it) && !is_denied(&s, i)) {
            *cut = it;
            found = true;
        }
    }
    return found;
}

/* The words of a line but for those that are in the name of the thing: "ground almonds" are as bought. */
static bool by_line(const char *text, const struct st_line *l, enum st_cut *cut)
{
    struct said s = { .n = 0 };
    struct st_name_words thing;
    hear(text, &s);
    name_of(l, &thing);
    for (int i = 0; i < s.n; i++) {
        enum st_cut it;
        bool in_name = false;
        if (!cut_at(&s, i, &it))
            continue;
        for (int k = 0; k < thing.n; k++)
            in_name = in_name || strcmp(thing.word[k], s.word[i]) == 0;
        *cut = in_name ? ST_CUT_WHOLE : it;
        return true;
    }
    return false;
}

/* ---- peel: with or without the white ---- */

enum white { WHITE_NOT_SAID, WHITE_OFF, WHITE_ON };

static bool is_peel(const struct st_line *l)
{
    return l->what && (l->what->kind == ST_KIND_PEEL_FRESH || l->what->kind == ST_KIND_PEEL_DRY);
}

/* "no pith", "without any of the white", "scrape off the pith"; "the pith removed". */
static bool is_taken_off(const struct said *s, int i)
{
    static const char BEFORE[] =
        "|no|not|none|without|avoid|avoiding|off|away|remove|removing|scrape|scraping|trim|trimming|"
        "leave|leaving|discard|discarding|never|don't|dont|free|";
    static const char BEHIND[] = "|off|removed|scraped|trimmed|away|free|discarded|behind|";
    return within(s, i - 4, i - 1, s->sentence[i], BEFORE) || within(s, i + 1, i + 3, s->sentence[i], BEHIND);
}

/* What word i says of the white: "zest" has none, "thinly pared" peel has none (common practice, no source). */
static enum white white_at(const struct said *s, int i)
{
    const int here = s->sentence[i];
    if (is(s, i, here, "|zest|zests|zested|zesting|"))
        return is_denied(s, i) ? WHITE_NOT_SAID : WHITE_OFF;
    if (is(s, i, here, "|pare|pared|paring|") && within(s, i - 2, i + 2, here, "|thin|thinly|"))
        return WHITE_OFF;
    if (is(s, i, here, "|pith|white|") && is_taken_off(s, i))
        return WHITE_OFF;
    if (is(s, i, here, "|pith|") && within(s, i - 3, i - 1, here, "|with|including|and|its|"))
        return WHITE_ON;
    return WHITE_NOT_SAID;
}

/* Whether word i names this line by a word that no other peel has: "lemon". */
static bool names_this_peel(const struct said *s, int i, const struct st_line *l)
{
    struct st_name_words thing, own = { .n = 0 };
    name_of(l, &thing);
    for (int k = 0; k < thing.n; k++)
        if (strcmp(thing.word[k], "peel") != 0)
            memcpy(own.word[own.n++], thing.word[k], sizeof own.word[0]);
    return names(s, i, &own);
}

/* The peel that what is said at word i is of: the one named nearest behind it in its sentence, else nearest before; NULL
 * when none is: then all. */
static const struct st_line *peel_at(const struct said *s, int i, const struct st_step *step)
{
    for (int way = 1; way >= -1; way -= 2)
        for (int k = i + way; k >= 0 && k < s->n && s->sentence[k] == s->sentence[i]; k += way)
            for (int l = 0; l < step->n_line; l++)
                if (is_peel(&step->line[l]) && names_this_peel(s, k, &step->line[l]))
                    return &step->line[l];
    return NULL;
}

/* In words of a line (of: NULL), or of a step with several lines. */
static enum white white_in(const char *text, const struct st_step *of, const struct st_line *l)
{
    struct said s = { .n = 0 };
    hear(text, &s);
    for (int i = 0; i < s.n; i++) {
        const enum white w = white_at(&s, i);
        const struct st_line *whose = w != WHITE_NOT_SAID && of ? peel_at(&s, i, of) : NULL;
        if (w != WHITE_NOT_SAID && (!whose || whose == l))
            return w;
    }
    return WHITE_NOT_SAID;
}

static enum white white_of(const struct st_step *step, const struct st_line *l)
{
    enum white w = white_in(l->text, NULL, l);
    w = w == WHITE_NOT_SAID ? white_in(l->said, NULL, l) : w;
    return w == WHITE_NOT_SAID ? white_in(step->words, step, l) : w;
}

/* Grated, minced or ground zest is grated zest, any other is zest. */
static enum st_cut without_white(enum st_cut cut)
{
    return cut == ST_CUT_CRUSHED || cut == ST_CUT_GROUND ? ST_CUT_GRATED_ZEST : ST_CUT_ZEST;
}

enum st_cut st_cut_of_line(const struct st_recipe *r, int step, int line, bool *said)
{
    enum st_cut cut = ST_CUT_WHOLE;
    const struct st_step *s = &r->step[step];
    const struct st_line *l = &s->line[line];
    *said = by_line(l->text, l, &cut) || by_line(l->said, l, &cut) || by_step(s, s, l, &cut);
    for (int later = step + 1; later < r->n_step && !*said; later++)
        for (int i = 0; i < r->step[later].n_line && !*said; i++)
            if (!r->step[later].line[i].what && r->step[later].line[i].from_step == step &&
                r->step[later].line[i].part == ST_LIQUOR)
                *said = by_step(&r->step[later], s, l, &cut);
    cut = *said ? cut : ST_CUT_WHOLE;
    const enum white w = is_peel(l) ? white_of(s, l) : WHITE_NOT_SAID;
    *said = *said || w != WHITE_NOT_SAID;
    return w == WHITE_OFF ? without_white(cut) : cut;
}
