#include "jar.h"

#include <math.h>
#include <string.h>

#include "core/strength.h"
#include "model/range.h"

/* ---- making by hand ---- */

static const struct st_range ROOM = { 293.15, 289.15, 297.15, true, 'm', "from memory" };
static const struct st_range PRESSED = { 0.4, 0.3, 0.5, true, 'm', "from memory" };

static struct st_jar_stage stage_of(double time_s)
{
    return (struct st_jar_stage){ .id = "",
                                  .step = -1,
                                  .time_s = time_s,
                                  .time_low = time_s,
                                  .time_high = time_s,
                                  .time_said = true,
                                  .temperature_K = ROOM,
                                  .steeps = true,
                                  .strain = true,
                                  .press_share = PRESSED,
                                  .keeps = 1.0 };
}

void st_jar_begin(struct st_jar *j, const struct st_jar_books *books, double time_s)
{
    memset(j, 0, sizeof *j);
    j->habits = books->habits;
    j->compounds = books->compounds;
    j->stage[0] = stage_of(time_s);
    j->n_stage = 1;
}

static void follow_markers(const struct st_jar *j, struct st_jar_piece *p)
{
    for (int i = 0; i < p->what->n_marker; i++) {
        const struct st_compound *c = st_compound_find(j->compounds, p->what->marker[i].marker);
        if (c && c->flavour)
            p->marker[p->n_marker++] = (struct st_jar_marker){ c, p->what->marker[i].mg_g };
    }
}

struct st_jar_piece *st_jar_add(struct st_jar *j, const struct st_ingredient *what, double g, int stage)
{
    struct st_range part[ST_NCOMP];
    const char *why;
    if (j->n_piece == ST_JAR_PIECES || stage < 0 || stage >= j->n_stage || !(g >= 0.0) ||
        st_ingredient_parts(what, part, &why) < 0)
        return NULL;
    struct st_jar_piece *p = &j->piece[j->n_piece++];
    *p = (struct st_jar_piece){ .name = what->name,
                                .what = what,
                                .kind = what->kind,
                                .factor = 1.0,
                                .step = -1,
                                .line = -1,
                                .retention = st_ingredient_retention(what) };
    for (int c = 0; c < ST_NCOMP; c++) {
        p->goods.g[c] = g * part[c].value;
        p->goods.column[c] = -1;
    }
    for (int s = stage; s < j->n_stage; s++)
        p->lies[s] = 1.0;
    follow_markers(j, p);
    return p;
}

struct st_jar_pour *st_jar_pour_spirit(struct st_jar *j, double ml, double pct_vol, int stage)
{
    double rho, ethanol;
    if (j->n_pour == ST_JAR_POURS || stage < 0 || stage >= j->n_stage || !(ml >= 0.0) ||
        st_spirit_density(pct_vol, &rho) < 0 || st_p_from_strength(pct_vol, &ethanol) < 0)
        return NULL;
    struct st_jar_pour *p = &j->pour[j->n_pour++];
    *p = (struct st_jar_pour){
        .name = "spirit", .factor = 1.0, .strength_pct_vol = (double)NAN, .stage = stage, .step = -1, .line = -1
    };
    p->goods.g[ST_ETHANOL] = ml * 1e-3 * rho * ethanol;
    p->goods.g[ST_WATER] = ml * 1e-3 * rho * (1.0 - ethanol);
    for (int c = 0; c < ST_NCOMP; c++)
        p->goods.column[c] = -1;
    return p;
}

/* ---- changing ---- */

static void make_room_for_stage(struct st_jar *j, int at)
{
    memmove(&j->stage[at + 1], &j->stage[at], (size_t)(j->n_stage - at) * sizeof *j->stage);
    j->n_stage++;
    for (int i = 0; i < j->n_pour; i++)
        j->pour[i].stage += j->pour[i].stage >= at;
    for (int i = 0; i < j->n_piece; i++)
        memmove(&j->piece[i].lies[at + 1], &j->piece[i].lies[at], (size_t)(ST_JAR_STAGES - at - 1) * sizeof(double));
    for (int s = 0; s < j->n_stage; s++)
        for (int k = 0; k < j->stage[s].n_take; k++)
            j->stage[s].take[k].from += j->stage[s].take[k].from >= at;
}

static void part_path(struct st_jar_stage *later, double t_s)
{
    for (int i = 0; i < later->n_heat; i++)
        later->heat[i].t_s -= t_s; /* times before it stay, below 0 */
}

bool st_jar_split(struct st_jar *j, int stage, double t_s)
{
    if (stage < 0 || stage >= j->n_stage || j->n_stage == ST_JAR_STAGES || !(t_s > 0.0 && t_s < j->stage[stage].time_s))
        return false;
    /* what took from the stage takes from its later part; what was poured stays in the earlier one */
    make_room_for_stage(j, stage + 1);
    struct st_jar_stage *early = &j->stage[stage], *later = early + 1;
    for (int s = stage + 2; s < j->n_stage; s++)
        for (int k = 0; k < j->stage[s].n_take; k++)
            j->stage[s].take[k].from += j->stage[s].take[k].from == stage;
    *later = *early;
    part_path(later, t_s);
    later->time_s -= t_s;
    later->time_low = fmax(later->time_low - t_s, 0.0);
    later->time_high = fmax(later->time_high - t_s, 0.0);
    later->n_take = 1;
    later->take[0] = (struct st_jar_take){ stage, 1.0, -1 };
    early->time_s = early->time_low = early->time_high = t_s;
    early->strain = early->press = false;
    early->keeps = 1.0;
    early->drained_solids_g.known = false;
    for (int i = 0; i < j->n_piece; i++) /* all that lies in the earlier part: a share is taken once */
        j->piece[i].lies[stage + 1] = j->piece[i].lies[stage] > 0.0 ? 1.0 : 0.0;
    return true;
}

