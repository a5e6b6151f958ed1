#ifndef ST_TEXT_YAML_REPORT_H
#define ST_TEXT_YAML_REPORT_H

#include <stdbool.h>
#include <stddef.h>

#include "recipe_yaml.h"
#include "util/arena.h"

/* Collects what is wrong with a file while reading goes on, so that one run tells as much as it can. */
struct st_report {
    struct st_arena *arena;     /* lives as long as the recipe */
    struct st_recipe_file *out; /* problems and notes go here */
    bool full;                  /* ST_MAX_PROBLEMS are in: readers may stop */
    const char *guide, *begin;  /* the page of this sort of file, and what it begins with; NULL: of recipe files */
};

/* "docs/recipe-file.md". */
const char *st_report_guide(const struct st_report *r);

/* Add a problem; what is a format, why and try_ are complete clauses.  Texts too long for a problem are cut between
 * characters. */
__attribute__((format(printf, 5, 6))) void st_report(struct st_report *r, struct st_place at, const char *why,
                                                     const char *try_, const char *what, ...);

/* Add a problem that another reader filled in; *p already has its place. */
void st_report_add(struct st_report *r, const struct st_problem *p);

/* Add something worth knowing that stops nothing. */
__attribute__((format(printf, 5, 6))) void st_report_note(struct st_report *r, struct st_place at, const char *why,
                                                          const char *try_, const char *what, ...);

/* A short, printable copy of the maker's words for a message: cut after about 40 bytes, control characters to blanks.
 */
const char *st_report_clip(struct st_report *r, const char *text, size_t size);

/* The words in order of place; -1 if any is an error, 1 if all are questions, 0 if there are none. */
int st_report_finish(struct st_report *r);

/* Bytes of the UTF-8 character at text (1..4), 0 when it is not well formed. */
size_t st_utf8_length(const unsigned char *text, size_t size);

#endif
