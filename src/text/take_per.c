#include "take_per.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/foresee.h"
#include "quantity.h"
#include "scan.h"
#include "take_inside.h"
#include "take_poured.h"

/* ---- what is said ---- */

static const char LIQUID[] = "liquid|liquor|liqueur|infusion|juice|extract|tincture|spirit|alcohol|mixture|strainings|"
                             "what you get|what comes out|what you have|it";
static const char GOT[] =
    "that you get|which you get|you get|that you have|which you have|you have|you end up with|"
    "that comes out|obtained|collected|so obtained|thus obtained|strained off|that you strain off|"
    "that results|left";

/* "1 litre", "every pint", "500 ml": mL, low to high where whose pint is not known; false: no volume. */
static bool volume_at(const struct st_taking *t, struct st_scan *s, struct st_range *ml)
{
    char text[80];
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;

    st_scan_blanks(s);
    const bool digit = s->at < s->end && st_is_digit((unsigned char)*s->at);
    const size_t n = (size_t)(s->end - s->at) < 40 ? (size_t)(s->end - s->at) : 40;
    (void)snprintf(text, sizeof text, "%s%.*s", digit ? "" : "1 ", (int)n, s->at);
    const int got = st_quantity_parse(text, strlen(text), t->measures, &a, &used, &p);
    if (got < 0 || used == 0)
        return false;
    if (got > 0) { /* whose pint: both */
        struct st_amount us, uk;
        size_t u;
        if (st_quantity_parse(text, strlen(text), ST_MEASURES_US, &us, &u, &p) != 0 ||
            st_quantity_parse(text, strlen(text), ST_MEASURES_IMPERIAL, &uk, &u, &p) != 0 || us.dim != ST_DIM_VOLUME)
            return false;
        *ml = (struct st_range){ 0.5 * (us.value + uk.value), us.value, uk.value, true, 'u', "" };
    } else {
        if (a.dim != ST_DIM_VOLUME || a.open != ST_CLOSED)
            return false;
        *ml = (struct st_range){ a.value, a.low, a.high, true, 'u', "" };
    }
    s->at += used - (digit ? 0 : 2);
    return ml->low >= 90.0 && ml->high <= 1e4;
}

/* Stands the drink above, with how much there is of it?  Else the words are what tells it: "to a litre of brandy add
 * ..."
 */
static bool stands_above(const struct st_taking *t, const struct st_ingredient *what)
{
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].item->line.what == what && t->row[i].item->line.amount.dim == ST_DIM_VOLUME)
            return true;
    return false;
}

/* What it is a volume of; false: of something that is no liquor ("to each litre of water"). */
static bool of_liquid(const struct st_taking *t, const char *text, struct st_scan *s, const struct st_ingredient **what)
{
    size_t end;
    *what = NULL;
    if (!st_scan_word(s, "of"))
        return true;
    while (st_scan_word(s, "the|your|this|that|strained|clear|cleared|resulting|finished|filtered|fruit|all"))
        ;
    st_scan_blanks(s);
    if (st_scan_word(s, LIQUID))
        return true;
    *what = st_take_name_at(t->catalogue, text, (size_t)(s->at - text), &end);
    if (!*what || !stands_above(t, *what))
        return false;
    s->at = text + end;
    return true;
}

static bool ends(const struct st_scan *s)
{
    return s->at >= s->end || strchr(",;.:)", *s->at) != NULL;
}

/* The words that begin at byte i. */
static bool per_at(const struct st_taking *t, const char *text, size_t i, struct st_take_per *per, size_t *end)
{
    struct st_scan s = { text + i, text + strlen(text) };
    const bool firm = st_scan_word(&s, "for every|for each|to every|to each|per|in each|with each|with every");
    if (!firm && !st_scan_word(&s, "to the|for the|to a|to one|for one"))
        return false;
    if (!volume_at(t, &s, &per->ml))
        return false;
    const char *behind = s.at;
    if (!of_liquid(t, text, &s, &per->what))
        return false;
    const bool of = s.at > behind;
    const bool got = st_scan_word(&s, GOT);
    st_scan_blanks(&s);
    if (!of && !got && !ends(&s) && !(firm && st_deed_begins(s.at, (size_t)(s.end - s.at))))
        return false; /* "to a litre jar" */
    *end = (size_t)(s.at - text);
    return true;
}

