#include "store/tables.h"

#include <assert.h>
#include <string.h>

/* One line a column, in the table's order. */

#define ROW struct book_setting
static const struct book_column SETTING_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "value", BOOK_TEXT, true, offsetof(ROW, value), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_vessel
static const struct book_column VESSEL_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "volume_ml", BOOK_REAL, false, offsetof(ROW, volume_ml), BOOK_NTABLE },
    { "empty_g", BOOK_REAL, false, offsetof(ROW, empty_g), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_lot
static const struct book_column LOT_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "code", BOOK_TEXT, true, offsetof(ROW, code), BOOK_NTABLE },
    { "kind", BOOK_TEXT, true, offsetof(ROW, kind), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "slug", BOOK_TEXT, true, offsetof(ROW, slug), BOOK_NTABLE },
    { "words", BOOK_TEXT, true, offsetof(ROW, words), BOOK_NTABLE },
    { "dim", BOOK_TEXT, true, offsetof(ROW, dim), BOOK_NTABLE },
    { "amount", BOOK_REAL, true, offsetof(ROW, amount), BOOK_NTABLE },
    { "gross", BOOK_INTEGER, false, offsetof(ROW, gross), BOOK_NTABLE },
    { "trimmed_share", BOOK_REAL, false, offsetof(ROW, trimmed_share), BOOK_NTABLE },
    { "strength_pct_vol", BOOK_REAL, false, offsetof(ROW, strength_pct_vol), BOOK_NTABLE },
    { "strength_u", BOOK_REAL, false, offsetof(ROW, strength_u), BOOK_NTABLE },
    { "sugar_g_l", BOOK_REAL, false, offsetof(ROW, sugar_g_l), BOOK_NTABLE },
    { "acid_g_l", BOOK_REAL, false, offsetof(ROW, acid_g_l), BOOK_NTABLE },
    { "potency", BOOK_REAL, false, offsetof(ROW, potency), BOOK_NTABLE },
    { "since", BOOK_TEXT, false, offsetof(ROW, since), BOOK_NTABLE },
    { "bought_at", BOOK_TEXT, true, offsetof(ROW, bought_at), BOOK_NTABLE },
    { "price", BOOK_REAL, false, offsetof(ROW, price), BOOK_NTABLE },
    { "currency", BOOK_TEXT, true, offsetof(ROW, currency), BOOK_NTABLE },
    { "opened_on", BOOK_TEXT, false, offsetof(ROW, opened_on), BOOK_NTABLE },
    { "use_by", BOOK_TEXT, false, offsetof(ROW, use_by), BOOK_NTABLE },
    { "place", BOOK_TEXT, true, offsetof(ROW, place), BOOK_NTABLE },
    { "from_batch", BOOK_INTEGER, false, offsetof(ROW, from_batch), BOOK_BATCH },
    { "ended_on", BOOK_TEXT, false, offsetof(ROW, ended_on), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_lot_use
static const struct book_column LOT_USE_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "lot_id", BOOK_INTEGER, true, offsetof(ROW, lot_id), BOOK_LOT },
    { "batch_id", BOOK_INTEGER, false, offsetof(ROW, batch_id), BOOK_BATCH },
    { "weighing_id", BOOK_INTEGER, false, offsetof(ROW, weighing_id), BOOK_WEIGHING },
    { "amount", BOOK_REAL, true, offsetof(ROW, amount), BOOK_NTABLE },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "why", BOOK_TEXT, true, offsetof(ROW, why), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_recipe
