#include "store/kit.h"

#include <stdio.h>
#include <string.h>

#include "store/left.h"

/* Bottles that are at home: held against what one finds by looking at each bottling by itself. */

static struct st_arena arena;

static int64_t put_bottling(struct book *b, int64_t batch, const char *code, const char *day, int64_t count)
{
    struct book_bottling f;
    int64_t id;
    book_row_init(BOOK_BOTTLING, &f);
    f.batch_id = batch;
    f.code = code;
    f.on_day = day;
    f.size_ml = 350.0;
    f.count = count;
    f.facts = "{\"invented\": true}";
    assert_int_equal(book_put(b, BOOK_BOTTLING, &f, &id), BOOK_OK);
    return id;
}

static void put_gone(struct book *b, int64_t bottling, int64_t count, int64_t returned)
{
    struct book_gone g;
    book_row_init(BOOK_GONE, &g);
    g.bottling_id = bottling;
    g.count = count;
    g.returned = returned;
    g.on_day = "2026-02-02";
    g.person = "Aunt Example";
    assert_int_equal(book_put(b, BOOK_GONE, &g, NULL), BOOK_OK);
}

static int64_t put_batch(struct book *b, const char *code, const char *name)
{
    struct book_batch r;
    int64_t id;
    book_row_init(BOOK_BATCH, &r);
    r.code = code;
    r.name = name;
    r.begun_on = "2025-01-01";
    r.text = "invented";
    assert_int_equal(book_put(b, BOOK_BATCH, &r, &id), BOOK_OK);
    return id;
}

/* Three batches, two of one name; bottlings out of order of days, one all gone, one all gone and come back in part. */
static struct book *filled(struct kit *k)
{
    kit_make(k);
    struct book *b = kit_open(k);
    assert_int_equal(book_begin(b, KIT_AT, "filled"), BOOK_OK);
    const int64_t x = put_batch(b, "B7", "Invented sloe"), y = put_batch(b, "B8", "Invented plum"),
                  z = put_batch(b, "B9", "Invented sloe");
    (void)put_bottling(b, y, "B8-1", "2026-01-09", 5);
    put_gone(b, put_bottling(b, x, "B7-1", "2026-01-07", 4), 4, 0);
    const int64_t some = put_bottling(b, x, "B7-2", "2026-01-07", 4);
    put_gone(b, some, 3, 0);
    put_gone(b, some, 1, 1);
    put_gone(b, put_bottling(b, z, "B9-1", "2025-12-31", 2), 2, 1);
    (void)put_bottling(b, z, "B9-2", "2026-01-07", 6);
    assert_int_equal(book_end(b), BOOK_OK);
    return b;
}

static void done(struct kit *k, struct book *b)
{
    book_close(b);
    kit_done(k);
    st_arena_done(&arena);
}

static void what_is_at_home(void **state)
{
    (void)state;
    static const struct {
        const char *code, *batch, *name;
        int64_t at_home;
    } IS[] = {
        { "B9-1", "B9", "Invented sloe", 1 },
        { "B7-2", "B7", "Invented sloe", 1 },
        { "B9-2", "B9", "Invented sloe", 6 },
        { "B8-1", "B8", "Invented plum", 5 },
    };
    struct kit k;
    struct book_left *left;
    int n = -1, of = -1;
    struct book *b = filled(&k);

    assert_int_equal(book_bottles_left(b, 0, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 4);
    assert_int_equal(of, 4);
    for (int i = 0; i < n; i++) {
        assert_string_equal(left[i].row.code, IS[i].code);
        assert_string_equal(left[i].batch, IS[i].batch);
        assert_string_equal(left[i].name, IS[i].name);
        assert_int_equal(left[i].at_home, IS[i].at_home);
        assert_null(left[i].row.facts);
        assert_true(left[i].row.size_ml == 350.0);
    }
    done(&k, b);
}

static void only_the_first(void **state)
{
    (void)state;
    struct kit k;
    struct book_left *left;
    int n = -1, of = -1;
    struct book *b = filled(&k);

    assert_int_equal(book_bottles_left(b, 2, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 2);
    assert_int_equal(of, 4);
    assert_string_equal(left[1].row.code, "B7-2");
    assert_int_equal(book_bottles_left(b, 3, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 3);
    assert_int_equal(book_bottles_left(b, 9, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 4);
    done(&k, b);
}

static void nothing_was_filled(void **state)
{
    (void)state;
    struct kit k;
    struct book_left *left;
    int n = -1, of = -1;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(book_bottles_left(b, 0, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 0);
    assert_int_equal(of, 0);
    done(&k, b);
}

/* The smallest book that has any: three bottles, one given away, and none besides. */
static void a_book_of_one(void **state)
{
    (void)state;
    struct kit k;
    struct book_left *left;
    int n = -1, of = -1;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(book_begin(b, KIT_AT, "filled"), BOOK_OK);
    put_gone(b, put_bottling(b, put_batch(b, "B1", "Invented quince"), "B1-1", "2026-01-07", 3), 1, 0);
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_bottles_left(b, 0, &arena, &left, &n, &of), BOOK_OK);
    assert_int_equal(n, 1);
    assert_int_equal(of, 1);
    assert_int_equal(left[0].at_home, 2);
    done(&k, b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_at_home),
        cmocka_unit_test(a_book_of_one),
        cmocka_unit_test(only_the_first),
        cmocka_unit_test(nothing_was_filled),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