const char *st_take_per_said(struct st_taking *t, const char *sentence, struct st_take_per *per, size_t *at)
{
    size_t end = 0;
    *per = (struct st_take_per){ 0 };
    *at = 0;
    if (!st_take_has_word(sentence, "per|every|each|litre|liter|pint|quart|l"))
        return sentence;
    for (size_t i = 0; sentence[i]; i++) {
        if (sentence[i] == ' ' || !st_word_begins(sentence, i) || !per_at(t, sentence, i, per, &end))
            continue;
        char *said = st_arena_strdup(t->arena, sentence);
        if (said[end] == ',' || said[end] == ':')
            end += strspn(sentence, " ") >= i; /* in front of all: its comma goes too */
        memset(said + i, ' ', end - i);
        char *allow = strstr(said, "llow ");
        if (allow && allow > said && (allow[-1] == 'A' || allow[-1] == 'a')) /* "allow 1 lb to each pint" */
            memcpy(allow - 1, "add  ", 5);
        *at = i;
        return said;
    }
    *per = (struct st_take_per){ 0 };
    return sentence;
}

/* Does what is told at a byte stand before the words, in the same breath? */
static bool is_before(const char *sentence, size_t at, size_t where)
{
    for (size_t i = where; i < at; i++)
        if (strchr(";.", sentence[i]) && !(i > 0 && st_is_digit((unsigned char)sentence[i - 1])))
            return false;
    return where < at;
}

bool st_take_per_is_of(const char *sentence, size_t at, const struct st_take_item item[], int n, int i)
{
    bool before = false;
    for (int k = 0; k < n; k++)
        before = before || (item[k].role == ST_TAKE_INGREDIENT && is_before(sentence, at, item[k].at));
    const struct st_amount *a = &item[i].line.amount;
    if (item[i].role != ST_TAKE_INGREDIENT || a->open != ST_CLOSED || a->make_up_to ||
        (a->dim != ST_DIM_MASS && a->dim != ST_DIM_VOLUME && a->dim != ST_DIM_PIECE))
        return false;
    return before ? is_before(sentence, at, item[i].at) : item[i].at >= at;
}

/* ---- what the jar gives ---- */

static const struct st_take_per *per_of(const struct st_taking *t, const struct st_use *u)
{
    const struct st_take_per *per = u->of == ST_USE_ENTRY ? &t->row[t->entry[u->which].row].per : NULL;
    return per && per->ml.known ? per : NULL;
}

static bool has_per(const struct st_taking *t, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++)
        if (per_of(t, &s->use[i]))
            return true;
    return false;
}

/* Does a syrup that is so measured come in here? */
static bool takes_per(const struct st_taking *t, const struct st_stage *s)
{
    if (s->kind != ST_DO_SYRUP && has_per(t, s))
        return true;
    for (int i = 0; i < s->n_use; i++)
        if (s->use[i].of == ST_USE_LIQUOR && t->stage[s->use[i].which].kind == ST_DO_SYRUP &&
            has_per(t, &t->stage[s->use[i].which]))
            return true;
    return false;
}

/* The stage as it is before: without what is measured so, and where liquor is in it already, without all that joins. */
static void strip(const struct st_taking *t, struct st_stage *s, bool last)
{
    bool liquor = false;
    int n = 0;
    for (int i = 0; i < s->n_use; i++)
        liquor = liquor || (s->use[i].of == ST_USE_LIQUOR && t->stage[s->use[i].which].kind != ST_DO_SYRUP);
    for (int i = 0; i < s->n_use; i++) {
        const struct st_use u = s->use[i];
        const bool syrup = u.of == ST_USE_LIQUOR && t->stage[u.which].kind == ST_DO_SYRUP;
        if (per_of(t, &u) || (syrup && (has_per(t, &t->stage[u.which]) || (last && liquor))) ||
            (last && liquor && u.of == ST_USE_ENTRY))
            continue;
        s->use[n++] = u;
    }
    s->n_use = n;
}

/* The recipe up to there; false: nothing is left of it. */
static bool cut_short(const struct st_taking *t, struct st_taking *u)
{
    *u = *t;
    u->n_order = 0;
    for (int i = 0; i < t->n_order; i++) {
        const int k = t->order[i];
        const bool last = takes_per(t, &t->stage[k]);
        strip(t, &u->stage[k], last);
        if (u->stage[k].n_use > 0 && t->stage[k].kind != ST_DO_BOTTLE)
            u->order[u->n_order++] = k;
        if (last)
            break;
    }
    return u->n_order > 0;
}

bool st_take_volume_of(const struct st_recipe *r, struct st_range *ml)
{
    const struct st_options some = { .seed = 1, .draws = 400 }; /* enough for a range of two figures */
    struct st_problem p;
    struct st_foretold *f = malloc(sizeof *f);
    struct st_plan *plan = f ? st_plan_create(r, &p) : NULL;
    bool known = false;

    if (plan) {
        known = st_plan_run(plan, &some, f) >= 0;
        const struct st_interval *v = &f->fig[ST_FIG_VOLUME];
        known = known && v->known && v->value > 1.0 && isfinite(v->low) && isfinite(v->high);
        if (known)
            *ml = (struct st_range){ v->value, fmax(v->low, 1.0), v->high, true, 'u', "" };
        st_foretold_done(f);
        st_plan_free(plan);
    }
    free(f);
    return known;
}

