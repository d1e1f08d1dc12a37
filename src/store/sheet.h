/* sheet.h - what a store takes as a sheet, and as the name of a file. */
#ifndef HALFTURN_STORE_SHEET_H
#define HALFTURN_STORE_SHEET_H

#include "inside.h"

/* A sheet as it is kept; zeroed it is empty. */
struct kept_sheet {
    struct ht_text json;
    char title[sizeof((struct ht_store_case *)0)->title];
};

enum ht_status ht_sheet_keep(struct kept_sheet *kept, const char *json,
                             size_t length, struct ht_error *err);
void ht_sheet_drop(struct kept_sheet *kept);

/* Text into a field of `size` bytes, cut where a character ends. */
void ht_text_into(char *field, size_t size, const char *text);

/* Text into a field of `size` bytes, cut where a character ends. */
void ht_text_into(char *field, size_t size, const char *text);

#endif
