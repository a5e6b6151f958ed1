#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "number.h"
#include "take_inside.h"

/* Two amounts of one sort that differ by no more are roundings of each other. */
static const double SAME_WITHIN = 1.15;

/* ---- reading one ---- */

static struct st_scan scan_from(const struct st_item *it, size_t at)
{
    return (struct st_scan){ it->d.work + at, it->d.work + it->d.n };
}

static void keep_words(struct st_item *it, struct st_sum *sum)
{
    size_t n = sum->end - sum->at;

    while (n > 0 && it->d.work[sum->at + n - 1] == ' ')
        n--;
    if (n >= sizeof sum->words)
        n = sizeof sum->words - 1;
    memcpy(sum->words, it->d.work + sum->at, n);
    sum->words[n] = '\0';
}

bool st_item_only_blanks(const struct st_item *it, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (!strchr(" ()-,[]", it->d.work[i]))
            return false;
    return true;
}

/* "(70 cl each)": the size comes as an amount of its own. */
static bool brackets_each(struct st_scan s)
{
    for (; s.at < s.end && *s.at != ')'; s.at++) {
        struct st_scan w = s;
        if (*s.at == ' ' && st_scan_word(&w, "each|apiece"))
            return true;
    }
    return false;
}

/* "0.6-0.9 bottle" */
static void read_to(struct st_scan *s, struct st_number *n)
{
    struct st_scan a = *s;
    struct st_number to;
    const char *why;

    if (!st_scan_dash(&a) || st_number_read(&a, &to, &why) != 1 || !(to.value > n->value))
        return;
    n->low = n->value;
    n->high = to.value;
    n->value = 0.5 * (n->low + n->high);
    *s = a;
}

/* "a bottle", "2 tins", "half a bottle": a container whose size is not said. */
static bool read_size(struct st_item *it, size_t at, struct st_sum *sum)
{
    struct st_scan s = scan_from(it, at);
    struct st_number n = { .value = 1.0, .low = 1.0, .high = 1.0 };
    const char *why;

    sum->size = st_words_at(&s, ST_WORD_BIT(ST_WORD_BOTTLE));
    if (sum->size && it->n_sum == 0 && !st_item_only_blanks(it, at) && strchr(sum->size->phrase, ' ') == NULL)
        return sum->size = NULL, false; /* "damson jar" */
    if (!sum->size) {
        if (st_number_read(&s, &n, &why) != 1 || n.doubt != ST_NUMBER_SURE || n.value > 100.0)
            return false;
        read_to(&s, &n);
        (void)st_scan_word(&s, "x|of|big|large|full|standard|small|whole|more");
        st_scan_blanks(&s);
        sum->size = st_words_at(&s, ST_WORD_BIT(ST_WORD_BOTTLE));
    }
    struct st_scan look = s;
    st_scan_blanks(&look);
    if (!sum->size || (look.at < look.end && *look.at == '(' && !brackets_each(look))) {
        sum->size = NULL; /* "a tin (400 g)": the size is said */
        return false;
    }
    sum->times = n.value;
    sum->end = (size_t)(s.at - it->d.work);
    struct st_usual u;
    st_usual_read(sum->size->value, &u);
    sum->a = (struct st_amount){
        .dim = ST_DIM_VOLUME, .value = sum->times * u.option[0], .low = n.low * u.low, .high = n.high * u.high
    };
    return true;
}

static bool is_liquid(const struct st_item *it)
{
    const enum st_kind k = it->what ? it->what->kind : ST_KIND_OTHER;
    return k == ST_KIND_SPIRIT || k == ST_KIND_WINE || k == ST_KIND_WATER || k == ST_KIND_JUICE || k == ST_KIND_BREW;
}

/* "a dash of bitters": the unit goes so far as to take the name with it. */
static void give_back_name(const struct st_item *it, struct st_sum *sum)
{
    for (size_t i = sum->end; i > sum->at + 4; i--)
        if (strncmp(it->d.work + i - 4, " of ", 4) == 0) {
            if (st_catalogue_find(it->c, it->d.work + i, sum->end - i))
                sum->end = i - 4;
            return;
        }
}

