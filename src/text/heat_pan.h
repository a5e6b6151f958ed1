#ifndef ST_TEXT_HEAT_PAN_H
#define ST_TEXT_HEAT_PAN_H

/* What a maker's words do to a pan, clause by clause: what is in it, whether it is hot, and whether spirit is there or
 * comes to it then.  "Boil sugar and water, cool, mix with the spirit" heats no spirit; "Boil sugar and water, mix with
 * the spirit, cool" pours hot syrup on it.  People can be hurt: whatever is not wholly understood counts as spirit, and
 * what was boiled counts as hot until the words cool it down. */

enum {
    ST_HEAT_WARMED = 1, /* what is heated holds spirit, or may hold it */
    ST_HEAT_POURED = 2, /* something hot meets spirit, or may meet it */
    ST_HEAT_LEFT = 4    /* something is hot where the words end */
};

/* Given: words, of a step that holds spirit; NULL and "" do nothing.  name: n ingredients without spirit that the step
 * brings in itself, as they are called; they may be heated where the words add the spirit later.
 * Returned: the flags above together, 0 none. */
unsigned st_heat_in(const char *words, const char *const name[], int n);

#endif
