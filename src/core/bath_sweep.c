/* What a step of a bath does in every piece: elimination from the middle outwards, and back.  See bath_inside.h. */
#include "bath_inside.h"

/* ---- the factor ---- */

static bool same(const st_lanes x, const st_lanes y)
{
    bool all = true;
    for (int l = 0; l < ST_BATH_LANES; l++)
        all = all && x[l] == y[l];
    return all;
}

static bool still_good(const struct st_bath *b, const struct st_bath_factor *f, double tau)
{
    bool good = f->known && f->tau == tau;
    for (int j = 0; j < b->n_piece && good; j++) {
        const struct st_bath_piece *p = &b->piece[j];
        good = f->in[j] == p->in && (!p->in || (same(f->rate[j], p->rate) && same(f->biot[j], p->biot)));
    }
    return good;
}

/* One row: x = tau D/a^2, own = p less what goes outwards, held = own/p of the shell inside. */
struct row {
    double x[ST_BATH_CELLS], held[ST_BATH_CELLS], inward[ST_BATH_CELLS], outward[ST_BATH_CELLS], link[ST_BATH_CELLS];
};

/* The coefficients of shell k, one a cell. */
ST_BATH_CLONES static void spread(const struct st_bath *b, int k, struct row *r)
{
    for (int j = 0; j < b->n_piece; j++) {
        const struct st_bath_shell *s = st_bath_shell(b, j, k);
        for (int i = j * ST_BATH_LANES; i < (j + 1) * ST_BATH_LANES; i++) {
            r->inward[i] = s->inward;
            r->outward[i] = s->outward;
            r->link[i] = s->link;
        }
    }
}

/* The outermost shell: outwards lie half of it and the skin. */
static void open_skin(const struct st_bath *b, struct row *r)
{
    for (int j = 0; j < b->n_piece; j++) {
        const struct st_bath_shell *s = st_bath_shell(b, j, b->shells - 1);
        for (int l = 0; l < ST_BATH_LANES; l++)
            r->outward[j * ST_BATH_LANES + l] = s->area / (s->volume * (s->depth + 1.0 / b->piece[j].biot[l]));
    }
}

ST_BATH_CLONES static void eliminate_row(size_t n, struct row *restrict r, double *restrict pass,
                                         double *restrict inverse)
{
    for (size_t i = 0; i < n; i++) {
        const double own = 1.0 + r->x[i] * r->inward[i] * r->held[i];
        const double one = 1.0 / (own + r->x[i] * r->outward[i]);
        inverse[i] = one;
        pass[i] = r->x[i] * r->link[i] * one;
        r->held[i] = own * one;
    }
}

static void eliminate(const struct st_bath *b, struct st_bath_factor *f)
{
    const size_t n = st_bath_row(b);
    struct row r = { .x = { 0 } };
    for (int j = 0; j < b->n_piece; j++)
        for (int l = 0; l < ST_BATH_LANES; l++) {
            r.x[j * ST_BATH_LANES + l] = b->piece[j].in ? f->tau * b->piece[j].rate[l] : 0.0;
            r.held[j * ST_BATH_LANES + l] = 0.0;
        }
    for (int k = 0; k < b->shells; k++) {
        spread(b, k, &r);
        if (k == b->shells - 1)
            open_skin(b, &r);
        eliminate_row(n, &r, f->pass + (size_t)k * n, f->inverse + (size_t)k * n);
    }
    for (size_t i = 0; i < n; i++) {
        f->open[i] = r.x[i] * r.outward[i];
        f->rest[i] = r.held[i];
    }
}

const struct st_bath_factor *st_bath_factor_for(struct st_bath *b, int which, double tau)
{
    struct st_bath_factor *f = &b->factor[which];
    if (still_good(b, f, tau))
        return f;
    f->tau = tau;
    eliminate(b, f);
    f->known = true;
    for (int j = 0; j < b->n_piece; j++) {
        f->in[j] = b->piece[j].in;
        st_lanes_copy(f->rate[j], b->piece[j].rate);
        st_lanes_copy(f->biot[j], b->piece[j].biot);
    }
    return f;
}

/* ---- sweeps ---- */

ST_BATH_CLONES void st_bath_outwards(size_t n, int shells, const double *restrict pass, const double *restrict from,
                                     double *restrict to)
{
    for (size_t i = 0; i < n; i++)
        to[i] = from[i];
    for (size_t at = n; at < (size_t)shells * n; at += n)
        for (size_t i = at; i < at + n; i++)
            to[i] = from[i] + pass[i - n] * to[i - n];
}

ST_BATH_CLONES void st_bath_outwards_ahead(size_t n, int shells, const double *restrict pass,
                                           const double *restrict from, const double *restrict stage,
                                           double *restrict to)
{
    for (size_t i = 0; i < n; i++)
        to[i] = from[i] + ST_BATH_AHEAD * (stage[i] - from[i]);
    for (size_t at = n; at < (size_t)shells * n; at += n)
        for (size_t i = at; i < at + n; i++)
            to[i] = from[i] + ST_BATH_AHEAD * (stage[i] - from[i]) + pass[i - n] * to[i - n];
}

ST_BATH_CLONES void st_bath_inwards(size_t n, int shells, const double *restrict pass, const double *restrict inverse,
                                    double *restrict to)
{
    for (size_t at = (size_t)(shells - 1) * n; at > 0; at -= n)
        for (size_t i = at - n; i < at; i++)
            to[i] = to[i] * inverse[i] + pass[i] * to[i + n];
}

/* Some rows' worth at once, then the rest; n is a multiple of ST_BATH_LANES. */
ST_BATH_CLONES void st_bath_smallest(size_t n, const double *restrict x, double *restrict low)
{
    enum { WIDE = 4 * ST_BATH_LANES };
    double least[WIDE] = { 0 };
    size_t i = 0;
    for (; i + WIDE <= n; i += WIDE)
        for (size_t l = 0; l < WIDE; l++)
            least[l] = x[i + l] < least[l] ? x[i + l] : least[l];
    for (; i < n; i++)
        least[i % ST_BATH_LANES] = x[i] < least[i % ST_BATH_LANES] ? x[i] : least[i % ST_BATH_LANES];
    for (size_t l = 0; l < WIDE; l++)
        low[l % ST_BATH_LANES] = least[l] < low[l % ST_BATH_LANES] ? least[l] : low[l % ST_BATH_LANES];
}
