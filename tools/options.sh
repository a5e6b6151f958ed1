#!/usr/bin/env bash
# Every option that a command takes is in the manual and in the completions, and every command is in all of them.
# What a command takes: the strings "--..." of src/cli/COMMAND*.c, and the options that its usage texts begin a line with.
set -u
cd "$(dirname "$0")/.." || exit 3
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
bad=0
commands='property steep aim trial correct cautions clear rescue larder recipe mix gauge foresee take serve batch undo backup export import ingredient source'

# ---- asked: "COMMAND --option"; "all" are those of every command
options_of() { # FILE...
    grep -ohE '"--[a-z][a-z0-9-]*"|" +--[a-z][a-z0-9-]*' "$@" 2>/dev/null | grep -oE -- '--[a-z][a-z0-9-]*'
}
for c in $commands; do
    [ -e "src/cli/$c.c" ] && options_of src/cli/"$c".c src/cli/"$c"_*.c | sed "s/^/$c /"
done | sort -u >"$T/own"
others=$(ls src/cli/*.c 2>/dev/null | grep -vE "/($(tr ' ' '|' <<<"$commands"))(_[a-z_]*)?\.c$")
# shellcheck disable=SC2086
[ -n "$others" ] && options_of $others | sort -u | sed 's/^/all /' >"$T/all"
[ -e "$T/all" ] || : >"$T/all"
# what every command takes is asked for once
awk 'NR == FNR { all[$2] = 1; next } !($2 in all)' "$T/all" "$T/own" | cat - "$T/all" | sort -u >"$T/asked"

# ---- told by each of the four
man_tells() {
    tr -d '\\' <docs/stillroom.1 | awk '
        /^\.SH OPTIONS OF/ { now = tolower($4); list = 0; next }
        /^\.SH COMMON/ { now = "all"; list = 0; next }
        /^\.SH/ { now = $2 == "COMMANDS" ? "" : "none"; list = $2 == "COMMANDS"; next }
        list && /^\.TP/ { entry = 1; next }
        list && entry { now = $2; entry = 0 }
        { s = $0; while (match(s, /--[a-z][a-z0-9-]*/)) { print now, substr(s, RSTART, RLENGTH); s = substr(s, RSTART + RLENGTH) } }'
}
case_tells() { # the branches of a case, as bash and zsh have them; what stands outside is for all
    awk '
        /^ *[a-z]+(:[a-z-]+)?\)/ { now = $1; sub(/[:)].*/, "", now) } # also a word of a command, "batch:begin)"
        { s = $0; while (match(s, /--[a-z][a-z0-9-]*/)) { print now == "" ? "all" : now, substr(s, RSTART, RLENGTH); s = substr(s, RSTART + RLENGTH) } }
        /;;/ { now = "" }' "$1"
}
fish_tells() {
    awk '
        /^for o in/ { n = split($0, w, " "); loop = ""; for (i = 4; i <= n; i++) loop = loop " " w[i]; next }
        /^end/ { loop = ""; next }
        {
            now = "all"
            if (match($0, /seen_subcommand_from [a-z ]+/)) now = substr($0, RSTART + 21, RLENGTH - 21)
            k = split(now, c, " ")
            m = split($0, w, " ")
            for (i = 1; i < m; i++) if (w[i] == "-l") {
                names = w[i + 1] == "$o" ? loop : w[i + 1]
                n = split(names, o, " ")
                for (a = 1; a <= k; a++) for (b = 1; b <= n; b++) print c[a], "--" o[b]
            }
        }' completions/stillroom.fish
}

compare() { # FILE < what it tells
    sort -u >"$T/told"
    while read -r command option; do
        echo "$1: lacks $option of $command"
        bad=1
    done < <(comm -23 "$T/asked" "$T/told")
    while read -r command option; do
        echo "$1: $option of $command is no option of it"
        bad=1
    done < <(comm -13 "$T/asked" "$T/told" | awk -v f="$T/asked" '
        BEGIN { while ((getline line < f) > 0) known[line] = 1 }
        $1 == "none" || $1 == "all" || ("all " $2) in known { next }
        { print }')
    for command in $commands; do
        grep -qw -- "$command" "$1" || { echo "$1: lacks the command $command"; bad=1; }
    done
}

# ---- the usage text of a command, or of all: its sources without the strings "--...", read once
stripped() { # FILE...
    sed -E 's/"--[a-z][a-z0-9-]*"//g' "$@"
}
usage='' # the command whose text lies in $T/usage
while read -r command option; do
    if [ "$command" != "$usage" ]; then
        # shellcheck disable=SC2046,SC2086
        case $command in
        all) stripped $others ;;
        *) stripped $(ls src/cli/"$command".c src/cli/"$command"_*.c 2>/dev/null) ;;
        esac >"$T/usage"
        usage=$command
    fi
    grep -qE -- "$option([^a-z0-9-]|\$)" "$T/usage" ||
        { echo "src/cli: no usage text tells $option of $command"; bad=1; }
done <"$T/asked"

[ -s "$T/asked" ] || { echo 'options: no options found in src/cli'; exit 1; }
compare docs/stillroom.1 < <(man_tells)
compare completions/stillroom.bash < <(case_tells completions/stillroom.bash)
compare completions/_stillroom < <(case_tells completions/_stillroom)
compare completions/stillroom.fish < <(fish_tells)
[ "$bad" -eq 0 ] && echo "options: $(wc -l <"$T/asked") in the manual and three completions" && exit 0
exit 1
