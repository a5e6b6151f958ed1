#ifndef ST_TEXT_TAKE_LINE_H
#define ST_TEXT_TAKE_LINE_H

#include "text/line.h"

/* One line of free recipe text, read as a cook would.
 *
 * Whatever is understood is said again in the house's own words, a line that st_line_parse understands ("340 g
 * gooseberries, topped and tailed"), and only that line is reckoned with: what the maker sees is what is used. */

enum st_sure {
    ST_SURE,   /* the words say so */
    ST_LIKELY, /* a usual reading, told beside the words: "white sugar" for sugar */
    ST_GUESS,  /* a range or a default that the words do not give; told as such */
    ST_UNREAD  /* nothing was understood; the words are kept and the line is left out of the reckoning */
};

enum st_take_role { ST_TAKE_INGREDIENT, ST_TAKE_STEP, ST_TAKE_TITLE, ST_TAKE_HEADING, ST_TAKE_NOTE, ST_TAKE_NOTHING };

enum st_take_kind { ST_ASK_MEASURES, ST_ASK_STRENGTH, ST_ASK_PART, ST_ASK_WHICH, ST_ASK_AMOUNT, ST_ASK_SIZE, ST_NASK };
const char *st_take_kind_name(enum st_take_kind k); /* "measures" ... */

enum { ST_TAKE_OPTIONS = 5, ST_TAKE_ASKS = 3, ST_TAKE_ITEMS = 6, ST_TAKE_TEXT = 240 };

/* A question about one item.  An option is an answer ready to be tapped; `as` is the whole item said again with it. */
struct st_take_ask {
    enum st_take_kind kind;
    char ask[120]; /* "How strong is the vodka, in % vol?" */
    struct {
        char label[32];
        char as[ST_TAKE_TEXT];
    } option[ST_TAKE_OPTIONS]; /* "40", "700 mL vodka 40 %" */
    int n_option;
    char with[ST_TAKE_TEXT]; /* for an answer in the maker's own words: the item with %s where it goes, "" when not
                                possible */
    bool refused;            /* an answer was given that could not be read: it is asked again, and first */
    double times[2];         /* of a size: so many of them went in, low and high; 0 where the answer is the whole */
};

/* One thing understood in a line. */
struct st_take_item {
    enum st_take_role role;
    enum st_sure sure;
    char as[ST_TAKE_TEXT]; /* ingredient: a line in the house's own words, "" when unread; the range stands where a
                              question is open */
    char because[120];     /* why it is not sure, in a few words; "" when sure: "no strength is written: 37.5 to 43 % is
                              usual" */
    char or_slug[48];      /* "or rum": another thing that will do; "" none */
    struct st_range or_strength; /* "kirsch or plain 45 % brandy": its own, where it is not that of both */
    int n_ask;
    bool optional; /* "if you like", "a little ... would not hurt" */
    struct st_take_ask ask[ST_TAKE_ASKS];
    struct st_line line;  /* ingredient: as parsed from `as`; line.text == as */
    size_t at, n;         /* which bytes of the line it comes from */
    struct st_take_deed { /* step */
        enum st_do kind;
        struct st_amount time; /* dim ST_DIM_OPEN: not said */
        struct st_range temperature_K;
        bool press, spent; /* spent: "cover the strained fruit with the syrup" */
        bool strain;       /* of a steep: the liquor is taken off */
        double size_ml;
        int bottles; /* bottle */
        double vessel_ml;
    } deed;
};

struct st_take_context {              /* what the lines before have told; zero at first */
    enum st_measures measures;        /* declared, or seen from the words ("fl. oz. (UK)"), or NONE */
    const struct st_ingredient *last; /* "zest of 2 big ones" */
    bool in_method;                   /* past a heading like "Method" or numbered prose */
};

/* Read one line (no newline in it; bullets, numbers, Markdown marks still there).
 *
 * Given: text of n bytes, UTF-8 (bad bytes are read as "?"), catalogue, context.
 * Returned: item[ST_TAKE_ITEMS]; *context brought up to date.
 * Result: number of items, at least 1 (ST_TAKE_NOTHING for an empty line).  Never fails: what is not understood is
 * ST_UNREAD. */
int st_take_line(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context,
                 struct st_take_item item[ST_TAKE_ITEMS]);

/* The reading of an item in the form of tests/take/README.md, for the corpus. */
void st_take_reading(const struct st_take_item *item, char *buf, size_t size);

#endif
