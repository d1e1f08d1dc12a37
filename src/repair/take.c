#include "take.h"

#include <math.h>
#include <string.h>

static bool is_named(const struct ht_shims_input *input, const char *name)
{
    const struct ht_sheet *sheet = input->sheet;
    size_t index = input->driveline_index;
    const char *own =
        index < sheet->driveline_count ? sheet->drivelines[index].name : NULL;
    return own && strcmp(own, name) == 0;
}

bool ht_take_shim(const struct ht_shims_input *input,
                  const struct ht_sheet_shim *row)
{
    return !row->driveline || is_named(input, row->driveline);
}

bool ht_take_fitted(const struct ht_shims_input *input,
                    const struct ht_sheet_fitted *row)
{
    return row->driveline ? is_named(input, row->driveline)
                          : input->driveline_index == 0;
}

static bool is_front(const struct ht_sheet *sheet, size_t index)
{
    const struct ht_sheet_driveline *line = &sheet->drivelines[index];
    return line->to ? strstr(line->to, "front") != NULL
                    : line->driven_from == HT_END_REAR &&
                          sheet->vehicle.drive == HT_DRIVE_ALL;
}

bool ht_take_front_axle(const struct ht_shims_input *input)
{
    return input->driveline_index < input->sheet->driveline_count &&
           is_front(input->sheet, input->driveline_index);
}

struct ht_sheet_axle ht_take_axle(const struct ht_shims_input *input)
{
    const struct ht_sheet *sheet = input->sheet;
    const struct ht_sheet_axle *vehicle = &sheet->vehicle.axle;
    size_t first = 0;
    while (first < sheet->driveline_count && is_front(sheet, first))
        first++;
    if (input->driveline_index >= sheet->driveline_count)
        return *vehicle;
    struct ht_sheet_axle axle = sheet->drivelines[input->driveline_index].axle;
    if (input->driveline_index != first)
        return axle;
    if (axle.kind == HT_AXLE_UNKNOWN)
        axle.kind = vehicle->kind;
    if (axle.steered == HT_ANSWER_UNKNOWN)
        axle.steered = vehicle->steered;
    if (isnan(axle.pinion_to_axle_m))
        axle.pinion_to_axle_m = vehicle->pinion_to_axle_m;
    return axle;
}

static void take_lengths(struct ht_joint_centres *centres,
                         const struct ht_shims_input *input)
{
    const struct ht_sheet *sheet = input->sheet;
    size_t driveline_index = input->driveline_index;
    for (size_t i = 0; i < HT_LENGTHS; i++)
        centres->length_m[i] = NAN;
    centres->length_m[HT_LENGTH_JOINT_TO_AXLE] =
        ht_take_axle(input).pinion_to_axle_m;
    if (driveline_index >= sheet->driveline_count)
        return;
    const struct ht_sheet_driveline *line = &sheet->drivelines[driveline_index];
    centres->length_m[HT_LENGTH_MOUNT_SPACING] = line->mount_spacing_m;
    centres->length_m[HT_LENGTH_MOUNT_TO_JOINT] = line->mount_to_joint_m;
    centres->length_m[HT_LENGTH_SUPPORT_TO_JOINT] = line->support_to_joint_m;
    for (size_t t = 0; t < line->tube_count && t + 2 < HT_MEMBERS_MAX; t++)
        centres->length_m[t + 1] = line->tubes[t].joint_to_joint_m;
}

enum ht_status ht_take_line(struct ht_driveline *driveline,
                            struct ht_joint_centres *centres,
                            const struct ht_shims_input *input,
                            struct ht_error *err)
{
    *centres = (struct ht_joint_centres){ 0 };
    enum ht_status status =
        ht_driveline_from_sheet(driveline, input->sheet,
                                input->driveline_index, input->set_index, err);
    if (status != HT_OK)
        return status;
    centres->axle_in_front = driveline->driven_from == HT_END_REAR;
    take_lengths(centres, input);
    return ht_chain_read(&centres->line, driveline, err);
}

struct ht_angles_options ht_take_limits(const struct ht_shims_input *input)
{
    return (struct ht_angles_options){
        .limits = input->limits,
        .limit_set = input->sheet->limits.name,
        .own = input->own,
        .shaft_rad_s = input->shaft_rad_s,
        .speed_m_s = NAN,
    };
}
