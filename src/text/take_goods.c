#include <stdio.h>
#include <string.h>

#include "take_taken.h"

/* The things of one line: where one ends and the next begins. */

bool st_goods_is_read(const struct st_take_item *item)
{
    return item->role == ST_TAKE_INGREDIENT && (item->sure != ST_UNREAD || item->line.what);
}

bool st_goods_has_amount(const struct st_take_item *item)
{
    return st_goods_is_read(item) && !(item->line.amount.dim == ST_DIM_OPEN && item->line.amount.open == ST_OPEN_SOME &&
                                       !(item->n_ask && item->ask[0].kind == ST_ASK_AMOUNT));
}

/* Does an amount begin here that has a name of its own? */
bool st_goods_opens(const struct st_taken *l, size_t at, size_t end)
{
    const struct st_ask ask = { l->context->measures, ST_DIMS_GOODS, false, false };
    struct st_scan s = { l->text.s + at, l->text.s + end };
    struct st_scan w = s;
    struct st_amount a;
    struct st_problem p;

    st_scan_blanks(&s);
    w = s;
    if (st_words_at(&w, ST_WORD_BIT(ST_WORD_BOTTLE) | ST_WORD_BIT(ST_WORD_SAME)))
        return true;
    w = s;
    if (st_scan_word(&w,
                     "some|a little|a bit of|juice of|zest of|peel of|rind of|the juice of|the zest of|the peel of"))
        return true;
    return st_closed_read(&s, &ask, &a, NULL, &p) >= 0;
}

static size_t separator(const struct st_taken *l, size_t i, size_t end, bool *deed)
{
    struct st_scan s = { l->text.s + i, l->text.s + end };

    *deed = false;
    if (st_word_begins(l->text.s, i) && st_scan_word(&s, "in")) /* "250 g sugar in 400 ml water" */
        return st_goods_opens(l, (size_t)(s.at - l->text.s), end) ? (size_t)(s.at - l->text.s) : 0;
    if (st_scan_sign(&s, ",") || st_scan_sign(&s, ";") || st_scan_sign(&s, "+") || st_scan_sign(&s, "&"))
        return (size_t)(s.at - l->text.s);
    if (!st_word_begins(l->text.s, i))
        return 0;
    if (st_scan_word(&s, "dissolved in|boiled in|boiled with|melted in|simmered with")) {
        *deed = true;
        return (size_t)(s.at - l->text.s);
    }
    if (st_scan_word(&s, "soaked in|softened in|plumped in|swollen in|steeped in"))
        return (size_t)(s.at - l->text.s);
    if (st_scan_word(&s, "and of the|and of|and|plus|with|to|stuck with|studded with|then"))
        return (size_t)(s.at - l->text.s);
    return 0;
}

/* Read text made of pieces of the line; at..end is where it comes from. */
static bool put_made(struct st_taken *l, const char *made, size_t at, size_t end)
{
    struct st_take_item item;

    if (!st_item_read(made, strlen(made), l->c, l->context, &item))
        return false;
    st_taken_put(l, &item, at, end);
    return true;
}

/* "juice and zest of 1 lemon": two things of one fruit. */
static bool two_parts(struct st_taken *l, size_t at, size_t end)
{
    static const char PART[] = "juice|zest|peel|rind|grated zest|grated rind|finely grated zest|pared zest|pared peel";
    struct st_scan s = { l->text.s + at, l->text.s + end };
    char made[ST_ITEM_LIMIT];

    st_scan_blanks(&s);
    (void)st_scan_word(&s, "the");
    st_scan_blanks(&s);
    const char *one = s.at;
    if (!st_scan_word(&s, PART))
        return false;
    const int n_one = (int)(s.at - one);
    if (!st_scan_word(&s, "and the|and") && !(st_scan_blanks(&s) && st_scan_sign(&s, "&")))
        return false;
    st_scan_blanks(&s);
    const char *two = s.at;
    if (!st_scan_word(&s, PART))
        return false;
    const int n_two = (int)(s.at - two);
    const int rest = (int)(s.end - s.at);
    if (rest < 4 || rest > 200)
        return false;
    (void)snprintf(made, sizeof made, "%.*s%.*s", n_one, one, rest, s.at);
    if (!put_made(l, made, at, end))
        return false;
    (void)snprintf(made, sizeof made, "%.*s%.*s", n_two, two, rest, s.at);
    return put_made(l, made, at, end);
}

/* ---- "5 g each of aniseed, fennel and caraway" ---- */

