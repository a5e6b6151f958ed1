#include "store/kit.h"

#include <stdlib.h>
#include <string.h>

#include "store/picture.h"

/* Pictures: the same bytes once, photos taken back and brought again, limits. */

static struct st_arena arena;

/* A deed: a photo of lot 1 with these bytes. */
static void add_photo(struct book *b, const void *bytes, size_t size)
{
    struct book_photo p;
    book_row_init(BOOK_PHOTO, &p);
    p.lot_id = 1;
    p.at = KIT_AT;
    p.type = "image/png";
    p.words = "as bought";
    assert_int_equal(book_begin(b, KIT_AT, "a photo"), BOOK_OK);
    assert_int_equal(book_put_picture(b, bytes, size, &p.picture_id), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_PHOTO, &p, NULL), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
}

static int64_t rows(struct book *b, enum book_table t)
{
    int64_t n = -1;
    assert_int_equal(book_count(b, t, NULL, &n), BOOK_OK);
    return n;
}

/* NIST's examples for SHA-256 of FIPS 180-4, and the sum of nothing; written down from memory. */
static void sums_are_as_published(void **state)
{
    (void)state;
    char hex[65];
    book_sha256("abc", 3, hex);
    assert_string_equal(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    book_sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 56, hex);
    assert_string_equal(hex, "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    book_sha256("", 0, hex);
    assert_string_equal(hex, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

static void bytes_come_back(void **state)
{
    (void)state;
    static const unsigned char BYTES[] = { 0x89, 'P', 'N', 'G', 0, 0, 1, 0xff, 0 };
    struct kit k;
    struct book_picture row;
    int64_t journal = 0;

    kit_make(&k);
    struct book *b = kit_open(&k);
    kit_add_lot(b, "L1", "walnuts", "");
    add_photo(b, BYTES, sizeof BYTES);
    add_photo(b, BYTES, sizeof BYTES);
    assert_int_equal(rows(b, BOOK_PICTURE), 1);
    assert_int_equal(rows(b, BOOK_PHOTO), 2);
    assert_int_equal(book_get(b, BOOK_PICTURE, 1, &arena, &row), BOOK_OK);
    assert_int_equal(row.data.size, sizeof BYTES);
    assert_memory_equal(row.data.bytes, BYTES, sizeof BYTES);
    assert_int_equal(row.size, sizeof BYTES);
    add_photo(b, "0123456789", 10);
    assert_int_equal(rows(b, BOOK_PICTURE), 2);
    book_close(b);
    journal = kit_number(k.book, "SELECT sum(instr(changes, x'89504e47')) FROM deed");
    assert_int_equal(journal, 0); /* pictures are not in the journal */
    kit_is_sound(k.book);
    kit_done(&k);
    st_arena_done(&arena);
}

static void a_photo_is_taken_back_and_brought_again(void **state)
{
    (void)state;
    struct kit k;
    struct book_deed d;
    int64_t n = -1, bytes = -1;

    kit_make(&k);
    struct book *b = kit_open(&k);
    kit_add_lot(b, "L1", "walnuts", "");
    add_photo(b, "0123456789", 10);
    assert_int_equal(book_undo(b, KIT_AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(rows(b, BOOK_PHOTO), 0);
    assert_int_equal(rows(b, BOOK_PICTURE), 1);
    assert_int_equal(book_redo(b, KIT_AT, &arena, &d), BOOK_OK);
    assert_int_equal(rows(b, BOOK_PHOTO), 1);
    assert_int_equal(book_sweep_pictures(b, KIT_AT, &n, &bytes), BOOK_OK);
    assert_true(n == 0 && bytes == 0);
    assert_int_equal(book_undo(b, KIT_AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(book_sweep_pictures(b, KIT_AT, &n, &bytes), BOOK_OK);
    assert_true(n == 1 && bytes == 10);
    assert_int_equal(rows(b, BOOK_PICTURE), 0);
    assert_int_equal(book_redo(b, KIT_AT, &arena, &d), BOOK_E_CONFLICT);
    assert_non_null(strstr(book_said(b)->why, "is not there any more"));
    book_close(b);
    kit_is_sound(k.book);
    kit_done(&k);
    st_arena_done(&arena);
}

static void limits_hold(void **state)
{
    (void)state;
    struct kit k;
    int64_t id;
    char *bytes = calloc(1, BOOK_PICTURE_MOST + 1);
    struct book_photo p;

    assert_non_null(bytes);
    kit_make(&k);
    struct book *b = kit_open(&k);
    kit_add_lot(b, "L1", "walnuts", "");
    assert_int_equal(book_begin(b, KIT_AT, "large"), BOOK_OK);
    assert_int_equal(book_put_picture(b, bytes, BOOK_PICTURE_MOST + 1, &id), BOOK_E_REFUSED);
    assert_non_null(strstr(book_said(b)->why, "8388609"));
    assert_int_equal(book_put_picture(b, bytes, 0, &id), BOOK_E_REFUSED);
    assert_int_equal(book_put_picture(b, bytes, BOOK_PICTURE_MOST, &id), BOOK_OK);
    book_row_init(BOOK_PHOTO, &p);
    p.at = KIT_AT;
    p.type = "image/png";
    p.picture_id = id;
    assert_int_equal(book_put(b, BOOK_PHOTO, &p, NULL), BOOK_E_REFUSED); /* of nothing */
    p.lot_id = 1;
    p.type = "text/html";
    assert_int_equal(book_put(b, BOOK_PHOTO, &p, NULL), BOOK_E_REFUSED);
    p.type = "image/webp";
    assert_int_equal(book_put(b, BOOK_PHOTO, &p, NULL), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    book_close(b);
    kit_is_sound(k.book);
    kit_done(&k);
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sums_are_as_published),
        cmocka_unit_test(bytes_come_back),
        cmocka_unit_test(a_photo_is_taken_back_and_brought_again),
        cmocka_unit_test(limits_hold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
