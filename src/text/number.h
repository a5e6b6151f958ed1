#ifndef ST_TEXT_NUMBER_H
#define ST_TEXT_NUMBER_H

#include "scan.h"

/* A number as people write it: 3, 1.5, 1,5, 1/2, 1 1/2, 1-1/2, 1½, ¾, 1,000, "half a", "two", "a few". */
struct st_number {
    double value, low, high; /* all alike but for "a few" */
    bool vague;              /* "a few", "several" */
    bool figures;            /* written in figures, not in words */
    enum { ST_NUMBER_SURE, ST_NUMBER_COMMA, ST_NUMBER_GAP } doubt;
    double other; /* the other reading: 1.234 of "1,234" (value 1234), the second number of "2 500" (value 2500) */
};

/* Read a number at s.
 *
 * Returned:
 *   *out, and s after it; both untouched unless the result is 1
 *   *why        what is wrong with it, static text, when the result is -1
 * Result:
 *   1 read; 0 no number here; -1 nonsense ("1.2.3", "1/0", 20 digits)
 * Notes:
 *   1. A dot is a decimal point.  A comma before one, two or more than three digits is one too; "0,500" as well.
 *   2. "1,234" can be both: value is 1234, other 1.234, and doubt says so; "1,234,567" and "1,234.5" are sure.
 *   3. An apostrophe or a hard blank (U+00A0, U+2009, U+202F) between groups of three parts thousands.  A plain blank
 *      leaves a doubt: "2 500 mL" may be two bottles; "1 000 mL" and "2 050 mL" cannot, and are sure.
 *   4. ",5" and ".5" are a half: whoever calls knows that the mark is none of the words before it.
 *   5. "a few" is 3..5, "several" 4..7, "a couple of" 2..3: common practice, no source.
 */
int st_number_read(struct st_scan *s, struct st_number *out, const char **why);

/* Whether this may stand behind a figure in per cent: nothing, "%", "% vol", "percent"; blanks aside. */
bool st_is_percent(const char *behind);

/* A share such as "half", "two thirds", "2/3" that is more than 0 and at most 1. */
bool st_number_share(struct st_scan *s, double *share);

#endif
