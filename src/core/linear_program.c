#include "linear_program.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* A dictionary: each row i has a variable of its own, which is t[i][0] + sum t[i][j] y_j, where y_j >= 0 are the
 * variables that are 0 now.  Variables are numbered: x_j is j, the slack of row i is n + i. */
struct dictionary {
    int n, rows;
    double *t; /* [rows * (n + 1)] */
    double cost[ST_LP_VARIABLES];
    int zero[ST_LP_VARIABLES];                /* which variable y_j is */
    int of_row[ST_LP_ROWS + ST_LP_VARIABLES]; /* which variable the row is */
};

static double *row_of(struct dictionary *d, int i)
{
    return d->t + (size_t)i * (size_t)(d->n + 1);
}

static bool makes_sense(int n, int m, const double c[], const double A[], const double b[], const double most[])
{
    if (n < 1 || n > ST_LP_VARIABLES || m < 0 || m > ST_LP_ROWS)
        return false;
    for (int j = 0; j < n; j++)
        if (!(c[j] >= 0.0) || !isfinite(c[j]) || !(most[j] >= 0.0))
            return false;
    for (int i = 0; i < m; i++) {
        if (!isfinite(b[i]))
            return false;
        for (int j = 0; j < n; j++)
            if (!isfinite(A[i * n + j]))
                return false;
    }
    return true;
}

/* A row by the largest of its coefficients, so that all are told alike what "met" is. */
static void put_row(struct dictionary *d, const double a[], double b)
{
    double largest = 0.0, *t = row_of(d, d->rows);
    for (int j = 0; j < d->n; j++)
        largest = fmax(largest, fabs(a[j]));
    const double by = largest > 0.0 ? 1.0 / largest : 1.0;
    t[0] = -b * by;
    for (int j = 0; j < d->n; j++)
        t[1 + j] = a[j] * by;
    d->of_row[d->rows] = d->n + d->rows;
    d->rows++;
}

static void set_up(struct dictionary *d, int m, const double c[], const double A[], const double b[],
                   const double most[])
{
    for (int j = 0; j < d->n; j++) {
        d->cost[j] = c[j];
        d->zero[j] = j;
    }
    for (int i = 0; i < m; i++)
        put_row(d, A + (size_t)i * (size_t)d->n, b[i]);
    for (int j = 0; j < d->n; j++) {
        double a[ST_LP_VARIABLES] = { 0.0 };
        a[j] = -1.0;
        if (isfinite(most[j]))
            put_row(d, a, -most[j]);
    }
}

/* The row that is missed most, -1 none. */
static int worst_row(struct dictionary *d, bool first)
{
    int at = -1;
    double worst = -1e-10;
    for (int i = 0; i < d->rows; i++) {
        const double value = row_of(d, i)[0];
        if (!(value < worst))
            continue;
        at = i;
        if (first)
            return at;
        worst = value;
    }
    return at;
}

/* What comes in for it at the least cost; -1: nothing helps. */
static int cheapest(struct dictionary *d, int row)
{
    const double *t = row_of(d, row);
    double least = HUGE_VAL;
    int at = -1;
    for (int j = 0; j < d->n; j++) {
        if (!(t[1 + j] > 1e-11))
            continue;
        const double ratio = d->cost[j] / t[1 + j];
        if (ratio < least || (ratio <= least && d->zero[j] < d->zero[at])) {
            least = ratio;
            at = j;
        }
    }
    return at;
}

static void pivot(struct dictionary *d, int row, int column)
{
    double *p = row_of(d, row);
    const double by = 1.0 / p[1 + column];
    /* y_column = (row's variable - the rest)/coefficient */
    for (int k = 0; k <= d->n; k++)
        p[k] = k == 1 + column ? by : -p[k] * by;
    for (int i = 0; i < d->rows; i++) {
        double *t = row_of(d, i);
        const double f = t[1 + column];
        if (i == row || f == 0.0)
            continue;
        for (int k = 0; k <= d->n; k++)
            t[k] = k == 1 + column ? f * p[k] : t[k] + f * p[k];
    }
    const double f = d->cost[column];
    for (int j = 0; j < d->n; j++)
        d->cost[j] = fmax(j == column ? f * p[1 + j] : d->cost[j] + f * p[1 + j], 0.0);
    const int was = d->zero[column];
    d->zero[column] = d->of_row[row];
    d->of_row[row] = was;
}

enum st_status st_linear_program(int n, int m, const double c[], const double A[], const double b[],
                                 const double most[], double work[], double x[])
{
    if (!makes_sense(n, m, c, A, b, most))
        return ST_E_DOMAIN;
    struct dictionary d = { .n = n, .t = work };
    set_up(&d, m, c, A, b, most);
    for (int turn = 0; turn < 50 * (n + m); turn++) {
        const int row = worst_row(&d, turn > 10 * (n + m));
        if (row < 0) {
            for (int j = 0; j < n; j++)
                x[j] = 0.0;
            for (int i = 0; i < d.rows; i++)
                if (d.of_row[i] < n)
                    x[d.of_row[i]] = fmax(row_of(&d, i)[0], 0.0);
            return ST_OK;
        }
        const int column = cheapest(&d, row);
        if (column < 0)
            return ST_E_REFUSED;
        pivot(&d, row, column);
    }
    return ST_E_NOCONV;
}
