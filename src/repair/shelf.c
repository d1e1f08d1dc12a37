/* From the sizes on the shelf to what can be done at each place. */
#include "shelf.h"

#include "centres.h"
#include "note.h"
#include "texts.h"

#include "common/constants.h"
#include "common/memory.h"

#include <math.h>
#include <string.h>

/* Minutes of work, one place (common practice, no source). */
static const double minutes_at[] = {
    [HT_SHIM_AXLE] = 90,    /* new U-bolts, both sides */
    [HT_SHIM_SUPPORT] = 30,
    [HT_SHIM_GEARBOX] = 40,
    [HT_SHIM_SPLINE] = 20,
};

/* Two plates may lie on each other as long as this many combinations are not
 * passed; what is tried at most. */
enum { STACK_MOST = 1000000, TRIED_MOST = 4000000 };

/* Sizes of one kind at one place, of all rows of the sheet that name it. */
struct sizes {
    size_t count;
    double size[CHOICES_MAX / 2];
};

static void gather_sizes(struct sizes *sizes, const struct ht_sheet *sheet,
                         enum ht_shim_place at, enum ht_shim_kind kind)
{
    sizes->count = 0;
    for (size_t i = 0; i < sheet->shim_count; i++) {
        const struct ht_sheet_shim *row = &sheet->shims[i];
        bool fits = row->at == at && row->kind == kind;
        const struct ht_numbers *steps =
            kind == HT_SHIM_WEDGE ? &row->steps_rad : &row->steps_m;
        for (size_t s = 0; fits && s < steps->count; s++)
            if (sizes->count < sizeof sizes->size / sizeof sizes->size[0])
                sizes->size[sizes->count++] = steps->value[s];
    }
}

/* ---- choices ----------------------------------------------------------- */

/* Room for one place's choices: counted first, then filled. */
struct filler {
    struct shelf_place *place;
    bool count_only;
};

static void put(struct filler *to, struct ht_shim_work work)
{
    if (to->place->choices == CHOICES_MAX)
        return;
    if (!to->count_only)
        to->place->choice[to->place->choices] = work;
    to->place->choices++;
}

static void put_wedges(struct filler *to, const struct sizes *sizes)
{
    struct ht_shim_work work = { .place = HT_SHIM_AXLE,
                                 .member = to->place->member };
    for (size_t i = 0; i < sizes->count; i++)
        for (int way = 1; way >= -1; way -= 2) {
            work.turn_rad = way * sizes->size[i];
            put(to, work);
        }
}

static void put_plates(struct filler *to, const struct sizes *sizes, bool stack)
{
    struct ht_shim_work work = { .place = to->place->place,
                                 .member = to->place->member };
    for (size_t a = 0; a < sizes->count; a++)
        for (size_t b = a; b < (stack ? sizes->count : a + 1); b++)
            for (int way = 1; way >= -1; way -= 2) {
                work.plate_m[0] = sizes->size[a];
                work.plate_m[1] = b > a ? sizes->size[b] : 0;
                work.lift_m = way * (work.plate_m[0] + work.plate_m[1]);
                put(to, work);
            }
}

static void put_teeth(struct filler *to, double spline_teeth)
{
    struct ht_shim_work work = { .place = HT_SHIM_SPLINE,
                                 .member = to->place->member };
    for (work.teeth = 1; work.teeth >= -1; work.teeth -= 2) {
        work.turn_rad = work.teeth * 2 * HT_PI / spline_teeth;
        put(to, work);
    }
}

