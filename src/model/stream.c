#include "stream.h"

struct st_stream st_stream_empty(void)
{
    struct st_stream s = { .keeps = ST_ZERO };
    for (int c = 0; c < ST_NSLOT; c++)
        s.liquid[c] = s.pieces[c] = ST_ZERO;
    return s;
}

int st_mass_of(struct st_tape *t, const int side[ST_NSLOT])
{
    int sum = ST_ZERO;
    for (int c = 0; c < ST_NCOMP; c++)
        sum = st_add(t, sum, side[c]);
    return sum;
}

void st_pour(struct st_tape *t, int into[ST_NSLOT], const int from[ST_NSLOT], int share)
{
    for (int c = 0; c < ST_NSLOT; c++)
        into[c] = st_madd(t, share, from[c], into[c]);
}

void st_shrink(struct st_tape *t, int side[ST_NSLOT], int share)
{
    for (int c = 0; c < ST_NSLOT; c++)
        side[c] = st_mul(t, share, side[c]);
}

int st_rest_of(struct st_tape *t, int share)
{
    return st_sub(t, ST_ONE, share);
}

void st_move(struct st_tape *t, int from[ST_NSLOT], int into[ST_NSLOT], int share)
{
    if (share == ST_ZERO)
        return;
    const int rest = st_rest_of(t, share);
    st_pour(t, into, from, share);
    st_shrink(t, from, rest);
}

int st_volume_of(struct st_tape *t, const int side[ST_NSLOT])
{
    const int rho = st_density(t, side);
    return st_ratio(t, st_scaled_by(t, st_mass_of(t, side), 1000.0), rho);
}

bool st_side_is_empty(const int side[ST_NSLOT])
{
    for (int c = 0; c < ST_NCOMP; c++)
        if (side[c] != ST_ZERO)
            return false;
    return true;
}

void st_nominal_of(const struct st_tape *t, const int side[ST_NSLOT], double g[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        g[c] = t->nominal[side[c]];
}
