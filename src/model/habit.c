#include "habit.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

const char *st_cut_name(enum st_cut c)
{
    static const char *const NAME[ST_NCUT] = { "whole", "pricked", "halved",      "quartered", "sliced", "strips",
                                               "zest",  "chopped", "grated zest", "crushed",   "ground" };
    return (unsigned)c < ST_NCUT ? NAME[c] : "";
}

const char *st_of_name(enum st_of o)
{
    static const char *const NAME[ST_NOF] = { "any", "liquid", "aroma", "pigment", "bitter", "tannin" };
    return (unsigned)o < ST_NOF ? NAME[o] : "";
}

enum st_of st_of_family(const char *family)
{
    static const struct {
        const char *family;
        enum st_of of;
    } OF[] = { { "red colour", ST_OF_PIGMENT }, { "bitter", ST_OF_BITTER }, { "astringent", ST_OF_TANNIN },
               { "sweet", ST_OF_LIQUID },       { "sour", ST_OF_LIQUID },   { "solvent", ST_OF_LIQUID } };
    for (size_t i = 0; family && i < sizeof OF / sizeof OF[0]; i++)
        if (strcmp(family, OF[i].family) == 0)
            return OF[i].of;
    return ST_OF_AROMA;
}

const char *st_theta_name(enum st_theta t)
{
    static const char *const NAME[ST_NTHETA] = { "how fast it gives", "how firmly it holds",
                                                 "how much is washed off at once", "how much is in it",
                                                 "how much liquor it keeps" };
    return (unsigned)t < ST_NTHETA ? NAME[t] : "";
}

/* ---- finding ---- */

static bool names_slug(const char *list, const char *slug)
{
    const size_t n = slug ? strlen(slug) : 0;
    for (const char *at = list; *at && n;) {
        const size_t length = strcspn(at, ",");
        if (length == n && memcmp(at, slug, n) == 0)
            return true;
        at += length + (at[length] == ',');
    }
    return false;
}

struct asked {
    const struct st_habits *h;
    const char *slug;
    enum st_kind kind;
    enum st_of of;
};

typedef bool has_it(const struct st_habit_row *r);

static const struct st_habit_row *row_of(const struct asked *a, bool own, enum st_cut cut, enum st_of of, has_it *has)
{
    for (int i = 0; i < a->h->n; i++) {
        const struct st_habit_row *r = &a->h->row[i];
        if (r->cut != cut || r->of != of || !has(r)) /* names last: they take longest to compare */
            continue;
        if (own ? names_slug(r->ingredient, a->slug) : r->of_kind[a->kind])
            return r;
    }
    return NULL;
}

/* Of this substance, else of any. */
static const struct st_habit_row *row_at(const struct asked *a, bool own, enum st_cut cut, has_it *has)
{
    const struct st_habit_row *r = row_of(a, own, cut, a->of, has);
    return r ? r : row_of(a, own, cut, ST_OF_ANY, has);
}

/* What belongs to the cut: own and cut, kind and cut, own and whole, kind and whole. */
static const struct st_habit_row *by_cut(const struct asked *a, enum st_cut cut, has_it *has)
{
    const struct st_habit_row *r = row_at(a, true, cut, has);
    r = r ? r : row_at(a, false, cut, has);
    r = r ? r : row_at(a, true, ST_CUT_WHOLE, has);
    return r ? r : row_at(a, false, ST_CUT_WHOLE, has);
}

/* What belongs to the tissue: own and cut, own and whole, kind and cut, kind and whole. */
static const struct st_habit_row *by_tissue(const struct asked *a, enum st_cut cut, has_it *has)
{
    const struct st_habit_row *r = row_at(a, true, cut, has);
    r = r ? r : row_at(a, true, ST_CUT_WHOLE, has);
    r = r ? r : row_at(a, false, cut, has);
    return r ? r : row_at(a, false, ST_CUT_WHOLE, has);
}

static bool has_size(const struct st_habit_row *r)
{
    return r->a_m.value > 0.0;
}

static bool has_body(const struct st_habit_row *r)
{
    return r->has_body;
}

static bool has_w(const struct st_habit_row *r)
{
    return r->has_w;
}

