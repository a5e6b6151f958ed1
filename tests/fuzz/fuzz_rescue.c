/* Any bytes as the sheet of what goes wrong: read, or refused with a line and a reason.  Then what is behind the first
 * empty line is looked up as a maker's words in it. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/rescue.h"
#include "text/rescue_weigh.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void use(const struct st_rescue_book *book, const char *words)
{
    struct st_rescue_found found;
    struct st_rescue_weighed w;
    st_rescue_find(book, words, &found);
    if (found.n < 0 || found.n > ST_RESCUE_FOUND || (found.sure && found.n == 0))
        abort();
    for (int i = 0; i < found.n; i++) {
        st_rescue_weigh(found.row[i], NULL, NULL, &w);
        if (w.verdict != found.row[i]->verdict || w.decided_by != -1)
            abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_problem p = { .what = "" };
    char *text = malloc(size + 1);
    if (!text)
        return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    struct st_rescue_book *book = st_rescue_create(text, size, &p);
    if (!book && (!*p.what || !*p.why || !*p.try_))
        abort();
    const char *words = strstr(text, "\n\n");
    if (book)
        use(book, words ? words : text);
    st_rescue_free(book);
    free(text);
    return 0;
}
