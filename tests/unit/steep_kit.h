#ifndef TESTS_UNIT_STEEP_KIT_H
#define TESTS_UNIT_STEEP_KIT_H

/* The sheets of ingredients and of steeping as the program has them: cmocka_run_group_tests(tests, load_steep, unload_steep). */

#include "catalogue_kit.h"

#include "text/steep_books.h"

static struct st_steep_books *books;

static int load_steep(void **state)
{
    struct st_problem p = { .what = "" };
    if (load(state) != 0)
        return -1;
    books = st_steep_books_create(&p);
    if (!books)
        print_error("%s: %s\n", p.what, p.why);
    return books ? 0 : -1;
}

static int unload_steep(void **state)
{
    st_steep_books_free(books);
    return unload(state);
}

#endif
