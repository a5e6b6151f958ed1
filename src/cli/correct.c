#include <math.h>
#include <string.h>

#include "api/doc_gauge.h"
#include "cli/correct.h"
#include "core/strength.h"
#include "text/goods_line.h"
#include "text/quantity.h"

const char cmd_correct_usage[] = "stillroom correct B14 WISHES\n"
                                 "stillroom correct --volume 1.2L --sg 1.040 --brix 28 --temperature 21 WISHES\n"
                                 "stillroom correct --volume 1.2L --now-strength 24 --now-sugar 260 WISHES\n"
                                 "\n"
                                 "A batch that was measured, put right: what to pour in, and draw off first, so\n"
                                 "that it comes where you want it, with the certainty you ask for. Several ways\n"
                                 "side by side.\n"
                                 "\n"
                                 "B14 is a batch of the book: what is in the jar is then known by its readings,\n"
                                 "where it stands by its jar, and what may be poured in by the larder.  Cloudy,\n"
                                 "not wrong in taste: stillroom clear B14 tells how to settle, fine and filter it.\n"
                                 "\n"
                                 "What is in the jar; +- holds 19 of 20, as in 24+-0.3:\n"
                                 "  --volume 1.2L        how much there is (--now-volume says the same)\n"
                                 "  --now-strength 24    % vol\n"
                                 "  --now-sugar 260      g/L\n"
                                 "  --now-acid 4         g/L as citric acid\n"
                                 "  --sg S, --brix B     read by hydrometer and refractometer, instead of the two;\n"
                                 "                       or one of them and what is known\n"
                                 "  --sg-boiled S        hydrometer after boiling off the alcohol and making up\n"
                                 "                       the volume\n"
                                 "  --temperature C      of the liquid as it was read (20)\n"
                                 "  --hydrometer 20C|60F, --no-atc   as in stillroom gauge\n"
                                 "\n"
                                 "Wishes:\n"
                                 "  --strength 26        within 0.5 % vol; or 25..27, \"at least 22\", 26+-0.3\n"
                                 "  --sugar 200..220     g/L\n"
                                 "  --acid 6             g/L\n"
                                 "  --to-volume 1.4L     how much it shall be in the end\n"
                                 "  --certainty 90       in how many of 100 it shall be inside all of them\n"
                                 "\n"
                                 "What may be done:\n"
                                 "  --with \"vodka 40 %\"  may be poured in; say it for each: water, sugar,\n"
                                 "                       \"syrup 65 %\", \"citric acid\", \"lemon juice\",\n"
                                 "                       \"second pour 22 % 60 g/L\",\n"
                                 "                       \"batch B9 30+-0.5 % 250+-5 g/L\"; a price:\n"
                                 "                       \"vodka 40 % at 18 per L\"; with a batch also the code of\n"
                                 "                       another, B9 or your own, or of a lot, L7, by its own\n"
                                 "                       figures and with its cautions; instead of the larder\n"
                                 "  --have \"vodka 300 mL\"  there is no more of it\n"
                                 "  --jar 1.5L           what stands in it has to fit\n"
                                 "  --draw-off 300mL     so much may be taken out first, or no; else with a jar a\n"
                                 "                       third\n"
                                 "  --scale 0.1g         what your scale shows (1 g)\n"
                                 "  --kitchen            also in amounts that a kitchen can measure\n"
                                 "\n"
                                 "The plain addition comes first.  What you do not ask for stays near what it is,\n"
                                 "or beside it stands what keeps it; more is never poured in only to make a rough\n"
                                 "reading look surer.\n"
                                 "\n"
                                 "Ends with 1 when nothing comes inside with that certainty: the surest or nearest\n"
                                 "is shown, and what it would take, a better reading too.  Masses are added, so\n"
                                 "what shrinks on mixing is reckoned with.\n";

static const char *const KNOWN[] = {
    "--volume", "--now-volume", "--now-strength", "--now-sugar",  "--now-acid", "--sg",
    "--brix",   "--sg-boiled",  "--temperature",  "--hydrometer", "--no-atc",   "--strength",
    "--sugar",  "--acid",       "--to-volume",    "--certainty",  "--with",     "--have",
    "--jar",    "--draw-off",   "--kitchen",      "--scale",      NULL
};

