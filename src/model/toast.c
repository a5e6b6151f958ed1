#include "model/toast.h"

#include <math.h>
#include <string.h>

#include "core/steep_constants.h"
#include "model/quantile.h"
#include "model/range.h"

static const double ROOM_K = 293.15;
static const double WET = 0.2; /* share of water; from memory: nuts, seeds and dry spices are below 0.13 */
enum { STEPS = 200 };          /* of a recipe: yaml_step.c takes no more */

/* ---- tables ---- */

const char *st_toast_way_name(enum st_toast_way w)
{
    static const char *const NAME[ST_NTOAST] = { "", "oven", "fan oven", "pan" };
    return NAME[w];
}

struct st_range st_toast_heat(enum st_toast_way w)
{
    static const double H[ST_NTOAST][3] = {
        [ST_TOAST_UNSAID] = { 25.0, 10.0, 150.0 },
        [ST_TOAST_OVEN] = { 16.0, 10.0, 25.0 },
        [ST_TOAST_FAN] = { 26.0, 15.0, 45.0 },
        [ST_TOAST_PAN] = { 55.0, 20.0, 150.0 },
    };
    return (struct st_range){ H[w][0], H[w][1], H[w][2], true, 'm', "from memory" };
}

static const struct st_range DENSITY = { 1000.0, 900.0, 1100.0, true, 'm', "from memory" };
static const struct st_range HEAT_CAPACITY = { 2000.0, 1700.0, 2900.0, true, 'm', "from memory" };

/* ---- which steps ---- */

static void mark(const struct st_recipe *r, int step, bool seen[STEPS])
{
    if (step < 0 || step >= r->n_step || step >= STEPS || seen[step])
        return;
    seen[step] = true;
    for (int i = 0; i < r->step[step].n_line; i++)
        if (!r->step[step].line[i].what && r->step[step].line[i].from_step < step)
            mark(r, r->step[step].line[i].from_step, seen);
}

int st_toasts_for(const struct st_recipe *r, int step, int toast[], int max)
{
    bool seen[STEPS] = { false };
    int n = 0;
    mark(r, step, seen);
    for (int s = 0; s < STEPS && s < r->n_step && n < max; s++)
        if (seen[s] && r->step[s].kind == ST_DO_TOAST)
            toast[n++] = s;
    return n;
}

/* ---- one piece ---- */

static bool has_time(const struct st_step *s)
{
    return s->time.dim == ST_DIM_TIME && s->time.value > 0.0;
}

static bool is_wet(const struct st_ingredient *in)
{
    struct st_range part[ST_NCOMP];
    const char *why = NULL;
    return st_ingredient_parts(in, part, &why) >= 0 && part[ST_WATER].value > WET;
}

static void look_for_poison(struct st_toast_piece *p)
{
    for (int i = 0; i < p->what->n_caution; i++)
        if (strcmp(p->what->caution[i].what, "cyanogenic") == 0) {
            p->cyanogenic = true;
            p->amygdalin = p->what->kind == ST_KIND_KERNEL || p->what->kind == ST_KIND_NUT ||
                           strstr(p->what->caution[i].text, "amygdalin") != NULL;
        }
    for (int i = 0; i < p->what->n_marker; i++)
        if (strcmp(p->what->marker[i].marker, "amygdalin") == 0)
            p->cyanogenic = p->amygdalin = true;
}

static enum st_toast_why why_not(const struct st_jar_books *books, const struct st_step *s, struct st_toast_piece *p)
{
    struct st_habit h;
    if (is_wet(p->what))
        return ST_TOAST_WET;
    if (!st_kind_is_solid(p->what->kind) ||
        st_habit_find(books->habits, p->what->slug, p->what->kind, p->cut, ST_OF_ANY, &h) < 0)
        return ST_TOAST_NO_SIZE;
    p->body = h.body;
    p->half_m = h.a_m;
    if (!s->temperature_K.known)
        return has_time(s) ? ST_TOAST_NO_TEMPERATURE : ST_TOAST_NEITHER;
    return has_time(s) ? ST_TOAST_RECKONED : ST_TOAST_NO_TIME;
}

/* ---- reckoning ---- */

/* What one toast of one piece depends on. */
enum { HEAT, SIZE, RHO, CP, T_OVEN, TIME, EA, NIN };

static double per_slab(enum st_body b)
{
    return b == ST_BODY_SPHERE ? 3.0 : b == ST_BODY_CYLINDER ? 2.0 : 1.0;
}

static struct st_column column(double value, double low, double high, double clip_low, double clip_high,
                               const char *name)
{
    const double v = fmin(fmax(value, clip_low), clip_high);
    return (struct st_column){ v,
                               fmin(fmax(low, clip_low), v),
                               fmax(fmin(high, clip_high), v),
                               clip_low,
                               clip_high,
                               ST_SHAPE_SPLIT,
                               st_name_hash(st_name_hash(ST_NAME_START, "toasting "), name),
                               0,
                               ST_DOUBT_LASTING };
}

