#ifndef ST_TEXT_TAKE_H
#define ST_TEXT_TAKE_H

#include "text/recipe_yaml.h"
#include "text/take_line.h"

/* Free recipe text -> a recipe file, each line beside what it was read as.
 *
 * The text is parted into title, ingredients, deeds and notes; deeds in prose become steps; the recipe is written as
 * YAML (docs/recipe-file.md) with the maker's words kept in `said:` and `words:`, and then read back with
 * st_recipe_read: one way in for every recipe. Deterministic; no network; the words it knows are in data/take.words. */

struct st_take_answer {
    const char *id, *value;
}; /* id of a question; value: an option's label, or the maker's own words */
struct st_take_change {
    int line;
    const char *as;
    int item; /* which row of the line (as in its id), 0 the whole line */
};            /* "change": line (1-based) of the text, what it or one row of it says instead; "" leaves it out */

struct st_take_given {
    enum st_measures measures; /* NONE: not said */
    const struct st_take_answer *answer;
    int n_answer;
    const struct st_take_change *change;
    int n_change;
};

struct st_take_read_as { /* one line of the text, in order */
    int line;            /* 1-based; several rows may have the same */
    const char *words;   /* the maker's own, as written */
    const struct st_take_item *item;
    int step;       /* of the recipe, -1 when it is in none */
    bool changed;   /* by st_take_change */
    const char *id; /* "2.3", the third thing of line 2: stays the same while the line does; "" none */
    const char
        *when;      /* the words for its day ("Oct 4:", text/day_said.h), its own or of a sentence before; NULL none */
    double came_ml; /* "620 ml came off": a volume that was read; 0 none */
};

struct st_take_question {
    const char *id;  /* "measures", "l4.strength", "goods.amount": stays the same as long as the text does */
    const char *ask; /* "How strong is the vodka, in % vol?" */
    const char *why; /* "Moves the strength most: 18 to 24 % vol" */
    const char *label[ST_TAKE_OPTIONS + 1];
    int n_option;
    const char *answered; /* label chosen, or the maker's words; NULL: open */
    bool own_words;       /* may be answered by words that are no option */
    int line;
    double moves[3]; /* how far the options move strength (% vol), sugar (g/L), volume (mL) */
};

struct st_take {
    const char *title;
    const struct st_take_read_as *row;
    int n_row;
    const struct st_take_question *question;
    int n_question; /* at most 3 open ones, those that move the bottle most first; then the answered */
    int n_more;     /* questions that were not put: a range stands instead */
    const char *yaml;
    size_t yaml_size;             /* the recipe file; "" when nothing could be made of it */
    bool whole;                   /* recipe holds a recipe that can be foretold */
    struct st_recipe_file recipe; /* read back from yaml */
    const char *said[4];
    int n_said;          /* what was assumed of the whole: "no syrup step was written: the sugar goes into the jar" */
    const char *foreign; /* one of said: part of it is in a language that is not read; NULL none */
    void *memory;
};

/* Given: text of size bytes (limit 64 KiB, 600 lines: more is refused), a catalogue of its own (a recipe's definitions
 * are added to it).
 * Returned: *out; call st_take_done whatever the result.
 * Result: 0 read; 1 read, with questions open; -1 *problem: nothing there, too long, or nothing in it of which a drink could be made.  A text that names things
 * without any amount gives its rows and asks (1). */
int st_take_text(const char *text, size_t size, struct st_catalogue *c, const struct st_take_given *given,
                 struct st_take *out, struct st_problem *problem);
void st_take_done(struct st_take *t);

/* schema.org Recipe JSON-LD pasted from a page (alone, behind other words, in a script element, or in an @graph) -> plain
 * text, one line an ingredient or instruction. NULL when the text holds none.  Caller frees.  Only name, recipeYield,
 * recipeIngredient (or ingredients, where that is not there), recipeInstructions, description are read; of several
 * recipes the first. */
char *st_take_json_ld(const char *text, size_t size);
/* How many such recipes the text holds. */
int st_take_json_recipes(const char *text, size_t size);

#endif
