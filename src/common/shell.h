/* shell.h - a word as it must be typed so that a shell reads it as one. */
#ifndef HALFTURN_COMMON_SHELL_H
#define HALFTURN_COMMON_SHELL_H

#include "halfturn/text.h"

/* Bare where that is safe, else in single quotes; $'...' where it holds control
 * characters, so that it stays in its line and a terminal obeys none. A name
 * that begins with '-' gets "./" before it, so that no program takes it for an
 * option. */
void ht_text_shell_word(struct ht_text *text, const char *word);

#endif
