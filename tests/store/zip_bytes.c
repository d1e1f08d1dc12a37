#include "zip_bytes.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <zip.h>

static void demand(int holds)
{
    if (!holds)
        abort();
}

static void add(zip_t *zip, const struct zip_part *part)
{
    zip_source_t *source =
        zip_source_buffer(zip, part->bytes, part->length, 0);
    zip_int64_t index = zip_file_add(zip, part->name, source, 0);
    demand(index >= 0);
    demand(zip_set_file_compression(zip, (zip_uint64_t)index,
                                    part->kind == ZIP_PART_PACKED
                                        ? ZIP_CM_DEFLATE
                                        : ZIP_CM_STORE,
                                    1) == 0);
    if (part->kind == ZIP_PART_LINK)
        demand(zip_file_set_external_attributes(
                   zip, (zip_uint64_t)index, 0, ZIP_OPSYS_UNIX,
                   (zip_uint32_t)0120777 << 16) == 0);
}

void zip_make(const char *path, const struct zip_part *parts, size_t count)
{
    zip_t *zip = zip_open(path, ZIP_CREATE | ZIP_EXCL, NULL);
    demand(zip != NULL);
    for (size_t i = 0; i < count; i++)
        add(zip, &parts[i]);
    demand(zip_close(zip) == 0);
}

void zip_bytes_read(struct zip_bytes *zip, const char *path)
{
    FILE *file = fopen(path, "rb");
    demand(file != NULL);
    memset(zip->bytes, 0, sizeof zip->bytes);
    zip->length = fread(zip->bytes, 1, sizeof zip->bytes, file);
    demand(zip->length < sizeof zip->bytes && fclose(file) == 0);
}

void zip_put_for(struct zip_bytes *zip, const char *from, const char *to,
                 size_t length)
{
    int found = 0;
    for (size_t i = 0; i + length <= zip->length; i++)
        if (memcmp(zip->bytes + i, from, length) == 0) {
            memcpy(zip->bytes + i, to, length);
            found++;
        }
    demand(found > 0);
}

/* From the beginning of the record: before the content, in the table. */
static const struct {
    size_t local, central, bytes;
} fields[] = {
    [ZIP_FIELD_FLAGS] = { 6, 8, 2 },
    [ZIP_FIELD_METHOD] = { 8, 10, 2 },
    [ZIP_FIELD_PACKED] = { 18, 20, 4 },
    [ZIP_FIELD_SIZE] = { 22, 24, 4 },
};

/* Where the field stands if a record of that entry begins here; 0: none. */
static size_t field_at(const unsigned char *at, size_t left, const char *name,
                       enum zip_field field)
{
    size_t length = strlen(name);
    if (left >= 30 + length && memcmp(at, "PK\3\4", 4) == 0 &&
        at[26] == length && memcmp(at + 30, name, length) == 0)
        return fields[field].local;
    if (left >= 46 + length && memcmp(at, "PK\1\2", 4) == 0 &&
        at[28] == length && memcmp(at + 46, name, length) == 0)
        return fields[field].central;
    return 0;
}

static void put(unsigned char *at, size_t bytes, unsigned value)
{
    for (size_t i = 0; i < bytes; i++)
        at[i] = (unsigned char)(value >> 8 * i);
}

static void change(unsigned char *bytes, size_t length, const char *name,
                   enum zip_field field, unsigned value)
{
    int found = 0;
    for (size_t i = 0; i < length; i++) {
        size_t at = field_at(bytes + i, length - i, name, field);
        if (at > 0)
            put(bytes + i + at, fields[field].bytes, value);
        found += at > 0;
    }
    demand(found == 2);
}

void zip_change_entry(struct zip_bytes *zip, const char *name,
                      enum zip_field field, unsigned value)
{
    change(zip->bytes, zip->length, name, field, value);
}

unsigned zip_entry_field(const struct zip_bytes *zip, const char *name,
                         enum zip_field field)
{
    for (size_t i = 0; i < zip->length; i++) {
        size_t at = field_at(zip->bytes + i, zip->length - i, name, field);
        if (at > 0) {
            unsigned value = 0;
            for (size_t b = fields[field].bytes; b-- > 0;)
                value = value << 8 | zip->bytes[i + at + b];
            return value;
        }
    }
    return 0;
}

void zip_change_on_disk(const char *path, const char *name,
                        enum zip_field field, unsigned value)
{
    FILE *file = fopen(path, "r+b");
    demand(file && fseek(file, 0, SEEK_END) == 0);
    size_t length = (size_t)ftell(file);
    unsigned char *bytes = malloc(length);
    demand(bytes && fseek(file, 0, SEEK_SET) == 0 &&
           fread(bytes, 1, length, file) == length);
    change(bytes, length, name, field, value);
    demand(fseek(file, 0, SEEK_SET) == 0 &&
           fwrite(bytes, 1, length, file) == length && fclose(file) == 0);
    free(bytes);
}
