#include <math.h>
#include <string.h>

#include "cli/aim.h"
#include "text/cautions.h"

/* The document of docs/api.md, POST /api/aim; steps and lines are numbered from 1. */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static const char *currency(const struct aim_task *t)
{
    return t->file->recipe.currency ? t->file->recipe.currency : "";
}

static double before(const struct aim_task *t, const struct st_dial *d)
{
    const struct st_line *l = &t->file->recipe.step[d->step].line[d->line];
    if (d->of == ST_DIAL_AMOUNT)
        return l->amount.value;
    return l->strength.known ? l->strength.value : l->what->strength.value;
}

static json_t *one_amount(const struct aim_task *t, int k)
{
    const struct st_dial *d = &t->aim.dial[k].dial;
    const struct st_recipe *r = &t->file->recipe;
    const struct st_amount *m = &r->step[d->step].line[d->line].amount;
    const bool amount = d->of == ST_DIAL_AMOUNT;
    char name[96], old[64], new[64];
    json_t *o = json_object();
    aim_dial_name(r, d, name, sizeof name);
    aim_dial_text(r, d, amount ? 1.0 : before(t, d), old, sizeof old);
    aim_dial_text(r, d, t->value[k], new, sizeof new);
    json_object_set_new(o, "step", json_integer(d->step + 1));
    json_object_set_new(o, "line", json_integer(d->line + 1));
    json_object_set_new(o, "of", json_string(amount ? "amount" : "strength"));
    json_object_set_new(o, "name", json_string(name));
    json_object_set_new(o, "before", real(before(t, d)));
    json_object_set_new(o, "after", real(amount ? t->value[k] * m->value : t->value[k]));
    json_object_set_new(o, "exact", real(amount ? t->found.value[k] * m->value : t->found.value[k]));
    json_object_set_new(o, "unit",
                        json_string(!amount                  ? "% vol"
                                    : m->dim == ST_DIM_PIECE ? "piece"
                                                             : st_dimension_base(m->dim)));
    json_object_set_new(o, "text_before", json_string(old));
    json_object_set_new(o, "text_after", json_string(new));
    return o;
}

static const struct st_wish *wish_of(const struct aim_task *t, enum st_figure f, int *at)
{
    for (int i = 0; i < t->aim.n_wish; i++)
        if (t->aim.wish[i].of == f) {
            *at = i;
            return &t->aim.wish[i];
        }
    return NULL;
}

static json_t *figures(const struct aim_task *t)
{
    json_t *all = json_object();
    for (int f = 0; f < ST_NFIG; f++) {
        double pip[AIM_PIPS];
        int at = 0;
        json_t *o = cli_json_interval(&t->out.fig[f]);
        const struct st_wish *w = wish_of(t, (enum st_figure)f, &at);
        if (json_is_object(o) && aim_pips(&t->out, (enum st_figure)f, pip) == AIM_PIPS) {
            json_t *pips = json_array();
            for (int i = 0; i < AIM_PIPS; i++)
                json_array_append_new(pips, real(pip[i]));
            json_object_set_new(o, "pips", pips);
        }
        if (json_is_object(o) && w && t->out.draws > 0)
            json_object_set_new(o, "in_wish", json_integer(aim_of_twenty(&t->out, w)));
        json_object_set_new(all, st_figure_info((enum st_figure)f)->key, o);
    }
    return all;
}

