#include "correct_thing.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "line.h"
#include "model/range.h"
#include "quantity.h"
#include "stops.h"

static bool refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .is_question = 0 };
    (void)snprintf(p->what, sizeof p->what, "\"%.150s\"", what);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

/* ---- numbers ---- */

static const char *plain_number(const char *s, double *x)
{
    char copy[32];
    size_t n = strspn(s, "0123456789.,");
    if (n == 0 || n >= sizeof copy)
        return NULL;
    while (n > 1 && (s[n - 1] == '.' || s[n - 1] == ','))
        n--;
    memcpy(copy, s, n);
    copy[n] = '\0';
    char *comma = strchr(copy, ','), *end;
    if (comma)
        *comma = '.';
    *x = strtod(copy, &end);
    return *end == '\0' && isfinite(*x) ? s + n : NULL;
}

const char *st_doubtful_number(const char *text, double *value, double *half)
{
    static const char *const SIGN[] = { "\xc2\xb1", "+-", "+/-" };
    const char *s = plain_number(text + strspn(text, " "), value);
    *half = -1.0;
    if (!s)
        return NULL;
    const char *behind = s + strspn(s, " ");
    for (size_t i = 0; i < sizeof SIGN / sizeof *SIGN; i++) {
        const size_t n = strlen(SIGN[i]);
        if (strncmp(behind, SIGN[i], n) == 0)
            return plain_number(behind + n + strspn(behind + n, " "), half);
    }
    return s;
}

/* ---- words ---- */

static void lower(char *buf, size_t size, const char *text)
{
    size_t i = 0;
    for (; text[i] && i + 1 < size; i++)
        buf[i] = (char)tolower((unsigned char)text[i]);
    while (i > 0 && buf[i - 1] == ' ')
        i--;
    buf[i] = '\0';
}

static const struct {
    const char *word;
    enum st_correct_kind kind;
} KIND[] = { { "pour", ST_ADD_POUR },   { "batch", ST_ADD_BATCH },   { "jar", ST_ADD_BATCH },
             { "syrup", ST_ADD_SYRUP }, { "liqueur", ST_ADD_BATCH }, { "juice", ST_ADD_JUICE } };

static enum st_correct_kind kind_of(const char *name)
{
    char low[200];
    lower(low, sizeof low, name);
    for (size_t i = 0; i < sizeof KIND / sizeof *KIND; i++)
        if (strstr(low, KIND[i].word))
            return KIND[i].kind;
    return ST_ADD_OTHER;
}

/* " at 18 per L", cut off: of a base unit; NAN none.  False: not understood. */
static bool take_price(char *text, double *price)
{
    char *at = strstr(text, " at "), *end;
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;
    *price = (double)NAN;
    if (!at || !isdigit((unsigned char)at[4]))
        return true;
    const double x = strtod(at + 4, &end);
    const char *per = strstr(end, "per ");
    char one[40];
    if (!per)
        return false;
    (void)snprintf(one, sizeof one, "%s%.30s", isdigit((unsigned char)per[4]) ? "" : "1 ", per + 4);
    if (st_quantity_parse(one, strlen(one), ST_MEASURES_METRIC, &a, &used, &p) != 0 || one[used] || !(a.value > 0.0) ||
        (a.dim != ST_DIM_MASS && a.dim != ST_DIM_VOLUME))
        return false;
    *price = x / a.value;
    *at = '\0';
    return true;
}

/* ---- by figures ---- */

struct figures {
    struct st_correct_liquid l;
    bool strength, sugar, by_mass, doubt_said;
    double mass_pct, mass_half;
    char name[80];
};

static const char *after(const char *s, const char *word)
{
    s += strspn(s, " ");
    const size_t n = strlen(word);
    return strncmp(s, word, n) == 0 ? s + n : NULL;
}

/* One figure with its unit; NULL: none here. */
static const char *one_figure(const char *s, struct figures *f)
{
    double x, half;
    const char *end = st_doubtful_number(s, &x, &half), *next;
    if (!end)
        return NULL;
    f->doubt_said = f->doubt_said || half >= 0.0;
    if ((next = after(end, "g/L")) != NULL || (next = after(end, "g/l")) != NULL) {
        const char *acid = after(next, "acid");
        if (acid) {
            f->l.acid = x;
            f->l.acid_known = true;
            f->l.acid_u = half >= 0.0 ? half / ST_Z975 : 0.05 * x / ST_Z975;
            return acid;
        }
        f->sugar = true;
        f->l.sugar = x;
        f->l.sugar_u = half >= 0.0 ? half / ST_Z975 : -1.0;
        return after(next, "sugar") ? after(next, "sugar") : next;
    }
    if ((next = after(end, "%")) == NULL)
        return NULL;
    f->strength = true;
    f->l.strength = f->mass_pct = x;
    f->mass_half = half;
    f->l.strength_u = half >= 0.0 ? half / ST_Z975 : -1.0;
    return after(next, "vol") ? after(next, "vol") : next;
}

