#ifndef SMALL_HOUSE_GIVINGS_H
#define SMALL_HOUSE_GIVINGS_H

#include "house.h"

/* Where bottles and spent fruit go, day by day. */

/* Most bottles of a bottling will go to somebody; ring: it turns out wrong, and they are told. */
void givings_plan(struct house *h, int64_t bottling, const char *code, const char *name, int count, bool ring);
/* Spent fruit that goes into cakes, week by week. */
void givings_spent(int64_t lot, double g, long since);
/* Some of the k-th spent fruit for another batch; inside a deed. */
void givings_use_spent(struct house *h, int k, double g, int64_t batch);
void givings_day(struct house *h);

#endif
