#ifndef ST_CORE_NORMAL_UPDATE_H
#define ST_CORE_NORMAL_UPDATE_H

#include "status.h"

struct st_normal {
    double mean, sd;
};

/* What one thinks of a number after seeing it once: normal before, normal error of what was seen.
 *
 * Given:
 *   prior   mean, finite; sd > 0, finite
 *   seen    mean: what was seen; sd > 0, finite: its error
 * Returned:
 *   *post   mean, weighted with 1/sd^2; 1/sd^2 is the sum of both
 * Status:
 *   ST_OK; ST_E_DOMAIN   anything outside its limits, or NaN
 * Checks: tests/data/infusion/normal_update.tsv
 */
enum st_status st_normal_update(struct st_normal prior, struct st_normal seen, struct st_normal *post);

#endif
