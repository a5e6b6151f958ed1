#ifndef ST_TEXT_LOW_ACID_H
#define ST_TEXT_LOW_ACID_H

#include "model/recipe.h"

/* What brings little acid of its own and grew in or on soil: garlic, vegetables, fresh herbs and flowers.  Under little
 * alcohol and without air such things are what botulism is warned of. */
bool st_is_low_acid(const struct st_ingredient *in);

/* Oil or fat that people cook with; not the essential oils, which are counted in drops. */
bool st_is_fat(const struct st_ingredient *in);

#endif
