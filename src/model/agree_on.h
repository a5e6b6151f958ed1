#ifndef ST_MODEL_AGREE_ON_H
#define ST_MODEL_AGREE_ON_H

#include "model/agree.h"

/* What was read of a drink goes on to hold when something is added to it, or part of it leaves: how that is reckoned.
 *
 * The drink of then is x, the drink of now y.  By the recipe alone they have the means x0 and y0 and a joint covariance, since draws of one
 * seed share what both hang on (random.h): what was in the drink then and still is, the jug that measured both; what was
 * added is drawn by itself, and so is a rest that was measured.  Readings of then make x1 and C1 of x0 and P0 = cov(x), and say nothing of
 * y but through x.  So, with G = cov(y, x) P0^-1 and P = cov(y), now, before anything is read of it,
 *
 *     y0' = y0 + G (x1 - x0),    P' = P - G (P0 - C1) G'
 *
 * where all is linear and normal, which is exact then: the same as one sum of squares over x and y together.  P' is a covariance: P - G P0 G',
 * what x leaves open, and G C1 G'.  Where something is only added G is nearly 1, where a share s is left nearly s; where the rest was
 * measured G keeps what the readings say of the mixture and drops what they say of the amount, which is known by that measure.  Readings of
 * now act on y0' and P'.  Several such moments are gone through in their order, each changing all that came later. */

enum { ST_AGREE_PARTS = ST_AGREE_MOST + 1 };

/* The drink at one moment. */
struct st_agree_part {
    const struct st_foretold *told; /* as of then; all with one seed and one number of draws */
    const struct st_agree_drained *drained;
    const struct st_observation *seen;
    int n;
};

/* st_agree of a drink of which something was read before it became what it is.
 *
 * Given:    part[n_part], in their order, the last is of now; 1 <= n_part <= ST_AGREE_PARTS
 * Returned: out[n_part]; carried of each: by the recipe and what comes along from those before it.  `before`, of figures and
 *           readings, is by the recipe alone
 * Status:   as st_agree; ST_E_DOMAIN the numbers of draws differ too; ST_E_NOCONV no memory too.  out is untouched then
 * Notes:
 *   1. The errors of density rule and optics are the same then and now.
 *   2. So is the error that an instrument has for all its readings (agree.h Note 2): m readings of a kind of which k come along count each
 *      with sqrt((3/4 + k/4) (3/4 + (k + m)/4) / (3/4)) times their own error, so that all k + m are worth what they would be, read at one time.
 *   3. What goes on is what may be believed (st_agree_goes_on): all readings where they agree or are merely unlikely (st_agree_straggles); all
 *      but the one in doubt where it is known which; else none of that moment.
 *   4. What draws of then and now do not share (an amount that is named anew) makes G smaller and P' wider than it could be, never sharper.
 * Source:
 *   [gum2008], [narasimhan2000] ch. 5; own arrangement.  Checks: tests/unit/test_agree_on.c, against all readings of then and now in one
 *   sum of squares
 */
enum st_status st_agree_on(const struct st_agree_part part[], int n_part, struct st_agreement out[]);

/* Whether reading i goes on. */
bool st_agree_goes_on(const struct st_agreement *a, int i);

#endif
