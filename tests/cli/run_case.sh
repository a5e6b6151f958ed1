#!/usr/bin/env bash
# Runs one case file against the program:  run_case.sh PROGRAM FILE.case
# The form of a case is told in docs/HACKING.md, "A command-line case".
set -u
program=$1 case_file=$2
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
export T
mkdir "$T/.run"
in=$T/.run/stdin out=$T/.run/stdout err=$T/.run/stderr
: >"$in" >"$out" >"$err"

failures=0 runs=0 code=0 wanted_code=0 command='' command_line=0 number=0 filling=''

stillroom() { "$program" "$@"; }

show() { # NAME FILE: what the program wrote, shortened
    [ -s "$2" ] || { echo "    $1: (empty)"; return; }
    echo "    $1:"
    head -n 15 "$2" | cut -c1-300 | sed 's/^/      /'
    [ "$(wc -l <"$2")" -gt 15 ] && echo "      ... $(wc -l <"$2") lines in all"
}

fail() { # LINE-NUMBER MESSAGE
    echo "${case_file##*/}:$1: $2"
    if [ "$failures" -eq 0 ] || [ "$shown" != "$command_line" ]; then
        echo "    command: $command"
        echo "    exit code: $code"
        show stdout "$out"
        show stderr "$err"
        shown=$command_line
    fi
    failures=$((failures + 1))
}
shown=0

# What each command writes stays, for what is asked of it at the end.
# The command is started when its first expectation is met, so that stdin: and file: may follow run:.
start() {
    [ -n "$command" ] && [ "$started" = no ] || return
    started=yes
    runs=$((runs + 1))
    out=$T/.run/stdout.$runs err=$T/.run/stderr.$runs
    eval "$command" <"$in" >"$out" 2>"$err"
    code=$?
}
started=yes

# Judge the exit code of the command before the next one, or the end.
finish() {
    start
    [ -n "$command" ] || return
    [ "$code" -eq "$wanted_code" ] || fail "$command_line" "exit code $code, expected $wanted_code"
    command=''
}

# A text is looked for by the shell itself, which starts no program for it; a text is part of one line, as a case has no
# other.  What a command wrote is read once; bytes that are no text count as nothing.
read_of='' read_text=''
text_of() { # FILE
    [ "$read_of" = "$1" ] || { read_of=$1 read_text=$(<"$1"); } 2>/dev/null
}
has() { text_of "$1"; [[ $read_text == *"$2"* ]] || fail "$number" "$3 lacks: $2"; }
has_like() { grep -qE -- "$2" "$1" || fail "$number" "$3 has no line like: $2"; }
lacks() { text_of "$1"; [[ $read_text != *"$2"* ]] || fail "$number" "$3 must not hold: $2"; }

# jq takes longer to start than most commands: all that a case asks of JSON is asked at once, at its end, and question by
# question only when the answer is not true.  Each question is asked of the one document on stdout of its command.
asked=() asked_at=() asked_of=() asked_command=()
ask_later() { # EXPRESSION
    asked+=("$1") asked_at+=("$number") asked_of+=("$out") asked_command+=("$command_line $code $command")
}

all_true() {
    local i of last='' together=true documents=()
    for i in "${!asked[@]}"; do
        [ "${asked_of[i]}" = "$last" ] || documents+=(--slurpfile "run$i" "${asked_of[i]}") last=${asked_of[i]} of=$i
        together+=" and (\$run$of | length == 1 and (.[0] | (${asked[i]})))"
    done
    jq -en "${documents[@]}" "$together" </dev/null >/dev/null 2>&1
}

ask_json() {
    local i said
    [ ${#asked[@]} -eq 0 ] || all_true && return
    for i in "${!asked[@]}"; do
        out=${asked_of[i]} err=$T/.run/stderr.${out##*.}
        read -r command_line code command <<<"${asked_command[i]}"
        said=$(jq -es "length == 1 and (.[0] | (${asked[i]}))" "$out" 2>&1) ||
            fail "${asked_at[i]}" "not true of the JSON: ${asked[i]}   (jq: ${said##*$'\n'})"
    done
}

while IFS= read -r line || [ -n "$line" ]; do
    number=$((number + 1))
    case $line in
    '' | '#'*) filling='' ;;
    '|'*)
        [ -n "$filling" ] || { fail "$number" "a line with | needs stdin: or file: above it"; continue; }
        line=${line#|}
        printf '%s\n' "${line# }" >>"$filling"
        continue
        ;;
    'run: '*) finish; command=${line#run: } command_line=$number started=no wanted_code=0; : >"$in" ;;
    'stdin:') filling=$in; : >"$in"; continue ;;
    'file: '*) filling=$T/${line#file: }; mkdir -p "${filling%/*}"; : >"$filling"; continue ;;
    'exit: '*) start; wanted_code=${line#exit: } ;;
    'out: '*) start; has "$out" "${line#out: }" stdout ;;
    'err: '*) start; has "$err" "${line#err: }" stderr ;;
    'out~ '*) start; has_like "$out" "${line#out~ }" stdout ;;
    'err~ '*) start; has_like "$err" "${line#err~ }" stderr ;;
    'not: '*) start; lacks "$out" "${line#not: }" stdout ;;
    'err-not: '*) start; lacks "$err" "${line#err-not: }" stderr ;;
    'err-empty:') start; [ ! -s "$err" ] || fail "$number" 'stderr should be empty' ;;
    'jq: '*) start; ask_later "${line#jq: }" ;;
    *) fail "$number" "not a line of a case: $line" ;;
    esac
    filling=''
done <"$case_file"
finish
ask_json

[ "$runs" -gt 0 ] || { echo "${case_file##*/}: runs nothing"; exit 1; }
[ "$failures" -eq 0 ] && exit 0
echo "${case_file##*/}: $failures failed"
exit 1
