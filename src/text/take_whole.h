#ifndef ST_TEXT_TAKE_WHOLE_H
#define ST_TEXT_TAKE_WHOLE_H

#include "name_form.h"
#include "take.h"
#include "take_names.h"
#include "util/arena.h"
#include "util/buf.h"

/* What the files that read a whole text share; nobody else includes it.
 *
 * text -> lines -> sentences -> rows (one thing understood each)      take_tidy.c, take_parts.c, take_story.c,
 * take_answer.c
 *      -> entries: the rows that are ingredients, each once           take_entries.c
 *      -> stages: what is done, with what, in order                   take_sentence.c, take_steps.c, take_mention.c,
 * take_place.c
 *      -> the recipe file                                             take_yaml.c
 *      -> questions, by how far they move the bottle                  take_ask.c */

enum {
    ST_TAKE_BYTES = 1 << 16,
    ST_TAKE_LINES = 600,
    ST_TAKE_ROWS = 1500,
    ST_TAKE_ENTRIES = 160,
    ST_TAKE_STAGES = 48,
    ST_TAKE_USES = 96,
    ST_TAKE_MENTIONS = 96
};

/* So much of what an amount is told for: "per litre of liquid". */
struct st_take_per {
    struct st_range ml;               /* not known: it stands for itself */
    const struct st_ingredient *what; /* "per litre of gin"; NULL: of what the jar gives */
};

/* One thing understood, in the order of the text. */
struct st_taken {
    int line;
    const char *words;    /* what it stands for: the whole sentence, or its piece of it */
    const char *sentence; /* the whole, as it is read */
    const char *own;      /* the same, as written */
    size_t at;            /* where in the sentence it begins */
    int group;            /* number of the sentence */
    const char *when;     /* the words for its day, or of a sentence before; NULL none */
    double came_ml;       /* told to have come off; 0 not */
    bool in_method, changed;
    int nth;         /* of its line, 1-based; 0 none */
    const char *was; /* the words before they were changed, NULL */
    struct st_take_item *item;
    int entry;    /* of an ingredient: whose amount it tells, or repeats; -1 none */
    double share; /* of that entry */
    struct st_take_per per;
    int stage;         /* of a deed: where it went; -1 nowhere */
    bool put[ST_NASK]; /* questions that the line puts, answered or not */
    const char *id[ST_NASK], *answered[ST_NASK];
    struct st_take_ask *asked[ST_NASK]; /* of an answered one: the question as it was put */
};

/* An ingredient of the recipe. */
struct st_entry {
    int row;
    struct st_take_item *item;
    const struct st_ingredient *what;
    double left; /* share that no step has yet: 1 at first */
    double fill; /* a solid that fills this share of the jar; 0 none */
    bool free;   /* the amount was told in the method and belongs to its sentence */
    const struct st_name_words *name;
    int n_name;
};

/* What goes into a stage. */
enum st_use_of { ST_USE_ENTRY, ST_USE_LIQUOR, ST_USE_SPENT };
struct st_use {
    enum st_use_of of;
    int which;    /* entry, or stage */
    double share; /* of the entry */
};

struct st_stage {
    enum st_do kind;
    struct st_amount time;
    struct st_range temperature_K;
    bool press;
    double size_ml, vessel_ml;
    int bottles;
    const char *words;
    struct st_use use[ST_TAKE_USES];
    int n_use;
    bool fresh;       /* something was added since its time was told: the next time goes on */
    bool strained;    /* of a steep: a straining was told */
    bool onward;      /* goes on with the liquor made before it */
    int spent_of;     /* stage whose drained fruit goes in; -1 */
    bool with_syrup;  /* a syrup made before goes in */
    int step;         /* in the recipe; -1 before it is written */
    const char *name; /* in the recipe */
};

struct st_taking {
    struct st_arena *arena;
    struct st_catalogue *catalogue;
    const struct st_take_given *given;
    const char *text, *original; /* cleaned; as given */
    const char *title;
    const char *foreign; /* as in st_take */

