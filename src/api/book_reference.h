#ifndef ST_API_BOOK_REFERENCE_H
#define ST_API_BOOK_REFERENCE_H

#include <jansson.h>

#include "api/book_desk.h"
#include "core/instruments.h"
#include "model/foresee.h"

/* A bought bottle that one compares with: what its label says, what instruments and tongues say of it. */

enum st_reference_by {
    ST_REFERENCE_UNKNOWN,  /* nothing is known of its sugar */
    ST_REFERENCE_READ,     /* two readings, or one and the label's strength, through the gauge */
    ST_REFERENCE_SAID,     /* a sugar that is known by another way */
    ST_REFERENCE_TONGUE,   /* between two samples, by taste */
    ST_REFERENCE_ONE_SIDE, /* sweeter or less sweet than one sample: no interval */
    ST_REFERENCE_CROSSED   /* sweeter than the sweeter sample: the tastings do not agree */
};

struct st_reference {
    struct book_reference row;
    const struct book_reading *reading;
    int n_reading;
    struct st_interval strength, sugar; /* % vol, g/L */
    enum st_reference_by by;            /* of the sugar */
    double above, below;                /* g/L of the samples that it is sweeter and less sweet than; NAN */
};

/* All, by name; the one of this name, letter case aside. */
bool st_references_read(struct st_desk *d, struct st_reference **out, int *n);
bool st_reference_named(struct st_desk *d, const char *name, struct st_reference *out);

/* What is said of one; NAN, NULL: nothing. */
struct st_reference_given {
    const char *name, *currency, *note;
    double strength, volume_ml, price, above, below;
    char *const *reading; /* "sg=1.03", "sg=1.03@22C", "brix=20+-0.4" */
    int n_reading;
    enum st_hydrometer hydrometer; /* what the one that read sg is marked for */
};
/* A new one, or more about one there is. */
bool st_reference_put(struct st_desk *d, const struct st_reference_given *g, struct st_reference *out, char words[400]);

/* Its sugar as a sentence: "By tongue: likely between 250 and 300 g/L, if ..." */
void st_reference_sugar_words(char *buf, size_t size, const struct st_reference *r);
json_t *st_doc_reference(const struct st_reference *r);

#endif
