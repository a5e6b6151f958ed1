/* Whole recipes of the corpus (tests/take/README.md): steps, what goes into them, times, questions, and whether the
 * bottle is what arithmetic on paper makes it.  Two rates are printed, exact lines and lines wrong and silent. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <ctype.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/foresee.h"
#include "text/take.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

#include "take_lines.h"
#include "take_recipe_reading.h"

#define FOLDER "tests/take/recipes"

/* Bars, per cent of the lines: of whole recipes, and of those and the sheets of lines together. */
enum { EXACT_LEAST = 92, SILENT_MOST = 2, BOTTLES_LEAST = 32, ALL_EXACT_LEAST = 90, ALL_SILENT_MOST = 2 };
static const char FRESH[] = "39"; /* recipes from here on were written after the reader: README */
struct tally {
    int lines, exact, told, silent, bottles, meet;
};
static struct tally tally;
static bool verbose;
static const char *file_name;

enum verdict { EXACT, TOLD, SILENT };

static void count(enum verdict v, const char *what, const char *want, const char *have)
{
    tally.lines++;
    tally.exact += v == EXACT;
    tally.told += v == TOLD;
    tally.silent += v == SILENT;
    if (v != EXACT && verbose)
        print_message("  %s: %s %s: wants \"%s\", has \"%s\"\n", file_name, v == TOLD ? "told  " : "SILENT", what, want,
                      have);
}

/* ---- what the program made of it ---- */

static const struct st_take_read_as *row_of(const struct st_take *t, const struct st_line *l, int step)
{
    const struct st_take_read_as *found = NULL;
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].item->line.what == l->what && t->row[i].item->role == ST_TAKE_INGREDIENT &&
            (!found || t->row[i].step == step))
            if (!found || found->step != step)
                found = &t->row[i];
    return found;
}

static bool is_unsure(const struct st_take_item *i)
{
    return i->sure >= ST_GUESS || i->n_ask > 0;
}

/* The row whose words hold the beginning of the slug. */
static bool unread_like(const struct st_take *t, const char *item)
{
    char stem[6];
    snprintf(stem, sizeof stem, "%.5s", item);
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *it = t->row[i].item;
        if ((it->role == ST_TAKE_INGREDIENT || it->role == ST_TAKE_STEP) && is_unsure(it)) {
            if (it->sure == ST_UNREAD || (it->line.what && strncmp(it->line.what->slug, stem, strlen(stem)) == 0))
                return true;
        }
    }
    return false;
}

static bool near(double a, double b)
{
    return fabs(a - b) <= 0.005 * fmax(fabs(a), fabs(b)) + 1e-9;
}

static bool same_dim(const struct st_amount *a, const char *unit)
{
    while (*unit == ' ')
        unit++;
    return (strncmp(unit, "g", 1) == 0 && a->dim == ST_DIM_MASS) ||
           (strncmp(unit, "mL", 2) == 0 && a->dim == ST_DIM_VOLUME) ||
           (strncmp(unit, "piece", 5) == 0 && a->dim == ST_DIM_PIECE);
}

static bool open_fits(const char *want, const struct st_amount *a)
{
    double low, high;
    if (strncmp(want, "cover", 5) == 0)
        return a->open == ST_OPEN_COVER;
    if (strncmp(want, "taste", 5) == 0)
        return a->open == ST_OPEN_TASTE;
    if (strncmp(want, "some", 4) == 0)
        return a->open == ST_OPEN_SOME || a->vague || a->low < a->high;
    if (strncmp(want, "top", 3) == 0)
        return a->open == ST_OPEN_TOP_UP;
    return range_after(want, "fill ", &low, &high) && a->open == ST_OPEN_FILL && fabs(a->fill_share - low) < 0.1;
}

static bool amount_fits(const char *want, const struct st_amount *a)
{
    double low, high;
    const bool about = *want == '~', up_to = strncmp(want, "to ", 3) == 0;

    want += about ? 1 : up_to ? 3 : 0;
    if (!range(&want, &low, &high))
        return open_fits(want, a);
    if (a->dim == ST_DIM_OPEN || a->make_up_to != up_to || !same_dim(a, want))
        return false;
    if (about)
        return a->low * 0.995 <= low && low <= a->high * 1.005 && a->high <= 6.03 * a->low;
    return low < high ? near(a->low, low) && near(a->high, high) : near(a->value, low);
}

