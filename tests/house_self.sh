#!/usr/bin/env bash
# The house scripts and the case runner must complain when they should: each is given something wrong.
set -u
top=$(cd "$(dirname "$0")/.." && pwd)
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
failures=0

expect() { # CODE WHAT COMMAND...
    local code
    "${@:3}" >"$T/said" 2>&1
    code=$?
    [ "$code" -eq "$1" ] && return
    echo "$2: exit code $code, expected $1; it said:"
    sed 's/^/    /' "$T/said"
    failures=$((failures + 1))
}

fresh() { # a project with nothing in it but the scripts
    rm -rf "$T/p"
    mkdir -p "$T/p"/{src/core,src/text,src/http,data,docs,tests/data,examples}
    cp -r "$top/tools" "$T/p/tools"
    echo '- [zeta1999] a source' >"$T/p/docs/sources.md"
}

try() { # SCRIPT CODE FILE LINE
    fresh
    printf '%s\n' "$4" >"$T/p/$3"
    expect "$2" "$1.sh on $3 with: $4" "$T/p/tools/$1.sh"
}

try rooms 0 src/core/a.c '#include <math.h>'
try rooms 1 src/core/a.c '#include <stdio.h>'
try rooms 1 src/core/a.h '#include "text/quantity.h"'
try rooms 1 src/core/a.h '#include "../text/quantity.h"'
try rooms 1 src/core/a.c 'x = malloc(2);'
try rooms 1 src/text/a.c 'printf("jar");'
try rooms 1 src/text/a.c 'fputs("jar", stderr);'
try rooms 1 src/text/a.c '#include <microhttpd.h>'
try rooms 0 src/http/a.c '#include <microhttpd.h>'
try rooms 1 src/http/a.c '#include "text/quantity.h"'
try rooms 1 src/http/a.c 'puts("jar");'
try rooms 0 src/text/a.c 'st_buf_printf(b, "jar");'

try sources 0 src/core/a.c '/* [zeta1999] table 2 */'
try sources 0 src/core/a.c 'x = w[i_2];'
try sources 1 src/core/a.c '/* [zeta2001] table 2 */'
try sources 1 tests/data/a.tsv '# source [zeta_table] 2'

# The banned words below are put together from halves, so that this file may be searched as well.
try banned 0 src/core/a.c 'n = snprintf(s, sizeof s, "jar");'
try banned 1 src/core/a.c 'spr''intf(s, "jar");'
try banned 1 src/core/a.c 'x = at''of(s);'
try banned 1 docs/a.md "see /ro""ot/notes"
try banned 1 src/text/a.c 'say("this is sa''fe");'
try banned 0 src/text/a.c '/* a safe cast */'
try banned 1 examples/a.yaml 'note: harm''less'
try banned 0 examples/a.yaml '# never harm''less'

told() { # CODE FILE SED: options.sh where FILE was changed so
    fresh
    cp -r "$top/completions" "$T/p/"
    cp -r "$top/src/cli" "$T/p/src/"
    cp "$top/docs/stillroom.1" "$T/p/docs/"
    sed -i "$3" "$T/p/$2"
    expect "$1" "options.sh with $2 changed by $3" "$T/p/tools/options.sh"
}

told 0 docs/stillroom.1 ''
told 1 docs/stillroom.1 's/^.*holds.*$//'
told 1 docs/stillroom.1 's/ethanol/methane/'
told 1 completions/stillroom.bash 's/--holds//'
told 1 completions/_stillroom 's/--port/--harbour/'
told 1 completions/stillroom.fish 's/sg-boiled-temperature//'
told 1 src/cli/gauge.c 's/"--holds"/"--hold-it"/'
told 1 src/cli/ingredient.c '1i char *x = "--brand-new";'

texts() { # CODE FILE SED: the check of texts, with one of them changed
    rm -rf "$T/x" && mkdir -p "$T/x/src" && cp -r "$top/data" "$T/x/" && cp -r "$top/src/text" "$top/src/cli" "$T/x/src/"
    sed -i "$3" "$T/x/$2"
    expect "$1" "texts.sh with $2 changed by $3" env TEXTS_TOP="$T/x" "$top/tools/texts.sh" --check
}

texts 0 data/rescue.tsv ''
texts 1 data/toxicants.tsv 's/Harms the liver/Is good for the liver/'
texts 1 data/rescue.tsv 's/pour it away and scald the bottle/do not worry/'
texts 1 data/rules.tsv '$s/$/ It is safe./'
texts 1 data/ingredients.sheet 's/ not in pregnancy$/ take a spoonful daily/'
texts 1 src/text/ledger_words.c 's/no limit for it in a drink is known here/it is healthy enough/'
texts 1 src/text/caution_process.c 's/bin what is cloudy or fizzes/it cures a cough/'
texts 1 data/rules.tsv '/\t/d'

run_case() { # CODE CASE-TEXT, against /bin/echo as the program
    printf '%b\n' "$2" >"$T/a.case"
    expect "$1" "run_case.sh on: $2" "$top/tests/cli/run_case.sh" /bin/echo "$T/a.case"
}

run_case 0 'run: stillroom jar\nout: jar\nout~ ^j.r$\nnot: box\nerr-empty:'
run_case 0 'run: cat "$T/a/b" -\nfile: a/b\n| one\nstdin:\n|   two\nout: one\nout~ ^  two$'
run_case 0 'run: (exit 2)\nexit: 2'
run_case 1 'run: (exit 2)'
run_case 1 'run: (exit 2)\nrun: stillroom jar'
run_case 1 'run: stillroom jar\nexit: 1'
run_case 1 'run: stillroom jar\nout: box'
run_case 1 'run: stillroom jar\nout~ ^a'
run_case 1 'run: stillroom jar\nnot: a'
run_case 1 'run: stillroom jar >&2\nerr: box'
run_case 1 'run: stillroom jar >&2\nerr-empty:'
run_case 1 'run: stillroom jar\nsay: jar'
run_case 1 '# nothing'
if command -v jq >/dev/null; then
    run_case 0 'run: stillroom \x27{"a": 2}\x27\njq: .a > 1'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a > 2'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .b'
    run_case 1 'run: stillroom \x27{"a": 2} {"a": 2}\x27\njq: .a > 1'
    run_case 1 'run: stillroom jar\njq: true'
    run_case 1 'run: true\njq: true'
    # several questions about one document are asked at once
    run_case 0 'run: stillroom \x27{"a": 2}\x27\njq: .a > 1\njq: .a < 3'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a > 2\njq: .a < 3'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a > 1\njq: .a < 2'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: empty\njq: true'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a >\njq: true'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a == 2 or (\njq: false)'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a > 2\nrun: stillroom \x27{"a": 3}\x27\njq: .a > 2'
    # and so are all of a case: each of its own document, the command that was wrong told by its line
    run_case 0 'run: stillroom \x27{"a": 2}\x27\njq: .a == 2\nrun: stillroom \x27{"a": 3}\x27\njq: .a == 3\njq: .a > 2'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a == 2\nrun: stillroom jar\njq: true'
    run_case 1 'run: stillroom \x27{"a": 2}\x27\njq: .a == 3\nrun: stillroom \x27{"a": 3}\x27\njq: .a == 3'
    grep -q '^a.case:2: not true of the JSON' "$T/said" && grep -q '^    command: .*2}' "$T/said" ||
        { cat "$T/said"; failures=$((failures + 1)); }
fi

[ "$failures" -eq 0 ] && echo 'the house scripts complain when they should' && exit 0
echo "$failures failed"
exit 1
