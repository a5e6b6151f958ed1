#include "take_line.h"

#include <stdio.h>
#include <string.h>

#include "take_inside.h"

/* What a line is: a heading, a deed, an ingredient or several, a remark. */

struct line {
    struct st_clean plain, text; /* as pasted without its marks; the same with units written out */
    const struct st_catalogue *c;
    struct st_take_context *context;
    struct st_take_item *item;
    int n;
    size_t start; /* behind bullets and numbers */
    int hashes;   /* Markdown's marks of a heading */
    bool title;   /* "Title: ..." */
};

/* ---- small things ---- */

static struct st_scan from(const struct line *l, size_t at)
{
    return (struct st_scan){ l->text.s + at, l->text.s + l->text.n };
}

static struct st_take_item *give(struct line *l, enum st_take_role role, size_t at, size_t end)
{
    struct st_take_item *item = &l->item[l->n < ST_TAKE_ITEMS ? l->n++ : ST_TAKE_ITEMS - 1];

    *item = (struct st_take_item){ .role = role, .line = { .text = "", .from_step = -1 } };
    item->at = l->text.from[at];
    item->n = l->text.from[end] - item->at;
    return item;
}

/* Room for one more?  Where there is none, the last item says so: nothing is left out in silence. */
static bool has_room(struct line *l)
{
    if (l->n < ST_TAKE_ITEMS)
        return true;
    struct st_take_item *last = &l->item[ST_TAKE_ITEMS - 1];
    const size_t at = last->at, n = last->n;
    *last = (struct st_take_item){ .role = ST_TAKE_INGREDIENT, .sure = ST_UNREAD, .at = at, .n = n,
                                   .line = { .text = "", .from_step = -1 } };
    (void)snprintf(last->because, sizeof last->because, "%s", "more than six things in one line: part it");
    return false;
}

static bool begins(const struct line *l, size_t at, unsigned classes)
{
    struct st_scan s = from(l, at);
    return st_words_at(&s, classes) != NULL;
}

static bool holds(const struct line *l, size_t at, unsigned classes)
{
    for (size_t i = at; i < l->text.n; i++)
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) && begins(l, i, classes))
            return true;
    return false;
}

static int count_words(const struct line *l, size_t at)
{
    int n = 0;
    for (size_t i = at; i < l->text.n; i++)
        n += st_is_letter((unsigned char)l->text.s[i]) && st_word_begins(l->text.s, i);
    return n;
}

/* A figure that may be of an amount: not a year, nor one of 1 to 2 in brackets behind a name. */
static bool has_digit(const struct line *l, size_t at)
{
    for (size_t i = at; i < l->text.n; i++) {
        size_t n = 0;
        while (i + n < l->text.n && st_is_digit((unsigned char)l->text.s[i + n]))
            n++;
        const char *p = l->text.s + i;
        const bool year = n == 4 && (strncmp(p, "18", 2) == 0 || strncmp(p, "19", 2) == 0 || strncmp(p, "20", 2) == 0);
        if (n > 0 && !(year && i > at && strchr(" (", p[-1])))
            return true;
        i += n;
    }
    return false;
}

/* ---- marks in front ---- */

static bool skip_number(struct st_scan *s)
{
    struct st_scan a = *s;
    int digits = 0;

    (void)st_scan_sign(&a, "(");
    while (a.at < a.end && st_is_digit((unsigned char)*a.at) && digits < 3)
        a.at++, digits++;
    if (digits == 0 || digits > 2 || !(st_scan_sign(&a, ".") || st_scan_sign(&a, ")")))
        return false;
    (void)st_scan_sign(&a, ")");
    if (!st_scan_blanks(&a))
        return false;
    *s = a;
    return true;
}

