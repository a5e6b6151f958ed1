#!/usr/bin/env bash
# hostile.sh PROGRAM: documents that must not become a book.  Each is refused with exit code 2 and the words that
# hostile/expected.tsv has for it, and leaves no book behind; so are ones made here that are too large to be kept as files.
set -u
shopt -s lastpipe # what is counted behind a pipe counts in this shell
program=$1
here=$(cd "$(dirname "$0")" && pwd)
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
failures=0 runs=0
small=yes # little memory; but a program with sanitizers needs much room of its own
grep -q __asan_init "$program" && small=no

complain() { echo "$1"; failures=$((failures + 1)); }

# refused NAME WORDS < document: from standard input, or with a third argument from that file
refused() {
    local code from=${3:-$T/document}
    [ $# -lt 3 ] && cat >"$from"
    runs=$((runs + 1))
    ( ulimit -t 60; [ "$small" = yes ] && ulimit -v 1500000; exec "$program" import "$from" --book "$T/new" ) >"$T/out" 2>"$T/err"
    code=$?
    [ "$code" -eq 2 ] || complain "$1: exit code $code, expected 2: $(head -c 300 "$T/err")"
    grep -qF -- "$2" "$T/err" || complain "$1: stderr lacks: $2: $(head -c 300 "$T/err")"
    grep -qE '(sanitizer|Assertion)' "$T/err" && complain "$1: $(head -c 300 "$T/err")"
    [ -s "$T/out" ] && complain "$1: stdout is not empty"
    [ -z "$(find "$T" -name 'new*')" ] || { complain "$1: a book was left behind"; rm -f "$T"/new*; }
}

# ---- files
while IFS=$'\t' read -r name words; do
    case $name in '#'* | '') continue ;; esac
    refused "$name" "$words" "$here/hostile/$name"
done <"$here/hostile/expected.tsv"
[ "$(grep -vc '^#' "$here/hostile/expected.tsv")" -eq "$(find "$here/hostile" -name '*.json' | wc -l)" ] ||
    complain 'hostile/expected.tsv does not have a line for each file'

# ---- made here
repeat() { head -c "$2" /dev/zero | tr '\0' "$1"; }
head='{"stillroom_book": 1, "tables": {'
{ printf '%s"lot": ' "$head"; repeat '[' 3000000; } | refused 'three million brackets' 'is not expected'
{ printf '%s"lot": [{"id": ' "$head"; repeat '[' 3000000; } | refused 'three million brackets in a row' 'a value is no plain one'
{ repeat '{' 3000000; } | refused 'three million braces' 'is not expected'
{ printf '%s"vessel": [{"id": 1, "name": "' "$head"; repeat x 20000000; printf '"}]}}'; } |
    refused 'a name of twenty million letters' 'it has 20000000 letters, more than 120'
{ printf '%s"vessel": [{"id": 1, "name": "' "$head"; repeat x 20000000; } | refused 'a text without an end' 'it ends too early'
{ printf '%s"vessel": [{"id": ' "$head"; repeat 9 5000000; printf '}]}}'; } | refused 'a number of five million digits' 'larger than any'
{ printf '%s' '{"stillroom_book": '; repeat 9 5000000; printf '}'; } | refused 'a version of five million digits' 'it is too long'
{ printf '%s"' "$head"; repeat x 5000000; printf '": []}}'; } | refused 'a table with a name of five million letters' 'it is too long'
{ printf '%s"vessel": [{' "$head"; for i in $(seq 5000); do printf '"m%d": 1, ' "$i"; done; printf '"id": 1}]}}'; } |
    refused 'five thousand members' 'the row is too large'
{ printf '%s"vessel": [' "$head"; for i in $(seq 100); do printf '{"id": %d, "name": 7},\n' "$i"; done; printf '{"id": 101, "name": "x"}]}}'; } |
    refused 'a hundred mistakes' 'there may be more; these are the first'
grep -c 'tables/vessel/' "$T/err" | grep -qx 20 || complain 'not twenty mistakes are told'
{ printf '%s"vessel": [' "$head"; repeat ' ' 20000000; } | refused 'twenty million blanks' 'it ends too early'
{ printf '%s"vessel": [' "$head"; repeat ',' 20000000; } | refused 'twenty million commas' 'is not expected'
refused 'a folder' 'directory' "$T"
refused 'no file' 'there is no such file' "$T/nowhere.json"
head -c 3000000 /dev/urandom | refused 'three million random bytes' ''

# ---- a good one, cut short at every place: only the whole is imported
good='{"stillroom_book": 1, "exported_at": "2026-01-01", "tables": {"vessel": [{"id": 1, "name": "Gl\u00e4s \"3 L\"", "volume_ml": 3e3}]}}'
for ((n = 0; n < ${#good}; n++)); do
    printf '%s' "${good:0:n}" | refused "cut short at $n" ''
done
printf '%s' "$good" >"$T/document"
"$program" import "$T/document" --book "$T/new" >"$T/out" 2>&1 || complain "the whole was refused: $(cat "$T/out")"

[ "$failures" -eq 0 ] && echo "hostile: $runs documents refused" && exit 0
echo "hostile: $failures of $runs went wrong"
exit 1
