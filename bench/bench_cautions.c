/* What the ledger and the cautions cost on top of foresee itself, recipe by recipe, side by side in one run.
 *
 *   bench_cautions RECIPE...     4 000 draws without effects; ms of CPU of this process, the smallest of REPEAT turns each
 *
 * First what a start of the program pays once: reading the sheets of rules and places. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "text/cautions.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "text/rules_built.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

enum { REPEAT = 41, DRAWS = 4000, OFTEN = 20 };

static struct st_rule_books *books;
static struct st_homes *homes;

/* Of this process alone: others may be at work on the machine. */
static double cpu_ms(void)
{
    struct timespec t = { 0 };
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

struct cost {
    double foresee, cautions, plain, ledger; /* ms */
};

static bool foretell(const struct st_recipe *r, struct st_foretold *f)
{
    struct st_problem p;
    const struct st_options o = { 1, DRAWS, false };
    struct st_plan *plan = st_plan_create(r, &p);
    const bool done = plan && st_plan_run(plan, &o, f) >= 0;
    st_plan_free(plan);
    return done;
}

/* The four in turn, so that a busy second of the machine meets them alike. */
static bool measure(const struct st_recipe *r, struct cost *c)
{
    static struct st_cautions out;
    static struct st_ledger ledger;
    const struct st_watch w = st_watch_usual(books, homes, r);
    *c = (struct cost){ HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL };
    for (int i = 0; i < REPEAT; i++) {
        struct st_foretold f;
        double t = cpu_ms();
        if (!foretell(r, &f))
            return false;
        c->foresee = fmin(c->foresee, cpu_ms() - t);
        t = cpu_ms();
        for (int k = 0; k < OFTEN; k++)
            st_cautions_collect(r, &f, &w, &out);
        c->cautions = fmin(c->cautions, (cpu_ms() - t) / OFTEN);
        t = cpu_ms();
        for (int k = 0; k < OFTEN; k++)
            st_cautions_collect(r, &f, NULL, &out);
        c->plain = fmin(c->plain, (cpu_ms() - t) / OFTEN);
        t = cpu_ms();
        for (int k = 0; k < OFTEN; k++)
            (void)st_ledger_make(r, &f, books, w.place->places, &w.who, r->assay, r->n_assay, &ledger);
        c->ledger = fmin(c->ledger, (cpu_ms() - t) / OFTEN);
        st_foretold_done(&f);
    }
    return true;
}

static bool read_sheets(void)
{
    struct st_problem p = { 0 };
    double best = HUGE_VAL;
    for (int i = 0; i < REPEAT; i++) {
        st_rule_books_free(books);
        st_homes_free(homes);
        const double t = cpu_ms();
        books = st_rules_built(&p);
        homes = st_homes_built(&p);
        best = fmin(best, cpu_ms() - t);
    }
    printf("sheets of rules and places, read once: %.3f ms\n", best);
    return books && homes;
}

static bool one(const char *path, const char *sheet, size_t size)
{
    struct st_problem p = { 0 };
    struct st_buf text = { 0 };
    struct st_recipe_file file;
    struct cost c;
    struct st_catalogue *all = st_catalogue_create(sheet, size, &p);
    if (!all || st_file_read(path, 1u << 20, &text)) {
        fprintf(stderr, "bench_cautions: cannot read %s\n", path);
        st_catalogue_free(all);
        return false;
    }
    const bool done =
        st_recipe_read(path, st_buf_text(&text), text.length, all, &file) == 0 && measure(&file.recipe, &c);
    const char *name = strrchr(path, '/');
    if (done)
        printf("%-30s %8.3f %8.3f %8.3f %8.3f %8.1f %%\n", name ? name + 1 : path, c.foresee, c.ledger, c.plain,
               c.cautions, 100 * c.cautions / c.foresee);
    else
        fprintf(stderr, "bench_cautions: %s gives no drink\n", path);
    st_recipe_done(&file);
    st_buf_done(&text);
    st_catalogue_free(all);
    return done;
}

int main(int argc, char **argv)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    bool good = sheet && read_sheets();
    printf("%-30s %8s %8s %8s %8s %10s\n", "ms", "foresee", "ledger", "others", "all", "all/foresee");
    for (int i = 1; i < argc && good; i++)
        good = one(argv[i], (const char *)sheet->bytes, sheet->size) && good;
    st_rule_books_free(books);
    st_homes_free(homes);
    return good ? 0 : 1;
}
