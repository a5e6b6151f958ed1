/* Growable buffer, arena, files and embedded files. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "util/arena.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"
#include "util/memory.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void empty_buffer_reads_as_empty_text(void **state)
{
    (void)state;
    struct st_buf b = { 0 };
    assert_string_equal(st_buf_text(&b), "");
    st_buf_clear(&b);
    char *text = st_buf_take(&b);
    assert_string_equal(text, "");
    free(text);
    st_buf_done(&b);
    st_buf_done(&b);
}

/* Lengths on both sides of each doubling: the closing NUL must always have room. */
static void buffer_grows_by_every_way_of_adding(void **state)
{
    (void)state;
    struct st_buf b = { 0 };
    for (size_t i = 0; i < 300; i++) {
        assert_int_equal(b.length, 3 * i);
        st_buf_char(&b, 'a');
        st_buf_add(&b, "b");
        st_buf_printf(&b, "%c", 'c');
        assert_true(b.room > b.length);
        assert_int_equal(strlen(b.text), b.length);
    }
    assert_memory_equal(b.text + 897, "abc", 4);
    st_buf_clear(&b);
    assert_string_equal(st_buf_text(&b), "");
    st_buf_done(&b);
}

static void buffer_prints_what_is_longer_than_its_room(void **state)
{
    (void)state;
    struct st_buf b = { 0 };
    st_buf_printf(&b, "%0*d|%.1f", 5000, 7, 2.5);
    assert_int_equal(b.length, 5004);
    assert_string_equal(b.text + 4999, "7|2.5");
    st_buf_done(&b);
}

static void buffer_keeps_nul_bytes(void **state)
{
    (void)state;
    struct st_buf b = { 0 };
    st_buf_add_n(&b, "a\0b", 3);
    st_buf_add_n(&b, NULL, 0);
    assert_int_equal(b.length, 3);
    assert_memory_equal(b.text, "a\0b", 4);
    st_buf_done(&b);
}

static void copies_stop_at_n_or_at_the_end(void **state)
{
    (void)state;
    struct st_arena a = { 0 };
    char *longer = x_strndup("quince", 3), *shorter = x_strndup("fig", 30);
    assert_string_equal(longer, "qui");
    assert_string_equal(shorter, "fig");
    assert_string_equal(st_arena_strndup(&a, "quince", 3), "qui");
    assert_string_equal(st_arena_strndup(&a, "fig", 30), "fig");
    free(longer);
    free(shorter);
    st_arena_done(&a);
}

/* Small, block-sized and larger pieces: each zeroed, aligned, and left alone by the next. */
static void arena_pieces_keep_apart(void **state)
{
    (void)state;
    enum { N = 400 };
    struct st_arena a = { 0 };
    unsigned char *piece[N];
    size_t size[N];

    for (size_t i = 0; i < N; i++) {
        size[i] = i % 97 == 0 ? 20000 : 1 + i * 7 % 300;
        piece[i] = st_arena_alloc(&a, size[i]);
        assert_int_equal((uintptr_t)piece[i] % _Alignof(max_align_t), 0);
        for (size_t k = 0; k < size[i]; k++)
            assert_int_equal(piece[i][k], 0);
        memset(piece[i], (int)(i % 251 + 1), size[i]);
    }
    for (size_t i = 0; i < N; i++)
        for (size_t k = 0; k < size[i]; k++)
            assert_int_equal(piece[i][k], i % 251 + 1);
    assert_string_equal(st_arena_printf(&a, "%d %s", 12, "jars"), "12 jars");
    st_arena_done(&a);
    st_arena_done(&a);
}

static void file_comes_back_as_it_was_written(void **state)
{
    (void)state;
    char path[] = "/tmp/stillroom-unit-XXXXXX";
    const int fd = mkstemp(path);
    assert_true(fd >= 0);
    close(fd);

    char bytes[20000];
    for (size_t i = 0; i < sizeof bytes; i++)
        bytes[i] = (char)(i * 31 % 127);
    struct st_buf b = { 0 };
    assert_int_equal(st_file_write(path, bytes, sizeof bytes), 0);
    assert_int_equal(st_file_read(path, sizeof bytes, &b), 0);
    assert_int_equal(b.length, sizeof bytes);
    assert_memory_equal(b.text, bytes, sizeof bytes);

    st_buf_clear(&b);
    assert_int_equal(st_file_read(path, sizeof bytes - 1, &b), EFBIG);
    assert_int_equal(remove(path), 0);
    st_buf_clear(&b);
    assert_int_equal(st_file_read(path, 10, &b), ENOENT);
    assert_int_equal(st_file_read("/tmp", 10, &b), EISDIR);
    assert_int_equal(st_file_write("/tmp/no such folder/x", "a", 1), ENOENT);
    st_buf_done(&b);
}

static void embedded_files_are_found_by_their_names(void **state)
{
    (void)state;
    for (const struct st_embedded *e = st_embedded; e->name; e++) {
        assert_ptr_equal(st_embedded_find(e->name), e);
        assert_int_equal(e->bytes[e->size], 0);
        struct st_buf b = { 0 }; /* tests run at the top of the project */
        assert_int_equal(st_file_read(e->name, e->size, &b), 0);
        assert_int_equal(b.length, e->size);
        assert_memory_equal(st_buf_text(&b), e->bytes, e->size);
        st_buf_done(&b);
    }
    assert_null(st_embedded_find("data/no-such.sheet"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(empty_buffer_reads_as_empty_text),
        cmocka_unit_test(buffer_grows_by_every_way_of_adding),
        cmocka_unit_test(buffer_prints_what_is_longer_than_its_room),
        cmocka_unit_test(buffer_keeps_nul_bytes),
        cmocka_unit_test(copies_stop_at_n_or_at_the_end),
        cmocka_unit_test(arena_pieces_keep_apart),
        cmocka_unit_test(file_comes_back_as_it_was_written),
        cmocka_unit_test(embedded_files_are_found_by_their_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