static void skip_marks(struct line *l)
{
    struct st_scan s = from(l, 0);
    bool numbered = false;

    for (;;) {
        const char *at = s.at;
        st_scan_blanks(&s);
        if (st_scan_sign(&s, "#"))
            l->hashes++;
        else if (!(st_scan_sign(&s, "*") || st_scan_sign(&s, ">") || st_scan_sign(&s, "\xe2\x80\xa2") ||
                   st_scan_sign(&s, "[ ]") || st_scan_sign(&s, "[x]") || st_scan_sign(&s, "[X]") ||
                   st_scan_sign(&s, "[]") || st_scan_sign(&s, "+ ") || st_scan_sign(&s, "\xe2\x80\x93 ") ||
                   st_scan_sign(&s, "- ") || st_scan_sign(&s, "-") || st_scan_sign(&s, "\xe2\x80\x94") ||
                   st_scan_sign(&s, ".") || st_scan_sign(&s, "o "))) {
            if (numbered || !skip_number(&s))
                break;
            numbered = true;
        }
        if (s.at == at)
            break;
    }
    st_scan_blanks(&s);
    struct st_scan t = s;
    if (st_scan_word(&t, "title|recipe|name") && st_scan_sign(&t, ":")) {
        l->title = true;
        s = t;
        st_scan_blanks(&s);
    }
    t = s;
    if (st_scan_word(&t, "step") && st_scan_blanks(&t)) { /* "Step 2:" */
        while (t.at < t.end && (st_is_digit((unsigned char)*t.at) || strchr(" .:)-", *t.at)))
            t.at++;
        s = t;
    }
    l->start = (size_t)(s.at - l->text.s);
}

/* ---- lines that are no ingredient and no deed ---- */

static size_t trimmed_end(const struct line *l)
{
    size_t n = l->text.n;
    while (n > l->start && strchr(" :.-=!*#", l->text.s[n - 1]))
        n--;
    return n;
}

static bool is_nothing(const struct line *l)
{
    for (size_t i = l->start; i < l->text.n; i++) {
        const struct st_scan s = from(l, i);
        size_t n;
        const unsigned c = st_scan_char(&s, &n);
        if (st_is_letter(c) || st_is_digit(c) || (c >= 0xbc && c <= 0xbe) || (c >= 0x2150 && c <= 0x215e))
            return false;
    }
    return true;
}

static bool is_heading(struct line *l, const struct st_word **word)
{
    struct st_scan s = from(l, l->start);
    const size_t end = trimmed_end(l);
    struct st_scan only = { s.at, l->text.s + end };

    *word = st_words_at(&s, ST_WORD_BIT(ST_WORD_HEADING));
    if (*word) {
        const size_t at = (size_t)(s.at - l->text.s);
        if (at >= end)
            return true;
        struct st_scan rest = { s.at, only.end };
        st_scan_blanks(&rest);
        if (rest.at < rest.end && *rest.at == '(' && !has_digit(l, at))
            return true;
    }
    *word = NULL;
    const bool colon = l->text.n > l->start && end < l->text.n && strchr(l->text.s + end, ':') != NULL;
    struct st_scan f = only;
    if (!has_digit(l, l->start) && ((colon && count_words(l, l->start) <= 6) ||
                                    (st_scan_word(&f, "for the|for") && count_words(l, l->start) <= 5)))
        return true;
    return l->hashes >= 2;
}

static void note_heading(struct line *l, const struct st_word *word)
{
    (void)give(l, ST_TAKE_HEADING, l->start, l->text.n);
    if (word)
        l->context->in_method = strcmp(word->value, "method") == 0;
}

/* "Makes about 1 litre", "No sugar", "Since 1954". */
static bool is_note(const struct line *l)
{
    const size_t at = l->start;

    if (begins(l, at, ST_WORD_BIT(ST_WORD_NOTE) | ST_WORD_BIT(ST_WORD_NOT)))
        return true;
    struct st_scan s = from(l, at);
    if (st_scan_word(&s, "if|unless|otherwise|see|page"))
        return true;
    s = from(l, trimmed_end(l) > 4 ? trimmed_end(l) - 4 : 0);
    return st_scan_word(&s, "none");
}

