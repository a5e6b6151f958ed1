#include "label_list.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct st_label_fact *st_label_add(struct st_label_facts *out, const char *code, const char *what, ...)
{
    if (out->n == ST_MAX_LABEL_FACTS) {
        out->cut = true;
        return NULL;
    }
    struct st_label_fact *f = &out->item[out->n++];
    *f = (struct st_label_fact){ .code = code, .truth = ST_YES, .source = "", .mark = 'c', .step = -1, .line = -1 };
    va_list ap;
    va_start(ap, what);
    (void)vsnprintf(f->what, sizeof f->what, what, ap);
    va_end(ap);
    return f;
}

void st_label_because(struct st_label_fact *f, const char *text, ...)
{
    if (!f)
        return;
    const size_t used = strlen(f->because);
    va_list ap;
    va_start(ap, text);
    (void)vsnprintf(f->because + used, sizeof f->because - used, text, ap);
    va_end(ap);
}

void st_label_rule(struct st_label_fact *f, const char *document, const char *article, int year, const char *source,
                   char mark)
{
    if (!f)
        return;
    (void)snprintf(f->rule, sizeof f->rule, "%s%s%s", document, article && *article ? ", " : "",
                   article ? article : "");
    const size_t used = strlen(f->rule);
    if (year > 0)
        (void)snprintf(f->rule + used, sizeof f->rule - used, " (%d)", year);
    f->source = source && *source ? source : "from memory";
    f->mark = mark;
}

const char *st_label_interval(const struct st_interval *x, int decimals, char buf[64])
{
    if (!x->known)
        return "not known";
    const double by = pow(10.0, decimals);
    /* a hair of rounding must not push an end outward */
    (void)snprintf(buf, 64, "%.*f (%.*f to %.*f)", decimals, x->value, decimals, floor(x->low * by + 1e-6) / by,
                   decimals, ceil(x->high * by - 1e-6) / by + 0.0); /* + 0.0: never "-0" */
    return buf;
}

const char *st_label_place(unsigned places)
{
    return places & ST_PLACE_EU   ? "the EU"
           : places & ST_PLACE_UK ? "the United Kingdom"
           : places & ST_PLACE_US ? "the US"
           : places & ST_PLACE_AU ? "Australia"
           : places & ST_PLACE_NZ ? "New Zealand"
           : places & ST_PLACE_CA ? "Canada"
                                  : "this place";
}
