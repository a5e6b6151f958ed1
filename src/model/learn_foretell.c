#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/drink_reading.h"
#include "core/strength.h"
#include "learn_inside.h"

static const double LEAST_HERE = 1e-10; /* what stands for nothing where a logarithm is taken */
static const double MOSTLY = 0.9;

/* ---- what a reading speaks of ---- */

static bool is_of_c(enum st_seen s)
{
    return s == ST_SEEN_COLOUR || s == ST_SEEN_TASTE || s == ST_SEEN_MARK;
}

/* Whether a curve belongs to what is seen or tasted; pigments are what colours, when there are any. */
static bool counts(const struct st_jar_curve *c, int piece, enum st_seen what, bool pigments)
{
    if (c->late || c->of == ST_OF_LIQUID || (piece >= 0 && c->piece != piece))
        return false;
    return !(what == ST_SEEN_COLOUR && pigments) || c->of == ST_OF_PIGMENT;
}

static bool has_pigment(const struct st_jar_told *t, int piece)
{
    for (int i = 0; i < t->n_curve; i++)
        if (t->curve[i].of == ST_OF_PIGMENT && (piece < 0 || t->curve[i].piece == piece))
            return true;
    return false;
}

static int index_of(const struct st_jar_told *t, double s)
{
    int i = 0;
    while (i < t->n_time - 1 && t->t_s[i] < s - 0.5)
        i++;
    return i;
}

/* ln of what is in the liquid, the mean over what counts, with what was learnt of the content. */
static double ln_c(const struct st_jar_told *t, int set, const double theta[], const struct st_observation *o,
                   int piece)
{
    const bool pigments = has_pigment(t, piece);
    const int at = index_of(t, o->t_s);
    double sum = 0.0;
    int n = 0;
    for (int i = 0; i < t->n_curve; i++) {
        const struct st_jar_curve *c = &t->curve[i];
        if (!counts(c, piece, o->what, pigments))
            continue;
        sum += fmax(c->here.raw[(size_t)at * (size_t)t->draws + (size_t)set], LEAST_HERE) *
               exp(theta[c->piece * ST_NTHETA + ST_THETA_C0]);
        n++;
    }
    return n ? log(sum / n) : (double)NAN;
}

/* Whether most of what counts is out when it was seen, in the first set. */
static bool is_late(const struct st_jar_told *t, const struct st_observation *o, int piece)
{
    const bool pigments = has_pigment(t, piece);
    const size_t at = (size_t)index_of(t, o->t_s) * (size_t)t->draws;
    double sum = 0.0;
    int n = 0;
    for (int i = 0; i < t->n_curve; i++)
        if (counts(&t->curve[i], piece, o->what, pigments)) {
            sum += t->curve[i].share.raw[at];
            n++;
        }
    return n && sum >= MOSTLY * n;
}

static enum st_shows shown_by(enum st_seen s)
{
    return s == ST_SEEN_SG        ? ST_SHOWS_SG
           : s == ST_SEEN_BRIX    ? ST_SHOWS_BRIX
           : s == ST_SEEN_FLASK_G ? ST_SHOWS_FLASK
                                  : ST_SHOWS_SG_BOILED;
}

/* An instrument over a liquid of such strength, sugar and acid. */
static double instrument(const struct st_observation *o, double strength, double sugar, double acid)
{
    double solute[ST_NCOMP] = { 0 }, w[ST_NCOMP], y = (double)NAN;
    const double T = isfinite(o->temperature_K) ? o->temperature_K : ST_T20;
    solute[ST_SUCROSE] = fmax(sugar, 0.0);
    solute[ST_ACID] = fmax(acid, 0.0);
    if (st_mixture_from_strength(fmax(strength, 0.0), solute, w) < 0)
        return y;
    return st_drink_reading(w, shown_by(o->what), T, o->flask_ml, &y) < 0 ? (double)NAN : y;
}

static double of_the_liquid(const struct st_jar_told *t, int set, const struct st_observation *o)
{
    const size_t at = (size_t)index_of(t, o->t_s) * (size_t)t->draws + (size_t)set;
    const double strength = t->strength.raw[at], sugar = t->sugar.raw[at], acid = t->acid.raw[at];
    switch (o->what) {
    case ST_SEEN_STRENGTH: return strength;
    case ST_SEEN_SUGAR: return sugar;
    case ST_SEEN_ACID: return acid;
    case ST_SEEN_SG:
    case ST_SEEN_BRIX:
    case ST_SEEN_FLASK_G:
    case ST_SEEN_SG_BOILED: return instrument(o, strength, sugar, acid);
    default: return (double)NAN;
    }
}

static double latent_of(const struct st_jar_told *t, int set, const double theta[], const struct st_observation *o,
                        int piece)
{
    if (is_of_c(o->what))
        return ln_c(t, set, theta, o, piece);
    const struct st_jar_end *end = t->n_end ? &t->end[t->n_end - 1] : NULL;
    if (o->what == ST_SEEN_DRAINED_G)
        return end ? end->solids_g.raw[set] : (double)NAN;
    if (o->what == ST_SEEN_LIQUOR_ML)
        return end ? end->liquor_ml.raw[set] : (double)NAN;
    if (o->what == ST_SEEN_LIQUOR_G)
        return end ? end->liquor_g.raw[set] : (double)NAN;
    return of_the_liquid(t, set, o);
}

