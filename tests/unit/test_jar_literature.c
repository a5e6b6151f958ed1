/* Published time courses through the jar, and what docs/checks.md says of them: each row is reckoned anew, so that the
 * page cannot say what the program does not.  Nothing of the program was set to these figures, but where the page says so;
 * a row that is outside stays outside. */
#include "jar_kit.h"

static struct st_buf page;

enum { DRAWS = 400 };

static const double HOUR = 3600.0, MINUTE = 60.0;

/* A share, or a ratio of two, of each draw; x[0] of the middle. */
struct figure {
    double x[DRAWS + 1];
};

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void ends_of(const struct figure *f, double *low, double *high)
{
    double x[DRAWS];
    memcpy(x, f->x + 1, sizeof x);
    qsort(x, DRAWS, sizeof *x, by_size);
    *low = fmin(x[DRAWS / 40], f->x[0]);
    *high = fmax(x[DRAWS - 1 - DRAWS / 40], f->x[0]);
}

static struct figure over(const struct figure *a, const struct figure *b)
{
    struct figure y;
    for (int i = 0; i <= DRAWS; i++)
        y.x[i] = a->x[i] / b->x[i];
    return y;
}

/* ---- the page ---- */

/* Field n (from 1) of the row of the page that begins with this key. */
static void field(const char *key, int n, char *buf, size_t size)
{
    char begins[80];
    (void)snprintf(begins, sizeof begins, "\n| %s |", key);
    const char *at = strstr(st_buf_text(&page), begins);
    if (!at)
        fail_msg("docs/checks.md has no row '%s'", key);
    for (at++; n > 0; n--)
        at = strchr(at, '|') + 1;
    const size_t length = strcspn(at, "|\n");
    (void)snprintf(buf, size, "%.*s", (int)length, at);
}

/* "5.13 (0.49 to 40.7)". */
static bool three_numbers(const char *text, double *v, double *a, double *b)
{
    char *end;
    *v = strtod(text, &end);
    if (end == text || strncmp(end, " (", 2) != 0)
        return false;
    text = end + 2;
    *a = strtod(text, &end);
    if (end == text || strncmp(end, " to ", 4) != 0)
        return false;
    text = end + 4;
    *b = strtod(text, &end);
    return end != text && *end == ')';
}

/* The page says this of the row: value, interval, what is published, and the verdict. */
static void page_says(const char *key, const struct figure *f, double published, bool holds)
{
    char told[120], printed[120], verdict[120];
    double low, high, v = 0.0, a = 0.0, b = 0.0;
    ends_of(f, &low, &high);
    print_message("| %s | ... | %.3g (%.3g to %.3g) | %g | %s\n", key, f->x[0], low, high, published,
                  holds ? "inside" : "outside");
    field(key, 3, told, sizeof told);
    if (!three_numbers(told, &v, &a, &b))
        fail_msg("%s: '%s' is no value with its interval", key, told);
    assert_about(v, f->x[0], 0.01 * fmax(1.0, f->x[0])); /* as printed, and the last digits of other compilers */
    assert_about(a, low, 0.02 * fmax(1.0, low));
    assert_about(b, high, 0.02 * fmax(1.0, high));
    field(key, 4, printed, sizeof printed);
    assert_about(strtod(printed, NULL), published, 1e-9);
    field(key, 5, verdict, sizeof verdict);
    if (strncmp(verdict, holds ? " inside" : " outside", holds ? 7 : 8) != 0)
        fail_msg("%s: the page says '%s'; it is %s", key, verdict, holds ? "inside" : "outside");
}

/* What is published lies in the interval. */
static void has_inside(const char *key, const struct figure *f, double published)
{
    double low, high;
    ends_of(f, &low, &high);
    page_says(key, f, published, low <= published && published <= high);
}

/* So much at least is published, and all of the interval is. */
static void is_at_least(const char *key, const struct figure *f, double published)
{
    double low, high;
    ends_of(f, &low, &high);
    page_says(key, f, published, low >= published);
}

/* ---- one jar ---- */

struct course {
    const char *name;
    double g, ml, pct_vol, t_C, time_s;
    enum st_cut cut;
    const char *curve; /* NULL: of what no marker is named */
};

/* Caffeine is no flavour to the program; here it is followed. */
static const struct st_compound *caffeine(void)
{
    static struct st_compound followed;
    const struct st_compound *what = st_compound_find(kit_compounds, "caffeine");
    assert_non_null(what);
    followed = *what;
    followed.flavour = true;
    return &followed;
}

