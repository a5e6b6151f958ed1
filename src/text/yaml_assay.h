#ifndef ST_TEXT_YAML_ASSAY_H
#define ST_TEXT_YAML_ASSAY_H

#include "yaml_field.h"

/* `assays:` of a recipe: what a laboratory found in the maker's own lot.
 *   - {of: cherry stones, toxicant: hydrogen cyanide, found: 120 mg/kg, laboratory: Invented County Laboratory, date: 2026-05-02}
 * All five are needed: a figure nobody signed is no assay.  The figure is of the ingredient by weight; per litre is refused.
 * Needs the catalogue as the recipe's own ingredients left it.  Fills recipe->assay (model/assay.h). */
void st_yaml_assays_read(struct st_reader *r, const struct st_yaml *list);

#endif