/* ---- ingredients ---- */

static bool is_read(const struct st_take_item *item)
{
    return item->role == ST_TAKE_INGREDIENT && (item->sure != ST_UNREAD || item->line.what);
}

static bool has_amount(const struct st_take_item *item)
{
    return is_read(item) && !(item->line.amount.dim == ST_DIM_OPEN && item->line.amount.open == ST_OPEN_SOME &&
                              !(item->n_ask && item->ask[0].kind == ST_ASK_AMOUNT));
}

/* Does an amount begin here that has a name of its own? */
static bool opens_item(const struct line *l, size_t at, size_t end)
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
    if (st_scan_word(&w, "some|a little|a bit of|juice of|zest of|peel of|rind of|the juice of|the zest of|the peel of"))
        return true;
    return st_closed_read(&s, &ask, &a, NULL, &p) >= 0;
}

static size_t separator(const struct line *l, size_t i, size_t end, bool *deed)
{
    struct st_scan s = { l->text.s + i, l->text.s + end };

    *deed = false;
    if (st_scan_sign(&s, ",") || st_scan_sign(&s, ";") || st_scan_sign(&s, "+") || st_scan_sign(&s, "&"))
        return (size_t)(s.at - l->text.s);
    if (!st_word_begins(l->text.s, i))
        return 0;
    if (st_scan_word(&s, "dissolved in|boiled in|boiled with|melted in|simmered with")) {
        *deed = true;
        return (size_t)(s.at - l->text.s);
    }
    if (st_scan_word(&s, "and|plus|with|to|stuck with|studded with|then"))
        return (size_t)(s.at - l->text.s);
    return 0;
}

static void put_item(struct line *l, const struct st_take_item *item, size_t at, size_t end)
{
    if (!has_room(l))
        return;
    struct st_take_item *to = give(l, item->role, at, end);
    const size_t where = to->at, n = to->n;
    *to = *item;
    to->at = where;
    to->n = n;
    if (to->as[0] && to->line.text)
        to->line.text = to->as;
}

/* Read text made of pieces of the line; at..end is where it comes from. */
static bool put_made(struct line *l, const char *made, size_t at, size_t end)
{
    struct st_take_item item;

    if (!st_item_read(made, strlen(made), l->c, l->context, &item))
        return false;
    put_item(l, &item, at, end);
    return true;
}

/* "juice and zest of 1 lemon": two things of one fruit. */
static bool two_parts(struct line *l, size_t at, size_t end)
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

static bool read_each(struct line *l, const char *amount, size_t n_amount, const char *list, size_t n, size_t at,
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
        if (!st_item_read(made, strlen(made), l->c, l->context, &item[count]) || !is_read(&item[count]))
            return false;
        count++;
        i = next > i ? next : n;
    }
    for (int i = 0; i < count && count > 1; i++)
        put_item(l, &item[i], at, end);
    return count > 1;
}

static bool shared_amount(struct line *l, size_t at, size_t end)
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

/* ---- parting at separators ---- */

static void add_syrup(struct line *l, size_t at, size_t end)
{
    if (!has_room(l))
        return;
    struct st_take_item *item = give(l, ST_TAKE_STEP, at, end);
    item->deed.kind = ST_DO_SYRUP;
    item->deed.time = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    (void)snprintf(item->as, sizeof item->as, "%s", st_do_name(ST_DO_SYRUP));
}

/* "zest of 1 lemon and 1 orange": the part goes on. */
static bool read_right(struct line *l, const char *part, size_t at, size_t end, struct st_take_item *out)
{
    char made[ST_ITEM_LIMIT];

    if (part[0] && end - at < 200) {
        (void)snprintf(made, sizeof made, "%s of %.*s", part, (int)(end - at), l->text.s + at);
        if (st_item_read(made, strlen(made), l->c, l->context, out) && is_read(out))
            return true;
    }
    return st_item_read(l->text.s + at, end - at, l->c, l->context, out);
}