static size_t next_name(const char *list, size_t n, size_t at, size_t *end)
{
    size_t i = at;

    for (; i < n; i++) {
        struct st_scan s = { list + i, list + n };
        if (list[i] == ',' || list[i] == '&' || list[i] == '+' ||
            (list[i] != ' ' && st_word_begins(list, i) && st_scan_word(&s, "and")))
            break;
    }
    *end = i;
    struct st_scan s = { list + i, list + n };
    while (st_scan_sign(&s, ",") || st_scan_sign(&s, "&") || st_scan_sign(&s, "+") || st_scan_word(&s, "and") ||
           st_scan_blanks(&s))
        continue;
    return (size_t)(s.at - list);
}

/* "lemon and orange peel": the last word belongs to both. */
static const char *shared_head(const char *list, size_t n)
{
    static const char *const HEAD[] = { "peel", "zest", "juice", "rind", "seeds", "seed", "leaves", "petals" };

    for (size_t i = 0; i < sizeof HEAD / sizeof HEAD[0]; i++) {
        const size_t k = strlen(HEAD[i]);
        if (n > k && memcmp(list + n - k, HEAD[i], k) == 0)
            return HEAD[i];
    }
    return "";
}

static bool read_each(struct st_taken *l, const char *amount, size_t n_amount, const char *list, size_t n, size_t at,
                      size_t end)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    int count = 0;
    size_t stop;

    while (n > 0 && strchr(" ,.", list[n - 1]))
        n--;
    const char *head = shared_head(list, n);
    for (size_t i = 0; i < n;) {
        char made[ST_ITEM_LIMIT];
        const size_t next = next_name(list, n, i, &stop);
        const char *name = list + i;
        const char *more = head[0] && next < n && *shared_head(name, stop - i) == '\0' ? head : "";
        if (stop - i > 100 || n_amount > 60 || count == ST_TAKE_ITEMS)
            return false;
        (void)snprintf(made, sizeof made, "%.*s %.*s %s", (int)n_amount, amount, (int)(stop - i), name, more);
        if (!st_item_read(made, strlen(made), l->c, l->context, &item[count]) || !st_goods_is_read(&item[count]))
            return false;
        count++;
        i = next > i ? next : n;
    }
    for (int i = 0; i < count && count > 1; i++)
        st_taken_put(l, &item[i], at, end);
    return count > 1;
}

static bool shared_amount(struct st_taken *l, size_t at, size_t end)
{
    const char *t = l->text.s;

    for (size_t i = at + 1; i < end; i++) {
        struct st_scan s = { t + i, t + end };
        if (t[i] == ' ' || !st_word_begins(t, i) || !st_scan_word(&s, "of each|each of|each"))
            continue;
        st_scan_blanks(&s);
        const size_t after = (size_t)(s.at - t);
        if (after >= end) { /* "lemon and orange peel, 10 g of each" */
            size_t comma = i;
            while (comma > at && t[comma] != ',')
                comma--;
            return comma > at && read_each(l, t + comma + 1, i - comma - 1, t + at, comma - at, at, end);
        }
        return read_each(l, t + at, i - at, t + after, end - after, at, end);
    }
    return false;
}

/* "100 g lemon and orange peel": one amount for both, and nobody says how it is shared; 3 to 7 parts of 10 each: common
 * practice, no source. */
static bool read_half(struct st_taken *l, const struct st_amount *a, const char *name, struct st_take_item *out)
{
    const char *unit = a->dim == ST_DIM_MASS ? "g" : "mL";
    char made[ST_ITEM_LIMIT];

    (void)snprintf(made, sizeof made, "%.4g-%.4g %s %s", 0.3 * a->low, 0.7 * a->high, unit, name);
    if (!st_item_read(made, strlen(made), l->c, l->context, out) || !st_goods_is_read(out))
        return false;
    st_item_doubt(out, ST_GUESS, "one amount is told for both: 3 to 7 parts of 10 are taken");
    struct st_take_ask *ask = st_item_ask(out, ST_ASK_AMOUNT, "");
    if (ask) {
        (void)snprintf(ask->ask, sizeof ask->ask, "How much of the %.60s, of %.6g %s of both?", name, a->value, unit);
        (void)snprintf(ask->with, sizeof ask->with, "%%s %.100s", name);
    }
    return true;
}