static bool strength_fits(const char *want, const struct st_line *l)
{
    double low, high;
    if (!range_after(want, "strength ", &low, &high))
        return true;
    const struct st_range *r = l->strength.known ? &l->strength : &l->what->strength;
    return r->known && fabs(r->low - low) < 0.3 && fabs(r->high - high) < 0.3;
}

static bool item_fits(const char *want, const struct st_line *l, const struct st_take_read_as *row)
{
    const size_t n = strcspn(want, " ");
    if (strlen(l->what->slug) != n || strncmp(l->what->slug, want, n) != 0)
        return false;
    if (!amount_fits(want + n + (want[n] == ' '), &l->amount) || !strength_fits(want, l))
        return false;
    if (l->gross != (strstr(want, " gross") != NULL))
        return false;
    return !row || row->item->optional == (strstr(want, " optional") != NULL);
}

static bool same_slug(const char *want, const struct st_line *l)
{
    const size_t n = strcspn(want, " ");
    return l->what && strlen(l->what->slug) == n && strncmp(l->what->slug, want, n) == 0;
}

static void text_of(const struct st_line *l, char *buf, size_t size)
{
    static struct st_take_item item;
    memset(&item, 0, sizeof item);
    item.role = ST_TAKE_INGREDIENT;
    item.line = *l;
    st_take_reading(&item, buf, size);
}

static void compare_items(const struct step *want, const struct st_take *t, int step)
{
    const struct st_step *s = &t->recipe.recipe.step[step];
    bool used[64] = { false };
    char have[300];

    for (int i = 0; i < want->n_item; i++) {
        int best = -1;
        for (int k = 0; k < s->n_line && k < 64; k++)
            if (!used[k] && same_slug(want->item[i], &s->line[k]))
                best = k;
        if (best < 0) {
            count(unread_like(t, want->item[i]) ? TOLD : SILENT, s->id, want->item[i], "nothing");
            continue;
        }
        used[best] = true;
        const struct st_take_read_as *row = row_of(t, &s->line[best], step);
        text_of(&s->line[best], have, sizeof have);
        const bool fits = item_fits(want->item[i], &s->line[best], row);
        count(fits ? EXACT : row && is_unsure(row->item) ? TOLD : SILENT, s->id, want->item[i], have);
    }
    for (int k = 0; k < s->n_line && k < 64; k++)
        if (s->line[k].what && !used[k]) {
            const struct st_take_read_as *row = row_of(t, &s->line[k], step);
            text_of(&s->line[k], have, sizeof have);
            count(row && is_unsure(row->item) ? TOLD : SILENT, s->id, "nothing", have);
        }
}

/* ---- step by step ---- */

static bool time_fits(const struct step *want, const struct st_step *s)
{
    const bool has = s->time.dim == ST_DIM_TIME && s->time.value > 0;
    if (!has || want->time_low <= 0)
        return !has == (want->time_low <= 0);
    return s->time.low <= want->time_high * 1.05 && s->time.high >= want->time_low * 0.95;
}

static bool is_spent(const struct st_step *s)
{
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what && s->line[i].part == ST_SPENT)
            return true;
    return false;
}

static bool step_fits(const struct step *want, const struct st_step *s)
{
    return time_fits(want, s) && want->press == s->press && want->spent == is_spent(s) &&
           near(want->size_ml, s->bottle_ml) && want->bottles == s->bottles;
}

static void step_text(const struct st_step *s, char *buf, size_t size)
{
    snprintf(buf, size, "%s time %.4g..%.4g d%s%s size %g bottles %d", st_do_name(s->kind),
             s->time.dim == ST_DIM_TIME ? s->time.low / 86400 : 0,
             s->time.dim == ST_DIM_TIME ? s->time.high / 86400 : 0, s->press ? " press" : "",
             is_spent(s) ? " spent" : "", s->bottle_ml, s->bottles);
}

static void want_text(const struct step *s, char *buf, size_t size)
{
    snprintf(buf, size, "%s time %.4g..%.4g d%s%s size %g bottles %d", s->kind, s->time_low / 86400,
             s->time_high / 86400, s->press ? " press" : "", s->spent ? " spent" : "", s->size_ml, s->bottles);
}