static json_t *wishes(const struct aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->aim.n_wish; i++) {
        const struct st_wish *w = &t->aim.wish[i];
        char text[96];
        aim_wish_text(w, currency(t), text, sizeof text);
        json_t *o = json_object();
        json_object_set_new(o, "figure", json_string(st_figure_info(w->of)->key));
        json_object_set_new(o, "low", real(w->low));
        json_object_set_new(o, "high", real(w->high));
        json_object_set_new(o, "tolerance", real(w->tolerance));
        json_object_set_new(o, "met", json_boolean(t->miss[i] == 0.0));
        json_object_set_new(o, "miss", real(t->miss[i]));
        json_object_set_new(o, "share_of_makings", real(t->odds.each[i]));
        json_object_set_new(o, "text", json_string(text));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *stops(const struct aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->found.n_stop; i++) {
        const struct st_aim_stop *s = &t->found.stop[i];
        const struct st_aim_dial *d = s->dial >= 0 ? &t->aim.dial[s->dial] : NULL;
        const struct st_amount *m =
            d ? &t->file->recipe.step[d->dial.step].line[d->dial.line].amount : NULL; /* of its unit */
        const bool amount = d && d->dial.of == ST_DIAL_AMOUNT;
        char text[300];
        aim_stop_text(&t->aim, s, text, sizeof text);
        json_t *o = json_object();
        json_object_set_new(o, "what", json_string(text));
        json_object_set_new(o, "bound", json_string(s->upper ? "high" : "low"));
        json_object_set_new(o, "value", real(amount ? s->at * m->value : s->at));
        if (!d && t->aim.limit[s->limit].of == ST_LIMIT_HAVE) /* of one ingredient: the dimension of any of its lines */
            for (int k = 0; k < t->aim.n_dial; k++)
                if (t->aim.limit[s->limit].which & (1u << k))
                    m = &t->file->recipe.step[t->aim.dial[k].dial.step].line[t->aim.dial[k].dial.line].amount;
        json_object_set_new(o, "unit",
                            json_string(!d && !m       ? "mL"
                                        : d && !amount ? "% vol"
                                                       : st_dimension_base(m->dim)));
        json_object_set_new(o, "gain", real(s->gain));
        json_object_set_new(o, "gain_share", real(s->gain / t->found.score));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *ways(const struct aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->n_way; i++) {
        char text[300];
        json_t *o = json_object(), *f = json_object();
        aim_way_text(&t->aim, &t->way[i], currency(t), text, sizeof text);
        for (int k = 0; k < ST_NFIG; k++)
            json_object_set_new(f, st_figure_info((enum st_figure)k)->key, real(t->way[i].found.y[k]));
        json_object_set_new(o, "text", json_string(text));
        json_object_set_new(o, "recipe",
                            t->way_recipe[i].length ? json_string(st_buf_text(&t->way_recipe[i])) : json_null());
        json_object_set_new(o, "figures", f);
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *notes(const struct aim_task *t)
{
    json_t *all = json_array();
    char text[500];
    for (int i = 0; i < t->out.n_note; i++)
        if (!page_note(t->recipe, &t->out.note[i], text, sizeof text))
            json_array_append_new(all, json_string(text));
    if (t->changed.length == 0 && *t->why_not.what)
        json_array_append_new(all, json_sprintf("%s: %s; %s", t->why_not.what, t->why_not.why, t->why_not.try_));
    return all;
}

json_t *aim_json(const struct aim_task *t)
{
    json_t *doc = json_object(), *amounts = json_array();
    char near[300];
    for (int k = 0; k < t->aim.n_dial; k++)
        json_array_append_new(amounts, one_amount(t, k));
    aim_near_text(&t->aim, t->found.y, currency(t), near, sizeof near);
    json_object_set_new(doc, "title", json_string(t->file->recipe.title ? t->file->recipe.title : ""));
    json_object_set_new(doc, "met", json_boolean(t->met));
    json_object_set_new(doc, "wish", wishes(t));
    json_object_set_new(doc, "because", json_string(t->because));
    json_object_set_new(doc, "times", t->times > 0.0 ? real(t->times) : json_null());
    json_object_set_new(doc, "amounts", amounts);
    json_object_set_new(doc, "figures", figures(t));
    json_object_set_new(doc, "all_wishes",
                        t->aim.n_wish && t->out.draws > 0 ? json_integer((json_int_t)round(20.0 * t->odds.all))
                                                          : json_null());
    json_object_set_new(doc, "joint", t->aim.n_wish ? real(t->odds.all) : json_null());
    json_object_set_new(doc, "stopped_by", stops(t));
    json_object_set_new(doc, "nearest", t->met ? json_null() : json_string(near));
    json_object_set_new(doc, "ways", ways(t));
    json_object_set_new(doc, "recipe", t->changed.length ? json_string(st_buf_text(&t->changed)) : json_null());
    json_object_set_new(doc, "notes", notes(t));
    json_object_set_new(doc, "cautions", cli_cautions_json(&t->cautions));
    json_object_set_new(doc, "seed", json_integer((json_int_t)t->cli->seed));
    json_object_set_new(doc, "draws", json_integer(t->cli->draws));
    return doc;
}
