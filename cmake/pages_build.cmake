# Run by cmake -P: NODE NPM WEB PAGES EMBED OUT, as cmake/pages.cmake gives them.
cmake_minimum_required(VERSION 3.25)

# Without pages, and why.
function(without why)
    message(STATUS "The pages were not built: ${why}")
    file(MAKE_DIRECTORY ${PAGES})
    file(WRITE ${PAGES}/why "${why}")
    execute_process(COMMAND ${EMBED} --table st_pages ${OUT} why=${PAGES}/why COMMAND_ERROR_IS_FATAL ANY)
endfunction()

# Packages of web/package-lock.json, once: npm leaves its own lock file beside them.
function(install_packages result)
    set(${result} 0 PARENT_SCOPE)
    file(LOCK ${WEB}/node_modules.lock GUARD FUNCTION RESULT_VARIABLE ignored) # several builds may be at it
    if(EXISTS ${WEB}/node_modules/.package-lock.json AND
       NOT ${WEB}/package-lock.json IS_NEWER_THAN ${WEB}/node_modules/.package-lock.json)
        return()
    endif()
    execute_process(COMMAND ${NPM} ci --no-audit --no-fund --ignore-scripts WORKING_DIRECTORY ${WEB}
        RESULT_VARIABLE code OUTPUT_QUIET)
    set(${result} ${code} PARENT_SCOPE)
endfunction()

if(NOT NODE OR NOT NPM)
    without("node and npm were not there")
    return()
endif()
install_packages(code)
if(NOT code EQUAL 0)
    without("npm ci could not install what they need (is the network there?)")
    return()
endif()
execute_process(COMMAND ${NODE} build.mjs --out ${PAGES} WORKING_DIRECTORY ${WEB} RESULT_VARIABLE code)
if(NOT code EQUAL 0 OR NOT EXISTS ${PAGES}/index.html)
    without("web/build.mjs ended with an error; it is shown where the build was run")
    return()
endif()
file(GLOB names RELATIVE ${PAGES} ${PAGES}/*)
set(files)
foreach(name IN LISTS names)
    list(APPEND files ${name}=${PAGES}/${name})
endforeach()
execute_process(COMMAND ${EMBED} --table st_pages ${OUT} ${files} COMMAND_ERROR_IS_FATAL ANY)
