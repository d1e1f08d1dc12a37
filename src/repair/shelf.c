/* From the sizes on the shelf to what can be done at each place. */
#include "shelf.h"

#include "centres.h"
#include "note.h"
#include "take.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Minutes of work, one place (common practice, no source). */
static const double minutes_at[] = {
    [HT_SHIM_AXLE] = 90,    /* new U-bolts, both sides */
    [HT_SHIM_SUPPORT] = 30,
    [HT_SHIM_GEARBOX] = 40,
    [HT_SHIM_SPLINE] = 20,
};

double ht_shelf_minutes(enum ht_shim_place place)
{
    return minutes_at[place];
}

/* Two plates may lie on each other as long as this many combinations are not
 * passed; what is tried at most. */
enum { STACK_MOST = 1000000, TRIED_MOST = 4000000 };

/* ---- choices ----------------------------------------------------------- */

/* Room for one place's choices. */
static void put(struct shelf_place *place, struct ht_shim_work work)
{
    place->choice[place->choices++] = work;
}

static void put_wedge(struct shelf_place *place, const struct size *size)
{
    struct ht_shim_work work = { .place = HT_SHIM_AXLE,
                                 .member = place->member };
    for (int way = 1; way >= -1; way -= 2) {
        work.turn_rad = way * size->amount;
        put(place, work);
    }
}

static void put_plates(struct shelf_place *place, const struct size *size)
{
    struct ht_shim_work work = { .place = place->place,
                                 .member = place->member };
    memcpy(work.plate_m, size->plate_m, sizeof work.plate_m);
    for (int way = 1; way >= -1; way -= 2) {
        work.lift_m = way * size->amount;
        put(place, work);
    }
}

static void put_teeth(struct shelf_place *place, double spline_teeth)
{
    struct ht_shim_work work = { .place = HT_SHIM_SPLINE,
                                 .member = place->member };
    for (work.teeth = 1; work.teeth >= -1; work.teeth -= 2) {
        work.turn_rad = work.teeth * 2 * HT_PI / spline_teeth;
        put(place, work);
    }
}

/* The first choice: to leave it alone. Everything goes either way. */
static size_t choices_of(const struct shelf_place *place)
{
    bool teeth = place->place == HT_SHIM_SPLINE;
    return 1 + 2 * (teeth ? 1 : place->sizes.count);
}

static void put_choices(struct shelf_place *place,
                        const struct ht_shims_input *input)
{
    const struct ht_sheet *sheet = input->sheet;
    put(place, (struct ht_shim_work){ .place = HT_SHIM_NOWHERE });
    if (place->place == HT_SHIM_SPLINE)
        put_teeth(place,
                  sheet->drivelines[input->driveline_index].spline_teeth);
    for (size_t i = 0; i < place->sizes.count; i++)
        if (place->place == HT_SHIM_AXLE)
            put_wedge(place, &place->sizes.size[i]);
        else
            put_plates(place, &place->sizes.size[i]);
}

/* ---- places ------------------------------------------------------------ */

static void add_place(struct shelf *shelf, enum ht_shim_place place,
                      size_t member)
{
    if (shelf->places == HT_SHIM_PLACES_MAX)
        return;
    shelf->place[shelf->places++] = (struct shelf_place){
        .place = place, .member = member, .minutes = minutes_at[place]
    };
}

/* A wedge turns the axle: not where that turns the steering, nor where the
 * final drive is bolted to the body. */
static const char *no_wedge(const struct ht_shims_input *input)
{
    struct ht_sheet_axle axle = ht_take_axle(input);
    bool unknown = axle.steered == HT_ANSWER_UNKNOWN;
    if (unknown && ht_take_front_axle(input))
        return REPAIR_FRONT_AXLE;
    if (unknown && input->sheet->driveline_count > 1)
        return REPAIR_LINE_STEERED_UNKNOWN;
    if (unknown)
        return REPAIR_STEERED_UNKNOWN;
    if (axle.steered == HT_ANSWER_YES)
        return REPAIR_STEERED;
    return axle.kind == HT_AXLE_INDEPENDENT ? REPAIR_NO_RIGID_AXLE : NULL;
}

static void add_axle(struct shelf *shelf, struct ht_shims *shims,
                     const struct ht_shims_input *input, size_t member)
{
    if (!ht_sizes_any(input, HT_SHIM_AXLE))
        return;
    const char *why_not = no_wedge(input);
    if (why_not)
        ht_repair_note(shims, "%s", why_not);
    else
        add_place(shelf, HT_SHIM_AXLE, member);
}

static void add_supports(struct shelf *shelf, struct ht_shims *shims,
                         const struct ht_shims_input *input,
                         const struct ht_joint_centres *centres)
{
    struct supported carried = ht_centres_supported(centres);
    if (!ht_sizes_any(input, HT_SHIM_SUPPORT))
        return;
    if (carried.first == carried.end)
        ht_repair_note(shims, REPAIR_NO_SUPPORT);
    for (size_t m = carried.first; m < carried.end; m++)
        add_place(shelf, HT_SHIM_SUPPORT, m);
}

