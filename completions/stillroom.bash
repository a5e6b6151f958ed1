# Completion of stillroom for bash.

# The codes of the batches in the book that the line speaks of.
_stillroom_batches() {
    local i book=()
    for ((i = 1; i < COMP_CWORD; i++)); do
        [ "${COMP_WORDS[i]}" = --book ] && book=(--book "${COMP_WORDS[i + 1]}")
    done
    "${COMP_WORDS[0]}" batch all "${book[@]}" 2>/dev/null | awk '$1 ~ /^[A-Za-z]+[0-9]+$/ { print $1 }'
}

# What a word of a command takes, and which files or codes stand behind it: "own" and "behind".
_stillroom_word() {
    case $1 in
    larder:add) own='--price --currency --from --on --use-by --where --gross --trimmed --strength --sugar --acid --code --note --as --from-batch --potency' behind='' ;;
    larder:made) own='--price --currency --from --on --use-by --where --gross --trimmed --strength --sugar --acid --code --note --as --from-batch --potency --of' behind='' ;;
    larder:spent) own='--price --currency --from --on --use-by --where --gross --trimmed --strength --sugar --acid --code --note --as --from-batch --potency' behind='' ;;
    larder:vessel) own='--volume --empty --note' behind='' ;;
    larder:took) own='--for --why --note --on --by' behind='' ;;
    larder:count) own='--for --why --note --on --by' behind='' ;;
    larder:open) own='--for --why --note --on --by' behind='' ;;
    larder:gone) own='--for --why --note --on --by' behind='' ;;
    larder:measure) own='--for --why --note --on --by' behind='' ;;
    larder:change) own='--price --currency --from --on --use-by --where --gross --trimmed --strength --sugar --acid --code --note --as --from-batch --potency --of --name' behind='' ;;
    larder:show) own='' behind='' ;;
    larder:find) own='' behind='' ;;
    larder:reach) own='--pour-price --tax' behind='yaml' ;;
    larder:reference) own='--strength --price --sweeter-than --less-sweet-than --currency --note --volume --hydrometer' behind='' ;;
    recipe:keep) own='--name --side --from --note --on' behind='files' ;;
    recipe:show) own='' behind='' ;;
    recipe:history) own='' behind='' ;;
    recipe:difference) own='' behind='' ;;
    recipe:find) own='--most' behind='' ;;
    recipe:text) own='--output --force' behind='' ;;
    recipe:said) own='--output --force' behind='' ;;
    recipe:rename) own='' behind='' ;;
    batch:all) own='--most' behind='' ;;
    batch:begin) own='--on --code --name --vessel --where --from --did --answer --words --note' behind='yaml' ;;
    batch:answer) own='' behind='codes' ;;
    batch:weigh) own='--lot --on --instead --words --note' behind='codes' ;;
    batch:add) own='--lot --on --words --note' behind='codes' ;;
    batch:pour) own='--into --step --on' behind='codes' ;;
    batch:next) own='' behind='codes' ;;
    batch:move) own='--to --where --on --step' behind='codes' ;;
    batch:strain) own='--to --where --on --step --by' behind='codes' ;;
    batch:read) own='--on --step --by --of --hydrometer' behind='codes' ;;
    batch:doubt) own='--trust' behind='codes' ;;
    batch:agrees) own='' behind='codes' ;;
    batch:learn) own='--step' behind='codes' ;;
    batch:lose) own='--why --on --step --strength --words --note' behind='codes' ;;
    batch:spent) own='--step --amount --on --name --where --code' behind='codes' ;;
    batch:photo) own='--save --force --on --words --note' behind='codes files' ;;
    batch:bottle) own='--on --strength --use-by --code --words --note' behind='codes' ;;
    batch:gave) own='--on --words --note' behind='' ;;
    batch:returned) own='--on --liked --bottles --words --note' behind='' ;;
    batch:left) own='--most' behind='' ;;
    batch:who) own='--lot --told' behind='codes' ;;
    batch:alcohol) own='--since --until --lot --csv' behind='' ;;
    batch:show) own='--pour-price --tax' behind='codes' ;;
    batch:end) own='--on --words --note' behind='codes' ;;
    esac
}