static bool complain(const char *option, const struct st_problem *p)
{
    char what[260];
    (void)snprintf(what, sizeof what, "--%s %s", option, p->what);
    cli_error(what, p->why, p->try_);
    return false;
}

static bool refuse(const char *what, const char *why, const char *try_)
{
    cli_error(what, why, try_);
    return false;
}

/* ---- what is said several times ---- */

struct several {
    const char *with[ST_CORRECT_THINGS + 1], *have[ST_CORRECT_THINGS + 1];
    int n_with, n_have;
    bool is_batch[ST_CORRECT_THINGS + 1]; /* with[i] is another batch or a lot of the book */
};

static bool take_several(struct cli *c, const char *name, const char *said[], int *n)
{
    const size_t size = strlen(name);
    int left = 0;
    for (int i = 0; i < c->argc; i++) {
        const char *a = c->argv[i], *value = NULL;
        const bool is = strncmp(a, "--", 2) == 0 && strncmp(a + 2, name, size) == 0;
        if (is && a[2 + size] == '=')
            value = a + 3 + size;
        else if (is && a[2 + size] == '\0') {
            if (i + 1 == c->argc)
                return refuse(a, "it has no value", "see stillroom help correct");
            value = c->argv[++i];
        } else {
            c->argv[left++] = c->argv[i];
            continue;
        }
        if (*n > ST_CORRECT_THINGS)
            return refuse(a, "it is said too often: eight things at most", "leave some out");
        said[(*n)++] = value;
    }
    c->argc = left;
    return true;
}

/* ---- what is in the jar ---- */

struct said {
    const char *batch, *volume, *strength, *sugar, *acid, *jar, *draw, *scale, *wish[ST_CORRECT_NFIG];
    struct st_gauge_in in;
    struct st_gauge_given given;
    bool kitchen;
};

/* Readings, one of which may be a figure that is known. */
static bool gauged(const struct said *s, struct st_correct_task *t)
{
    struct st_gauge_in in = s->in;
    struct st_gauge_given g = s->given;
    struct st_gauge_out out = { 0 };
    struct st_problem problem;
    g.strength = s->strength != NULL;
    g.sugar = s->sugar != NULL;
    in.strength = t->ask.batch.is.strength;
    in.strength_u = t->ask.batch.is.strength_u;
    in.sugar_g_l = t->ask.batch.is.sugar;
    in.sugar_u = t->ask.batch.is.sugar_u;
    in.acid_g_l = t->ask.batch.is.acid;
    if (!st_gauge_choose(&g, "--", &in.mode, &problem))
        return refuse(problem.what, problem.why, problem.try_);
    const enum st_status status = st_gauge(&in, &out);
    if (status < 0) {
        st_gauge_impossible(&out, status, "--", &problem);
        return refuse(problem.what, problem.why, problem.try_);
    }
    if (*st_gauge_assumed(&g) && t->n_assumed < ST_CORRECT_ASSUMED)
        (void)snprintf(t->assumed[t->n_assumed++], sizeof t->assumed[0], "As for the readings, %s.",
                       st_gauge_assumed(&g));
    st_correct_task_gauged(t, &out);
    return true;
}

static bool read_now(const struct said *s, struct st_correct_task *t)
{
    const struct {
        const char *option, *said;
        enum st_correct_figure of;
    } now[] = { { "volume", s->volume, ST_CORRECT_VOLUME },
                { "now-strength", s->strength, ST_CORRECT_STRENGTH },
                { "now-sugar", s->sugar, ST_CORRECT_SUGAR },
                { "now-acid", s->acid, ST_CORRECT_ACID } };
    struct st_problem problem;
    for (size_t i = 0; i < sizeof now / sizeof *now; i++)
        if (now[i].said && !st_correct_task_now(t, now[i].of, now[i].said, &problem))
            return complain(now[i].option, &problem);
    if (!s->volume)
        return refuse("correct", "it is not said how much there is", "write for example --volume 1.2L");
    const struct st_gauge_given *g = &s->given;
    if (g->sg || g->brix || g->boiled)
        return gauged(s, t);
    if (!s->strength || !s->sugar)
        return refuse("correct", "it is not said what is in the jar",
                      "write --now-strength 24 --now-sugar 260, or readings: --sg 1.040 --brix 28");
    return true;
}

