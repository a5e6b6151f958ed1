/* Pictures of a batch, kept in the book. */
#include "cli/batch.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "cli/page.h"
#include "cli/read_recipe.h"
#include "store/picture.h"
#include "util/file.h"

enum { MOST_BYTES = 8 << 20 };

static const char *const KNOWN[] = { "--words", "--save", "--on", "--force", NULL };

/* By its first bytes: JPEG (ISO/IEC 10918-1, marker SOI), PNG (ISO/IEC 15948, 5.2), WebP (RIFF container); NULL else. */
static const char *type_of(const char *bytes, size_t n)
{
    if (n > 3 && memcmp(bytes, "\xff\xd8\xff", 3) == 0)
        return "image/jpeg";
    if (n > 8 && memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) == 0)
        return "image/png";
    if (n > 12 && memcmp(bytes, "RIFF", 4) == 0 && memcmp(bytes + 8, "WEBP", 4) == 0)
        return "image/webp";
    return NULL;
}

static int add(struct batch *b, const struct book_batch *row, const char *file, const char *day, const char *words)
{
    struct st_buf bytes = { 0 };
    struct book_photo photo;
    const int error = st_file_read(file, MOST_BYTES, &bytes);
    const char *type = error ? NULL : type_of(st_buf_text(&bytes), bytes.length);
    if (error == EFBIG)
        cli_error(file, "it is larger than 8 MiB", "make the picture smaller; a screen shows no more than 1 MiB of it");
    else if (error == ENOENT)
        cli_error(file, "there is no such file", "write its name with its folder, for example pictures/jar.jpg");
    else if (error) {
        st_buf_done(&bytes);
        return cli_cannot_read(file, error);
    } else if (!type)
        cli_error(file, "it is no picture that is known here", "a JPEG, PNG or WebP file is taken");
    if (!type) {
        st_buf_done(&bytes);
        return ST_EXIT_INPUT;
    }
    book_row_init(BOOK_PHOTO, &photo);
    photo.batch_id = row->id;
    photo.at = strcmp(day, b->now.day) == 0 ? b->now.moment : day;
    photo.words = words ? words : "";
    photo.type = type;
    enum book_status s = batch_deed(b, "%s: added a photo%s%.200s", row->code, words ? ", " : "", words ? words : "");
    if (s == BOOK_OK)
        s = book_put_picture(b->book, st_buf_text(&bytes), bytes.length, &photo.picture_id);
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_PHOTO, &photo, &photo.id);
    st_buf_done(&bytes);
    const int code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(
            json_pack("{s:s, s:I, s:s}", "batch", row->code, "photo", (json_int_t)photo.id, "type", type));
    cli_say(0, 2, "%s: photo %lld is in the book; stillroom batch photo %s --save %lld FILE takes it out again.",
            row->code, (long long)photo.id, row->code, (long long)photo.id);
    return ST_EXIT_DONE;
}

static int save(struct batch *b, const struct book_batch *row, const char *number, const char *file, bool force)
{
    struct book_photo photo;
    struct book_picture picture;
    struct st_buf there = { 0 };
    char *end;
    const long id = strtol(number, &end, 10);
    enum book_status s = *end ? BOOK_NONE : book_get(b->book, BOOK_PHOTO, id, &b->arena, &photo);
    if (s == BOOK_NONE || (s == BOOK_OK && photo.batch_id != row->id)) {
        cli_error(number, "this batch has no photo of that number", "\"stillroom batch show\" tells their numbers");
        return ST_EXIT_INPUT;
    }
    if (s == BOOK_OK)
        s = book_get(b->book, BOOK_PICTURE, photo.picture_id, &b->arena, &picture);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    const bool exists = strcmp(file, "-") != 0 && st_file_read(file, 1, &there) != ENOENT;
    st_buf_done(&there);
    if (exists && !force) {
        cli_error(file, "there is a file of this name", "choose another name, or add --force to write over it");
        return ST_EXIT_INPUT;
    }
    const int error = st_file_write(file, picture.data.bytes, picture.data.size);
    if (error) {
        cli_error(file, strerror(error), "look at the folder and the disk");
        return ST_EXIT_SYSTEM;
    }
    if (b->c->json && strcmp(file, "-") != 0)
        return cli_json_print(
            json_pack("{s:s, s:I, s:o}", "batch", row->code, "photo", (json_int_t)id, "file", st_doc_text(file)));
    return ST_EXIT_DONE;
}

int batch_photo(struct batch *b)
{
    struct book_batch row;
    char day[11];
    bool bad = false;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *words = cli_option(b->c, "--words", &bad), *number = cli_option(b->c, "--save", &bad);
    const bool force = cli_flag(b->c, "--force");
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    const int code = batch_named(b, &row);
    const char *file = code == ST_EXIT_DONE ? batch_word(b, "no file is named", "photo B14 jar.jpg") : NULL;
    if (!file || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    return number ? save(b, &row, number, file, force) : add(b, &row, file, day, words);
}
