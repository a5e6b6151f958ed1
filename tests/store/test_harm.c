#include "store/kit.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "store/backup.h"
#include "store/check.h"
#include "store/house.h"
#include "store/search.h"

/* Files that were harmed, and places that cannot be written to: each is told clearly, a backup is pointed to where it
 * helps, and not a byte is written over. */

static struct st_arena arena;

/* ---- torn files ---- */

/* What was in the files of a book. */
struct as_it_was {
    char *file, *log;
    size_t size, log_size;
};

static struct as_it_was remember(const struct kit *k)
{
    struct as_it_was w = { .log = NULL };
    w.file = kit_read(k->book, &w.size);
    if (access(kit_file(k, "book-wal"), F_OK) == 0)
        w.log = kit_read(kit_file(k, "book-wal"), &w.log_size);
    return w;
}

static void nothing_was_written(const struct kit *k, struct as_it_was *w)
{
    struct as_it_was is = remember(k);
    assert_int_equal(w->size, is.size);
    assert_memory_equal(w->file, is.file, w->size);
    if (w->log) {
        assert_non_null(is.log);
        assert_int_equal(w->log_size, is.log_size);
        assert_memory_equal(w->log, is.log, w->log_size);
    }
    free(w->file);
    free(w->log);
    free(is.file);
    free(is.log);
}

static void write_at(const char *path, long at, const void *bytes, size_t size)
{
    FILE *f = fopen(path, "r+b");
    assert_non_null(f);
    assert_int_equal(fseek(f, at, SEEK_SET), 0);
    assert_int_equal(fwrite(bytes, 1, size, f), size);
    assert_int_equal(fclose(f), 0);
}

static void spoil_page(const char *path, int64_t page)
{
    unsigned char bytes[4096];
    memset(bytes, 0xa5, sizeof bytes);
    write_at(path, (long)(page - 1) * 4096, bytes, sizeof bytes);
}

static int64_t page_of(const char *path, const char *thing)
{
    char sql[200];
    snprintf(sql, sizeof sql, "SELECT rootpage FROM sqlite_schema WHERE name = '%s'", thing);
    return kit_number(path, sql);
}

static void spoil_reading(const char *path)
{
    spoil_page(path, page_of(path, "reading"));
}
static void spoil_lot(const char *path)
{
    spoil_page(path, page_of(path, "lot"));
}
static void spoil_index(const char *path)
{
    spoil_page(path, page_of(path, "reading_batch"));
}
static void spoil_words(const char *path)
{
    spoil_page(path, page_of(path, "search_data"));
}
static void spoil_schema(const char *path)
{
    unsigned char bytes[3000];
    memset(bytes, 0xa5, sizeof bytes);
    write_at(path, 100, bytes, sizeof bytes);
}
static void spoil_head(const char *path)
{
    write_at(path, 0, "no such database", 16);
}
static void spoil_page_size(const char *path)
{
    write_at(path, 16, "\x00\x03", 2);
}
static void cut_short(const char *path)
{
    assert_int_equal(truncate(path, 100000), 0);
}
static void cut_to_the_head(const char *path)
{
    assert_int_equal(truncate(path, 4096), 0);
}
static void cut_within_the_head(const char *path)
{
    assert_int_equal(truncate(path, 60), 0);
}

static enum book_status list_readings(struct book *b)
{
    struct book_reading *r;
    int n;
    return book_list(b, BOOK_READING, NULL, &arena, &r, &n);
}

static enum book_status add_a_lot(struct book *b)
{
    struct book_lot lot;
    book_row_init(BOOK_LOT, &lot);
    lot.code = "L77";
    lot.kind = "bought";
    lot.name = "walnut";
    lot.dim = "g";
    lot.amount = 1.0;
    enum book_status s = book_begin(b, KIT_AT, "a lot");
    if (s == BOOK_OK)
        s = book_put(b, BOOK_LOT, &lot, NULL);
    if (s == BOOK_OK)
        return book_end(b);
    const enum book_status first = s;
    book_cancel(b);
    return first;
}

