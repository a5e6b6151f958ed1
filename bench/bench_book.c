/* The notebook at three sizes, the largest one somebody's whole life of it: how long it takes to open it, to list and to find,
 * and how many deeds a second are acknowledged, beside how often the same disk syncs.
 *
 *   bench_book FOLDER [ROUNDS [STILLROOM]]   books are made in FOLDER (and removed), on whose disk it is measured;
 *                                            with the program the commands that people type are run, too
 *
 * All that is in the books is invented.  Looks: milliseconds of this process's processor time, the smallest of ROUNDS (15), pages
 * of the file in memory, so that others at work on the machine matter little.  Opening, which waits for the disk, and deeds: by
 * the clock on the wall. */
#define SQLITE_ENABLE_SESSION /* of book_inside.h */
#define SQLITE_ENABLE_PREUPDATE_HOOK
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "model/foresee.h"
#include "store/book_inside.h"
#include "store/search.h"

enum {
    SIZES = 3,
    SOON_MS = 50 /* is felt as at once */,
    READINGS = 10 /* a batch */,
    TRIES = 3 /* a recipe */,
    TURNS = 5,
    DEEDS = 60 /* a turn */
};

static const int BATCHES[SIZES] = { 100, 1000, 10000 };
static int rounds = 15;
static char path[300];

