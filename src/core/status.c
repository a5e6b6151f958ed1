#include "status.h"

const char *st_status_text(enum st_status s)
{
    switch (s) {
    case ST_OK: return "ok";
    case ST_EXTRAPOLATED: return "extrapolated";
    case ST_ESTIMATED: return "estimated";
    case ST_E_DOMAIN: return "refused: the input has no physical meaning";
    case ST_E_NOCONV: return "refused: no solution was found";
    case ST_E_REFUSED: return "refused: no published basis for this mixture";
    }
    return "refused: unknown status";
}

enum st_status st_status_worse(enum st_status a, enum st_status b)
{
    if (a < 0) return a;
    if (b < 0) return b;
    return a > b ? a : b;
}
