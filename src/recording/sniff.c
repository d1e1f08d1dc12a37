#include "sniff.h"
#include "foreign.h"
#include "texts.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum { HEAD_BYTES = 512 };

struct head {
    unsigned char byte[HEAD_BYTES];
    size_t length;
};

static const struct signature {
    size_t at;
    const char *bytes;
    size_t length;
    enum file_kind kind;
} signatures[] = {
    { 0, "RIFF", 4, FILE_RIFF },  { 0, "RF64", 4, FILE_RIFF },
    { 0, "fLaC", 4, FILE_AUDIO }, { 0, "OggS", 4, FILE_AUDIO },
    { 0, "ID3", 3, FILE_AUDIO },  { 0, "FORM", 4, FILE_AUDIO },
    { 0, "caff", 4, FILE_AUDIO },
};

static bool has(const struct head *head, size_t at, const char *bytes,
                size_t length)
{
    return head->length >= at + length &&
           memcmp(head->byte + at, bytes, length) == 0;
}

/* An MPEG audio frame: eleven set bits, a layer and a bit rate that exist
 * (ISO/IEC 11172-3, 2.4.2.3). */
static bool is_mpeg_frame(const struct head *head)
{
    const unsigned char *b = head->byte;
    return head->length >= 4 && b[0] == 0xff && (b[1] & 0xe0) == 0xe0 &&
           (b[1] & 0x06) != 0 && (b[2] & 0xf0) != 0xf0;
}

static bool is_text(const struct head *head)
{
    for (size_t i = 0; i < head->length; i++) {
        unsigned char c = head->byte[i];
        if (c < 0x20 && c != '\t' && c != '\n' && c != '\r')
            return false;
        if (c == 0x7f)
            return false;
    }
    return true;
}

/* A table of numbers holds digits and separators early; a letter does not. */
static bool may_be_table(const struct head *head)
{
    size_t digits = 0, separators = 0;
    for (size_t i = 0; i < head->length; i++) {
        unsigned char c = head->byte[i];
        digits += c >= '0' && c <= '9';
        separators += c == ',' || c == ';' || c == '\t';
    }
    return digits > 0 && separators > 0;
}

static enum ht_status refuse_unknown(const char *path, const struct head *head,
                                     struct ht_error *err)
{
    char hex[3 * 8 + 1] = "";
    size_t used = 0;
    for (size_t i = 0; i < 8 && i < head->length; i++)
        used += (size_t)snprintf(hex + used, sizeof hex - used,
                                 i ? " %02x" : "%02x", head->byte[i]);
    return ht_fail(err, RECORDING_KIND_UNKNOWN, path, hex);
}

static enum ht_status refuse_prose(const char *path, const struct head *head,
                                   struct ht_error *err)
{
    size_t length = 0;
    while (length < 40 && length < head->length &&
           head->byte[length] >= 0x20 && head->byte[length] < 0x7f)
        length++;
    return ht_fail(err, RECORDING_IS_PROSE, path, (int)length,
                   (const char *)head->byte);
}

static enum ht_status read_head(const char *path, struct head *head,
                                struct ht_error *err)
{
    struct stat known;
    if (stat(path, &known) == 0 && !S_ISREG(known.st_mode) &&
        !S_ISDIR(known.st_mode)) /* opening a pipe could wait for ever */
        return ht_fail(err, RECORDING_IS_PIPE, path);
    FILE *file = fopen(path, "rb");
    if (!file)
        return ht_fail(err, RECORDING_CANNOT_OPEN, path, strerror(errno));
    enum ht_status status = HT_OK;
    if (fstat(fileno(file), &known) == 0 && S_ISDIR(known.st_mode))
        status = ht_fail(err, RECORDING_IS_FOLDER, path);
    else if (known.st_size == 0 && S_ISREG(known.st_mode))
        status = ht_fail(err, RECORDING_EMPTY, path);
    if (status == HT_OK) {
        head->length = fread(head->byte, 1, sizeof head->byte, file);
        if (head->length == 0)
            status = ht_fail(err, RECORDING_NOTHING_READ, path);
    }
    (void)fclose(file);
    return status;
}

enum ht_status ht_sniff_file(const char *path, enum file_kind *kind,
                             struct ht_error *err)
{
    struct head head = { .length = 0 };
    enum ht_status status = read_head(path, &head, err);
    if (status != HT_OK)
        return status;
    for (size_t s = 0; s < sizeof signatures / sizeof signatures[0]; s++) {
        const struct signature *mark = &signatures[s];
        if (has(&head, mark->at, mark->bytes, mark->length)) {
            *kind = mark->kind;
            return HT_OK;
        }
    }
    if (is_mpeg_frame(&head)) {
        *kind = FILE_AUDIO;
        return HT_OK;
    }
    status = ht_foreign_refuse(path, head.byte, head.length, err);
    if (status != HT_OK)
        return status;
    if (!is_text(&head))
        return refuse_unknown(path, &head, err);
    if (!may_be_table(&head))
        return refuse_prose(path, &head, err);
    *kind = FILE_TABLE;
    return HT_OK;
}
