#ifndef ST_CHECK_SHEET_H
#define ST_CHECK_SHEET_H

#include "check_value.h"

/* Sheets: published values as text, one row a value.
 *
 *   # what   density of aqueous zeta at 101.325 kPa
 *   # source [zeta1999] table 5; values as printed
 *   # tol    half a unit of the last printed digit
 *   function density_zeta
 *   columns  mass_pct  t_C  rho_kg_m3  tol
 *   25.0  20  949.60  0.005
 *   expect E_DOMAIN      101   20
 *   expect EXTRAPOLATED   10   60
 *
 * Fields are parted by blanks.  `columns` names the arguments of the function, then its result, tol and, if wanted,
 * mark.  A mark is - (a check), fit (the row was used in a fit: judged, but not counted as a check), memory (recalled,
 * not read: shown, not gated), misprint (the source is known to be wrong: the function must disagree) or outside (a
 * finding: the function is outside the tolerance, for a reason told beside the row; counted as outside, and the run
 * fails when it is not so any more).  `# kind derived` or
 * `# kind reference` says that the values were worked out apart from the program, not published; `# kind contract`,
 * that there are no values, only how a call ends.  The head stands before `function`; a line may be continued by
 * another of the same key.  A sheet may go on with another `# what`, source and tol, and another function. */

enum check_kind { CHECK_PUBLISHED, CHECK_DERIVED, CHECK_REFERENCE, CHECK_CONTRACT, CHECK_NKIND };

enum check_mark { CHECK_COUNTED, CHECK_FIT, CHECK_MEMORY, CHECK_MISPRINT, CHECK_OUTSIDE };

struct check_row {
    int line;
    const struct check_function *function;
    int n; /* arguments */
    struct check_field in[CHECK_MAX_ARGS];
    bool is_expect; /* only a status is expected */
    enum st_status wanted;
    struct check_expected expected;
    struct check_tolerance tolerance;
    enum check_mark mark;
};

struct check_head {
    char what[200], source[500], tol[300];
    enum check_kind kind;
};

/* What the reader tells while it reads: one call when a `function` line begins a section, with the head as it stands
 * there (false: no room for one more), and one call a row. */
struct check_reader {
    bool (*section)(void *arg, const struct check_function *f, const struct check_head *head);
    void (*row)(void *arg, const struct check_row *row);
    void *arg;
    struct check_head head;
    int bad_line; /* where the reading stopped; 0 when nothing is wrong */
    char why[400];
};

/* Read a sheet to its end or to the first line that is wrong.  false: bad_line and why are set. */
bool check_read_sheet(const char *path, struct check_reader *r);

/* "E_DOMAIN" ...; "?" for no status. */
const char *check_status_name(enum st_status s);

#endif
