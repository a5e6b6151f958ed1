#ifndef ST_MODEL_AGREE_H
#define ST_MODEL_AGREE_H

#include "model/foresee.h"
#include "model/observation.h"

/* Does my reading agree?  What a recipe foretells of the finished drink, held against what was read of it: both brought into
 * agreement, each giving way by how uncertain it is; and when they do not agree, which one to doubt, and why it may be. */

enum { ST_AGREE_MOST = 24, ST_AGREE_STEEPS = 4 }; /* readings, and steeps that are strained, at most */

enum st_agree_figure { ST_AGREE_STRENGTH, ST_AGREE_SUGAR, ST_AGREE_VOLUME, ST_AGREE_ACID, ST_AGREE_NFIG };
enum st_figure st_agree_figure_of(enum st_agree_figure f); /* its name and unit: st_figure_info */

/* What becomes of a reading. */
enum st_agree_use {
    ST_AGREE_USED,
    ST_AGREE_OTHER_KIND, /* pH, colour, taste, marks: they say nothing of strength, sugar, acid or volume */
    ST_AGREE_OF_ONE,     /* it speaks of one ingredient, not of the drink */
    ST_AGREE_NOT_FORETOLD, /* nothing foretells it: no draws of it, no rule for so warm a liquid, a flask that holds nothing */
    ST_AGREE_WHICH_STEEP /* drained solids, several steeps are strained, and it does not say of which */
};

/* A slip that would explain the reading in doubt.  A guess, to be looked into: it fits the figures, nothing more. */
enum st_agree_slip {
    ST_SLIP_NONE,              /* none that is known here fits */
    ST_SLIP_WARM,              /* hydrometer: the liquid stood at `slip_value` K */
    ST_SLIP_ONE_MARK,          /* a numbered mark too many or too few: slip_value, in the unit of the reading */
    ST_SLIP_SUGAR_ALONE,       /* refractometer: what the sugar alone would show; it counts alcohol too */
    ST_SLIP_NOT_COMPENSATED,   /* refractometer that does not compensate the temperature */
    ST_SLIP_SPIRIT_HYDROMETER, /* strength by a spirit hydrometer, from which sugar hides it */
    ST_SLIP_PROOF,             /* strength: US proof, twice the % vol */
    ST_SLIP_BY_MASS,           /* strength: per cent by weight */
    ST_SLIP_BRIX_AS_SUGAR,     /* sugar: a refractometer's figure taken for sugar, alcohol counted as sugar */
    ST_SLIP_SG_AS_SUGAR,       /* sugar: from a hydrometer as if there were no alcohol */
    ST_SLIP_PER_KG,            /* sugar: per kg, not per litre */
    ST_SLIP_AS_TARTARIC,       /* acid: reckoned as tartaric, not citric */
    ST_SLIP_AS_SULPHURIC,      /* acid: reckoned as sulphuric, as in France */
    ST_SLIP_OTHER_CUP,         /* volume: cups of 250 mL taken for cups of 237 mL, or the other way */
    ST_SLIP_LOST,              /* volume, weight: slip_value mL or g of the drink are not there */
    ST_SLIP_WRONG_FLASK,       /* flask: it holds slip_value mL */
    ST_SLIP_VESSEL_WEIGHED,    /* flask, weight: slip_value g too heavy: the vessel was weighed too */
    ST_SLIP_NOT_MADE_UP,       /* boiled: made up to slip_value of the volume only */
    ST_SLIP_NOT_BOILED_OFF,    /* boiled: alcohol was left in it */
    ST_NSLIP
};

struct st_agree_reading {
    enum st_agree_use use;
    double u; /* standard uncertainty it was used with: its own, what it shares (Note 2), the thermometer's */
    struct st_interval before, after; /* foretold reading, 95 %, without the error of reading it */
    struct st_interval others;        /* the same by all but this one; known for the suspect only */
    double standard;   /* reading - foretold after, in its own standard deviations; NAN where it cannot be judged */
    double redundancy; /* how much all else knows of it, 0 .. 1 */
    enum st_seen what;
    int steep;        /* of drained solids: which steep; else, and where nobody said, -1 */
    bool warm_unsaid; /* it came without its temperature, and that matters: a quarter of its own uncertainty or more */
};

enum st_agree_doubt {
    ST_DOUBT_NONE,    /* they agree */
    ST_DOUBT_EITHER,  /* one reading against the recipe: nobody can tell which */
    ST_DOUBT_READING, /* `suspect` is out of line with the recipe and the other readings */
    ST_DOUBT_RECIPE,  /* the readings agree with each other, not with the recipe */
    ST_DOUBT_UNCLEAR  /* they do not agree, and no single one makes the difference */
};

struct st_agreement {
    int n, n_carried; /* n_carried: readings of before that come along */
    struct st_agree_reading reading[ST_AGREE_MOST];
    struct st_interval before[ST_AGREE_NFIG]; /* by the recipe alone: as foresee tells it */
    struct st_interval
        carried[ST_AGREE_NFIG]; /* by the recipe and what was read before something was added (agree_on.h);
                                                 * known only where that comes along */
    struct st_interval measured[ST_AGREE_NFIG]; /* by the readings alone; known only where they determine it */
    struct st_interval after[ST_AGREE_NFIG];    /* by all (Note 4) */
    struct st_interval
        without[ST_AGREE_NFIG]; /* by all but what is doubted (Note 4); known only when there is a doubt */
    double correlation; /* of strength and sugar after: at one density more of one goes with more of the other */
    double chi2, p;     /* all of it, df = readings used */
    int df;
    bool agree;
    enum st_agree_doubt doubt;
    int suspect, rival; /* readings, -1 none; rival: setting this one aside would do nearly as well (Note 3) */
    double p_without;   /* NAN where nothing is set aside */
    double p_alone;     /* readings among themselves, the recipe set aside; NAN: too few for that */
    bool
        no_liquid; /* by themselves they are of no liquid: a strength above 100 % vol or a sugar below 0 at its best end */
    enum st_agree_slip slip;
    double slip_value;
    bool refractometer; /* one was used: its band is a shared error of all refractometer readings (Note 2) */
    bool warm_unsaid;   /* of a reading at least: 20 C, give or take, was taken */
};

