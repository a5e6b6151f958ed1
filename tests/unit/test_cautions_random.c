/* Random recipes of the catalogue, held against the sheets: what must be true of the cautions of any of them. */
#include "catalogue_kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "ledger_kit.h"
#include "text/cautions.h"
#include "text/rules_built.h"

enum { JARS = 3, LINES = 8, RECIPES = 300 };

static struct st_rule_books *books;
static struct st_homes *homes;
static struct st_buf sources;
static uint64_t state_of_chance;

static int begin(void **state)
{
    struct st_problem p = { 0 };
    books = st_rules_built(&p);
    homes = st_homes_built(&p);
    if (st_file_read("docs/sources.md", 4u << 20, &sources) != 0)
        return -1;
    return load(state) || !books || !homes ? -1 : 0;
}

static int end(void **state)
{
    st_rule_books_free(books);
    st_homes_free(homes);
    st_buf_done(&sources);
    return unload(state);
}

/* ---- recipes ---- */

static unsigned below(unsigned n) /* splitmix64 */
{
    uint64_t z = (state_of_chance += UINT64_C(0x9e3779b97f4a7c15));
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return (unsigned)((z ^ (z >> 31)) % n);
}

static double grams(void)
{
    return exp(log(0.2) + (log(200) - log(0.2)) * below(1000) / 1000.0);
}

/* Four of five carry something that is watched. */
static const struct st_ingredient *any(void)
{
    const bool watched = below(5) > 0;
    for (;;) {
        const struct st_ingredient *in = st_catalogue_at(all, below((unsigned)st_catalogue_count(all)));
        if (!watched || in->n_caution > 0)
            return in;
    }
}

struct made {
    struct st_ingredient spirit;
    struct st_line line[JARS + 2][LINES];
    struct st_step step[JARS + 2];
    struct st_recipe recipe;
};

static void jar(struct made *m, int s, bool second)
{
    int n = 0;
    m->line[s][n++] = kit_line(&m->spirit, kit_ml(300 + below(700)));
    if (second)
        m->line[s][n++] = kit_from(s - 1, ST_SPENT, kit_all());
    for (int i = 1 + (int)below(4); i > 0; i--)
        m->line[s][n++] = kit_line(any(), kit_g(grams()));
    m->step[s] = kit_step(s == 0 ? "one" : s == 1 ? "two" : "three", ST_DO_STEEP, m->line[s], n);
    if (below(6) == 0)
        m->step[s].words = "Crack the stones.";
}

/* Up to three jars, some of them second pours, one perhaps taken by none, all or half of each blended. */
static void make(struct made *m, int seed)
{
    state_of_chance = (uint64_t)seed;
    memset(m, 0, sizeof *m);
    m->spirit = kit_spirit(40 + below(30));
    const int jars = 1 + (int)below(JARS);
    int n = 0;
    for (int s = 0; s < jars; s++)
        jar(m, s, s > 0 && below(3) == 0);
    for (int s = 0; s < jars; s++)
        if (s == jars - 1 || below(5) > 0)
            m->line[jars][n++] = kit_from(s, ST_LIQUOR, below(3) == 0 ? kit_amount(ST_DIM_PIECE, 0.5) : kit_all());
    m->step[jars] = kit_step("drink", ST_DO_BLEND, m->line[jars], n);
    m->recipe = kit_recipe(m->step, jars + 1);
}

static void free_foretold(struct st_foretold *f, bool is)
{
    if (is)
        st_foretold_done(f);
}

/* As foretold, where that can be: an unknown sugar refuses. */
static bool foretell(const struct made *m, struct st_foretold *f)
{
    struct st_problem p;
    const struct st_options o = { 1, 64, false };
    struct st_plan *plan = st_plan_create(&m->recipe, &p);
    const bool done = plan && st_plan_run(plan, &o, f) >= 0;
    st_plan_free(plan);
    return done;
}

static void collect(const struct made *m, const struct st_foretold *f, const struct st_home *home,
                    struct st_cautions *out)
{
    struct st_watch w = st_watch_usual(books, homes, &m->recipe);
    if (home)
        w.place = home;
    st_cautions_collect(&m->recipe, f, &w, out);
}

/* ---- cautions of the ledger ---- */

static bool is_worst_case(const struct st_caution *c, const struct st_toxicant *t)
{
    return strcmp(c->code, "worst_case") == 0 && strstr(c->what, t->name);
}

static const struct st_caution *of_toxicant(const struct st_cautions *all_of, const struct st_toxicant *t)
{
    for (int i = 0; i < all_of->n; i++)
        if (is_worst_case(&all_of->item[i], t))
            return &all_of->item[i];
    return NULL;
}