static enum book_status readings_of_a_batch(struct book *b)
{
    const struct book_wanted w = { .column = "batch_id", .integer = 1 };
    struct book_reading *r;
    int n;
    return book_list(b, BOOK_READING, &w, &arena, &r, &n);
}

static enum book_status find_words(struct book *b)
{
    struct book_hit *hits;
    int n;
    return book_search(b, "walnut", 10, &arena, &hits, &n);
}

static const struct harm {
    const char *what;
    void (*spoil)(const char *path);
    enum book_status (*look)(struct book *b); /* NULL: it does not even open */
    enum book_status told;
} HARM[] = {
    { "the head", spoil_head, NULL, BOOK_E_FOREIGN },
    { "the size of pages", spoil_page_size, NULL, BOOK_E_FOREIGN },
    { "the schema", spoil_schema, NULL, BOOK_E_DAMAGED },
    { "cut short", cut_short, NULL, BOOK_E_DAMAGED },
    { "cut to the head", cut_to_the_head, NULL, BOOK_E_DAMAGED },
    { "cut within the head", cut_within_the_head, NULL, BOOK_E_DAMAGED },
    { "readings", spoil_reading, list_readings, BOOK_E_DAMAGED },
    { "lots, which are written to", spoil_lot, add_a_lot, BOOK_E_DAMAGED },
    { "an index", spoil_index, readings_of_a_batch, BOOK_E_DAMAGED },
    { "the index of words, read", spoil_words, find_words, BOOK_E_DAMAGED },
    { "the index of words, written", spoil_words, add_a_lot, BOOK_E_DAMAGED },
};

static void torn_files_are_told_and_left(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof HARM / sizeof *HARM; i++) {
        const struct harm *h = &HARM[i];
        struct kit k;
        kit_make(&k);
        struct book *b = kit_open(&k);
        assert_int_equal(house_fill(b), BOOK_OK);
        book_close(b);
        h->spoil(k.book);
        struct as_it_was was = remember(&k);
        enum book_status s = book_open(k.book, BOOK_WRITE, &b);
        if (h->look && s == BOOK_OK)
            s = h->look(b);
        if (s != h->told)
            fail_msg("%s: %d instead of %d: %s", h->what, s, h->told, book_said(b)->why);
        if (!strstr(book_said(b)->try_, "backup"))
            fail_msg("%s: no backup is pointed to: %s", h->what, book_said(b)->try_);
        assert_non_null(strstr(book_said(b)->why, "nothing was written to it"));
        book_close(b);
        nothing_was_written(&k, &was);
        kit_done(&k);
        st_arena_done(&arena);
    }
}

