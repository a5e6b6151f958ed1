#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "jar_inside.h"
#include "quantile.h"

/* From the numbers of all sets to intervals; all that is told lies in one piece of memory, measured by a first pass. */

struct bump {
    char *base; /* NULL: only measure */
    size_t used;
};

static void *get(struct bump *m, size_t count, size_t size)
{
    void *at = m->base ? m->base + m->used : NULL;
    m->used += (count * size + 15u) & ~(size_t)15u;
    return at;
}

struct teller {
    const struct st_jar_work *w;
    const struct st_jar_raw *raw;
    struct bump m;
    double *room; /* [2 n_set] */
    bool keep;
    enum st_status status;
};

/* Draws among the sets: all but the middle; with given theta all of them. */
static int first_draw(const struct teller *t)
{
    return t->w->theta ? 0 : 1;
}

static int draws_of(const struct teller *t)
{
    return t->w->n_set - first_draw(t);
}

static const double NEVER = 1e300; /* stands for INFINITY where quantiles are taken */

static double as_told(double x)
{
    return x > 1e200 ? (double)INFINITY : x;
}

static struct st_interval interval_of(const struct teller *t, const double x[])
{
    struct st_interval v = { x[0], x[0], x[0], t->status, true };
    if (!t->w->theta && draws_of(t) > 1) {
        st_quantile_pair((size_t)draws_of(t), x + 1, 0.025, 0.975, t->room, &v.low, &v.high);
        v.low = fmin(v.low, v.value);
        v.high = fmax(v.high, v.value);
    }
    v.value = as_told(v.value);
    v.low = as_told(v.low);
    v.high = as_told(v.high);
    return v;
}

/* n times of x[n][n_set]. */
static void tell_series(struct teller *t, int n, const double x[], struct st_jar_series *out)
{
    const size_t sets = (size_t)t->w->n_set, draws = (size_t)draws_of(t), from = (size_t)first_draw(t);
    out->at = get(&t->m, (size_t)n, sizeof *out->at);
    out->raw = t->keep ? get(&t->m, (size_t)n * draws, sizeof *out->raw) : NULL;
    for (size_t i = 0; i < (size_t)n && out->at; i++) {
        out->at[i] = interval_of(t, x + i * sets);
        if (out->raw)
            memcpy(out->raw + i * draws, x + i * sets + from, draws * sizeof *x);
    }
}

static double filled_at(const struct st_jar_work *w)
{
    return w->start[st_jar_filled_at(w->j, w->j->n_stage - 1)];
}

/* Where the axis of times begins, from the beginning. */
static double zero_of(const struct st_jar_work *w)
{
    return w->o->own_clock ? filled_at(w) : 0.0;
}

static double moment_of(const struct st_jar_work *w, int grid)
{
    return w->start[w->time[grid].stage] - zero_of(w) + w->time[grid].t_s;
}

static double plan_of(const struct st_jar_work *w)
{
    const int last = w->j->n_stage - 1;
    return w->start[last] - zero_of(w) + w->j->stage[last].time_s;
}

static double look_of(const struct st_jar_work *w)
{
    return w->o->own_clock && w->o->look_s > 0.0 ? w->o->look_s : plan_of(w);
}

/* The last told time that is not after t_s. */
static size_t told_until(const struct teller *t, const double time[], double t_s)
{
    size_t at = 0;
    for (size_t i = 0; i < (size_t)t->w->n_told; i++)
        if (time[i] <= t_s * (1.0 + 1e-9))
            at = i;
    return at;
}

/* Times that are told: all, or as far as was asked for. */
static size_t n_shown(const struct teller *t, const double time[])
{
    const struct st_jar_options *o = t->w->o;
    return o->own_clock && o->look_s > 0.0 ? told_until(t, time, o->look_s) + 1 : (size_t)t->w->n_told;
}

