#include "reach_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"
#include "quantity.h"
#include "several.h"
#include "text_room.h"

/* Grams, millilitres, pieces: "820 g", "1.2 L", "2.5". */
static void measure(char *buf, size_t size, enum st_dimension dim, double x)
{
    char figure[40];
    if (dim == ST_DIM_MASS) {
        st_grams_words(buf, size, x);
        return;
    }
    const bool litres = dim == ST_DIM_VOLUME && x >= 1000.0;
    st_plain_figure(figure, sizeof figure, litres ? x * 1e-3 : x, dim == ST_DIM_PIECE ? 2 : 3);
    snprintf(buf, size, "%s%s", figure, litres ? " L" : dim == ST_DIM_VOLUME ? " mL" : "");
}

static void measure_range(struct st_text_room *o, enum st_dimension dim, const struct st_range *r)
{
    char value[60], low[60], high[60];
    measure(value, sizeof value, dim, r->value);
    measure(low, sizeof low, dim, r->low);
    measure(high, sizeof high, dim, r->high);
    st_text_put(o, "%s", value);
    if (strcmp(low, high) != 0)
        st_text_put(o, " (likely between %s and %s)", low, high);
}

static void line_name(struct st_text_room *o, const struct st_recipe *r, const struct st_line *l, double strength)
{
    char text[80], name[120];
    const bool told = l->amount.open == ST_CLOSED && !l->amount.make_up_to && l->amount.dim <= ST_DIM_PIECE;
    if (!told) {
        st_text_put(o, "%s: ", l->text);
        return;
    }
    st_quantity_print(&l->amount, r->measures, text, sizeof text);
    st_several(l->what, l->amount.dim == ST_DIM_PIECE && l->amount.value > 1.0, name, sizeof name);
    st_text_put(o, "%s %s", text, name);
    if (l->what->kind == ST_KIND_SPIRIT && !isnan(strength))
        st_text_put(o, " %.3g %%", strength);
    st_text_put(o, ": ");
}

static void use_words(struct st_text_room *o, const struct st_reach_use *u, const struct st_holding *h)
{
    char water[60];
    measure_range(o, h->dim, &u->amount);
    st_text_put(o, " of %s", h->name && *h->name ? h->name : h->slug);
    if (u->part && !(u->anew.value > 0.0))
        st_text_put(o, ", the same as for the part before");
    else if (u->part && u->anew.value < u->amount.value)
        st_text_put(o, ", some of them the same as for the part before");
    if (!u->other_strength)
        return;
    st_text_put(o, " (%.3g %%)", u->strength);
    measure(water, sizeof water, ST_DIM_VOLUME, fabs(u->water_ml));
    if (isnan(u->water_ml))
        st_text_put(o, ", in which there may be another share of sugar");
    else if (u->water_ml >= 0.0)
        st_text_put(o, " and %s water", water);
    else
        st_text_put(o, ", which brings %s more water along", water);
}

static const char *state_words(enum st_reach_state s)
{
    switch (s) {
    case ST_REACH_ENOUGH: return "enough";
    case ST_REACH_MAYBE: return "likely enough";
    case ST_REACH_OTHER_STRENGTH: return "of another strength";
    case ST_REACH_SHORT: return "not enough";
    case ST_REACH_NONE: return "not there";
    case ST_REACH_UNTOLD: return "there, but whether it is enough cannot be told";
    default: return "from the tap";
    }
}

