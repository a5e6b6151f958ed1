#include "bath.h"

#include <math.h>
#include <stdint.h>

#include "bath_inside.h"

enum { LINE = 64, BODIES = 3 }; /* bytes of a line of the cache */

static size_t doubles(size_t bytes)
{
    return (bytes + sizeof(double) - 1) / sizeof(double);
}

size_t st_bath_work(int n_piece, int shells)
{
    if (n_piece < 1 || n_piece > ST_BATH_PIECES || shells < 4 || shells > ST_BATH_SHELLS)
        return 0;
    const size_t row = (size_t)n_piece * ST_BATH_LANES, n = (size_t)shells;
    const size_t padding = (size_t)(6 + 2 * ST_BATH_FACTORS) * LINE / sizeof(double);
    return 4 * (n + 1) * row + (size_t)ST_BATH_FACTORS * 2 * n * row +
           doubles(BODIES * n * sizeof(struct st_bath_shell)) +
           doubles(ST_BATH_FACTORS * sizeof(struct st_bath_factor)) + padding;
}

/* ---- room ---- */

/* The next n doubles of the room, from the start of a line of the cache on. */
static double *portion(double **room, size_t n)
{
    const uintptr_t over = (uintptr_t)*room % LINE;
    double *p = *room + (over == 0 ? 0 : (LINE - over) / sizeof(double));
    *room = p + n;
    return p;
}

static void lay_out(struct st_bath *b, double *room)
{
    const size_t row = st_bath_row(b), n = (size_t)b->shells;
    b->state = portion(&room, (n + 1) * row);
    b->stage = portion(&room, (n + 1) * row);
    b->next = portion(&room, (n + 1) * row);
    b->spare = portion(&room, (n + 1) * row);
    b->shell = (void *)portion(&room, doubles(BODIES * n * sizeof(struct st_bath_shell)));
    b->factor = (void *)portion(&room, doubles(ST_BATH_FACTORS * sizeof(struct st_bath_factor)));
    for (int i = 0; i < ST_BATH_FACTORS; i++) {
        b->factor[i].known = false;
        b->factor[i].pass = portion(&room, n * row);
        b->factor[i].inverse = portion(&room, n * row);
    }
    for (size_t i = 0; i < (n + 1) * row; i++)
        b->state[i] = 0.0;
}

/* ---- geometry ---- */

static int dimension(enum st_body body)
{
    return body == ST_BODY_SPHERE ? 3 : body == ST_BODY_CYLINDER ? 2 : 1;
}

static double power(double r, int n)
{
    return n == 0 ? 1.0 : n == 1 ? r : n == 2 ? r * r : r * r * r;
}

/* Boundaries of shells: 0 in the middle, 1 at the surface, dense towards it as the square of the count. */
static double boundary(int k, int shells)
{
    const double u = 1.0 - (double)k / shells;
    return 1.0 - u * u;
}

static double middle(int k, int shells)
{
    return 0.5 * (boundary(k, shells) + boundary(k + 1, shells));
}

/* Conductance through the inner boundary of shell k for D/a^2 = 1: area by distance between the middles. */
static double conductance(int n, int k, int shells)
{
    const double r = boundary(k, shells);
    return k == 0 ? 0.0 : n * power(r, n - 1) / (middle(k, shells) - middle(k - 1, shells));
}

static double volume(int n, int k, int shells)
{
    return power(boundary(k + 1, shells), n) - power(boundary(k, shells), n);
}

static void cut_into_shells(int n, int shells, struct st_bath_shell *s)
{
    const double depth = 1.0 - middle(shells - 1, shells);
    for (int k = 0; k < shells; k++) {
        const bool last = k == shells - 1;
        const double v = volume(n, k, shells), out = last ? n / depth : conductance(n, k + 1, shells);
        s[k] = (struct st_bath_shell){
            .volume = v,
            .root = sqrt(v),
            .inward = conductance(n, k, shells) / v,
            .outward = out / v,
            .link = last ? 0.0 : out / sqrt(v * volume(n, k + 1, shells)),
            .area = n,
            .depth = depth,
        };
    }
}

/* ---- begin ---- */

static void clear_piece(struct st_bath_piece *p, enum st_body body)
{
    p->body = body;
    p->in = false;
    st_lanes_set(p->volume, 0.0);
    st_lanes_set(p->rate, 0.0);
    st_lanes_set(p->partition, 1.0);
    st_lanes_set(p->biot, (double)INFINITY);
    st_lanes_set(p->washed, 0.0);
    st_lanes_set(p->wash_rate, 0.0);
}

enum st_status st_bath_begin(struct st_bath *b, int n_piece, const enum st_body body[], int shells, double work[])
{
    if (st_bath_work(n_piece, shells) == 0)
        return ST_E_DOMAIN;
    for (int j = 0; j < n_piece; j++)
        if (body[j] != ST_BODY_SPHERE && body[j] != ST_BODY_CYLINDER && body[j] != ST_BODY_SLAB)
            return ST_E_DOMAIN;
    b->n_piece = n_piece;
    b->shells = shells;
    for (int j = 0; j < ST_BATH_PIECES; j++)
        clear_piece(&b->piece[j], j < n_piece ? body[j] : ST_BODY_SPHERE);
    st_lanes_set(b->volume, 1.0);
    st_lanes_set(b->cap, (double)INFINITY);
    st_lanes_set(b->liquid, 0.0);
    b->step = 0.0;
    b->steps = b->refused = b->first_order = 0;
    b->gave_known = false;
    for (int j = 0; j < ST_BATH_PIECES; j++)
        b->was_in[j] = false;
    lay_out(b, work);
    for (int k = 0; k < BODIES; k++)
        cut_into_shells(dimension((enum st_body)k), shells, b->shell + (size_t)k * (size_t)shells);
    return ST_OK;
}

