#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

static const char *const FIGURE[3] = { "strength", "sugar", "volume" };

/* A half width in a column of nine: never with an exponent. */
static void put_half(double x)
{
    if (x >= 9.95)
        printf("%9.0f", x);
    else if (x >= 0.95)
        printf("%9.1f", x);
    else
        printf("%9.2f", x);
}

static void put_halves(const char *what, const double half[3])
{
    printf("  %-42s", what);
    for (int i = 0; i < 3; i++)
        put_half(half[i]);
    putchar('\n');
}

/* A name in the column of 42, whole: a long one goes on in the next line. */
static void put_name(const char *name)
{
    enum { COLUMN = 42 };
    int indent = 2;

    for (;;) {
        const int room = COLUMN + 2 - indent;
        int bytes = 0, wide = 0, blank = 0;
        for (; name[bytes] && wide <= room; bytes++) {
            if (name[bytes] == ' ')
                blank = bytes;
            wide += ((unsigned char)name[bytes + 1] & 0xc0) != 0x80;
        }
        if (!name[bytes] && wide <= room) {
            printf("%*s%s%*s", indent, "", name, room - wide, "");
            return;
        }
        const int cut = blank ? blank : bytes - 1;
        printf("%*s%.*s\n", indent, "", cut, name);
        name += cut + (blank > 0);
        indent = 4;
    }
}

static double total(const double g[ST_NCOMP])
{
    double s = 0.0;
    for (int i = 0; i < ST_NCOMP; i++)
        s += g[i];
    return s;
}

static double row_of(int row, const double g[ST_NCOMP])
{
    switch (row) {
    case 0: return g[ST_WATER];
    case 1: return g[ST_ETHANOL];
    case 2: return st_mixture_sugars(g);
    case 3: return total(g) - g[ST_WATER] - g[ST_ETHANOL] - st_mixture_sugars(g);
    default: return total(g);
    }
}

static void explain_step(const struct page *p, const struct st_balance *b)
{
    static const char *const NAME[5] = { "water", "alcohol", "sugar", "other", "all" };
    const struct st_step *s = &p->recipe->step[b->step];

    printf("\n  %s (%s)%*s%9s%9s%9s%9s\n", s->id, st_do_name(s->kind),
           (int)(18 - (strlen(s->id) + strlen(st_do_name(s->kind)) + 3) % 18), "", "in, g", "on", "kept", "lost");
    for (int k = 0; k < 5; k++)
        printf("    %-18s%9.1f%9.1f%9.1f%9.1f\n", NAME[k], row_of(k, b->in_g) + 0.0, row_of(k, b->mass_g) + 0.0,
               row_of(k, b->spent_g) + 0.0, row_of(k, b->lost_g) + 0.0);
    if (b->volume_ml > 0.0 && isfinite(b->volume_ml))
        printf("    goes on as %.0f mL of %.1f %% vol with %.0f g/L of sugar\n", b->volume_ml, b->strength, b->sugar);
    if (s->kind == ST_DO_TOAST)
        page_toast(p, b->step);
    if (s->kind == ST_DO_STEEP && b->strength_in_steep > 0.0)
        printf("    strength over the pieces while it steeps: %.1f %% vol\n", b->strength_in_steep);
}

static void explain_balance(const struct page *p)
{
    double worst = 0.0;
    cli_heading("Step by step, in grams (every input at its middle)");
    cli_wrap(2, 2, "\"Kept\" is what the strained solids keep, \"lost\" what stays on jar and filter, in the lees, or "
                   "leaves as vapour.");
    for (int i = 0; i < p->out->n_balance; i++) {
        explain_step(p, &p->out->balance[i]);
        worst = fmax(worst, p->out->balance[i].closure);
    }
    printf("\n  What came in is accounted for within %.0e of it.\n", worst);
}

static void explain_effects(const struct page *p)
{
    cli_heading("What matters, by its share in the doubt about strength and sugar");
    printf("  %-42s%9s%9s%9s\n", "", FIGURE[0], FIGURE[1], FIGURE[2]);
    for (int i = 0; i < p->out->n_effect && i < 12; i++) {
        const struct st_effect *e = &p->out->effect[i];
        if (e->total[0] + e->total[1] + e->total[2] < 0.01)
            continue;
        put_name(e->what);
        printf("%7.0f %%%7.0f %%%7.0f %%\n", 100.0 * e->total[0], 100.0 * e->total[1], 100.0 * e->total[2]);
        put_halves("  if it were known", e->half_without);
    }
    if (p->out->n_effect > 0)
        put_halves("now, either way (% vol, g/L, mL)", p->out->effect[0].half);
}

static void explain_status(const struct page *p)
{
    cli_heading("What each figure rests on");
    for (int s = ST_OK; s <= ST_ESTIMATED; s++) {
        char names[400] = "";
        for (int f = 0; f < ST_NFIG; f++) {
            if (f == ST_FIG_ENERGY_KCAL)
                continue; /* as the kJ */
            const size_t n = strlen(names);
            if (f == ST_FIG_COST && !st_recipe_is_priced(p->recipe))
                continue;
            if (p->out->fig[f].known && p->out->fig[f].status == (enum st_status)s)
                snprintf(names + n, sizeof names - n, "%s%s", n ? ", " : "", st_figure_info((enum st_figure)f)->name);
        }
        if (*names)
            cli_say(2, 4, "%s: %s", st_status_text((enum st_status)s), names);
    }
    cli_wrap(2, 2, "ok: inside a published fit. extrapolated: outside the range of the fit. estimated: nobody published data "
                   "for such a mixture, or a share from memory went in (what fruit keeps, what is lost); the likely range "
                   "allows for it. docs/model.md tells more.");
}

void page_explain(const struct page *p)
{
    explain_balance(p);
    if (!st_cautions_stop(p->cautions)) /* nothing is to be made better */
        explain_effects(p);
    explain_status(p);
}
