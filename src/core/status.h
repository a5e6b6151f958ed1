#ifndef ST_CORE_STATUS_H
#define ST_CORE_STATUS_H

/* How a calculation ended.  One sign rule everywhere: 0 done; positive: done, with a caution that must
 * travel with the figure; negative: not done, outputs untouched. */
enum st_status {
    ST_OK = 0,           /* inside a published fit */
    ST_EXTRAPOLATED = 1, /* result given, inputs outside the fitted range */
    ST_ESTIMATED = 2,    /* no published data for this mixture; a mixing rule was used */
    ST_E_DOMAIN = -1,    /* input has no physical meaning, or NaN */
    ST_E_NOCONV = -2,    /* iteration limit reached */
    ST_E_REFUSED = -3    /* physically meaningful, but we have no basis to answer */
};

/* "ok", "extrapolated", "estimated", or a few words of why not.  Static text, never NULL. */
const char *st_status_text(enum st_status s);

/* The status of a figure made from two figures: a refusal wins, else the larger caution. */
enum st_status st_status_worse(enum st_status a, enum st_status b);

#endif
