#ifndef ST_MODEL_KITCHEN_INSIDE_H
#define ST_MODEL_KITCHEN_INSIDE_H

#include "kitchen.h"

/* For the files kitchen_*.c of model only. */

/* ---- kitchen_rank.c ---- */
void st_making_tools(const struct st_aim *a, struct st_making *m);        /* counts tools and fuss */
double st_making_linear(const struct st_aim *a, const struct st_plan *p); /* NAN: memory ran out */
/* With draw: probabilities, figures, score, met of m->item; without: linear alone. */
enum st_status st_making_draw(const struct st_aim *a, const struct st_kitchen *kitchen, const struct st_options *o,
                              bool draw, struct st_making *m);
/* The surest of the points of a search, at most `draw` of them drawn for. */
enum st_status st_kitchen_rank(const struct st_aim *a, const struct st_kitchen *kitchen,
                               const struct st_kitchen_grid grid[], const struct st_kitchen_result *r, int draw,
                               const struct st_options *o, struct st_making *best, int *drawn);

#endif
