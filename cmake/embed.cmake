# st_embed_files(VAR glob...): turn files into one C file (tools/embed.c); its path goes to VAR.
# The names in the table are paths from the top of the project, such as "data/ingredients.sheet".
add_executable(st_embed tools/embed.c)
target_link_libraries(st_embed PRIVATE st_warnings)

function(st_embed_files variable)
    file(GLOB files CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR} ${ARGN})
    set(out ${CMAKE_BINARY_DIR}/embedded_files.c)
    add_custom_command(OUTPUT ${out}
        COMMAND st_embed ${out} ${files}
        DEPENDS st_embed ${files}
        WORKING_DIRECTORY ${CMAKE_SOURCE_DIR}
        COMMENT "embedding data files"
        VERBATIM)
    set(${variable} ${out} PARENT_SCOPE)
endfunction()