static const char *part_of(const char *as)
{
    return strncmp(as, "juice of ", 9) == 0 ? "juice" : strncmp(as, "peel of ", 8) == 0 ? "peel" : "";
}

/* "salt and pepper": nothing but names. */
static bool both_known(const struct line *l, size_t at, size_t i, size_t next, size_t end)
{
    while (end > next && strchr(" .,", l->text.s[end - 1]))
        end--;
    for (size_t k = at; k < end; k++)
        if (st_is_digit((unsigned char)l->text.s[k]))
            return false;
    return st_catalogue_find(l->c, l->text.s + at, i - at) && st_catalogue_find(l->c, l->text.s + next, end - next) &&
           !st_catalogue_find(l->c, l->text.s + at, end - at);
}

/* One item from at on: the separator where it ends is sought so that both sides can stand alone. */
static size_t read_one(struct line *l, size_t at, size_t end, struct st_take_item *item, const char **part, bool *deed)
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
        if (!next || !opens_item(l, next, end))
            continue;
        tries++;
        struct st_take_item left;
        const bool ok = read_right(l, *part, at, i, &left) && has_amount(&left);
        const struct st_ingredient *after = l->context->last;
        const size_t stop = end - next < ST_ITEM_LIMIT ? end : next + ST_ITEM_LIMIT;
        if (!ok || !st_item_read(l->text.s + next, stop - next, l->c, l->context, &right) ||
            !(has_amount(&right) || (right.sure == ST_UNREAD && right.n_ask > 0 && right.line.amount.unit && right.line.amount.dim != ST_DIM_PIECE))) {
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
static bool two_parts_behind(struct line *l, size_t at, size_t end)
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

static void read_goods(struct line *l, size_t at, size_t end)
{
    const char *part = "";
    bool deed = false;

    if (two_parts(l, at, end) || two_parts_behind(l, at, end) || shared_amount(l, at, end))
        return;
    for (size_t i = at; i < end;) {
        struct st_take_item item;
        const size_t next = read_one(l, i, end, &item, &part, &deed);
        put_item(l, &item, i, next);
        i = next;
    }
    if (deed)
        add_syrup(l, at, end);
}

/* ---- what an unread line may be instead ---- */

static bool says_vessel(const struct line *l, size_t at)
{
    for (size_t i = at; i < l->text.n; i++) {
        struct st_scan s = from(l, i);
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) &&
            st_scan_word(&s, "jar|jars|bottle|bottles|demijohn|muslin|funnel|sieve|lid|cloth|pan|bowl|jug|crock|corks"))
            return true;
    }
    return false;
}

