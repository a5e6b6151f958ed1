#include <math.h>
#include <stdio.h>
#include <string.h>

#include "quantity.h"
#include "scan.h"
#include "take_whole.h"

/* Amounts that go by the size of the jar: "two thirds full of sloes, topped up with gin". */

/* Sizes that are offered, mL; a jar of the second is taken until one is told.  Common practice, no source. */
static const double SIZE_ML[] = { 1000, 1500, 2000, 3000 };
static const char *const LABEL[] = { "1 L", "1.5 L", "2 L", "3 L" };
enum { SIZES = 4, USUAL = 1 };

static bool goes_by_vessel(const struct st_amount *a)
{
    return a->dim == ST_DIM_OPEN && (a->open == ST_OPEN_TOP_UP || (a->open == ST_OPEN_FILL && !(a->value > 0)));
}

/* Whole fruit lies in a jar with a third or more of air between; grams in a mL, common practice, no source. */
static const double LOOSE_LOW = 0.5, LOOSE_HIGH = 0.68;

static bool is_fruit(enum st_kind k)
{
    return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_GREEN_FRUIT;
}

const char *st_take_fill_line(struct st_taking *t, const struct st_entry *e, double ml)
{
    const struct st_range g = st_ingredient_g_per_ml(e->what, 240);
    const double low = g.known ? g.low : LOOSE_LOW, high = g.known ? g.high : LOOSE_HIGH;
    if (!g.known && !is_fruit(e->what->kind))
        return NULL;
    return st_arena_printf(t->arena, "%.0f to %.0f g %s", floor(e->fill * ml * low * 0.095) * 10,
                           ceil(e->fill * ml * high * 0.105) * 10, e->what->name);
}

/* How much of a solid fills a jar cannot be reckoned with by its volume: it is weighed instead, roughly. */
static void weigh_fill(struct st_taking *t, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++) {
        struct st_entry *e = s->use[i].of == ST_USE_ENTRY ? &t->entry[s->use[i].which] : NULL;
        if (!e || !st_kind_is_solid(e->what->kind) || e->item->line.amount.dim != ST_DIM_OPEN ||
            (e->item->line.amount.open != ST_OPEN_FILL && e->item->line.amount.open != ST_OPEN_TOP_UP))
            continue;
        const struct st_amount a = e->item->line.amount;
        struct st_line line;
        struct st_problem p;
        e->fill = a.open == ST_OPEN_FILL && a.fill_share > 0 ? a.fill_share : 0.95;
        const double ml = a.value > 0 && a.open == ST_OPEN_FILL ? a.value : s->vessel_ml;
        const char *as = st_take_fill_line(t, e, ml);
        if (!as || !(ml > 0) || st_line_parse(as, t->measures, t->catalogue, &line, &p) != 0) {
            e->fill = 0;
            continue;
        }
        (void)snprintf(e->item->as, sizeof e->item->as, "%s", as);
        e->item->line = line;
        e->item->line.text = e->item->as;
        e->item->sure = ST_GUESS;
        (void)snprintf(e->item->because, sizeof e->item->because, "%.0f %% of a jar of %.3g L, lying loose: weigh it",
                       100 * e->fill, ml / 1000);
        st_take_ask_amount(t, e, (const double[3]){ line.amount.low, line.amount.value, line.amount.high });
    }
}

/* The size that a line of the step tells itself: "fill a 2 L jar". */
static double size_in_lines(const struct st_taking *t, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++) {
        const struct st_amount *a = s->use[i].of == ST_USE_ENTRY ? &t->entry[s->use[i].which].item->line.amount : NULL;
        if (a && a->dim == ST_DIM_OPEN && a->open == ST_OPEN_FILL && a->value > 0)
            return a->value;
    }
    return 0;
}

static bool waits_for_vessel(const struct st_taking *t, const struct st_stage *s)
{
    bool waits = false;
    for (int i = 0; i < s->n_use; i++) {
        const struct st_amount *a = s->use[i].of == ST_USE_ENTRY ? &t->entry[s->use[i].which].item->line.amount : NULL;
        if (a && a->open == ST_OPEN_FILL && a->value > 0)
            return false; /* its own line tells */
        waits = waits || (a && goes_by_vessel(a));
    }
    return waits && !(s->vessel_ml > 0);
}

static const char VESSEL[] = "jar|jars|demijohn|crock|carboy|vessel|preserving jar|keg";

/* "the jar is a 1 litre one", "jar: 2 l", "the jar holds about 1.5 litres": the vessel stands before its size, with
 * nothing but such words between. */