static void add_gearbox(struct shelf *shelf, struct ht_shims *shims,
                        const struct ht_shims_input *input,
                        const struct ht_joint_centres *centres)
{
    if (!ht_sizes_any(input, HT_SHIM_GEARBOX))
        return;
    if (centres->axle_in_front)
        ht_repair_note(shims, REPAIR_GEARBOX_FORWARD);
    else
        add_place(shelf, HT_SHIM_GEARBOX, 0);
}

/* The slip spline lies in the shaft at the axle (common practice, no source).
 */
static void add_spline(struct shelf *shelf, const struct ht_shims_input *input,
                       const struct ht_joint_centres *centres)
{
    size_t n = centres->line.members;
    const struct ht_sheet *sheet = input->sheet;
    if (n < 3 || input->driveline_index >= sheet->driveline_count ||
        isnan(sheet->drivelines[input->driveline_index].spline_teeth))
        return;
    add_place(shelf, HT_SHIM_SPLINE, centres->axle_in_front ? 1 : n - 2);
}

static void free_sizes(struct shelf *shelf)
{
    for (size_t i = 0; i < shelf->places; i++)
        ht_sizes_free(&shelf->place[i].sizes);
}

static enum ht_status take_sizes(struct shelf *shelf,
                                 const struct ht_shims_input *input, bool stack,
                                 struct ht_error *err)
{
    enum ht_status status = HT_OK;
    free_sizes(shelf);
    shelf->combinations = 1;
    for (size_t i = 0; i < shelf->places && status == HT_OK; i++) {
        struct shelf_place *place = &shelf->place[i];
        bool plates = stack && place->place != HT_SHIM_AXLE;
        if (place->place != HT_SHIM_SPLINE)
            status = ht_sizes_take(&place->sizes, input, place->place, plates,
                                   err);
        size_t choices = choices_of(place);
        shelf->combinations = shelf->combinations > SIZE_MAX / choices
                                  ? SIZE_MAX
                                  : shelf->combinations * choices;
    }
    return status;
}

static enum ht_status fill_all(struct shelf *shelf,
                               const struct ht_shims_input *input,
                               struct ht_error *err)
{
    size_t all = 0;
    for (size_t i = 0; i < shelf->places; i++)
        all += choices_of(&shelf->place[i]);
    struct ht_shim_work *next = ht_allocate(all + 1, sizeof *next);
    if (!next)
        return ht_fail(err, REPAIR_NO_MEMORY);
    shelf->memory = next;
    for (size_t i = 0; i < shelf->places; i++) {
        shelf->place[i].choice = next;
        put_choices(&shelf->place[i], input);
        next += shelf->place[i].choices;
    }
    return HT_OK;
}

static enum ht_status fill_shelf(struct shelf *shelf, struct ht_shims *shims,
                                 const struct ht_shims_input *input,
                                 struct ht_error *err)
{
    enum ht_status status = take_sizes(shelf, input, true, err);
    if (status == HT_OK && shelf->combinations > STACK_MOST) {
        ht_repair_note(shims, REPAIR_NO_STACKS);
        status = take_sizes(shelf, input, false, err);
    }
    if (status == HT_OK && shelf->combinations > TRIED_MOST)
        status = ht_fail(err, REPAIR_TOO_MANY, shelf->combinations,
                         (size_t)TRIED_MOST);
    return status == HT_OK ? fill_all(shelf, input, err) : status;
}

enum ht_status ht_shelf_create(struct shelf *shelf, struct ht_shims *shims,
                               const struct ht_shims_input *input,
                               const struct ht_joint_centres *centres,
                               struct ht_error *err)
{
    *shelf = (struct shelf){ 0 };
    add_axle(shelf, shims, input,
             centres->axle_in_front ? 0 : centres->line.members - 1);
    add_supports(shelf, shims, input, centres);
    add_gearbox(shelf, shims, input, centres);
    add_spline(shelf, input, centres);
    enum ht_status status = fill_shelf(shelf, shims, input, err);
    if (status != HT_OK)
        ht_shelf_free(shelf);
    return status;
}

void ht_shelf_free(struct shelf *shelf)
{
    free_sizes(shelf);
    ht_release(shelf->memory);
    *shelf = (struct shelf){ 0 };
}

size_t ht_shelf_works(const struct shelf *shelf, size_t combination,
                      struct ht_shim_work *work, unsigned *mask)
{
    size_t works = 0;
    *mask = 0;
    for (size_t i = 0; i < shelf->places; i++) {
        const struct shelf_place *place = &shelf->place[i];
        size_t choice = combination % place->choices;
        combination /= place->choices;
        if (choice == 0)
            continue;
        work[works++] = place->choice[choice];
        *mask |= 1u << i;
    }
    return works;
}