/* ---- options ---- */

static bool take_readings(struct cli *c, struct said *s)
{
    bool bad = false;
    double T = ST_T20;
    s->given.all_T = cli_option_temperature(c, "--temperature", &T, &bad);
    s->in.sg_T = s->in.brix_T = s->in.sg_boiled_T = T;
    s->given.sg = cli_option_number(c, "--sg", 0.7, 1.7, &s->in.sg, &bad);
    s->given.brix = cli_option_number(c, "--brix", -5, 85, &s->in.brix, &bad);
    s->given.boiled = cli_option_number(c, "--sg-boiled", 0.7, 1.7, &s->in.sg_boiled, &bad);
    s->in.no_atc = cli_flag(c, "--no-atc");
    const char *scale = cli_option(c, "--hydrometer", &bad);
    if (scale && strcmp(scale, "20C") != 0 && strcmp(scale, "60F") != 0)
        return refuse("--hydrometer",
                      "hydrometers are marked for 20 \xc2\xb0"
                      "C or 60 \xc2\xb0"
                      "F",
                      "write --hydrometer 20C or --hydrometer 60F");
    s->in.sg_cal = scale && strcmp(scale, "60F") == 0 ? ST_HYDROMETER_60F : ST_HYDROMETER_20C;
    return !bad;
}

static bool take_words(struct cli *c, struct said *s, struct st_correct_task *t)
{
    static const char *const WISH[ST_CORRECT_NFIG] = { "--strength", "--sugar", "--acid", "--to-volume" };
    bool bad = false;
    double x;
    const char *now = cli_option(c, "--now-volume", &bad);
    s->volume = cli_option(c, "--volume", &bad);
    if (now && s->volume)
        return refuse("--now-volume", "--volume says the same", "give one of them");
    s->volume = s->volume ? s->volume : now;
    s->strength = cli_option(c, "--now-strength", &bad);
    s->sugar = cli_option(c, "--now-sugar", &bad);
    s->acid = cli_option(c, "--now-acid", &bad);
    s->jar = cli_option(c, "--jar", &bad);
    s->draw = cli_option(c, "--draw-off", &bad);
    s->scale = cli_option(c, "--scale", &bad);
    s->kitchen = cli_flag(c, "--kitchen");
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        s->wish[f] = cli_option(c, WISH[f], &bad);
    if (cli_option_number(c, "--certainty", 0.5, 99.9, &x, &bad))
        t->ask.certainty = x > 1.0 ? 0.01 * x : x;
    if (!bad && t->ask.certainty < 0.5)
        return refuse("--certainty", "less than 50 of 100 is no certainty", "write for example --certainty 90");
    return !bad;
}

static bool quantity(const char *option, const char *said, enum st_dimension dim, double *x)
{
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;
    if (st_amount_asks(said, ST_MEASURES_METRIC, &p))
        return complain(option + 2, &p);
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, &a, &used, &p) == 0 && said[used] == '\0' &&
        a.dim == dim && a.value > 0.0) {
        *x = a.value;
        return true;
    }
    return dim == ST_DIM_VOLUME ? refuse(option, "it is no volume", "write for example 1.5L")
                                : refuse(option, "it is no weight", "write for example 0.1g");
}

static bool read_limits(const struct said *s, struct st_correct_task *t)
{
    static const char *const NAME[ST_CORRECT_NFIG] = { "strength", "sugar", "acid", "to-volume" };
    struct st_problem problem;
    int wishes = 0;
    t->draw_said = s->draw != NULL;
    if (s->draw && strcmp(s->draw, "no") != 0 && strcmp(s->draw, "0") != 0 &&
        !quantity("--draw-off", s->draw, ST_DIM_VOLUME, &t->ask.draw_most_ml))
        return false;
    if (s->scale && !quantity("--scale", s->scale, ST_DIM_MASS, &t->ask.digit_g))
        return false;
    t->kitchen.tools.scale_digit_g = t->ask.digit_g;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        wishes += s->wish[f] != NULL;
        if (s->wish[f] && !st_correct_task_wish(t, (enum st_correct_figure)f, s->wish[f], &problem))
            return complain(NAME[f], &problem);
    }
    if (wishes == 0)
        return refuse("correct", "nothing is wished for", "write for example --strength 26 --sugar 200..220");
    return true;
}

