#ifndef ST_TEXT_YAML_FIELD_H
#define ST_TEXT_YAML_FIELD_H

#include "point.h"
#include "yaml_report.h"
#include "yaml_span.h"
#include "yaml_tree.h"

/* What all readers of a recipe file share. */
struct st_reader {
    struct st_report report;
    struct st_recipe *recipe;
    struct st_catalogue *catalogue;
    int n_line;            /* ingredient lines so far, in all steps */
    struct st_marks marks; /* decimal signs among what is added */
};

enum { ST_TEXT_BYTES = 4000, ST_ORIGINAL_BYTES = 1 << 16, ST_NAME_LIMIT = 120, ST_LINES = 1000, ST_STEPS = 200 };

/* One key of a map and who reads it.  into: the caller's struct.  kinds: bits 1u << enum st_do it may stand in; 0: all.
 */
struct st_field {
    const char *key;
    void (*read)(struct st_reader *r, const struct st_yaml *value, void *into);
    unsigned kinds;
};

/* Read every entry of a map by a table that ends in { NULL }.  A key that is not in it is refused, with the nearest
 * one.  where: "a step", "the recipe".  kind: bit of the step's kind, 0 where there is none.  A field without read is
 * somebody else's, and only known. */
void st_fields_read(struct st_reader *r, const struct st_yaml *map, const struct st_field *field, const char *where,
                    unsigned kind, void *into);

/* ---- values; each tells a problem and leaves *out alone when it returns false ---- */

/* A text that is not empty, of at most `most` bytes; an empty value is refused. */
bool st_value_text(struct st_reader *r, const struct st_yaml *v, size_t most, const char **out);

bool st_value_yes_no(struct st_reader *r, const struct st_yaml *v, bool *out);

/* An amount of one dimension by text/quantity.h.  words_may_follow: "1.5 L jar". */
bool st_value_amount(struct st_reader *r, const struct st_yaml *v, enum st_dimension want, bool words_may_follow,
                     struct st_amount *out);

/* The same as a range: low and high as written, 'u'. */
bool st_value_range(struct st_reader *r, const struct st_yaml *v, enum st_dimension want, struct st_range *out);

/* A figure with one of the units (parted by '|'; "" allows none), times factor, not above most.  A list that ends in
 * '|' lets the unit be left out. rounded: a figure alone counts as rounded to its last digit, so "9 %" is 8.5 to 9.5 %.
 */
bool st_value_figure(struct st_reader *r, const struct st_yaml *v, const char *units, double factor, double most,
                     bool rounded, struct st_range *out);

/* A share: "2-5 %", as a fraction. */
bool st_value_share(struct st_reader *r, const struct st_yaml *v, bool rounded, struct st_range *out);

/* True when the value is a text that is a figure in per cent. */
bool st_value_is_percent(const struct st_yaml *v);

/* Entries of a list, or the one value that stands for a list: first of them, the next after v. */
const struct st_yaml *st_value_first(const struct st_yaml *v);
const struct st_yaml *st_value_next(const struct st_yaml *list, const struct st_yaml *v);

/* The name of the key a value belongs to, "this entry" in a list. */
const char *st_value_name(const struct st_yaml *v);

#endif