static double ms_of(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

static double ms(void)
{
    return ms_of(CLOCK_MONOTONIC);
}

static double cpu_ms(void)
{
    return ms_of(CLOCK_PROCESS_CPUTIME_ID);
}

static void must(struct book *b, enum book_status s)
{
    if (s == BOOK_OK)
        return;
    fprintf(stderr, "bench_book: %s: %s\n", book_said(b)->what, book_said(b)->why);
    exit(3);
}

static struct book *opened(enum book_open how)
{
    struct book *b;
    const enum book_status s = book_open(path, how, &b);
    must(b, s);
    return b;
}

/* ---- invented books ---- */

static const char *const FRUIT[] = { "walnut",   "quince",  "damson", "raspberry",   "elderflower", "lemon peel",
                                     "gentian",  "juniper", "cherry", "sloe",        "apricot",     "coffee",
                                     "angelica", "mint",    "orange", "blackcurrant" };
enum { FRUITS = sizeof FRUIT / sizeof *FRUIT };

static const char TEXT[] =
    "# Invented for measuring, number %d of many.\nschema_version: 1\ntitle: Invented %s %d\nmeasures: metric\nsteps:\n"
    "  - steep: jar\n    vessel: 2 L jar\n    add:\n      - %d g %s\n      - 700 mL neutral spirit 96 %%\n"
    "      - 12 g %s\n    for: %d days\n    press: no\n  - syrup: syrup\n    words: Warm until clear, then let it "
    "cool.\n"
    "    add:\n      - %d g sugar\n      - 500 mL water\n  - blend: drink\n    add:\n      - all of jar\n"
    "      - all of syrup\n";

static const char *text_of(struct st_arena *arena, int i)
{
    const char *fruit = FRUIT[i % FRUITS];
    return st_arena_printf(arena, TEXT, i, fruit, i, 300 + i % 400, fruit, FRUIT[(i / 7) % FRUITS], 10 + i % 50,
                           150 + i % 200);
}

static const char *day_of(struct st_arena *arena, int i)
{
    return st_arena_printf(arena, "20%02d-%02d-%02d", 10 + i / 700 % 16, 1 + i / 28 % 12, 1 + i % 28);
}

/* As many figures as foresee keeps of a try. */
static void put_figures(struct book *b, int64_t try_id)
{
    for (int f = 0; f < ST_NFIG; f++) {
        struct book_foreseen r;
        book_row_init(BOOK_FORESEEN, &r);
        r.try_id = try_id;
        r.key = st_figure_info((enum st_figure)f)->key;
        r.value = 20.0 + f;
        r.low = r.value - 1.0;
        r.high = r.value + 1.0;
        r.status = "ok";
        r.program = "bench";
        must(b, book_put(b, BOOK_FORESEEN, &r, NULL));
    }
}

static void put_recipe(struct book *b, struct st_arena *a, int i)
{
    struct book_recipe r;
    struct book_try t;
    int64_t id, try_id;

    must(b, book_begin(b, "2026-01-01T12:00", "kept a recipe"));
    book_row_init(BOOK_RECIPE, &r);
    r.name = st_arena_printf(a, "Invented %s %d", FRUIT[i % FRUITS], i);
    r.since = day_of(a, i);
    must(b, book_put(b, BOOK_RECIPE, &r, &id));
    for (int k = 1; k <= TRIES; k++) {
        book_row_init(BOOK_TRY, &t);
        t.recipe_id = id;
        t.number = k;
        t.on_day = day_of(a, i + k);
        t.text = text_of(a, i);
        t.said = "a bowl of fruit, spirit to cover, sugar as you like it";
        must(b, book_put(b, BOOK_TRY, &t, &try_id));
        put_figures(b, try_id);
    }
    must(b, book_end(b));
}

static void put_lot(struct book *b, struct st_arena *a, int i)
{
    struct book_lot l;
    must(b, book_begin(b, "2026-01-01T12:00", "bought"));
    book_row_init(BOOK_LOT, &l);
    l.code = st_arena_printf(a, "L%d", i);
    l.kind = "bought";
    l.name = FRUIT[i % FRUITS];
    l.words = st_arena_printf(a, "%d g of %s from the market", 500 + i % 700, FRUIT[i % FRUITS]);
    l.dim = "g";
    l.amount = 500 + i % 700;
    l.since = day_of(a, i);
    if (i % 5)
        l.ended_on = day_of(a, i + 30);
    must(b, book_put(b, BOOK_LOT, &l, NULL));
    must(b, book_end(b));
}

static void put_readings(struct book *b, struct st_arena *a, int64_t batch, int i)
{
    static const char *const KIND[] = { "sg", "brix", "drained_g", "ph" };
    for (int k = 0; k < READINGS; k++) {
        struct book_reading r;
        book_row_init(BOOK_READING, &r);
        r.batch_id = batch;
        r.step = "steep";
        r.kind = KIND[k % 4];
        r.value = 1.0 + (i % 97) * 1e-3 + k;
        r.at = day_of(a, i + k);
        r.temperature_c = 20.0;
        if (k % 3 == 0)
            r.words = k % 2 ? "cloudy, smells of almond" : "clear by the window";
        must(b, book_put(b, BOOK_READING, &r, NULL));
    }
}

static void put_rest(struct book *b, struct st_arena *a, int64_t batch, int i)
{
    struct book_jar j;
    struct book_weighing w;
    struct book_bottling o;
    struct book_gone g;
    int64_t bottling;

    book_row_init(BOOK_JAR, &j);
    j.batch_id = batch;
    j.doing = "steeping";
    j.begun_on = day_of(a, i);
    j.due_on = day_of(a, i + 40);
    if (i % 50)
        j.ended_on = day_of(a, i + 41);
    must(b, book_put(b, BOOK_JAR, &j, NULL));
    for (int k = 1; k <= 3; k++) {
        book_row_init(BOOK_WEIGHING, &w);
        w.batch_id = batch;
        w.step = "steep";
        w.line = k;
        w.words = "412 g";
        w.on_day = day_of(a, i);
        must(b, book_put(b, BOOK_WEIGHING, &w, NULL));
    }
    book_row_init(BOOK_BOTTLING, &o);
    o.batch_id = batch;
    o.code = st_arena_printf(a, "B%d-1", i);
    o.on_day = day_of(a, i + 60);
    o.size_ml = 500.0;
    o.count = 4;
    must(b, book_put(b, BOOK_BOTTLING, &o, &bottling));
    book_row_init(BOOK_GONE, &g);
    g.bottling_id = bottling;
    g.count = 1;
    g.on_day = day_of(a, i + 70);
    g.person = i % 3 ? "Aunt Example" : "the invented neighbour";
    must(b, book_put(b, BOOK_GONE, &g, NULL));
}

static void put_batch(struct book *b, struct st_arena *a, int i, int recipes)
{
    struct book_batch r;
    int64_t id;

    must(b, book_begin(b, "2026-01-01T12:00", "a batch and what became of it"));
    book_row_init(BOOK_BATCH, &r);
    r.code = st_arena_printf(a, "B%d", i);
    r.name = st_arena_printf(a, "Invented %s", FRUIT[i % FRUITS]);
    r.try_id = 1 + TRIES * (i % recipes);
    r.text = text_of(a, i);
    r.begun_on = day_of(a, i);
    must(b, book_put(b, BOOK_BATCH, &r, &id));
    put_readings(b, a, id, i);
    put_rest(b, a, id, i);
    must(b, book_end(b));
}

/* Not synced while it is made: it would take an hour. */
static void make(int batches)
{
    struct book *b;
    const int recipes = batches / 5;

    b = opened(BOOK_WRITE);
    must(b, book_run(b, "PRAGMA synchronous = OFF", "cannot"));
    for (int i = 0; i < recipes; i++) {
        struct st_arena a = { 0 };
        put_recipe(b, &a, i);
        put_lot(b, &a, i);
        st_arena_done(&a);
    }
    for (int i = 0; i < batches; i++) {
        struct st_arena a = { 0 };
        put_batch(b, &a, i, recipes);
        st_arena_done(&a);
    }
    book_close(b);
}

/* ---- looks ---- */

static int list(struct book *b, struct st_arena *a, enum book_table t, const struct book_wanted *w)
{
    void *rows;
    int n;
    must(b, book_list(b, t, w, a, &rows, &n));
    return n;
}

static int find(struct book *b, struct st_arena *a, const char *words)
{
    struct book_hit *hits;
    int n;
    must(b, book_search(b, words, 20, a, &hits, &n));
    return n;
}

#define LIST(name, t, ...)                                                                                             \
    static int name(struct book *b, struct st_arena *a)                                                                \
    {                                                                                                                  \
        return list(b, a, t, &(struct book_wanted){ __VA_ARGS__ });                                                    \
    }
LIST(recipes, BOOK_RECIPE, .order = "name")
LIST(tries, BOOK_TRY, .column = "recipe_id", .integer = 7)
LIST(lots, BOOK_LOT, .order = "since", .backward = true)
LIST(lots_there, BOOK_LOT, .column = "ended_on", .integer = BOOK_NO)
LIST(newest_batches, BOOK_BATCH, .order = "begun_on", .backward = true, .most = 50)
LIST(all_batches, BOOK_BATCH, .order = "begun_on", .backward = true)
LIST(open_jars, BOOK_JAR, .column = "ended_on", .integer = BOOK_NO, .order = "due_on")
LIST(readings_of_one, BOOK_READING, .column = "batch_id", .integer = 50)
LIST(newest_readings, BOOK_READING, .order = "at", .backward = true, .most = 50)
LIST(all_readings, BOOK_READING, .column = NULL)
LIST(batch_by_code, BOOK_BATCH, .column = "code", .text = "B42")
LIST(gone_to, BOOK_GONE, .column = "person", .text = "Aunt Example", .most = 50)

static int last_deeds(struct book *b, struct st_arena *a)
{
    struct book_deed *d;
    int n;
    must(b, book_deeds(b, 20, a, &d, &n));
    return n;
}
static int find_rare(struct book *b, struct st_arena *a)
{
    return find(b, a, "Invented 77");
}
static int find_common(struct book *b, struct st_arena *a)
{
    return find(b, a, "walnut");
}
static int find_two(struct book *b, struct st_arena *a)
{
    return find(b, a, "quin angel");
}
static int find_everywhere(struct book *b, struct st_arena *a)
{
    return find(b, a, "invented");
}
static int find_in_readings(struct book *b, struct st_arena *a)
{
    return find(b, a, "almond");
}
static int find_letters(struct book *b, struct st_arena *a)
{
    return find(b, a, "in th");
}

static const struct look {
    const char *what;
    int (*look)(struct book *b, struct st_arena *a);
} LOOK[] = {
    { "recipes, all by name", recipes },
    { "tries of a recipe", tries },
    { "lots, all by day", lots },
    { "lots that are there", lots_there },
    { "batches, newest 50", newest_batches },
    { "batches, all with their texts", all_batches },
    { "a batch by its code", batch_by_code },
    { "jars that stand, by what is due", open_jars },
    { "readings of a batch", readings_of_one },
    { "readings, newest 50", newest_readings },
    { "readings, all", all_readings },
    { "bottles that went to a person, 50", gone_to },
    { "deeds, last 20", last_deeds },
    { "find a number", find_rare },
    { "find a fruit", find_common },
    { "find two beginnings", find_two },
    { "find what stands everywhere", find_everywhere },
    { "find what was said of readings", find_in_readings },
    { "find two letters", find_letters },
};
enum { LOOKS = sizeof LOOK / sizeof *LOOK };

static double time_open(void)
{
    double least = HUGE_VAL;
    for (int i = 0; i < rounds; i++) {
        struct book *b;
        const double began = ms();
        b = opened(BOOK_WRITE);
        least = fmin(least, ms() - began);
        book_close(b);
    }
    return least;
}

static double time_look(const struct look *l, int *n)
{
    double least = HUGE_VAL;
    struct book *b;
    b = opened(BOOK_READ);
    for (int i = -1; i < rounds; i++) { /* once to have the pages in memory */
        struct st_arena a = { 0 };
        const double began = cpu_ms();
        *n = l->look(b, &a);
        if (i >= 0)
            least = fmin(least, cpu_ms() - began);
        st_arena_done(&a);
    }
    book_close(b);
    return least;
}

/* ---- what people type ---- */

static const struct typed {
    const char *what, *word[4];
} TYPED[] = {
    { "larder", { "larder" } },
    { "larder find walnut", { "larder", "find", "walnut" } },
    { "larder show L7", { "larder", "show", "L7" } },
    { "recipe", { "recipe" } },
    { "recipe find walnut", { "recipe", "find", "walnut" } },
    { "recipe show \"Invented quince 1\"", { "recipe", "show", "Invented quince 1" } },
    { "batch", { "batch" } },
    { "batch all", { "batch", "all" } },
    { "batch show B42", { "batch", "show", "B42" } },
    { "batch left", { "batch", "left" } },
    { "batch alcohol", { "batch", "alcohol" } },
    { "undo --list", { "undo", "--list" } },
    { "recipe --most 10000, all of them", { "recipe", "--most", "10000" } },
    { "batch all --most 10000", { "batch", "all", "--most", "10000" } },
    { "batch left --most 10000", { "batch", "left", "--most", "10000" } },
};
enum { TYPES = sizeof TYPED / sizeof *TYPED };

static double children_ms(void)
{
    struct rusage u;
    getrusage(RUSAGE_CHILDREN, &u);
    return (double)(u.ru_utime.tv_sec + u.ru_stime.tv_sec) * 1e3 +
           (double)(u.ru_utime.tv_usec + u.ru_stime.tv_usec) * 1e-3;
}

static int run_typed(const char *program, const struct typed *t)
{
    int status = 0;
    fflush(stdout); /* else the child prints it a second time */
    const pid_t child = fork();
    if (child == 0) {
        char *argv[10] = { (char *)(uintptr_t)program };
        int n = 1;
        for (int i = 0; i < 4 && t->word[i]; i++)
            argv[n++] = (char *)(uintptr_t)t->word[i];
        argv[n++] = (char *)(uintptr_t) "--book";
        argv[n++] = path;
        if (freopen("/dev/null", "w", stdout))
            execv(program, argv);
        _exit(99);
    }
    return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) ? WEXITSTATUS(status) : 99;
}