/* When the share first comes to y0, between two times on a line. */
static double when_of(const struct teller *t, const double share[], const double time[], size_t k, double y0)
{
    const size_t sets = (size_t)t->w->n_set, shown = n_shown(t, time);
    for (size_t i = 0; i < shown; i++) {
        const double y = share[i * sets + k];
        if (y < y0)
            continue;
        if (i == 0)
            return time[0];
        const double before = share[(i - 1) * sets + k];
        return time[i - 1] + (time[i] - time[i - 1]) * (y > before ? (y0 - before) / (y - before) : 1.0);
    }
    return NEVER;
}

/* Shares of the last jar alone: of what had not come before it was filled. */
static void tell_own_shares(const struct st_jar_work *w, struct st_jar_raw *raw)
{
    const size_t sets = (size_t)w->n_set, told = (size_t)w->n_told;
    for (size_t f = 0; f < (size_t)w->n_followed; f++)
        for (size_t k = 0; k < sets; k++) {
            double *share = raw->share + f * told * sets + k;
            const double before = share[0] > 1e-12 ? share[0] : 0.0, left = 1.0 - before; /* not what rounding left */
            double *faded = raw->left ? raw->left + f * told * sets + k : NULL;
            const double then = faded ? faded[0] : 1.0; /* share is then of what was not faded */
            raw->before[f * sets + k] = before;
            raw->weight[f * sets + k] *= left;
            for (size_t i = 0; i < told; i++)
                share[i * sets] = left > 1e-9 ? fmax(share[i * sets] - before, 0.0) / left : 1.0;
            for (size_t i = 0; i < told && faded && then > 0.0; i++)
                faded[i * sets] /= then;
        }
}

/* What faded of each colour, entry by entry; where that does not balance is closure's business. */
static void book_faded(struct st_jar_work *w, struct st_jar_raw *raw)
{
    const size_t sets = (size_t)w->n_set, all = (size_t)w->n_told * sets;
    for (int f = 0; f < w->n_followed; f++) {
        if (!w->followed[f].fades)
            continue;
        const double *out = raw->share + (size_t)f * all, *stays = raw->left + (size_t)f * all;
        double *faded = raw->faded + (size_t)f * all;
        for (size_t i = 0; i < all; i++) {
            const double was_out = i < sets ? 0.0 : out[i - sets], stayed = i < sets ? 1.0 : stays[i - sets];
            const double in_the_step = was_out * (stayed - stays[i]), by_then = (out[i] - was_out) * (1.0 - stays[i]);
            faded[i] = (i < sets ? 0.0 : faded[i - sets]) + in_the_step + by_then;
            w->closure = fmax(w->closure, fabs(out[i] - out[i] * stays[i] - faded[i]));
        }
    }
}

static struct st_interval interval_of_when(struct teller *t, const double share[], const double time[], double y0)
{
    const size_t sets = (size_t)t->w->n_set;
    double *x = t->room + sets;
    for (size_t k = 0; k < sets; k++)
        x[k] = when_of(t, share, time, k, y0);
    return interval_of(t, x);
}

/* A curve, which may be a family: share, left, faded and mg [n_told][n_set], the others [n_set]. */
struct numbers {
    const double *share, *left;          /* what has come; what is left of that: the same where nothing fades */
    const double *faded;                 /* read where it fades */
    const double *mg;                    /* NULL: not known */
    const double *comes, *before, *fade; /* fade: NULL where nothing does */
};

static void tell_curve(struct teller *t, const struct numbers *x, const double time[], struct st_jar_curve *out)
{
    const size_t told = (size_t)t->w->n_told, shown = n_shown(t, time), plan = told_until(t, time, plan_of(t->w));
    struct st_jar_series a = { NULL, NULL }, b = { NULL, NULL }, faded = { NULL, NULL }, given;
    tell_series(t, (int)told, x->left, &a);
    given = a;
    if (x->fade) {
        tell_series(t, (int)told, x->share, &given);
        tell_series(t, (int)told, x->faded, &faded);
    }
    if (x->mg)
        tell_series(t, (int)told, x->mg, &b);
    if (!t->m.base)
        return;
    out->share = a;
    out->given = given;
    out->faded = faded;
    out->mg_l = b;
    out->comes = interval_of(t, x->comes);
    out->before = interval_of(t, x->before);
    out->fades = x->fade != NULL;
    if (x->fade)
        out->fade_s = interval_of(t, x->fade);
    out->at_plan = a.at[plan < shown ? plan : shown - 1];
    out->at_last = a.at[shown - 1];
    out->at_look = a.at[told_until(t, time, look_of(t->w))];
    out->most_s = interval_of_when(t, x->share, time, 0.9);
    out->half_s = interval_of_when(t, x->share, time, 0.5);
}