static bool speaks_of_vessel(const char *text, const char *size)
{
    const char *from = size;
    while (from > text && from[-1] != '\n' && from[-1] != '.' && size - from < 48)
        from--;
    for (const char *p = from; p < size; p++) {
        struct st_scan s = { p, size };
        if ((p > from && st_take_is_word_byte(p[-1])) || !st_take_is_word_byte(*p) || !st_scan_word(&s, VESSEL))
            continue;
        while (st_scan_word(&s, "is|was|has|holds|held|takes|of|a|an|about|the|only|size|room for|capacity|around") ||
               st_scan_sign(&s, "(") || st_scan_sign(&s, ":") || st_scan_sign(&s, ",") || st_scan_sign(&s, "~") ||
               st_scan_blanks(&s))
            ;
        if (s.at >= size)
            return true;
    }
    return false;
}

/* "the 3 litre jar", anywhere in the text; 0 when none is told. */
static double vessel_told(const struct st_taking *t)
{
    struct st_problem p;
    struct st_amount a;
    size_t used;
    for (const char *s = t->text; *s; s++) {
        if ((s > t->text && s[-1] != ' ' && s[-1] != '\n') || *s == ' ' || *s == '\n')
            continue;
        if (st_quantity_parse(s, strlen(s) < 60 ? strlen(s) : 60, t->measures, &a, &used, &p) != 0 ||
            a.dim != ST_DIM_VOLUME || a.value < 100)
            continue;
        char after[24];
        (void)snprintf(after, sizeof after, "%.20s", s + used);
        after[strcspn(after, ".,;\n")] = '\0';
        if (st_take_has_word(after, VESSEL) || speaks_of_vessel(t->text, s))
            return a.value;
    }
    return 0;
}

static double vessel_answered(const struct st_taking *t)
{
    const char *answer = st_take_answer_to(t->given, "jar.size");
    struct st_problem p;
    struct st_amount a;
    size_t used;
    return answer && st_quantity_parse(answer, strlen(answer), t->measures, &a, &used, &p) == 0 &&
                   a.dim == ST_DIM_VOLUME && a.value > 50 && a.value < 1e5
               ? a.value
               : 0;
}

/* What fills up comes last: the rest is in the jar then. */
static void fill_last(struct st_taking *t, struct st_stage *s)
{
    struct st_use late[ST_TAKE_USES] = { { .which = 0 } };
    int n = 0, k = 0;
    for (int i = 0; i < s->n_use; i++) {
        const struct st_amount *a = s->use[i].of == ST_USE_ENTRY ? &t->entry[s->use[i].which].item->line.amount : NULL;
        if (a && a->dim == ST_DIM_OPEN && (a->open == ST_OPEN_TOP_UP || a->open == ST_OPEN_COVER))
            late[k++] = s->use[i];
        else
            s->use[n++] = s->use[i];
    }
    memcpy(s->use + n, late, (size_t)k * sizeof *late);
}

/* The jar is one for the whole step: its lines ask no more. */
static void ask_no_more(struct st_taking *t, const struct st_stage *s)
{
    for (int i = 0; i < s->n_use; i++) {
        struct st_take_item *item = s->use[i].of == ST_USE_ENTRY ? t->entry[s->use[i].which].item : NULL;
        int n = 0;
        if (!item || !goes_by_vessel(&item->line.amount))
            continue;
        for (int k = 0; k < item->n_ask; k++)
            if (item->ask[k].kind != ST_ASK_SIZE)
                item->ask[n++] = item->ask[k];
        item->n_ask = n;
    }
}

void st_take_vessels(struct st_taking *t)
{
    for (int i = 0; i < t->n_order; i++) {
        struct st_stage *s = &t->stage[t->order[i]];
        fill_last(t, s);
        if (!(s->vessel_ml > 0))
            s->vessel_ml = size_in_lines(t, s);
        if (!waits_for_vessel(t, s)) {
            weigh_fill(t, s);
            continue;
        }
        const double told = vessel_told(t), answered = vessel_answered(t);
        s->vessel_ml = answered > 0 ? answered : told > 0 ? told : SIZE_ML[USUAL];
        t->vessel_stage = t->order[i];
        ask_no_more(t, s);
        t->vessel_assumed = !(answered > 0) && !(told > 0);
        if (t->vessel_assumed)
            st_take_say(t, "How large the jar is, is not said: %s is taken.", LABEL[USUAL]);
        weigh_fill(t, s);
    }
}

int st_take_vessel_ask(const struct st_taking *t, struct st_take_ask *ask)
{
    if (t->vessel_stage < 0 || (!t->vessel_assumed && !(vessel_answered(t) > 0)))
        return 0;
    *ask = (struct st_take_ask){ .kind = ST_ASK_SIZE, .ask = "How large is the jar?", .n_option = SIZES };
    for (int i = 0; i < SIZES; i++)
        (void)snprintf(ask->option[i].label, sizeof ask->option[i].label, "%s", LABEL[i]);
    (void)snprintf(ask->with, sizeof ask->with, "%%s");
    return SIZES;
}

double st_take_vessel_option(int i)
{
    return i >= 0 && i < SIZES ? SIZE_ML[i] : 0;
}
