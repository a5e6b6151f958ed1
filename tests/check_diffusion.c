#include "check_diffusion.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check_kit.h"
#include "core/bath.h"
#include "core/crank.h"

enum { NO_BODY = -1, PIECES = 3, ROOM = 4 * 401 * PIECES * ST_BATH_LANES * 2 };

static const double TOLERANCE = 1e-8; /* of steps: what is left of the difference comes from the shells */

static enum st_body body_of(const char *word, size_t n)
{
    static const char *const NAMES[] = { "sphere", "cylinder", "slab" };
    for (int i = 0; i < 3; i++)
        if (strlen(NAMES[i]) == n && strncmp(word, NAMES[i], n) == 0)
            return (enum st_body)i;
    return (enum st_body)NO_BODY;
}

static enum st_body body(const struct check_field *f)
{
    return body_of(f->word, strlen(f->word));
}

struct check_result check_crank_uptake(const struct check_field in[])
{
    double F = CHECK_SENTINEL;
    return check_settle(st_crank_uptake(body(in), in[1].x, in[2].x, &F), &F, 1.0, 0.0);
}

struct check_result check_crank_root(const struct check_field in[])
{
    double q = CHECK_SENTINEL;
    return check_settle(st_crank_root(body(in), in[1].x, (int)in[2].x, &q), &q, 1.0, 0.0);
}

struct check_result check_crank_time(const struct check_field in[])
{
    double Fo = CHECK_SENTINEL;
    return check_settle(st_crank_time(body(in), in[1].x, in[2].x, &Fo), &Fo, 1.0, 0.0);
}

/* Hours at which a sphere of radius a has done what it has done at Fo. */
struct check_result check_crank_hours(const struct check_field in[])
{
    double F = 0.0, Fo = CHECK_SENTINEL;
    const enum st_status s = st_crank_uptake(ST_BODY_SPHERE, (double)INFINITY, in[2].x, &F);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_crank_time(ST_BODY_SPHERE, (double)INFINITY, F, &Fo), &Fo,
                        in[0].x * in[0].x / in[1].x / 3600.0, 0.0);
}

/* ---- the engine ---- */

/* A piece as a sheet writes it: body/a/D/K/volume/c0/Bi. */
struct written {
    enum st_body body;
    double a, D, K, volume, c0, biot;
};

static bool read_piece(const char *word, struct written *w)
{
    const char *slash = strchr(word, '/');
    double *const to[] = { &w->a, &w->D, &w->K, &w->volume, &w->c0, &w->biot };
    if (!slash)
        return false;
    w->body = body_of(word, (size_t)(slash - word));
    for (int i = 0; i < 6; i++) {
        char *end;
        if (*slash != '/')
            return false;
        *to[i] = strtod(slash + 1, &end);
        slash = end;
    }
    return *slash == '\0';
}

static enum st_status put_in(struct st_bath *b, int j, const struct written *w)
{
    struct st_bath_piece *p = &b->piece[j];
    st_lanes c0;
    p->in = true;
    st_lanes_set(p->volume, w->volume);
    st_lanes_set(p->rate, w->D / (w->a * w->a));
    st_lanes_set(p->partition, w->K);
    st_lanes_set(p->biot, w->biot);
    st_lanes_set(c0, w->c0);
    return st_bath_fill(b, j, c0);
}

static enum st_status begin(struct st_bath *b, int shells, double volume, int n, const struct written w[])
{
    static double room[ROOM];
    enum st_body bodies[PIECES];
    if (st_bath_work(n, shells) > ROOM)
        return ST_E_DOMAIN;
    for (int j = 0; j < n; j++)
        bodies[j] = w[j].body;
    enum st_status s = st_bath_begin(b, n, bodies, shells, room);
    if (s < 0)
        return s;
    st_lanes_set(b->volume, volume);
    for (int j = 0; j < n && s >= 0; j++)
        s = put_in(b, j, &w[j]);
    return s;
}

/* The last lane, as good as any. */
static double concentration(const struct st_bath *b)
{
    return b->liquid[ST_BATH_LANES - 1] / b->volume[ST_BATH_LANES - 1];
}

struct check_result check_shared_bath(const struct check_field in[])
{
    static struct st_bath b;
    struct written w[PIECES];
    int n = 0;
    for (int i = 0; i < PIECES; i++)
        if (strcmp(in[3 + i].word, "-") != 0 && !read_piece(in[3 + i].word, &w[n++]))
            return check_plain(ST_E_DOMAIN, 0.0);
    enum st_status s = begin(&b, (int)in[0].x, in[1].x, n, w);
    if (s >= 0)
        s = st_bath_run(&b, 3600.0 * in[2].x, TOLERANCE);
    return check_plain(s, s < 0 ? 0.0 : concentration(&b));
}

/* Share of a slab's content in one bath or in several that part the volume, each run to rest. */
static enum st_status yield(double solid, double volume, double K, int baths, double *share)
{
    static struct st_bath b;
    const struct written w = { ST_BODY_SLAB, 1.0, 1.0, K, solid, 1.0, (double)INFINITY };
    enum st_status s = begin(&b, ST_BATH_SHELLS_USUAL, volume / baths, 1, &w);
    double sum = 0.0;
    for (int i = 0; i < baths && s >= 0; i++) {
        s = st_bath_run(&b, 100.0, TOLERANCE);
        sum += b.liquid[0];
        st_lanes_set(b.liquid, 0.0);
    }
    *share = sum / solid;
    return s;
}

struct check_result check_bath_yield(const struct check_field in[])
{
    double share = 0.0;
    const enum st_status s = yield(in[0].x, in[1].x, in[2].x, (int)in[3].x, &share);
    return check_plain(s, share);
}

struct check_result check_bath_alpha(const struct check_field in[])
{
    double share = 0.0;
    const enum st_status s = yield(in[0].x, in[1].x, in[2].x, 1, &share);
    return check_plain(s, share / (1.0 - share));
}
