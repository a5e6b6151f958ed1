#include <stdio.h>
#include <string.h>

#include "held.h"
#include "line_draft.h"
#include "plant_part.h"

/* Words for a piece of something; they can only be left out where the ingredient's own piece has that name. */
static const char PIECE_WORDS[] =
    "sprigs|sprig|sticks|stick|slices|slice|strips|strip|pieces|piece|pods|pod|heads|head|leaves|leaf|stalks|stalk|"
    "stems|"
    "stem|cloves|clove|knobs|knob|lumps|lump|cubes|cube|quills|quill|quarters|quarter|halves|half|wedges|wedge|"
    "beans|bean|berries|berry|stars|star|fruits|fruit|roots|root|twists|twist|swathes|swathe|sheets|sheet";

static const char NOT_TO_DRINK[] =
    "denatured|methylated|meths|rubbing|isopropyl|isopropanol|methanol|methyl alcohol|surgical spirit|surgical|"
    "wood alcohol|wood spirit|wood spirits|antifreeze|fuel|bioethanol|industrial|white spirit|lamp oil|lamp spirit|"
    "hand sanitizer|hand sanitiser|camping spirit|burning spirit|cleaning alcohol|technical alcohol";

/* ---- the name, tidied ---- */

/* "mint (dried)" is "mint, dried". */
static void open_brackets(struct st_draft *d)
{
    for (size_t i = 0; i < d->n; i++)
        if (d->work[i] != '\0' && strchr("()[]", d->work[i]))
            d->work[i] = ',';
}

static bool is_edge(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r') || (c != '\0' && strchr(",;:=-/.*+&)]", c) != NULL);
}

/* Words at either end that are no part of a name. */
static size_t skip_front(const struct st_draft *d, size_t i)
{
    for (;;) {
        while (i < d->n && is_edge(d->work[i]))
            i++;
        struct st_scan s = st_draft_from(d, i), dash = s;
        if (st_scan_word(&s, "of|the|with|x|or|and|about|to|from|extra|more") ||
            (st_scan_dash(&dash) && (s = dash, true)) || st_scan_blanks(&s) || st_scan_sign(&s, "\xc3\x97"))
            i = (size_t)(s.at - d->work);
        else
            return i;
    }
}

static size_t trim_end(const char *text, size_t n)
{
    static const char *const LAST[] = { "of", "at", "to", "about", "or", "until", "and", "with", "for", "@" };

    for (;;) {
        while (n > 0 && is_edge(text[n - 1]))
            n--;
        bool cut = false;
        for (size_t i = 0; i < sizeof LAST / sizeof LAST[0]; i++) {
            const size_t k = strlen(LAST[i]);
            if (n > k && text[n - k - 1] == ' ' && memcmp(text + n - k, LAST[i], k) == 0) {
                n -= k;
                cut = true;
            }
        }
        if (!cut)
            return n;
    }
}

/* One blank where several things were; at most ST_LINE_NAME - 1 bytes. */
static void tidy(struct st_draft *d)
{
    size_t n = 0;

    d->name_at = skip_front(d, 0);
    for (size_t i = d->name_at; i < d->n && n + 1 < sizeof d->name; i++) {
        const char c = d->work[i] >= '\t' && d->work[i] <= '\r' ? ' ' : d->work[i];
        if (c == ' ' && (n == 0 || d->name[n - 1] == ' '))
            continue;
        if (c == ',' && n > 0 && d->name[n - 1] == ' ')
            n--;
        d->name[n++] = c;
    }
    n = trim_end(d->name, n);
    d->name[n] = '\0';
}

/* ---- finding it ---- */

