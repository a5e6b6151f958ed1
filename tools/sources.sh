#!/usr/bin/env bash
# Every source key in code, data and sheets, such as [oiml_r22], has an entry in docs/sources.md.
# A key is lower case and has a digit or an underscore; an index such as w[i2] follows a name and is no key, nor is a
# size such as [n_in].
set -u
cd "$(dirname "$0")/.." || exit 3
list=docs/sources.md

used=$(grep -rnoP --include='*.[ch]' --include='*.sheet' --include='*.tsv' --include='*.yaml' --include='*.csv' \
    '(?<![A-Za-z0-9_\)\]\[\\])\[(?!n_)(?=[a-z0-9_]*[0-9_])[a-z][a-z0-9_]{3,}\](?! *=)' src data tests/data 2>/dev/null)
if [ -z "$used" ]; then
    echo 'sources: no key is used yet'
    exit 0
fi
if [ ! -f "$list" ]; then
    echo "sources: keys are used, but there is no $list"
    exit 1
fi
# An entry begins a line: a heading, a list item, a table row or bare; [key], `key`, **key**.
known=$(grep -oP '^(#+ *|[-*] +|\| *)?[*`]*\[?[*`]*\K[a-z][a-z0-9_]{3,}(?=[*`]*(\]|[*`]|\s*$|\s*\||:|\s))' "$list" | sort -u)
missing=$(comm -23 <(printf '%s\n' "$used" | sed 's/.*\[\(.*\)\]$/\1/' | sort -u) <(printf '%s\n' "$known"))
if [ -z "$missing" ]; then
    echo "sources: $(printf '%s\n' "$used" | sed 's/.*\[//' | sort -u | wc -l) keys used, each has its entry"
    exit 0
fi
for key in $missing; do
    printf '%s\n' "$used" | grep -F "[$key]" | head -n 1 | sed "s|\$|   <- no entry in $list|"
done
echo "sources: $(printf '%s\n' "$missing" | wc -l) keys without an entry in $list"
exit 1
