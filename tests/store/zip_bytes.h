/* zip_bytes.h - zip archives made by the library, and broken by hand. */
#ifndef HALFTURN_TESTS_STORE_ZIP_BYTES_H
#define HALFTURN_TESTS_STORE_ZIP_BYTES_H

#include <stddef.h>

enum zip_part_kind { ZIP_PART_STORED, ZIP_PART_PACKED, ZIP_PART_LINK };
struct zip_part {
    const char *name;
    const void *bytes;
    size_t length;
    enum zip_part_kind kind;
};
void zip_make(const char *path, const struct zip_part *parts, size_t count);

struct zip_bytes {
    size_t length;
    unsigned char bytes[200000];
};
void zip_bytes_read(struct zip_bytes *zip, const char *path);

/* Wherever `from` stands. */
void zip_put_for(struct zip_bytes *zip, const char *from, const char *to,
                 size_t length);

/* Of an entry, before its content and in the table at the end alike. */
enum zip_field {
    ZIP_FIELD_FLAGS, ZIP_FIELD_METHOD, ZIP_FIELD_PACKED, ZIP_FIELD_SIZE
};
void zip_change_entry(struct zip_bytes *zip, const char *name,
                      enum zip_field field, unsigned value);
unsigned zip_entry_field(const struct zip_bytes *zip, const char *name,
                         enum zip_field field);
void zip_change_on_disk(const char *path, const char *name,
                        enum zip_field field, unsigned value);

#endif