static const struct st_caution *like(const struct st_cautions *list, const struct st_caution *c)
{
    const struct st_caution *best = NULL;
    for (int i = 0; i < list->n; i++) {
        const struct st_caution *x = &list->item[i];
        if (strcmp(x->code, c->code) == 0 && x->step == c->step && x->line == c->line &&
            (!best || x->level > best->level))
            best = x;
    }
    return best;
}

/* In the same litre, an ingredient more takes no finding away. */
static void more_is_never_less(void **state)
{
    (void)state;
    static struct made m, more;
    static struct st_cautions before, after;
    int compared = 0;
    for (int seed = 1; seed <= RECIPES; seed++) {
        const struct st_foretold f = kit_drink(1000, 0.97, 12 + seed % 40);
        make(&m, seed);
        collect(&m, &f, NULL, &before);
        more = m;
        for (int s = 0; s < more.recipe.n_step; s++) {
            more.step[s].line = more.line[s];
            for (int i = 0; i < more.step[s].n_line; i++)
                if (more.line[s][i].what == &m.spirit)
                    more.line[s][i].what = &more.spirit;
        }
        more.recipe.step = more.step;
        struct st_step *to = &more.step[below((unsigned)more.recipe.n_step - 1)];
        to->line[to->n_line++] = kit_line(any(), kit_g(grams()));
        collect(&more, &f, NULL, &after);
        for (int t = 0; t < books->n_toxicant; t++) {
            const struct st_caution *a = of_toxicant(&before, &books->toxicant[t]),
                                    *b = of_toxicant(&after, &books->toxicant[t]);
            if (!a || after.left_out)
                continue;
            if (!b || b->level < a->level)
                fail_msg("seed %d: %s: '%s' (%s) became '%s' with %s", seed, books->toxicant[t].name, a->what,
                         st_level_name(a->level), b ? b->what : "nothing", to->line[to->n_line - 1].what->name);
            compared++;
        }
        for (int i = 0; i < before.n && !after.left_out; i++)
            if (strcmp(before.item[i].code, "plant_rule") == 0) {
                const struct st_caution *b = like(&after, &before.item[i]);
                if (!b || b->level < before.item[i].level)
                    fail_msg("seed %d: lost '%s'", seed, before.item[i].what);
                compared++;
            }
    }
    print_message("%d findings compared\n", compared);
    assert_true(compared > 2 * RECIPES);
}

/* ---- sources ---- */

static bool has_entry(const char *key, size_t n)
{
    const char *text = st_buf_text(&sources);
    for (const char *p = text; (p = strstr(p, key)) != NULL; p++) {
        const char *line = p;
        while (line > text && line[-1] != '\n')
            line--;
        if (p == line + strspn(line, "#-*| `[") && !strchr("abcdefghijklmnopqrstuvwxyz0123456789_", p[n]))
            return true;
    }
    return false;
}

static bool is_sourced(const char *source)
{
    char key[80];
    static const char *const MARKED[] = { "from memory", "common practice, no source",
                                          "policy, from memory" /* core/keeping.h */ };
    for (size_t i = 0; i < sizeof MARKED / sizeof *MARKED; i++)
        if (strcmp(source, MARKED[i]) == 0)
            return true;
    if (*source && !strpbrk(source, " [")) /* a bare key, as flags have it */
        return has_entry(source, strlen(source));
    const char *p = source;
    bool any_key = false;
    while ((p = strchr(p, '[')) != NULL) {
        const size_t n = strcspn(++p, "]");
        if (n >= sizeof key)
            return false;
        snprintf(key, sizeof key, "%.*s", (int)n, p);
        if (!has_entry(key, n))
            return false;
        any_key = true;
    }
    return any_key;
}

static void every_caution_has_a_source(void **state)
{
    (void)state;
    static struct made m;
    static struct st_cautions out;
    assert_false(is_sourced("[no_such_key]"));
    assert_false(is_sourced("no_such_key"));
    assert_false(is_sourced(""));
    int seen = 0;
    for (int seed = 1; seed <= RECIPES; seed++) {
        struct st_foretold f;
        make(&m, seed);
        const bool known = foretell(&m, &f);
        collect(&m, known ? &f : NULL, NULL, &out);
        for (int i = 0; i < out.n; i++, seen++)
            if (!out.item[i].source || !is_sourced(out.item[i].source))
                fail_msg("seed %d: '%s' (%s) has the source '%s'", seed, out.item[i].what, out.item[i].code,
                         out.item[i].source ? out.item[i].source : "NULL");
        free_foretold(&f, known);
    }
    print_message("%d cautions\n", seen);
}

/* ---- nothing unknown passes silently ---- */

static const struct st_ledger_entry *entry_of(const struct st_ledger *l, const struct st_toxicant *t)
{
    for (int i = 0; i < l->n_entry; i++)
        if (l->entry[i].toxicant == t)
            return &l->entry[i];
    return NULL;
}