/* Processor time of the whole program, user and system. */
static double time_typed(const char *program, const struct typed *t)
{
    double least = HUGE_VAL;
    for (int i = -1; i < rounds; i++) {
        const double began = children_ms();
        const int code = run_typed(program, t);
        if (code != 0) {
            fprintf(stderr, "bench_book: stillroom %s ended with %d\n", t->what, code);
            exit(3);
        }
        if (i >= 0)
            least = fmin(least, children_ms() - began);
    }
    return least;
}

/* ---- deeds a second ---- */

/* Writes of 4096 bytes at the end of a file, each synced: what no acknowledged deed can be quicker than. */
static double syncs_a_second(int n)
{
    char name[320], page[4096];
    snprintf(name, sizeof name, "%s-sync", path);
    memset(page, 'x', sizeof page);
    const int fd = open(name, O_RDWR | O_CREAT | O_TRUNC, 0600);
    const double began = ms();
    for (int i = 0; i < n; i++)
        if (fd < 0 || write(fd, page, sizeof page) != (ssize_t)sizeof page || fdatasync(fd) != 0) {
            fprintf(stderr, "bench_book: cannot write %s\n", name);
            exit(3);
        }
    const double took = ms() - began;
    close(fd);
    unlink(name);
    return n / took * 1e3;
}