/* The list of free pages is looked at when one is needed. */
static void torn_free_pages(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);
    char note[4000];
    const char *all[BOOK_FINDINGS];
    int n;

    memset(note, 'x', sizeof note - 1);
    note[sizeof note - 1] = '\0';
    assert_int_equal(book_begin(b, KIT_AT, "many"), BOOK_OK);
    for (int i = 1; i < 100; i++) {
        struct book_vessel v;
        char name[20];
        snprintf(name, sizeof name, "V%d", i);
        book_row_init(BOOK_VESSEL, &v);
        v.name = name;
        v.note = note;
        assert_int_equal(book_put(b, BOOK_VESSEL, &v, NULL), BOOK_OK);
    }
    for (int i = 1; i < 100; i++)
        assert_int_equal(book_drop(b, BOOK_VESSEL, i), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    book_close(b);
    size_t size;
    unsigned char *bytes = (unsigned char *)kit_read(k.book, &size);
    const int64_t trunk = bytes[34] * 256 + bytes[35]; /* of the head: the first page of the list, big end first */
    free(bytes);
    assert_true(kit_number(k.book, "PRAGMA freelist_count") > 50 && trunk > 1);
    spoil_page(k.book, trunk);

    b = kit_open(&k);
    assert_int_equal(book_begin(b, KIT_AT, "one more"), BOOK_OK);
    struct book_vessel v;
    book_row_init(BOOK_VESSEL, &v);
    v.name = "V";
    v.note = note;
    enum book_status s = BOOK_OK;
    char name[20];
    for (int i = 0; i < 10 && s == BOOK_OK; i++) {
        snprintf(name, sizeof name, "W%d", i);
        v.name = name;
        s = book_put(b, BOOK_VESSEL, &v, NULL);
    }
    if (s == BOOK_OK)
        s = book_end(b);
    assert_int_equal(s, BOOK_E_DAMAGED);
    assert_non_null(strstr(book_said(b)->try_, "backup"));
    book_cancel(b);
    assert_int_equal(book_check(b, &arena, all, &n), BOOK_OK);
    assert_true(n > 0);
    int64_t rows = -1;
    assert_int_equal(book_count(b, BOOK_VESSEL, NULL, &rows), BOOK_OK);
    assert_int_equal(rows, 0);
    book_close(b);
    kit_done(&k);
    st_arena_done(&arena);
}

/* A log as a crash leaves it: the files of a book that is open, copied. */
static void copy_in_use(const struct kit *k, const struct kit *to)
{
    kit_copy(k->book, to->book);
    kit_copy(kit_file(k, "book-wal"), kit_file(to, "book-wal"));
}

static void a_torn_log_gives_what_is_whole(void **state)
{
    (void)state;
    static const long CUT[] = { 1, 24 + 4096, 5 * 4120 + 7 }; /* bytes; a frame of the log has 24 before its page */
    struct kit k;
    size_t size;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    const int64_t lots = 4, deeds = HOUSE_DEEDS;
    kit_add_lot(b, "L8", "the last deed", "");

    for (size_t i = 0; i < sizeof CUT / sizeof *CUT; i++) {
        struct kit torn;
        kit_make(&torn);
        copy_in_use(&k, &torn);
        free(kit_read(kit_file(&torn, "book-wal"), &size));
        assert_int_equal(truncate(kit_file(&torn, "book-wal"), (off_t)size - CUT[i]), 0);
        book_close(kit_open(&torn));
        kit_is_sound(torn.book);
        assert_true(kit_number(torn.book, "SELECT count(*) FROM deed") <= deeds); /* the last is not whole any more */
        assert_int_equal(kit_number(torn.book, "SELECT count(*) FROM lot"), lots);
        kit_done(&torn);
    }
    struct kit whole; /* and rubbish after a whole log harms nothing */
    kit_make(&whole);
    copy_in_use(&k, &whole);
    FILE *f = fopen(kit_file(&whole, "book-wal"), "ab");
    assert_non_null(f);
    for (int i = 0; i < 9000; i++)
        fputc(i * 7 & 0xff, f);
    fclose(f);
    book_close(kit_open(&whole));
    kit_is_sound(whole.book);
    assert_int_equal(kit_number(whole.book, "SELECT count(*) FROM lot"), lots + 1);
    kit_done(&whole);
    book_close(b);
    kit_done(&k);
}

/* A log beside a torn file is not folded into it. */
static void a_log_beside_a_torn_file_stays(void **state)
{
    (void)state;
    struct kit k, crashed;
    kit_make(&k);
    kit_make(&crashed);
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    book_close(b);
    b = kit_open(&k);
    kit_add_lot(b, "L8", "what is in the log alone", "");
    copy_in_use(&k, &crashed);
    spoil_page(crashed.book, page_of(k.book, "reading"));
    book_close(b);
    struct as_it_was was = remember(&crashed);
    assert_non_null(was.log);
    assert_int_equal(book_open(crashed.book, BOOK_WRITE, &b), BOOK_OK);
    assert_int_equal(list_readings(b), BOOK_E_DAMAGED);
    book_close(b);
    nothing_was_written(&crashed, &was);
    kit_done(&k);
    kit_done(&crashed);
    st_arena_done(&arena);
}

