#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "take_line.h"

/* An item in the form of tests/take/README.md. */

struct out {
    char *at;
    size_t left;
};

__attribute__((format(printf, 2, 3))) static void put(struct out *o, const char *format, ...);

static void put(struct out *o, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    const int n = vsnprintf(o->at, o->left, format, args);
    va_end(args);
    const size_t used = n < 0 ? 0 : (size_t)n < o->left ? (size_t)n : o->left ? o->left - 1 : 0;
    o->at += used;
    o->left -= used;
}

const char *st_take_kind_name(enum st_take_kind k)
{
    static const char *const NAME[ST_NASK] = { "measures", "strength", "part", "which", "amount", "size" };
    return (int)k >= 0 && k < ST_NASK ? NAME[k] : "";
}

static const char *unit_of(enum st_dimension dim)
{
    return dim == ST_DIM_MASS ? "g" : dim == ST_DIM_VOLUME ? "mL" : "piece";
}

static void put_open(struct out *o, const struct st_amount *a)
{
    switch (a->open) {
    case ST_OPEN_COVER: put(o, " cover"); break;
    case ST_OPEN_TASTE: put(o, " taste"); break;
    case ST_OPEN_TOP_UP: put(o, " top"); break;
    case ST_OPEN_FILL:
        put(o, " fill %.3g of ", a->fill_share);
        if (a->value > 0)
            put(o, "%.6g", a->value);
        else
            put(o, "?");
        break;
    default: put(o, " some"); break;
    }
}

static void put_amount(struct out *o, const struct st_amount *a)
{
    if (a->dim == ST_DIM_OPEN)
        put_open(o, a);
    else if (a->make_up_to)
        put(o, " to %.6g %s", a->value, unit_of(a->dim));
    else if (a->low < a->high)
        put(o, a->vague ? " ~%.6g..%.6g %s" : " %.6g..%.6g %s", a->low, a->high, unit_of(a->dim));
    else
        put(o, " %.6g %s", a->value, unit_of(a->dim));
}

static void put_time(struct out *o, const struct st_amount *t)
{
    const double day = 86400.0, unit = t->value < 0.4 * day ? 60.0 : day;

    if (t->dim != ST_DIM_TIME)
        return;
    put(o, " time %.4g", t->low / unit);
    if (t->low < t->high)
        put(o, "..%.4g", t->high / unit);
    put(o, unit > 100.0 ? " d" : " min");
}

static void put_step(struct out *o, const struct st_take_deed *d)
{
    put(o, "step %s", st_do_name(d->kind));
    put_time(o, &d->time);
    if (d->temperature_K.known)
        put(o, " at %.5g C", d->temperature_K.value - 273.15);
    if (d->press)
        put(o, " press");
    if (d->size_ml > 0.0)
        put(o, " size %.6g mL", d->size_ml);
    if (d->bottles > 0)
        put(o, " bottles %d", d->bottles);
}

static bool asks(const struct st_take_item *item, enum st_take_kind kind)
{
    for (int i = 0; i < item->n_ask; i++)
        if (item->ask[i].kind == kind)
            return true;
    return false;
}

static void put_ingredient(struct out *o, const struct st_take_item *item)
{
    const struct st_range *r = &item->line.strength;

    if (item->line.what) {
        put(o, "%s", item->line.what->slug);
        put_amount(o, &item->line.amount);
        if (r->known && !(asks(item, ST_ASK_STRENGTH) && item->sure == ST_GUESS))
            put(o, r->low < r->high ? " strength %.4g..%.4g" : " strength %.4g", r->low, r->high);
        if (item->line.gross)
            put(o, " gross");
        if (item->line.temperature_K.known && item->line.temperature_K.value > 333.0)
            put(o, " hot");
    }
    if (item->optional)
        put(o, " optional");
    if (item->or_slug[0])
        put(o, " or %s", item->or_slug);
    for (int i = 0; i < item->n_ask; i++)
        put(o, " ask %s", st_take_kind_name(item->ask[i].kind));
}

void st_take_reading(const struct st_take_item *item, char *buf, size_t size)
{
    struct out o = { buf, size };

    if (size)
        buf[0] = '\0';
    switch (item->role) {
    case ST_TAKE_INGREDIENT: put_ingredient(&o, item); break;
    case ST_TAKE_STEP: put_step(&o, &item->deed); break;
    case ST_TAKE_TITLE: put(&o, "title"); break;
    case ST_TAKE_HEADING: put(&o, "heading"); break;
    case ST_TAKE_NOTE: put(&o, "note"); break;
    case ST_TAKE_NOTHING: put(&o, "nothing"); break;
    }
    if (size && buf[0] == ' ')
        memmove(buf, buf + 1, strlen(buf));
}
