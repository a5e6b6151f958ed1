#ifndef ST_TEXT_AIM_WORDS_H
#define ST_TEXT_AIM_WORDS_H

#include <stddef.h>

#include "model/aim.h"

/* Wishes, what stops them and ways round, as one says them.  currency: of the recipe, "" none. */

/* Of a jar this much is filled: half a per cent of air, so that rounding does not run over. */
#define ST_AIM_BRIM 0.995

void st_aim_wish_words(const struct st_wish *w, const char *currency, char *buf, size_t size); /* "24 % vol" */
void st_aim_dial_words(const struct st_recipe *r, const struct st_dial *d, double value, char *buf,
                       size_t size);                                                                      /* "650 mL" */
const char *st_aim_dial_name(const struct st_recipe *r, const struct st_dial *d, char *buf, size_t size); /* "damson" */
void st_aim_stop_words(const struct st_aim *a, const struct st_aim_stop *s, char *buf, size_t size);
void st_aim_way_words(const struct st_aim *a, const struct st_aim_way *w, const char *currency, char *buf, size_t size);
/* Figures that nobody asked to change and that moved by more than a fifth and two steps: "sugar falls from 160 to 26
 * g/L"; "". */
void st_aim_gave_words(const struct st_stays *s, const double y[ST_NFIG], char *buf, size_t size);
/* What share of the gap to the wish a stop would close if it gave way by a tenth, 0 .. 1; below ST_AIM_HARDLY it is not
 * worth a word.  Of what nature limits, and of what a drink may hold: 0. */
#define ST_AIM_HARDLY 0.02
double st_aim_stop_gap(const struct st_aim *a, const struct st_aim_found *f, int i);
void st_aim_near_words(const struct st_aim *a, const double y[ST_NFIG], const char *currency, char *buf, size_t size);

#endif
