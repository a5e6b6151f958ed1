#ifndef ST_TEXT_YAML_SYNTAX_H
#define ST_TEXT_YAML_SYNTAX_H

/* The library's words for a mistake of syntax, turned into ours. */
struct st_yaml_mistake {
    const char *sign; /* part of the library's message */
    const char *what, *why, *try_;
    int bracket; /* 1: better told at the bracket that stays open */
};

/* Never NULL: the last row answers for all that is not listed. */
const struct st_yaml_mistake *st_yaml_mistake(const char *message);

#endif
