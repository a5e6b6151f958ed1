#include "check_reconcile.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check_kit.h"
#include "core/chi_square.h"
#include "core/drink_reading.h"
#include "core/reconcile.h"
#include "core/strength.h"

struct check_result check_chi_square_above(const struct check_field in[])
{
    double p = CHECK_SENTINEL;
    if (!(in[1].x >= 0.0 && in[1].x < 1e6))
        return check_plain(ST_E_DOMAIN, 0.0);
    return check_settle(st_chi_square_above(in[0].x, (int)in[1].x, &p), &p, 1.0, 0.0);
}

/* F1 = F2 + F3, F2 = F4, F3 = F5, F4 + F5 = F6; equal variance 1 */
static enum st_status six_flows(const struct check_field in[], struct st_balanced *out)
{
    static const double A[4 * 6] = { 1, -1, -1, 0, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0, 1, 1, -1 };
    double y[6], V[36] = { 0 }, work[128];
    for (int i = 0; i < 6; i++) {
        y[i] = in[i].x;
        V[7 * i] = 1.0;
    }
    const struct st_balances p = { .n = 6, .k = 4, .A = A, .y = y, .V = V };
    if (st_balance_work(6, 4) > sizeof work / sizeof *work)
        return ST_E_NOCONV;
    return st_balance_reconcile(&p, work, out, NULL);
}

struct check_result check_six_flows(const struct check_field in[])
{
    struct st_balanced out = { 0 };
    const double which = in[6].x;
    if (!(which >= 1.0 && which <= 6.0))
        return check_plain(ST_E_DOMAIN, 0.0);
    const enum st_status s = six_flows(in, &out);
    return check_plain(s, out.x[(int)which - 1]);
}

struct check_result check_six_flows_chi2(const struct check_field in[])
{
    struct st_balanced out = { 0 };
    const enum st_status s = six_flows(in, &out);
    return check_plain(s, out.chi2);
}

/* "220+-4": value and standard uncertainty. */
static bool with_u(const char *word, double *x, double *u)
{
    char *end;
    *x = strtod(word, &end);
    if (end == word || strncmp(end, "+-", 2) != 0)
        return false;
    const char *second = end + 2;
    *u = strtod(second, &end);
    return end != second && *end == '\0';
}

/* x: ethanol, sugar, water, g; y: strength, sugar, volume */
static enum st_status three_readings(const double x[], double y[], void *arg)
{
    static const enum st_shows SHOWS[3] = { ST_SHOWS_STRENGTH, ST_SHOWS_SUGAR, ST_SHOWS_VOLUME };
    const double m[ST_NCOMP] = { [ST_ETHANOL] = x[0], [ST_SUCROSE] = x[1], [ST_WATER] = x[2] };
    enum st_status s = ST_OK;
    (void)arg;
    for (int i = 0; i < 3 && s >= 0; i++)
        s = st_drink_reading(m, SHOWS[i], ST_T20, 0.0, &y[i]);
    return s;
}

struct check_result check_reconcile_liqueur(const struct check_field in[])
{
    double x0[3], P[9] = { 0 }, y[3], u[3], work[256], after[3];
    struct st_reconciled out = { 0 };
    for (int i = 0; i < 3; i++) {
        double before = 0.0;
        if (!with_u(in[i].word, &x0[i], &before) || !with_u(in[3 + i].word, &y[i], &u[i]))
            return check_plain(ST_E_DOMAIN, 0.0);
        P[4 * i] = before * before;
    }
    const struct st_reconcile p = { .n = 3, .m = 3, .x0 = x0, .P = P, .y = y, .u = u, .f = three_readings };
    if (st_reconcile_work(3, 3) > sizeof work / sizeof *work)
        return check_plain(ST_E_NOCONV, 0.0);
    enum st_status s = st_reconcile_readings(&p, work, &out, NULL);
    s = s < 0 ? s : st_status_worse(s, three_readings(out.x, after, NULL));
    const struct {
        const char *name;
        double value;
    } RESULT[] = { { "strength", after[0] }, { "sugar", after[1] },     { "volume", after[2] },
                   { "chi2", out.chi2 },     { "u_ethanol", out.u[0] }, { "p", out.p } };
    for (size_t i = 0; s >= 0 && i < sizeof RESULT / sizeof *RESULT; i++)
        if (strcmp(in[6].word, RESULT[i].name) == 0)
            return check_plain(s, RESULT[i].value);
    return check_plain(s < 0 ? s : ST_E_DOMAIN, 0.0);
}