/* What is tinned is not what is fresh; of other things (milk, syrup) the tin says nothing. */
static const struct st_ingredient *find_tinned(const struct st_catalogue *c, const char *name, size_t n)
{
    char tinned[ST_LINE_NAME + 10];

    (void)snprintf(tinned, sizeof tinned, "tinned %.*s", (int)n, name);
    const struct st_ingredient *in = st_catalogue_find(c, tinned, strlen(tinned));
    if (in)
        return in;
    in = st_catalogue_find(c, name, n);
    return in && (in->kind == ST_KIND_FRESH_FRUIT || in->kind == ST_KIND_FROZEN_FRUIT) ? NULL : in;
}

/* With the part of it that is meant: "lemons" and "juice". */
static const struct st_ingredient *find_part(const struct st_draft *d, const struct st_catalogue *c, const char *name,
                                             size_t n)
{
    char whole[ST_LINE_NAME + sizeof d->part + 2];

    if (!d->part[0])
        return d->tinned ? find_tinned(c, name, n) : st_catalogue_find(c, name, n);
    (void)snprintf(whole, sizeof whole, "%.*s %s", (int)n, name, d->part);
    return st_catalogue_find(c, whole, strlen(whole));
}

/* Is word one of the names of its piece? */
static bool is_piece_of(const struct st_ingredient *in, const char *word, size_t n)
{
    const char *p = in->piece_names ? in->piece_names : "";

    while (*p) {
        const size_t k = strcspn(p, "|");
        if (k == n) {
            struct st_scan s = { p, p + k };
            char lower[40];
            if (n < sizeof lower) {
                for (size_t i = 0; i < n; i++)
                    lower[i] = word[i] >= 'A' && word[i] <= 'Z' ? (char)(word[i] | 0x20) : word[i];
                lower[n] = '\0';
                if (st_scan_word(&s, lower) && s.at == s.end)
                    return true;
            }
        }
        p += k + (p[k] == '|');
    }
    return false;
}

/* "sticks cinnamon", "sprigs of rosemary": 1 found, 0 no, -1 no weight is known for such a piece. */
static int find_piece(struct st_draft *d, const struct st_catalogue *c, const char *name, size_t n)
{
    struct st_scan s = { name, name + n };

    (void)st_scan_word(&s, "large|small|medium|big|long|short|thin|thick|fresh|dried|whole");
    st_scan_blanks(&s);
    const char *word = s.at;
    if (!st_scan_word(&s, PIECE_WORDS))
        return 0;
    const size_t k = (size_t)(s.at - word);
    (void)st_scan_word(&s, "of the|of");
    st_scan_blanks(&s);
    const struct st_ingredient *in = find_part(d, c, s.at, (size_t)(s.end - s.at));
    if (!in || !st_stands_for_part(in, word, k)) /* "leaves of tomato" are no tomatoes */
        return 0;
    if (d->amount.dim == ST_DIM_PIECE && !is_piece_of(in, word, k))
        return st_draft_stop(d, d->name_at, "only the weight of other pieces of it is known", "give its weight instead",
                             "no weight is known for '%.*s' of %.60s", (int)k, word, in->name);
    d->what = in;
    return 1;
}

/* "400 g tin cherries", "1 jar cherries" */
static int find_contained(struct st_draft *d, const struct st_catalogue *c, const char *name, size_t n)
{
    struct st_scan s = { name, name + n };
    struct st_scan tin = s;

    const bool is_tin = st_scan_word(&tin, "tins|tin|cans|can");
    if (!st_scan_container(&s))
        return 0;
    (void)st_scan_word(&s, "of the|of");
    st_scan_blanks(&s);
    const size_t k = (size_t)(s.end - s.at);
    const struct st_ingredient *in = k == 0 ? NULL : is_tin ? find_tinned(c, s.at, k) : st_catalogue_find(c, s.at, k);
    if (!in)
        return 0;
    if (d->amount.dim == ST_DIM_PIECE)
        return st_draft_stop(d, d->name_at, "tins, jars and packets come in many sizes",
                             "give the weight or volume, such as `2 x 400 g`", "how much it holds is not said: '%.60s'",
                             name);
    d->what = in;
    return 1;
}

