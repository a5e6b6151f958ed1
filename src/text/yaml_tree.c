#include "yaml_tree.h"

#include <libfyaml.h>
#include <string.h>

#include "yaml_guard.h"
#include "yaml_quote.h"
#include "yaml_syntax.h"

/* The library hands out events; the tree is built from them here, so that depth and size are limited while reading,
 * and nothing of the library outlives this file. */
struct tree {
    struct st_report *report;
    const char *text;
    size_t size;
    struct fy_diag *diag;
    struct fy_parser *parser;
    struct st_yaml *root, *open; /* open: the list or map being filled */
    struct st_yaml *key;         /* waits for its value */
    int depth, nodes, documents;
    bool stop;
};

/* ---- places ---- */

static struct st_place place_of(const struct tree *t, struct fy_token *token)
{
    const struct fy_mark *m = token ? fy_token_start_mark(token) : NULL;
    if (m && m->line >= 0 && m->column >= 0)
        return (struct st_place){ m->line + 1, m->column + 1 };
    if (t->key)
        return t->key->at;
    return t->open ? t->open->at : (struct st_place){ 1, 1 };
}

static bool stands_in_file(const struct tree *t, struct fy_token *token, const char *text, size_t size)
{
    const struct fy_mark *m = token ? fy_token_start_mark(token) : NULL;
    return m && m->input_pos <= t->size && size <= t->size - m->input_pos &&
           memcmp(t->text + m->input_pos, text, size) == 0 && !memchr(text, '\n', size);
}

struct st_place st_yaml_place(const struct st_yaml *node, size_t i)
{
    struct st_place at = node->at;
    if (!node->verbatim || i > node->size)
        return at;
    for (size_t k = 0; k < i; k++)
        at.column += ((unsigned char)node->text[k] & 0xc0) != 0x80;
    return at;
}

/* ---- refusals ---- */

static void refuse_mark(struct tree *t, struct fy_token *token, const char *what)
{
    if (token)
        st_report(t->report, place_of(t, token), "a recipe file is plain lists, keys and texts",
                  "write it out, or put the text between quotes", "%s has no meaning in a recipe file", what);
}

static bool refuse_size(struct tree *t, struct st_place at, const char *what, const char *why)
{
    st_report(t->report, at, why, "split the recipe, or shorten it", "%s", what);
    t->stop = true;
    return false;
}

static void refuse_repeated(struct tree *t, struct st_yaml *key)
{
    for (const struct st_yaml *n = t->open->child; n; n = n->next)
        if (n->key->size == key->size && memcmp(n->key->text, key->text, key->size) == 0) {
            key->empty = true; /* its value is left out of the tree: whoever reads it counts on one */
            st_report(
                t->report, key->at, st_arena_printf(t->report->arena, "it already stands in line %d", n->key->at.line),
                "keep one of them", "the key `%s` stands here twice", st_report_clip(t->report, key->text, key->size));
            return;
        }
}

/* ---- building ---- */

static bool attach(struct tree *t, struct st_yaml *node)
{
    struct st_yaml *parent = t->open;
    if (++t->nodes > ST_YAML_NODES)
        return refuse_size(t, node->at, "there is too much in this file", "a recipe file may have 20000 entries");
    if (!parent) {
        t->root = node;
        return true;
    }
    if (parent->kind == ST_YAML_MAP && !t->key) {
        if (node->kind != ST_YAML_TEXT)
            return refuse_size(t, node->at, "a list or map cannot be a key", "keys are words");
        node->empty = false;
        refuse_repeated(t, node);
        t->key = node;
        return true;
    }
    if (++parent->n > ST_YAML_CHILDREN)
        return refuse_size(t, node->at, "this list is too long", "a list or map may have 1000 entries");
    node->key = t->key;
    node->parent = parent;
    t->key = NULL;
    if (node->key && node->key->empty)
        return true;
    if (parent->last)
        parent->last->next = node;
    else
        parent->child = node;
    parent->last = node;
    return true;
}

static struct st_yaml *new_node(struct tree *t, enum st_yaml_kind kind, struct fy_token *token)
{
    struct st_yaml *node = st_arena_alloc(t->report->arena, sizeof *node);
    node->kind = kind;
    node->at = place_of(t, token);
    node->text = "";
    return node;
}

