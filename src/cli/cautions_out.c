#include "cli/cli.h"
#include "cli/page.h"

void cli_cautions_print(const struct st_cautions *list)
{
    for (int i = 0; i < list->n; i++)
        page_caution(2, &list->item[i]);
}