static void name_families(const struct st_jar_work *w, int family[], int *n)
{
    *n = 0;
    for (int f = 0; f < w->n_followed; f++) {
        family[f] = -1;
        for (int e = 0; e < f && family[f] < 0; e++)
            if (strcmp(w->followed[e].family, w->followed[f].family) == 0)
                family[f] = family[e];
        if (family[f] < 0)
            family[f] = (*n)++;
    }
}

/* Members that lie in the jar, or all where none does. */
static void drop_what_is_out(const struct st_jar_work *w, int family[], int n)
{
    for (int g = 0; g < n; g++) {
        bool any = false;
        for (int f = 0; f < w->n_followed; f++)
            any = any || (family[f] == g && w->followed[f].lies);
        for (int f = 0; f < w->n_followed && any; f++)
            if (family[f] == g && !w->followed[f].lies)
                family[f] = -1;
    }
}

static bool all_known(const struct st_jar_work *w, const int family[], int which)
{
    bool known = true;
    for (int f = 0; f < w->n_followed; f++)
        known = known && (family[f] != which || w->followed[f].known);
    return known;
}

/* In how long half of it fades; NULL when it does not. */
static const double *fade_of(const struct teller *t, int f)
{
    return t->w->followed[f].fades ? t->raw->fade + (size_t)f * (size_t)t->w->n_set : NULL;
}

/* What is left of what has come out of curve f. */
static void take_faded(const struct teller *t, int f, double left[])
{
    const size_t all = (size_t)t->w->n_told * (size_t)t->w->n_set, at = (size_t)f * all;
    for (size_t i = 0; i < all; i++)
        left[i] = t->raw->share[at + i] * (fade_of(t, f) ? t->raw->left[at + i] : 1.0);
}

/* Members added up: by what each can bring where that is known of all, else alike. */
static void add_up(const struct teller *t, const int family[], int which, bool known, double *share, double *left,
                   double *faded, double *mg)
{
    const struct st_jar_work *w = t->w;
    const size_t sets = (size_t)w->n_set, all = (size_t)w->n_told * sets;
    memset(share, 0, all * sizeof *share);
    memset(left, 0, all * sizeof *left);
    memset(faded, 0, all * sizeof *faded);
    memset(mg, 0, all * sizeof *mg);
    for (size_t i = 0; i < all; i++) {
        double sum = 0.0, plain = 0.0, plain_left = 0.0, plain_faded = 0.0, n = 0.0;
        for (int f = 0; f < w->n_followed; f++) {
            if (family[f] != which)
                continue;
            const size_t at = (size_t)f * all + i;
            const double weight = known ? t->raw->weight[(size_t)f * sets + i % sets] : 1.0;
            const double here = t->raw->share[at], stays = here * (fade_of(t, f) ? t->raw->left[at] : 1.0);
            const double gone = fade_of(t, f) ? t->raw->faded[at] : 0.0;
            share[i] += weight * here;
            left[i] += weight * stays;
            faded[i] += weight * gone;
            plain += here;
            plain_left += stays;
            plain_faded += gone;
            sum += weight;
            n += 1.0;
            mg[i] += t->raw->mg[at];
        }
        share[i] = sum > 0.0 ? share[i] / sum : plain / n;
        left[i] = sum > 0.0 ? left[i] / sum : plain_left / n;
        faded[i] = sum > 0.0 ? faded[i] / sum : plain_faded / n;
    }
}

