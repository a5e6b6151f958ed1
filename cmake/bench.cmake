# bench/bench_NAME.c: one program each, built only on `cmake --build ... --target bench`.
file(GLOB benches CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/bench/bench_*.c)
add_custom_target(bench)
foreach(file IN LISTS benches)
    get_filename_component(name ${file} NAME_WE)
    add_executable(${name} EXCLUDE_FROM_ALL ${file})
    target_include_directories(${name} PRIVATE
        ${CMAKE_SOURCE_DIR}/src ${CMAKE_SOURCE_DIR}/bench ${CMAKE_SOURCE_DIR}/tests)
    target_link_libraries(${name} PRIVATE st_warnings st_posix st_store st_text st_model st_core st_util)
    add_dependencies(bench ${name})
endforeach()
