# A room is a folder of src/ and one static library.
#
#   st_room(NAME [KNOWS room...] [LINKS target...] [WITHOUT file...] [GENERATED file...])
#
# Each room sees a folder of its own that holds links to itself and to the rooms it may know, so that
# #include "text/quantity.h" in core fails to compile.  Without .c files a room is headers only.

# Let TARGET include headers of the rooms named, and of no other.
function(st_room_includes target)
    set(view ${CMAKE_BINARY_DIR}/view/${target})
    file(MAKE_DIRECTORY ${view})
    foreach(room IN LISTS ARGN)
        file(CREATE_LINK ${CMAKE_SOURCE_DIR}/src/${room} ${view}/${room} SYMBOLIC)
    endforeach()
    target_include_directories(${target} PRIVATE ${view})
endfunction()

function(st_room name)
    cmake_parse_arguments(ROOM "" "" "KNOWS;LINKS;WITHOUT;GENERATED" ${ARGN})
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/${name}/*.c)
    foreach(file IN LISTS ROOM_WITHOUT)
        list(REMOVE_ITEM sources ${CMAKE_SOURCE_DIR}/src/${name}/${file})
    endforeach()
    list(APPEND sources ${ROOM_GENERATED})
    list(TRANSFORM ROOM_KNOWS PREPEND st_ OUTPUT_VARIABLE known)

    if(NOT sources)
        add_library(st_${name} INTERFACE)
        target_link_libraries(st_${name} INTERFACE ${known} ${ROOM_LINKS} m)
        return()
    endif()
    add_library(st_${name} STATIC ${sources})
    st_room_includes(st_${name} ${name} ${ROOM_KNOWS})
    target_link_libraries(st_${name} PRIVATE st_warnings PUBLIC ${known} ${ROOM_LINKS} m)
    if(NOT name MATCHES "^(core|model)$")
        target_link_libraries(st_${name} PRIVATE st_posix)
    endif()
    if(name STREQUAL "core" AND ST_FAST_CORE)
        target_compile_options(st_${name} PRIVATE -O3)
    endif()
    if(name MATCHES "^(store|http|api|cli)$" AND ST_PLAIN)
        target_compile_options(st_${name} PRIVATE -O0)
    endif()
    if(NOT name MATCHES "^(core|model|cli)$" AND ST_FUZZ) # libFuzzer sees which way bytes take; arithmetic stays quick
        target_compile_options(st_${name} PRIVATE -fsanitize=fuzzer-no-link)
    endif()
endfunction()
