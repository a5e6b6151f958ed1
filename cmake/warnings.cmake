# st_warnings: the language, the floating-point rule and the warnings that every target of ours is built with.
add_library(st_warnings INTERFACE)
target_compile_options(st_warnings INTERFACE
    -std=c17
    -ffp-contract=off           # the same bits from gcc, clang and every -O level
    -fno-math-errno             # sqrt as one instruction, the same bits: nobody looks at errno
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wdouble-promotion -Wundef
    -Wstrict-prototypes -Wmissing-prototypes -Wold-style-definition -Wwrite-strings -Wcast-qual
    -Wformat=2 -Wvla
    $<$<BOOL:${ST_WERROR}>:-Werror>)
# POSIX beside C17 (getline, isatty, localtime_r); core and model do not need it and do not get it.
add_library(st_posix INTERFACE)
target_compile_definitions(st_posix INTERFACE _POSIX_C_SOURCE=200809L)