/* "2 lemons, juice only", "2 lemons, zest finely grated" */
static int part_behind_comma(struct st_draft *d)
{
    char *comma = strchr(d->name, ',');
    static const char JUICE[] = "juice of|juice only|juiced|juice", ZEST[] = "zest only|zest of|zested|zest|peel only|"
                                                                             "peel of|rind only|rind of";

    if (!comma || d->part[0])
        return 0;
    struct st_scan s = { comma + 1, d->name + strlen(d->name) };
    while (st_scan_word(&s, "finely|thinly|grated|the|freshly|squeezed|just"))
        continue;
    const bool juice = st_scan_word(&s, JUICE);
    if (!juice && !st_scan_word(&s, ZEST))
        return 0;
    if (st_scan_word(&s, "and|&") && st_scan_word(&s, "juice|juiced|zest|zested|peel|rind"))
        return st_draft_stop(d, d->name_at, "they are two ingredients", "write two lines, one for each",
                             "two things in one line");
    if (d->amount.dim != ST_DIM_PIECE)
        return st_draft_stop(d, d->name_at, "the weight of the fruit does not tell what its juice or peel weighs",
                             "count the fruit (`juice of 2 lemons`), or measure the juice or peel itself",
                             "cannot tell how much this is");
    (void)snprintf(d->part, sizeof d->part, "%s", juice ? "juice" : "zest");
    *comma = '\0';
    return 0;
}

/* A remark that makes it another thing cannot be left out. */
static bool has_word(const char *text, size_t n, const char *words)
{
    for (size_t i = 0; i < n; i++) {
        struct st_scan s = { text + i, text + n };
        if ((i == 0 || !st_is_letter((unsigned char)text[i - 1])) && text[i] != ' ' && st_scan_word(&s, words))
            return true;
    }
    return false;
}

static const char OTHER_THING[] = "dried|dry|frozen|tinned|canned|candied|crystallised|crystallized|glace|preserved|"
                                  "pickled|juice|syrup|oil|extract|essence|concentrate|powder|unripe|green|bitter";

static const char GROUND[] = "ground|powdered|roasted|toasted";

/* "stones cracked", "their kernels": nothing but its stones, and what was done to them. */
static bool tells_of_stones(struct st_scan s, bool told)
{
    bool stones = false;

    for (;;) {
        st_scan_blanks(&s);
        if (st_scan_word(&s, "stones|pits|kernels"))
            stones = true;
        else if (st_scan_word(&s, "cracked|crushed|broken|opened|bruised|split|left in|kept|in"))
            told = true;
        else if (!st_scan_word(&s, "with|and|the|their|some|all|of") && !st_scan_sign(&s, ","))
            return s.at == s.end && stones && told;
    }
}

/* "cherries, stones cracked", "peaches with kernels": the fruit, not what lies in it. */
static const struct st_ingredient *fruit_with_stones(const struct st_draft *d, const struct st_catalogue *c)
{
    const char *end = d->name + strlen(d->name);

    for (const char *p = d->name; p < end; p++) {
        struct st_scan s = { p, end };
        const bool with = p > d->name && p[-1] == ' ' && st_scan_word(&s, "with");
        if ((!with && *p != ',') || !tells_of_stones((struct st_scan){ with ? s.at : p + 1, end }, with))
            continue;
        const struct st_ingredient *in = find_part(d, c, d->name, trim_end(d->name, (size_t)(p - d->name)));
        const bool is_fruit =
            in && (in->kind == ST_KIND_FRESH_FRUIT || in->kind == ST_KIND_FROZEN_FRUIT || in->kind == ST_KIND_DRIED_FRUIT);
        return is_fruit ? in : NULL;
    }
    return NULL;
}

