#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>
#include <float.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_export.h"
#include "api/book_import.h"
#include "api/json_write.h"
#include "model/random.h"
#include "store/picture.h"
#include "util/base64.h"

/* A book out and in again: the same bytes, the same bits, the same journal. */

static const char AT[] = "2026-10-04T18:30";

/* ---- a book of odd things ---- */

static const char *const ODD[] = {
    "plain",
    "\"quoted\" and \\back\\slashed\\",
    "K\xc3\xa4lte, \xe2\x82\xac 5, \xf0\x9f\x8d\x91\xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x8d\xb3", /* a family of code points */
    "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d \xe2\x80\xae"
    "abc", /* right to left, and told so */
    "line\nline\r\n\ttab\x01\x1f\x7f",
    "</script>{}[],:\"",
    "\xef\xbb\xbf"
    "bom", /* a mark within a text is a letter */
    "e\xcc\x81 is not \xc3\xa9",
    "\xff\xfe no UTF-8 \x80",
    "cut off \xe2\x82",
    "\xed\xa0\x80 half a pair",
    " ",
    "null",
};
enum { NODD = sizeof ODD / sizeof *ODD };

static const double NUMBER[] = {
    0.1 + 0.2,          5e-324, 1e308, DBL_MAX,          DBL_MIN,          1.0 / 3.0, 100.0, 1e15, 123456789012345680.0,
    9007199254740993.0, -7.25,  1e22,  (double)HUGE_VAL, -(double)HUGE_VAL
};
enum { NNUMBER = sizeof NUMBER / sizeof *NUMBER };

static void good(struct book *b, enum book_status s)
{
    if (s != BOOK_OK)
        fail_msg("%s: %s", book_said(b)->what, book_said(b)->why);
}

static struct book *new_book(void)
{
    struct book *b = NULL;
    const enum book_status s = book_open(":memory:", BOOK_WRITE, &b);
    good(b, s);
    return b;
}

static void add_lots(struct book *b)
{
    for (int i = 0; i < NODD; i++) {
        char code[20];
        struct book_lot lot;
        book_row_init(BOOK_LOT, &lot);
        snprintf(code, sizeof code, "L%d", i);
        lot.code = code;
        lot.kind = "bought";
        lot.name = ODD[i];
        lot.dim = "g";
        lot.amount = (double)i / 7.0;
        lot.gross = i % 3 == 2 ? BOOK_NO : i % 3;
        lot.note = ODD[NODD - 1 - i];
        good(b, book_put(b, BOOK_LOT, &lot, NULL));
    }
}

static void add_readings(struct book *b, uint64_t seed, size_t n)
{
    double *u = calloc(n, sizeof *u);
    assert_non_null(u);
    st_uniform_n(seed, 7, 0, n, u);
    for (size_t i = 0; i < n; i++) {
        struct book_reading r;
        book_row_init(BOOK_READING, &r);
        r.lot_id = 1 + (int64_t)(i % NODD);
        r.kind = "sg";
        /* every exponent in turn */
        r.value = i < NNUMBER ? NUMBER[i] : ldexp(u[i], (int)(i * 37 % 2000) - 1000);
        r.at = "2026-10-04";
        r.words = ODD[i % NODD];
        good(b, book_put(b, BOOK_READING, &r, NULL));
    }
    free(u);
}

static void add_pictures(struct book *b)
{
    for (size_t n = 1; n < 70; n += 11) {
        unsigned char bytes[70];
        struct book_photo photo;
        for (size_t i = 0; i < n; i++)
            bytes[i] = (unsigned char)(i * 73 + n);
        book_row_init(BOOK_PHOTO, &photo);
        good(b, book_put_picture(b, bytes, n, &photo.picture_id));
        photo.lot_id = 1;
        photo.at = "2026-10-04";
        photo.type = "image/png";
        good(b, book_put(b, BOOK_PHOTO, &photo, NULL));
    }
}

/* With deeds that were undone, a row that is gone, and a circle of references. */
static struct book *odd_book(void)
{
    struct st_arena arena = { 0 };
    struct book_deed d;
    struct book *b = new_book();
    struct book_batch batch;