void st_reach_line_words(char *buf, size_t size, const struct st_recipe *r, const struct st_reach *x, int k,
                         const struct st_holding held[])
{
    struct st_text_room o = { buf, size, 0 };
    const struct st_reach_line *l = &x->line[k];
    char worst[60];
    buf[0] = '\0';
    line_name(&o, r, &r->step[l->step].line[l->line], l->strength);
    st_text_put(&o, "%s", state_words(l->state));
    if (l->state == ST_REACH_SHORT) {
        st_text_put(&o, ", ");
        measure_range(&o, l->dim, &l->missing);
        st_text_put(&o, " missing");
    }
    if (l->state == ST_REACH_MAYBE) {
        measure(worst, sizeof worst, l->dim, l->missing.high);
        st_text_put(&o, ", but it may take %s more", worst);
    }
    for (int i = 0; i < l->n_use; i++) {
        const struct st_reach_use *u = &x->use[l->first_use + i];
        st_text_put(&o, "%s", i ? ", " : ": ");
        use_words(&o, u, &held[u->holding]);
    }
    if (l->watery)
        st_text_put(&o, "; weaker spirit stands in only as far as the recipe's water can be left out for it");
    if (l->n_unlike > 0)
        st_text_put(&o, "; %d lot%s cannot be compared with it, nobody has weighed a cup or a piece of it", l->n_unlike,
                    l->n_unlike > 1 ? "s" : "");
    if (l->n_weak > 0)
        st_text_put(&o, "; of %d lot%s nobody wrote how strong %s", l->n_weak, l->n_weak > 1 ? "s" : "",
                    l->n_weak > 1 ? "they are" : "it is: stillroom larder change LOT --strength 40");
    if (l->n_past > 0)
        st_text_put(&o, "; %d lot%s past the day it is to be used by", l->n_past, l->n_past > 1 ? "s are" : " is");
}

/* ---- cost ---- */

void st_reach_money(struct st_text_room *o, const struct st_range *r, const char *currency)
{
    const char *blank = *currency ? " " : "";
    st_text_put(o, "%.2f%s%s", r->value, blank, currency);
    if (r->high - r->low >= 0.01)
        st_text_put(o, " (likely between %.2f and %.2f)", r->low, r->high);
}

void st_reach_cost_words(char *buf, size_t size, const struct st_recipe *r, const struct st_reach_cost *c)
{
    struct st_text_room o = { buf, size, 0 };
    const double bottle_ml = r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml : 0.0;
    buf[0] = '\0';
    if (!c->batch.known) {
        st_text_put(&o, "what the batch costs is not known");
        if (c->n_unpriced > 0)
            st_text_put(&o, "; %d of what is used %s no price", c->n_unpriced, c->n_unpriced > 1 ? "have" : "has");
        if (c->n_uncovered > 0)
            st_text_put(&o, "; %d line%s not all there", c->n_uncovered, c->n_uncovered > 1 ? "s are" : " is");
        if (c->mixed)
            st_text_put(&o, "; prices are in several currencies");
        else if (c->at_least > 0.0)
            st_text_put(&o, "; at least %.2f%s%s", c->at_least, *c->currency ? " " : "", c->currency);
        return;
    }
    st_reach_money(&o, &c->batch, c->currency);
    st_text_put(&o, " the batch");
    if (c->bottle.known) {
        st_text_put(&o, ", ");
        st_reach_money(&o, &c->bottle, c->currency);
        st_text_put(&o, " a bottle of %.4g mL", bottle_ml);
    } else
        st_text_put(&o, ", of a bottle not known");
    if (c->pour.known) {
        st_text_put(&o, ", ");
        st_reach_money(&o, &c->pour, c->currency);
        st_text_put(&o, " a pour of %.4g mL", r->serving_ml);
    } else
        st_text_put(&o, ", of a pour not known");
}

void st_margin_words(char *buf, size_t size, const struct st_margin *m, double price, const char *currency)
{
    struct st_text_room o = { buf, size, 0 };
    buf[0] = '\0';
    st_text_put(&o, "of %.2f%s%s a pour", price, *currency ? " " : "", currency);
    if (m->net < price)
        st_text_put(&o, " %.2f are left after tax;", m->net);
    st_text_put(&o, " %s ", m->margin.value < 0.0 ? "what it costs is more:" : "less what it costs:");
    st_reach_money(&o, &m->margin, currency);
    if (m->share.known)
        st_text_put(&o, ", %.0f %%", 100.0 * m->share.value);
}
