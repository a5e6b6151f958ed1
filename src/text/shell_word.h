#ifndef ST_TEXT_SHELL_WORD_H
#define ST_TEXT_SHELL_WORD_H

#include <stddef.h>

/* A word of a command that is printed to be typed: what a shell reads as exactly that text.
 *
 * Given:    text; buf of size bytes
 * Returned: buf, always ended in NUL: as it is where nothing in it means anything to a shell, in "..." where only spaces and the
 *           like do, else in '...' with '\'' for each of its quotes
 * Result:   0; -1: it does not fit, buf is then ""; a cut word would be another command
 */
int st_shell_word(char *buf, size_t size, const char *text);

#endif
