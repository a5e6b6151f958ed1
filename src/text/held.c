#include "held.h"

#include <string.h>

#include "name_form.h"

bool st_flag_stops(const struct st_flag *f)
{
    return strcmp(f->what, "banned") == 0 || strcmp(f->what, "denatured") == 0;
}

bool st_ingredient_is_stopped(const struct st_ingredient *in)
{
    for (int i = 0; i < in->n_caution; i++)
        if (st_flag_stops(&in->caution[i]))
            return true;
    return false;
}

int st_flag_weight(const struct st_flag *f)
{
    static const char *const DEGREE[] = { "trace", "low", "moderate", "high" };
    if (st_flag_stops(f))
        return 10;
    for (int i = 0; i < 4; i++)
        if (strcmp(f->degree, DEGREE[i]) == 0)
            return i;
    return 2; /* no degree given: between */
}

/* Words left out of a window: those of preparation, and "dried". */
static unsigned soft_words(const struct st_name_words *w)
{
    unsigned soft = 0;
    for (int i = 0; i < w->n; i++)
        if (st_name_is_soft(w->word[i]) || st_name_is_dried(w->word[i]))
            soft |= 1u << i;
    return soft;
}

/* What these words say, as they are or without those of preparation. */
static const struct st_ingredient *say(const struct st_catalogue *c, const struct st_name_words *w, unsigned outside,
                                       unsigned soft)
{
    char form[ST_NAME_BYTES * 2];
    size_t length = st_name_join(w, outside, form);
    const struct st_ingredient *in = length ? st_catalogue_by_form(c, form, length) : NULL;
    if (in || (soft & ~outside) == 0)
        return in;
    length = st_name_join(w, outside | soft, form);
    return length ? st_catalogue_by_form(c, form, length) : NULL;
}

struct window {
    int from, end;
};

static bool is_inside(const struct window *taken, int n, struct window w)
{
    for (int i = 0; i < n; i++)
        if (taken[i].from <= w.from && w.end <= taken[i].end)
            return true;
    return false;
}

static int keep(const struct st_ingredient *held[ST_HELD], int n, const struct st_ingredient *in)
{
    const bool stops = st_ingredient_is_stopped(in);
    for (int i = 0; i < n; i++)
        if (held[i] == in)
            return n;
    if (n == ST_HELD && !stops)
        return n;
    int at = n < ST_HELD ? n++ : ST_HELD - 1;
    for (; stops && at > 0 && !st_ingredient_is_stopped(held[at - 1]); at--)
        held[at] = held[at - 1];
    held[at] = in;
    return n;
}

int st_held_names(const struct st_catalogue *c, const char *name, size_t size,
                  const struct st_ingredient *held[ST_HELD])
{
    enum { MOST = ST_NAME_WORDS * ST_NAME_WORDS };
    struct st_name_words w;
    struct window taken[MOST];
    int n = 0, n_taken = 0;

    st_name_split(name, size, &w);
    const unsigned soft = soft_words(&w), all = (1u << w.n) - 1u;
    for (int length = w.n; length > 0; length--)
        for (int from = 0; from + length <= w.n; from++) {
            const struct window here = { from, from + length };
            const unsigned inside = ((1u << length) - 1u) << from;
            const struct st_ingredient *in = is_inside(taken, n_taken, here) ? NULL : say(c, &w, all & ~inside, soft);
            if (!in)
                continue;
            taken[n_taken++] = here;
            n = keep(held, n, in);
        }
    return n;
}

const struct st_ingredient *st_held_stop(const struct st_catalogue *c, const char *name, size_t size)
{
    const struct st_ingredient *held[ST_HELD];
    return st_held_names(c, name, size, held) > 0 && st_ingredient_is_stopped(held[0]) ? held[0] : NULL;
}
