#include "ingredient_stanza.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "near.h"

/* The keys of a stanza.  A figure is multiplied by its factor: the sheet has per cent, the program shares. */
enum { TEXT, LIST, FIGURE, KIND, ALLERGEN, CAUTION, MARKER };

static const struct key {
    const char *name;
    int type;
    size_t offset;
    const char *unit;
    double factor, most;
} KEY[] = {
#define FIELD(member) offsetof(struct st_ingredient, member)
#define PART(c) offsetof(struct st_ingredient, part) + (c)*sizeof(struct st_range)
    { "name", TEXT, FIELD(name), "", 0, 0 },
    { "names", LIST, FIELD(names), "", 0, 0 },
    { "botanical", TEXT, FIELD(botanical), "", 0, 0 },
    { "kind", KIND, 0, "", 0, 0 },
    { "like", TEXT, FIELD(like), "", 0, 0 },
    { "whole", TEXT, FIELD(whole), "", 0, 0 },
    { "note", TEXT, FIELD(note), "", 0, 0 },
    { "water", FIGURE, PART(ST_WATER), "%", 0.01, 100 },
    { "sugars", FIGURE, FIELD(sugars), "%", 0.01, 100 },
    { "sucrose", FIGURE, PART(ST_SUCROSE), "%", 0.01, 100 },
    { "glucose", FIGURE, PART(ST_GLUCOSE), "%", 0.01, 100 },
    { "fructose", FIGURE, PART(ST_FRUCTOSE), "%", 0.01, 100 },
    { "lactose", FIGURE, PART(ST_LACTOSE), "%", 0.01, 100 },
    { "acid", FIGURE, PART(ST_ACID), "%", 0.01, 100 },
    { "polyol", FIGURE, PART(ST_POLYOL), "%", 0.01, 100 },
    { "protein", FIGURE, PART(ST_PROTEIN), "%", 0.01, 100 },
    { "extract", FIGURE, PART(ST_EXTRACT), "%", 0.01, 100 },
    { "fat", FIGURE, PART(ST_FAT), "%", 0.01, 100 },
    { "solids", FIGURE, PART(ST_SOLIDS), "%", 0.01, 100 },
    { "strength", FIGURE, FIELD(strength), "%vol", 1, 100 },
    { "density", FIGURE, FIELD(density), "g/mL", 1, 3 },
    { "dissolves", FIGURE, FIELD(extract_share), "%", 0.01, 100 },
    { "cup", FIGURE, FIELD(cup), "g", 1, 700 },
    { "tbsp", FIGURE, FIELD(tbsp), "g", 1, 45 },
    { "tsp", FIGURE, FIELD(tsp), "g", 1, 15 },
    { "piece", FIGURE, FIELD(piece), "g", 1, 20000 },
    { "piece_name", TEXT, FIELD(piece_name), "", 0, 0 },
    { "piece_names", LIST, FIELD(piece_names), "", 0, 0 },
    { "cup_note", TEXT, FIELD(cup_note), "", 0, 0 },
    { "edible", FIGURE, FIELD(edible), "%", 0.01, 100 },
    { "retention", FIGURE, FIELD(retention), "g/g", 1, 20 },
    { "sweetness", FIGURE, FIELD(sweetness), "x", 1, 20000 },
    { "energy", FIGURE, FIELD(energy), "kJ/g", 1, 40 },
    { "oil", FIGURE, FIELD(oil), "mL/kg", 1, 500 },
    { "allergen", ALLERGEN, 0, "", 0, 0 },
    { "caution", CAUTION, 0, "", 0, 0 },
    { "marker", MARKER, 0, "mg/g", 1, 1000 },
};
enum { NKEY = sizeof KEY/sizeof KEY[0] };
_Static_assert(NKEY <= 64, "one bit a key in st_stanza_seen");

void st_ingredient_blank(struct st_ingredient *in)
{
    *in = (struct st_ingredient){ .kind = ST_KIND_OTHER };
    in->slug = in->name = in->names = in->botanical = in->piece_name = in->piece_names = in->cup_note = "";
    in->like = in->whole = in->note = in->made_of = "";
}

static int unknown_key(const struct st_sheet_line *line, struct st_problem *problem)
{
    const char *names[NKEY + 1];
    char hint[120] = "the keys are in data/README.md";

    for (int i = 0; i < NKEY; i++)
        names[i] = KEY[i].name;
    names[NKEY] = "ingredient";
    const char *near = st_near_key(line->key, names, NKEY + 1);
    if (near)
        (void)snprintf(hint, sizeof hint, "did you mean '%s'?", near);
    return st_sheet_problem(problem, line->at, "cannot read this line", hint, "'%.40s' is no key of an ingredient",
                            line->key);
}

static int read_kind(const struct st_sheet_line *line, struct st_ingredient *in, struct st_problem *problem)
{
    const char *names[ST_NKIND];
    char hint[120] = "the kinds are in data/README.md";

    for (int k = 0; k < ST_NKIND; k++) {
        names[k] = st_kind_name((enum st_kind)k);
        if (strcmp(line->rest, names[k]) == 0) {
            in->kind = (enum st_kind)k;
            return 0;
        }
    }
    const char *near = st_near_key(line->rest, names, ST_NKIND);
    if (near)
        (void)snprintf(hint, sizeof hint, "did you mean '%s'?", near);
    return st_sheet_problem(problem, line->at, "cannot read this kind", hint, "there is no kind '%.40s'", line->rest);
}