/* ---- where nothing can be written ---- */

/* As somebody who owns nothing, where we are root; else as we are. */
static void as_a_guest(bool guest)
{
    if (getuid() == 0 && seteuid(guest ? 65534 : 0) != 0)
        fail_msg("cannot be another user");
}

static void read_where_nothing_may_be_written(void **state)
{
    (void)state;
    struct kit k;
    int64_t n = -1;
    const char *all[BOOK_FINDINGS];
    int found;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    book_close(b);
    chmod(k.book, 0444);
    chmod(k.folder, 0555);
    struct as_it_was was = remember(&k);

    as_a_guest(true);
    if (book_open(k.book, BOOK_READ, &b) != BOOK_OK)
        fail_msg("%s; %s", book_said(b)->why, book_said(b)->try_);
    assert_int_equal(book_count(b, BOOK_READING, NULL, &n), BOOK_OK);
    assert_int_equal(n, 3);
    assert_int_equal(find_words(b), BOOK_OK);
    assert_int_equal(book_check(b, &arena, all, &found), BOOK_OK);
    assert_int_equal(found, 0);
    assert_int_equal(add_a_lot(b), BOOK_E_READ_ONLY);
    assert_non_null(strstr(book_said(b)->why, "may not be written to"));
    book_close(b);
    const enum book_status s = book_open(k.book, BOOK_WRITE, &b);
    assert_true(s == BOOK_E_READ_ONLY);
    assert_non_null(strstr(book_said(b)->try_, "--book"));
    book_close(b);
    as_a_guest(false);
    nothing_was_written(&k, &was);
    kit_done(&k);
    st_arena_done(&arena);
}

static void an_old_book_that_cannot_be_brought_forward(void **state)
{
    (void)state;
    struct kit k;
    struct book *b;
    kit_make(&k);
    kit_copy("tests/store/book_v1.stillroom", k.book);
    chmod(k.book, 0444);
    chmod(k.folder, 0555);
    struct as_it_was was = remember(&k);
    as_a_guest(true);
    assert_int_equal(book_open(k.book, BOOK_READ, &b), BOOK_E_READ_ONLY);
    assert_non_null(strstr(book_said(b)->why, "schema 1"));
    book_close(b);
    as_a_guest(false);
    nothing_was_written(&k, &was);
    kit_done(&k);
}

static void a_log_that_cannot_be_read_is_told(void **state)
{
    (void)state;
    struct kit k, crashed;
    kit_make(&k);
    kit_make(&crashed);
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    copy_in_use(&k, &crashed);
    book_close(b);
    chmod(crashed.book, 0444);
    chmod(kit_file(&crashed, "book-wal"), 0444);
    chmod(crashed.folder, 0555);
    struct as_it_was was = remember(&crashed);
    as_a_guest(true);
    assert_int_equal(book_open(crashed.book, BOOK_READ, &b), BOOK_E_READ_ONLY);
    assert_non_null(strstr(book_said(b)->why, "book-wal"));
    assert_non_null(strstr(book_said(b)->try_, "both files"));
    book_close(b);
    as_a_guest(false);
    nothing_was_written(&crashed, &was);
    kit_done(&k);
    kit_done(&crashed);
}

static void a_file_nobody_may_read(void **state)
{
    (void)state;
    struct kit k;
    struct book *b;
    kit_make(&k);
    book_close(kit_open(&k));
    chmod(k.book, 0000);
    chmod(k.folder, 0555);
    as_a_guest(true);
    assert_true(book_open(k.book, BOOK_READ, &b) < 0);
    assert_non_null(strstr(book_said(b)->why, "may not be read"));
    book_close(b);
    assert_true(book_open(k.book, BOOK_WRITE, &b) < 0);
    assert_true(strlen(book_said(b)->try_) > 10);
    book_close(b);
    as_a_guest(false);
    kit_done(&k);
}