static int shared(const struct step *want, const struct st_step *s)
{
    int n = 0;
    for (int i = 0; i < want->n_item; i++)
        for (int k = 0; k < s->n_line; k++)
            n += same_slug(want->item[i], &s->line[k]);
    return n;
}

/* For each step of the reading one of the same kind: that which shares most things, then the first. */
static void align(const struct recipe *r, const struct st_recipe *have, int pair[MOST_STEPS])
{
    bool used[64] = { false };
    for (int i = 0; i < r->n_step; i++) {
        int most = -1;
        pair[i] = -1;
        for (int k = 0; k < have->n_step && k < 64; k++)
            if (!used[k] && strcmp(r->step[i].kind, st_do_name(have->step[k].kind)) == 0 &&
                shared(&r->step[i], &have->step[k]) > most) {
                most = shared(&r->step[i], &have->step[k]);
                pair[i] = k;
            }
        if (pair[i] >= 0)
            used[pair[i]] = true;
    }
}

static void compare_steps(const struct recipe *r, const struct st_take *t)
{
    int pair[MOST_STEPS];
    bool used[64] = { false };
    char want[200], have[200];
    const struct st_recipe *recipe = &t->recipe.recipe;

    align(r, recipe, pair);
    for (int i = 0; i < r->n_step; i++) {
        want_text(&r->step[i], want, sizeof want);
        if (pair[i] < 0) {
            count(SILENT, "step", want, "no such step");
            for (int k = 0; k < r->step[i].n_item; k++)
                count(unread_like(t, r->step[i].item[k]) ? TOLD : SILENT, "item", r->step[i].item[k], "no such step");
            continue;
        }
        used[pair[i]] = true;
        step_text(&recipe->step[pair[i]], have, sizeof have);
        count(step_fits(&r->step[i], &recipe->step[pair[i]]) ? EXACT : SILENT, "step", want, have);
        compare_items(&r->step[i], t, pair[i]);
    }
    for (int k = 0; k < recipe->n_step && k < 64; k++)
        if (!used[k]) {
            const struct step none = { .index = k };
            step_text(&recipe->step[k], have, sizeof have);
            count(SILENT, "step", "no such step", have);
            compare_items(&none, t, k);
        }
}

/* ---- the head, the bottle ---- */

static void compare_head(const struct recipe *r, const struct st_take *t)
{
    static const char *const MEASURES[] = { "", "us", "metric", "imperial" };
    char asked[200] = "";
    for (int i = 0; i < t->n_question; i++)
        snprintf(asked + strlen(asked), sizeof asked - strlen(asked), "%s ", t->question[i].id);
    if (*r->title) {
        const size_t a = strlen(r->title), b = strlen(t->title), n = a < b ? a : b;
        count(n > 5 && strncmp(r->title, t->title, n) == 0 ? EXACT : SILENT, "title", r->title, t->title);
    }
    if (*r->measures) {
        const char *have = MEASURES[t->recipe.recipe.measures];
        count(strcmp(have, r->measures) == 0 ? EXACT
              : strstr(asked, "measures")    ? TOLD
                                             : SILENT,
              "measures", r->measures, have);
    }
    for (int i = 0; i < r->n_ask; i++)
        count(strstr(asked, r->ask[i]) ? EXACT : SILENT, "ask", r->ask[i], asked);
}

static void compare_bottle(const struct recipe *r, const struct st_take *t)
{
    static struct st_foretold f;
    struct st_problem p;
    if (!r->has_strength)
        return;
    tally.bottles++;
    struct st_plan *plan = t->whole ? st_plan_create(&t->recipe.recipe, &p) : NULL;
    const struct st_options o = { .seed = 1, .draws = 400 };
    bool meets = false;
    if (plan && st_plan_run(plan, &o, &f) >= 0) {
        const struct st_interval *q = &f.fig[ST_FIG_STRENGTH], *s = &f.fig[ST_FIG_SUGAR];
        meets = q->known && q->low <= r->strength[1] && q->high >= r->strength[0];
        meets = meets && (!r->has_sugar || (s->low <= r->sugar[1] && s->high >= r->sugar[0]));
        if (!meets && verbose)
            print_message("  %s: BOTTLE wants strength %g..%g sugar %g..%g, has %.1f..%.1f and %.0f..%.0f\n", file_name,
                          r->strength[0], r->strength[1], r->sugar[0], r->sugar[1], q->low, q->high, s->low, s->high);
    } else if (verbose)
        print_message("  %s: BOTTLE cannot be foretold\n", file_name);
    if (plan)
        st_foretold_done(&f);
    st_plan_free(plan);
    tally.meet += meets;
}