/* The last word of a list, where it says what the things of it are parts of. */
static size_t last_part(const char *list, size_t n)
{
    size_t at = n;
    while (at > 0 && st_is_letter((unsigned char)list[at - 1]))
        at--;
    char word[24];
    if (at == 0 || n - at >= sizeof word)
        return 0;
    memcpy(word, list + at, n - at);
    word[n - at] = '\0';
    return st_words_value(ST_WORD_OTHER, word) ? n - at : 0;
}

static bool one_amount_for_two(struct st_taken *l, size_t at, size_t end)
{
    const struct st_ask ask = { l->context->measures, ST_DIMS_GOODS, false, false };
    struct st_scan s = { l->text.s + at, l->text.s + end };
    struct st_take_item item[2];
    struct st_amount a;
    struct st_problem p;
    char name[2][80];
    size_t stop;

    st_scan_blanks(&s);
    if (st_closed_read(&s, &ask, &a, NULL, &p) != ST_GOT_AMOUNT || (a.dim != ST_DIM_MASS && a.dim != ST_DIM_VOLUME))
        return false;
    (void)st_scan_word(&s, "of");
    st_scan_blanks(&s);
    size_t n = strcspn(s.at, ",;(.");
    n = n < (size_t)(s.end - s.at) ? n : (size_t)(s.end - s.at);
    while (n > 0 && s.at[n - 1] == ' ')
        n--;
    const size_t part = last_part(s.at, n), next = part ? next_name(s.at, n, 0, &stop) : 0;
    if (!part || next >= n || memchr(s.at + next, ' ', n - next) != s.at + n - part - 1 || stop == 0 || stop > 50 ||
        n - next > 70)
        return false;
    (void)snprintf(name[0], sizeof name[0], "%.*s %.*s", (int)stop - (s.at[stop - 1] == ' '), s.at, (int)part,
                   s.at + n - part);
    (void)snprintf(name[1], sizeof name[1], "%.*s", (int)(n - next), s.at + next);
    for (int i = 0; i < 2; i++)
        if (!st_catalogue_find(l->c, name[i], strlen(name[i])) || !read_half(l, &a, name[i], &item[i]))
            return false;
    for (int i = 0; i < 2 && item[0].line.what != item[1].line.what; i++)
        st_taken_put(l, &item[i], at, end);
    return item[0].line.what != item[1].line.what;
}

/* ---- parting at separators ---- */

static void add_syrup(struct st_taken *l, size_t at, size_t end)
{
    if (!st_taken_has_room(l))
        return;
    struct st_take_item *item = st_taken_give(l, ST_TAKE_STEP, at, end);
    item->deed.kind = ST_DO_SYRUP;
    item->deed.time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    (void)snprintf(item->as, sizeof item->as, "%s", st_do_name(ST_DO_SYRUP));
}

/* "zest of 1 lemon and 1 orange": the part goes on. */
static bool read_right(struct st_taken *l, const char *part, size_t at, size_t end, struct st_take_item *out)
{
    char made[ST_ITEM_LIMIT];
    struct st_scan own = { l->text.s + at, l->text.s + end };

    if (part[0] && end - at < 200 &&
        !st_scan_word(&own, "juice of|the juice of|zest of|the zest of|peel of|the peel of|rind of|the rind of")) {
        (void)snprintf(made, sizeof made, "%s of %.*s", part, (int)(end - at), l->text.s + at);
        if (st_item_read(made, strlen(made), l->c, l->context, out) && st_goods_is_read(out))
            return true;
    }
    return st_item_read(l->text.s + at, end - at, l->c, l->context, out);
}

static const char *part_of(const char *as)
{
    return strncmp(as, "juice of ", 9) == 0 ? "juice" : strncmp(as, "peel of ", 8) == 0 ? "peel" : "";
}

/* "salt and pepper": nothing but names. */
static bool both_known(const struct st_taken *l, size_t at, size_t i, size_t next, size_t end)
{
    while (end > next && strchr(" .,", l->text.s[end - 1]))
        end--;
    for (size_t k = at; k < end; k++)
        if (st_is_digit((unsigned char)l->text.s[k]))
            return false;
    return st_catalogue_find(l->c, l->text.s + at, i - at) && st_catalogue_find(l->c, l->text.s + next, end - next) &&
           !st_catalogue_find(l->c, l->text.s + at, end - at);
}