/* "second pour 22 % 60 g/L": a name and nothing but figures behind it. */
static bool read_figures(const char *text, struct figures *f)
{
    memset(f, 0, sizeof *f);
    for (const char *s = text; *s; s++) {
        const char *t = s;
        if (!isdigit((unsigned char)*s) || (s > text && s[-1] != ' '))
            continue;
        struct figures g;
        memset(&g, 0, sizeof g);
        while (t && *t) {
            t = one_figure(t, &g);
            if (t)
                t += strspn(t, " ,");
        }
        if (!t)
            continue;
        *f = g;
        size_t n = (size_t)(s - text);
        while (n > 0 && (text[n - 1] == ' ' || text[n - 1] == ','))
            n--;
        (void)snprintf(f->name, sizeof f->name, "%.*s", (int)n, text);
        return true;
    }
    return false;
}

static bool by_figures(const struct figures *f, struct st_correct_named *out)
{
    struct st_correct_liquid l = f->l;
    const bool own = out->thing.kind == ST_ADD_POUR || out->thing.kind == ST_ADD_BATCH;
    if (l.strength_u < 0.0)
        l.strength_u = (own ? 0.5 : 0.3) / ST_Z975;
    if (l.sugar_u < 0.0)
        l.sugar_u = (own ? 0.04 : 0.01) * l.sugar / ST_Z975;
    if (l.strength == 0.0)
        l.strength_u = 0.0;
    out->measured = own && !f->doubt_said;
    return st_correct_poured(&l, &out->thing) >= 0;
}

/* ---- syrups ---- */

static bool syrup_of(double share, double half, struct st_correct_thing *t)
{
    double w[ST_NCOMP] = { 0.0 }, rho;
    w[ST_SUCROSE] = share;
    w[ST_WATER] = 1.0 - share;
    if (!(share > 0.0 && share < 0.85) || st_density_mixture(w, ST_T20, &rho) < 0)
        return false;
    const struct st_correct_liquid l = { .sugar = share * rho, .sugar_u = half * rho / ST_Z975 };
    return st_correct_poured(&l, t) >= 0;
}

/* "syrup 65 %", "sugar syrup 2:1": by weight. */
static bool is_syrup(const char *text, const struct figures *f, struct st_correct_thing *t)
{
    const char *colon = strchr(text, ':');
    if (f->strength && !f->sugar)
        return syrup_of(0.01 * f->mass_pct, f->mass_half >= 0.0 ? 0.01 * f->mass_half : 0.01, t);
    if (!colon)
        return false;
    const char *from = colon;
    while (from > text && strchr("0123456789.", from[-1]))
        from--;
    char *end, *behind;
    const double sugar = strtod(from, &end), water = strtod(colon + 1, &behind);
    return from < colon && end == colon && behind > colon + 1 && sugar > 0.0 && water > 0.0 &&
           syrup_of(sugar / (sugar + water), 0.01, t);
}

/* ---- by the sheet ---- */

