#ifndef ST_API_AIM_KITCHEN_H
#define ST_API_AIM_KITCHEN_H

#include "aim_task.h"
#include "model/kitchen.h"

/* What an aim has besides when its amounts are to be measured in a kitchen. */
struct st_aim_kitchen {
    struct st_kitchen kitchen;
    struct st_kitchen_choice choice;
    struct st_buf other_recipe[ST_NALT]; /* each as a changed recipe, empty when it cannot be written */
};

/* Instead of st_aim_write: the surest amounts that this kitchen measures, four others beside them, written and foretold
 * with the errors of these tools.  False and *problem when there are none. */
bool st_aim_in_kitchen(struct st_aim_task *t, const struct st_kitchen *kitchen, struct st_problem *problem);
void st_aim_kitchen_free(struct st_aim_kitchen *k);

/* "kitchen" and "alternatives" of the document. */
void st_doc_kitchen(json_t *doc, const struct st_aim_task *t);

#endif
