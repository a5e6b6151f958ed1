#!/usr/bin/env bash
# Each room keeps to the rooms and system headers it may know (ARCHITECTURE.md), and only cli prints.
# The build already hides headers of other rooms; this also refuses ways round it.
set -u
shopt -s lastpipe # complain counts in this shell, not in a pipe of its own
cd "$(dirname "$0")/.." || exit 3
bad=0

complain() { # MESSAGE, with the offending lines on stdin
    local lines
    lines=$(cat)
    [ -z "$lines" ] && return
    printf '%s\n' "$lines" | sed 's/$/   <- '"$1"'/'
    bad=$((bad + $(printf '%s\n' "$lines" | wc -l)))
}

room() { # NAME "rooms it may know" "regular expression of the system headers it may include"
    local name=$1 knows=$2 headers=$3 allowed
    [ -d "src/$name" ] || return
    allowed=$(printf '%s' "$name $knows" | tr ' ' '|')
    grep -rnE '^ *# *include *"[^"]*/' "src/$name" | grep -vE "\"($allowed)/[a-z0-9_]+\.h\"" |
        complain "$name may include only from: $name $knows"
    grep -rnE '^ *# *include *<' "src/$name" | grep -vE "<($headers)>" |
        complain "a system header that $name may not know"
}

# Words for text, files and the C library; not SQL, not HTTP.
libc='assert|ctype|errno|fcntl|float|inttypes|limits|locale|math|signal|stdalign|stdarg|stdbool|stddef|stdint|stdio|stdlib|string|strings|time|unistd|sys/stat|sys/types'

room core  ''                     '(assert|math|stdbool|stddef|stdint|float)\.h'
room model 'core'                 '(assert|math|stdbool|stddef|stdint|float|immintrin|limits|stdlib|string)\.h'
room util  ''                     "($libc|dirent)\.h"
room text  'model core util'      "($libc|libfyaml)\.h"
room store 'util'                 "($libc|dirent|sqlite3|nettle/sha2)\.h"
room http  'util'                 "($libc|arpa/inet|microhttpd|netinet/in|poll|sys/resource|sys/socket)\.h"
room api   'http store text model core util' "($libc|jansson)\.h"
room cli   'api http store text model core util' "($libc|jansson|dirent|sys/ioctl|termios)\.h"

# Rooms below cli hand results back.  util/memory.c has the one exception: no memory left.
grep -nE '\b(printf|puts|putchar|perror|vprintf)\(|\b(fprintf|fputs|fputc|fwrite|putc|vfprintf)\(.*\b(stdout|stderr)\b' \
    src/core/*.c src/model/*.c src/util/*.c src/text/*.c src/store/*.c src/http/*.c src/api/*.c 2>/dev/null |
    grep -v '^src/util/memory\.c:' |
    complain 'only cli prints'
# core allocates nothing.
grep -nE '\b(malloc|calloc|realloc|free)\(' src/core/*.c 2>/dev/null | complain 'core allocates nothing'

[ "$bad" -eq 0 ] && echo 'rooms: each keeps to its own' && exit 0
echo "rooms: $bad lines to change"
exit 1
