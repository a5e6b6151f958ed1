#ifndef ST_TEXT_SCAN_H
#define ST_TEXT_SCAN_H

#include <stdbool.h>
#include <stddef.h>

/* A place in a text that is being read, and where the text ends.  Nothing here reads past the end or needs a NUL.
 * A function that says false has not moved the place. */
struct st_scan {
    const char *at, *end;
};

/* The character here and its length in bytes; 0 and 0 at the end, U+FFFD and 1 for a byte that is no UTF-8. */
unsigned st_scan_char(const struct st_scan *s, size_t *length);

bool st_is_digit(unsigned c);
/* Letters of any script, for telling where a word ends; not signs, dashes, fractions. */
bool st_is_letter(unsigned c);

/* Blanks of every width, tabs, line ends. */
bool st_scan_blanks(struct st_scan *s);

/* These bytes. */
bool st_scan_sign(struct st_scan *s, const char *bytes);

/* Any sort of dash or minus. */
bool st_scan_dash(struct st_scan *s);

/* One of the words or phrases ("up to|to|ad"), the first that fits, in any case; blanks within may be wider or hyphens.
 * No letter or digit may follow.  Blanks before it are passed over. */
bool st_scan_word(struct st_scan *s, const char *words);

/* Letters up to the next other character; n = 0 when none. */
size_t st_scan_letters(const struct st_scan *s);

/* Copy at most size - 1 bytes for a message: whole characters, no control characters, "..." when cut. */
void st_scan_clip(const char *text, size_t n, char *out, size_t size);

#endif
