# Completion of stillroom for fish.
complete -c stillroom -f
complete -c stillroom -n __fish_use_subcommand -a property -d 'one property of a mixture'
complete -c stillroom -n __fish_use_subcommand -a aim -d 'the amounts that give the bottle wished for'
complete -c stillroom -n __fish_use_subcommand -a steep -d 'a jar over time'
complete -c stillroom -n __fish_use_subcommand -a trial -d 'small glasses with more and more of something'
complete -c stillroom -n __fish_use_subcommand -a correct -d 'a measured batch put right'
complete -c stillroom -n __fish_use_subcommand -a cautions -d 'what to watch, worst first'
complete -c stillroom -n __fish_use_subcommand -a clear -d 'whether it will go cloudy, and what helps'
complete -c stillroom -n __fish_use_subcommand -a rescue -d 'something went wrong: keep, fix or bin'
complete -c stillroom -n __fish_use_subcommand -a larder -d 'what you own, lot by lot'
complete -c stillroom -n __fish_use_subcommand -a recipe -d 'your recipes and every try of each'
complete -c stillroom -n __fish_use_subcommand -a mix -d 'what these make together'
complete -c stillroom -n __fish_use_subcommand -a gauge -d 'strength and sugar from readings'
complete -c stillroom -n __fish_use_subcommand -a foresee -d 'the whole bottle of a recipe file'
complete -c stillroom -n __fish_use_subcommand -a take -d 'a recipe as people write it, read back'
complete -c stillroom -n __fish_use_subcommand -a batch -d 'what was really made, by jar and day'
complete -c stillroom -n __fish_use_subcommand -a undo -d 'take back the last thing done in the notebook'
complete -c stillroom -n __fish_use_subcommand -a backup -d 'copies of the notebook'
complete -c stillroom -n __fish_use_subcommand -a export -d 'the whole notebook as one JSON document'
complete -c stillroom -n __fish_use_subcommand -a import -d 'such a document into a new notebook'
complete -c stillroom -n __fish_use_subcommand -a serve -d 'the pages for a browser on this machine'
complete -c stillroom -n __fish_use_subcommand -a ingredient -d 'what the sheet knows of an ingredient'
complete -c stillroom -n __fish_use_subcommand -a source -d 'where a figure comes from'
complete -c stillroom -n __fish_use_subcommand -a help -d 'all commands, or one in full'
complete -c stillroom -l json -d 'one JSON document'
complete -c stillroom -l units -x -a 'us metric imperial' -d 'whose cup, ounce, pint'
complete -c stillroom -l seed -x -d 'start of the random numbers'
complete -c stillroom -l draws -x -d 'makings tried on paper'
complete -c stillroom -l timing -d 'computing time'
complete -c stillroom -l explain -d 'the balance step by step'
complete -c stillroom -l place -x -a 'strictest eu uk us au nz ca' -d 'whose rules'
complete -c stillroom -l serving -x -d 'how much is poured'
complete -c stillroom -l body-weight -x -d 'for whom, kg'
complete -c stillroom -l book -r -F -d 'file of the notebook'
complete -c stillroom -l today -x -d 'as if it were that day'
complete -c stillroom -l help -d 'the command in full'
complete -c stillroom -l version -d 'the version of the program'
complete -c stillroom -n '__fish_seen_subcommand_from foresee take aim trial steep cautions clear rescue' -F
for o in add from to drops-50 measure glasses glass batch strength sugar pick drunk
    complete -c stillroom -n '__fish_seen_subcommand_from trial' -l $o -x
end
complete -c stillroom -n '__fish_seen_subcommand_from cautions' -l label -d 'all that a label tells'
complete -c stillroom -n '__fish_seen_subcommand_from cautions' -l guest -x -d 'what a guest asks'
for o in volume now-volume now-strength now-sugar now-acid sg brix sg-boiled temperature strength sugar acid to-volume certainty with have jar draw-off scale
    complete -c stillroom -n '__fish_seen_subcommand_from correct' -l $o -x