static const struct st_carrier *carrier_at(const struct st_ledger_entry *e, int step, int line)
{
    for (int i = 0; i < e->n_carrier; i++)
        if (e->carrier[i].step == step && e->carrier[i].line == line)
            return &e->carrier[i];
    return NULL;
}

static void told_or_not_assessed(const struct made *m, const struct st_ledger *l, const struct st_cautions *out, int s,
                                 int i, const struct st_toxicant *t, int seed)
{
    const struct st_ingredient *in = m->recipe.step[s].line[i].what;
    const struct st_ledger_entry *e = entry_of(l, t);
    const struct st_carrier *c = e ? carrier_at(e, s, i) : NULL;
    const struct st_caution *told = of_toxicant(out, t);
    if (!c && !l->cut && !(e && e->n_more))
        fail_msg("seed %d: %s of %s is in no entry", seed, t->name, in->name);
    if (!told && !out->left_out)
        fail_msg("seed %d: %s of %s is not told", seed, t->name, in->name);
    if (!c || !told)
        return;
    if (isnan(c->high_mg)) {
        assert_true(e->verdict != ST_WITHIN && l->verdict != ST_WITHIN);
        if (!strstr(told->what, "not assessed"))
            fail_msg("seed %d: nobody knows the %s of %s, and it says '%s'", seed, t->name, in->name, told->what);
    } else if (!isnan(e->high_mg_kg))
        assert_true(c->high_mg >= 0.0 && e->high_mg >= c->high_mg * (1 - 1e-12));
}

static void nothing_passes_silently(void **state)
{
    (void)state;
    static struct made m;
    static struct st_cautions out;
    static struct st_ledger l;
    int looked = 0;
    for (int seed = 1; seed <= RECIPES; seed++) {
        struct st_foretold f;
        make(&m, seed);
        const bool known = foretell(&m, &f);
        collect(&m, known ? &f : NULL, NULL, &out);
        assert_int_equal(
            st_ledger_make(&m.recipe, known ? &f : NULL, books, homes->home[0].places, &KIT_DRINKER, NULL, 0, &l),
            ST_OK);
        for (int s = 0; s < m.recipe.n_step; s++)
            for (int i = 0; i < m.recipe.step[s].n_line; i++)
                for (int t = 0; t < books->n_toxicant && m.recipe.step[s].line[i].what; t++)
                    if (st_toxicant_flagged(&books->toxicant[t], m.recipe.step[s].line[i].what) &&
                        st_ledger_share(&m.recipe, known ? &f : NULL, s, i) > 0.0) {
                        told_or_not_assessed(&m, &l, &out, s, i, &books->toxicant[t], seed);
                        looked++;
                    }
        free_foretold(&f, known);
    }
    print_message("%d flagged things looked at\n", looked);
    assert_true(looked > 2 * RECIPES);
}

/* ---- places ---- */

static void within_the_strictest(const struct st_cautions *strict, const struct st_cautions *here, const char *place,
                                 int seed)
{
    for (int i = 0; i < here->n; i++) {
        const struct st_caution *c = &here->item[i], *s = like(strict, c);
        for (int t = 0; t < books->n_toxicant && strcmp(c->code, "worst_case") == 0; t++)
            if (is_worst_case(c, &books->toxicant[t]))
                s = of_toxicant(strict, &books->toxicant[t]);
        if (!s || s->level < c->level)
            fail_msg("seed %d: %s says '%s' (%s), the strictest '%s'", seed, place, c->what, st_level_name(c->level),
                     s ? s->what : "nothing");
    }
}

static void the_strictest_holds_every_place(void **state)
{
    (void)state;
    static struct made m;
    static struct st_cautions strict, here;
    int over = 0, less = 0;
    for (int seed = 1; seed <= RECIPES; seed++) {
        struct st_foretold f;
        make(&m, seed);
        const bool known = foretell(&m, &f);
        collect(&m, known ? &f : NULL, NULL, &strict);
        for (int h = 1; h < homes->n; h++) {
            collect(&m, known ? &f : NULL, &homes->home[h], &here);
            if (!strict.left_out && !here.left_out)
                within_the_strictest(&strict, &here, homes->home[h].code, seed);
            over += here.item[0].level >= ST_LEVEL_OVER;
            less += here.item[0].level < strict.item[0].level;
        }
        free_foretold(&f, known);
    }
    print_message("%d over a limit of a place, %d less than the strictest\n", over, less);
    assert_true(over > RECIPES / 2 && less > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(more_is_never_less),
        cmocka_unit_test(every_caution_has_a_source),
        cmocka_unit_test(nothing_passes_silently),
        cmocka_unit_test(the_strictest_holds_every_place),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