    struct st_taken *row;
    struct st_entry entry[ST_TAKE_ENTRIES];
    struct st_stage stage[ST_TAKE_STAGES];
    const char *said[4];
    double poured_ml; /* spirit told in parts so far */

    enum st_measures measures;
    int n_row, n_group, n_line, n_entry, n_stage, n_said;
    int order[ST_TAKE_STAGES]; /* stages in the order of the recipe */
    int n_order;
    int crowded;      /* line that was changed as a whole and would lose things by it; 0 none */
    int now;          /* row of the sentence that is acted upon */
    int vessel_stage; /* whose amounts go by the size of the jar; -1 none */

    bool too_long;
    bool parts;          /* amounts are told in parts */
    bool vessel_assumed; /* and nobody told it */
};

/* A mention of an entry in a sentence. */
struct st_mention {
    size_t at;
    double share; /* 1 all of it, 0.5 "half the sugar", -1 "the rest of the sugar" */
    int entry;
    bool except; /* "all but the sugar" */
};

/* A text while it is parted. */
enum st_take_section { ST_SECTION_HEAD, ST_SECTION_GOODS, ST_SECTION_METHOD, ST_SECTION_NOTES };

struct st_parting {
    struct st_taking *t;
    struct st_take_context context;
    enum st_take_section section;
    int line;
    bool changed;
    bool gap;         /* a blank line stands before this one */
    int goods;        /* ingredients read so far */
    int measured;     /* of them with an amount */
    bool prose;       /* behind the ingredients, and no list again */
    bool story;       /* no list: the ingredients stand in sentences */
    const char *when; /* the last words for a day */
};

/* --- take_tidy.c --- */
/* Text as it can be kept and read: UTF-8 ('?' for bad bytes), line ends \n, no control characters.  In the arena. */
char *st_take_tidy(struct st_arena *a, const char *text, size_t size);
/* Bytes that are no UTF-8. */
int st_take_bad_letters(const char *text, size_t size);
/* Bytes of the first sentence of text[0..n). */
size_t st_take_sentence(const char *text, size_t n);
bool st_take_is_word_byte(char c);

/* --- take_parts.c --- */
/* The rows.  t->text, given, measures are set. */
void st_take_part(struct st_taking *t);
__attribute__((format(printf, 2, 3))) void st_take_say(struct st_taking *t, const char *format, ...);
/* The text behind bullets, numbers and marks; lent. */
const char *st_take_bare(const char *text);
/* The first time told in a text. */
bool st_take_find_time(const struct st_taking *t, const char *text, struct st_amount *out);
bool st_take_has_time(const struct st_taking *t, const char *text);
/* Is one of the words (parted by '|') in the text as a word of its own? */
bool st_take_has_word(const char *text, const char *words);

/* What a heading opens; -1 when it is none of these. */
int st_take_section_of(const char *words);
bool st_take_is_question(const char *sentence);

/* --- take_title.c --- */
/* The first words are the title, when they read as nothing else. */
void st_take_title(struct st_taking *t);

/* --- take_respell.c --- */
/* A sentence respelt; from[i] is where byte i of it came from. */
struct st_take_spelt {
    char *text;
    unsigned *from;
    size_t n;
    bool told; /* somebody tells what was done */
};
/* False: nothing had to be changed. */
bool st_take_respell(struct st_arena *a, const struct st_catalogue *c, const char *sentence, struct st_take_spelt *out);

/* --- take_story.c --- what the reader of lines does not find in a sentence; each returns how many items there are then
 */
