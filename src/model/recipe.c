#include "recipe.h"

#include <stddef.h>

const char *st_do_name(enum st_do d)
{
    static const char *const NAME[ST_NDO] = { "toast", "steep", "syrup",  "blend", "rest",
                                              "rack",  "fine",  "filter", "bottle" };
    return (unsigned)d < ST_NDO ? NAME[d] : "unknown";
}
