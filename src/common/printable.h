/* printable.h - text from outside that is shown in one line. */
#ifndef HALFTURN_COMMON_PRINTABLE_H
#define HALFTURN_COMMON_PRINTABLE_H

#include <stddef.h>

/* Bytes of the control character (C0, DEL; C1, and those that turn the way text
 * runs, in UTF-8) that begins here; 0: none does. A name of a file may hold
 * any, and a terminal obeys them. */
size_t ht_control_length(const char *text);

/* Bytes of the character of UTF-8 that begins here, of `left` that may be read;
 * 0: none does, or it is cut. A byte 0 is one; where text ends with it, `left`
 * may be any number from 4 on. */
size_t ht_character_length(const char *text, size_t left);

/* In place: a control character, also a newline, becomes '?', and so does a
 * byte that is no whole character of UTF-8. */
void ht_make_printable(char *text);

#endif