/* The name as it stands, then without its last remark, and so on. */
static int find(struct st_draft *d, const struct st_catalogue *c)
{
    size_t n = strlen(d->name);

    if ((d->what = fruit_with_stones(d, c)) != NULL)
        return 1;
    while (n > 0) {
        n = trim_end(d->name, n);
        if ((d->what = find_part(d, c, d->name, n)) != NULL)
            return !(st_kind_is_moist(d->what->kind) && has_word(d->name + n, strlen(d->name + n), GROUND));
        int got = st_draft_rough(d, c, d->name, n);
        if (got == 0)
            got = find_piece(d, c, d->name, n);
        if (got == 0)
            got = find_contained(d, c, d->name, n);
        if (got != 0)
            return got;
        const size_t end = n;
        while (n > 0 && d->name[n - 1] != ',' && d->name[n - 1] != ';')
            n--;
        if (has_word(d->name + n, end - n, OTHER_THING))
            return 0;
        if (n > 0)
            n--;
    }
    return 0;
}

/* ---- what cannot be found ---- */

static const char *denatured_text(const struct st_ingredient *in)
{
    for (int i = 0; i < in->n_caution; i++)
        if (strcmp(in->caution[i].what, "denatured") == 0)
            return in->caution[i].text;
    return NULL;
}

/* Only of the part that is named: nobody is told to treat leaves like the fruit. */
static int near_names(const struct st_catalogue *c, const char *name, const struct st_ingredient *near[2])
{
    const struct st_ingredient *all[6];
    const int found = st_catalogue_near(c, name, strlen(name), all, 6);
    size_t k = 0;
    const char *part = st_part_in(name, strlen(name), &k);
    int n = 0;

    for (int i = 0; i < found && n < 2; i++)
        if (!part || st_stands_for_part(all[i], part, k))
            near[n++] = all[i];
    return n;
}

/* What must not go into a drink, misspelt. */
static int told_as_slip(struct st_draft *d, const struct st_catalogue *c)
{
    char clip[40];
    const struct st_ingredient *stop = st_catalogue_slip(c, d->name, strlen(d->name));

    if (!stop)
        return 0;
    st_scan_clip(d->name, strlen(d->name), clip, sizeof clip);
    return st_draft_stop(d, d->name_at, "it is in no list, and only the spelling differs",
                         "leave it out; if something else is meant, look at the spelling",
                         "STOP: '%s' is spelt like %.50s, which must not go into a drink", clip, stop->name);
}

/* "dried damsons" where only fresh ones are known: 0 no such case, -1 told. */
static int other_state(struct st_draft *d, const struct st_catalogue *c)
{
    static const char STATES[] = "dried|dry|dehydrated|frozen|tinned|canned|ground|powdered|candied|crystallised|"
                                 "crystallized|glace|preserved|pickled|roasted|toasted|unripe|green";
    char rest[ST_LINE_NAME], state[24] = "";
    const struct st_ingredient *in = NULL;

    for (size_t i = 0; d->name[i] && !state[0]; i++) {
        struct st_scan s = { d->name + i, d->name + strlen(d->name) };
        if (d->name[i] == ' ' || (i > 0 && st_is_letter((unsigned char)d->name[i - 1])) || !st_scan_word(&s, STATES))
            continue;
        (void)snprintf(state, sizeof state, "%.*s", (int)(s.at - d->name - (ptrdiff_t)i), d->name + i);
        (void)snprintf(rest, sizeof rest, "%.*s%s", (int)i, d->name, s.at);
        in = find_part(d, c, rest, strlen(rest));
    }
    if (!in)
        return 0;
    char try_[240];
    (void)snprintf(
        try_, sizeof try_,
        "write `%.40s` if that is meant, or define `%s %.30s` under ingredients, with its kind and the water, "
        "sugars and acid on its pack",
        in->name, state, in->name);
    return st_draft_stop(d, d->name_at, "it has other water, sugar and acid, and they are not in the list", try_,
                         "no %s %.60s is known", state, in->name);
}