static void begin(struct tree *t, enum st_yaml_kind kind, struct fy_token *token)
{
    struct st_yaml *node = new_node(t, kind, token);
    const struct fy_mark *m = token ? fy_token_start_mark(token) : NULL;
    node->in_brackets = m && m->input_pos < t->size && (t->text[m->input_pos] == '[' || t->text[m->input_pos] == '{');
    if (!attach(t, node))
        return;
    if (++t->depth > ST_YAML_DEPTH) {
        (void)refuse_size(t, node->at, "lists and maps lie too deep inside one another", "12 are the most");
        return;
    }
    node->parent = t->open;
    t->open = node;
}

static void end(struct tree *t)
{
    if (!t->open)
        return;
    t->open = t->open->parent;
    t->depth--;
}

/* Quotes can bring in, by their codes, what the guard kept out. */
static bool is_printable(const char *text, size_t size)
{
    const unsigned char *t = (const unsigned char *)text;
    for (size_t i = 0, n; i < size; i += n) {
        n = st_utf8_length(t + i, size - i);
        const bool unseen =
            n == 3 && t[i] == 0xe2 &&
            ((t[i + 1] == 0x80 && t[i + 2] >= 0xaa && t[i + 2] <= 0xae) ||
             (t[i + 1] == 0x81 && t[i + 2] >= 0xa6 && t[i + 2] <= 0xa9)); /* turns the direction of text */
        if (n == 0 || unseen || (t[i] < 0x20 && t[i] != '\n' && t[i] != '\t') || t[i] == 0x7f ||
            (n == 2 && t[i] == 0xc2 && t[i + 1] < 0xa0))
            return false;
    }
    return true;
}

/* Version 0.7.12 of the library loses memory over doubled quotes in '...', so those are read here. */
static const char *text_of(struct tree *t, struct fy_token *token, size_t *size)
{
    const struct fy_mark *from = fy_token_start_mark(token), *to = fy_token_end_mark(token);
    if (fy_token_scalar_style(token) != FYSS_SINGLE_QUOTED)
        return fy_token_get_text(token, size);
    if (!from || !to || to->input_pos < from->input_pos || to->input_pos > t->size)
        return NULL;
    return st_yaml_unquote(t->report->arena, t->text + from->input_pos, to->input_pos - from->input_pos, size);
}

static void scalar(struct tree *t, struct fy_token *token)
{
    struct st_yaml *node = new_node(t, ST_YAML_TEXT, token);
    size_t size = 0;
    const char *text = token ? text_of(t, token, &size) : NULL;

    if (text && size) {
        node->verbatim = stands_in_file(t, token, text, size);
        if (!is_printable(text, size)) {
            st_report(t->report, node->at, "it cannot be seen, and means nothing in a recipe", "delete it",
                      "a control character in this text");
            node->text = "?"; /* so that nobody says besides that nothing stands here */
            node->size = 1;
            node->verbatim = false;
        } else {
            node->text = st_arena_strndup(t->report->arena, text, size);
            node->size = size;
        }
    }
    const bool plain = token && fy_token_scalar_style(token) == FYSS_PLAIN;
    node->empty = !token || (plain && (size == 0 || strcmp(node->text, "~") == 0 || strcmp(node->text, "null") == 0));
    (void)attach(t, node);
}

static void alias(struct tree *t, struct fy_token *token)
{
    struct st_yaml *node = new_node(t, ST_YAML_TEXT, token);
    if (node->at.column > 1)
        node->at.column--; /* the mark stands behind the star */
    st_report(t->report, node->at, "a recipe file is plain lists, keys and texts",
              "write it out, or put the text between quotes", "a reference (*) has no meaning in a recipe file");
    node->empty = true;
    (void)attach(t, node);
}

static void begin_document(struct tree *t, struct fy_token *token)
{
    if (++t->documents < 2)
        return;
    st_report(t->report, token ? place_of(t, token) : (struct st_place){ t->root ? t->root->at.line : 1, 1 },
              "one file holds one recipe", "put it into a file of its own", "a second document begins here");
    t->stop = true;
}

