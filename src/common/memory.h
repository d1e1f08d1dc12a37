/* memory.h - every allocation of ours goes through here.
 *
 * One place, so that a test can make each allocation fail (ht_memory_permit)
 * and so that every size is multiplied with a check. Not for the memory of
 * foreign libraries.
 */
#ifndef HALFTURN_COMMON_MEMORY_H
#define HALFTURN_COMMON_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/* count * size zeroed bytes; NULL when out of memory, when the product
 * overflows, or when it is 0. Release with ht_release. */
void *ht_allocate(size_t count, size_t size);

/* The same, its bytes not set: for large arrays that are filled next. */
void *ht_reserve(size_t count, size_t size);

/* Grows an array to hold at least `wanted` items (doubling), keeps *room up
 * to date, zeroes the new part. False when out of memory: the array stays. */
bool ht_grow(void **array, size_t *room, size_t wanted, size_t item_size);

/* A copy of the first `length` bytes with a final 0; NULL: out of memory. */
char *ht_copy_text(const char *text, size_t length);

void ht_release(void *memory);

/* Arena: many small pieces, one release. A failed piece is NULL, sets
 * `failed` and leaves the arena usable. */
struct ht_arena {
    struct ht_arena_block *blocks;
    size_t used_bytes, limit_bytes; /* limit 0: none */
    bool failed;
    bool bare; /* bytes are not set: for what is filled before it is read */
};
void *ht_arena_get(struct ht_arena *arena, size_t count, size_t size);
char *ht_arena_text(struct ht_arena *arena, const char *text, size_t length);
void ht_arena_free(struct ht_arena *arena);

/* For a program, before anything else; the library leaves its caller's memory
 * alone. What is released stays at hand: fresh memory comes from the system
 * page by page, which costs more than filling it. The first 64 MB are large
 * pages where there are such; what is not touched costs nothing. A hint. */
void ht_memory_keep(void);

/* For tests: asked before each allocation when set; false makes it fail.
 * The only mutable state of the library; set it before any thread starts. */
extern bool (*ht_memory_permit)(size_t bytes);

#endif
