/* The rows of the shelf, sorted by where they go. */
#include "sizes.h"

#include "note.h"
#include "take.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <stdlib.h>

/* Wedges go under the axle, plates everywhere else. */
static enum ht_shim_kind kind_at(enum ht_shim_place at)
{
    return at == HT_SHIM_AXLE ? HT_SHIM_WEDGE : HT_SHIM_PLATE;
}

static const struct ht_numbers *steps_of(const struct ht_sheet_shim *row)
{
    return row->kind == HT_SHIM_WEDGE ? &row->steps_rad : &row->steps_m;
}

/* The sizes of a row that fits such a place; NULL: it does not. */
static const struct ht_numbers *steps_at(const struct ht_shims_input *input,
                                         size_t index, enum ht_shim_place at)
{
    const struct ht_sheet_shim *row = &input->sheet->shims[index];
    bool fits = row->at == at && row->kind == kind_at(at) &&
                ht_take_shim(input, row);
    return fits ? steps_of(row) : NULL;
}

static size_t count_pieces(const struct ht_shims_input *input,
                           enum ht_shim_place at)
{
    const struct ht_sheet *sheet = input->sheet;
    size_t pieces = 0;
    for (size_t i = 0; i < sheet->shim_count; i++) {
        const struct ht_numbers *steps = steps_at(input, i, at);
        pieces += steps ? steps->count : 0;
    }
    return pieces;
}

bool ht_sizes_any(const struct ht_shims_input *input, enum ht_shim_place at)
{
    return count_pieces(input, at) > 0;
}

/* To a nanometre, or as small an angle: 3 + 10 mm is 13 mm. */
static long long key(const struct size *size)
{
    return llround(1e9 * size->amount);
}

static int by_amount(const void *a, const void *b)
{
    const struct size *x = a, *y = b;
    if (key(x) != key(y))
        return key(x) < key(y) ? -1 : 1;
    if (x->plate_m[1] != y->plate_m[1])
        return x->plate_m[1] < y->plate_m[1] ? -1 : 1;
    return 0;
}

static void keep_each_once(struct sizes *sizes)
{
    size_t kept = 0;
    for (size_t i = 0; i < sizes->count; i++)
        if (kept == 0 || key(&sizes->size[i]) != key(&sizes->size[kept - 1]))
            sizes->size[kept++] = sizes->size[i];
    sizes->count = kept;
}

static void put_pieces(struct sizes *sizes, const struct ht_shims_input *input,
                       enum ht_shim_place at)
{
    const struct ht_sheet *sheet = input->sheet;
    for (size_t i = 0; i < sheet->shim_count; i++) {
        const struct ht_numbers *steps = steps_at(input, i, at);
        for (size_t s = 0; steps && s < steps->count; s++)
            sizes->size[sizes->count++] =
                (struct size){ steps->value[s], { steps->value[s], 0 } };
    }
}

/* The thinner one first. */
static void put_stacks(struct sizes *sizes)
{
    size_t pieces = sizes->count;
    for (size_t a = 0; a < pieces; a++)
        for (size_t b = a + 1; b < pieces; b++) {
            double one = sizes->size[a].amount, other = sizes->size[b].amount;
            sizes->size[sizes->count++] = (struct size){
                one + other, { fmin(one, other), fmax(one, other) }
            };
        }
}

enum ht_status ht_sizes_take(struct sizes *sizes,
                             const struct ht_shims_input *input,
                             enum ht_shim_place at, bool stack,
                             struct ht_error *err)
{
    size_t pieces = count_pieces(input, at);
    size_t stacks = stack && pieces > 0 ? pieces * (pieces - 1) / 2 : 0;
    *sizes = (struct sizes){ .size = ht_allocate(pieces + stacks + 1,
                                                 sizeof *sizes->size) };
    if (!sizes->size)
        return ht_fail(err, REPAIR_NO_MEMORY);
    put_pieces(sizes, input, at);
    if (stack)
        put_stacks(sizes);
    qsort(sizes->size, sizes->count, sizeof *sizes->size, by_amount);
    keep_each_once(sizes);
    return HT_OK;
}

void ht_sizes_free(struct sizes *sizes)
{
    ht_release(sizes->size);
    *sizes = (struct sizes){ 0 };
}

/* ---- rows that go nowhere ------------------------------------------------ */

/* One sentence a row: mended, it may want the next. */
static void say_row(struct ht_shims *shims, const struct ht_sheet_shim *row,
                    size_t number)
{
    if (row->at == HT_SHIM_NOWHERE)
        ht_repair_note(shims, REPAIR_ROW_NOWHERE, number);
    else if (row->kind == HT_SHIM_KIND_UNKNOWN)
        ht_repair_note(shims, REPAIR_ROW_NO_KIND, number);
    else if (row->kind != kind_at(row->at) && row->kind == HT_SHIM_WEDGE)
        ht_repair_note(shims, REPAIR_ROW_WEDGE, number);
    else if (row->kind != kind_at(row->at))
        ht_repair_note(shims, REPAIR_ROW_PLATE, number);
    else if (steps_of(row)->count == 0 && row->kind == HT_SHIM_WEDGE)
        ht_repair_note(shims, REPAIR_ROW_NO_DEGREES, number);
    else if (steps_of(row)->count == 0)
        ht_repair_note(shims, REPAIR_ROW_NO_MM, number);
    else if (row->kind == HT_SHIM_WEDGE && row->steps_m.count > 0)
        ht_repair_note(shims, REPAIR_ROW_WEDGE_MM, number);
    else if (row->kind == HT_SHIM_PLATE && row->steps_rad.count > 0)
        ht_repair_note(shims, REPAIR_ROW_PLATE_DEGREES, number);
}

void ht_sizes_say(struct ht_shims *shims, const struct ht_shims_input *input)
{
    const struct ht_sheet *sheet = input->sheet;
    for (size_t i = 0; i < sheet->shim_count; i++)
        if (ht_take_shim(input, &sheet->shims[i]))
            say_row(shims, &sheet->shims[i], i + 1);
}