/* What the book says of the batch named; what was said beside it counts more. */
static int read_book(struct cli *c, const struct said *s, struct several *m, const struct st_catalogue *all,
                     struct st_correct_task *t)
{
    struct st_problem problem;
    char enter[160];
    if (s->strength || s->sugar || s->acid || s->given.sg || s->given.brix || s->given.boiled) {
        const bool one_word = strcspn(s->batch, " \t\"'") == strlen(s->batch);
        snprintf(enter, sizeof enter, "enter them: stillroom batch read %s%.100s%s sg=1.040 brix=28",
                 one_word ? "" : "\"", s->batch, one_word ? "" : "\"");
        return refuse("correct", "a batch of the book is known by its readings", enter) ? ST_EXIT_DONE : ST_EXIT_INPUT;
    }
    const int code = correct_book(c, s->batch, m->with, m->n_with, m->is_batch, all, t);
    if (code == ST_EXIT_DONE && s->volume && !st_correct_task_now(t, ST_CORRECT_VOLUME, s->volume, &problem)) {
        complain("volume", &problem);
        return ST_EXIT_INPUT;
    }
    return code;
}

static bool read_things(const struct several *m, const struct st_catalogue *all, struct st_correct_task *t)
{
    struct st_problem problem;
    for (int i = 0; i < m->n_with; i++)
        if (!m->is_batch[i] && !st_correct_task_with(t, m->with[i], all, &problem))
            return complain("with", &problem);
    for (int i = 0; i < m->n_have; i++)
        if (!st_correct_task_have(t, m->have[i], &problem))
            return complain("have", &problem);
    return true;
}

static int run(struct cli *c, const struct said *s, struct several *m, const struct st_catalogue *all,
               struct st_correct_task *t)
{
    struct st_problem problem;
    if (s->jar && !quantity("--jar", s->jar, ST_DIM_VOLUME, &t->ask.jar_ml))
        return ST_EXIT_INPUT;
    int code = s->batch ? read_book(c, s, m, all, t) : read_now(s, t) ? ST_EXIT_DONE : ST_EXIT_INPUT;
    if (code != ST_EXIT_DONE)
        return code;
    if (!read_things(m, all, t) || !read_limits(s, t))
        return ST_EXIT_INPUT;
    if (*t->unsure) {
        if (c->json)
            code = cli_json_print(st_doc_correct(t));
        else
            correct_page(c, t);
        return code == ST_EXIT_DONE ? ST_EXIT_UNMET : code;
    }
    t->by_kitchen = s->kitchen;
    if (!st_correct_task_run(t, all, &problem)) {
        cli_error(problem.what, problem.why, problem.try_);
        return ST_EXIT_INPUT;
    }
    code = ST_EXIT_DONE;
    if (c->json)
        code = cli_json_print(st_doc_correct(t));
    else
        correct_page(c, t);
    return code == ST_EXIT_DONE && !t->found.met ? ST_EXIT_UNMET : code;
}

int cmd_correct(struct cli *c)
{
    static struct st_correct_task t; /* large */
    struct several m = { .n_with = 0 };
    struct said s = { .volume = NULL };
    st_correct_task_init(&t, c->units);
    t.ask.seed = c->seed;
    t.ask.draws = c->draws;
    if (!take_several(c, "with", m.with, &m.n_with) || !take_several(c, "have", m.have, &m.n_have) ||
        !take_readings(c, &s) || !take_words(c, &s, &t) || !cli_no_more_options(c, KNOWN))
        return ST_EXIT_INPUT;
    s.batch = c->argc > 0 ? c->argv[0] : NULL;
    if (c->argc > 1) {
        cli_error(c->argv[1], "one batch, B14, and figures as options", "see stillroom help correct");
        return ST_EXIT_INPUT;
    }
    struct st_catalogue *all = cli_catalogue();
    if (!all)
        return ST_EXIT_SYSTEM;
    const int code = run(c, &s, &m, all, &t);
    st_catalogue_free(all);
    return code;
}