enum st_status st_learn_latents(struct st_learn_one *o, int n, const double theta[], double latent[])
{
    const struct st_jar *j = o->batch->jar;
    const struct st_jar_options options = { .time = o->time,
                                            .n_time = o->n_time,
                                            .shells = 24,
                                            .tolerance = 1e-4,
                                            .coarse = true,
                                            .until_s = o->n_time ? o->time[o->n_time - 1] : 0.0 };
    struct st_jar_told told = { 0 };
    const enum st_status s = st_jar_run_thetas(j, &options, n, theta, &told);
    if (s < 0)
        return s;
    for (int i = 0; i < o->n_seen; i++)
        o->late[i] = is_late(&told, &o->batch->seen[i], o->batch->piece[i]);
    for (int k = 0; k < n; k++) {
        const double *own = theta + (size_t)k * (size_t)j->n_piece * ST_NTHETA;
        for (int i = 0; i < o->n_seen; i++)
            latent[(size_t)k * (size_t)o->n_seen + (size_t)i] =
                o->used[i] ? latent_of(&told, k, own, &o->batch->seen[i], o->batch->piece[i]) : (double)NAN;
    }
    st_jar_told_done(&told);
    return s;
}

/* ---- preparing ---- */

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void set_times(struct st_learn_one *o)
{
    int n = 0;
    for (int i = 0; i < o->n_seen; i++)
        if (o->batch->seen[i].t_s > 0.0)
            o->time[n++] = o->batch->seen[i].t_s;
    qsort(o->time, (size_t)n, sizeof *o->time, by_size);
    o->n_time = 0;
    for (int i = 0; i < n && o->n_time < ST_JAR_TIMES; i++)
        if (o->n_time == 0 || o->time[i] > o->time[o->n_time - 1] + 1.0)
            o->time[o->n_time++] = o->time[i];
}

/* The scale of a reading, made when it is the first; -1 when there is no room. */
static int scale_for(struct st_learn_one *o, int i)
{
    const struct st_observation *s = &o->batch->seen[i];
    for (int k = 0; k < o->n_scale; k++)
        if (o->scales[k].what == s->what && o->scales[k].piece == o->batch->piece[i] &&
            strcmp(o->scales[k].by, s->by) == 0)
            return k;
    const int places = s->what == ST_SEEN_MARK ? 2 : 1;
    if (o->n_scale == ST_LEARN_FREE_MOST || o->n_free + places > ST_LEARN_FREE_MOST)
        return -1;
    o->scales[o->n_scale] =
        (struct st_learn_scale){ .what = s->what, .piece = o->batch->piece[i], .by = s->by, .at = o->n_free };
    o->n_free += places;
    return o->n_scale++;
}

/* Where each scale begins, from what was foretold before anything was learnt. */
static void begin_scales(struct st_learn_one *o)
{
    for (int k = 0; k < o->n_scale; k++) {
        struct st_learn_scale *s = &o->scales[k];
        double sum = 0.0, last = -1.0;
        int n = 0;
        for (int i = 0; i < o->n_seen; i++) {
            const struct st_observation *seen = &o->batch->seen[i];
            if (!o->used[i] || o->scale[i] != k)
                continue;
            if (seen->t_s >= last)
                s->ln_c_end = o->latent0[i];
            last = fmax(last, seen->t_s);
            if (s->what == ST_SEEN_COLOUR)
                sum += log(seen->value) - o->latent0[i];
            n++;
        }
        s->mean = n ? sum / n : 0.0;
    }
}

bool st_learn_prepare(struct st_learn_one *o)
{
    const size_t n = (size_t)o->n_seen + 1;
    o->time = calloc(n, sizeof *o->time);
    o->used = calloc(n, sizeof *o->used);
    o->scale = calloc(n, sizeof *o->scale);
    o->late = calloc(n, sizeof *o->late);
    o->latent0 = calloc(n, sizeof *o->latent0);
    o->latent = calloc(n, sizeof *o->latent);
    double *theta = calloc((size_t)o->batch->jar->n_piece * ST_NTHETA + 1, sizeof *theta);
    bool ok = o->time && o->used && o->scale && o->late && o->latent0 && o->latent && theta;
    if (ok) {
        set_times(o);
        for (int i = 0; i < o->n_seen; i++) {
            const struct st_observation *s = &o->batch->seen[i];
            o->scale[i] = is_of_c(s->what) ? scale_for(o, i) : -1;
            o->used[i] = s->what != ST_SEEN_PH && !(is_of_c(s->what) && (o->scale[i] < 0 || !(s->t_s > 0.0)));
        }
        o->status = st_learn_latents(o, 1, theta, o->latent0);
        ok = o->status >= 0;
        for (int i = 0; ok && i < o->n_seen; i++)
            o->used[i] = o->used[i] && isfinite(o->latent0[i]);
        if (ok)
            begin_scales(o);
    }
    free(theta);
    return ok;
}
