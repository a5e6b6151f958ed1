#include "store/kit.h"

#include <stdio.h>
#include <string.h>

#include "store/house.h"
#include "store/picture.h"
#include "store/search.h"

/* Finding by words: what is found and in which order, that no sign can hurt, that the index follows every change. */

static struct st_arena arena;

static int found(struct book *b, const char *words, struct book_hit **hits)
{
    struct book_hit *own;
    int n = -1;
    if (book_search(b, words, 50, &arena, hits ? hits : &own, &n) != BOOK_OK)
        fail_msg("\"%s\": %s", words, book_said(b)->why);
    return n;
}

static struct book *house(struct kit *k)
{
    kit_make(k);
    struct book *b = kit_open(k);
    assert_int_equal(house_fill(b), BOOK_OK);
    return b;
}

static void done(struct kit *k, struct book *b)
{
    book_close(b);
    kit_is_sound(k->book);
    kit_done(k);
    st_arena_done(&arena);
}

static void words_find_rows(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_hit *hits;

    assert_int_equal(found(b, "clov", &hits), 1);
    assert_int_equal(hits[0].table, BOOK_LOT);
    assert_string_equal(hits[0].name, "L4 cloves");
    assert_int_equal(found(b, "aunt", &hits), 1);
    assert_int_equal(hits[0].table, BOOK_GONE);
    assert_string_equal(hits[0].name, "B1-1 Invented walnut: Aunt Example");
    assert_int_equal(found(b, "WINDOW", &hits), 3); /* the words of three readings */
    assert_string_equal(hits[0].name, "B1 Invented walnut: drained_g");
    assert_string_equal(hits[0].snippet, "read by the window, 21 \xc2\xb0"
                                         "C");
    assert_int_equal(found(b, "less sweet", &hits), 1);
    assert_string_equal(hits[0].name, "Invented walnut, less sweet one, try 1");
    assert_int_equal(found(b, "maison", NULL), 4); /* three tries, and the batch with its own text */
    assert_int_equal(found(b, "a la maison", NULL), 4);
    assert_int_equal(found(b, "walnut -cloves", NULL), 0); /* no sign has a meaning: both words */
    assert_int_equal(found(b, "alnut", NULL), 0);
    assert_int_equal(found(b, "c", NULL), 3); /* a letter is a whole word: of "21 C" */
    done(&k, b);
}

static void what_is_titled_so_comes_first(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_hit *hits;

    kit_add_lot(b, "L8", "sugar", "");
    kit_add_lot(b, "L9", "spice", "for the rhubarb, later; a lot of words that speak of other things");
    const int64_t id = kit_add_lot(b, "L7", "rhubarb", "");
    assert_int_equal(found(b, "rhubarb", &hits), 2);
    assert_true(hits[0].id == id && hits[0].table == BOOK_LOT);
    assert_int_equal(book_search(b, "rhubarb", 1, &arena, &hits, &(int){ 0 }), BOOK_OK);
    done(&k, b);
}

/* Neither the newest nor the shortest row is the fittest: a find in a title counts four times. */
static void a_title_counts_more(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_hit *hits;
    const int64_t id = kit_add_lot(b, "L7", "medlar", "gathered late, after two frosts, by the old wall");
    kit_add_lot(b, "L8", "spice", "for the medlar");
    assert_int_equal(found(b, "medlar", &hits), 2);
    assert_true(hits[0].id == id && hits[0].table == BOOK_LOT);
    done(&k, b);
}

/* Figures alone, and letters beyond a to z alone, are words too. */
static void any_letter_is_one(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    kit_add_lot(b, "L7", "\xd0\xb2\xd0\xb8\xd1\x88\xd0\xbd\xd1\x8f", ""); /* sour cherry, in Cyrillic letters */
    kit_add_lot(b, "L8", "essence 7391", "");
    assert_int_equal(found(b, "\xd0\xb2\xd0\xb8\xd1\x88", NULL), 1);
    assert_int_equal(found(b, "\xd0\xb2", NULL), 0); /* a letter of two bytes is a whole word too */
    assert_int_equal(found(b, "7391", NULL), 1);
    done(&k, b);
}

