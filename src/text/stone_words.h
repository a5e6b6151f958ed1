#ifndef ST_TEXT_STONE_WORDS_H
#define ST_TEXT_STONE_WORDS_H

#include "model/rule.h"

/* What a maker's words say of the stones or pips of a fruit on a line.  Out: the line says pitted, stoned or cored, and nothing
 * in it may bring them back.  Opened: the line, or the words of any step, crack, crush, bruise, grind, pound or blend, and
 * do not plainly deny it ("do not crack the stones").  Else shut. */
enum st_stones st_stones_said(const struct st_recipe *r, int step, int line);

#endif