_stillroom() {
    local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]:-} second=${COMP_WORDS[2]:-} own='' behind='' b
    local common='--json --units --seed --draws --timing --explain --place --serving --body-weight --book --today --help --version'
    if [ "$COMP_CWORD" -eq 1 ]; then
        mapfile -t COMPREPLY < <(compgen -W 'property steep aim trial correct cautions clear rescue larder recipe mix gauge foresee take serve batch undo backup export import ingredient source help --version --help' -- "$word")
        return
    fi
    case ${COMP_WORDS[COMP_CWORD - 1]} in
    --units|--measures) mapfile -t COMPREPLY < <(compgen -W 'us metric imperial' -- "$word"); return ;;
    --agent) mapfile -t COMPREPLY < <(compgen -W 'bentonite gelatine isinglass casein agar carbon pectinase milk' -- "$word"); return ;;
    --place) mapfile -t COMPREPLY < <(compgen -W 'strictest eu uk us au nz ca' -- "$word"); return ;;
    --liked) mapfile -t COMPREPLY < <(compgen -W 'yes so-so no' -- "$word"); return ;;
    --book|--restore|--did|--csv|--output|--seen) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
    --folder) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
    --from-batch|--for) mapfile -t COMPREPLY < <(compgen -W "$(_stillroom_batches)" -- "$word"); return ;;
    --hydrometer) mapfile -t COMPREPLY < <(compgen -W '20C 60F' -- "$word"); return ;;
    esac
    case $command:${COMP_WORDS[COMP_CWORD - 1]} in
    import:--into) mapfile -t COMPREPLY < <(compgen -W 'new empty' -- "$word"); return ;;
    batch:--into|batch:--from) mapfile -t COMPREPLY < <(compgen -W "$(_stillroom_batches)" -- "$word"); return ;;
    batch:--why) mapfile -t COMPREPLY < <(compgen -W 'spilt lees filter tasted drawn thrown evaporated other' -- "$word"); return ;;
    larder:--why) mapfile -t COMPREPLY < <(compgen -W 'tasted given spilt thrown counted poured' -- "$word"); return ;;
    larder:--from) mapfile -t COMPREPLY < <(compgen -W 'market shop garden' -- "$word"); return ;;
    batch:batch) mapfile -t COMPREPLY < <(compgen -W "all begin answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle gave returned left who alcohol show end --most $common" -- "$word"); return ;;
    larder:larder) mapfile -t COMPREPLY < <(compgen -W "add made spent vessel took count open gone measure change show find reach reference --all $common" -- "$word"); return ;;
    recipe:recipe) mapfile -t COMPREPLY < <(compgen -W "keep show history difference find text said rename --most $common" -- "$word"); return ;;
    esac
    case $command in
    larder|recipe|batch)
        _stillroom_word "$command:$second"
        mapfile -t COMPREPLY < <(compgen -W "$own $common" -- "$word"
            for b in $behind; do
                case $b in
                yaml) compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word" ;;
                files) compgen -f -- "$word" ;;
                codes) compgen -W "$(_stillroom_batches)" -- "$word" ;;
                esac
            done) ;;
    foresee)
        mapfile -t COMPREPLY < <(compgen -W "$common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    cautions)
        mapfile -t COMPREPLY < <(compgen -W "--label --guest $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    take)
        mapfile -t COMPREPLY < <(compgen -W "--answer --change --measures --output --force --yaml $common" -- "$word"; compgen -f -- "$word") ;;
    property)
        mapfile -t COMPREPLY < <(compgen -W "density sg refractive-index brix strength freezing-point boiling-point heat-capacity
            viscosity flash-point sucrose-solubility water-activity --list --ethanol --sucrose --glucose --fructose --citric
            --temperature $common" -- "$word") ;;
    aim)
        mapfile -t COMPREPLY < <(compgen -W "--strength --sugar --less-sweet --than --than-sugar --acid --sugar-acid --volume
            --bottles --cost --free --keep --have --jar --spirit --spirit-for --whole-bottles --times --dilute --to --kitchen --output
            --force $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    trial)
        mapfile -t COMPREPLY < <(compgen -W "--add --from --to --drops-50 --measure --glasses --glass --batch --strength --sugar --pick
            --drunk $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    correct)
        mapfile -t COMPREPLY < <(compgen -W "--volume --now-volume --now-strength --now-sugar --now-acid --sg --brix --sg-boiled --temperature
            --hydrometer --no-atc --strength --sugar --acid --to-volume --certainty --with --have --jar --draw-off --scale --kitchen $common" -- "$word") ;;
    clear)
        mapfile -t COMPREPLY < <(compgen -W "--agents --agent --volume --ph --temperature $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    rescue)
        mapfile -t COMPREPLY < <(compgen -W "--recipe $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    steep)
        mapfile -t COMPREPLY < <(compgen -W "--step --if --days --of --begun --seen --csv $common" -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -d -- "$word") ;;
    gauge)
        mapfile -t COMPREPLY < <(compgen -W "--sg --brix --temperature --sg-temperature --brix-temperature --hydrometer --no-atc
            --sg-step --brix-step --flask --sg-boiled --sg-boiled-temperature --strength --sugar --acid --holds $common" -- "$word") ;;
    undo) mapfile -t COMPREPLY < <(compgen -W "--list --deed --again $common" -- "$word") ;;
    backup) mapfile -t COMPREPLY < <(compgen -W "--list --restore --check --every --keep --folder --never $common" -- "$word"; compgen -f -- "$word") ;;
    export) mapfile -t COMPREPLY < <(compgen -W "--output --force $common" -- "$word"; compgen -f -- "$word") ;;
    import) mapfile -t COMPREPLY < <(compgen -W "--into $common" -- "$word"; compgen -f -X '!*.json' -- "$word"; compgen -d -- "$word") ;;
    serve) mapfile -t COMPREPLY < <(compgen -W "--port $common" -- "$word") ;;
    ingredient) mapfile -t COMPREPLY < <(compgen -W "--list $common" -- "$word") ;;
    help) mapfile -t COMPREPLY < <(compgen -W 'property steep aim trial correct cautions clear rescue larder recipe mix gauge foresee take serve batch undo backup export import ingredient source' -- "$word") ;;
    *) mapfile -t COMPREPLY < <(compgen -W "$common" -- "$word") ;;
    esac
}
complete -F _stillroom stillroom
