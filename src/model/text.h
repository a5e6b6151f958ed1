#ifndef ST_MODEL_TEXT_H
#define ST_MODEL_TEXT_H

#include <stddef.h>

/* Write the parts one after another into buf[size]; cut at its end, always closed by NUL.  NULL parts are left out. */
void st_say(char *buf, size_t size, const char *a, const char *b, const char *c);

#endif
