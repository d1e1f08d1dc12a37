/* address.h - the part of a URL before and behind '?', taken apart strictly. */
#ifndef HALFTURN_PAGE_ADDRESS_H
#define HALFTURN_PAGE_ADDRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* %xx into bytes. False: a '%' without two digits, %00, a control character,
 * no UTF-8, or no room. */
bool address_decode(char *to, size_t room, const char *from, size_t length);

/* A whole number from 1 on, up to 15 digits and nothing else. */
bool address_whole(const char *text, size_t length, int64_t *number);

/* Whether `path`, as it came, is that of `pattern`; fills what '#' and '*'
 * stand for. A '/' that was written as %2f is no part of a name: no match. */
bool address_matches(const char *pattern, const char *path, int64_t *number,
                     char *name, size_t room);

#endif
