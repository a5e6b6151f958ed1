#!/usr/bin/env bash
# Calls, paths and words that do not belong here.  A line that has to differ says so: "banned.sh allows: why".
set -u
shopt -s lastpipe # complain counts in this shell, not in a pipe of its own
cd "$(dirname "$0")/.." || exit 3
bad=0

complain() { # MESSAGE, with the offending lines on stdin
    local lines
    lines=$(grep -vF 'banned.sh allows:')
    [ -z "$lines" ] && return
    printf '%s\n' "$lines" | cut -c1-200 | sed 's/$/   <- '"$1"'/'
    bad=$((bad + $(printf '%s\n' "$lines" | wc -l)))
}

code=(src tests tools bench)
c=(--include='*.c' --include='*.h')

# Calls with no bound, no error, a hidden state, or a locale.
calls='v?sprintf|strn?cpy|strn?cat|gets|ato[fil]|strtok|f?scanf|sscanf|setlocale|alloca|tmpnam|mktemp|s?rand|system|popen'
grep -rnP "${c[@]}" "(?<![A-Za-z0-9_])($calls)\(" "${code[@]}" 2>/dev/null | complain 'a banned call'

# Paths of one machine, and flags that change the arithmetic.
grep -rnE '(^|[^A-Za-z0-9_.])/(work|root|home)/' --exclude-dir=.git --exclude-dir=build --exclude-dir=node_modules --exclude=banned.sh . |
    complain 'a path of one machine'
grep -rnE -- '-ffast-math|-Ofast' CMakeLists.txt CMakePresets.json cmake bench 2>/dev/null |
    grep -v 'never' | complain 'arithmetic must stay as written'

# Words that promise what no program can: in string literals of code, and anywhere in data, examples and the
# pages people read, except in lines that are comments.
words='safe|safely|safest|harmless'
grep -rnwiE "${c[@]}" "\"[^\"]*\b($words)\b[^\"]*\"" src 2>/dev/null | complain 'a word that promises too much'
grep -rnwiE "($words)" data examples schema completions web/src docs/stillroom.1 README.md 2>/dev/null |
    grep -vE '^[^:]+:[0-9]+: *#' | complain 'a word that promises too much'

[ "$bad" -eq 0 ] && echo 'banned: nothing found' && exit 0
echo "banned: $bad lines to change"
exit 1
