/* Any bytes as the body of a request: answered with JSON and a status that is ours, and the second time alike.
 * The first byte chooses the route. */
#include <jansson.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "api/api.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(int truth)
{
    if (!truth)
        abort();
}

static struct st_api *the_api(void)
{
    static struct st_api *api;
    struct st_problem problem;
    if (!api)
        api = st_api_create(&problem);
    demand(api != NULL);
    return api;
}

static unsigned ask(unsigned route, const char *text, size_t size, char **answer, size_t *length)
{
    static const char *const PATH[] = {
        "/api/take", "/api/foresee", "/api/turn", "/api/aim", "/api/mix", "/api/gauge"
    };
    enum { NPATH = sizeof PATH / sizeof *PATH };

    route %= NPATH + 2;
    if (route < NPATH)
        return st_api_post(the_api(), PATH[route], text, size, answer, length);
    char *word = calloc(size + 1, 1);
    demand(word != NULL);
    memcpy(word, text, size);
    const unsigned status = route == NPATH ? st_api_ingredients(the_api(), word, answer, length)
                                           : st_api_source(the_api(), word, answer, length);
    free(word);
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *first, *second;
    size_t n_first, n_second;

    if (size < 1)
        return 0;
    /* A copy of just these bytes: reading behind them is seen. */
    char *text = malloc(size);
    demand(text != NULL);
    memcpy(text, data + 1, size - 1);
    const unsigned route = data[0] >= '0' ? data[0] - '0' : data[0]; /* seeds begin with a digit */
    const unsigned status = ask(route, text, size - 1, &first, &n_first);
    demand(status == 200 || status == 400 || status == 404 || status == 422);
    demand(first && strlen(first) == n_first);
    json_t *doc = json_loadb(first, n_first, 0, NULL);
    demand(json_is_object(doc));
    demand((status != 200) == (json_object_get(doc, "errors") != NULL));
    json_decref(doc);
    demand(ask(route, text, size - 1, &second, &n_second) == status && n_second == n_first &&
           memcmp(first, second, n_first) == 0);
    free(first);
    free(second);
    free(text);
    return 0;
}
