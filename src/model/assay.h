#ifndef ST_MODEL_ASSAY_H
#define ST_MODEL_ASSAY_H

#include "model/problem.h"

/* A maker's own laboratory result for an ingredient: the only thing that may take the place of a published ceiling. */
struct st_assay {
    struct st_place at;
    const char *ingredient; /* slug */
    const char *toxicant;   /* the maker's words ("hydrogen cyanide"); who holds it against the books finds the slug */
    double mg_kg;           /* as the laboratory gave it, bound forms included, per kg of the ingredient */
    const char *laboratory, *date; /* both said; date YYYY-MM-DD */
};

#endif
