#include "range.h"

#include <math.h>

#include "random.h"
#include "vector.h"

static inline double held(double x, double low, double high)
{
    const double y = x > low ? x : low;
    return y < high ? y : high;
}

ST_MODEL_CLONES static void split(const struct st_column *c, size_t n, double *restrict x)
{
    const double value = c->value, below = (c->value - c->low) / ST_Z975, above = (c->high - c->value) / ST_Z975;
    const double low = c->clip_low, high = c->clip_high;
    for (size_t i = 0; i < n; i++)
        x[i] = held(value + x[i] * (x[i] < 0.0 ? below : above), low, high);
}

ST_MODEL_CLONES static void even(const struct st_column *c, size_t n, double *restrict x)
{
    const double start = c->low, width = c->high - c->low, low = c->clip_low, high = c->clip_high;
    for (size_t i = 0; i < n; i++)
        x[i] = held(start + width * x[i], low, high);
}

/* Inverse of the triangular distribution on -1..1, stretched. */
ST_MODEL_CLONES static void peak(const struct st_column *c, size_t n, double *restrict x)
{
    const double middle = 0.5 * (c->low + c->high), half = 0.5 * (c->high - c->low);
    const double low = c->clip_low, high = c->clip_high;
    for (size_t i = 0; i < n; i++) {
        const double u = x[i], other = 1.0 - u, t = 1.0 - sqrt(2.0 * (u < other ? u : other));
        x[i] = held(middle + half * copysign(t, u - 0.5), low, high);
    }
}

void st_column_draw(const struct st_column *c, uint64_t seed, uint64_t first, size_t n, double x[])
{
    st_uniform_n(seed, c->id, first, n, x);
    switch (c->shape) {
    case ST_SHAPE_EVEN: even(c, n, x); return;
    case ST_SHAPE_PEAK: peak(c, n, x); return;
    case ST_SHAPE_NORMAL: {
        struct st_column d = *c;
        d.low = 2.0 * c->value - c->high;
        st_normal_from_uniform_n(n, x, x);
        split(&d, n, x);
        return;
    }
    case ST_SHAPE_SPLIT:
    case ST_NSHAPE: break;
    }
    st_normal_from_uniform_n(n, x, x);
    split(c, n, x);
}

bool st_range_is_sharp(struct st_range r)
{
    return !(r.low < r.high);
}

uint32_t st_name_hash(uint32_t hash, const char *text)
{
    for (const char *s = text; *s; s++)
        hash = (hash ^ (unsigned char)*s) * 16777619u;
    return (hash ^ 0xFFu) * 16777619u; /* a mark between parts */
}
