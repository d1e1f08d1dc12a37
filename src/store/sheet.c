#include "sheet.h"

#include "common/printable.h"
#include "document/source.h"
#include "halfturn/sheet.h"
#include "texts.h"

#include <string.h>

void ht_text_into(char *field, size_t size, const char *text)
{
    size_t length = strlen(text);
    if (length >= size) {
        length = size - 1;
        while (length > 0 && ((unsigned char)text[length] & 0xc0) == 0x80)
            length--;
    }
    memcpy(field, text, length);
    field[length] = '\0';
}

static bool holds_control(const char *name)
{
    for (; *name; name++)
        if (ht_control_length(name) > 0)
            return true;
    return false;
}

static bool is_plain(const char *name)
{
    size_t length = strlen(name);
    return length > 0 && length <= HT_STORE_NAME_MAX && name[0] != '.' &&
           !strpbrk(name, "/\\") && !strstr(name, "..") &&
           !holds_control(name) && ht_utf_8_ends(name, length) == length;
}

enum ht_status ht_store_check_name(const char *name, struct ht_error *err)
{
    if (is_plain(name))
        return HT_OK;
    return ht_fail(err, STORE_NAME_NOT_PLAIN, name, HT_STORE_NAME_MAX);
}

/* Every file that a sheet can name. */
static enum ht_status check_files(const struct ht_sheet *sheet,
                                  struct ht_error *err)
{
    enum ht_status status = HT_OK;
    for (size_t i = 0; i < sheet->drive_count && status == HT_OK; i++) {
        const struct ht_sheet_drive *drive = &sheet->drives[i];
        if (drive->recording)
            status = ht_store_check_name(drive->recording, err);
        if (status == HT_OK && drive->speed.file)
            status = ht_store_check_name(drive->speed.file, err);
    }
    return status;
}

enum ht_status ht_sheet_keep(struct kept_sheet *kept, const char *json,
                             size_t length, struct ht_error *err)
{
    struct ht_sheet sheet;
    *kept = (struct kept_sheet){ 0 };
    enum ht_status status =
        ht_sheet_read_text(&sheet, "sheet", json, length, NULL, err);
    if (status != HT_OK)
        return status;
    status = check_files(&sheet, err);
    if (status == HT_OK)
        status = ht_sheet_write_json(&kept->json, &sheet, err);
    if (status == HT_OK && sheet.title)
        ht_text_into(kept->title, sizeof kept->title, sheet.title);
    ht_sheet_free(&sheet);
    if (status != HT_OK)
        ht_sheet_drop(kept);
    return status;
}

void ht_sheet_drop(struct kept_sheet *kept)
{
    ht_text_free(&kept->json);
    *kept = (struct kept_sheet){ 0 };
}