/* "up to 250 g" in front is no total; "half the sugar" is an unsaid part of what was listed. */
static void settle_open(const struct st_item *it, struct st_sum *sum)
{
    struct st_amount *a = &sum->a;
    struct st_scan s = scan_from(it, sum->end), front = scan_from(it, sum->at);

    if (a->make_up_to && st_item_only_blanks(it, sum->at) && st_scan_word(&front, "up to")) {
        a->make_up_to = false;
        a->low = 0.0;
        a->vague = true;
    } else if (a->dim == ST_DIM_PIECE && !a->unit && a->value < 1.0 && st_scan_word(&s, "the|of the|of your|of that")) {
        *a = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
        sum->end = (size_t)(s.at - it->d.work);
    } else if (a->dim == ST_DIM_OPEN && a->open == ST_OPEN_SOME &&
               st_scan_word(&front, "as needed|as required|as necessary")) {
        a->open = ST_OPEN_TASTE;
    }
}

/* "2 400 g tins": two numbers, not 2400, where what holds it follows. */
static void part_gap(const struct st_item *it, struct st_sum *sum)
{
    struct st_scan s = scan_from(it, sum->end);
    const double times = floor(sum->a.value / 1000.0), each = sum->a.value - 1000.0 * times;

    if (!sum->comma || !strchr(sum->words, ' ') || strchr(sum->words, ',') || times < 1.0 || !(each > 0.0) ||
        !st_scan_container(&s))
        return;
    sum->a.value = sum->a.low = sum->a.high = times * each;
    sum->comma = sum->question = false;
    sum->made = true;
    (void)snprintf(sum->words, sizeof sum->words, "%.6g %s", sum->a.value, sum->a.dim == ST_DIM_MASS ? "g" : "mL");
}

/* A closed or open amount at a place; false: none. */
static bool read_sum(struct st_item *it, size_t at, bool first, struct st_sum *sum)
{
    const struct st_ask ask = { it->context->measures, ST_DIMS_GOODS, is_liquid(it), false };
    struct st_problem p = { 0 };
    struct st_scan s = scan_from(it, at);
    enum st_got got;

    *sum = (struct st_sum){ .at = at, .times = 1.0 };
    if (read_size(it, at, sum)) {
        keep_words(it, sum);
        return true;
    }
    got = st_open_read(&s, &ask, &sum->a, &p);
    if (got == ST_GOT_NONE)
        got = st_closed_read(&s, &ask, &sum->a, &it->d.ounce, &p);
    if (got == ST_GOT_NONSENSE && st_is_digit((unsigned char)it->d.work[at]))
        (void)snprintf(it->wrong, sizeof it->wrong, "%.70s", p.why);
    if (got < 0)
        return false;
    sum->end = (size_t)(s.at - it->d.work);
    give_back_name(it, sum);
    settle_open(it, sum);
    sum->question = got == ST_GOT_QUESTION;
    sum->comma = sum->question && (strstr(p.what, "two ways") != NULL);
    keep_words(it, sum);
    part_gap(it, sum);
    (void)first;
    return sum->end > at;
}

bool st_item_amount_at(struct st_item *it, size_t at)
{
    struct st_sum unused;
    return read_sum(it, at, true, &unused);
}

/* ---- looking for them ---- */

static bool set_off(const struct st_item *it, size_t at)
{
    while (at > 0 && it->d.work[at - 1] == ' ')
        at--;
    return at == 0 || strchr(",;(:=-[/", it->d.work[at - 1]) != NULL;
}