static bool looks_like_title(const struct line *l)
{
    const size_t end = trimmed_end(l);
    const int words = count_words(l, l->start);

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

static bool only_figures(const struct line *l)
{
    for (size_t i = l->start; i < l->text.n; i++)
        if (st_is_letter((unsigned char)l->text.s[i]))
            return false;
    return true;
}

/* Nothing was named that is known: a remark, a title, or something to be asked about. */
static void settle_unread(struct line *l, size_t at)
{
    struct st_take_item *item = &l->item[0];
    const bool amount = has_digit(l, at) || (item->line.amount.dim != ST_DIM_OPEN && item->line.amount.unit);
    const char last = l->text.s[l->text.n - 1];

    if (only_figures(l)) {
        if (!strchr(l->text.s + at, ':'))
            item->role = ST_TAKE_NOTHING;
        item->n_ask = 0;
        (void)st_item_ask(item, ST_ASK_AMOUNT, "What is meant by these figures?");
        return;
    }
    if (says_vessel(l, at) || (!amount && (count_words(l, at) > 3 || last == '.')) || last == '!' || last == '?') {
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
        (void)st_item_ask(item, ST_ASK_WHICH, "What is meant here?");
    }
}

/* ---- sentences ---- */

static bool is_short_word(const char *s, size_t at)
{
    static const char *const SHORT[] = { "approx", "abt", "ca",  "c",  "oz",  "ozs", "lb", "lbs", "tsp", "tbsp", "fl",
                                         "pt",     "pts", "qt",  "no", "vol", "alc", "g",  "kg",  "ml",  "l",    "t",
                                         "st",     "mrs", "mr",  "dr", "gr",  "cl",  "imp", "in", "wks", "min",  "hrs",
                                         "litre",  "tablespoon", "teaspoon" };
    size_t from = at;

    while (from > 0 && st_is_letter((unsigned char)s[from - 1]))
        from--;
    for (size_t i = 0; i < sizeof SHORT / sizeof SHORT[0]; i++) {
        struct st_scan w = { s + from, s + at };
        if (strlen(SHORT[i]) == at - from && st_scan_word(&w, SHORT[i]))
            return true;
    }
    return false;
}

static size_t sentence_end(const struct line *l, size_t at)
{
    const char *t = l->text.s;

    for (size_t i = at; i < l->text.n; i++) {
        if (t[i] == '!' || t[i] == '?')
            return i + 1;
        if (t[i] != '.' || i + 2 >= l->text.n || t[i + 1] != ' ' || i == at || is_short_word(t, i))
            continue;
        if (t[i + 2] >= 'a' && t[i + 2] <= 'z')
            continue;
        if (i > 0 && st_is_digit((unsigned char)t[i - 1]) && i - at < 3)
            continue;
        if (i > 0 && (t[i - 1] == '.' || t[i - 1] == ' '))
            continue;
        return i + 1;
    }
    return l->text.n;
}

/* Was something put into a jar before byte `end` of this line? */
static bool is_filled(const struct line *l, size_t end)
{
    for (size_t i = l->start; i < end; i++) {
        struct st_scan s = { l->text.s + i, l->text.s + end };
        if (l->text.s[i] != ' ' && st_word_begins(l->text.s, i) && st_scan_word(&s, "put|place|pour|cover|layer|pack|fill"))
            return true;
    }
    return false;
}

static void read_prose(struct line *l, size_t at, size_t end)
{
    struct st_take_item item[ST_TAKE_ITEMS + 1]; /* one more, so that too many are seen */
    const int n = st_deed_read(l->text.s + at, end - at, l->c, l->context,
                              is_filled(l, at), item, ST_TAKE_ITEMS + 1);

    for (int i = 0; i < n; i++)
        put_item(l, &item[i], at + item[i].at, at + item[i].at + item[i].n);
}

/* Sentences behind the first: deeds, or things with an amount; remarks are dropped. */
static void read_more(struct line *l, size_t at)
{
    while (at < l->text.n) {
        const size_t end = sentence_end(l, at);
        if (st_deed_begins(l->text.s + at, end - at))
            read_prose(l, at, end);
        at = end;
        while (at < l->text.n && l->text.s[at] == ' ')
            at++;
    }
}

/* "Aunt Odile's Famous Cherry Brandy": capitals throughout, and the word for a drink at the end. */
static bool is_drink_name(const struct line *l, size_t end)
{
    const size_t stop = trimmed_end(l);
    size_t last = stop;

    if (end < l->text.n || has_digit(l, l->start) || count_words(l, l->start) < 3 || !looks_like_title(l))
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
static bool is_two_names(const struct line *l)
{
    const struct st_take_item *item = &l->item[0];
    bool which = false;

    for (int i = 0; i < item->n_ask; i++)
        which = which || item->ask[i].kind == ST_ASK_WHICH;
    return item->role == ST_TAKE_INGREDIENT && which && item->sure == ST_GUESS && !has_digit(l, l->start) &&
           item->line.amount.dim == ST_DIM_OPEN && item->line.amount.open == ST_OPEN_SOME && looks_like_title(l);
}

static void read_first(struct line *l)
{
    const size_t at = l->start, end = sentence_end(l, at);
    const bool goods = opens_item(l, at, end) && !l->context->in_method;

    if (is_drink_name(l, end)) {
        (void)give(l, ST_TAKE_TITLE, at, l->text.n);
        return;
    }
    if (st_deed_begins(l->text.s + at, end - at) && !(goods && st_is_digit((unsigned char)l->text.s[at]) &&
                                                     !strstr(l->text.s + at, "later"))) {
        read_prose(l, at, end);
    } else if (!is_note(l) && !(holds(l, at, ST_WORD_BIT(ST_WORD_STORY)))) {
        const bool named = !has_digit(l, at) && count_words(l, at) > 5 && end == l->text.n && !goods;
        read_goods(l, at, end);
        if (named && l->n > 0 && !has_amount(&l->item[0]) && l->item[0].role == ST_TAKE_INGREDIENT)
            l->item[0].sure = ST_UNREAD, l->item[0].line.what = NULL, l->item[0].as[0] = '\0';
        if (l->n == 1 && is_two_names(l))
            l->item[0] = (struct st_take_item){ .role = ST_TAKE_TITLE, .at = l->item[0].at, .n = l->item[0].n,
                                                .line = { .text = "", .from_step = -1 } };
        if (l->n == 1 && l->item[0].sure == ST_UNREAD && !l->item[0].line.what)
            settle_unread(l, at);
    }
    read_more(l, end);
    if (l->n == 0)
        (void)give(l, ST_TAKE_NOTE, at, l->text.n);
}

/* "For the syrup: 200 g sugar", "Spices: 2 cloves": what it is for stands before a colon. */
static void skip_purpose(struct line *l)
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
    struct st_scan s = from(l, l->start);
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_NOTE) | ST_WORD_BIT(ST_WORD_HEADING));
    if (w && w->what == ST_WORD_NOTE)
        return;
    const bool goods = opens_item(l, rest, l->text.n), deed = st_deed_begins(l->text.s + rest, l->text.n - rest);
    if ((!goods && !deed) || (goods && st_catalogue_find(l->c, l->text.s + l->start, colon - l->start)))
        return;
    if (w)
        l->context->in_method = strcmp(w->value, "method") == 0;
    l->start = rest;
}

