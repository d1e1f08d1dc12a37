/* say.h - sentences with numbers, the same in every locale. */
#ifndef HALFTURN_SPEED_SAY_H
#define HALFTURN_SPEED_SAY_H

#include <stdarg.h>
#include <stddef.h>

/* As snprintf for %s, %u, %zu, %.Nf and %% alone; cut at the buffer's end. */
void ht_say(char *out, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void ht_say_list(char *out, size_t size, const char *format, va_list args);

#endif