static void take_event(struct tree *t, struct fy_event *e)
{
    switch (e->type) {
    case FYET_DOCUMENT_START: begin_document(t, e->document_start.document_start); break;
    case FYET_MAPPING_START:
        refuse_mark(t, e->mapping_start.anchor, "an anchor (&)");
        refuse_mark(t, e->mapping_start.tag, "a tag (!)");
        begin(t, ST_YAML_MAP, e->mapping_start.mapping_start);
        break;
    case FYET_SEQUENCE_START:
        refuse_mark(t, e->sequence_start.anchor, "an anchor (&)");
        refuse_mark(t, e->sequence_start.tag, "a tag (!)");
        begin(t, ST_YAML_LIST, e->sequence_start.sequence_start);
        break;
    case FYET_SCALAR:
        refuse_mark(t, e->scalar.anchor, "an anchor (&)");
        refuse_mark(t, e->scalar.tag, "a tag (!)");
        scalar(t, e->scalar.value);
        break;
    case FYET_ALIAS: alias(t, e->alias.anchor); break;
    case FYET_MAPPING_END:
    case FYET_SEQUENCE_END: end(t); break;
    case FYET_NONE:
    case FYET_STREAM_START:
    case FYET_STREAM_END:
    case FYET_DOCUMENT_END: break;
    }
}

/* ---- mistakes of syntax ---- */

static void tell_mistakes(struct tree *t)
{
    void *seen = NULL;
    const struct fy_diag_error *e = fy_diag_errors_iterate(t->diag, &seen);
    const struct st_yaml_mistake *m = st_yaml_mistake(e && e->msg ? e->msg : "");
    struct st_place at =
        e && e->line > 0 && e->column > 0 ? (struct st_place){ e->line, e->column } : (struct st_place){ 1, 1 };

    for (const struct st_yaml *n = t->open; m->bracket && n; n = n->parent)
        if (n->in_brackets) {
            at = n->at;
            break;
        }
    st_report(t->report, at, m->why, m->try_, "%s", m->what);
    t->root = NULL; /* half a tree would only bring up wrong complaints */
}

static bool set_up(struct tree *t)
{
    struct fy_diag_cfg diag;
    fy_diag_cfg_default(&diag);
    diag.fp = NULL; /* the library prints nothing */
    diag.output_fn = NULL;
    diag.level = FYET_ERROR;
    diag.colorize = false;
    t->diag = fy_diag_create(&diag);
    if (!t->diag)
        return false;
    fy_diag_set_collect_errors(t->diag, true);

    const struct fy_parse_cfg parse = { .flags = FYPCF_QUIET | FYPCF_COLLECT_DIAG | FYPCF_DEFAULT_VERSION_1_2 |
                                                 FYPCF_JSON_NONE | FYPCF_DISABLE_MMAP_OPT,
                                        .diag = t->diag };
    t->parser = fy_parser_create(&parse);
    return t->parser && fy_parser_set_string(t->parser, t->text, t->size) == 0;
}

struct st_yaml *st_yaml_tree(struct st_report *r, const char *text, size_t size)
{
    struct tree t = { .report = r, .text = text, .size = size };

    if (!set_up(&t)) {
        st_report(r, (struct st_place){ 1, 1 }, "the YAML reader could not begin", "try again with a smaller file",
                  "cannot read the file");
        t.stop = true;
    }
    while (!t.stop) {
        struct fy_event *e = fy_parser_parse(t.parser);
        if (!e)
            break;
        take_event(&t, e);
        fy_parser_event_free(t.parser, e);
        t.stop = t.stop || r->full;
    }
    if (!t.stop && fy_parser_get_stream_error(t.parser))
        tell_mistakes(&t);
    else if (!t.stop && !t.root)
        st_report(r, (struct st_place){ 1, 1 }, "it holds nothing but blanks and remarks",
                  st_arena_printf(r->arena, "begin with %s; %s shows a complete file",
                                  r->begin ? r->begin : "a title and steps", st_report_guide(r)),
                  "the file is empty");
    const bool usable = t.root && !t.open;
    fy_parser_destroy(t.parser);
    fy_diag_destroy(t.diag);
    return usable ? t.root : NULL;
}

const struct st_yaml *st_yaml_get(const struct st_yaml *map, const char *key)
{
    if (!map || map->kind != ST_YAML_MAP)
        return NULL;
    for (const struct st_yaml *n = map->child; n; n = n->next)
        if (strcmp(n->key->text, key) == 0)
            return n;
    return NULL;
}
