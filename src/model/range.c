#include "range.h"

#include <math.h>

#include "random.h"
#include "vector.h"

ST_MODEL_CLONES static void split(const struct st_column *c, size_t n, double *restrict x)
{
    const double value = c->value, below = (c->value - c->low) / ST_Z975, above = (c->high - c->value) / ST_Z975;
    const double lo = c->clip_low, hi = c->clip_high;
    for (size_t i = 0; i < n; i++) {
        const double z = x[i];
        double y = value + z * (z < 0.0 ? below : above);
        y = y > lo ? y : lo;
        x[i] = y < hi ? y : hi;
    }
}

static void even(const struct st_column *c, size_t n, double *x)
{
    const double width = c->high - c->low;
    for (size_t i = 0; i < n; i++)
        x[i] = fmin(fmax(c->low + width * x[i], c->clip_low), c->clip_high);
}

/* Inverse of the triangular distribution on -1..1, stretched. */
static void peak(const struct st_column *c, size_t n, double *x)
{
    const double middle = 0.5 * (c->low + c->high), half = 0.5 * (c->high - c->low);
    for (size_t i = 0; i < n; i++) {
        const double u = x[i], t = u < 0.5 ? sqrt(2.0 * u) - 1.0 : 1.0 - sqrt(2.0 * (1.0 - u));
        x[i] = fmin(fmax(middle + half * t, c->clip_low), c->clip_high);
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
