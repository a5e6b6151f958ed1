#include <ctype.h>
#include <math.h>
#include <string.h>

#include "cli/aim.h"
#include "model/reverse.h"
#include "text/quantity.h"

/* Which lines of the recipe an option means, and what is done with them. */

static bool complain(const char *option, const char *said, const char *why, const char *try_)
{
    char what[160];
    snprintf(what, sizeof what, "--%s \"%.80s\"", option, said);
    cli_error(what, why, try_);
    return false;
}

/* Whether text holds the n letters of word, case aside, at the beginning of a word. */
static bool holds(const char *text, const char *word, size_t n)
{
    for (const char *s = text; *s; s++) {
        size_t k = 0;
        if (s > text && isalnum((unsigned char)s[-1]))
            continue;
        while (k < n && s[k] && tolower((unsigned char)s[k]) == tolower((unsigned char)word[k]))
            k++;
        if (k == n)
            return true;
    }
    return false;
}

static bool is_meant(const struct aim_task *t, const struct st_line *l, const char *name, size_t n)
{
    if (!l->what)
        return holds(l->text, name, n);
    return st_catalogue_find(t->catalogue, name, n) == l->what || holds(l->what->name, name, n) ||
           holds(l->text, name, n);
}

typedef bool deed(struct aim_task *t, int step, int line);

static int for_lines(struct aim_task *t, const char *name, size_t n, deed *f)
{
    int done = 0;
    for (int s = 0; s < t->core.file->recipe.n_step; s++)
        for (int i = 0; i < t->core.file->recipe.step[s].n_line; i++)
            if (is_meant(t, &t->core.file->recipe.step[s].line[i], name, n))
                done += f(t, s, i);
    return done;
}

static bool unknown(const struct aim_task *t, const char *option, const char *name, size_t n)
{
    char said[80], try_[240] = "the recipe has: ";
    snprintf(said, sizeof said, "%.*s", (int)n, name);
    for (int s = 0; s < t->core.file->recipe.n_step; s++)
        for (int i = 0; i < t->core.file->recipe.step[s].n_line; i++) {
            const struct st_ingredient *what = t->core.file->recipe.step[s].line[i].what;
            const size_t k = strlen(try_);
            if (what && k + strlen(what->name) + 3 < sizeof try_)
                snprintf(try_ + k, sizeof try_ - k, "%s%s", try_[k - 1] == ' ' ? "" : ", ", what->name);
        }
    return complain(option, said, "no line with a measured amount goes by that name", try_);
}

/* ---- free and keep ---- */

static bool free_line(struct aim_task *t, int step, int line)
{
    return st_aim_free(&t->core.aim, step, line);
}

static bool keep_line(struct aim_task *t, int step, int line)
{
    st_aim_keep(&t->core.aim, step, line);
    return true;
}

static bool free_strength(struct aim_task *t, int step, int line)
{
    const struct st_line *l = &t->core.file->recipe.step[step].line[line];
    for (int k = 0; k < t->core.aim.n_dial; k++) { /* one dial turns it wherever it is poured */
        const struct st_dial *d = &t->core.aim.dial[k].dial;
        if (d->of == ST_DIAL_STRENGTH && t->core.file->recipe.step[d->step].line[d->line].what == l->what)
            return true;
    }
    return st_aim_free_strength(&t->core.aim, step, line, 5.0, 96.0, ST_BOUND_NATURE);
}

/* Names between commas. */
static bool for_names(struct aim_task *t, const char *option, const char *names, deed *f)
{
    static const char STRENGTH[] = "strength of ";
    for (const char *s = names; *s;) {
        s += strspn(s, ", ");
        size_t n = strcspn(s, ",");
        const char *next = s + n;
        while (n > 0 && s[n - 1] == ' ')
            n--;
        if (n == 0)
            break;
        const bool strength = f == free_line && n > strlen(STRENGTH) && strncmp(s, STRENGTH, strlen(STRENGTH)) == 0;
        const size_t skip = strength ? strlen(STRENGTH) : 0;
        if (for_lines(t, s + skip, n - skip, strength ? free_strength : f) == 0)
            return unknown(t, option, s, n);
        s = next;
    }
    return true;
}

/* ---- what one has ---- */

