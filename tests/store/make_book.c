/* Make a book of the invented house, of the schema this program knows: make_book FILE.
 * tests/store/book_v1.stillroom was made by it when the schema was 1, and so on.  Such a file is never made again: it stays
 * as it was, for the test that brings it forward (OLD in test_schema.c). */
#include <stdio.h>
#include <unistd.h>

#include "store/house.h"

int main(int argc, char **argv)
{
    struct book *b;

    if (argc != 2 || access(argv[1], F_OK) == 0) {
        fprintf(stderr, "make_book FILE, where there is none\n");
        return 1;
    }
    enum book_status s = book_open(argv[1], BOOK_WRITE, &b);
    if (s == BOOK_OK)
        s = house_fill(b);
    if (s != BOOK_OK)
        fprintf(stderr, "make_book: %s: %s\n", book_said(b)->what, book_said(b)->why);
    book_close(b); /* the last one to close it folds the log into the file */
    return s == BOOK_OK ? 0 : 3;
}
