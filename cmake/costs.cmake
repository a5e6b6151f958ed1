# What the longest tests take, in seconds of one core under dev (with sanitizers four times as much); the two of http wait.
# They begin first, the longest before the others, so that no core waits for them at the end.  A test that is not named
# here begins after them: name it when it takes two seconds or more.
set(costs
    check.reference50=47 house.self=14 unit.learn=11 http.five_seconds=10 unit.agree=9 store.small_house=9 cli.steep=9
    fuzz.take=9 store.hostile=8 store.failing=8 unit.kitchen=8 api.steep=8 http.slow=7 cli.steep_rounding=6
    store.memory=6 cli.batch_unreadable=6 unit.jar_cuts=5 cli.batch_alcohol=5 unit.jar_monotone=5 cli.steep_twice=5
    store.power=5 cli.steep_seen=4 api.turn=4 cli.worked_recipes=4 cli.aim_kitchen=4 cli.batch_did=4 cli.completions=4
    api.cautions=4 cli.batch_tincture=3 cli.batch_rest=3 cli.correct_batch=3 unit.toast_bound=3 api.aim=3
    unit.correct=3 unit.take_recipes=3 unit.recipe=3 cli.docs_notebook=3 cli.cautions_label=3 api.take=3 unit.crank=3
    cli.batch_weigh=3 cli.batch_limits=3 cli.batch_cost=3 cautions.words=3 cautions.units=3 cautions.places=3
    cli.batch_instead=3 api.body=3 cli.clear_ways=3 fuzz.correct_thing=3 cli.batch_drained=3 cli.batch_bottles=2
    cautions.bottle=2 cautions.sources=2 unit.caution_process=2 unit.jar=2 unit.correct_plain=2 api.gauge=2
    cli.batch_pour_cautions=2 cli.larder_words=2 cli.batch_pour=2 fuzz.api=2 api.foresee=2 unit.toast=2
    cli.batch_who=2 cli.recipe=2 fuzz.take_line=2 api.mix=2 unit.ledger_share=2 store.storm=2 unit.uncertainty=2
    cli.larder_cautions=2 unit.plan=2 cli.batch_read=2 check.self=2 api.clear=2 cli.batch_since=1
    cli.batch_spent_step=1 unit.gauge=1)
foreach(cost IN LISTS costs)
    string(REGEX MATCH "^(.*)=([0-9]+)$" found ${cost})
    if(TEST ${CMAKE_MATCH_1})
        set_tests_properties(${CMAKE_MATCH_1} PROPERTIES COST ${CMAKE_MATCH_2})
    endif()
endforeach()
