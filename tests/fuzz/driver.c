/* Runs one fuzz harness without libFuzzer, so that every build tries the seeds:
 *   fuzz_NAME SEED_FOLDER [MUTATIONS_A_SEED]
 * Each seed is given as it is, cut short at a few places, and with a fixed number of mutations.  The numbers
 * come from a generator with a fixed start, so a failure comes back on every run. */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { SEED_LIMIT = 1 << 16, GROWTH = 64 };

static uint64_t state = 0x9e3779b97f4a7c15u;

static size_t below(size_t n)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (size_t)(state % n);
}

/* Give exactly size bytes on the heap, so that a sanitizer sees a read past the end. */
static void try_bytes(const uint8_t *bytes, size_t size)
{
    uint8_t *copy = malloc(size ? size : 1);
    if (!copy)
        exit(3);
    if (size)
        memcpy(copy, bytes, size);
    LLVMFuzzerTestOneInput(copy, size);
    free(copy);
}

static size_t mutate(uint8_t *bytes, size_t size)
{
    static const char *const bits[] = { "\n", "  ", ":", "-", "\"", "'", "%", "/", "1e999", "-0", "nan", "\xc2\xbd",
                                        "\xff", "&a", "*a", "!", "{", "]", "#", "99999999999" };
    const size_t at = size ? below(size) : 0;
    const char *bit = bits[below(sizeof bits / sizeof bits[0])];
    const size_t n = strlen(bit);

    switch (size ? below(4) : 3) {
    case 0: /* flip a bit */
        bytes[at] = (uint8_t)(bytes[at] ^ (1u << below(8)));
        return size;
    case 1: /* drop a byte */
        memmove(bytes + at, bytes + at + 1, size - at - 1);
        return size - 1;
    case 2: /* another byte */
        bytes[at] = (uint8_t)below(256);
        return size;
    default: /* put in something that parsers stumble over */
        memmove(bytes + at + n, bytes + at, size - at);
        memcpy(bytes + at, bit, n);
        return size + n;
    }
}

static void try_seed(const uint8_t *seed, size_t size, unsigned mutations)
{
    static uint8_t work[SEED_LIMIT + GROWTH];

    try_bytes(seed, size);
    for (size_t part = 1; part < 8; part++)
        try_bytes(seed, size * part / 8);
    for (unsigned i = 0; i < mutations; i++) {
        size_t n = size;
        if (n)
            memcpy(work, seed, n);
        for (size_t edits = 1 + below(4); edits > 0; edits--)
            n = mutate(work, n);
        try_bytes(work, n);
    }
}

static int try_file(const char *folder, const char *name, unsigned mutations)
{
    static uint8_t seed[SEED_LIMIT];
    char path[4096];

    if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path)
        return 1;
    FILE *f = fopen(path, "rb");
    if (!f) {
        perror(path);
        return 1;
    }
    const size_t size = fread(seed, 1, sizeof seed, f);
    fclose(f);
    try_seed(seed, size, mutations);
    return 0;
}

int main(int argc, char **argv)
{
    const unsigned mutations = argc > 2 ? (unsigned)strtoul(argv[2], NULL, 10) : 200;
    int seeds = 0, failures = 0;

    if (argc < 2) {
        fputs("usage: fuzz_NAME SEED_FOLDER [MUTATIONS_A_SEED]\n", stderr);
        return 2;
    }
    struct dirent **names = NULL;
    const int count = scandir(argv[1], &names, NULL, alphasort);
    for (int i = 0; i < count; i++) {
        if (names[i]->d_name[0] != '.') {
            failures += try_file(argv[1], names[i]->d_name, mutations);
            seeds++;
        }
        free(names[i]);
    }
    free(names);
    if (seeds == 0) {
        fprintf(stderr, "no seeds in %s: put at least one valid input there\n", argv[1]);
        return 1;
    }
    printf("%d seeds, %u mutations of each\n", seeds, mutations);
    return failures != 0;
}
