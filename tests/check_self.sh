#!/usr/bin/env bash
# The check program must fail when it should: bad sheets (exit 2), rows and states that are not met (exit 1), each with
# the words that tell a person where and why.     check_self.sh CHECK
set -u
check=$1
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
failures=0 cases=0

# CODE TEXT-THAT-MUST-BE-SAID SHEET...: lines of the sheet, each one argument
try() {
    local code=$1 text=$2 got said
    shift 2
    printf '%b\n' "$@" >"$T/try.tsv"
    said=$("$check" "$T/try.tsv" 2>&1)
    got=$?
    judge "$code" "$text" "$got" "$said" "$(printf '%s | ' "$@")"
}

judge() { # CODE TEXT GOT SAID WHAT
    cases=$((cases + 1))
    if [ "$3" -ne "$1" ]; then
        echo "exit code $3, expected $1, on: $5"
    elif ! grep -qF -- "$2" <<<"$4"; then
        echo "not said: '$2', on: $5"
    else
        return
    fi
    printf '%s\n' "$4" | sed 's/^/    /'
    failures=$((failures + 1))
}

head='# what   density\n# source somebody\n# tol    as it comes'
f='function density_ethanol'
c='columns  mass_pct t_C rho_kg_m3 tol'
cm="$c mark"

# values: met, not met, on both sides of the tolerance
try 0 '1 rows checked' "$head" "$f" "$c" '0 20 998.201 0.001'
try 1 'try.tsv:6: density_ethanol(0, 20) = 998.201230, published 998.210000 +/- 0.005' "$head" "$f" "$c" '0 20 998.21 0.005'
try 1 '1 outside' "$head" "$f" "$c" '0 20 998.195 0.005'
try 0 '0 outside' "$head" "$f" "$c" '0 20 998.205 0.005'
try 1 'of it' "$head" "$f" "$c" '0 20 998.201 rel 1e-9'
try 0 '0 outside' "$head" "$f" "$c" '0 20 998.201 rel 1e-6'
try 0 '0 outside' "$head" "$f" "$c" '0 20 500 factor 2'
try 1 'within a factor 2' "$head" "$f" "$c" '0 20 499 factor 2'
try 1 'within a factor 2' "$head" "$f" "$c" '0 20 2000 factor 2'
try 1 'within a factor 2' "$head" "$f" "$c" '0 20 -998 factor 2'
try 0 '0 outside' "$head" "$f" "$c" '0 20 998..999 0'
try 1 'published 999.000000..1000.000000' "$head" "$f" "$c" '0 20 999..1000 0'
try 0 '0 outside' "$head" "$f" "$c" '0 20 <=999 0'
try 1 'published <= 998.000000' "$head" "$f" "$c" '0 20 <=998 0'
try 1 'published >= 999.000000' "$head" "$f" "$c" '0 20 >=999 0'
try 0 '0 outside' "$head" "$f" "$c" '0 20 >=999 1'
try 1 'is refused (E_REFUSED), published 900.000000' "$head" "$f" "$c" '40 60 900 1000'
try 0 '0 outside' "$head" "$f" "$c" '40 60 none 0'
try 1 'published no value' "$head" "$f" "$c" '40 20 none 0'
try 0 '0 outside' "$head" "$f" "$c" '100/3 20 948 0.1'
# states
try 0 '2 states, 0 wrong' "$head" "$f" 'expect E_DOMAIN 101 20' 'expect OK 40 20'
try 1 'ends E_DOMAIN, expected OK' "$head" "$f" 'expect OK 101 20'
try 1 'ends OK, expected E_REFUSED' "$head" "$f" 'expect E_REFUSED 40 20'
try 1 'ends OK, expected EXTRAPOLATED' "$head" "$f" 'expect EXTRAPOLATED 40 20'
# marks
try 1 'a row of its own fit' "$head" "$f" "$cm" '0 20 900 1 fit' '0 20 998.2 1 -'
try 0 '1 rows checked' "$head" "$f" "$cm" '0 20 998.2 1 fit' '0 20 998.2 1 -'
try 0 'from memory, not gated' "$head" "$f" "$cm" '0 20 900 1 memory' '0 20 998.2 1 -'
try 0 'shown only' "$head" "$f" "$c" '0 20 900 -' '0 20 998.2 1'
try 0 '1 rows checked' "$head" "$f" "$cm" '0 20 900 1 misprint'
try 1 'out of date' "$head" "$f" "$cm" '0 20 998.2 1 misprint'
try 0 'outside for a reason' "$head" "$f" "$cm" '0 20 900 1 outside # another litre'
try 1 'out of date' "$head" "$f" "$cm" '0 20 998.2 1 outside'
try 1 'out of date' "$head" "$f" "$cm" '40 60 998.2 1 outside'
# sheets that say nothing, or nonsense
try 2 'nothing in this sheet can fail' "$head" "$f" "$c"
try 2 'nothing in this sheet can fail' "$head" "$f" "$c" '0 20 998.2 -'
try 2 'nothing in this sheet can fail' "$head" "$f" "$cm" '0 20 998.2 1 memory'
try 2 'names no function' "$head"
try 2 "try.tsv:4: no function 'density_etanol'; did you mean 'density_ethanol'?" "$head" 'function density_etanol'
try 2 "no function 'zzzzzzzz';" "$head" 'function zzzzzzzz'
try 2 'tell `# what`' '# what density' "$f"
try 2 'before any function' "$head" '0 20 998.2 1'
try 2 'before any function' "$head" 'expect OK 0 20'
try 2 'before any function' "$head" "$c"
try 2 'no columns yet' "$head" "$f" '0 20 998.2 1'
try 2 "column 2 of density_ethanol is 't_C', here it is called 'T_K'" "$head" "$f" 'columns mass_pct T_K rho_kg_m3 tol'
try 2 "end too early: 'tol' comes next" "$head" "$f" 'columns mass_pct t_C rho_kg_m3'
try 2 "one more column, 'mark'" "$head" "$f" "$c note"
try 2 'try.tsv:6: mass_pct must be a number (% mass), not '"'ten'" "$head" "$f" "$c" 'ten 20 998.2 1'
try 2 'is no expected value' "$head" "$f" "$c" '0 20 about 1'
try 2 'is no expected value' "$head" "$f" "$c" '0 20 999..998 1'
try 2 'is no expected value' "$head" "$f" "$c" '0 20 nan 1'
try 2 'is no tolerance' "$head" "$f" "$c" '0 20 998.2 -1'
try 2 'is no tolerance' "$head" "$f" "$c" '0 20 998.2 rel'
try 2 'is no tolerance' "$head" "$f" "$c" '0 20 998.2 nan'
try 2 'is no tolerance' "$head" "$f" "$c" '0 20 998.2 factor 0.5'
try 2 'the columns ask for at least 4' "$head" "$f" "$c" '0 20 998.2'
try 2 'too many' "$head" "$f" "$c" '0 20 998.2 1 2'
try 2 'too few' "$head" "$f" "$cm" '0 20 998.2 1'
try 2 'unknown mark' "$head" "$f" "$cm" '0 20 998.2 1 fitted'
try 2 'needs a tolerance' "$head" "$f" "$cm" '0 20 998.2 - misprint'
try 2 'unknown status' "$head" "$f" 'expect FINE 0 20'
try 2 'write: expect STATUS' "$head" "$f" 'expect OK 0'
try 2 'unknown kind' "$head" '# kind measured' "$f"
try 2 'fields in a line' "$head" "$f" "$c" "$(printf '1 %.0s' $(seq 30))"
try 2 'longer than' "$head" "$f" "$c" "# $(printf 'x%.0s' $(seq 1200))"
# words
u='function unit_base'
cu='columns unit amount base tol'
try 0 '1 rows checked' "$head" "$u" "$cu" 'cup_us 1/2 118.29411825 rel 1e-9'
try 1 'is refused (E_DOMAIN)' "$head" "$u" "$cu" 'bucket 1 10000 1'
# two heads in a sheet
try 1 '1 outside' "$head" "$f" "$c" '0 20 998.2 1' "$head" "$u" "$cu" 'cup_us 1 1 1'

