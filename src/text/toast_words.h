#ifndef ST_TEXT_TOAST_WORDS_H
#define ST_TEXT_TOAST_WORDS_H

#include <stddef.h>

#include "model/toast.h"

/* A toast in a cook's words.  Everything goes to buf of size bytes, which always ends in NUL. */

/* What gives the heat, from the words of the step and its name: "In a dry pan ...", "toast: oven", "on a tray",
 * "fan oven"; both pan and oven, or neither: unsaid. */
enum st_toast_way st_toast_way_of(const struct st_step *s);

/* "sweet almond, 10 minutes at 175 °C: about 136 °C inside at the end (likely between 96 and 160); toasted flavour 0.3
 * of a usual toast (0.02 to 0.8): compare with another toast of it, not with a colour." or why there are no figures. */
void st_toast_piece_words(char *buf, size_t size, const struct st_toast_told *t, const struct st_toast_piece *p);

/* For a step with anything in it that frees hydrogen cyanide: a flavour step, and no number for the enzyme. */
extern const char st_toast_flavour_only[];
/* How much of it may be left in this piece, an estimate between wide ends and never none; "" of what holds none. */
void st_toast_left_words(char *buf, size_t size, const struct st_toast_piece *p);

/* What the figures rest on, once for a step that has any: heat, preheated, how far an oven's dial is off. */
void st_toast_basis_words(char *buf, size_t size, const struct st_toast_told *t);

#endif