/* Do the words before the separator say that what follows is what the thing was made of? */
static bool is_making(const struct st_taken *l, size_t at, size_t i)
{
    bool amount = false;
    for (size_t k = at; k <= i; k++) {
        struct st_scan s = { l->text.s + k, l->text.s + l->text.n };
        amount = amount || st_is_digit((unsigned char)l->text.s[k]);
        if (amount && l->text.s[k] != ' ' && st_word_begins(l->text.s, k) && st_scan_word(&s, ST_MADE_OF))
            return true;
    }
    return false;
}

/* Can what stands there be a thing of its own? */
static bool stands_alone(struct st_taken *l, size_t at, size_t end, struct st_take_item *item)
{
    return st_item_read(l->text.s + at, end - at, l->c, l->context, item) &&
           (st_goods_has_amount(item) || (item->sure == ST_UNREAD && item->n_ask > 0 && item->line.amount.unit &&
                                          item->line.amount.dim != ST_DIM_PIECE));
}

/* "in 400 ml water", not "in a 2 litre jar". */
static bool is_poured(struct st_taken *l, size_t at, size_t end)
{
    struct st_take_item item;
    return st_item_read(l->text.s + at, end - at, l->c, l->context, &item) && st_goods_has_amount(&item) &&
           item.line.what && item.line.amount.dim == ST_DIM_VOLUME && item.sure <= ST_GUESS && *item.as;
}

static bool is_bare(const struct st_take_item *item)
{
    return item->n_ask > 0 && item->ask[0].kind == ST_ASK_AMOUNT && item->sure == ST_GUESS &&
           strncmp(item->because, "no unit", 7) == 0;
}

/* "Juice of 3 mandarinquats, 1 L vodka": an amount of something that nobody knows is a thing of its own. */
static bool is_unknown(const struct st_taken *l, size_t at, size_t end, const struct st_take_item *item)
{
    return item->role == ST_TAKE_INGREDIENT && item->sure == ST_UNREAD && !item->line.what &&
           st_goods_opens(l, at, end) && st_take_has_unknown(l->c, l->text.s, at, end);
}

/* Where the next comma parts: "500 vodka, 200 sugar, 300 water". */
static size_t next_comma(const struct st_taken *l, size_t at, size_t end)
{
    while (at < end && !(l->text.s[at] == ',' && l->text.s[at + 1] == ' '))
        at++;
    return at;
}

/* A thing before the separator at i that no amount is told of ("some sugar; 700 mL vodka"). */
static bool is_bare_left(const struct st_taken *l, size_t at, size_t i)
{
    const struct st_ingredient *what;
    return st_goods_bare(l, at, i, &what) == i;
}

/* "..., some wormwood", "..., cinnamon": nothing is told behind the separator but a name. */
static bool bare_follows(struct st_taken *l, size_t at, size_t i, size_t next, size_t end,
                         const struct st_take_item *left)
{
    const bool sign = !st_is_letter((unsigned char)l->text.s[i]), bare = is_bare_left(l, at, i);
    const struct st_ingredient *what;
    const size_t stop = st_goods_bare(l, next, end, &what);

    if (!stop || (what && what == left->line.what) || !(st_goods_has_amount(left) || bare))
        return false;
    if (!sign && !(bare && st_taken_has_digit(l, l->start)) && !st_goods_little(l, next, end))
        return false; /* "100 g lemon and orange peel"; "raspberries and vinegar into a bowl" */
    return !st_goods_turned(l, at, i, next, stop);
}

/* "some sugar; 700 mL vodka 40 %", "sugar, vodka 700 ml": the amount is of what it stands with. */
static bool amount_follows(struct st_taken *l, size_t at, size_t i, size_t next, size_t end,
                           const struct st_take_item *left)
{
    const struct st_ingredient *last = l->context->last;
    const bool sign = !st_is_letter((unsigned char)l->text.s[i]);
    struct st_take_item right;

    if (!is_bare_left(l, at, i) || (!st_goods_opens(l, next, end) && !(sign && st_goods_first_name(l, next, end))))
        return false; /* "bread and butter 200 g" */
    struct st_scan share = { l->text.s + next, l->text.s + end };
    st_scan_blanks(&share);
    if (st_scan_word(&share, "half the|half of|all|the|both|two thirds of|a third of|a quarter of"))
        return false; /* of what a list tells */
    size_t first = next;
    while (first < end && l->text.s[first] == ' ')
        first++;
    const size_t stop = st_goods_piece_end(l, first, end);
    const bool alone = st_item_read(l->text.s + next, stop - next, l->c, l->context, &right) && right.line.what &&
                       right.line.what != left->line.what && right.line.amount.dim != ST_DIM_OPEN &&
                       !st_goods_turned(l, at, i, next, stop);
    l->context->last = last;
    return alone;
}

