#ifndef ST_TEXT_TAKE_SAY_H
#define ST_TEXT_TAKE_SAY_H

#include "take_inside.h"

/* The parts of a line, as they are put together. */
struct st_say {
    const char *amount;   /* "340 g", "to cover" */
    const char *strength; /* "40", "37.5-43", "" */
    const char *name;
    const char *part;
    bool behind; /* the amount stands behind the name */
};

/* The meanings of "2 cups" under each system of measures, in g or mL. */
struct st_meanings {
    int n;
    const char *label[3];
    struct st_amount a[3];
    double low, high;
};

/* take_again.c: the line, and amounts in words. */
void st_say_line(const struct st_item *it, const struct st_say *say, char *out, size_t size);
void st_say_metric(const struct st_amount *a, double low, double high, char *out, size_t size);
bool st_say_is_behind(const struct st_amount *a);
void st_say_fill(const struct st_amount *a, char *out, size_t size);
void st_say_usual_strength(const struct st_item *it, struct st_usual *u);

/* take_question.c */
void st_ask_strength(struct st_item *it, const struct st_say *say);
void st_ask_measures_of(struct st_item *it, const struct st_say *say, const struct st_meanings *m);
void st_ask_size(struct st_item *it, const struct st_say *say, const struct st_sum *sum, const char *unit);
void st_ask_jar(struct st_item *it, const struct st_say *say, const struct st_amount *a);
void st_ask_part(struct st_item *it, const struct st_say *say);
void st_ask_amount(struct st_item *it, const struct st_say *say, const char *words);

#endif