static const struct book_column RECIPE_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "since", BOOK_TEXT, true, offsetof(ROW, since), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_try
static const struct book_column TRY_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "recipe_id", BOOK_INTEGER, true, offsetof(ROW, recipe_id), BOOK_RECIPE },
    { "side", BOOK_TEXT, true, offsetof(ROW, side), BOOK_NTABLE },
    { "number", BOOK_INTEGER, true, offsetof(ROW, number), BOOK_NTABLE },
    { "from_try", BOOK_INTEGER, false, offsetof(ROW, from_try), BOOK_TRY },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "text", BOOK_TEXT, true, offsetof(ROW, text), BOOK_NTABLE },
    { "said", BOOK_TEXT, true, offsetof(ROW, said), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_batch
static const struct book_column BATCH_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "code", BOOK_TEXT, true, offsetof(ROW, code), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "try_id", BOOK_INTEGER, false, offsetof(ROW, try_id), BOOK_TRY },
    { "from_batch", BOOK_INTEGER, false, offsetof(ROW, from_batch), BOOK_BATCH },
    { "text", BOOK_TEXT, true, offsetof(ROW, text), BOOK_NTABLE },
    { "said", BOOK_TEXT, true, offsetof(ROW, said), BOOK_NTABLE },
    { "begun_on", BOOK_TEXT, true, offsetof(ROW, begun_on), BOOK_NTABLE },
    { "ended_on", BOOK_TEXT, false, offsetof(ROW, ended_on), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_jar
static const struct book_column JAR_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, true, offsetof(ROW, batch_id), BOOK_BATCH },
    { "step", BOOK_TEXT, true, offsetof(ROW, step), BOOK_NTABLE },
    { "doing", BOOK_TEXT, true, offsetof(ROW, doing), BOOK_NTABLE },
    { "vessel_id", BOOK_INTEGER, false, offsetof(ROW, vessel_id), BOOK_VESSEL },
    { "place", BOOK_TEXT, true, offsetof(ROW, place), BOOK_NTABLE },
    { "begun_on", BOOK_TEXT, true, offsetof(ROW, begun_on), BOOK_NTABLE },
    { "due_on", BOOK_TEXT, false, offsetof(ROW, due_on), BOOK_NTABLE },
    { "ended_on", BOOK_TEXT, false, offsetof(ROW, ended_on), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_weighing
static const struct book_column WEIGHING_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, true, offsetof(ROW, batch_id), BOOK_BATCH },
    { "step", BOOK_TEXT, true, offsetof(ROW, step), BOOK_NTABLE },
    { "line", BOOK_INTEGER, true, offsetof(ROW, line), BOOK_NTABLE },
    { "words", BOOK_TEXT, true, offsetof(ROW, words), BOOK_NTABLE },
    { "lot_id", BOOK_INTEGER, false, offsetof(ROW, lot_id), BOOK_LOT },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_reading
static const struct book_column READING_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, false, offsetof(ROW, batch_id), BOOK_BATCH },
    { "lot_id", BOOK_INTEGER, false, offsetof(ROW, lot_id), BOOK_LOT },
    { "step", BOOK_TEXT, true, offsetof(ROW, step), BOOK_NTABLE },
    { "kind", BOOK_TEXT, true, offsetof(ROW, kind), BOOK_NTABLE },
    { "value", BOOK_REAL, true, offsetof(ROW, value), BOOK_NTABLE },
    { "sd", BOOK_REAL, false, offsetof(ROW, sd), BOOK_NTABLE },
    { "at", BOOK_TEXT, true, offsetof(ROW, at), BOOK_NTABLE },
    { "temperature_c", BOOK_REAL, false, offsetof(ROW, temperature_c), BOOK_NTABLE },
    { "of", BOOK_TEXT, true, offsetof(ROW, of), BOOK_NTABLE },
    { "by_whom", BOOK_TEXT, true, offsetof(ROW, by_whom), BOOK_NTABLE },
    { "after_straining", BOOK_INTEGER, true, offsetof(ROW, after_straining), BOOK_NTABLE },
    { "words", BOOK_TEXT, true, offsetof(ROW, words), BOOK_NTABLE },
    { "doubted", BOOK_INTEGER, true, offsetof(ROW, doubted), BOOK_NTABLE },
    { "reference_id", BOOK_INTEGER, false, offsetof(ROW, reference_id), BOOK_REFERENCE },
};
#undef ROW