    good(b, book_begin(b, AT, "odd \"lots\"\n"));
    add_lots(b);
    good(b, book_end(b));
    good(b, book_begin(b, AT, "readings"));
    add_readings(b, 4, 300);
    add_pictures(b);
    good(b, book_end(b));
    good(b, book_begin(b, AT, "a batch of itself"));
    book_row_init(BOOK_BATCH, &batch);
    batch.code = "B1";
    batch.name = "circle";
    batch.begun_on = "2026-01-01";
    good(b, book_put(b, BOOK_BATCH, &batch, &batch.id));
    batch.from_batch = batch.id;
    good(b, book_put(b, BOOK_BATCH, &batch, NULL));
    good(b, book_end(b));
    good(b, book_begin(b, AT, "the last reading away"));
    good(b, book_drop(b, BOOK_READING, 300));
    good(b, book_end(b));
    good(b, book_undo(b, AT, BOOK_NO, &arena, &d));
    good(b, book_redo(b, AT, &arena, &d));
    st_arena_done(&arena);
    return b;
}

/* ---- out and in ---- */

static char *document_of(struct book *b, size_t *size)
{
    char *text = NULL;
    int64_t rows;
    FILE *f = open_memstream(&text, size);
    assert_non_null(f);
    good(b, st_book_export(b, f, AT, NULL, NULL, &rows));
    fclose(f);
    return text;
}

static struct book *book_of(char *text, size_t size)
{
    struct st_row_problems p;
    struct book *b = new_book();
    FILE *f = fmemopen(text, size, "rb");
    assert_non_null(f);
    struct st_book_import *i = st_book_import_look(f, &p);
    if (p.n > 0)
        fail_msg("%d:%d: %s: %s", p.problem[0].at.line, p.problem[0].at.column, p.problem[0].what, p.problem[0].why);
    good(b, st_book_import_write(i, f, b, NULL, NULL, &p));
    st_book_import_free(i);
    fclose(f);
    return b;
}

static void out_and_in_gives_the_same_bytes(void **state)
{
    (void)state;
    size_t n, n2;
    struct book *b = odd_book();
    char *text = document_of(b, &n);
    struct book *again = book_of(text, n);
    char *text2 = document_of(again, &n2);

    assert_int_equal(n, n2);
    assert_memory_equal(text, text2, n);
    assert_true(st_json_is_utf8(text, n));
    free(text);
    free(text2);
    book_close(b);
    book_close(again);
}

static void numbers_and_texts_come_back_bit_for_bit(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    struct book_reading *x, *y;
    struct book_lot *l, *k;
    size_t n;
    int nx, ny;
    struct book *b = odd_book();
    char *text = document_of(b, &n);
    struct book *again = book_of(text, n);

    good(b, book_list(b, BOOK_READING, NULL, &arena, &x, &nx));
    good(again, book_list(again, BOOK_READING, NULL, &arena, &y, &ny));
    assert_int_equal(nx, 299);
    assert_int_equal(nx, ny);
    for (int i = 0; i < nx; i++)
        assert_memory_equal(&x[i].value, &y[i].value, sizeof x[i].value);
    for (int i = 0; i < NNUMBER; i++)
        assert_true(y[i].value == NUMBER[i]);
    good(b, book_list(b, BOOK_LOT, NULL, &arena, &l, &nx));
    good(again, book_list(again, BOOK_LOT, NULL, &arena, &k, &ny));
    assert_int_equal(ny, NODD);
    for (int i = 0; i < ny; i++) {
        assert_string_equal(k[i].name, ODD[i]);
        assert_string_equal(l[i].note, k[i].note);
        assert_true(l[i].gross == k[i].gross && isnan(k[i].price));
    }
    free(text);
    book_close(b);
    book_close(again);
    st_arena_done(&arena);
}