static void mean_of(const struct teller *t, const int family[], int which, const double x[], double mean[])
{
    const struct st_jar_work *w = t->w;
    for (int k = 0; k < w->n_set; k++) {
        double sum = 0.0, n = 0.0;
        for (int f = 0; f < w->n_followed; f++)
            if (family[f] == which) {
                sum += x[(size_t)f * (size_t)w->n_set + (size_t)k];
                n += 1.0;
            }
        mean[k] = sum / n;
    }
}

static void name_curve(const struct st_jar_followed *f, bool alone, struct st_jar_curve *out)
{
    out->piece = alone ? f->piece : -1;
    out->what = alone ? f->what : NULL;
    out->name = alone ? f->name : f->family;
    out->family = f->family;
    out->of = f->of;
    out->late = f->late;
    out->known = f->known;
    out->lies = f->lies;
}

/* Room for what is added up of a family. */
struct added {
    double *share, *left, *faded, *mg, *comes, *before;
};

static void tell_family(struct teller *t, const int family[], int n, const double time[], const struct added *k,
                        struct st_jar_told *out)
{
    const struct st_jar_work *w = t->w;
    struct st_jar_curve none = { 0 }, *c = out->family ? &out->family[n] : &none;
    const bool known = all_known(w, family, n);
    if (t->m.base) /* not while only measuring */
        add_up(t, family, n, known, k->share, k->left, k->faded, k->mg);
    bool late = true, lies = false;
    const double *fade = NULL;
    for (int f = w->n_followed - 1; f >= 0; f--)
        if (family[f] == n) {
            name_curve(&w->followed[f], false, c);
            fade = fade_of(t, f) ? fade_of(t, f) : fade;
            late = late && w->followed[f].late;
            lies = lies || w->followed[f].lies;
        }
    c->lies = lies;
    c->late = late;
    c->known = known;
    c->full = 0.0;
    mean_of(t, family, n, t->raw->comes, k->comes);
    mean_of(t, family, n, t->raw->before, k->before);
    const struct numbers x = { k->share, fade ? k->left : k->share, k->faded, known ? k->mg : NULL, k->comes, k->before,
                               fade };
    tell_curve(t, &x, time, c);
}

static bool tell_curves(struct teller *t, const double time[], struct st_jar_told *out)
{
    const struct st_jar_work *w = t->w;
    const size_t all = (size_t)w->n_told * (size_t)w->n_set;
    int family[ST_JAR_CURVES] = { 0 };
    double *share = malloc((all ? all : 1) * sizeof *share), *mg = malloc((all ? all : 1) * sizeof *mg);
    const size_t n_set = (size_t)(w->n_set > 0 ? w->n_set : 1);
    double *comes = calloc(n_set, sizeof *comes), *before = calloc(n_set, sizeof *before);
    double *left = malloc((all ? all : 1) * sizeof *left), *faded = malloc((all ? all : 1) * sizeof *faded);
    const bool room = share && mg && comes && before && left && faded;
    name_families(w, family, &out->n_family);
    if (w->o->own_clock)
        drop_what_is_out(w, family, out->n_family);
    out->n_curve = w->n_followed;
    out->curve = get(&t->m, (size_t)out->n_curve, sizeof *out->curve);
    out->family = get(&t->m, (size_t)out->n_family, sizeof *out->family);
    for (int f = 0; f < w->n_followed && room; f++) {
        struct st_jar_curve none = { 0 }, *c = out->curve ? &out->curve[f] : &none;
        name_curve(&w->followed[f], true, c);
        c->full = t->raw->full[f];
        if (fade_of(t, f))
            take_faded(t, f, left);
        const size_t sets = (size_t)f * (size_t)w->n_set;
        const struct numbers x = { .share = t->raw->share + (size_t)f * all,
                                   .left = fade_of(t, f) ? left : t->raw->share + (size_t)f * all,
                                   .faded = fade_of(t, f) ? t->raw->faded + (size_t)f * all : NULL,
                                   .mg = c->known ? t->raw->mg + (size_t)f * all : NULL,
                                   .comes = t->raw->comes + sets,
                                   .before = t->raw->before + sets,
                                   .fade = fade_of(t, f) };
        tell_curve(t, &x, time, c);
        if (t->keep)
            tell_series(t, w->n_told, t->raw->here + (size_t)f * all, &c->here);
    }
    const struct added k = { share, left, faded, mg, comes, before };
    for (int n = 0; n < out->n_family && room; n++)
        tell_family(t, family, n, time, &k, out);
    free(share);
    free(mg);
    free(comes);
    free(before);
    free(left);
    free(faded);
    return room;
}