static struct st_column log_column(double value, double low, double high, const char *name)
{
    return column(log(value), log(low), log(high), log(low) - 1.0, log(high) + 1.0, name);
}

/* The temperature and the time keep inside what was told: no draw is hotter than the oven. */
static void columns_of(const struct st_toast_told *t, const struct st_toast_piece *p, struct st_column c[NIN])
{
    const struct st_range h = st_toast_heat(t->way), *T = &t->temperature_K;
    const struct st_steep_constant_row *Ea = st_steep_constant_get(ST_EA_FLAVOUR);
    const double half = p->half_m.value, by = pow(fmax(p->half_m.times, 1.0), ST_Z975);
    const double low_s = t->time.low > 0.0 ? fmin(t->time.low, t->time.value) : t->time.value;
    c[HEAT] = log_column(h.value, h.low, h.high, "heat");
    c[SIZE] = log_column(half, half / by, half * by, "size");
    c[RHO] = column(DENSITY.value, DENSITY.low, DENSITY.high, 500.0, 1500.0, "density");
    c[CP] = column(HEAT_CAPACITY.value, HEAT_CAPACITY.low, HEAT_CAPACITY.high, 1500.0, 3500.0, "heat capacity");
    c[T_OVEN] = column(T->value, T->low, T->high, fmin(T->low, T->value), fmax(T->high, T->value), "oven");
    c[TIME] = column(t->time.value, low_s, t->time.high, low_s, fmax(t->time.high, t->time.value), "time");
    c[EA] = column(st_steep_constant(ST_EA_FLAVOUR), Ea->low, Ea->high, Ea->low, Ea->high, "activation energy");
}

static double turned(int i, double x)
{
    return i == HEAT || i == SIZE ? exp(x) : x;
}

static struct st_piece_heat piece_of(const struct st_toast_piece *p, const double x[NIN])
{
    return (struct st_piece_heat){
        .half_thickness = fmin(fmax(x[SIZE] / per_slab(p->body), 1e-5), 0.1), .h = x[HEAT], .rho = x[RHO], .cp = x[CP]
    };
}

static bool core_at(const struct st_toast_piece *p, const double x[NIN], double t_s, double *K)
{
    const struct st_piece_heat heat = piece_of(p, x);
    const struct st_oven_point oven = { 0.0, x[T_OVEN] };
    return st_toast_core(&heat, 1, &oven, ROOM_K, t_s, K) >= 0;
}

static bool index_at(const struct st_toast_piece *p, const double x[NIN], double *index)
{
    const struct st_piece_heat heat = piece_of(p, x);
    const struct st_oven_point oven = { 0.0, x[T_OVEN] };
    return st_toast_index(&heat, 1, &oven, ROOM_K, x[TIME], x[EA], index) >= 0;
}

static void settle(struct st_interval *out, double nominal, const double drawn[ST_TOAST_DRAWS])
{
    double room[ST_TOAST_DRAWS];
    *out = (struct st_interval){ .value = nominal, .status = ST_ESTIMATED, .known = true };
    st_quantile_pair(ST_TOAST_DRAWS, drawn, 0.025, 0.975, room, &out->low, &out->high);
    out->low = fmin(out->low, nominal);
    out->high = fmax(out->high, nominal);
}

struct drawn {
    double of[NIN][ST_TOAST_DRAWS];
};

static void draw_of(const struct drawn *x, int k, double one[NIN])
{
    for (int i = 0; i < NIN; i++)
        one[i] = turned(i, x->of[i][k]);
}

static bool reckon_end(struct st_toast_piece *p, const double middle[NIN], const struct drawn *x)
{
    double core[ST_TOAST_DRAWS], index[ST_TOAST_DRAWS], one[NIN], core_K = 0.0, index_1 = 0.0;
    if (!core_at(p, middle, middle[TIME], &core_K) || !index_at(p, middle, &index_1))
        return false;
    for (int k = 0; k < ST_TOAST_DRAWS; k++) {
        draw_of(x, k, one);
        if (!core_at(p, one, one[TIME], &core[k]) || !index_at(p, one, &index[k]))
            return false;
    }
    settle(&p->core_K, core_K, core);
    settle(&p->index, index_1, index);
    return true;
}

