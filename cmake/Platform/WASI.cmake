# CMake 3.25 has no platform file of this name; without one it warns.  Static libraries only.
set_property(GLOBAL PROPERTY TARGET_SUPPORTS_SHARED_LIBS FALSE)
