#ifndef ST_TEXT_CAUTION_WORDS_H
#define ST_TEXT_CAUTION_WORDS_H

#include <stddef.h>

#include "cautions.h"

/* What a caution is headed with, in words for people: "tonka bean: much coumarin", "yew: poisonous".
 *
 * Given: a caution.  Returned: buf of size bytes, which always ends in NUL; returns buf.
 * Notes: a heading that holds no code of the sheet ("the usual cautions of alcohol") is left as it is; a code without
 * words leaves the name alone, so that no inner label is shown. */
const char *st_caution_heading(const struct st_caution *c, char *buf, size_t size);

#endif