static bool jar_gives(struct st_taking *t, struct st_range *ml)
{
    struct st_taking *u = malloc(sizeof *u);
    struct st_buf yaml = { 0 };
    struct st_recipe_file file;
    bool known = false;

    if (u && cut_short(t, u)) {
        st_take_write(u, &yaml);
        if (st_recipe_read("the recipe", st_buf_text(&yaml), yaml.length, t->catalogue, &file) == 0)
            known = st_take_volume_of(&file.recipe, ml);
        st_recipe_done(&file);
    }
    st_buf_done(&yaml);
    free(u);
    return known;
}

/* The drink that is named: as much as the list tells of it. */
static bool listed(const struct st_taking *t, const struct st_ingredient *what, struct st_range *ml)
{
    for (int e = 0; e < t->n_entry; e++) {
        const struct st_amount *a = &t->entry[e].item->line.amount;
        if (t->entry[e].what != what || a->dim != ST_DIM_VOLUME || a->open != ST_CLOSED)
            continue;
        *ml = (struct st_range){ a->value, a->low, a->high, true, 'u', "" };
        return true;
    }
    return false;
}

/* ---- the line ---- */

struct multiplied {
    struct st_amount one; /* for so much of the liquor */
    const char *name, *unit;
    double low, value, high;
    struct st_range ml;
    bool guessed; /* how much the jar gives is not known */
};

static bool multiply(struct st_taking *t, const char *as, const struct st_take_per *per, const struct st_range *ml,
                     struct multiplied *m)
{
    struct st_problem p;
    size_t used = 0;

    if (st_quantity_parse(as, strlen(as), t->measures, &m->one, &used, &p) != 0 || m->one.open != ST_CLOSED)
        return false;
    while (as[used] == ' ')
        used++;
    m->name = as + used;
    m->unit = m->one.dim == ST_DIM_MASS ? "g" : m->one.dim == ST_DIM_VOLUME ? "mL" : "";
    m->ml = *ml;
    m->low = m->one.low * ml->low / per->ml.high;
    m->value = m->one.value * ml->value / per->ml.value;
    m->high = m->one.high * ml->high / per->ml.low;
    return true;
}

static const char *in_words(struct st_taking *t, double x, const char *unit)
{
    return st_arena_printf(t->arena, x < 9.95 ? "%.1f %s" : x < 1000 ? "%.0f %s" : "%.4g %s", x, unit);
}

static const char *as_range(struct st_taking *t, const struct multiplied *m)
{
    if (!(m->low < m->high)) /* the list tells how much there is */
        return st_arena_printf(t->arena, "%.6g %s%s%s", m->value, m->unit, *m->unit ? " " : "", m->name);
    return st_arena_printf(t->arena, m->high < 10 ? "%.1f-%.1f %s%s%s" : "%.0f-%.0f %s%s%s", m->low, m->high, m->unit,
                           *m->unit ? " " : "", m->name);
}

static bool set_line(struct st_taking *t, struct st_take_item *item, const char *as)
{
    struct st_line line;
    struct st_problem p;
    if (strlen(as) >= sizeof item->as || st_line_parse(as, t->measures, t->catalogue, &line, &p) != 0)
        return false;
    (void)snprintf(item->as, sizeof item->as, "%s", as);
    item->line = line;
    item->line.text = item->as;
    return true;
}

static void each_words(const struct st_take_per *per, char *out, size_t size)
{
    if (per->ml.value > 999 && per->ml.value < 1001)
        (void)snprintf(out, size, "litre");
    else
        (void)snprintf(out, size, "%.4g mL", per->ml.value);
}

static void because(struct st_take_item *item, const struct multiplied *m, const struct st_take_per *per)
{
    char each[24];
    each_words(per, each, sizeof each);
    item->sure = m->low < m->high ? ST_GUESS : ST_LIKELY;
    if (!(m->low < m->high))
        (void)snprintf(item->because, sizeof item->because, "%.4g %s to each %s of %.20s, %.4g mL of it", m->one.value,
                       m->unit, each, per->what ? per->what->name : "liquid", m->ml.value);
    else if (m->guessed)
        (void)snprintf(item->because, sizeof item->because,
                       "%.4g %s to each %s; how much liquid there is could not be reckoned", m->one.value, m->unit,
                       each);
    else
        (void)snprintf(item->because, sizeof item->because, "%.4g %s to each %s of %.20s, %.2g to %.2g L of it",
                       m->one.value, m->unit, each, per->what ? per->what->name : "liquid", m->ml.low / 1000,
                       m->ml.high / 1000);
}

