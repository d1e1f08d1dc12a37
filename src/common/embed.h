/* embed.h - puts a file of the source tree into the program as bytes.
 *
 * EMBED(name, "causes/catalogue.yaml") defines name[] and name_end[]; one byte
 * 0 follows the last, so that text can be read as a C string. CMake knows the
 * files (library_data), so an edit rebuilds the object.
 */
#ifndef HALFTURN_COMMON_EMBED_H
#define HALFTURN_COMMON_EMBED_H

#include <stddef.h>
#include <stdint.h>

#define EMBED(name, path)                                                      \
    __asm__(".section .rodata\n.global " #name "\n.hidden " #name "\n" #name   \
            ":\n.incbin \"" HALFTURN_SOURCE_DIR "/" path "\"\n"                \
            ".global " #name "_end\n.hidden " #name "_end\n" #name             \
            "_end:\n.byte 0\n.previous\n");                                    \
    extern const char name[], name##_end[]

/* Bytes of it, without the closing 0. By integers: C leaves the difference of
 * pointers to two objects undefined. */
#define EMBED_LENGTH(name)                                                     \
    ((size_t)((uintptr_t)(name##_end) - (uintptr_t)(name)))

#endif