# the program's own arguments
said=$("$check" "$T/none.tsv" 2>&1)
judge 2 'cannot be opened' $? "$said" 'a file that is not there'
said=$("$check" 2>&1)
judge 2 'usage' $? "$said" 'no argument'
said=$("$check" --tabel x 2>&1)
judge 2 'usage' $? "$said" '--tabel'
said=$("$check" --list 2>&1)
judge 0 'density_ethanol: density of ethanol + water' $? "$said" '--list'
printf '%b\n' "$head, seen | unseen; and more" "$f" "$cm" '0 20 998.2 1 -' '0 20 998 1 fit' '40 20 900 1 -' >"$T/a.tsv"
said=$("$check" --table "$T/a.tsv" 2>/dev/null)
judge 1 '| density | somebody | 2 | +35 | 1 | kg/m3 | 1 | 1 fitted | 0 |' $? "$said" '--table'
again=$("$check" --table "$T/a.tsv" 2>/dev/null)
[ "$said" = "$again" ] || { echo '--table differs from one run to the next'; failures=$((failures + 1)); }

# worked_recipes.sh, given a program that always says the same, and one that says nothing
worked=$(dirname "$0")/cli/worked_recipes.sh
if command -v jq >/dev/null; then
    printf '%s\n' '#!/bin/sh' 'echo "{\"strength_pct_vol\": {\"value\": 20}}"' >"$T/twenty"
    printf '%s\n' '#!/bin/sh' 'exit 2' >"$T/mute"
    chmod +x "$T/twenty" "$T/mute"
    recipe() { # CODE PROGRAM VERDICT EXPECTED TOLERANCE PREDICTED ITS-TOLERANCE TEXT
        printf 'X1\t%s\tstrength_pct_vol\t%s\t%s\t%s\t%s\t1 L water\tsomebody\n' "${@:3:5}" >"$T/worked.tsv"
        said=$("$worked" "$T/$2" "$T/worked.tsv" 2>&1)
        judge "$1" "$8" $? "$said" "worked recipe: $*"
    }
    recipe 0 twenty plausible 20.1 0.2 20 0.2 ': ok'
    recipe 1 twenty plausible 20.3 0.2 20 0.2 'published 20.3'
    recipe 1 twenty plausible 20.1 0.2 20.3 0.2 'worked out apart 20.3'
    recipe 0 twenty at_most 20 0 20 0.2 ': ok'
    recipe 1 twenty at_most 19.9 0 20 0.2 'published at most'
    recipe 0 twenty book 25 0.1 20.05 0.2 ': ok'
    recipe 1 twenty book 25 0.1 20.15 0.2 '0.5 % allowed'
    recipe 0 twenty refuted 21 0.5 20 0.2 ': ok'
    recipe 1 twenty refuted 20.4 0.5 20 0.2 'must disagree'
    recipe 1 twenty doubtful 30 0.1 30 0.2 'nothing was judged'
    recipe 1 twenty plausable 20 1 20 1 'unknown verdict'
    recipe 1 mute plausible 20 1 20 1 'exit code 2'
fi

[ "$failures" -eq 0 ] && echo "$cases cases: the check program fails when it should" && exit 0
echo "$failures of $cases failed"
exit 1