static bool ends_phrase(const struct st_item *it, size_t at)
{
    struct st_scan s = scan_from(it, at);

    st_scan_blanks(&s);
    if (st_words_at(&s, ST_WORD_BIT(ST_WORD_PIECE))) /* "cinnamon, 1 stick" */
        at = (size_t)(s.at - it->d.work);
    while (at < it->d.n && it->d.work[at] == ' ')
        at++;
    return at == it->d.n || strchr(",;).", it->d.work[at]) != NULL;
}

/* "Cloves 4": nothing but a name before it, which is no drink ("vodka 40"). */
static bool follows_name(const struct st_item *it, const struct st_sum *sum)
{
    size_t end = sum->end;

    while (end < it->d.n && strchr(" .", it->d.work[end]))
        end++;
    if (end < it->d.n || sum->at == 0 || sum->a.value > 100.0)
        return false;
    const struct st_ingredient *in = st_catalogue_find(it->c, it->d.work, sum->at);
    return in && in->kind != ST_KIND_SPIRIT && in->kind != ST_KIND_WINE;
}

/* A bare count only counts in front, after "of", or set off at the end: "lemons, 2". */
static bool is_amount(const struct st_item *it, const struct st_sum *sum, bool number)
{
    const struct st_amount *a = &sum->a;

    if (a->dim == ST_DIM_OPEN && a->open == ST_OPEN_SOME)
        return it->n_sum == 0;
    if (a->open == ST_OPEN_COVER && strcmp(sum->words, "covered") == 0)
        return false;
    if (a->dim != ST_DIM_PIECE || a->unit)
        return true;
    if (sum->end < it->d.n && it->d.work[sum->end] == ':' && number)
        return false; /* "2:1 syrup" */
    if (it->n_sum > 0)
        return false;
    if (st_item_only_blanks(it, sum->at))
        return true;
    if (number && follows_name(it, sum))
        return true;
    return number && set_off(it, sum->at) && ends_phrase(it, sum->end) && a->value < 1000.0;
}

static void blank(struct st_item *it, size_t from, size_t to)
{
    memset(it->d.work + from, ' ', to - from);
}

/* "5 cm of ginger": a length, which tells no weight. */
static void see_length(struct st_item *it, struct st_sum *sum)
{
    struct st_scan s = scan_from(it, sum->end);

    if (sum->a.dim != ST_DIM_PIECE || sum->a.unit)
        return;
    if (s.at < s.end && (*s.at == '"' || *s.at == '-'))
        s.at++;
    st_scan_blanks(&s);
    if (!st_words_at(&s, ST_WORD_BIT(ST_WORD_LENGTH)))
        return;
    it->length = true;
    sum->end = (size_t)(s.at - it->d.work);
    keep_words(it, sum);
}

/* "two 70 cl bottles": the number stands right before what each holds. */
static bool holds_so_much(const struct st_item *it, const struct st_sum *n, const struct st_sum *sum)
{
    struct st_scan s = scan_from(it, sum->end);

    for (size_t i = n->end; i < sum->at; i++)
        if (it->d.work[i] != ' ')
            return false;
    return !n->size && n->end <= sum->at && st_scan_container(&s);
}

/* "2 lemons, 100 g each" */
static void times_each(struct st_item *it, struct st_sum *sum)
{
    struct st_scan s = scan_from(it, sum->end);
    const struct st_sum *n = it->n_sum > 0 ? &it->sum[0] : NULL;

    if (!n || (!n->size && (n->a.dim != ST_DIM_PIECE || n->a.unit)) || sum->a.dim == ST_DIM_PIECE || sum->question ||
        !(st_scan_word(&s, "each|apiece|a piece|per piece") || holds_so_much(it, n, sum)))
        return;
    sum->end = (size_t)(s.at - it->d.work);
    sum->made = true;
    sum->a.value *= n->size ? n->times : n->a.value;
    sum->a.low *= n->size ? n->times : n->a.low;
    sum->a.high *= n->size ? n->times : n->a.high;
    (void)snprintf(sum->words, sizeof sum->words, "%.4g-%.4g %s", sum->a.low, sum->a.high,
                   sum->a.dim == ST_DIM_MASS ? "g" : "mL");
    if (!(sum->a.low < sum->a.high))
        (void)snprintf(sum->words, sizeof sum->words, "%.6g %s", sum->a.value, sum->a.dim == ST_DIM_MASS ? "g" : "mL");
}