static void fill(struct st_jar *j, const struct course *c, double days)
{
    st_jar_begin(j, &kit_books, days * DAY);
    const double T = 273.15 + c->t_C;
    j->stage[0].temperature_K = (struct st_range){ T, T, T, true, 'r', "as published" };
    struct st_jar_piece *p = kit_add(j, c->name, c->g, 0);
    p->cut = c->cut;
    if (!c->curve)
        p->n_marker = 0;
    else if (strcmp(c->curve, "caffeine") == 0)
        p->marker[p->n_marker++] = (struct st_jar_marker){ .what = caffeine() };
    st_jar_pour_spirit(j, c->ml, c->pct_vol, 0);
}

/* From the beginning to time_s. */
static void run(struct st_jar *j, const struct course *c, struct st_jar_told *t)
{
    const struct st_jar_options o = {
        .seed = 1, .draws = DRAWS, .shells = 24, .tolerance = 1e-4, .keep = true, .time = &c->time_s, .n_time = 1
    };
    kit_run(j, &o, t);
}

static const struct st_jar_curve *curve_of(const struct st_jar_told *t, const struct course *c)
{
    return kit_curve(t, 0, c->curve ? c->curve : "aroma");
}

static double share_at(const struct st_jar_curve *k, int time, int draw)
{
    return draw == 0 ? k->given.at[time].value : k->given.raw[(size_t)time * DRAWS + (size_t)draw - 1];
}

/* Share of what will come that is out by time_s. */
static struct figure share_of(const struct course *c)
{
    struct figure y;
    struct st_jar j;
    struct st_jar_told t;
    int at = 0;
    fill(&j, c, 1.2 * c->time_s / DAY);
    run(&j, c, &t);
    for (int i = 0; i < t.n_time; i++)
        at = t.t_s[i] <= c->time_s * (1.0 + 1e-9) ? i : at;
    assert_about(t.t_s[at], c->time_s, 1.0);
    for (int k = 0; k <= DRAWS; k++)
        y.x[k] = share_at(curve_of(&t, c), at, k);
    st_jar_told_done(&t);
    return y;
}

/* When a share of what will come is out, in a unit; time_s where it is not by then. */
static struct figure when_out(const struct course *c, double share, double unit_s)
{
    struct figure y;
    struct st_jar j;
    struct st_jar_told t;
    fill(&j, c, c->time_s / DAY);
    run(&j, c, &t);
    for (int k = 0; k <= DRAWS; k++) {
        int i = 0;
        while (i < t.n_time - 1 && share_at(curve_of(&t, c), i, k) < share)
            i++;
        const double b = share_at(curve_of(&t, c), i, k), a = i > 0 ? share_at(curve_of(&t, c), i - 1, k) : 0.0;
        const double part = b > a ? fmin((share - a) / (b - a), 1.0) : 1.0;
        y.x[k] = (i > 0 ? t.t_s[i - 1] + part * (t.t_s[i] - t.t_s[i - 1]) : 0.0) / unit_s;
    }
    st_jar_told_done(&t);
    return y;
}

/* ---- rows ---- */

static void coffee(void **state)
{
    (void)state;
    /* [fuller_rao_2017]: 35 g in 350 mL of water, 21 to 25 C, at equilibrium after 6 to 7 h, which is told here as 95 % of
     * what will come (ours).  D of ground coffee was set by it. */
    struct course c = { "ground coffee", 35, 350, 0, 23, 40 * DAY, ST_CUT_WHOLE, "caffeine" };
    const struct figure rest = when_out(&c, 0.95, HOUR);
    has_inside("CL006", &rest, 6.0);
    has_inside("CL007", &rest, 7.0);
    /* a study of 2022, read as an abstract: 30 % coffee, 24 C, fine, stirred, 45 min: 93.9 % of the caffeine */
    c = (struct course){ "ground coffee", 30, 100, 0, 24, 45 * MINUTE, ST_CUT_GROUND, "caffeine" };
    const struct figure y = share_of(&c);
    has_inside("CL008", &y, 0.939);
}

/* [bucic_kojic_2007]: of grape seeds in 50 % ethanol, within 200 min, 1.47 to 6.68 % of the dry matter came, by grind and
 * warmth (25 to 80 C).  Neither sizes nor liquid are with the row: 40 mL a gram, and our crushed or
 * whole seed against ground. */
