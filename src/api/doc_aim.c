#include <math.h>
#include <stdio.h>
#include <string.h>

#include "aim_kitchen.h"
#include "text/aim_words.h"
#include "text/caution_heat.h"
#include "text/kitchen_words.h"
#include "text/ledger_words.h"

/* The document of docs/api.md, POST /api/aim; steps and lines are numbered from 1. */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static const char *currency(const struct st_aim_task *t)
{
    return t->file->recipe.currency ? t->file->recipe.currency : "";
}

static double before(const struct st_aim_task *t, const struct st_dial *d)
{
    const struct st_line *l = &t->file->recipe.step[d->step].line[d->line];
    if (d->of == ST_DIAL_AMOUNT)
        return l->amount.value;
    return l->strength.known ? l->strength.value : l->what->strength.value;
}

/* What burns is told where it is poured. */
static json_t *fire(double strength, const struct st_dial *d)
{
    struct st_cautions one = { .n = 0 };
    (void)st_caution_strong(&one, strength, d ? d->step : -1, d ? d->line : -1);
    return st_doc_cautions(&one);
}

static json_t *one_amount(const struct st_aim_task *t, int k)
{
    const struct st_dial *d = &t->aim.dial[k].dial;
    const struct st_recipe *r = &t->file->recipe;
    const struct st_amount *m = &r->step[d->step].line[d->line].amount;
    const bool amount = d->of == ST_DIAL_AMOUNT;
    char name[96], old[64], new[64];
    json_t *o = json_object();
    st_aim_dial_name(r, d, name, sizeof name);
    st_aim_dial_words(r, d, amount ? 1.0 : before(t, d), old, sizeof old);
    if (t->kitchen)
        st_kitchen_item_words(&t->aim, &t->kitchen->choice.best, k, new, sizeof new);
    else
        st_aim_dial_words(r, d, t->value[k], new, sizeof new);
    json_object_set_new(o, "cautions", fire(st_aim_poured(t, k), d));
    json_object_set_new(o, "step", json_integer(d->step + 1));
    json_object_set_new(o, "line", json_integer(d->line + 1));
    json_object_set_new(o, "of", st_doc_text(amount ? "amount" : "strength"));
    json_object_set_new(o, "name", st_doc_text(name));
    json_object_set_new(o, "before", real(before(t, d)));
    json_object_set_new(o, "after", real(amount ? t->value[k] * m->value : t->value[k]));
    json_object_set_new(o, "exact", real(amount ? t->found.value[k] * m->value : t->found.value[k]));
    json_object_set_new(o, "unit",
                        st_doc_text(!amount                  ? "% vol"
                                    : m->dim == ST_DIM_PIECE ? "piece"
                                                             : st_dimension_base(m->dim)));
    json_object_set_new(o, "text_before", st_doc_text(old));
    json_object_set_new(o, "text_after", st_doc_text(new));
    return o;
}

static json_t *wishes(const struct st_aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->aim.n_wish; i++) {
        const struct st_wish *w = &t->aim.wish[i];
        char text[96];
        st_aim_wish_words(w, currency(t), text, sizeof text);
        json_t *o = json_object();
        json_object_set_new(o, "figure", st_doc_text(st_figure_info(w->of)->key));
        json_object_set_new(o, "low", real(w->low));
        json_object_set_new(o, "high", real(w->high));
        json_object_set_new(o, "tolerance", real(w->tolerance));
        json_object_set_new(o, "met", json_boolean(t->miss[i] == 0.0));
        json_object_set_new(o, "miss", real(t->miss[i]));
        json_object_set_new(o, "share_of_makings", real(t->odds.each[i]));
        json_object_set_new(o, "text", st_doc_text(text));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *stops(const struct st_aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->found.n_stop; i++) {
        const struct st_aim_stop *s = &t->found.stop[i];
        const struct st_aim_dial *d = s->dial >= 0 ? &t->aim.dial[s->dial] : NULL;
        const struct st_amount *m =
            d ? &t->file->recipe.step[d->dial.step].line[d->dial.line].amount : NULL; /* of its unit */
        const bool amount = d && d->dial.of == ST_DIAL_AMOUNT;
        char text[600];
        st_aim_stop_words(&t->aim, s, text, sizeof text);
        json_t *o = json_object();
        json_object_set_new(o, "what", st_doc_text(text));
        json_object_set_new(o, "bound", st_doc_text(s->upper ? "high" : "low"));
        json_object_set_new(o, "value", real(amount ? s->at * m->value : s->at));
        if (!d && t->aim.limit[s->limit].of == ST_LIMIT_HAVE) /* of one ingredient: the dimension of any of its lines */
            for (int k = 0; k < t->aim.n_dial; k++)
                if (t->aim.limit[s->limit].which & (1u << k))
                    m = &t->file->recipe.step[t->aim.dial[k].dial.step].line[t->aim.dial[k].dial.line].amount;
        const enum st_limit_of of = d ? ST_LIMIT_HAVE : t->aim.limit[s->limit].of;
        const bool is_part = of == ST_LIMIT_SUGAR || of == ST_LIMIT_TAKE || of == ST_LIMIT_CARRY;
        json_object_set_new(o, "unit",
                            st_doc_text(is_part        ? "part"
                                        : !d && !m     ? "mL"
                                        : d && !amount ? "% vol"
                                                       : st_dimension_base(m->dim)));
        if (d) {
            json_object_set_new(o, "step", json_integer(d->dial.step + 1));
            json_object_set_new(o, "line", json_integer(d->dial.line + 1));
        }
        json_object_set_new(o, "gain", real(s->gain));
        json_object_set_new(o, "closes", real(st_aim_stop_gap(&t->aim, &t->found, i)));
        json_object_set_new(o, "gain_share", real(s->gain / t->found.score));
        json_array_append_new(all, o);
    }
    return all;
}