static double deeds_a_second(struct book *b, int n, int turn)
{
    const double began = ms();
    for (int i = 0; i < n; i++) {
        struct st_arena a = { 0 };
        put_lot(b, &a, 1000000 + turn * n + i);
        st_arena_done(&a);
    }
    return n / (ms() - began) * 1e3;
}

static void write_and_tell(int batches)
{
    struct book *b;
    b = opened(BOOK_WRITE);
    printf(
        "deeds a second in a book of %d batches, beside writes of a page that the same disk syncs a second, in turn:\n",
        batches);
    for (int i = 0; i < TURNS; i++) {
        const double deeds = deeds_a_second(b, DEEDS, i), syncs = syncs_a_second(DEEDS);
        printf("  %8.0f %8.0f   %.2f\n", deeds, syncs, deeds / syncs);
    }
    book_close(b);
}

static void remove_book(void)
{
    static const char *const END[] = { "", "-wal", "-shm" };
    for (int i = 0; i < 3; i++) {
        char name[320];
        snprintf(name, sizeof name, "%s%s", path, END[i]);
        unlink(name);
    }
}

static void print_looks(double (*t)[LOOKS + 1], int (*n)[LOOKS])
{
    printf("milliseconds, smallest of %-3d        x1       x10      x100    rows at x100\n", rounds);
    printf("%-34s %8.2f  %8.2f  %8.2f\n", "open", t[0][LOOKS], t[1][LOOKS], t[2][LOOKS]);
    for (int i = 0; i < LOOKS; i++)
        printf("%-34s %8.2f  %8.2f  %8.2f  %8d%s\n", LOOK[i].what, t[0][i], t[1][i], t[2][i], n[2][i],
               t[2][i] <= SOON_MS             ? ""
               : LOOK[i].look == all_readings ? "   no screen asks for all of them; export walks through them"
                                              : "   over 50 ms");
}

