#ifndef ST_UTIL_VERSION_H
#define ST_UTIL_VERSION_H

/* Of the program; CMakeLists.txt has it too. */
#define ST_VERSION "0.1.0"

#endif