json_t *st_doc_aim_held(const struct st_aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->n_held; i++) {
        const struct st_aim_held *h = &t->held[i];
        json_t *o = json_object();
        json_object_set_new(o, "toxicant", st_doc_text(h->toxicant->slug));
        json_object_set_new(o, "name", st_doc_text(h->toxicant->name));
        json_object_set_new(o, "rule", st_doc_text(h->rule->id));
        json_object_set_new(o, "source", st_doc_text(h->rule->source));
        json_object_set_new(o, "high", real(h->high));
        json_object_set_new(o, "limit", real(h->limit));
        json_object_set_new(o, "unit", st_doc_text(st_limit_words(h->rule->unit)));
        json_object_set_new(o, "passed", json_boolean(h->passed));
        json_object_set_new(o, "as_written", json_boolean(h->as_written));
        json_object_set_new(o, "text", st_doc_text(h->text));
        json_object_set_new(o, "most", *h->most ? st_doc_text(h->most) : json_null());
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *gave_way(const struct st_aim_task *t, const double y[ST_NFIG])
{
    char text[500];
    st_aim_gave_words(&t->found.stays, y, text, sizeof text);
    return st_doc_text(text);
}

static json_t *ways(const struct st_aim_task *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->n_way; i++) {
        char text[300];
        json_t *o = json_object(), *f = json_object();
        st_aim_way_words(&t->aim, &t->way[i], currency(t), text, sizeof text);
        for (int k = 0; k < ST_NFIG; k++)
            json_object_set_new(f, st_figure_info((enum st_figure)k)->key, real(t->way[i].found.y[k]));
        json_object_set_new(o, "text", st_doc_text(text));
        st_aim_near_words(&t->way[i].aim, t->way[i].found.y, currency(t), text, sizeof text);
        json_object_set_new(o, "gives", st_doc_text(text));
        json_object_set_new(o, "gave_way", gave_way(t, t->way[i].found.y));
        json_object_set_new(o, "recipe",
                            t->way_recipe[i].length ? st_doc_text(st_buf_text(&t->way_recipe[i])) : json_null());
        json_object_set_new(o, "figures", f);
        json_object_set_new(o, "cautions", fire(st_aim_way_poured(&t->way[i]), NULL));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *why_not(const struct st_problem *p)
{
    char text[700];
    snprintf(text, sizeof text, "%s: %s; %s", p->what, p->why, p->try_);
    return st_doc_text(text);
}

static json_t *notes(const struct st_aim_task *t)
{
    json_t *all = json_array();
    char text[500];
    for (int i = 0; i < t->out.n_note; i++)
        if (!st_note_words(t->recipe, &t->out.note[i], text, sizeof text))
            json_array_append_new(all, st_doc_text(text));
    if (t->changed.length == 0 && *t->why_not.what)
        json_array_append_new(all, why_not(&t->why_not));
    return all;
}

json_t *st_doc_aim(const struct st_aim_task *t)
{
    json_t *doc = json_object(), *amounts = json_array();
    char near[300];
    for (int k = 0; k < t->aim.n_dial && !t->stop; k++)
        json_array_append_new(amounts, one_amount(t, k));
    double y[ST_NFIG]; /* of what is drawn, so that the words agree with it */
    for (int f = 0; f < ST_NFIG; f++)
        y[f] = t->out.fig[f].value;
    st_aim_near_words(&t->aim, y, currency(t), near, sizeof near);
    json_object_set_new(doc, "title", st_doc_text(t->file->recipe.title ? t->file->recipe.title : ""));
    json_object_set_new(doc, "stop", t->stop ? st_doc_text(t->stop->name) : json_null());
    json_object_set_new(doc, "met", json_boolean(t->met));
    json_object_set_new(doc, "wish", wishes(t));
    json_object_set_new(doc, "because", st_doc_text(t->because));
    json_object_set_new(doc, "times", t->times > 0.0 ? real(t->times) : json_null());
    json_object_set_new(doc, "amounts", amounts);
    st_figures_out(doc, t->recipe, &t->out, &t->wished, true);
    json_object_set_new(doc, "stopped_by", stops(t));
    json_object_set_new(doc, "limits", st_doc_aim_held(t));
    json_object_set_new(doc, "over_limit", json_boolean(t->over));
    json_object_set_new(doc, "nearest", t->met || t->stop ? json_null() : st_doc_text(near));
    json_object_set_new(doc, "gave_way", t->stop ? st_doc_text("") : gave_way(t, y));
    json_object_set_new(doc, "ways", ways(t));
    json_object_set_new(doc, "recipe", t->changed.length ? st_doc_text(st_buf_text(&t->changed)) : json_null());
    json_object_set_new(doc, "notes", notes(t));
    json_object_set_new(doc, "cautions", st_doc_cautions(&t->cautions));
    json_object_set_new(doc, "seed", json_integer((json_int_t)t->seed));
    json_object_set_new(doc, "draws", json_integer(t->draws));
    if (t->kitchen)
        st_doc_kitchen(doc, t);
    return doc;
}
