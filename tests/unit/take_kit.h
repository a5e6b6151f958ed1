#ifndef TESTS_UNIT_TAKE_KIT_H
#define TESTS_UNIT_TAKE_KIT_H

/* What the tests of pasted texts share: the catalogue, one text read, its questions.  After cmocka.h. */

#include <string.h>

#include "text/take.h"
#include "util/embedded.h"

static struct st_catalogue *catalogue;
static struct st_take t; /* large */
static struct st_problem problem;

static int set_up(void **state)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p;
    (void)state;
    catalogue = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    return catalogue ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    st_catalogue_free(catalogue);
    return 0;
}

static int take(const char *text, const struct st_take_given *given)
{
    static const struct st_take_given NONE = { 0 };
    return st_take_text(text, strlen(text), catalogue, given ? given : &NONE, &t, &problem);
}

static const struct st_take_question *question(const char *id)
{
    for (int i = 0; i < t.n_question; i++)
        if (strcmp(t.question[i].id, id) == 0)
            return &t.question[i];
    return NULL;
}

#endif
