#!/usr/bin/env bash
# Keep README.md true: what stands between "<!-- run: COMMAND -->" and "<!-- end -->" is what COMMAND prints now.
#   tools/readme.sh BUILD_FOLDER          writes it anew
#   tools/readme.sh BUILD_FOLDER --check  changes nothing; fails, showing the difference, when it is stale (a test)
set -u
cd "$(dirname "$0")/.." || exit 3
build=${1:?usage: tools/readme.sh BUILD_FOLDER [--check]}
build=$(cd "$build" && pwd) || exit 3
new=$(mktemp) || exit 3
house=$(mktemp -d) || exit 3
trap 'rm -rf "$new" "$house"' EXIT

# What is shown of the notebook is of the demonstration book, in a data folder of its own.
export XDG_DATA_HOME=$house
"$build/stillroom" import examples/book/small_house.json >/dev/null || exit 3

answer() { # COMMAND: its output, fenced unless it is a table
    case $1 in
    table)
        find tests/data -name '*.tsv' | LC_ALL=C sort | xargs "$build/check" --table |
            awk '/^\*\*Against published values\*\*/ { on = 1; next } /^\*\*/ { on = 0 } on' | cat -s ;;
    *)
        printf '```\n$ %s\n' "$1"
        PATH=$build:$PATH bash -c "$1" 2>&1
        printf '```\n' ;;
    esac
}

while IFS= read -r line; do
    case $line in
    '<!-- run: '*' -->')
        printf '%s\n' "$line"
        command=${line#<!-- run: }
        answer "${command% -->}"
        while IFS= read -r line && [ "$line" != '<!-- end -->' ]; do :; done
        printf '<!-- end -->\n' ;;
    *) printf '%s\n' "$line" ;;
    esac
done <README.md >"$new"

if [ "${2:-}" = --check ]; then
    diff -u README.md "$new" || { echo 'README.md is not what the program prints: run tools/readme.sh BUILD_FOLDER'; exit 1; }
    echo 'README.md shows what the program prints'
else
    cat "$new" >README.md
fi
