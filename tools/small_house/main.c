#include "givings.h"

#include <stdio.h>

#include "api/book_export.h"

/* small_house FILE: write the demonstration book as one document (docs/book-file.md).  Started at the top of the project. */

static const char FIRST[] = "2024-06-08", LAST[] = "2026-06-06";

static void begin(struct house *h)
{
    static const char *const SAYS[][2] = {
        { "demo", "invented" },
        { "title",
          "The Quillmere orchard house, which does not exist: its jars, bottles, prices and people are invented" },
        { "place", HOUSE_PLACE },
        { "currency", "EUR" },
        { "backup_days", "0" }, /* it can be made anew */
    };
    house_begin(h, "said what this book is: invented");
    for (size_t i = 0; i < sizeof SAYS / sizeof *SAYS; i++)
        house_good(h, book_set(h->book, SAYS[i][0], SAYS[i][1]));
    house_end(h);
}

static void live(struct house *h)
{
    const long last = house_day(LAST);

    for (long day = house_day(FIRST); day <= last; day++) {
        house_new_day(h, day);
        if (day == house_day(FIRST))
            begin(h);
        house_recipes(h);
        house_shelf(h);
        house_batches(h);
        givings_day(h);
        house_leftovers(h);
    }
}

int main(int argc, char **argv)
{
    static struct house h;
    int64_t rows = 0;

    if (argc != 2) {
        fputs("usage: small_house FILE\n", stderr);
        return 2;
    }
    if (book_open(":memory:", BOOK_WRITE, &h.book) != BOOK_OK)
        house_fail(book_said(h.book)->what, book_said(h.book)->why);
    live(&h);
    FILE *f = fopen(argv[1], "wb");
    if (f)
        house_good(&h, st_book_export(h.book, f, "2026-06-06T20:00", NULL, NULL, &rows));
    if (!f || fclose(f) != 0)
        house_fail(argv[1], "it cannot be written");
    printf("%lld rows\n", (long long)rows);
    book_close(h.book);
    st_arena_done(&h.arena);
    return 0;
}