static bool may_begin(const struct st_item *it, size_t i, bool *number)
{
    struct st_scan s = scan_from(it, i);

    *number = st_draft_is_number(&it->d, i);
    if (*number)
        return st_draft_is_start(&it->d, i);
    if (!st_word_begins(it->d.work, i))
        return false;
    if (!st_scan_word(&s, "a|an"))
        return true;
    return st_item_only_blanks(it, i) || set_off(it, i); /* elsewhere an article is none */
}

/* May an amount begin with this word?  Those of open amounts are tried too. */
static bool is_count_word(const struct st_item *it, size_t i)
{
    struct st_scan s = scan_from(it, i);
    return st_words_at(&s, ST_WORD_BIT(ST_WORD_COUNT) | ST_WORD_BIT(ST_WORD_BOTTLE)) != NULL;
}

static bool read_open(struct st_item *it, size_t i, struct st_sum *sum)
{
    const struct st_ask ask = { it->context->measures, ST_DIMS_GOODS, false, false };
    struct st_scan s = scan_from(it, i);
    struct st_problem p = { 0 };

    *sum = (struct st_sum){ .at = i, .times = 1.0 };
    if (st_open_read(&s, &ask, &sum->a, &p) != ST_GOT_AMOUNT)
        return false;
    sum->end = (size_t)(s.at - it->d.work);
    settle_open(it, sum);
    keep_words(it, sum);
    return true;
}

/* "tsp vanilla": the number was left out, and one is meant. */
static void lone_spoon(struct st_item *it)
{
    const struct st_ask ask = { it->context->measures, ST_DIMS_GOODS, false, false };
    struct st_scan s = scan_from(it, 0);
    struct st_sum sum = { .times = 1.0, .made = true };
    struct st_problem p;

    st_scan_blanks(&s);
    sum.at = (size_t)(s.at - it->d.work);
    if (!st_scan_word(&s, "tsp|teaspoon|tbsp|tablespoon|dessertspoon"))
        return;
    sum.end = (size_t)(s.at - it->d.work);
    (void)snprintf(sum.words, sizeof sum.words, "1 %.*s", (int)(sum.end - sum.at), it->d.work + sum.at);
    struct st_scan one = { sum.words, sum.words + strlen(sum.words) };
    if (st_closed_read(&one, &ask, &sum.a, NULL, &p) != ST_GOT_AMOUNT)
        return;
    blank(it, sum.at, sum.end);
    it->sum[it->n_sum++] = sum;
    st_item_doubt(it->out, ST_LIKELY, "no number is written: %s is taken", sum.words);
}

/* "a few almonds, maybe ten": both numbers are told, and the range holds both. */
static bool counted_again(struct st_item *it, const struct st_sum *more)
{
    struct st_sum *first = &it->sum[0];
    const double n = more->a.value;

    if (it->n_sum != 1 || first->a.dim != ST_DIM_PIECE || first->a.unit || !(first->a.low < first->a.high) ||
        more->a.dim != ST_DIM_PIECE || more->a.unit || !ends_phrase(it, more->end) || n < 2.0 || n >= 1000.0)
        return false;
    first->a.low = fmin(first->a.low, more->a.low);
    first->a.high = fmax(first->a.high, more->a.high);
    first->a.value = n;
    first->made = true;
    (void)snprintf(first->words, sizeof first->words, "%.6g-%.6g", first->a.low, first->a.high);
    st_item_doubt(it->out, ST_GUESS, "two numbers are told: the range holds both");
    blank(it, more->at, more->end);
    return true;
}