/* What 100 g of it bring into a kilogram of water, that water taken off; rel[2]: how far sugar and acid reach. */
static bool from_sheet(const char *name, const struct st_catalogue *c, double g[ST_NCOMP], double rel[2],
                       struct st_problem *problem)
{
    char text[200];
    struct st_line line[2];
    (void)snprintf(text, sizeof text, "100 g %.150s", name);
    if (st_line_parse("1000 g water", ST_MEASURES_METRIC, c, &line[0], problem) != 0 ||
        st_line_parse(text, ST_MEASURES_METRIC, c, &line[1], problem) != 0)
        return false;
    const struct st_range nothing = { 0.0, 0.0, 0.0, true, 'u', "" }, all = { 1.0, 1.0, 1.0, true, 'u', "" };
    struct st_step step = { .id = "pour",
                            .words = "",
                            .kind = ST_DO_BLEND,
                            .line = line,
                            .n_line = 2,
                            .time = { .dim = ST_DIM_OPEN },
                            .boil_down_to = { .dim = ST_DIM_OPEN },
                            .loss_share = nothing,
                            .exchanged = all };
    const struct st_recipe r = { .file = "",
                                 .title = "",
                                 .note = "",
                                 .currency = "",
                                 .author = "",
                                 .step = &step,
                                 .n_step = 1,
                                 .serving_ml = 40.0 };
    struct st_foretold *out = calloc(1, sizeof *out);
    struct st_plan *p = out ? st_plan_create(&r, problem) : NULL;
    const struct st_options o = { .seed = 1, .draws = 500 };
    const bool done = p && st_plan_run(p, &o, out) >= 0;
    if (done) {
        const enum st_figure of[2] = { ST_FIG_SUGAR, ST_FIG_ACID };
        memcpy(g, out->final_g, ST_NCOMP * sizeof *g);
        g[ST_WATER] = fmax(g[ST_WATER] - 1000.0, 0.0);
        for (int k = 0; k < 2; k++) {
            const struct st_interval *x = &out->fig[of[k]];
            rel[k] = x->known && x->value > 1e-6 ? 0.5 * (x->high - x->low) / x->value / ST_Z975 : 0.0;
        }
        st_foretold_done(out);
    }
    st_plan_free(p);
    free(out);
    return done;
}

static bool set_from_grams(const double g[ST_NCOMP], const double rel[2], bool dry, struct st_correct_thing *t)
{
    double w[ST_NCOMP], rho = 1000.0;
    if (st_mixture_from_masses(g, w) < 0 || (!dry && st_density_mixture(w, ST_T20, &rho) < 0))
        return false;
    t->by_weight = dry;
    for (int c = 0; c < ST_NCOMP; c++) {
        const bool sugar = c >= ST_SUCROSE && c <= ST_LACTOSE;
        t->g[c] = dry ? w[c] : w[c] * rho * 1e-3;
        t->wrong[0][c] = sugar ? rel[0] * t->g[c] : 0.0;
        t->wrong[1][c] = c == ST_ACID ? rel[1] * t->g[c] : 0.0;
    }
    return true;
}

static enum st_correct_kind kind_in_sheet(enum st_kind k)
{
    return k == ST_KIND_SPIRIT  ? ST_ADD_SPIRIT
           : k == ST_KIND_WATER ? ST_ADD_WATER
           : k == ST_KIND_SUGAR ? ST_ADD_SUGAR
           : k == ST_KIND_SYRUP ? ST_ADD_SYRUP
           : k == ST_KIND_ACID  ? ST_ADD_ACID
           : k == ST_KIND_JUICE ? ST_ADD_JUICE
                                : ST_ADD_OTHER;
}

static bool is_dry(enum st_kind k)
{
    return k == ST_KIND_SUGAR || k == ST_KIND_ACID || k == ST_KIND_SWEETENER;
}

static bool by_sheet(const char *name, const struct st_catalogue *c, struct st_correct_named *out,
                     struct st_problem *problem)
{
    double g[ST_NCOMP], rel[2] = { 0.0, 0.0 };
    struct st_line line;
    (void)snprintf(out->said, sizeof out->said, "100 g %.150s", name);
    if (st_line_parse(out->said, ST_MEASURES_METRIC, c, &line, problem) != 0)
        return false;
    const enum st_kind k = line.what ? line.what->kind : ST_KIND_OTHER;
    const bool dry = is_dry(k);
    if (!line.what || (!dry && st_kind_is_solid(k)))
        return refuse(problem, name, "it would lie in the jar, and only what mixes at once can be reckoned",
                      "name a liquid, sugar or an acid");
    if (!dry) {
        (void)snprintf(out->said, sizeof out->said, "100 mL %.150s", name);
        if (st_line_parse(out->said, ST_MEASURES_METRIC, c, &line, problem) != 0)
            return false;
    }
    out->line = line;
    out->has_line = true;
    out->thing.kind = kind_in_sheet(k);
    if (k == ST_KIND_SPIRIT && line.strength.known) {
        const struct st_correct_liquid l = { .strength = line.strength.value, .strength_u = 0.3 / ST_Z975 };
        return st_correct_poured(&l, &out->thing) >= 0 ||
               refuse(problem, name, "no spirit is of this strength", "write for example \"vodka 40 %\"");
    }
    if (!from_sheet(name, c, g, rel, problem))
        return false;
    return set_from_grams(g, rel, dry, &out->thing) ||
           refuse(problem, name, "what it is made of is not known well enough",
                  "give its figures: \"NAME 20 % 150 g/L\"");
}