/* What the strained solids of each steep weigh, in the draws of a plan: each is a thing of its own. */
struct st_agree_drained {
    int n;
    const char *jar[ST_AGREE_STEEPS]; /* id of the steep; lent by the recipe */
    double *g[ST_AGREE_STEEPS];       /* [draws]; owned */
};

/* Hold readings against a foretold bottle.
 *
 * Given:
 *   told        with draws, at least 50
 *   seen[n]     readings of the whole finished drink at one time, n <= ST_AGREE_MOST, in any order
 *   drained     of the same plan and draws (st_agree_drained_of); NULL: not known.  A reading of drained solids is of the
 *               steep that its `jar` names; of the only one, where there is one
 * Returned:
 *   *out        about them; when the status is negative untouched
 * Status:
 *   as the figures foretold; ST_E_DOMAIN too many readings, too few draws, a reading that is no number;
 *   ST_E_REFUSED strength, sugar, volume or weight are not foretold; ST_E_NOCONV the search did not come to rest
 * Notes:
 *   1. Unknowns: grams of ethanol, sugars, acid, other dissolved matter and water in the drink (and of the drained
 *      solids of each steep), normal with the mean and the joint covariance of the draws; sugars and other matter keep their
 *      proportions.  Readings are foretold by st_drink_reading, each at the temperature it was read; a
 *      thermometer counts for 0.5 K, a temperature that nobody told for 2 K about 20 C (common practice, no source).
 *   2. Two errors are shared, and unknowns of their own: of the density rule (st_density_mixture_band, half of 95 %) and of
 *      every refractometer reading (st_n_mixture_band, and gauge.h Note 4: 0.5 % vol, taken as the half width of a
 *      rectangle, as the Brix it amounts to at the same density).  So three refractometer readings are not three times as
 *      good as one.  Readings of one kind are taken as of one instrument, whose calibration is off by as much for all of
 *      them: half of a reading's standard deviation (from memory).  n of them each count with sqrt(3/4 + n/4) times their
 *      own, so that their mean is as uncertain as such an error leaves it: ten are 1.8 times as good as one, never ten.
 *   3. The judgement is reconcile.h's.  When it fails, each reading is set aside in turn: READING, if the rest then
 *      agree and it is the one beyond chance; its rival is the next whose setting aside is no more than 4 in chi-square
 *      worse (two standard deviations) and also brings agreement.  Else RECIPE, if the readings determine more than they need
 *      and agree among themselves.
 *   4. `without` leaves out the suspect; with RECIPE the recipe (what it says of acid, other matter and the whole is kept
 *      unless read);
 *      with EITHER the reading; with UNCLEAR nothing is left out and it is not known.  `after` is then the best fit of what
 *      does not fit, and its interval is supported by nothing (st_agree_together).
 *   5. Intervals after: with r the ratio of the standard deviations, the half widths are those before times r, of the shape of
 *      the draws (r^2) and of a normal (1 - r^2) mixed, about the fit and as much of the way from the mean of the draws to
 *      the foretold middle (r^2); never wider than before.  So readings that say nothing change nothing, and good ones
 *      are believed.
 *   6. Readings are taken as true of the same liquid: a drink that lost some on the way is told only by its volume and weight.
 * Source:
 *   [narasimhan2000], [gum2008]; [rogerson2006] Note 2.  Checks: tests/unit/test_agree.c
 */
enum st_status st_agree(const struct st_foretold *told, const struct st_observation seen[], int n,
                        const struct st_agree_drained *drained, struct st_agreement *out);

/* Whether `after` and `measured` may be told: what is at odds with itself supports no interval, nor does what chance parts
 * so far in fewer than 1 of 1000 cases (the fit then lies outside what was foretold and outside what was read).  measured
 * stays where the readings by themselves are too few to be at odds. */
bool st_agree_together(const struct st_agreement *a);
bool st_agree_alone(const struct st_agreement *a);

/* They do not agree, and are merely unlikely: chance parts them so far, all together and the furthest of the readings, once in
 * 100 or oftener.  Such a reading is a straggler: looked at, told of, and kept; what chance does less often than that is an
 * outlier, to be left out where it is known which it is.  Source: [iso5725_2] 7.3.2 (5 % and 1 %). */
bool st_agree_straggles(const struct st_agreement *a);

/* Whether all readings are used, as they are: they agree, or are merely unlikely.  The one rule of all who take figures of a batch. */
bool st_agree_holds(const struct st_agreement *a);

/* What the strained solids of the first steeps of r weigh in the draws of st_plan_run with this seed; p: the plan of r.
 * st_agree_drained_done in every case.  ST_E_REFUSED when nothing is strained, ST_E_NOCONV no memory. */
enum st_status st_agree_drained_of(const struct st_plan *p, const struct st_recipe *r, uint64_t seed, int draws,
                                   struct st_agree_drained *out);
void st_agree_drained_done(struct st_agree_drained *d);

#endif