static void one_recipe(const char *name, const struct st_embedded *sheet)
{
    static struct recipe r;
    static struct st_take t;
    char path[300];
    struct st_buf text = { 0 }, reading = { 0 };
    struct st_problem p;
    const struct st_take_given given = { 0 };

    file_name = name;
    snprintf(path, sizeof path, FOLDER "/%.200s", name);
    if (st_file_read(path, 1 << 16, &text) != 0)
        fail_msg("cannot read %s", path);
    snprintf(path + strlen(path) - 4, 12, ".reading");
    if (st_file_read(path, 1 << 16, &reading) != 0)
        fail_msg("cannot read %s", path);
    char *copy = st_buf_take(&reading);
    read_reading(copy, &r);
    free(copy);
    fold(&r);
    struct st_catalogue *c = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    assert_non_null(c);
    (void)st_take_text(st_buf_text(&text), text.length, c, &given, &t, &p);
    compare_head(&r, &t);
    compare_steps(&r, &t);
    compare_bottle(&r, &t);
    st_take_done(&t);
    st_catalogue_free(c);
    st_buf_done(&text);
}

static void report(const char *which, int files, const struct tally *t)
{
    print_message("%s: %d recipes, %d lines: exact %.1f %%, told %.1f %%, wrong and silent %.1f %%; %d of %d bottles\n",
                  which, files, t->lines, 100.0 * t->exact / t->lines, 100.0 * t->told / t->lines,
                  100.0 * t->silent / t->lines, t->meet, t->bottles);
}

static void every_recipe(void **state)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct dirent **names = NULL;
    const int n = scandir(FOLDER, &names, NULL, alphasort);
    struct tally before = { 0 };
    int files = 0, old = 0;
    (void)state;

    verbose = getenv("ST_TAKE_VERBOSE") != NULL;
    for (int i = 0; i < n; i++) {
        const size_t k = strlen(names[i]->d_name);
        if (k > 4 && strcmp(names[i]->d_name + k - 4, ".txt") == 0) {
            if (old == 0 && strncmp(names[i]->d_name, FRESH, 2) >= 0) {
                before = tally;
                old = files;
            }
            one_recipe(names[i]->d_name, sheet);
            files++;
        }
        free(names[i]);
    }
    free(names);
    assert_true(old > 0 && files > old);
    const struct tally fresh = {
        tally.lines - before.lines,   tally.exact - before.exact,     tally.told - before.told,
        tally.silent - before.silent, tally.bottles - before.bottles, tally.meet - before.meet
    };
    report("corpus", old, &before);
    report("fresh", files - old, &fresh);
    assert_true(100.0 * tally.exact >= EXACT_LEAST * tally.lines);
    assert_true(100.0 * tally.silent < SILENT_MOST * tally.lines);
    assert_true(tally.meet >= BOTTLES_LEAST);
}

/* The two rates of everything there is: lines alone and whole recipes. */
static void all_together(void **state)
{
    (void)state;
    read_catalogue();
    int lines = tally.lines, silent = tally.silent, exact = tally.exact;
    for (int i = 0; i < N_SHEETS; i++) {
        const struct line_tally t = compare_sheet(SHEETS[i].path, false);
        lines += t.lines;
        silent += t.silent;
        exact += t.exact;
    }
    st_catalogue_free(catalogue);
    print_message("all together: %d lines, exact %.1f %%, wrong and silent %.1f %%\n", lines, 100.0 * exact / lines,
                  100.0 * silent / lines);
    assert_true(100.0 * exact >= ALL_EXACT_LEAST * lines);
    assert_true(100.0 * silent < ALL_SILENT_MOST * lines);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_recipe),
        cmocka_unit_test(all_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
