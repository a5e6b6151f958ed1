#include "clearing_bench.h"

#include <math.h>
#include <string.h>

static const double TIMES[ST_BENCH_GLASSES] = { 0.0, 0.25, 0.5, 1.0, 2.0 };

static char plain(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c == '-' || c == '_' ? ' ' : c);
}

static bool same(const char *a, size_t n, const char *b)
{
    for (size_t i = 0; i < n; i++)
        if (b[i] == '\0' || plain(a[i]) != plain(b[i]))
            return false;
    return b[n] == '\0';
}

static bool among(const char *list, const char *name)
{
    while (*list) {
        const size_t n = strcspn(list, "|");
        if (same(list, n, name))
            return true;
        list += n + (list[n] == '|');
    }
    return false;
}

const struct st_agent *st_agent_find(const struct st_agents *all, const char *name)
{
    for (int i = 0; i < all->n; i++) {
        const struct st_agent *a = &all->row[i];
        if (same(a->key, strlen(a->key), name) || same(a->name, strlen(a->name), name) || among(a->names, name))
            return a;
    }
    return NULL;
}

static struct st_interval scaled(const struct st_interval *x, double by)
{
    return (struct st_interval){ x->value * by, x->low * by, x->high * by, x->status, x->known };
}

bool st_agent_acts(const struct st_agent *a, const struct st_clearing *c)
{
    return (a->acts & c->haze) != 0;
}

bool st_agent_is_tried(const struct st_agent *a, const struct st_clearing *c)
{
    const bool fining = a->role == ST_AGENT_FINE || a->role == ST_AGENT_NEAT;
    return !c->milky && !(fining && a->acts && c->haze == ST_CLOUD_OIL);
}

double st_bench_sample(const struct st_interval *volume)
{
    static const double ML[] = { 100.0, 50.0, 20.0 };
    for (size_t i = 0; i < sizeof ML / sizeof *ML; i++)
        if (volume->known && ML[i] * ST_BENCH_GLASSES <= 0.5 * volume->low)
            return ML[i];
    return 0.0;
}

enum st_status st_bench_plan(const struct st_agent *a, double sample_ml, double stock, const struct st_interval *volume,
                             struct st_bench *b)
{
    const double taken = sample_ml * ST_BENCH_GLASSES;
    if (a->role != ST_AGENT_FINE && a->role != ST_AGENT_NEAT)
        return ST_E_REFUSED;
    if (!(sample_ml >= 1.0 && sample_ml <= 1e4) || !(stock >= 0.01 && stock <= 50.0) || !volume->known ||
        !(volume->low > taken && volume->low <= volume->value && volume->value <= volume->high &&
          isfinite(volume->high)))
        return ST_E_DOMAIN;

    const double middle = 0.5 * (a->low + a->high);
    b->sample_ml = sample_ml;
    b->taken_ml = taken;
    b->left_ml =
        (struct st_interval){ volume->value - taken, volume->low - taken, volume->high - taken, volume->status, true };
    for (int i = 0; i < ST_BENCH_GLASSES; i++) {
        struct st_bench_glass *g = &b->glass[i];
        g->times = TIMES[i];
        g->dose = TIMES[i] * middle;
        /* mL of what is poured for 1 mL of drink: mg/L over mg in a litre of stock, or mL/L */
        const double pour = a->by_volume ? g->dose * 1e-3 : g->dose / (1e4 * stock);
        g->stock_ml = pour * sample_ml;
        g->thinner = pour / (1.0 + pour);
        g->batch_g = scaled(&b->left_ml, g->dose * (a->by_volume ? 1e-3 : 1e-6));
        g->batch_stock_ml = scaled(&b->left_ml, pour);
    }
    return ST_OK;
}

void st_agent_loss(const struct st_agent *a, const struct st_interval *volume, double g, struct st_interval *loss_ml)
{
    const double kept_low = isnan(a->ml_low) ? 0.0 : a->ml_low * g,
                 kept_high = isnan(a->ml_high) ? 0.0 : a->ml_high * g;
    *loss_ml = (struct st_interval){ .low = volume->low * a->loss_low + kept_low,
                                     .high = volume->high * a->loss_high + kept_high,
                                     .status = ST_ESTIMATED,
                                     .known = volume->known };
    loss_ml->value = volume->value * 0.5 * (a->loss_low + a->loss_high) + 0.5 * (kept_low + kept_high);
}

struct st_interval st_volume_after(const struct st_agent *a, const struct st_interval *volume, double g)
{
    struct st_interval loss;
    st_agent_loss(a, volume, g, &loss);
    const double kept_low = isnan(a->ml_low) ? 0.0 : a->ml_low * g,
                 kept_high = isnan(a->ml_high) ? 0.0 : a->ml_high * g;
    return (struct st_interval){ fmax(volume->value - loss.value, 0.0),
                                 fmax(volume->low * (1.0 - a->loss_high) - kept_high, 0.0),
                                 fmax(volume->high * (1.0 - a->loss_low) - kept_low, 0.0), ST_ESTIMATED,
                                 volume->known };
}
