#include "cli/cli.h"
#include "util/embedded.h"

struct st_catalogue *cli_catalogue(void)
{
    static const char NAME[] = "data/ingredients.sheet";
    const struct st_embedded *sheet = st_embedded_find(NAME);
    struct st_problem p = { .what = "" };

    if (!sheet) {
        cli_error(NAME, "the list of ingredients was not built into this program", "build it again from its sources");
        return NULL;
    }
    struct st_catalogue *c = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    if (!c)
        cli_problem(NAME, &p);
    else
        st_catalogue_live_in(c, cli_places());
    return c;
}