/* ---- what is in it, and limits ---- */

static bool between(const st_lanes x, double low, double high)
{
    bool good = true;
    for (int l = 0; l < ST_BATH_LANES; l++)
        good = good && x[l] >= low && x[l] <= high;
    return good;
}

bool st_bath_is_sound(const struct st_bath *b)
{
    const double most = 1e150; /* so that products stay finite */
    bool good =
        between(b->volume, 1e-150, most) && between(b->cap, 0.0, (double)INFINITY) && between(b->liquid, 0.0, most);
    for (int j = 0; j < b->n_piece && good; j++) {
        const struct st_bath_piece *p = &b->piece[j];
        good = between(p->volume, 0.0, most) && between(p->rate, 0.0, most) && between(p->partition, 1e-150, most) &&
               between(p->biot, 0.0, (double)INFINITY) && between(p->washed, 0.0, 1.0) &&
               between(p->wash_rate, 0.0, most);
    }
    return good;
}

static double *cells(const struct st_bath *b, int j, int k)
{
    return b->state + (size_t)k * st_bath_row(b) + (size_t)j * ST_BATH_LANES;
}

/* Something was done to the bath from outside: rates before it say nothing of those after it. */
static void anew(struct st_bath *b)
{
    b->step = 0.0;
    b->gave_known = false;
}

enum st_status st_bath_fill(struct st_bath *b, int j, const st_lanes c0)
{
    if (j < 0 || j >= b->n_piece || !between(c0, 0.0, 1e150))
        return ST_E_DOMAIN;
    for (int k = 0; k <= b->shells; k++) {
        const double root = k < b->shells ? st_bath_shell(b, j, k)->root : 1.0;
        for (int l = 0; l < ST_BATH_LANES; l++)
            cells(b, j, k)[l] = root * c0[l];
    }
    anew(b);
    return ST_OK;
}

void st_bath_in_piece(const struct st_bath *b, int j, st_lanes amount)
{
    const struct st_bath_piece *p = &b->piece[j];
    st_lanes sum = { 0 };
    for (int k = 0; k < b->shells; k++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            sum[l] += st_bath_shell(b, j, k)->root * cells(b, j, k)[l];
    for (int l = 0; l < ST_BATH_LANES; l++)
        amount[l] = p->volume[l] * ((1.0 - p->washed[l]) * sum[l] + p->washed[l] * cells(b, j, b->shells)[l]);
}

void st_bath_total(const struct st_bath *b, st_lanes amount)
{
    for (int l = 0; l < ST_BATH_LANES; l++)
        amount[l] = b->liquid[l];
    for (int j = 0; j < b->n_piece; j++) {
        st_lanes one;
        st_bath_in_piece(b, j, one);
        for (int l = 0; l < ST_BATH_LANES; l++)
            amount[l] += one[l];
    }
}

void st_bath_dissolved(const struct st_bath *b, st_lanes amount)
{
    for (int l = 0; l < ST_BATH_LANES; l++)
        amount[l] = fmin(b->liquid[l], b->cap[l] * b->volume[l]);
}

/* ---- what is done to a jar ---- */

enum st_status st_bath_pour(struct st_bath *b, const st_lanes volume, const st_lanes amount)
{
    if (!between(volume, 0.0, 1e150) || !between(amount, 0.0, 1e150))
        return ST_E_DOMAIN;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        b->volume[l] += volume[l];
        b->liquid[l] += amount[l];
    }
    anew(b);
    return ST_OK;
}

enum st_status st_bath_draw(struct st_bath *b, const st_lanes share, st_lanes taken)
{
    if (!between(share, 0.0, nextafter(1.0, 0.0)))
        return ST_E_DOMAIN;
    for (int l = 0; l < ST_BATH_LANES; l++) {
        const double away = share[l] * b->liquid[l];
        b->volume[l] -= share[l] * b->volume[l];
        b->liquid[l] -= away;
        if (taken)
            taken[l] = away;
    }
    anew(b);
    return ST_OK;
}

enum st_status st_bath_press(struct st_bath *b, int j, const st_lanes share)
{
    if (j < 0 || j >= b->n_piece || !between(share, 0.0, 1.0))
        return ST_E_DOMAIN;
    st_lanes amount;
    st_bath_in_piece(b, j, amount);
    for (int l = 0; l < ST_BATH_LANES; l++)
        b->liquid[l] += share[l] * amount[l];
    for (int k = 0; k <= b->shells; k++)
        for (int l = 0; l < ST_BATH_LANES; l++)
            cells(b, j, k)[l] *= 1.0 - share[l];
    anew(b);
    return ST_OK;
}