end
complete -c stillroom -n '__fish_seen_subcommand_from correct' -l hydrometer -x -a '20C 60F'
complete -c stillroom -n '__fish_seen_subcommand_from correct' -l no-atc
complete -c stillroom -n '__fish_seen_subcommand_from correct' -l kitchen -d 'in amounts a kitchen measures'
for o in agent volume ph temperature
    complete -c stillroom -n '__fish_seen_subcommand_from clear' -l $o -x
end
complete -c stillroom -n '__fish_seen_subcommand_from rescue' -l recipe -r -d 'the recipe it was made by'
complete -c stillroom -n '__fish_seen_subcommand_from clear' -l agents -d 'all of them'
for o in step if days of begun
    complete -c stillroom -n '__fish_seen_subcommand_from steep' -l $o -x
end
complete -c stillroom -n '__fish_seen_subcommand_from steep' -l seen -r -d 'what was seen of a making'
complete -c stillroom -n '__fish_seen_subcommand_from steep' -l csv -d 'a table'
complete -c stillroom -n '__fish_seen_subcommand_from undo' -l list -d 'what was done'
complete -c stillroom -n '__fish_seen_subcommand_from undo' -l deed -x -d 'its number'
complete -c stillroom -n '__fish_seen_subcommand_from undo' -l again -d 'what was taken back last'
complete -c stillroom -n '__fish_seen_subcommand_from backup' -l list -d 'the copies'
complete -c stillroom -n '__fish_seen_subcommand_from backup' -l check -d 'look it through'
complete -c stillroom -n '__fish_seen_subcommand_from backup' -l never -d 'no more by itself'
for o in restore folder
    complete -c stillroom -n '__fish_seen_subcommand_from backup' -l $o -r -F
end
for o in every keep
    complete -c stillroom -n '__fish_seen_subcommand_from backup' -l $o -x
end
complete -c stillroom -n '__fish_seen_subcommand_from export' -l output -r -F -d 'the document'
complete -c stillroom -n '__fish_seen_subcommand_from export' -l force -d 'over a file that is there'
complete -c stillroom -n '__fish_seen_subcommand_from import' -l into -x -a 'new empty'
complete -c stillroom -n '__fish_seen_subcommand_from import' -F
for o in answer change output
    complete -c stillroom -n '__fish_seen_subcommand_from take' -l $o -r
end
complete -c stillroom -n '__fish_seen_subcommand_from take' -l measures -x -a 'us metric imperial'
complete -c stillroom -n '__fish_seen_subcommand_from take' -l force -d 'write over a file'
complete -c stillroom -n '__fish_seen_subcommand_from take' -l yaml -d 'the recipe file'
complete -c stillroom -n '__fish_seen_subcommand_from property' -a 'density sg refractive-index brix strength freezing-point boiling-point heat-capacity viscosity flash-point sucrose-solubility water-activity'
complete -c stillroom -n '__fish_seen_subcommand_from property' -l list
for o in ethanol sucrose glucose fructose citric temperature
    complete -c stillroom -n '__fish_seen_subcommand_from property' -l $o -x
end
for o in sg brix temperature sg-temperature brix-temperature sg-step brix-step flask sg-boiled sg-boiled-temperature strength sugar acid holds
    complete -c stillroom -n '__fish_seen_subcommand_from gauge' -l $o -x
end
for o in strength sugar less-sweet than-sugar acid sugar-acid volume bottles cost free keep have jar spirit spirit-for whole-bottles times dilute to
    complete -c stillroom -n '__fish_seen_subcommand_from aim' -l $o -x
end
for o in than output
    complete -c stillroom -n '__fish_seen_subcommand_from aim' -l $o -r
end
complete -c stillroom -n '__fish_seen_subcommand_from aim' -l kitchen -d 'in amounts a kitchen measures'
complete -c stillroom -n '__fish_seen_subcommand_from aim' -l force -d 'write over a file'
complete -c stillroom -n '__fish_seen_subcommand_from gauge' -l hydrometer -x -a '20C 60F'
complete -c stillroom -n '__fish_seen_subcommand_from gauge' -l no-atc
complete -c stillroom -n '__fish_seen_subcommand_from serve' -l port -x -d '8417'
complete -c stillroom -n '__fish_seen_subcommand_from ingredient' -l list -d 'names'
# The codes of the batches in the book.
function __stillroom_batches
    stillroom batch all 2>/dev/null | string match -r '^[A-Za-z]+[0-9]+'