static void tell_ends(struct teller *t, struct st_jar_told *out)
{
    const struct st_jar_work *w = t->w;
    const size_t sets = (size_t)w->n_set, n_stage = (size_t)w->j->n_stage;
    out->n_end = 0;
    for (int s = 0; s < w->j->n_stage; s++)
        out->n_end += w->j->stage[s].steeps;
    out->end = get(&t->m, (size_t)out->n_end, sizeof *out->end);
    for (int s = 0, n = 0; s < w->j->n_stage; s++) {
        struct st_jar_end none = { 0 }, *e = out->end ? &out->end[n] : &none;
        const double *x = t->raw->end + (size_t)s * sets;
        if (!w->j->stage[s].steeps)
            continue;
        n++;
        e->stage = s;
        e->start_s = w->start[s];
        e->end_s = w->start[s] + w->length[s];
        tell_series(t, 1, x, &e->liquor_g);
        tell_series(t, 1, x + n_stage * sets, &e->liquor_ml);
        tell_series(t, 1, x + 2 * n_stage * sets, &e->strength);
        tell_series(t, 1, x + 3 * n_stage * sets, &e->sugar);
        tell_series(t, 1, x + 4 * n_stage * sets, &e->solids_g);
    }
}

static void tell_times(struct teller *t, double time[], struct st_jar_told *out)
{
    const struct st_jar_work *w = t->w;
    out->t_s = get(&t->m, (size_t)w->n_told, sizeof *out->t_s);
    out->stage = get(&t->m, (size_t)w->n_told, sizeof *out->stage);
    for (int i = 0; i < w->n_grid; i++) {
        const int at = w->time[i].told;
        if (at < 0)
            continue;
        time[at] = moment_of(w, i);
        if (out->t_s) {
            out->t_s[at] = time[at];
            out->stage[at] = w->time[i].stage;
        }
    }
}

static bool tell_all(struct teller *t, struct st_jar_told *out)
{
    double time[ST_JAR_GRID] = { 0.0 };
    const int n = t->w->n_told;
    out->n_time = n;
    out->draws = draws_of(t);
    out->plan_s = plan_of(t->w);
    out->look_s = look_of(t->w);
    out->filled_s = filled_at(t->w);
    out->closure = t->w->closure;
    tell_times(t, time, out);
    tell_series(t, n, t->raw->strength, &out->strength);
    tell_series(t, n, t->raw->sugar, &out->sugar);
    tell_series(t, n, t->raw->acid, &out->acid);
    tell_series(t, n, t->raw->volume, &out->volume_ml);
    tell_series(t, n, t->raw->undissolved, &out->undissolved_g);
    tell_ends(t, out);
    out->n_time = (int)n_shown(t, time);
    return tell_curves(t, time, out);
}

enum st_status st_jar_tell(struct st_jar_work *w, struct st_jar_raw *raw, struct st_jar_told *out)
{
    struct teller t = { .w = w, .raw = raw, .keep = w->theta || w->o->keep, .status = w->status };
    if (w->o->own_clock)
        tell_own_shares(w, raw);
    book_faded(w, raw);
    t.room = malloc(2 * (size_t)w->n_set * sizeof *t.room);
    bool done = t.room && tell_all(&t, out);
    if (done) {
        void *room = calloc(t.m.used ? t.m.used : 1, 1);
        t.m = (struct bump){ room, 0 };
        done = room && tell_all(&t, out);
        out->room = room;
    }
    free(t.room);
    if (done)
        return ST_OK;
    st_jar_told_done(out);
    return ST_E_NOCONV;
}

void st_jar_told_done(struct st_jar_told *t)
{
    free(t->room);
    memset(t, 0, sizeof *t);
}