/* "CODE DEGREE MARK [key] one sentence"; a degree "-" is none. */
static int read_flag(struct st_sheet_line *line, struct st_flag flag[ST_MAX_FLAGS], int *n, struct st_problem *problem)
{
    static const char TRY[] = "write: code, degree or -, mark, [source key], one sentence";
    char *rest = line->rest;
    const char *what = st_sheet_word(&rest), *degree = st_sheet_word(&rest), *mark = st_sheet_word(&rest);

    if (*n >= ST_MAX_FLAGS)
        return st_sheet_problem(problem, line->at, "cannot keep this line", "join two of them",
                                "an ingredient has room for %d of its sort", ST_MAX_FLAGS);
    char *end = rest[0] == '[' ? strchr(rest, ']') : NULL;
    if (!st_sheet_is_mark(mark) || !end)
        return st_sheet_problem(problem, line->at, "cannot read this line", TRY,
                                "there is no mark (r, m, c, p) followed by a [source key]");
    *end = '\0';
    char *text = end + 1;
    text += strspn(text, " \t");
    if (!*text)
        return st_sheet_problem(problem, line->at, "cannot read this line", TRY, "its sentence is missing");
    flag[(*n)++] = (struct st_flag){ what, strcmp(degree, "-") == 0 ? "" : degree, text, rest + 1, mark[0] };
    return 0;
}

static int read_marker(struct st_sheet_line *line, const struct key *key, struct st_ingredient *in,
                       struct st_problem *problem)
{
    char *rest = line->rest;
    const char *name = st_sheet_word(&rest);

    if (in->n_marker >= ST_MAX_FLAGS)
        return st_sheet_problem(problem, line->at, "cannot keep this marker", "leave the weakest one out",
                                "an ingredient has room for %d", ST_MAX_FLAGS);
    if (!*name)
        return st_sheet_problem(problem, line->at, "cannot read this marker", "write its name", "it has no name");
    if (*rest && st_sheet_figure(rest, key->unit, key->factor, key->most, line->at, &in->marker[in->n_marker].mg_g,
                                 problem))
        return -1;
    in->marker[in->n_marker++].marker = name;
    return 0;
}

/* "a | b" becomes "a|b", in place: whoever splits a list need not trim. */
static void close_bars(char *text)
{
    char *to = text;
    for (const char *p = text; *p; p++) {
        if (*p == '|')
            while (to > text && to[-1] == ' ')
                to--;
        if (*p != ' ' || (to > text && to[-1] != '|'))
            *to++ = *p;
    }
    *to = '\0';
}

static int read_once(struct st_sheet_line *line, const struct key *key, struct st_ingredient *in,
                     struct st_problem *problem)
{
    char *field = (char *)in + key->offset;

    if (key->type == KIND)
        return read_kind(line, in, problem);
    if (key->type == LIST)
        close_bars(line->rest);
    if (key->type == TEXT || key->type == LIST) {
        if (!*line->rest)
            return st_sheet_problem(problem, line->at, "cannot read this line", "write it, or leave the line out",
                                    "nothing follows '%s'", key->name);
        const char *text = line->rest;
        memcpy(field, &text, sizeof text);
        return 0;
    }
    struct st_range r;
    if (st_sheet_figure(line->rest, key->unit, key->factor, key->most, line->at, &r, problem))
        return -1;
    memcpy(field, &r, sizeof r);
    return 0;
}

/* Its place in KEY, sought from `from` on and around; -1 when it is none. */
static int key_number(const char *key, int from)
{
    for (int tried = 0, i = from; tried < NKEY; tried++, i = i + 1 < NKEY ? i + 1 : 0)
        if (KEY[i].name[0] == key[0] && strcmp(KEY[i].name, key) == 0)
            return i;
    return -1;
}

int st_ingredient_line(struct st_sheet_line *line, struct st_ingredient *in, struct st_stanza_seen *seen,
                       struct st_problem *problem)
{
    const int i = key_number(line->key, seen->next);
    if (i < 0)
        return unknown_key(line, problem);
    seen->next = i;

    switch (KEY[i].type) {
    case ALLERGEN:
        return read_flag(line, in->allergen, &in->n_allergen, problem);
    case CAUTION:
        return read_flag(line, in->caution, &in->n_caution, problem);
    case MARKER:
        return read_marker(line, &KEY[i], in, problem);
    default:
        break;
    }
    if (seen->bits >> i & 1u)
        return st_sheet_problem(problem, line->at, "cannot read this line", "keep one of the two",
                                "'%s' was given before in this stanza", KEY[i].name);
    seen->bits |= 1ull << i;
    return read_once(line, &KEY[i], in, problem);
}

int st_ingredient_complete(const struct st_ingredient *in, const struct st_stanza_seen *seen, struct st_place at,
                           struct st_problem *problem)
{
    if (!*in->name)
        return st_sheet_problem(problem, at, "cannot use this ingredient", "add a line such as: name damson",
                                "'%.60s' has no name", in->slug);
    for (int i = 0; i < NKEY; i++)
        if (KEY[i].type == KIND && seen->bits >> i & 1u)
            return 0;
    return st_sheet_problem(problem, at, "cannot use this ingredient", "add a line such as: kind fresh_fruit",
                            "'%.60s' has no kind", in->slug);
}