end
complete -c stillroom -n '__fish_seen_subcommand_from larder; and not __fish_seen_subcommand_from add made spent vessel took count open gone measure change show find reach reference' -a 'add made spent vessel took count open gone measure change show find reach reference'
complete -c stillroom -n '__fish_seen_subcommand_from larder' -l all -d 'with what is used up'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change reference' -l price -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change reference' -l currency -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l from -x -a 'market shop garden'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent took count open gone measure change' -l on -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l use-by -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l where -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l gross -d 'weighed as bought'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l trimmed -d 'weighed trimmed'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change reference' -l strength -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l sugar -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l acid -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l code -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent vessel took count open gone measure change reference' -l note -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l as -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l from-batch -x -a '(__stillroom_batches)'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from add made spent change' -l potency -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from made change' -l of -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from vessel reference' -l volume -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from vessel' -l empty -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from took count open gone measure' -l for -x -a '(__stillroom_batches)'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from took count open gone measure' -l why -x -a 'tasted given spilt thrown counted poured'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from took count open gone measure' -l by -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from change' -l name -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reach' -l pour-price -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reach' -l tax -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reference' -l sweeter-than -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reference' -l less-sweet-than -x
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reference' -l hydrometer -x -a '20C 60F'
complete -c stillroom -n '__fish_seen_subcommand_from larder; and __fish_seen_subcommand_from reach' -F
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and not __fish_seen_subcommand_from keep show history difference find text said rename' -a 'keep show history difference find text said rename'
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and not __fish_seen_subcommand_from keep show history difference text said rename' -l most -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -l name -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -l side -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -l from -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -l note -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -l on -x
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from text said' -l output -r -F
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from text said' -l force -d 'write over a file'
complete -c stillroom -n '__fish_seen_subcommand_from recipe; and __fish_seen_subcommand_from keep' -F
complete -c stillroom -n '__fish_seen_subcommand_from batch; and not __fish_seen_subcommand_from all begin answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle gave returned left who alcohol show end' -a 'all begin answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle gave returned left who alcohol show end'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and not __fish_seen_subcommand_from begin answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle gave returned who alcohol show end' -l most -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin weigh add pour move strain read lose spent photo bottle gave returned end' -l on -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin spent bottle' -l code -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin spent' -l name -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from show' -l pour-price -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from show' -l tax -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin' -l vessel -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin move strain spent' -l where -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin' -l from -x -a '(__stillroom_batches)'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin' -l did -r -F -d 'what was done, in your own words'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin' -l answer -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin weigh add lose photo bottle gave returned end' -l words -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin weigh add lose photo bottle gave returned end' -l note -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from weigh add who alcohol' -l lot -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from weigh' -l instead -d 'in the place of what was weighed before'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from pour' -l into -x -a '(__stillroom_batches)'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from pour move strain read learn lose spent' -l step -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from move strain' -l to -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from strain read' -l by -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from read' -l of -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from read' -l hydrometer -x -a '20C 60F' -d 'what the hydrometer is marked for'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from doubt' -l trust -d 'it is used again'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from lose' -l why -x -a 'spilt lees filter tasted drawn thrown evaporated other'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from lose bottle' -l strength -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from spent' -l amount -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from photo' -l save -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from photo' -l force -d 'write over a file'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from bottle' -l use-by -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from returned' -l liked -x -a 'yes so-so no'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from returned' -l bottles -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from who' -l told -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from alcohol' -l since -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from alcohol' -l until -x
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from alcohol' -l csv -r -F -d 'a table'
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from begin photo' -F
complete -c stillroom -n '__fish_seen_subcommand_from batch; and __fish_seen_subcommand_from answer weigh add pour next move strain read doubt agrees learn lose spent photo bottle who show end' -a '(__stillroom_batches)'
