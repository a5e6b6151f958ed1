#include "store/deeds.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "store/kit.h"
#include "store/picture.h"
#include "util/buf.h"

/* ---- a fixed row of deeds ---- */

static enum book_status put_lot(struct book *b, const char *code, const char *note)
{
    struct book_lot lot;
    book_row_init(BOOK_LOT, &lot);
    lot.code = code;
    lot.kind = "bought";
    lot.name = "walnuts of a deed";
    lot.dim = "g";
    lot.amount = 100.0 / 3.0;
    lot.note = note;
    return book_put(b, BOOK_LOT, &lot, NULL);
}

static enum book_status a_lot(struct book *b, int i, size_t length)
{
    char code[20], note[4000];
    snprintf(code, sizeof code, "D%d", i);
    memset(note, 'a' + i % 26, sizeof note);
    note[length] = '\0';
    return put_lot(b, code, note);
}

static enum book_status readings(struct book *b, int i)
{
    enum book_status s = BOOK_OK;
    for (int k = 0; k < 3 && s == BOOK_OK; k++) {
        struct book_reading r;
        book_row_init(BOOK_READING, &r);
        r.lot_id = 1;
        r.kind = "sg";
        r.value = i + 0.1 * k;
        r.at = KIT_AT;
        r.words = "as the hydrometer showed it";
        s = book_put(b, BOOK_READING, &r, NULL);
    }
    return s;
}

static enum book_status change_the_first(struct book *b, int i)
{
    struct st_arena arena = { 0 };
    struct book_lot lot;
    enum book_status s = book_get(b, BOOK_LOT, 1, &arena, &lot);
    if (s == BOOK_OK) {
        lot.amount = i;
        lot.note = st_arena_printf(&arena, "changed by deed %d", i);
        s = book_put(b, BOOK_LOT, &lot, NULL);
    }
    st_arena_done(&arena);
    return s;
}

static enum book_status a_photo(struct book *b, int i)
{
    static char bytes[20000];
    struct book_photo p;
    memset(bytes, i, sizeof bytes);
    book_row_init(BOOK_PHOTO, &p);
    p.lot_id = 1;
    p.at = KIT_AT;
    p.type = "image/jpeg";
    enum book_status s = book_put_picture(b, bytes, sizeof bytes, &p.picture_id);
    return s == BOOK_OK ? book_put(b, BOOK_PHOTO, &p, NULL) : s;
}

static enum book_status many_vessels(struct book *b, int i)
{
    enum book_status s = BOOK_OK;
    for (int k = 0; k < 60 && s == BOOK_OK; k++) {
        struct book_vessel v;
        char name[48];
        snprintf(name, sizeof name, "a jar of deed %d, number %d", i, k);
        book_row_init(BOOK_VESSEL, &v);
        v.name = name;
        v.note = "one of many that come at once";
        s = book_put(b, BOOK_VESSEL, &v, NULL);
    }
    return s;
}

static enum book_status drop_readings(struct book *b)
{
    struct st_arena arena = { 0 };
    struct book_reading *r;
    int n = 0;
    enum book_status s = book_list(b, BOOK_READING, NULL, &arena, &r, &n);
    for (int k = 0; k < n && s == BOOK_OK; k += 2)
        s = book_drop(b, BOOK_READING, r[k].id);
    st_arena_done(&arena);
    return s;
}

static enum book_status take_back(struct book *b, bool again)
{
    struct st_arena arena = { 0 };
    struct book_deed d;
    const enum book_status s = again ? book_redo(b, KIT_AT, &arena, &d) : book_undo(b, KIT_AT, BOOK_NO, &arena, &d);
    st_arena_done(&arena);
    return s;
}

static enum book_status fill(struct book *b, int i)
{
    char value[20];
    switch (i % 12) {
    case 0: return a_lot(b, i, 3);
    case 1: return a_lot(b, i, 3900);
    case 2: return readings(b, i);
    case 3: return change_the_first(b, i);
    case 6: return a_photo(b, i);
    case 8: snprintf(value, sizeof value, "%d", i); return book_set(b, "place", value);
    case 9: return many_vessels(b, i);
    case 10: return drop_readings(b);
    default: return a_lot(b, i, 900);
    }
}

enum book_status deeds_do(struct book *b, int i)
{
    char words[40];
    snprintf(words, sizeof words, "deed %d", i);
    if (i % 12 == 4 || i % 12 == 7)
        return take_back(b, false);
    if (i % 12 == 5)
        return take_back(b, true);
    enum book_status s = book_begin(b, KIT_AT, words);
    if (s != BOOK_OK)
        return s;
    s = fill(b, i);
    if (s == BOOK_OK)
        return book_end(b);
    book_cancel(b);
    return s;
}

void deeds_sum(const char *path, char hex[65])
{
    struct st_buf sql = { 0 };
    for (int t = 0; t < BOOK_NTABLE; t++)
        st_buf_printf(&sql, "SELECT * FROM %s ORDER BY id;", book_table_info((enum book_table)t)->name);
    st_buf_add(&sql, "SELECT * FROM deed ORDER BY id");
    char *rows = kit_ask(path, sql.text);
    book_sha256(rows, strlen(rows), hex);
    free(rows);
    st_buf_done(&sql);
}

int deeds_count(const char *path)
{
    return (int)kit_number(path, "SELECT count(*) FROM deed");
}

/* ---- a storm ---- */

enum book_status storm_do(struct book *b, int i)
{
    char name[30];
    struct book_vessel v;
    struct book_reading r;

    snprintf(name, sizeof name, "S%d", i);
    enum book_status s = book_begin(b, KIT_AT, name);
    if (s != BOOK_OK)
        return s;
    s = put_lot(b, name, "walnuts in a storm");
    book_row_init(BOOK_VESSEL, &v);
    v.name = name;
    if (s == BOOK_OK)
        s = book_put(b, BOOK_VESSEL, &v, NULL);
    book_row_init(BOOK_READING, &r);
    r.kind = "sg";
    r.value = i;
    r.at = KIT_AT;
    r.words = name;
    if (s == BOOK_OK)
        s = book_put(b, BOOK_READING, &r, NULL);
    if (s == BOOK_OK)
        return book_end(b);
    book_cancel(b);
    return s;
}

int storm_whole(const char *path, int i)
{
    char sql[400];
    snprintf(
        sql, sizeof sql,
        "SELECT (SELECT count(*) FROM lot WHERE code = 'S%d') + (SELECT count(*) FROM vessel WHERE name = 'S%d') + "
        "(SELECT count(*) FROM reading WHERE words = 'S%d') + (SELECT count(*) FROM deed WHERE words = 'S%d') + "
        "(SELECT count(*) FROM search WHERE search MATCH 's%d')",
        i, i, i, i, i);
    const int64_t n = kit_number(path, sql);
    return n == 0 ? 0 : n == 6 ? 1 : -1; /* the words of lot and reading are in the index; the code is a word, too */
}

int storm_count(const char *path)
{
    static const char *const COUNT[] = {
        "SELECT count(*) FROM lot",
        "SELECT count(*) FROM vessel",
        "SELECT count(*) FROM reading",
        "SELECT count(*) FROM deed",
        "SELECT count(DISTINCT value) FROM reading",
        "SELECT 1 + coalesce(max(value), -1) FROM reading",
    };
    const int64_t n = kit_number(path, COUNT[0]);
    for (size_t i = 1; i < sizeof COUNT / sizeof *COUNT; i++) {
        char *text = kit_ask(path, COUNT[i]);
        const double m = strtod(text, NULL);
        free(text);
        if ((int64_t)m != n)
            return -1;
    }
    return (int)n;
}
