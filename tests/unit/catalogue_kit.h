#ifndef TESTS_UNIT_CATALOGUE_KIT_H
#define TESTS_UNIT_CATALOGUE_KIT_H

/* The sheet of ingredients as the program has it, for tests that look things up in it:
 * cmocka_run_group_tests(tests, load, unload). */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "text/ingredients.h"
#include "util/buf.h"
#include "util/file.h"

static struct st_buf sheet;
static struct st_catalogue *all;

static int load(void **state)
{
    struct st_problem p = { 0 };
    (void)state;
    if (st_file_read("data/ingredients.sheet", 4u << 20, &sheet))
        return -1;
    all = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    return all ? 0 : -1;
}

static int unload(void **state)
{
    (void)state;
    st_catalogue_free(all);
    st_buf_done(&sheet);
    return 0;
}

/* What has this name; the test fails where nothing has. */
static inline const struct st_ingredient *must(const char *name)
{
    const struct st_ingredient *in = st_catalogue_find(all, name, strlen(name));
    if (!in)
        fail_msg("'%s' is not in the sheet", name);
    return in;
}

#endif