/* Three amounts to choose from, or the maker's own. */
static void ask(struct st_taking *t, struct st_taken *row, const struct multiplied *m)
{
    struct st_take_item *item = row->item;
    struct st_take_ask *q = &item->ask[0];
    const double x[3] = { m->low, m->value, m->high };

    *q = (struct st_take_ask){ .kind = ST_ASK_AMOUNT, .n_option = 3 };
    char each[24];
    each_words(&row->per, each, sizeof each);
    (void)snprintf(q->ask, sizeof q->ask, "How much %.30s goes in, at %.4g %s to each %s of %.18s?", m->name,
                   m->one.value, m->unit, each, row->per.what ? row->per.what->name : "liquid");
    for (int i = 0; i < 3; i++) {
        const char *words = in_words(t, x[i], m->unit);
        (void)snprintf(q->option[i].label, sizeof q->option[i].label, "%s", words);
        (void)snprintf(q->option[i].as, sizeof q->option[i].as, "%s %.180s", words, m->name);
    }
    (void)snprintf(q->with, sizeof q->with, "%%s %.180s", m->name);
    item->n_ask = 1;
    const char *value = st_take_answer_to(t->given, row->id[ST_ASK_AMOUNT]);
    const struct st_take_ask put = *q;
    struct st_take_per per;
    size_t at;
    if (!value)
        return;
    if (row->answered[ST_ASK_AMOUNT] || st_take_per_said(t, value, &per, &at) != value) { /* "250 g per litre" */
        row->answered[ST_ASK_AMOUNT] = value;
        if (!row->asked[ST_ASK_AMOUNT]) {
            row->asked[ST_ASK_AMOUNT] = st_arena_alloc(t->arena, sizeof put);
            *row->asked[ST_ASK_AMOUNT] = put;
        }
        item->n_ask = 0;
        return;
    }
    const int k = st_take_option(&put, value);
    const char *as = k >= 0 ? put.option[k].as : st_arena_printf(t->arena, "%.60s %s", value, m->name);
    if (!set_line(t, item, as)) {
        st_take_refuse(q, value);
        return;
    }
    row->asked[ST_ASK_AMOUNT] = st_arena_alloc(t->arena, sizeof put);
    *row->asked[ST_ASK_AMOUNT] = put;
    row->answered[ST_ASK_AMOUNT] = value;
    item->n_ask = 0;
    item->sure = ST_LIKELY;
    (void)snprintf(item->because, sizeof item->because, "as you answered");
}

/* The question has its name before it is put; the amount in an answer that goes by the litre, too, is the one to use.
 */
static const char *name_question(struct st_taking *t, struct st_taken *row)
{
    struct st_take_per per;
    size_t at, used;
    struct st_amount a;
    struct st_problem p;
    int nth = 1;

    for (const struct st_taken *r = t->row; r < row; r++)
        nth += r->line == row->line && r->put[ST_ASK_AMOUNT];
    if (!row->put[ST_ASK_AMOUNT])
        row->id[ST_ASK_AMOUNT] = st_take_id(t->arena, row->line, ST_ASK_AMOUNT, nth);
    row->put[ST_ASK_AMOUNT] = true;
    const char *value = st_take_answer_to(t->given, row->id[ST_ASK_AMOUNT]), *as = row->item->as;
    const char *plain = value && strlen(value) < 60 ? st_take_per_said(t, value, &per, &at) : value;
    if (plain == value || row->answered[ST_ASK_AMOUNT] ||
        st_quantity_parse(as, strlen(as), t->measures, &a, &used, &p) != 0)
        return st_arena_strdup(t->arena, as);
    row->per = per;
    return st_arena_printf(t->arena, "%.*s %s", (int)strcspn(plain, "\n"), plain, as + used);
}

bool st_take_per_multiply(struct st_taking *t)
{
    struct st_range jar = { 0 };
    bool tried = false, changed = false;

    for (int e = 0; e < t->n_entry; e++) {
        struct st_taken *row = &t->row[t->entry[e].row];
        struct st_range ml = { 0 };
        struct multiplied m = { .guessed = false };
        if (row->item != t->entry[e].item || row->item->sure == ST_UNREAD || !row->per.ml.known)
            continue;
        const char *as = name_question(t, row);
        if (row->per.what && !listed(t, row->per.what, &ml))
            row->per.what = NULL;
        if (!ml.known && !tried)
            (void)jar_gives(t, &jar);
        tried = tried || !ml.known;
        ml = ml.known ? ml : jar;
        m.guessed = !ml.known;
        if (m.guessed) /* half a litre to two: told, and asked */
            ml = (struct st_range){ 1000, 500, 2000, true, 'p', "" };
        if (!multiply(t, as, &row->per, &ml, &m) || !set_line(t, row->item, as_range(t, &m)))
            continue;
        changed = true;
        because(row->item, &m, &row->per);
        if (m.low < m.high)
            ask(t, row, &m);
    }
    return changed;
}