static void undo_goes_on_after_it_and_no_id_is_given_again(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    struct book_deed d;
    struct book_reading r;
    size_t n;
    int64_t id = 0, left = -1;
    struct book *b = odd_book();
    char *text = document_of(b, &n);
    struct book *again = book_of(text, n);

    good(again, book_begin(again, AT, "one more"));
    book_row_init(BOOK_READING, &r);
    r.lot_id = 1;
    r.kind = "sg";
    r.value = 1.0;
    r.at = "2026-10-04";
    good(again, book_put(again, BOOK_READING, &r, &id));
    good(again, book_end(again));
    assert_int_equal(id, 301);
    for (int i = 0; i < 5; i++)
        good(again, book_undo(again, AT, BOOK_NO, &arena, &d));
    assert_string_equal(d.words, "odd \"lots\"\n");
    good(again, book_count(again, BOOK_LOT, NULL, &left));
    assert_int_equal(left, 0);
    free(text);
    book_close(b);
    book_close(again);
    st_arena_done(&arena);
}

static void only_what_is_empty_is_filled(void **state)
{
    (void)state;
    struct st_row_problems p;
    size_t n;
    struct book *b = odd_book();
    char *text = document_of(b, &n);
    FILE *f = fmemopen(text, n, "rb");
    assert_non_null(f);
    struct st_book_import *i = st_book_import_look(f, &p);

    assert_int_equal(p.n, 0);
    assert_int_equal(st_book_import_rows(i, BOOK_LOT), NODD);
    assert_int_equal(st_book_import_write(i, f, b, NULL, NULL, &p), BOOK_E_REFUSED);
    assert_non_null(strstr(book_said(b)->why, "something in it"));
    st_book_import_free(i);
    fclose(f);
    free(text);
    book_close(b);
}

/* ---- its parts ---- */

static void base64_as_the_standard_has_it(void **state)
{
    (void)state;
    /* RFC 4648 section 10 */
    static const char *const PAIR[][2] = { { "", "" },
                                           { "f", "Zg==" },
                                           { "fo", "Zm8=" },
                                           { "foo", "Zm9v" },
                                           { "foob", "Zm9vYg==" },
                                           { "fooba", "Zm9vYmE=" },
                                           { "foobar", "Zm9vYmFy" } };
    static const char *const WRONG[] = { "Z",    "Zg=",      "Zg",   "Zh==", "Zm9=",  "Z===",
                                         "====", "Zg==Zg==", "Zm 9", "Zm-_", "Zm9v\n" };
    struct st_buf out = { 0 };

    for (size_t i = 0; i < sizeof PAIR / sizeof *PAIR; i++) {
        st_buf_clear(&out);
        st_base64_add(&out, PAIR[i][0], strlen(PAIR[i][0]));
        assert_string_equal(st_buf_text(&out), PAIR[i][1]);
        st_buf_clear(&out);
        assert_true(st_base64_read(&out, PAIR[i][1], strlen(PAIR[i][1])));
        assert_string_equal(st_buf_text(&out), PAIR[i][0]);
    }
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++)
        if (st_base64_read(&out, WRONG[i], strlen(WRONG[i])))
            fail_msg("read %s", WRONG[i]);
    st_buf_done(&out);
}

static void numbers_are_short_and_exact(void **state)
{
    (void)state;
    static const struct {
        double x;
        const char *text;
    } CASE[] = { { 0.1, "0.1" },   { 0.1 + 0.2, "0.30000000000000004" }, { 500.0, "500.0" }, { 1e300, "1e+300" },
                 { -0.0, "-0.0" }, { 5e-324, "4.94065645841247e-324" } };
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        struct st_buf out = { 0 };
        st_json_add_number(&out, CASE[i].x);
        assert_string_equal(st_buf_text(&out), CASE[i].text);
        st_buf_done(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(out_and_in_gives_the_same_bytes),
        cmocka_unit_test(numbers_and_texts_come_back_bit_for_bit),
        cmocka_unit_test(undo_goes_on_after_it_and_no_id_is_given_again),
        cmocka_unit_test(only_what_is_empty_is_filled),
        cmocka_unit_test(base64_as_the_standard_has_it),
        cmocka_unit_test(numbers_are_short_and_exact),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