static void add_heat(struct st_jar_stage *g, double t_s, double T_K)
{
    g->heat[g->n_heat++] = (struct st_jar_heat){ t_s, T_K };
}

void st_jar_warm(struct st_jar_stage *g, const struct st_warm_part part[], int n, double from_s)
{
    double t_s = -from_s, low, high;
    if (n < 1)
        return;
    low = high = part[0].T_K;
    g->n_heat = 0;
    for (int i = 0; i + 1 < n; i++) { /* at once from one to the next */
        t_s += part[i].time_s;
        add_heat(g, t_s, part[i].T_K);
        add_heat(g, t_s, part[i + 1].T_K);
        low = fmin(low, part[i + 1].T_K);
        high = fmax(high, part[i + 1].T_K);
    }
    if (n == 1) {
        low -= 1.0;
        high += 1.0;
    }
    g->temperature_K = (struct st_range){ n == 1 ? part[0].T_K : high, low, high, true, 'u', "as told" };
    g->temperature_said = true;
}

int st_jar_filled_at(const struct st_jar *j, int stage)
{
    int first = stage;
    for (int s = stage - 1; s >= 0 && j->stage[s].step == j->stage[stage].step; s--)
        first = s;
    return first;
}

bool st_jar_pour_is_spirit(const struct st_jar_pour *p)
{
    for (int c = 0; c < ST_NCOMP; c++)
        if (c != ST_WATER && c != ST_ETHANOL && (p->goods.g[c] > 0.0 || p->goods.column[c] >= 0))
            return false;
    return p->goods.g[ST_ETHANOL] > 0.0;
}

bool st_jar_may_be_frozen(const struct st_jar_piece *p)
{
    return p->kind == ST_KIND_FRESH_FRUIT || p->kind == ST_KIND_FROZEN_FRUIT;
}

/* ---- habits ---- */

/* Radius of a round fruit that weighs so much, at 1.05 g/mL, m. */
static double radius_of(double g)
{
    return cbrt(3.0 * g / (4.0 * 3.141592653589793 * 1.05)) * 1e-2;
}

static bool is_round_fruit(enum st_kind k)
{
    return k == ST_KIND_FRESH_FRUIT || k == ST_KIND_FROZEN_FRUIT || k == ST_KIND_GREEN_FRUIT;
}

/* Whole fruit is as large as one of it weighs, and rows of its cuts are meant beside the whole of their kind.
 *
 * Halves and quarters of a ball of radius R: a sphere of the same volume over surface.  Half, (2/3) pi R^3 over 3 pi R^2,
 * a = 3 V/S = 2/3 R; quarter, (1/3) pi R^3 over 2 pi R^2, a = R/2.  The exact time to 90 % of a bare half and quarter is
 * that of a sphere of 0.68 and 0.52 R (docs/checks.md), inside the doubt of any size.  Slices and smaller are as large as
 * the knife makes them, whatever the fruit, but a small fruit gives no larger ones. */
static void size_by_weight(const struct st_jar_piece *p, const struct st_habit *whole, struct st_habit *h)
{
    if (!p->what || !p->what->piece.known || !is_round_fruit(p->kind) || whole->body != ST_BODY_SPHERE)
        return;
    const struct st_range g = p->what->piece;
    const double scale = radius_of(g.value) / whole->a_m.value;
    if (p->cut > ST_CUT_QUARTERED) {
        h->a_m.value *= fmin(scale, 1.0);
        return;
    }
    h->a_m.value *= scale;
    h->a_m.times = g.low > 0.0 && g.high > g.low ? fmax(pow(g.high / g.low, 1.0 / (6.0 * ST_Z975)), 1.02) : 1.02;
}

enum st_status st_jar_habit(const struct st_jar *j, int piece, enum st_of of, struct st_habit *out)
{
    if (piece < 0 || piece >= j->n_piece)
        return ST_E_DOMAIN;
    const struct st_jar_piece *p = &j->piece[piece];
    /* what was turned into another kind has that kind's habits, not those of its own name */
    const char *slug = p->what && p->kind == p->what->kind ? p->what->slug : NULL;
    struct st_habit whole;
    enum st_status s = st_habit_find(j->habits, slug, p->kind, p->cut, of, out);
    if (s >= 0)
        s = st_status_worse(s, st_habit_find(j->habits, slug, p->kind, ST_CUT_WHOLE, of, &whole));
    if (s < 0)
        return s;
    size_by_weight(p, &whole, out);
    if (p->size_mm > 0.0)
        out->a_m = (struct st_spread){ p->size_mm * 1e-3, 1.0 };
    return s;
}