/* ---- whose measures ---- */

static void see_measures(struct line *l)
{
    if (l->context->measures != ST_MEASURES_NONE)
        return;
    for (size_t i = l->start; i < l->text.n; i++) {
        struct st_scan s = from(l, i);
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

static void say_cut(struct line *l)
{
    if (!l->text.cut && !l->plain.cut)
        return;
    if (l->n == ST_TAKE_ITEMS)
        l->n--;
    struct st_take_item *item = give(l, ST_TAKE_INGREDIENT, l->text.n, l->text.n);
    item->sure = ST_UNREAD;
    (void)snprintf(item->because, sizeof item->because, "%s", "the line is too long: the rest of it was not read");
}

int st_take_line(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context,
                 struct st_take_item item[ST_TAKE_ITEMS])
{
    struct line l = { .c = c, .context = context, .item = item };
    const struct st_word *word;

    st_clean_plain(text, n, &l.plain);
    st_clean_write(&l.plain, &l.text);
    skip_marks(&l);
    see_measures(&l);
    if (is_nothing(&l) || begins(&l, l.start, ST_WORD_BIT(ST_WORD_NOTHING)))
        (void)give(&l, ST_TAKE_NOTHING, l.start, l.text.n);
    else if (is_heading(&l, &word))
        note_heading(&l, word);
    else if (l.title || l.hashes == 1)
        (void)give(&l, ST_TAKE_TITLE, l.start, l.text.n);
    else {
        skip_purpose(&l);
        read_first(&l);
    }
    say_cut(&l);
    return l.n;
}