static int unknown(struct st_draft *d, const struct st_catalogue *c)
{
    const struct st_ingredient *near[2] = { NULL };
    char whole[ST_LINE_NAME + 20], clip[40], try_[240];
    size_t k = 0;

    if (told_as_slip(d, c) || other_state(d, c))
        return -1;
    (void)snprintf(whole, sizeof whole, "%s%s%s", d->name, d->part[0] ? " " : "", d->part);
    st_scan_clip(whole, strlen(whole), clip, sizeof clip);
    const char *quote = strpbrk(clip, ",:#[]{}") ? "'" : "";
    const int found = near_names(c, whole, near);
    if (found > 0)
        (void)snprintf(
            try_, sizeof try_, "did you mean %.35s%s%.35s? or treat it like one, under ingredients: {%s%.39s%s: %.35s}",
            near[0]->name, found > 1 ? " or " : "", found > 1 ? near[1]->name : "", quote, clip, quote, near[0]->slug);
    else if (st_part_in(whole, strlen(whole), &k))
        (void)snprintf(try_, sizeof try_,
                       "leave it out unless you know that this part of the plant may be eaten: what is known of its "
                       "other parts does not tell");
    else
        (void)snprintf(try_, sizeof try_,
                       "look at the spelling, or treat it like one that you know it to resemble, under ingredients: "
                       "{%s%.39s%s: NAME}, with that one's name for NAME",
                       quote, clip, quote);
    return st_draft_stop(d, d->name_at, "its water, sugar and acid decide the result, and they are not known", try_,
                         "unknown ingredient '%s'", clip);
}

static int refuse_poison(struct st_draft *d, const char *why)
{
    char clip[60];
    st_scan_clip(d->name, strlen(d->name), clip, sizeof clip);
    return st_draft_stop(d, d->name_at, why, "use a spirit sold for drinking, with its strength from the label",
                         "'%s' must not go into a drink", clip);
}

static int check_poison(struct st_draft *d)
{
    const char *why = denatured_text(d->what);
    return why ? refuse_poison(d, why) : 0;
}

/* ---- the strength may belong to the name: "2 % milk" ---- */

static int find_with_strength(struct st_draft *d, const struct st_catalogue *c)
{
    memcpy(d->work + d->strength_at, d->text + d->strength_at, d->strength_n);
    tidy(d);
    const int got = find(d, c);
    if (got == 1 && d->what->kind != ST_KIND_SPIRIT && d->what->kind != ST_KIND_WINE)
        d->strength = (struct st_range){ 0 };
    return got;
}

int st_draft_name(struct st_draft *d, const struct st_catalogue *c)
{
    open_brackets(d);
    tidy(d);
    if (!d->name[0])
        return st_draft_stop(d, 0, "there is an amount, but no ingredient", "write for example: 500 g damsons",
                             "cannot tell what this is");
    if (part_behind_comma(d))
        return -1;
    if (has_word(d->name, strlen(d->name), NOT_TO_DRINK))
        return refuse_poison(d, "spirits for other uses hold poisons that no steeping or straining takes out");
    int got = st_draft_bare_strength(d, c);
    if (got == 0)
        got = find(d, c);
    if (d->strength_n > 0 &&
        (got == 0 || (got == 1 && d->what->kind != ST_KIND_SPIRIT && d->what->kind != ST_KIND_WINE))) {
        const struct st_ingredient *without = d->what;
        char name[ST_LINE_NAME];
        memcpy(name, d->name, sizeof name);
        got = find_with_strength(d, c);
        if (got == 0 && without)
            return st_draft_stop(d, d->strength_at, "only spirits, wines and liqueurs have one", "leave it out",
                                 "a strength for %.80s", without->name);
        if (got == 0)
            memcpy(d->name, name, sizeof name);
    }
    if (got < 0)
        return -1;
    if (got == 0 && (d->what = st_held_stop(c, d->name, strlen(d->name))) == NULL) /* "dried yew" is told as yew */
        return unknown(d, c);
    st_draft_whole(d, c);
    return check_poison(d);
}
