#include "take.h"

#include <math.h>

static void take_lengths(struct ht_joint_centres *centres,
                         const struct ht_sheet *sheet, size_t driveline_index)
{
    for (size_t i = 0; i < HT_LENGTHS; i++)
        centres->length_m[i] = NAN;
    centres->length_m[HT_LENGTH_JOINT_TO_AXLE] =
        sheet->vehicle.pinion_to_axle_m;
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
    take_lengths(centres, input->sheet, input->driveline_index);
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