/* Deeds until one fails, at most 1,000; *done of them were acknowledged. */
static enum book_status vessels_until_it_fails(struct book *b, int *done)
{
    enum book_status s = BOOK_OK;
    for (*done = 0; *done < 1000; ++*done) {
        char name[20];
        struct book_vessel v;
        snprintf(name, sizeof name, "V%d", *done);
        book_row_init(BOOK_VESSEL, &v);
        v.name = name;
        s = book_begin(b, KIT_AT, name);
        if (s == BOOK_OK)
            s = book_put(b, BOOK_VESSEL, &v, NULL);
        if (s == BOOK_OK)
            s = book_end(b);
        if (s != BOOK_OK)
            break;
    }
    return s;
}

/* A file that may grow no more: what a quota or a file system's limit does. */
static void no_room_in_the_file(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    book_close(b);
    const pid_t child = fork();
    int status = -1;

    if (child == 0) {
        const struct rlimit most = { 400000, 400000 };
        int done;
        signal(SIGXFSZ, SIG_IGN);
        if (setrlimit(RLIMIT_FSIZE, &most) != 0 || book_open(k.book, BOOK_WRITE, &b) != BOOK_OK)
            _exit(1);
        const enum book_status s = vessels_until_it_fails(b, &done);
        const bool told = strlen(book_said(b)->why) > 5 && strlen(book_said(b)->try_) > 5;
        book_close(b);
        _exit(s < 0 && told && done > 3 && done < 1000 ? done : 2);
    }
    waitpid(child, &status, 0);
    assert_true(WIFEXITED(status));
    kit_is_sound(k.book);
    assert_int_equal(kit_number(k.book, "SELECT count(*) FROM vessel WHERE name LIKE 'V%'"), WEXITSTATUS(status));
    kit_done(&k);
}

/* A small disk of memory; left out where we may not make one. */
static void a_full_disk(void **state)
{
    (void)state;
    struct kit k;
    int done;
    kit_make(&k);
    if (mount("none", k.folder, "tmpfs", 0, "size=1800k") != 0) {
        kit_done(&k);
        skip();
    }
    struct book *b = kit_open(&k);
    assert_int_equal(house_fill(b), BOOK_OK);
    assert_int_equal(vessels_until_it_fails(b, &done), BOOK_E_FULL);
    assert_non_null(strstr(book_said(b)->why, "disk is full"));
    int64_t rows = 0, journal = 0;
    assert_int_equal(book_count(b, BOOK_VESSEL, NULL, &rows), BOOK_OK);
    assert_int_equal(rows, 1 + done);
    assert_int_equal(book_backup_to(b, kit_file(&k, "copy")), BOOK_E_FULL); /* and nothing is left of the half of it */
    assert_int_equal(access(kit_file(&k, "copy"), F_OK), -1);
    journal = kit_number(k.book, "SELECT count(*) FROM deed");
    assert_int_equal(journal, HOUSE_DEEDS + done);
    book_close(b);
    kit_is_sound(k.book);
    assert_int_equal(umount(k.folder), 0);
    kit_done(&k);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(torn_files_are_told_and_left),
        cmocka_unit_test(torn_free_pages),
        cmocka_unit_test(a_torn_log_gives_what_is_whole),
        cmocka_unit_test(a_log_beside_a_torn_file_stays),
        cmocka_unit_test(read_where_nothing_may_be_written),
        cmocka_unit_test(an_old_book_that_cannot_be_brought_forward),
        cmocka_unit_test(a_log_that_cannot_be_read_is_told),
        cmocka_unit_test(a_file_nobody_may_read),
        cmocka_unit_test(no_room_in_the_file),
        cmocka_unit_test(a_full_disk),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
