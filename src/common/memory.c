#include "memory.h"

#include "pages.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#if defined(__GLIBC__)
#include <malloc.h>
#else
enum { M_MMAP_THRESHOLD, M_TRIM_THRESHOLD };
static int mallopt(int option, int value)
{
    (void)option;
    (void)value;
    return 0;
}
#endif

bool (*ht_memory_permit)(size_t bytes) = NULL;

enum { FIRST_BLOCK_BYTES = 1024, BLOCK_BYTES = 16384 };
enum { ALIGNMENT = 16, KEPT_BYTES = 64 << 20 };

struct ht_arena_block {
    struct ht_arena_block *next;
    size_t room_bytes, used_bytes;
    _Alignas(ALIGNMENT) unsigned char bytes[];
};

static bool product(size_t count, size_t size, size_t *bytes)
{
    return !__builtin_mul_overflow(count, size, bytes) && *bytes > 0 &&
           *bytes <= PTRDIFF_MAX;
}

static bool permitted(size_t bytes)
{
    return !ht_memory_permit || ht_memory_permit(bytes);
}

void ht_memory_keep(void)
{
    if (ht_memory_permit) /* a test counts what is asked for */
        return;
    (void)mallopt(M_MMAP_THRESHOLD, 1 << 30);
    (void)mallopt(M_TRIM_THRESHOLD, 1 << 30);
    void *heap = malloc(KEPT_BYTES);
    if (heap)
        ht_pages_will_be_filled(heap, KEPT_BYTES);
    free(heap);
}

void *ht_allocate(size_t count, size_t size)
{
    size_t bytes;
    if (!product(count, size, &bytes) || !permitted(bytes))
        return NULL;
    return calloc(1, bytes);
}

void *ht_reserve(size_t count, size_t size)
{
    size_t bytes;
    if (!product(count, size, &bytes) || !permitted(bytes))
        return NULL;
    return malloc(bytes);
}

bool ht_grow(void **array, size_t *room, size_t wanted, size_t item_size)
{
    if (wanted <= *room)
        return true;
    size_t next = *room ? *room : 8;
    while (next < wanted)
        if (__builtin_mul_overflow(next, (size_t)2, &next))
            return false;
    size_t bytes;
    if (!product(next, item_size, &bytes) || !permitted(bytes))
        return false;
    unsigned char *grown = realloc(*array, bytes);
    if (!grown)
        return false;
    memset(grown + *room * item_size, 0, bytes - *room * item_size);
    *array = grown;
    *room = next;
    return true;
}

char *ht_copy_text(const char *text, size_t length)
{
    char *copy = ht_allocate(length + 1, 1);
    if (copy && length)
        memcpy(copy, text, length);
    return copy;
}

void ht_release(void *memory)
{
    free(memory);
}

/* As much as there is already: most documents are short. */
static size_t next_room(const struct ht_arena *arena)
{
    if (arena->used_bytes < FIRST_BLOCK_BYTES)
        return FIRST_BLOCK_BYTES;
    return arena->used_bytes < BLOCK_BYTES ? arena->used_bytes : BLOCK_BYTES;
}

static struct ht_arena_block *block_with(struct ht_arena *arena, size_t bytes)
{
    struct ht_arena_block *block = arena->blocks;
    if (block && block->room_bytes - block->used_bytes >= bytes)
        return block;
    size_t room = next_room(arena);
    if (room < bytes)
        room = bytes;
    if (arena->limit_bytes && arena->used_bytes + room > arena->limit_bytes)
        return NULL;
    block = arena->bare ? ht_reserve(1, sizeof *block + room)
                        : ht_allocate(1, sizeof *block + room);
    if (!block)
        return NULL;
    block->room_bytes = room;
    block->used_bytes = 0;
    block->next = arena->blocks;
    arena->blocks = block;
    arena->used_bytes += room;
    return block;
}

void *ht_arena_get(struct ht_arena *arena, size_t count, size_t size)
{
    size_t bytes;
    struct ht_arena_block *block = NULL;
    if (product(count, size, &bytes) && bytes <= PTRDIFF_MAX - ALIGNMENT) {
        bytes = (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
        block = block_with(arena, bytes);
    }
    if (!block) {
        arena->failed = true;
        return NULL;
    }
    void *piece = block->bytes + block->used_bytes;
    block->used_bytes += bytes;
    return piece;
}

char *ht_arena_text(struct ht_arena *arena, const char *text, size_t length)
{
    char *copy = ht_arena_get(arena, length + 1, 1);
    if (copy && length)
        memcpy(copy, text, length);
    return copy;
}

void ht_arena_free(struct ht_arena *arena)
{
    struct ht_arena_block *block = arena->blocks;
    while (block) {
        struct ht_arena_block *next = block->next;
        ht_release(block);
        block = next;
    }
    *arena = (struct ht_arena){ .limit_bytes = arena->limit_bytes,
                                .bare = arena->bare };
}
