#!/usr/bin/env bash
# The sheets of 50 digits are what make.py writes.  Exit 77 (skipped) where python3 or its mpmath is not here.
set -u
here=$(cd "$(dirname "$0")" && pwd)
python=''
for p in python3 /usr/bin/python3; do
    "$p" -c 'import mpmath' 2>/dev/null && python=$p && break
done
[ -n "$python" ] || { echo 'skipped: no python3 with mpmath (Debian: python3-mpmath)'; exit 77; }
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
"$python" "$here/make.py" "$T" || exit 1
diff -r "$T" "$here/../data/reference50" >"$T.diff" && rm -f "$T.diff" && echo 'the same' && exit 0
head -n 20 "$T.diff"
rm -f "$T.diff"
exit 1