static void grape_seeds(void **state)
{
    (void)state;
    struct course slow = { "coriander seed", 10, 400, 50, 25, 200 * MINUTE, ST_CUT_CRUSHED, NULL }, fast = slow;
    fast.t_C = 80;
    fast.cut = ST_CUT_GROUND;
    const struct figure a = share_of(&slow), b = share_of(&fast), y = over(&b, &a);
    has_inside("CL019, CL020, crushed", &y, 4.54); /* 6.68 over 1.47 */
    slow.cut = ST_CUT_WHOLE;
    const struct figure whole = share_of(&slow), z = over(&b, &whole);
    has_inside("CL019, CL020, whole", &z, 4.54);
}

/* [alamprese_2005]: 15, 40 or 90 days, 20 or 40 C: none to slight, read as nine tenths at least (ours). */
static void green_walnuts(void **state)
{
    (void)state;
    struct course c = { "green walnuts", 300, 1000, 50, 20, 15 * DAY, ST_CUT_QUARTERED, "tannic_acid" }, late = c,
                  warm = c;
    late.time_s = 90 * DAY;
    const struct figure a = share_of(&c), b = share_of(&late), y = over(&a, &b);
    is_at_least("CL022, 20 °C", &y, 0.9);
    warm.t_C = 40;
    const struct figure w = share_of(&warm), z = over(&a, &w);
    is_at_least("CL022, day 15", &z, 0.9);
}

/* [naviglio_2016]: lemon peel lies for a week at least.  That is a practice; what we foretell is when its oil is out. */
static void lemon_peel(void **state)
{
    (void)state;
    const struct course c = { "lemon peel", 60, 500, 96, 20, 40 * DAY, ST_CUT_STRIPS, "limonene" };
    const struct figure y = when_out(&c, 0.9, DAY);
    has_inside("CL027", &y, 7.0);
}

/* Of 1 - share, between two times: how fast it falls on a logarithm. */
static double rate_between(const struct st_jar_told *t, const struct st_jar_curve *c, double from_s, double to_s)
{
    const double a = 1.0 - kit_share(t, c, from_s), b = 1.0 - kit_share(t, c, to_s);
    return log(a / b) / (to_s - from_s);
}

/* [petrovic_2012]: thyme in ethanol, D of the fast period over that of the slow one: ten to a thousand.  Both fall as an
 * exponential with D over a squared, so the ratio is that of the rates: of a leaf that is all washed, and of one that is
 * only diffusion, late.  The interval is of the sheet's factors. */
static void thyme(void **state)
{
    static const double HALF_AN_HOUR = 1800.0;
    struct st_jar j;
    struct st_jar_told t;
    struct st_habit h;
    struct figure y;
    double theta[2 * ST_NTHETA] = { 0.0 };
    const double at[] = { HALF_AN_HOUR, 2 * HALF_AN_HOUR, 3 * HOUR, 6 * HOUR };
    (void)state;
    fill(&j, &(struct course){ "thyme, dried", 10, 1000, 96, 20, DAY, ST_CUT_WHOLE, NULL }, 1);
    theta[ST_THETA_W] = 40.0;
    const struct st_jar_options o = { .seed = 1, .time = at, .n_time = 4, .tolerance = 1e-7 };
    assert_true(st_jar_run_thetas(&j, &o, 1, theta, &t) >= 0);
    const double fast = rate_between(&t, kit_curve(&t, 0, "aroma"), at[0], at[1]);
    st_jar_told_done(&t);
    theta[ST_THETA_W] = -40.0;
    assert_true(st_jar_run_thetas(&j, &o, 1, theta, &t) >= 0);
    const double slow = rate_between(&t, kit_curve(&t, 0, "aroma"), at[2], at[3]);
    st_jar_told_done(&t);
    assert_true(st_jar_habit(&j, 0, ST_OF_AROMA, &h) >= 0);
    const double sd = sqrt(pow(log(h.wash.times), 2) + pow(log(h.d.times), 2) + pow(2.0 * log(h.a_m.times), 2));
    for (int i = 0; i <= DRAWS; i++) { /* the points that ends_of takes are at -1.96 and 1.96 */
        const double z = i == 0 ? 0.0 : (i - (DRAWS + 1) / 2.0) / (DRAWS / 2.0 - DRAWS / 40 - 0.5) * 1.96;
        y.x[i] = fast / slow * exp(sd * z);
    }
    has_inside("CL034", &y, 10.0);
}

static int load_page(void **state)
{
    return kit_load(state) || st_file_read("docs/checks.md", 1u << 20, &page) ? -1 : 0;
}

static int unload_page(void **state)
{
    st_buf_done(&page);
    return kit_unload(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coffee),     cmocka_unit_test(grape_seeds), cmocka_unit_test(green_walnuts),
        cmocka_unit_test(lemon_peel), cmocka_unit_test(thyme),
    };
    return cmocka_run_group_tests(tests, load_page, unload_page);
}
