#ifndef ST_TEXT_YAML_TREE_H
#define ST_TEXT_YAML_TREE_H

#include "yaml_report.h"

/* A YAML document as a tree of texts, lists and maps, each with its place.  Nothing is converted: 07, yes, 1e3 stay
 * words.  Anchors, aliases, tags, directives, second documents and repeated keys are refused. */
enum st_yaml_kind { ST_YAML_TEXT, ST_YAML_LIST, ST_YAML_MAP };

struct st_yaml {
    enum st_yaml_kind kind;
    struct st_place at; /* where it begins; of an empty value: its key */
    const char *text;   /* ends in NUL; "" for lists, maps and empty values */
    size_t size;
    bool empty;            /* nothing was written: "key:" or "key: ~" */
    bool verbatim;         /* stands in the file letter by letter, so columns inside it are right */
    bool in_brackets;      /* a list or map written [ ] or { } */
    struct st_yaml *key;   /* of an entry of a map */
    struct st_yaml *child; /* first entry */
    struct st_yaml *next;  /* sister */
    struct st_yaml *last, *parent;
    int n;
};

/* Read text.  NULL when nothing usable came of it; every problem is told. */
struct st_yaml *st_yaml_tree(struct st_report *r, const char *text, size_t size);

/* The value of a key, NULL when it is not there.  map may be NULL. */
const struct st_yaml *st_yaml_get(const struct st_yaml *map, const char *key);

/* The place of byte i of a text. */
struct st_place st_yaml_place(const struct st_yaml *node, size_t i);

#endif