/* Where no list stands: a remark with amounts in it is read once more, as part of a method. */
int st_take_story(struct st_parting *p, const char *sentence, size_t n, struct st_take_item item[], int found);
/* Amounts of a sentence of the method that came into no item. */
int st_take_missed(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* "Add the vanilla pod." */
int st_take_added(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* "Shake in sugar until it fills the gaps", where no list tells how much. */
int st_take_unmeasured(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* "sugar: Hetty put it in, a good cupful": the amount stands somewhere behind the name. */
int st_take_hearsay(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* "2 lb of nuts in the shell, that is one pound once cracked": what is left is what goes in. */
void st_take_left_of(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* Deeds without a verb: "6 weeks, dark.", "All into the jar." */
int st_take_verbless(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);
/* Is an ingredient or a deed among the items? */
bool st_take_tells(const struct st_take_item item[], int n);
/* A time that stands in the sentence and came into no deed. */
void st_take_time_left(struct st_parting *p, const char *sentence, struct st_take_item item[], int n);

/* --- take_either.c --- */
/* Where another thing will do too, which of them went in is a question. */
void st_take_ask_either(struct st_taking *t, struct st_take_item *item);

/* --- take_answer.c --- */
/* Bring the answers that were given for a row's questions into its item. */
void st_take_answer_row(struct st_taking *t, struct st_taken *row);
const char *st_take_id(struct st_arena *a, int line, enum st_take_kind kind, int nth); /* "l4.strength" */
/* Why an answer was of no use stands in the question, which is put again. */
void st_take_refuse(struct st_take_ask *ask, const char *value);
const char *st_take_answer_to(const struct st_take_given *g, const char *id);
/* The option with this label is taken, because the text tells it somewhere else; false: it is not offered. */
bool st_take_choose(struct st_taking *t, struct st_take_item *item, enum st_take_kind kind, const char *label,
                    const char *because);
/* The option chosen by these words, -1 none. */
int st_take_option(const struct st_take_ask *ask, const char *value);

/* --- take_mention.c --- */
int st_take_mentions(const struct st_taking *t, const char *sentence, struct st_mention out[ST_TAKE_MENTIONS]);
void st_take_names(struct st_arena *a, const struct st_ingredient *what, struct st_entry *e);

/* --- take_entries.c --- */
void st_take_entries(struct st_taking *t);
/* "How much sloe went in?", with three weights to choose from; brings in the answer when it was given. */
void st_take_ask_amount(struct st_taking *t, struct st_entry *e, const double grams[3]);
/* "Cut up the pears, cores and all": how the one thing that the sentence names was weighed. */
void st_take_weighed(struct st_taking *t, const char *sentence, const struct st_mention m[], int n);
/* "200 g sugar" with half the amount; NULL when its amount cannot be parted. */
const char *st_take_scaled(struct st_taking *t, const char *as, double share);

/* --- take_steps.c --- */
void st_take_steps(struct st_taking *t);
int st_take_stage(struct st_taking *t, enum st_do kind); /* a new one, not yet in the order; -1: no more room */
void st_take_use(struct st_taking *t, int stage, int entry, double share);

/* --- take_place.c --- what no sentence claims; links between the stages; their order and names */
void st_take_place(struct st_taking *t);
void st_take_link(struct st_taking *t);
void st_take_prune(struct st_taking *t); /* stages into which nothing goes any more are taken out */

/* --- take_vessel.c --- */
/* The size of the jar where amounts go by it: told, answered, or a usual one. */
void st_take_vessels(struct st_taking *t);
/* The question for it; 0 when there is none. */
int st_take_vessel_ask(const struct st_taking *t, struct st_take_ask *ask);
double st_take_vessel_option(int i); /* mL */
/* What a solid that fills its share of such a jar weighs, as a line. */
const char *st_take_fill_line(struct st_taking *t, const struct st_entry *e, double ml);

/* --- take_share.c --- */
/* The sentence with "two parts of vodka" said in mL or g; itself when there are no parts in it. */
const char *st_take_parts_said(struct st_taking *t, const char *sentence);
int st_take_part_ask(const struct st_taking *t, struct st_take_ask *ask);

/* --- take_yaml.c --- */
void st_take_write(struct st_taking *t, struct st_buf *out);

/* --- take_ask.c --- */
/* The questions of a text that was read to a recipe; out->recipe may be empty. */
void st_take_questions(struct st_taking *t, struct st_take *out);

#endif
