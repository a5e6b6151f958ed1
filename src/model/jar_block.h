#ifndef ST_MODEL_JAR_BLOCK_H
#define ST_MODEL_JAR_BLOCK_H

#include "jar_inside.h"

enum { ST_JAR_SIDE = ST_BATH_LANES };

/* Sets that are reckoned side by side. */
struct st_jar_block {
    struct st_jar_work *w;
    struct st_jar_raw *raw;
    int first, n; /* sets first .. first + n - 1 */
    struct st_jar_set set[ST_JAR_SIDE];
    struct st_jar_ledger ledger[ST_JAR_SIDE];
    double mixed[ST_JAR_SIDE][ST_JAR_STAGES]; /* volume fraction of ethanol when all is mixed */
    struct st_jar_job *job;                   /* [ST_JAR_SIDE] of each component or curve, whichever are more */
    int n_job;
    double *store;                   /* liquid and inside of every job */
    double *bulk;                    /* [ST_NCOMP][ST_JAR_SIDE][n_grid]: g outside the pieces */
    double *unit;                    /* [ST_NCOMP][ST_JAR_SIDE][n_grid]: of a unit of a piece or pour, likewise */
    double *strength, *volume, *cap; /* [ST_JAR_SIDE][n_grid] volume fraction, mL; [jobs][n_grid] */
};

static inline double *st_jar_series_of(double *of, const struct st_jar_work *w, int row)
{
    return of + (size_t)row * (size_t)w->n_grid;
}

static inline double st_jar_mass_of(const double g[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += g[c];
    return sum;
}

/* --- jar_run.c --- */
/* The jobs of the block, as many side by side as there is room for. */
enum st_status st_jar_run_jobs(struct st_jar_block *b);
/* °C of set k at point i of the grid. */
double st_jar_temperature_of(const struct st_jar_block *b, int k, int i);

/* --- jar_curves.c --- */
/* What is followed, told at every point of the grid; the liquid was told before. */
enum st_status st_jar_run_curves(struct st_jar_block *b);

#endif
