# Completion of stillroom for bash.
_stillroom() {
    local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]:-}
    local common='--json --units --seed --draws --timing --explain --place --serving --body-weight --book --today --help --version'
    if [ "$COMP_CWORD" -eq 1 ]; then
        mapfile -t COMPREPLY < <(compgen -W 'property steep aim trial correct cautions clear rescue larder recipe mix gauge foresee take serve batch undo backup export import ingredient source help --version --help' -- "$word")
        return
    fi
    case ${COMP_WORDS[COMP_CWORD - 1]} in
    --units|--measures) mapfile -t COMPREPLY < <(compgen -W 'us metric imperial' -- "$word"); return ;;
    --agent) mapfile -t COMPREPLY < <(compgen -W 'bentonite gelatine isinglass casein agar carbon pectinase milk' -- "$word"); return ;;
    --place) mapfile -t COMPREPLY < <(compgen -W 'strictest eu uk us au nz ca' -- "$word"); return ;;
    --into) mapfile -t COMPREPLY < <(compgen -W 'new empty' -- "$word"); return ;;
    --hydrometer) mapfile -t COMPREPLY < <(compgen -W '20C 60F' -- "$word"); return ;;
    esac
    case $command in
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
    larder)
        mapfile -t COMPREPLY < <(compgen -W "add made spent vessel took count open gone measure change show find reach reference --all
            --price --currency --from --on --use-by --where --gross --trimmed --strength --sugar --acid --code --note --as --name
            --from-batch --potency --volume --empty --for --why --by --pour-price --tax --sweeter-than --less-sweet-than $common" -- "$word"
            compgen -f -X '!*.yaml' -- "$word") ;;
    recipe)
        mapfile -t COMPREPLY < <(compgen -W "keep show history difference find text said rename --name --side --from --note --on --output
            --force $common" -- "$word"; compgen -f -- "$word") ;;
    batch)
        mapfile -t COMPREPLY < <(compgen -W "all begin answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle gave returned left who alcohol show end
            --on --step --where --into --to --vessel --code --name --from --did --answer --words --lot --instead --by --of --hydrometer --trust --why --strength --amount --save --force --use-by --liked --bottles --told --since --until --csv $common" -- "$word"; compgen -f -- "$word") ;;
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
