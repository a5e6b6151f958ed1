#ifndef ST_TEXT_YAML_SPAN_H
#define ST_TEXT_YAML_SPAN_H

#include <stdbool.h>
#include <stddef.h>

/* One figure or a range of it, with a unit: "9 %", "76-81 %", "150..220 g/L", "2 to 5 %", "9 ± 1 %", "14,50 EUR". */
struct st_span {
    double value, low, high;
    int decimals;     /* digits written behind the point, the more of the two */
    bool single;      /* one figure: low == value == high */
    const char *unit; /* lent from the text, blanks around it cut off; "" of size 0 when none */
    size_t unit_size;
};

/* Read the whole text.
 * Given: text of size bytes.
 * Returned: *out; untouched when false.
 * Result: false when it is no such figure: no number, negative, more than 15 digits, high below low, or trailing units
 *   that differ ("2 g - 5 %").
 * Notes: 1. A comma counts as a decimal point.  2. Of a range the middle is the value, unless it stands before it:
 *   "0.5 (0-24) %". */
bool st_span_read(const char *text, size_t size, struct st_span *out);

/* True when the unit is one of the words in `units`, parted by '|'; letter case and blanks do not count. */
bool st_span_unit_is(const struct st_span *s, const char *units);

#endif
