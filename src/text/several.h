#ifndef ST_TEXT_SEVERAL_H
#define ST_TEXT_SEVERAL_H

#include <stdbool.h>
#include <stddef.h>

#include "model/ingredient.h"

/* The name of an ingredient; of many its plural, where the sheet lists one: "quinces", "egg yolks". */
void st_several(const struct st_ingredient *in, bool many, char *buf, size_t size);

#endif