static bool reckon_path(struct st_toast_piece *p, const double middle[NIN], const struct drawn *x)
{
    double core[ST_TOAST_DRAWS], one[NIN], core_K = 0.0;
    for (int i = 0; i < ST_TOAST_TIMES; i++) {
        p->t_s[i] = middle[TIME] * i / (ST_TOAST_TIMES - 1);
        if (!core_at(p, middle, p->t_s[i], &core_K))
            return false;
        for (int k = 0; k < ST_TOAST_DRAWS; k++) {
            draw_of(x, k, one);
            if (!core_at(p, one, p->t_s[i], &core[k]))
                return false;
        }
        settle(&p->path_K[i], core_K, core);
    }
    return true;
}

/* Note 4 of st_toast_step. */
static bool reckon_left(const struct st_toast_told *t, struct st_toast_piece *p, const struct st_column c[NIN])
{
    struct st_toasted a;
    double slow[NIN];
    for (int i = 0; i < NIN; i++)
        slow[i] = turned(i, c[i].high);
    slow[HEAT] = turned(HEAT, c[HEAT].low);
    const struct st_piece_heat heat = piece_of(p, slow);
    const struct st_oven_point hot = { 0.0, fmax(t->temperature_K.high, t->temperature_K.value) },
                               cool = { 0.0, fmin(t->temperature_K.low, t->temperature_K.value) };
    if (st_toast(&heat, 1, &hot, ROOM_K, c[TIME].clip_high, &a) < 0)
        return false;
    p->left_low = a.glycoside_low;
    if (st_toast(&heat, 1, &cool, ROOM_K, c[TIME].clip_low, &a) < 0)
        return false;
    p->left_high = a.glycoside_high;
    return true;
}

static void draw_all(const struct st_column c[NIN], uint64_t seed, struct drawn *x)
{
    for (int i = 0; i < NIN; i++)
        st_column_draw(&c[i], seed, 0, ST_TOAST_DRAWS, x->of[i]);
}

static bool reckon(const struct st_toast_told *t, struct st_toast_piece *p, uint64_t seed)
{
    struct st_column c[NIN];
    struct drawn x = { .of = { { 0.0 } } };
    double middle[NIN];
    columns_of(t, p, c);
    draw_all(c, seed, &x);
    for (int i = 0; i < NIN; i++)
        middle[i] = turned(i, c[i].value);
    return reckon_end(p, middle, &x) && reckon_path(p, middle, &x) && (!p->amygdalin || reckon_left(t, p, c));
}

/* ---- the step ---- */

static struct st_toast_piece *next_piece(struct st_toast_told *t, int step, int line, const char *name)
{
    if (t->n_piece == ST_TOAST_PIECES) {
        t->more++;
        return NULL;
    }
    struct st_toast_piece *p = &t->piece[t->n_piece++];
    *p = (struct st_toast_piece){ .step = step, .line = line, .name = name, .why = ST_TOAST_MADE };
    return p;
}

static void add(const struct st_jar_books *books, const struct st_recipe *r, struct st_toast_told *t, int step,
                int line, uint64_t seed)
{
    const struct st_ingredient *what = r->step[step].line[line].what;
    struct st_toast_piece *p = next_piece(t, step, line, what->name);
    if (!p)
        return;
    p->what = what;
    p->again = step != t->step;
    if (books->cut)
        p->cut = books->cut(r, step, line, &p->cut_said);
    look_for_poison(p);
    p->why = why_not(books, &r->step[t->step], p);
    if (p->why == ST_TOAST_RECKONED && !reckon(t, p, seed))
        p->why = ST_TOAST_OUTSIDE;
}

/* seen: each earlier toast once, however many ways lead to it. */
static void gather(const struct st_jar_books *books, const struct st_recipe *r, struct st_toast_told *t, int step,
                   uint64_t seed, bool seen[STEPS])
{
    const struct st_step *s = &r->step[step];
    seen[step] = true;
    for (int i = 0; i < s->n_line; i++) {
        const struct st_line *l = &s->line[i];
        if (l->what)
            add(books, r, t, step, i, seed);
        else if (l->from_step < 0 || l->from_step >= step || seen[l->from_step])
            continue;
        else if (r->step[l->from_step].kind == ST_DO_TOAST)
            gather(books, r, t, l->from_step, seed, seen);
        else
            (void)next_piece(t, step, i, r->step[l->from_step].id);
    }
}

enum st_status st_toast_step(const struct st_jar_books *books, const struct st_recipe *r, int step,
                             enum st_toast_way way, uint64_t seed, struct st_toast_told *out)
{
    bool seen[STEPS] = { false };
    if (step < 0 || step >= r->n_step || step >= STEPS || r->step[step].kind != ST_DO_TOAST)
        return ST_E_REFUSED;
    memset(out, 0, sizeof *out);
    out->step = step;
    out->way = way;
    out->temperature_K = r->step[step].temperature_K;
    out->time = r->step[step].time;
    gather(books, r, out, step, seed, seen);
    return ST_ESTIMATED;
}