static const struct st_ingredient *ingredient_of(struct aim_task *t, const char *name, size_t n)
{
    const struct st_recipe *r = &t->core.file->recipe;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what && is_meant(t, &r->step[s].line[i], name, n))
                return r->step[s].line[i].what;
    return NULL;
}

static bool have(struct aim_task *t, const char *said)
{
    struct st_amount a;
    struct st_problem problem = { .what = "" };
    size_t used = 0;
    const enum st_measures m =
        t->core.file->recipe.measures != ST_MEASURES_NONE ? t->core.file->recipe.measures : ST_MEASURES_METRIC;
    if (st_quantity_parse(said, strlen(said), m, &a, &used, &problem) != 0)
        return complain("have", said, *problem.why ? problem.why : "there is no amount",
                        "write for example --have \"500 mL vodka\"");
    const char *name = said + used + strspn(said + used, " ");
    if (strncmp(name, "of ", 3) == 0)
        name += 3;
    const struct st_ingredient *what = *name ? ingredient_of(t, name, strlen(name)) : NULL;
    if (!what)
        return unknown(t, "have", name, strlen(name));
    if (st_aim_have(&t->core.aim, what, a.dim, a.high))
        return true;
    return complain("have", said, "the recipe measures it otherwise, or keeps more of it than that",
                    "say it as the recipe does, in g, mL or pieces; or --free it");
}

/* ---- jars ---- */

void aim_set_jar(struct aim_task *t, double ml)
{
    t->core.jar_ml = ml;
    snprintf(t->core.jar, sizeof t->core.jar, ml >= 1000.0 ? "%.6g L" : "%.6g mL", ml >= 1000.0 ? ml * 1e-3 : ml);
}

static bool jars(struct aim_task *t, const char *said)
{
    struct st_amount a = { .value = 0.0 };
    const struct st_recipe *r = &t->core.file->recipe;
    if (said && !aim_volume(t->cli, "jar", said, &a))
        return false;
    if (said)
        aim_set_jar(t, a.value);
    for (int s = 0; s < r->n_step; s++) {
        const bool steep = r->step[s].kind == ST_DO_STEEP;
        const double ml = said && steep ? a.value : r->step[s].vessel_ml;
        if (ml > 0.0)
            (void)st_aim_jar(&t->core.aim, s, ST_AIM_BRIM * ml);
    }
    st_aim_makeable(&t->core.aim);
    return true;
}

/* ---- another spirit ---- */

static bool another_spirit(struct aim_task *t, const char *said)
{
    struct st_amount a;
    struct st_problem problem = { .what = "" };
    size_t used = 0;
    const struct st_recipe *r = &t->core.file->recipe;
    double bare;
    if (cli_number(said, &bare)) { /* "96": what else could it be */
        a = (struct st_amount){ .dim = ST_DIM_STRENGTH, .value = bare };
        used = strlen(said);
    } else if (st_quantity_parse(said, strlen(said), ST_MEASURES_US, &a, &used, &problem) != 0)
        a = (struct st_amount){ .dim = ST_DIM_OPEN };
    if (a.dim != ST_DIM_STRENGTH || !(a.value > 0.0 && a.value <= 96.0))
        return complain("spirit", said, "it is no strength of a spirit", "write for example --spirit \"50 %\"");
    const char *name = said + used + strspn(said + used, " ");
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (!l->what || l->what->kind != ST_KIND_SPIRIT || (*name && !is_meant(t, l, name, strlen(name))))
                continue;
            if (st_aim_same_bottle(&t->core.aim, s, i, a.value, &problem) >= 0) {
                snprintf(t->core.because, sizeof t->core.because, "the same bottle from %s of %g %% vol", l->what->name,
                         a.value);
                return true;
            }
            cli_problem(t->name, &problem);
            return false;
        }
    return complain("spirit", said, "the recipe has no such spirit", "name a spirit that stands in it");
}

bool aim_lines(struct aim_task *t, const struct aim_options *o)
{
    if (o->spirit && !another_spirit(t, o->spirit))
        return false;
    if (!aim_wishes(t, o))
        return false;
    if (o->free ? !for_names(t, "free", o->free, free_line) : (st_aim_free_usual(&t->core.aim), false))
        return false;
    if (o->keep && !for_names(t, "keep", o->keep, keep_line))
        return false;
    for (int i = 0; i < o->n_have; i++)
        if (!have(t, o->have[i]))
            return false;
    return jars(t, o->jar);
}
