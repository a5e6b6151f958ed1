# Toolchain: wasm32-wasi by Debian's clang-14, lld-14, wasi-libc and libclang-rt-14-dev-wasm32.
# Only core, model and the check program are built; ctest runs them through node.
set(CMAKE_SYSTEM_NAME WASI)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang-14)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_AR llvm-ar-14)
set(CMAKE_RANLIB llvm-ranlib-14)
set(CMAKE_C_FLAGS_INIT "-mbulk-memory")
set(CMAKE_EXECUTABLE_SUFFIX .wasm)
set(CMAKE_EXECUTABLE_SUFFIX_C .wasm)
# wasm-opt, where somebody installed it, would be run by clang on any link that has -O: keep it out.
set(CMAKE_C_LINK_EXECUTABLE "<CMAKE_C_COMPILER> --target=wasm32-wasi <OBJECTS> -o <TARGET> <LINK_LIBRARIES>")
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_CROSSCOMPILING_EMULATOR node;${CMAKE_CURRENT_LIST_DIR}/../tools/run-wasi.mjs)