static void print_typed(double (*t)[TYPES])
{
    printf("\nprocessor time of the whole program, milliseconds, smallest of %d: start, sheets, book, page\n", rounds);
    printf("%-34s %8s  %8s  %8s\n", "stillroom", "x1", "x10", "x100");
    for (int i = 0; i < TYPES; i++)
        printf("%-34s %8.1f  %8.1f  %8.1f%s\n", TYPED[i].what, t[0][i], t[1][i], t[2][i],
               t[2][i] > SOON_MS ? "   over 50 ms" : "");
}

int main(int argc, char **argv)
{
    static double t[SIZES][LOOKS + 1];
    static double typed[SIZES][TYPES];
    static int n[SIZES][LOOKS];
    const char *program = argc > 3 ? argv[3] : NULL;

    if (argc < 2) {
        fprintf(stderr, "bench_book FOLDER [ROUNDS [STILLROOM]]\n");
        return 2;
    }
    if (argc > 2)
        rounds = (int)fmax(1.0, strtod(argv[2], NULL));
    snprintf(path, sizeof path, "%.250s/bench.book", argv[1]);
    for (int s = 0; s < SIZES; s++) {
        remove_book();
        const double began = ms();
        make(BATCHES[s]);
        const double took = ms() - began;
        t[s][LOOKS] = time_open();
        for (int i = 0; i < LOOKS; i++)
            t[s][i] = time_look(&LOOK[i], &n[s][i]);
        for (int i = 0; program && i < TYPES; i++)
            typed[s][i] = time_typed(program, &TYPED[i]);
        printf("%d recipes, %d batches, %d readings: made in %.1f s\n", BATCHES[s] / 5, BATCHES[s],
               BATCHES[s] * READINGS, took / 1e3);
        fflush(stdout);
        if (s == SIZES - 1 || s == 0)
            write_and_tell(BATCHES[s]);
    }
    print_looks(t, n);
    if (program)
        print_typed(typed);
    if (!getenv("KEEP"))
        remove_book();
    return 0;
}