static bool has_biot(const struct st_habit_row *r)
{
    return r->biot.value > 0.0;
}

static bool has_d(const struct st_habit_row *r)
{
    return r->d.value > 0.0;
}

static bool has_k(const struct st_habit_row *r)
{
    return r->k.value > 0.0;
}

static bool has_wash(const struct st_habit_row *r)
{
    return r->wash.value > 0.0;
}

static bool has_ea(const struct st_habit_row *r)
{
    return r->ea_kj > 0.0;
}

static bool has_late(const struct st_habit_row *r)
{
    return r->late[0] != '\0' || r->none;
}

/* The next larger cut of which the sheet has a size.  Strips are of peel and of what is grated: beside the order. */
static enum st_cut known_cut(const struct asked *a, enum st_cut cut)
{
    while (cut > ST_CUT_WHOLE && !row_at(a, true, cut, has_size) && !row_at(a, false, cut, has_size))
        cut = (enum st_cut)(cut - 1);
    return cut;
}

/* The less certain of two marks. */
static char worse(char a, char b)
{
    return a == 'p' || b == 'p' ? 'p' : a == 'm' || b == 'm' ? 'm' : 'r';
}

enum st_status st_habit_find(const struct st_habits *h, const char *slug, enum st_kind kind, enum st_cut cut,
                             enum st_of of, struct st_habit *out)
{
    if ((unsigned)kind >= ST_NKIND || (unsigned)cut >= ST_NCUT || (unsigned)of >= ST_NOF)
        return ST_E_DOMAIN;
    const struct asked a = { h, slug, kind, of };
    const enum st_cut c = known_cut(&a, cut);
    const struct st_habit_row *size = by_cut(&a, c, has_size), *body = by_cut(&a, c, has_body),
                              *w = by_cut(&a, c, has_w), *biot = by_cut(&a, c, has_biot), *d = by_tissue(&a, c, has_d),
                              *k = by_tissue(&a, c, has_k), *wash = by_tissue(&a, c, has_wash),
                              *ea = by_tissue(&a, c, has_ea), *late = by_tissue(&a, c, has_late);
    if (!size || !body || !w || !biot || !d || !k || !wash || !ea)
        return ST_E_REFUSED;
    *out = (struct st_habit){ .body = body->body,
                              .a_m = size->a_m,
                              .wash = wash->wash,
                              .d = d->d,
                              .k = k->k,
                              .biot = biot->biot,
                              .w = w->w,
                              .w_sd = w->w_sd,
                              .at_pct_vol = d->at_pct_vol,
                              .d_ref = d->d_ref,
                              .ea_kj = ea->ea_kj,
                              .ea_sd = ea->ea_sd,
                              .late = late ? late->late : "",
                              .none = late && late->none,
                              .mark = worse(d->mark, size->mark),
                              .source = d->source,
                              .note = size->note,
                              .cut_known = c == cut,
                              .line_d = d->line,
                              .line_a = size->line };
    return out->mark == 'r' ? ST_OK : ST_ESTIMATED;
}

int st_habit_late(const struct st_habits *h, const char *slug, enum st_kind kind, enum st_cut cut,
                  const struct st_habit_row *row[], int max)
{
    int n = 0;
    for (int of = ST_OF_ANY + 1; of < ST_NOF && n < max; of++) {
        const struct asked a = { h, slug, kind, (enum st_of)of };
        const struct st_habit_row *r = by_tissue(&a, known_cut(&a, cut), has_late);
        if (r && !r->none)
            row[n++] = r;
    }
    return n;
}

/* ---- priors ---- */

/* Content of a lot against the sheet: from memory. */
static const double C0_SD = 0.5;

void st_theta_prior_of(const struct st_habit *h, const struct st_range *retention, struct st_theta_prior *out)
{
    out->sd[ST_THETA_D] = log(h->d.times);
    out->sd[ST_THETA_K] = log(h->k.times);
    out->sd[ST_THETA_W] = h->w_sd;
    out->sd[ST_THETA_C0] = C0_SD;
    const bool spread = retention && retention->known && retention->low > 0.0 && retention->high > retention->low;
    out->sd[ST_THETA_R] = spread ? log(retention->high / retention->low) / (2.0 * 1.959963984540054) : 0.0;
}
