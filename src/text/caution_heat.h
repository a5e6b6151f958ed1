#ifndef ST_TEXT_CAUTION_HEAT_H
#define ST_TEXT_CAUTION_HEAT_H

#include "cautions.h"

/* Fire and spirit: strong spirit poured, spirit warmed, hot liquid poured on spirit. */

/* From this strength on the vapour is told of, even at the temperature of a room (22 C in [flash_table]), % vol. */
#define ST_STRONG_SPIRIT (60.0 - 1e-6)

/* How strong what a line pours is, % vol; 0 where it is no spirit, or comes of another step. */
double st_line_strength(const struct st_line *l);
/* The strongest thing that a line of the step pours, % vol; 0 none. */
double st_strongest(const struct st_step *s);

/* The caution at one line that pours spirit of this strength, or at a step (line -1); false below ST_STRONG_SPIRIT. */
bool st_caution_strong(struct st_cautions *out, double strength, int step, int line);

/* Strong spirit is poured, whatever the jar stands at afterwards. */
void st_caution_strong_pour(struct st_cautions *out, const struct st_step *s, int step);

/* Spirit is warmed in this step, by its figures or by the maker's words, or meets something hot.  f may be NULL. */
void st_caution_heat(struct st_cautions *out, const struct st_recipe *r, const struct st_foretold *f, int step);

/* The caution of warmed spirit where only words tell of it and the strongest spirit named is of this strength, % vol;
 * false when the words warm nothing or there is no spirit. */
bool st_caution_warmed_in(struct st_cautions *out, const char *words, double strength, int step, int line);

#endif