/* Of more than 2,000 the newest 2,000 are ranked, and each is found by its own number. */
static void the_newest_of_very_many(void **state)
{
    enum { MANY = 2010 };
    (void)state;
    struct kit k;
    struct book_hit *hits;
    struct book_lot lot;
    int64_t first = 0, last = 0, least = INT64_MAX;
    int n = -1;
    struct book *b = house(&k);
    assert_int_equal(book_begin(b, KIT_AT, "many"), BOOK_OK);
    for (int i = 0; i < MANY; i++) {
        char code[16];
        snprintf(code, sizeof code, "M%d", i);
        book_row_init(BOOK_LOT, &lot);
        lot.code = code;
        lot.kind = "bought";
        lot.name = "quince";
        lot.amount = 1.0;
        lot.dim = "g";
        assert_int_equal(book_put(b, BOOK_LOT, &lot, &last), BOOK_OK);
        first = first ? first : last;
    }
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_search_rows(b, "quince", 5000, &arena, &hits, &n), BOOK_OK);
    assert_int_equal(n, 2000);
    assert_true(hits[0].id == last);
    for (int i = 0; i < n; i++)
        least = hits[i].id < least ? hits[i].id : least;
    assert_true(least == first + MANY - 2000);
    done(&k, b);
}

/* What is told is in one line, with single blanks. */
static void in_one_line(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_hit *hits;
    kit_add_lot(b, "L7", "spice", "from the\n\n  far   shelf\n");
    assert_int_equal(found(b, "shelf", &hits), 1);
    assert_non_null(strstr(hits[0].snippet, "from the far shelf"));
    done(&k, b);
}

/* "walnut" so many times, and a word that is nowhere. */
static int found_behind(struct book *b, int times)
{
    char words[400];
    size_t n = 0;
    for (int i = 0; i < times; i++)
        n += (size_t)snprintf(words + n, sizeof words - n, "walnut ");
    (void)snprintf(words + n, sizeof words - n, "zzz");
    return found(b, words, NULL);
}

static void sixteen_words_count(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    assert_int_equal(found_behind(b, 15), 0);
    assert_int_equal(found_behind(b, 16), found(b, "walnut", NULL));
    done(&k, b);
}

static void marks_do_not_matter(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);

    kit_add_lot(b, "L1", "Pfl\xc3\xbcmli, angesetzt f\xc3\xbcr \xc3\x84ltere", "");
    assert_int_equal(found(b, "pflumli", NULL), 1);
    assert_int_equal(found(b, "PFL\xc3\x9cM", NULL), 1);
    assert_int_equal(found(b, "pflu\xcc\x88mli", NULL), 1); /* u and the two dots apart */
    assert_int_equal(found(b, "alter", NULL), 1);
    done(&k, b);
}

static void no_sign_can_hurt(void **state)
{
    (void)state;
    static const char *const WORDS[] = {
        "",      " ",    "\"",     "\"\"",    "\"walnut",  "walnut\"",   "*",       "wal*nut",
        "NEAR(", "AND",  "OR NOT", "title:",  "title:x",   "-",          "^walnut", "{a b}",
        "(",     ")",    "a + b",  "'; DROP", "\x01\x02x", "\xff\xfe",   "\xc3",    "\xe2\x80\x94",
        "%s%n",  "rank", "?1",     "\\",      ":",         "walnut AND",
    };
    struct kit k;
    struct book *b = house(&k);
    char lots[4000];

    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
        found(b, WORDS[i], NULL);
    memset(lots, 'w', sizeof lots - 1);
    lots[sizeof lots - 1] = '\0';
    assert_int_equal(found(b, lots, NULL), 0);
    for (size_t i = 1; i < sizeof lots - 1; i += 2)
        lots[i] = ' ';
    assert_int_equal(found(b, lots, NULL), 0);
    assert_int_equal(found(b, "\"walnut\" * AND", NULL), 0);
    assert_true(found(b, "\"wal*\" -- ()", NULL) > 4);
    done(&k, b);
}

/* ---- in step ---- */