/* Does the thing end at this separator because of what is told, or not told, of how much? */
static bool ends_bare(struct st_taken *l, size_t at, size_t i, size_t next, size_t end, const char *part,
                      struct st_take_item *left)
{
    const struct st_ingredient *last = l->context->last;

    if (st_goods_in_brackets(l, at, i) || is_making(l, at, i))
        return false;
    if (!read_right(l, part, at, i, left) && !is_bare_left(l, at, i)) {
        l->context->last = last;
        return false;
    }
    if (bare_follows(l, at, i, next, end, left) || amount_follows(l, at, i, next, end, left))
        return true;
    l->context->last = last;
    return false;
}

/* One item from at on: the separator where it ends is sought so that both sides can stand alone. */
static size_t read_one(struct st_taken *l, size_t at, size_t end, struct st_take_item *item, const char **part,
                       bool *deed)
{
    const struct st_ingredient *last = l->context->last;
    struct st_take_item right;
    int tries = 0;
    bool syrup;

    for (size_t i = at + 1; i < end && tries < 12; i++) {
        const size_t next = l->text.s[i] == ' ' ? 0 : separator(l, i, end, &syrup);
        if (next && both_known(l, at, i, next, end)) {
            (void)st_item_read(l->text.s + at, i - at, l->c, l->context, item);
            return next;
        }
        struct st_take_item left;
        if (next && ends_bare(l, at, i, next, end, *part, &left)) {
            *item = left;
            *part = part_of(left.as);
            return next;
        }
        if (!next || !st_goods_opens(l, next, end) || is_making(l, at, i))
            continue;
        tries++;
        const bool ok =
            read_right(l, *part, at, i, &left) && (st_goods_has_amount(&left) || is_unknown(l, at, i, &left));
        const struct st_ingredient *after = l->context->last;
        const size_t stop = end - next < ST_ITEM_LIMIT ? end : next + ST_ITEM_LIMIT;
        const bool within = l->text.s[i] == 'i' || l->text.s[i] == 'I';
        if (!ok || (within && !is_poured(l, next, stop)) ||
            !(stands_alone(l, next, stop, &right) ||
              (is_bare(&left) && stands_alone(l, next, next_comma(l, next, stop), &right)))) {
            l->context->last = last;
            continue;
        }
        l->context->last = after;
        *item = left;
        *part = part_of(left.as);
        *deed = *deed || syrup;
        return next;
    }
    if (!read_right(l, *part, at, end, item))
        item->sure = ST_UNREAD;
    return end;
}

/* "1 orange, zest and juice" */
static bool two_parts_behind(struct st_taken *l, size_t at, size_t end)
{
    static const struct {
        const char *words, *one, *two;
    } BOTH[] = { { "zest and juice|juice and zest|juice and grated zest|zest & juice|juice & zest", "juice", "zest" },
                 { "peel and juice|juice and peel|rind and juice|juice and rind", "juice", "peel" } };
    size_t comma = at;

    while (comma < end && l->text.s[comma] != ',' && l->text.s[comma] != '(')
        comma++;
    if (comma >= end || comma - at > 100)
        return false;
    for (size_t i = 0; i < sizeof BOTH / sizeof BOTH[0]; i++) {
        struct st_scan s = { l->text.s + comma + 1, l->text.s + end };
        char made[ST_ITEM_LIMIT];
        if (!st_scan_word(&s, BOTH[i].words))
            continue;
        (void)snprintf(made, sizeof made, "%s of %.*s", BOTH[i].one, (int)(comma - at), l->text.s + at);
        if (!put_made(l, made, at, end))
            return false;
        (void)snprintf(made, sizeof made, "%s of %.*s", BOTH[i].two, (int)(comma - at), l->text.s + at);
        return put_made(l, made, at, end);
    }
    return false;
}

void st_goods_read(struct st_taken *l, size_t at, size_t end)
{
    const char *part = "";
    bool deed = false;

    if (two_parts(l, at, end) || two_parts_behind(l, at, end) || shared_amount(l, at, end) ||
        one_amount_for_two(l, at, end) || st_goods_listed(l, at, end))
        return;
    for (size_t i = at; i < end;) {
        struct st_take_item item;
        const size_t next = read_one(l, i, end, &item, &part, &deed);
        st_taken_put(l, &item, i, next);
        i = next;
    }
    if (deed)
        add_syrup(l, at, end);
}
