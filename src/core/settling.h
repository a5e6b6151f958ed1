#ifndef ST_CORE_SETTLING_H
#define ST_CORE_SETTLING_H

#include "status.h"

/* How fast a haze sinks or creams. */

/* Given:
 *   d      diameter of a particle or droplet, m, 1e-9..5e-3
 *   drho   its density less that of the liquid, kg/m3, -2000..20000
 *   eta    viscosity of the liquid, Pa s, 1e-4..100
 *   phi    share of the volume that particles fill, 0..0.6
 * Returned:
 *   *v     m/s, downwards; negative when it rises: g d^2 drho/(18 eta) (1 - phi)^4.65, g = 9.80665 m/s2
 * Status:
 *   ST_OK             a Reynolds number d v 1000/eta up to 0.2, phi up to 0.3
 *   ST_EXTRAPOLATED   above: too fast (inertia), or a sludge that packs rather than settles
 *   ST_E_DOMAIN       anything outside its limits, or NaN
 * Notes:
 *   1. A sphere of one size in a liquid at rest.  A bottle is never quite at rest: below about 0.1 mm a day the streams
 * of a room that warms and cools carry more than this does (from memory), and the haze stays.
 *   2. Particles that clot fall faster, with the size of the clot.
 * Source:
 *   [stokes1851]; hindrance [richardson_zaki1954], from memory.  Checks: tests/data/infusion/stokes.tsv
 */
enum st_status st_settling_speed(double d, double drho, double eta, double phi, double *v);

/* Time until a particle has crossed a height.
 * Given: height, m, 0..10; v of st_settling_speed, not 0 (either sign).
 * Returned: *t, s.  Status: ST_OK; ST_E_DOMAIN outside, or NaN. */
enum st_status st_settling_time(double height, double v, double *t);

#endif