#define ROW struct book_loss
static const struct book_column LOSS_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, true, offsetof(ROW, batch_id), BOOK_BATCH },
    { "step", BOOK_TEXT, true, offsetof(ROW, step), BOOK_NTABLE },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "why", BOOK_TEXT, true, offsetof(ROW, why), BOOK_NTABLE },
    { "volume_ml", BOOK_REAL, false, offsetof(ROW, volume_ml), BOOK_NTABLE },
    { "mass_g", BOOK_REAL, false, offsetof(ROW, mass_g), BOOK_NTABLE },
    { "strength_pct_vol", BOOK_REAL, false, offsetof(ROW, strength_pct_vol), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_bottling
static const struct book_column BOTTLING_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, true, offsetof(ROW, batch_id), BOOK_BATCH },
    { "code", BOOK_TEXT, true, offsetof(ROW, code), BOOK_NTABLE },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "size_ml", BOOK_REAL, true, offsetof(ROW, size_ml), BOOK_NTABLE },
    { "count", BOOK_INTEGER, true, offsetof(ROW, count), BOOK_NTABLE },
    { "strength_pct_vol", BOOK_REAL, false, offsetof(ROW, strength_pct_vol), BOOK_NTABLE },
    { "facts", BOOK_TEXT, true, offsetof(ROW, facts), BOOK_NTABLE },
    { "use_by", BOOK_TEXT, false, offsetof(ROW, use_by), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_gone
static const struct book_column GONE_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "bottling_id", BOOK_INTEGER, true, offsetof(ROW, bottling_id), BOOK_BOTTLING },
    { "count", BOOK_INTEGER, true, offsetof(ROW, count), BOOK_NTABLE },
    { "on_day", BOOK_TEXT, true, offsetof(ROW, on_day), BOOK_NTABLE },
    { "person", BOOK_TEXT, true, offsetof(ROW, person), BOOK_NTABLE },
    { "returned", BOOK_INTEGER, true, offsetof(ROW, returned), BOOK_NTABLE },
    { "returned_on", BOOK_TEXT, false, offsetof(ROW, returned_on), BOOK_NTABLE },
    { "liked", BOOK_INTEGER, false, offsetof(ROW, liked), BOOK_NTABLE },
    { "told_on", BOOK_TEXT, false, offsetof(ROW, told_on), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
    { "lot_id", BOOK_INTEGER, false, offsetof(ROW, lot_id), BOOK_LOT },
};
#undef ROW

#define ROW struct book_foreseen
static const struct book_column FORESEEN_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "try_id", BOOK_INTEGER, false, offsetof(ROW, try_id), BOOK_TRY },
    { "batch_id", BOOK_INTEGER, false, offsetof(ROW, batch_id), BOOK_BATCH },
    { "key", BOOK_TEXT, true, offsetof(ROW, key), BOOK_NTABLE },
    { "value", BOOK_REAL, true, offsetof(ROW, value), BOOK_NTABLE },
    { "low", BOOK_REAL, true, offsetof(ROW, low), BOOK_NTABLE },
    { "high", BOOK_REAL, true, offsetof(ROW, high), BOOK_NTABLE },
    { "status", BOOK_TEXT, true, offsetof(ROW, status), BOOK_NTABLE },
    { "program", BOOK_TEXT, true, offsetof(ROW, program), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_reference
static const struct book_column REFERENCE_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "name", BOOK_TEXT, true, offsetof(ROW, name), BOOK_NTABLE },
    { "strength_pct_vol", BOOK_REAL, false, offsetof(ROW, strength_pct_vol), BOOK_NTABLE },
    { "volume_ml", BOOK_REAL, false, offsetof(ROW, volume_ml), BOOK_NTABLE },
    { "price", BOOK_REAL, false, offsetof(ROW, price), BOOK_NTABLE },
    { "currency", BOOK_TEXT, true, offsetof(ROW, currency), BOOK_NTABLE },
    { "since", BOOK_TEXT, false, offsetof(ROW, since), BOOK_NTABLE },
    { "note", BOOK_TEXT, true, offsetof(ROW, note), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_picture
static const struct book_column PICTURE_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "sha256", BOOK_TEXT, true, offsetof(ROW, sha256), BOOK_NTABLE },
    { "size", BOOK_INTEGER, true, offsetof(ROW, size), BOOK_NTABLE },
    { "data", BOOK_BLOB, true, offsetof(ROW, data), BOOK_NTABLE },
};
#undef ROW

#define ROW struct book_photo
static const struct book_column PHOTO_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "batch_id", BOOK_INTEGER, false, offsetof(ROW, batch_id), BOOK_BATCH },
    { "lot_id", BOOK_INTEGER, false, offsetof(ROW, lot_id), BOOK_LOT },
    { "reference_id", BOOK_INTEGER, false, offsetof(ROW, reference_id), BOOK_REFERENCE },
    { "at", BOOK_TEXT, true, offsetof(ROW, at), BOOK_NTABLE },
    { "words", BOOK_TEXT, true, offsetof(ROW, words), BOOK_NTABLE },
    { "type", BOOK_TEXT, true, offsetof(ROW, type), BOOK_NTABLE },
    { "picture_id", BOOK_INTEGER, true, offsetof(ROW, picture_id), BOOK_PICTURE },
};
#undef ROW

#define ROW struct book_lot_of
static const struct book_column LOT_OF_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "lot_id", BOOK_INTEGER, true, offsetof(ROW, lot_id), BOOK_LOT },
    { "of_lot", BOOK_INTEGER, true, offsetof(ROW, of_lot), BOOK_LOT },
};
#undef ROW

