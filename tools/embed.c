/* Turn files into one C file: embed [--table TABLE] OUT.c FILE...
 * Writes the table st_embedded[] (or TABLE[]) of src/util/embedded.h.  A file's name in it is the argument as given;
 * of NAME=FILE it is NAME. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static _Noreturn void fail(const char *what, const char *name)
{
    fprintf(stderr, "embed: cannot %s '%s': %s\n", what, name, strerror(errno));
    exit(3);
}

/* One byte array, closed by a NUL that is not counted.  Returns the count. */
static unsigned long write_bytes(FILE *out, const char *name, int number)
{
    FILE *in = fopen(name, "rb");
    if (!in)
        fail("open", name);

    unsigned long count = 0;
    fprintf(out, "static const unsigned char file_%d[] = {", number);
    for (int c = getc(in); c != EOF; c = getc(in))
        fprintf(out, "%s%d,", count++ % 24 ? "" : "\n    ", c);
    fputs("0 };\n\n", out);
    if (ferror(in) || fclose(in) != 0)
        fail("read", name);
    return count;
}

static const char *path_of(const char *file)
{
    const char *equal = strchr(file, '=');
    return equal ? equal + 1 : file;
}

static void write_name(FILE *out, const char *name)
{
    for (; *name && *name != '='; name++) {
        if (*name == '"' || *name == '\\')
            putc('\\', out);
        putc(*name, out);
    }
}

int main(int argc, char **argv)
{
    const char *table = "st_embedded";
    if (argc > 2 && strcmp(argv[1], "--table") == 0) {
        table = argv[2];
        argc -= 2;
        argv += 2;
    }
    if (argc < 2) {
        fputs("usage: embed [--table TABLE] OUT.c FILE...\n", stderr);
        return 2;
    }
    FILE *out = fopen(argv[1], "w");
    unsigned long *sizes = calloc((size_t)argc, sizeof *sizes);
    if (!out || !sizes)
        fail("write", argv[1]);

    fputs("/* Made by tools/embed.c when the project is built; do not edit. */\n#include \"util/embedded.h\"\n\n", out);
    for (int i = 2; i < argc; i++)
        sizes[i] = write_bytes(out, path_of(argv[i]), i - 2);
    fprintf(out, "extern const struct st_embedded %s[];\nconst struct st_embedded %s[] = {\n", table, table);
    for (int i = 2; i < argc; i++) {
        fputs("    { \"", out);
        write_name(out, argv[i]);
        fprintf(out, "\", file_%d, %lu },\n", i - 2, sizes[i]);
    }
    fputs("    { 0, 0, 0 }\n};\n", out);
    free(sizes);
    if (ferror(out) || fclose(out) != 0)
        fail("write", argv[1]);
    return 0;
}
