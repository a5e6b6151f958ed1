#include "api/book_batch_behind.h"

#include <math.h>
#include <string.h>

#include "api/book_batch_agree.h"

static bool steeps(const struct st_recipe *recipe, const char *step)
{
    for (int i = 0; i < recipe->n_step; i++)
        if (strcmp(recipe->step[i].id, step) == 0)
            return recipe->step[i].kind == ST_DO_STEEP || recipe->step[i].kind == ST_DO_TOAST;
    return true;
}

static bool is_taken(const struct st_recipe *recipe, const struct book_loss *l)
{
    static const char *const WHY[] = { "spilt", "thrown", "drawn" };
    bool taken = false;
    for (int i = 0; i < (int)(sizeof WHY / sizeof *WHY); i++)
        taken = taken || strcmp(l->why, WHY[i]) == 0;
    return taken && st_batch_of_drink(recipe, l->step);
}

static bool by_then(const char *left, const char *day)
{
    return left && strncmp(left, day, 10) <= 0;
}

enum book_status st_batch_gone_before(const struct st_batch_ask *a, const struct book_batch *batch,
                                      const struct st_recipe *recipe, const char *step, const char *day,
                                      const char **what)
{
    struct st_batch_past past;
    *what = NULL;
    if (steeps(recipe, step))
        return BOOK_OK;
    const enum book_status s = st_batch_past_rows(a, batch->id, &past);
    if (s != BOOK_OK)
        return s;
    for (int i = 0; i < past.n_filled && !*what; i++) {
        const struct book_bottling *f = &past.filled[i];
        if (by_then(f->on_day, day))
            *what = st_arena_printf(a->arena, "%lld x %.6g mL bottled on %.10s", (long long)f->count, f->size_ml,
                                    f->on_day);
    }
    for (int i = 0; i < past.n_drawn && !*what; i++) {
        const struct book_lot *l = &past.drawn[i];
        if (by_then(l->since, day))
            *what =
                st_arena_printf(a->arena, "%.6g %.8s taken as %.20s on %.10s", l->amount, l->dim, l->code, l->since);
    }
    for (int i = 0; i < past.n_loss && !*what; i++) {
        const struct book_loss *l = &past.loss[i];
        if (by_then(l->on_day, day) && is_taken(recipe, l))
            *what =
                st_arena_printf(a->arena, "%.6g %s %.20s on %.10s", isfinite(l->volume_ml) ? l->volume_ml : l->mass_g,
                                isfinite(l->volume_ml) ? "mL" : "g", l->why, l->on_day);
    }
    return BOOK_OK;
}