#define ENTRY(name, columns) name, columns, sizeof(columns) / sizeof *(columns)
static const struct book_table_info TABLE[BOOK_NTABLE] = {
    [BOOK_SETTING] = { ENTRY("setting", SETTING_COLUMN), sizeof(struct book_setting), false, false },
    [BOOK_VESSEL] = { ENTRY("vessel", VESSEL_COLUMN), sizeof(struct book_vessel), false, false },
    [BOOK_LOT] = { ENTRY("lot", LOT_COLUMN), sizeof(struct book_lot), false, false },
    [BOOK_LOT_USE] = { ENTRY("lot_use", LOT_USE_COLUMN), sizeof(struct book_lot_use), false, false },
    [BOOK_RECIPE] = { ENTRY("recipe", RECIPE_COLUMN), sizeof(struct book_recipe), false, false },
    [BOOK_TRY] = { ENTRY("try", TRY_COLUMN), sizeof(struct book_try), false, false },
    [BOOK_BATCH] = { ENTRY("batch", BATCH_COLUMN), sizeof(struct book_batch), false, false },
    [BOOK_JAR] = { ENTRY("jar", JAR_COLUMN), sizeof(struct book_jar), false, false },
    [BOOK_WEIGHING] = { ENTRY("weighing", WEIGHING_COLUMN), sizeof(struct book_weighing), false, false },
    [BOOK_READING] = { ENTRY("reading", READING_COLUMN), sizeof(struct book_reading), false, false },
    [BOOK_LOSS] = { ENTRY("loss", LOSS_COLUMN), sizeof(struct book_loss), false, false },
    [BOOK_BOTTLING] = { ENTRY("bottling", BOTTLING_COLUMN), sizeof(struct book_bottling), false, false },
    [BOOK_GONE] = { ENTRY("gone", GONE_COLUMN), sizeof(struct book_gone), false, false },
    [BOOK_FORESEEN] = { ENTRY("foreseen", FORESEEN_COLUMN), sizeof(struct book_foreseen), true, false },
    [BOOK_REFERENCE] = { ENTRY("reference", REFERENCE_COLUMN), sizeof(struct book_reference), false, false },
    [BOOK_PICTURE] = { ENTRY("picture", PICTURE_COLUMN), sizeof(struct book_picture), false, true },
    [BOOK_PHOTO] = { ENTRY("photo", PHOTO_COLUMN), sizeof(struct book_photo), false, false },
    [BOOK_LOT_OF] = { ENTRY("lot_of", LOT_OF_COLUMN), sizeof(struct book_lot_of), false, false },
};

const struct book_table_info *book_table_info(enum book_table t)
{
    assert((unsigned)t < BOOK_NTABLE);
    return &TABLE[t];
}

void book_row_init(enum book_table t, void *row)
{
    static const int64_t zero = 0, no = BOOK_NO;
    static const double unknown = (double)NAN;
    static const char *const empty = "", *const none = NULL;
    static const struct book_blob nothing = { NULL, 0 };
    const struct book_table_info *of = book_table_info(t);

    memset(row, 0, of->size);
    for (size_t i = 0; i < of->n_column; i++) {
        const struct book_column *c = &of->column[i];
        char *at = (char *)row + c->offset;
        switch (c->type) {
        case BOOK_INTEGER: memcpy(at, c->needed && c->refers == BOOK_NTABLE ? &zero : &no, sizeof zero); break;
        case BOOK_REAL: memcpy(at, &unknown, sizeof unknown); break;
        case BOOK_TEXT: memcpy(at, c->needed ? &empty : &none, sizeof empty); break;
        case BOOK_BLOB: memcpy(at, &nothing, sizeof nothing); break;
        }
    }
}

int64_t book_integer(const void *row, const struct book_column *c)
{
    int64_t x;
    assert(c->type == BOOK_INTEGER);
    memcpy(&x, (const char *)row + c->offset, sizeof x);
    return x;
}

double book_real(const void *row, const struct book_column *c)
{
    double x;
    assert(c->type == BOOK_REAL);
    memcpy(&x, (const char *)row + c->offset, sizeof x);
    return x;
}

const char *book_text(const void *row, const struct book_column *c)
{
    const char *x;
    assert(c->type == BOOK_TEXT);
    memcpy(&x, (const char *)row + c->offset, sizeof x);
    return x;
}

struct book_blob book_blob(const void *row, const struct book_column *c)
{
    struct book_blob x;
    assert(c->type == BOOK_BLOB);
    memcpy(&x, (const char *)row + c->offset, sizeof x);
    return x;
}
