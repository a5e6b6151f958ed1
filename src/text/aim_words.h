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
void st_aim_near_words(const struct st_aim *a, const double y[ST_NFIG], const char *currency, char *buf, size_t size);

#endif