static void put_choices(struct filler *to, const struct ht_shims_input *input,
                        bool stack)
{
    const struct ht_sheet *sheet = input->sheet;
    struct sizes sizes;
    to->place->choices = 0;
    put(to, (struct ht_shim_work){ .place = HT_SHIM_NOWHERE });
    switch (to->place->place) {
    case HT_SHIM_AXLE:
        gather_sizes(&sizes, sheet, HT_SHIM_AXLE, HT_SHIM_WEDGE);
        put_wedges(to, &sizes);
        break;
    case HT_SHIM_SUPPORT:
        gather_sizes(&sizes, sheet, HT_SHIM_SUPPORT, HT_SHIM_PLATE);
        put_plates(to, &sizes, stack);
        break;
    case HT_SHIM_GEARBOX:
        gather_sizes(&sizes, sheet, HT_SHIM_GEARBOX, HT_SHIM_PLATE);
        put_plates(to, &sizes, stack);
        break;
    default:
        put_teeth(to, sheet->drivelines[input->driveline_index].spline_teeth);
    }
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

static bool on_shelf(const struct ht_sheet *sheet, enum ht_shim_place at,
                     enum ht_shim_kind kind)
{
    struct sizes sizes;
    gather_sizes(&sizes, sheet, at, kind);
    return sizes.count > 0;
}

/* By its name; where it has none, an axle in front of what drives it on a
 * vehicle that drives all wheels. */
static bool is_front_axle(const struct ht_sheet *sheet, size_t driveline,
                          bool in_front)
{
    const char *to = driveline < sheet->driveline_count
                         ? sheet->drivelines[driveline].to
                         : NULL;
    return to ? strstr(to, "front") != NULL
              : in_front && sheet->vehicle.drive == HT_DRIVE_ALL;
}

/* A wedge turns the axle: not where that turns the steering, nor where the
 * final drive is bolted to the body. */
static void add_axle(struct shelf *shelf, struct ht_shims *shims,
                     const struct ht_shims_input *input, size_t member,
                     bool in_front)
{
    const struct ht_sheet_vehicle *vehicle = &input->sheet->vehicle;
    if (!on_shelf(input->sheet, HT_SHIM_AXLE, HT_SHIM_WEDGE))
        return;
    if (is_front_axle(input->sheet, input->driveline_index, in_front))
        ht_repair_note(shims, REPAIR_FRONT_AXLE);
    else if (vehicle->axle_steered == HT_ANSWER_YES)
        ht_repair_note(shims, REPAIR_STEERED);
    else if (vehicle->axle_steered == HT_ANSWER_UNKNOWN)
        ht_repair_note(shims, REPAIR_STEERED_UNKNOWN);
    else if (vehicle->axle_kind == HT_AXLE_INDEPENDENT)
        ht_repair_note(shims, REPAIR_NO_RIGID_AXLE);
    else
        add_place(shelf, HT_SHIM_AXLE, member);
}

static void add_supports(struct shelf *shelf, struct ht_shims *shims,
                         const struct ht_shims_input *input,
                         const struct ht_joint_centres *centres)
{
    struct supported carried = ht_centres_supported(centres);
    if (!on_shelf(input->sheet, HT_SHIM_SUPPORT, HT_SHIM_PLATE))
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
    if (!on_shelf(input->sheet, HT_SHIM_GEARBOX, HT_SHIM_PLATE))
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

static size_t count_all(struct shelf *shelf, const struct ht_shims_input *input,
                        bool stack)
{
    size_t product = 1;
    for (size_t i = 0; i < shelf->places; i++) {
        struct filler filler = { &shelf->place[i], true };
        put_choices(&filler, input, stack);
        product *= filler.place->choices; /* 1024 to the sixth: below 2^61 */
    }
    return product;
}

static enum ht_status fill_all(struct shelf *shelf,
                               const struct ht_shims_input *input, bool stack,
                               struct ht_error *err)
{
    size_t all = 0;
    for (size_t i = 0; i < shelf->places; i++)
        all += shelf->place[i].choices;
    struct ht_shim_work *next = ht_allocate(all + 1, sizeof *next);
    if (!next)
        return ht_fail(err, REPAIR_NO_MEMORY);
    shelf->memory = next;
    for (size_t i = 0; i < shelf->places; i++) {
        struct filler filler = { &shelf->place[i], false };
        shelf->place[i].choice = next;
        put_choices(&filler, input, stack);
        next += shelf->place[i].choices;
    }
    return HT_OK;
}

enum ht_status ht_shelf_create(struct shelf *shelf, struct ht_shims *shims,
                               const struct ht_shims_input *input,
                               const struct ht_joint_centres *centres,
                               struct ht_error *err)
{
    bool stack = true;
    *shelf = (struct shelf){ 0 };
    add_axle(shelf, shims, input,
             centres->axle_in_front ? 0 : centres->line.members - 1,
             centres->axle_in_front);
    add_supports(shelf, shims, input, centres);
    add_gearbox(shelf, shims, input, centres);
    add_spline(shelf, input, centres);
    shelf->combinations = count_all(shelf, input, stack);
    if (shelf->combinations > STACK_MOST) {
        stack = false;
        shelf->combinations = count_all(shelf, input, stack);
        ht_repair_note(shims, REPAIR_NO_STACKS);
    }
    if (shelf->combinations > TRIED_MOST)
        return ht_fail(err, REPAIR_TOO_MANY, shelf->combinations,
                       (size_t)TRIED_MOST);
    return fill_all(shelf, input, stack, err);
}

void ht_shelf_free(struct shelf *shelf)
{
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
