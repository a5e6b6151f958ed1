#include "store/kit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "store/house.h"

/* The schema: what a file of the first version becomes, that a new one is the same, and that tables.c tells the truth. */

/* Files as earlier versions made them, of the same invented house (make_book.c). */
static const struct old {
    const char *file;
    int version, tables; /* without the index's own */
} OLD[] = {
    { "tests/store/book_v1.stillroom", 1, 16 },
    { "tests/store/book_v3.stillroom", 3, 19 },
    { "tests/store/book_v4.stillroom", 4, 19 },
};
enum { OLDS = sizeof OLD / sizeof *OLD };

/* Every value of every table the old file has, by the columns it had; of `path`. */
static void same_rows(const struct old *from, const char *path)
{
    static const char TABLES[] =
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'search%' ORDER BY name";
    const char *old = from->file;
    char *tables = kit_ask(old, TABLES), *rest = tables;
    int seen = 0;

    for (char *end; (end = strchr(rest, '\n')) != NULL; rest = end + 1, seen++) {
        char columns[400], rows[600];
        *end = '\0';
        snprintf(columns, sizeof columns,
                 "SELECT group_concat('\"' || name || '\"', ', ') FROM pragma_table_info('%s')", rest);
        char *list = kit_ask(old, columns);
        snprintf(rows, sizeof rows, "SELECT %.400s FROM \"%s\" ORDER BY 1", list, rest);
        char *was = kit_ask(old, rows), *is = kit_ask(path, rows);
        assert_string_equal(was, is);
        assert_true(was[0] != '\0' || strcmp(rest, "lot") != 0);
        free(list);
        free(was);
        free(is);
    }
    assert_int_equal(seen, from->tables); /* of rows; deed, sqlite_sequence */
    free(tables);
}

static void old_files_come_forward(void **state)
{
    (void)state;
    for (int i = 0; i < OLDS; i++) {
        struct kit k;
        char copy[40];

        kit_make(&k);
        kit_copy(OLD[i].file, k.book);
        book_close(kit_open(&k));
        assert_int_equal(kit_number(k.book, "PRAGMA user_version"), BOOK_VERSION);
        assert_int_equal(kit_number(k.book, "PRAGMA application_id"), 0x5374726d);
        same_rows(&OLD[i], k.book);
        kit_is_sound(k.book);
        snprintf(copy, sizeof copy, "book.before-%d", OLD[i].version);
        assert_int_equal(kit_number(kit_file(&k, copy), "PRAGMA user_version"), OLD[i].version);
        same_rows(&OLD[i], kit_file(&k, copy));
        kit_done(&k);
    }
}

static void a_copy_that_is_there_stays(void **state)
{
    (void)state;
    struct kit k;
    size_t size;

    kit_make(&k);
    kit_copy(OLD[0].file, k.book);
    FILE *f = fopen(kit_file(&k, "book.before-1"), "wb");
    assert_non_null(f);
    fputs("an earlier one", f);
    fclose(f);
    book_close(kit_open(&k));
    char *bytes = kit_read(kit_file(&k, "book.before-1"), &size);
    assert_string_equal(bytes, "an earlier one");
    free(bytes);
    kit_done(&k);
}

/* The journal's changesets were written when tables had fewer columns. */
static void old_deeds_are_undone(void **state)
{
    (void)state;
    struct kit k;
    struct st_arena arena = { 0 };
    struct book_deed d;
    int n = 0;

    kit_make(&k);
    kit_copy(OLD[0].file, k.book);
    struct book *b = kit_open(&k);
    while (book_undo(b, KIT_AT, BOOK_NO, &arena, &d) == BOOK_OK)
        n++;
    assert_int_equal(n, HOUSE_DEEDS - 2);
    for (int t = 0; t < BOOK_NTABLE; t++) {
        int64_t rows = -1;
        assert_int_equal(book_count(b, (enum book_table)t, NULL, &rows), BOOK_OK);
        assert_int_equal(rows, 0);
    }
    for (; n > 0; n--)
        assert_int_equal(book_redo(b, KIT_AT, &arena, &d), BOOK_OK);
    book_close(b);
    kit_is_sound(k.book);
    assert_int_equal(kit_number(k.book, "SELECT count(*) FROM reading"), 3);
    assert_int_equal(kit_number(k.book, "SELECT count(*) FROM search WHERE search MATCH 'walnut*'"), 6);
    st_arena_done(&arena);
    kit_done(&k);
}