void st_item_amounts(struct st_item *it)
{
    bool number;

    st_item_part(it);
    lone_spoon(it);
    for (size_t i = 0; i < it->d.n && it->n_sum < ST_ITEM_AMOUNTS; i++) {
        struct st_sum sum;
        if (it->d.work[i] == ' ' || !may_begin(it, i, &number))
            continue;
        if (!(number || is_count_word(it, i) ? read_sum(it, i, it->n_sum == 0, &sum) : read_open(it, i, &sum)))
            continue;
        if (counted_again(it, &sum) || !is_amount(it, &sum, number))
            continue;
        see_length(it, &sum);
        times_each(it, &sum);
        blank(it, sum.at, sum.end);
        it->sum[it->n_sum++] = sum;
        i = sum.end - 1;
    }
}

void st_item_reread(struct st_item *it)
{
    for (int i = 0; i < it->n_sum; i++) {
        struct st_sum *sum = &it->sum[i];
        struct st_sum again;
        if (sum->made || sum->size || sum->a.open != ST_CLOSED || sum->a.dim == ST_DIM_PIECE ||
            it->d.text[sum->at] == ' ')
            continue;
        memcpy(it->d.work + sum->at, it->d.text + sum->at, sum->end - sum->at);
        if (read_sum(it, sum->at, i == 0, &again) && again.end <= sum->end && !again.size) {
            again.end = sum->end;
            *sum = again;
        }
        blank(it, sum->at, sum->end);
    }
}

/* ---- choosing ---- */

static bool is_metric(const struct st_sum *s)
{
    const struct st_unit *u = s->a.unit;
    return u && (strcmp(u->key, "g") == 0 || strcmp(u->key, "kg") == 0 || strcmp(u->key, "ml") == 0 ||
                 strcmp(u->key, "l") == 0 || strcmp(u->key, "cl") == 0 || strcmp(u->key, "dl") == 0);
}

static int rank(const struct st_item *it, const struct st_sum *s)
{
    if (s->a.dim == ST_DIM_OPEN)
        return s->a.open == ST_OPEN_SOME ? 0 : 1;
    if (s->size)
        return 2;
    if (s->a.dim == ST_DIM_PIECE)
        return 3;
    const bool liquid = is_liquid(it);
    const int sort = (s->a.dim == ST_DIM_MASS) != liquid ? 2 : 0;
    return 4 + (s->question ? 0 : 32) + 8 * sort + (s->a.vague ? 0 : 2) + (is_metric(s) ? 1 : 0);
}

static bool agree(const struct st_sum *a, const struct st_sum *b)
{
    const double more = fmax(a->a.value, b->a.value), less = fmin(a->a.value, b->a.value);
    return more <= SAME_WITHIN * less || (a->a.low <= b->a.high && b->a.low <= a->a.high);
}

void st_item_choose(struct st_item *it)
{
    it->main = -1;
    for (int i = 0; i < it->n_sum; i++)
        if (it->main < 0 || rank(it, &it->sum[i]) > rank(it, &it->sum[it->main]))
            it->main = i;
    for (int i = 0; i < it->n_sum; i++) {
        const struct st_sum *m = &it->sum[it->main], *s = &it->sum[i];
        if (i != it->main && s->a.dim == m->a.dim && s->a.dim != ST_DIM_OPEN && !s->size && !m->size && !s->question &&
            !agree(s, m))
            it->conflict = true;
    }
}

/* ---- usual figures ---- */

void st_usual_read(const char *value, struct st_usual *out)
{
    char *end;

    const char *dots = strstr(value, "..");

    *out = (struct st_usual){ 0 };
    out->low = out->high = strtod(value, &end); /* of "4..5" it reads "4." */
    if (dots)
        out->high = strtod(dots + 2, &end);
    while (*end && out->n_option < ST_TAKE_OPTIONS)
        out->option[out->n_option++] = strtod(end, &end);
    if (out->n_option == 0)
        out->option[out->n_option++] = 0.5 * (out->low + out->high);
}
