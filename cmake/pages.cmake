# st_pages(VAR): the pages of web/, bundled and turned into one C file; its path goes to VAR.
#
# With node and npm: npm ci once (web/node_modules, outside of git), then web/build.mjs into the build directory.
# Without them, or when that fails, the table is empty and holds the reason: the program is built all the same, and
# `serve` says what is missing.
find_program(ST_NODE node)
find_program(ST_NPM npm)

function(st_pages variable)
    file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/web/src/* ${CMAKE_SOURCE_DIR}/web/fonts/*)
    set(out ${CMAKE_BINARY_DIR}/pages.c)
    add_custom_command(OUTPUT ${out}
        COMMAND ${CMAKE_COMMAND} -DNODE=${ST_NODE} -DNPM=${ST_NPM} -DWEB=${CMAKE_SOURCE_DIR}/web
            -DPAGES=${CMAKE_BINARY_DIR}/web -DEMBED=$<TARGET_FILE:st_embed> -DOUT=${out}
            -P ${CMAKE_SOURCE_DIR}/cmake/pages_build.cmake
        DEPENDS st_embed ${sources} ${CMAKE_SOURCE_DIR}/cmake/pages_build.cmake ${CMAKE_SOURCE_DIR}/web/build.mjs
            ${CMAKE_SOURCE_DIR}/web/package.json ${CMAKE_SOURCE_DIR}/web/package-lock.json
        COMMENT "bundling the pages"
        VERBATIM)
    set(${variable} ${out} PARENT_SCOPE)
endfunction()