static void a_new_one_is_the_same(void **state)
{
    (void)state;
    static const char *const LOOK[] = {
        "SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name",
        "SELECT t.name, i.* FROM sqlite_schema t, pragma_table_info(t.name) i WHERE t.type = 'table' ORDER BY t.name, "
        "i.cid",
        "SELECT t.name, i.\"table\", i.\"from\", i.\"to\" FROM sqlite_schema t, pragma_foreign_key_list(t.name) i "
        "WHERE "
        "t.type = 'table' ORDER BY 1, 3",
        "SELECT t.name, i.name, i.\"unique\", i.partial, x.seqno, x.name FROM sqlite_schema t, "
        "pragma_index_list(t.name) i, "
        "pragma_index_info(i.name) x WHERE t.type = 'table' ORDER BY 1, 2, 5",
        "PRAGMA journal_mode",
        "PRAGMA page_size",
    };
    struct kit new;

    kit_make(&new);
    book_close(kit_open(&new));
    for (int o = 0; o < OLDS; o++) {
        struct kit old;
        kit_make(&old);
        kit_copy(OLD[o].file, old.book);
        book_close(kit_open(&old));
        for (size_t i = 0; i < sizeof LOOK / sizeof *LOOK; i++) {
            char *one = kit_ask(old.book, LOOK[i]), *other = kit_ask(new.book, LOOK[i]);
            assert_true(strlen(one) > 2);
            assert_string_equal(one, other);
            free(one);
            free(other);
        }
        kit_done(&old);
    }
    kit_done(&new);
}

/* "name|TYPE|NOT NULL|refers to" a line, by tables.c. */
static void described(const struct book_table_info *of, char *out, size_t room)
{
    static const char *const TYPE[] = { "INTEGER", "REAL", "TEXT", "BLOB" };
    size_t n = 0;
    for (size_t i = 0; i < of->n_column; i++) {
        const struct book_column *c = &of->column[i];
        n += (size_t)snprintf(out + n, room - n, "%s|%s|%d|%s\n", c->name, TYPE[c->type], i == 0 ? 0 : c->needed,
                              c->refers == BOOK_NTABLE ? "" : book_table_info(c->refers)->name);
        assert_true(n < room);
    }
}

static void descriptions_are_true(void **state)
{
    (void)state;
    struct kit k;
    char sql[400], wanted[4000];

    kit_make(&k);
    book_close(kit_open(&k));
    for (int t = 0; t < BOOK_NTABLE; t++) {
        const struct book_table_info *of = book_table_info((enum book_table)t);
        snprintf(
            sql, sizeof sql,
            "SELECT i.name, i.type, i.\"notnull\", coalesce(f.\"table\", '') FROM pragma_table_info('%s') i LEFT JOIN "
            "pragma_foreign_key_list('%s') f ON f.\"from\" = i.name ORDER BY i.cid",
            of->name, of->name);
        described(of, wanted, sizeof wanted);
        char *is = kit_ask(k.book, sql);
        assert_string_equal(is, wanted);
        free(is);
    }
    assert_int_equal(kit_number(k.book,
                                "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name <> 'deed' AND name "
                                "NOT LIKE 'sqlite_%' AND name NOT LIKE 'search%'"),
                     BOOK_NTABLE);
    kit_done(&k);
}

static void a_newer_one_is_left_alone(void **state)
{
    (void)state;
    struct kit k;
    struct book *b;
    char set[60];
    size_t was, is;

    kit_make(&k);
    book_close(kit_open(&k));
    snprintf(set, sizeof set, "PRAGMA user_version = %d", BOOK_VERSION + 1);
    free(kit_ask(k.book, set));
    char *before = kit_read(k.book, &was);
    assert_int_equal(book_open(k.book, BOOK_WRITE, &b), BOOK_E_NEWER);
    assert_non_null(strstr(book_said(b)->try_, "update"));
    book_close(b);
    char *after = kit_read(k.book, &is);
    assert_int_equal(was, is);
    assert_memory_equal(before, after, was);
    free(before);
    free(after);
    kit_done(&k);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(old_files_come_forward), cmocka_unit_test(a_copy_that_is_there_stays),
        cmocka_unit_test(old_deeds_are_undone),   cmocka_unit_test(a_new_one_is_the_same),
        cmocka_unit_test(descriptions_are_true),  cmocka_unit_test(a_newer_one_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
