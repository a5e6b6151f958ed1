#!/usr/bin/env bash
# Runs one file of awkward recipes against the program:  cautions_case.sh PROGRAM FILE.recipes
# The form of such a file is told in tests/cautions/README.md.
set -u
program=$1 file=$2
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
failures=0 recipes=0 number=0 title='' started=yes

fail() { # LINE MESSAGE
    echo "${file##*/}:$1: $title: $2"
    failures=$((failures + 1))
    [ "$shown" = "$title" ] && return
    shown=$title
    sed 's/^/      /' "$T/recipe.yaml"
    jq -r '.cautions[]? | "    \(.level) \(.code): \(.what)"' "$T/out" 2>/dev/null | head -n 12 | cut -c1-160
    head -n 3 "$T/err" | cut -c1-300 | sed 's/^/    stderr: /'
}
shown=''
defs='
def wc(t): .worst_cases[] | select(.toxicant | startswith(t));
def most(t): wc(t).at_most_mg_kg.high;
def mg(t): [wc(t).carriers[].in_drink_mg.value // 0] | add;
def verdict(t): wc(t).verdict;
def near(a; b): (a - b) | fabs < 1e-6 * (b | fabs) + 1e-9;
'

begin() { # a new recipe
    finish
    title=$1 begun_at=$number started=no options='' wanted=0 found_any=no
    : >"$T/steps"; : >"$T/assays"; : >"$T/own"; : >"$T/top"; : >"$T/out"; : >"$T/err"
    recipes=$((recipes + 1))
}

add() { # lines of one jar, parted by ;
    printf '  - steep: jar\n    add:\n'
    local IFS=';'
    for line in $1; do
        line=${line#"${line%%[! ]*}"}
        printf '      - %s\n' "${line%"${line##*[! ]}"}"
    done
    printf '    for: 3 weeks\n'
}

# Write the recipe and run the program, when the first expectation is met.
start() {
    [ "$started" = no ] || return
    started=yes
    {
        printf 'schema_version: 1\ntitle: %s\n' "\"$title (invented)\""
        cat "$T/top"
        [ -s "$T/own" ] && { echo ingredients:; cat "$T/own"; }
        [ -s "$T/assays" ] && { echo assays:; cat "$T/assays"; }
        echo steps:
        cat "$T/steps"
    } >"$T/recipe.yaml"
    # shellcheck disable=SC2086 # options are words
    "$program" cautions "$T/recipe.yaml" --json --draws 500 $options >"$T/out" 2>"$T/err"
    code=$?
}

finish() {
    [ -n "$title" ] || return
    start
    [ "$code" = "$wanted" ] || fail "$begun_at" "exit code $code, expected $wanted"
    [ "$found_any" = yes ] || fail "$begun_at" "nothing is asked of it"
}

has() { # LEVEL CODE WORDS: one caution has this level, this code and all of these words
    jq -e --arg l "$1" --arg c "$2" --arg w "$3" '
        any(.cautions[]; (.level == $l or $l == "any") and (.code == $c or $c == "any") and
            (.what + "; " + .because | ascii_downcase) as $t | all($w | ascii_downcase | split(" ")[]; . as $x | $t | contains($x)))
        ' "$T/out" >/dev/null 2>&1
}

while IFS= read -r line || [ -n "$line" ]; do
    number=$((number + 1))
    rest=${line#*: }
    case $line in
    '' | '#'*) ;;
    'recipe: '*) begin "$rest" ;;
    'add: '*) add "$rest" >>"$T/steps" ;;
    '| '*) printf '  %s\n' "${line#| }" >>"$T/steps" ;;
    'assay: '*) printf '  - {%s}\n' "$rest" >>"$T/assays" ;;
    'own: '*) printf '  %s\n' "$rest" >>"$T/own" ;;
    'top: '*) printf '%s\n' "$rest" >>"$T/top" ;;
    'with: '*) options=$rest ;;
    'exit: '*) start; wanted=$rest ;;
    'find: '* | 'none: '*)
        start; found_any=yes
        read -r level caution words <<<"$rest"
        [ "$words" = any ] && words=''
        if has "$level" "$caution" "$words"; then
            case $line in none:*) fail "$number" "has $rest" ;; esac
        else
            jq -e .cautions "$T/out" >/dev/null 2>&1 || fail "$number" 'no cautions at all'
            case $line in find:*) fail "$number" "lacks $rest" ;; esac
        fi ;;
    'true: '*) start; found_any=yes
        jq -e "$defs$rest" "$T/out" >/dev/null 2>&1 || fail "$number" "is not so: $rest" ;;
    'says: '*) start; found_any=yes
        grep -qF -- "$rest" "$T/err" || fail "$number" "stderr lacks: $rest" ;;
    *) echo "${file##*/}:$number: what is '$line'?"; failures=$((failures + 1)) ;;
    esac
done <"$file"
finish
[ "$recipes" -gt 0 ] || { echo "${file##*/}: no recipes"; exit 1; }
echo "${file##*/}: $recipes recipes, $failures failures"
[ "$failures" -eq 0 ]
