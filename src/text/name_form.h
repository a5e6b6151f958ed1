#ifndef ST_TEXT_NAME_FORM_H
#define ST_TEXT_NAME_FORM_H

#include <stddef.h>

/* One form for all the ways of writing a name: "Damsons, dried" and "dried damson" become "damson dried". */

enum { ST_NAME_BYTES = 200, ST_NAME_WORDS = 12, ST_NAME_WORD_BYTES = 32 };

struct st_name_words {
    int n;
    char word[ST_NAME_WORDS][ST_NAME_WORD_BYTES]; /* as folded, in the order written */
};

/* Split a name into its words: lower case, accents off, singular, British spelling; "of", "the" and the like left out.
 * Longer names are cut at the limits. */
void st_name_split(const char *name, size_t size, struct st_name_words *out);

/* Words joined in alphabetical order, those of `leave_out` (bit i: word i) missing.
 * Returned: form[ST_NAME_BYTES * 2], which ends in NUL; its length. */
size_t st_name_join(const struct st_name_words *w, unsigned leave_out, char form[ST_NAME_BYTES*2]);

/* Words that say how a thing was prepared, and may be left out to find it: "ripe", "pitted", "fresh". */
int st_name_is_soft(const char *word);

/* Soft only when the ingredient is of a dry kind: "dried". */
int st_name_is_dried(const char *word);

/* Soft unless the ingredient is moist: a ground almond is an almond, a powdered damson is no damson. */
int st_name_is_ground(const char *word);

#endif
