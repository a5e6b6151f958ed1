#include <math.h>

#include "caution_list.h"
#include "core/keeping.h"
#include "correct_words.h"

/* What must be read before a batch is changed. */

/* The weakest end of all that is shown. */
static const struct st_correct_made *weakest(const struct st_correct_found *f)
{
    const struct st_correct_made *m = f->met ? NULL : &f->nearest.made;
    for (int by = 0; by < ST_CORRECT_NBY; by++) {
        const struct st_correct_option *o = &f->option[by];
        if (st_correct_shown(o) && (!m || o->made.fig[ST_CORRECT_STRENGTH].low < m->fig[ST_CORRECT_STRENGTH].low))
            m = &o->made;
    }
    return m;
}

static void weak(const struct st_correct_found *f, struct st_cautions *out)
{
    const struct st_floor_row *shelf = st_floor_get(ST_FLOOR_SHELF), *cold = st_floor_get(ST_FLOOR_COLD);
    const struct st_correct_made *m = weakest(f);
    if (!m || m->fig[ST_CORRECT_STRENGTH].low >= shelf->limit)
        return;
    const struct st_interval *q = &m->fig[ST_CORRECT_STRENGTH];
    const bool falls = f->before.fig[ST_CORRECT_STRENGTH].value >= shelf->limit;
    struct st_caution *c = st_caution_add(
        out, q->value < shelf->limit ? ST_LEVEL_CAUTION : ST_LEVEL_NOTE, "weak_bottle", shelf->source, -1, -1,
        q->value < cold->limit    ? "treat it as perishable: in the refrigerator, for days (%.1f %% vol)"
        : q->value < shelf->limit ? "keep it in the refrigerator (%.1f %% vol)"
                                  : "it may be too weak to keep on a shelf (%.1f %% vol)",
        q->value);
    st_caution_because(
        c,
        "%sbelow %.0f %% vol strength alone is not counted on to keep a drink; with its sugar it has %.0f "
        "Delle units, and yeast was stopped from 75 to 85 on [delle_floors]",
        falls ? "it keeps by its strength now and would not any more: " : "", shelf->limit,
        m->fig[ST_CORRECT_SUGAR].value / 10.0 + 4.5 * q->value);
}

static void crystals(const struct st_correct_found *f, struct st_cautions *out)
{
    const struct st_correct_made *m = f->met ? &f->option[ST_BY_LEAST].made : &f->nearest.made;
    if (!(m->sugar_full > 1.0))
        return;
    struct st_caution *c = st_caution_add(out, ST_LEVEL_CAUTION, "crystallises", "[schrefeld1894]", -1, -1,
                                          "so much sugar does not dissolve in it");
    st_caution_because(c,
                       "it would hold %.2f times what dissolves at 20 \xc2\xb0"
                       "C",
                       m->sugar_full);
}

/* From 60 % vol on: policy, from memory; vapour over it burns at room temperature from about 40 % vol on. */
static const double FIERY = 60.0 - 0.05; /* as a label says it, to a tenth */

static double strength_of(const struct st_correct_thing *t)
{
    return 100.0 * t->g[ST_ETHANOL] / 0.78924;
}

static void fire(const struct st_correct_ask *a, const struct st_correct_found *f, struct st_cautions *out)
{
    for (int i = 0; i < a->n_thing; i++) {
        bool used = !f->met && f->nearest.made.amount[i] > 0.0;
        for (int by = 0; by < ST_CORRECT_NBY; by++)
            used = used || (st_correct_shown(&f->option[by]) && f->option[by].made.amount[i] > 0.0);
        if (!used || a->thing[i].by_weight || strength_of(&a->thing[i]) < FIERY)
            continue;
        struct st_caution *c = st_caution_add(out, ST_LEVEL_CAUTION, "flammable", "common practice, no source", -1, -1,
                                              "no flame, hob or spark near %s while it is open", a->thing[i].name);
        st_caution_because(c, "its vapour burns at room temperature");
    }
}

void st_correct_cautions(const struct st_correct_ask *a, const struct st_correct_found *f, struct st_cautions *out)
{
    out->n = 0;
    out->left_out = 0;
    weak(f, out);
    crystals(f, out);
    fire(a, f, out);
    st_caution_overflow(out);
}
