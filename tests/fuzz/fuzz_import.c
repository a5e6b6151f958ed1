/* Any bytes as a document of a book: refused with a place and a reason, or imported; what was imported is exported, and that
 * imported again gives the same bytes. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_export.h"
#include "api/book_import.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check_problems(const struct st_row_problems *p)
{
    for (int i = 0; i < p->n && i < ST_ROW_PROBLEMS; i++)
        demand(*p->problem[i].what && *p->problem[i].why && p->problem[i].at.line >= 0);
}

/* A book in memory with the document in it; NULL when it was refused. */
static struct book *book_of(FILE *f)
{
    struct st_row_problems p;
    struct book *b = NULL;
    struct st_book_import *i = st_book_import_look(f, &p);

    check_problems(&p);
    if (p.n == 0) {
        demand(book_open(":memory:", BOOK_WRITE, &b) == BOOK_OK);
        const enum book_status s = st_book_import_write(i, f, b, NULL, NULL, &p);
        demand(s == BOOK_OK || (s == BOOK_E_REFUSED && (p.n > 0 || *book_said(b)->why)));
        check_problems(&p);
        if (s != BOOK_OK) {
            book_close(b);
            b = NULL;
        }
    }
    st_book_import_free(i);
    return b;
}

static char *document_of(struct book *b, size_t *size)
{
    char *text = NULL;
    int64_t rows;
    FILE *f = open_memstream(&text, size);

    demand(f != NULL);
    demand(st_book_export(b, f, "2026-10-04T18:30", NULL, NULL, &rows) == BOOK_OK);
    fclose(f);
    return text;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    size_t n, n2;
    FILE *f = size ? fmemopen((void *)(uintptr_t)data, size, "rb") : NULL;
    struct book *b = f ? book_of(f) : NULL;

    if (f)
        fclose(f);
    if (!b)
        return 0;
    char *text = document_of(b, &n);
    book_close(b);
    f = fmemopen(text, n, "rb");
    demand(f != NULL);
    b = book_of(f);
    fclose(f);
    demand(b != NULL);
    char *again = document_of(b, &n2);
    book_close(b);
    demand(n == n2 && memcmp(text, again, n) == 0);
    free(text);
    free(again);
    return 0;
}
