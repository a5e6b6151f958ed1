#include "cli/cli.h"
#include "cli/page.h"

json_t *page_json(const struct page *p)
{
    const struct st_bottle bottle = { .file = p->file,
                                      .recipe = p->recipe,
                                      .out = p->out,
                                      .cautions = p->cautions,
                                      .seed = p->cli->seed,
                                      .draws = p->cli->draws,
                                      .units = p->cli->units };
    return st_doc_foresee(&bottle);
}
