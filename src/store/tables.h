#ifndef ST_STORE_TABLES_H
#define ST_STORE_TABLES_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The rows of the book as plain structs, and what their columns are.  What a column means, its unit and its limits stand
 * in migrate_001.sql and the steps after it; members have the columns' names.  Not known: BOOK_NO, a NAN, a text that is
 * NULL. */

#define BOOK_NO INT64_MIN

struct book_blob {
    const void *bytes; /* NULL: not known */
    size_t size;
};

enum book_table {
    BOOK_SETTING,
    BOOK_VESSEL,
    BOOK_LOT,
    BOOK_LOT_USE,
    BOOK_RECIPE,
    BOOK_TRY,
    BOOK_BATCH,
    BOOK_JAR,
    BOOK_WEIGHING,
    BOOK_READING,
    BOOK_LOSS,
    BOOK_BOTTLING,
    BOOK_GONE,
    BOOK_FORESEEN,
    BOOK_REFERENCE,
    BOOK_PICTURE,
    BOOK_PHOTO,
    BOOK_LOT_OF,
    BOOK_NTABLE
};

struct book_setting {
    int64_t id;
    const char *name;
    const char *value;
};
struct book_vessel {
    int64_t id;
    const char *name;
    double volume_ml;
    double empty_g;
    const char *note;
};
struct book_lot {
    int64_t id;
    const char *code;
    const char *kind;
    const char *name;
    const char *slug;
    const char *words;
    const char *dim;
    double amount;
    int64_t gross;
    double trimmed_share;
    double strength_pct_vol;
    double strength_u;
    double sugar_g_l;
    double acid_g_l;
    double potency;
    const char *since;
    const char *bought_at;
    double price;
    const char *currency;
    const char *opened_on;
    const char *use_by;
    const char *place;
    int64_t from_batch;
    const char *ended_on;
    const char *note;
};
struct book_lot_use {
    int64_t id;
    int64_t lot_id;
    int64_t batch_id;
    int64_t weighing_id;
    double amount;
    const char *on_day;
    const char *why;
    const char *note;
};
struct book_recipe {
    int64_t id;
    const char *name;
    const char *since;
    const char *note;
};
struct book_try {
    int64_t id;
    int64_t recipe_id;
    const char *side;
    int64_t number;
    int64_t from_try;
    const char *on_day;
    const char *text;
    const char *said;
    const char *note;
};
struct book_batch {
    int64_t id;
    const char *code;
    const char *name;
    int64_t try_id;
    int64_t from_batch;
    const char *text;
    const char *said;
    const char *begun_on;
    const char *ended_on;
    const char *note;
};
struct book_jar {
    int64_t id;
    int64_t batch_id;
    const char *step;
    const char *doing;
    int64_t vessel_id;
    const char *place;
    const char *begun_on;
    const char *due_on;
    const char *ended_on;
    const char *note;
};
struct book_weighing {
    int64_t id;
    int64_t batch_id;
    const char *step;
    int64_t line;
    const char *words;
    int64_t lot_id;
    const char *on_day;
    const char *note;
};
struct book_reading {
    int64_t id;
    int64_t batch_id;
    int64_t lot_id;
    const char *step;
    const char *kind;
    double value;
    double sd;
    const char *at;
    double temperature_c;
    const char *of;
    const char *by_whom;
    int64_t after_straining;
    const char *words;
    int64_t doubted;
    int64_t reference_id;
};
struct book_loss {
    int64_t id;
    int64_t batch_id;
    const char *step;
    const char *on_day;
    const char *why;
    double volume_ml;
    double mass_g;
    double strength_pct_vol;
    const char *note;
};
struct book_bottling {
    int64_t id;
    int64_t batch_id;
    const char *code;
    const char *on_day;
    double size_ml;
    int64_t count;
    double strength_pct_vol;
    const char *facts;
    const char *use_by;
    const char *note;
};
struct book_gone {
    int64_t id;
    int64_t bottling_id;
    int64_t count;
    const char *on_day;
    const char *person;
    int64_t returned;
    const char *returned_on;
    int64_t liked;
    const char *told_on;
    const char *note;
    int64_t lot_id;
};
struct book_foreseen {
    int64_t id;
    int64_t try_id;
    int64_t batch_id;
    const char *key;
    double value;
    double low;
    double high;
    const char *status;
    const char *program;
};

struct book_reference {
    int64_t id;
    const char *name;
    double strength_pct_vol;
    double volume_ml;
    double price;
    const char *currency;
    const char *since;
    const char *note;
};
struct book_picture {
    int64_t id;
    const char *sha256;
    int64_t size;
    struct book_blob data;
};
struct book_photo {
    int64_t id;
    int64_t batch_id;
    int64_t lot_id;
    int64_t reference_id;
    const char *at;
    const char *words;
    const char *type;
    int64_t picture_id;
};
struct book_lot_of {
    int64_t id;
    int64_t lot_id;
    int64_t of_lot;
};

enum book_type { BOOK_INTEGER, BOOK_REAL, BOOK_TEXT, BOOK_BLOB };

struct book_column {
    const char *name;
    enum book_type type;
    bool needed;            /* NOT NULL: a text that is NULL is written as "" */
    size_t offset;          /* in the row's struct */
    enum book_table refers; /* holds the id of a row there; BOOK_NTABLE: no such */
};

/* The first column is id, of every table. */
struct book_table_info {
    const char *name;
    const struct book_column *column;
    size_t n_column;
    size_t size;      /* of the struct */
    bool computed;    /* can be made anew from the others */
    bool unjournaled; /* a deed that changes it is not undone there */
};
const struct book_table_info *book_table_info(enum book_table t);

/* A row in which nothing is known: numbers 0 or NAN, references BOOK_NO, texts "" where they are needed, else NULL. */
void book_row_init(enum book_table t, void *row);

/* The integer, number, text or bytes of a row; assertion: the column's type is that. */
int64_t book_integer(const void *row, const struct book_column *c);
double book_real(const void *row, const struct book_column *c);
const char *book_text(const void *row, const struct book_column *c);
struct book_blob book_blob(const void *row, const struct book_column *c);

#endif
