#ifndef ST_TEXT_TEXT_ROOM_H
#define ST_TEXT_TEXT_ROOM_H

#include <stddef.h>

/* Where a text of a given room is put together; cut at the end of the room, always closed.  size > 0, n < size. */
struct st_text_room {
    char *buf;
    size_t size, n;
};

__attribute__((format(printf, 2, 3))) void st_text_put(struct st_text_room *o, const char *format, ...);

#endif