/* ---- one thing ---- */

static bool stopped(const char *name, const struct st_catalogue *c, struct st_problem *problem)
{
    const size_t n = strlen(name);
    const struct st_ingredient *stop = st_stop_named(c, name, n);
    if (!stop && !st_catalogue_find(c, name, n))
        stop = st_catalogue_slip(c, name, n);
    return st_stop_problem(stop, problem);
}

bool st_correct_thing_read(const char *text, const struct st_catalogue *c, struct st_correct_named *out,
                           struct st_problem *problem)
{
    struct st_correct_named n;
    struct figures f;
    double price;
    memset(&n, 0, sizeof n);
    (void)snprintf(n.text, sizeof n.text, "%s", text + strspn(text, " "));
    if (stopped(n.text, c, problem))
        return false;
    if (!*n.text || strlen(text) >= sizeof n.text)
        return refuse(problem, text, "it names nothing that could be poured in", "write for example \"vodka 40 %\"");
    if (!take_price(n.text, &price))
        return refuse(problem, text, "the price is not understood", "write for example \"vodka 40 % at 18 per L\"");
    n.thing.have = HUGE_VAL;
    (void)snprintf(n.thing.name, sizeof n.thing.name, "%.79s", n.text);
    const bool figures = read_figures(n.text, &f);
    n.thing.kind = kind_of(n.text);
    bool good;
    if (n.thing.kind == ST_ADD_SYRUP && !(figures && f.sugar) && is_syrup(n.text, &f, &n.thing))
        good = true;
    else if (figures && (f.sugar || f.l.acid_known || n.thing.kind == ST_ADD_POUR || n.thing.kind == ST_ADD_BATCH))
        good = by_figures(&f, &n) ||
               refuse(problem, text, "so much of all does not fit into a litre", "look at its figures");
    else
        good = by_sheet(n.text, c, &n, problem);
    if (!good)
        return false;
    n.thing.cost = price;
    *out = n;
    return true;
}

/* ---- how much there is ---- */

/* Parts the words from the amount, which stands first or last. */
static bool part_amount(const char *text, struct st_amount *a, char name[120])
{
    struct st_problem p;
    size_t used = 0;
    if (st_quantity_parse(text, strlen(text), ST_MEASURES_METRIC, a, &used, &p) == 0 &&
        (a->dim == ST_DIM_VOLUME || a->dim == ST_DIM_MASS)) {
        text += used + strspn(text + used, " ");
        text += strncmp(text, "of ", 3) == 0 ? 3 : 0;
        (void)snprintf(name, 120, "%.100s", text);
        return *name != '\0';
    }
    for (const char *s = text; *s; s++) {
        const bool mark = (*s == '.' || *s == ',') && isdigit((unsigned char)s[1]);
        if (!(isdigit((unsigned char)*s) || mark) || s == text || s[-1] != ' ')
            continue;
        if (st_quantity_parse(s, strlen(s), ST_MEASURES_METRIC, a, &used, &p) != 0 || s[used] ||
            (a->dim != ST_DIM_VOLUME && a->dim != ST_DIM_MASS))
            continue;
        (void)snprintf(name, 120, "%.*s", (int)(s - text - 1), text);
        return true;
    }
    return false;
}

int st_correct_have_read(const char *text, const struct st_correct_thing thing[], int n, double *units,
                         struct st_problem *problem)
{
    char name[120], low[120], own[80];
    struct st_amount a;
    if (!part_amount(text, &a, name)) {
        (void)refuse(problem, text, "it holds no name or no amount", "write for example \"vodka 300 mL\"");
        return -1;
    }
    lower(low, sizeof low, name);
    for (int i = 0; i < n; i++) {
        lower(own, sizeof own, thing[i].name);
        if (!strstr(own, low) && !strstr(low, own))
            continue;
        double unit_g = 0.0;
        for (int c = 0; c < ST_NCOMP; c++)
            unit_g += thing[i].g[c];
        const enum st_dimension is = thing[i].by_weight ? ST_DIM_MASS : ST_DIM_VOLUME;
        if (thing[i].by_weight && a.dim != is) {
            (void)refuse(problem, text, "it is weighed", "give a weight, such as 200 g");
            return -1;
        }
        *units = a.dim == is ? a.value : a.value / unit_g;
        return i;
    }
    (void)refuse(problem, text, "nothing of this name is among what may be poured in", "name it with --with first");
    return -1;
}