static void change(struct book *b, int64_t id, const char *words)
{
    struct book_lot lot;
    assert_int_equal(book_get(b, BOOK_LOT, id, &arena, &lot), BOOK_OK);
    lot.words = words;
    assert_int_equal(book_begin(b, KIT_AT, "changed"), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
}

static void the_index_follows_undo(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_deed d;
    const int64_t id = kit_add_lot(b, "L7", "rhubarb", "stalks");

    change(b, id, "leaves are not eaten");
    assert_int_equal(found(b, "stalk", NULL), 0);
    assert_int_equal(found(b, "leaves", NULL), 1);
    assert_int_equal(book_undo(b, KIT_AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(found(b, "stalk", NULL), 1);
    assert_int_equal(book_undo(b, KIT_AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(found(b, "rhubarb", NULL), 0);
    assert_int_equal(book_redo(b, KIT_AT, &arena, &d), BOOK_OK);
    assert_int_equal(book_redo(b, KIT_AT, &arena, &d), BOOK_OK);
    assert_int_equal(found(b, "leaves", NULL), 1);
    assert_int_equal(book_begin(b, KIT_AT, "away"), BOOK_OK);
    assert_int_equal(book_drop(b, BOOK_LOT, id), BOOK_OK);
    assert_int_equal(found(b, "rhubarb", NULL), 0);
    book_cancel(b);
    assert_int_equal(found(b, "rhubarb", NULL), 1);
    done(&k, b);
}

/* Rows with their numbers, the one that is referred to last: as an import brings them. */
static void the_index_follows_import(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);
    struct book_reading r;
    struct book_reference bought;

    book_row_init(BOOK_READING, &r);
    r.id = 70;
    r.reference_id = 900;
    r.kind = "sweeter_than";
    r.value = 250.0;
    r.at = KIT_AT;
    r.words = "sweeter than the sample";
    book_row_init(BOOK_REFERENCE, &bought);
    bought.id = 900;
    bought.name = "an invented green one";
    assert_int_equal(book_begin(b, KIT_AT, "imported"), BOOK_OK);
    assert_int_equal(book_put_as(b, BOOK_READING, &r), BOOK_OK);
    assert_int_equal(book_put_as(b, BOOK_REFERENCE, &bought), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    struct book_hit *hits;
    assert_int_equal(found(b, "sample", &hits), 1);
    assert_string_equal(hits[0].name, "an invented green one: sweeter_than");
    assert_int_equal(found(b, "green", NULL), 1);

    r.id = 71;
    r.reference_id = 901;
    assert_int_equal(book_begin(b, KIT_AT, "imported"), BOOK_OK);
    assert_int_equal(book_put_as(b, BOOK_READING, &r), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_E_REFUSED); /* there is no reference 901 */
    assert_int_equal(found(b, "sample", NULL), 1);
    done(&k, b);
}

/* Who wants the rows alone gets the same ones in the same order. */
static void rows_alone(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    struct book_hit *told, *rows;
    int n = -1;
    const int m = found(b, "walnut", &told);
    assert_true(m > 2);
    assert_int_equal(book_search_rows(b, "walnut", 50, &arena, &rows, &n), BOOK_OK);
    assert_int_equal(n, m);
    for (int i = 0; i < n; i++) {
        assert_int_equal(rows[i].table, told[i].table);
        assert_int_equal(rows[i].id, told[i].id);
        assert_null(rows[i].name);
        assert_null(rows[i].snippet);
    }
    done(&k, b);
}

/* The number a new row gets is its own, not one of the index. */
static void numbers_are_those_of_rows(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    for (int i = 0; i < 3; i++) {
        char code[16];
        struct book_lot lot;
        snprintf(code, sizeof code, "X%d", i);
        const int64_t id = kit_add_lot(b, code, "something", "to be found");
        assert_int_equal(book_get(b, BOOK_LOT, id, &arena, &lot), BOOK_OK);
        assert_string_equal(lot.code, code);
        change(b, id, "elsewhere"); /* and a change is not taken for a row that is not there */
    }
    done(&k, b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_find_rows),
        cmocka_unit_test(what_is_titled_so_comes_first),
        cmocka_unit_test(marks_do_not_matter),
        cmocka_unit_test(no_sign_can_hurt),
        cmocka_unit_test(the_index_follows_undo),
        cmocka_unit_test(the_index_follows_import),
        cmocka_unit_test(numbers_are_those_of_rows),
        cmocka_unit_test(rows_alone),
        cmocka_unit_test(a_title_counts_more),
        cmocka_unit_test(any_letter_is_one),
        cmocka_unit_test(sixteen_words_count),
        cmocka_unit_test(the_newest_of_very_many),
        cmocka_unit_test(in_one_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
