/* parts: what turns how fast; needs no recording. */
#include "case.h"
#include "commands.h"
#include "texts.h"

#include "halfturn/report.h"
#include "halfturn/rotation.h"

#include <math.h>

static unsigned gear_wanted(const struct options *options,
                            const struct ht_sheet *sheet)
{
    double gear = options->gear;
    if (isnan(gear) && sheet->drive_count > 0)
        gear = sheet->drives[0].gear;
    return gear >= 1 ? (unsigned)gear : 0;
}

static double speed_wanted(const struct options *options,
                           const struct ht_sheet *sheet)
{
    const struct ht_numbers *felt = &sheet->complaint.speed_m_s;
    if (!isnan(options->speed_m_s) || felt->count == 0)
        return options->speed_m_s;
    return felt->value[felt->count - 1];
}

/* Lowest speed of the complaint, when none was asked for; NAN: one speed. */
static double lowest_wanted(const struct options *options,
                            const struct ht_sheet *sheet)
{
    const struct ht_numbers *felt = &sheet->complaint.speed_m_s;
    return isnan(options->speed_m_s) && felt->count > 1 ? felt->value[0] : NAN;
}

static enum ht_status list_parts(const struct options *options,
                                 const struct ht_sheet *sheet,
                                 struct ht_text *out, struct ht_error *err)
{
    struct ht_rotation rotation;
    struct ht_parts_request request = {
        .rotation = &rotation,
        .from_m_s = lowest_wanted(options, sheet),
        .speed_m_s = speed_wanted(options, sheet),
        .hz = options->hz,
        .gear = gear_wanted(options, sheet),
    };
    if (isnan(request.speed_m_s))
        return ht_fail(err, PARTS_NO_SPEED);
    enum ht_status status = ht_rotation_from_vehicle(
        &rotation, &sheet->vehicle, request.gear, err);
    if (status != HT_OK)
        return status;
    return options->json ? ht_report_parts_json(out, &request, err)
                         : ht_report_parts_text(out, &request, err);
}

enum ht_status command_parts(const struct options *options,
                             struct ht_text *out, struct ht_error *err)
{
    struct case_file file;
    enum ht_status status = case_read(&file, options, err);
    if (status == HT_OK)
        status = list_parts(options, &file.sheet, out, err);
    case_free(&file);
    return status;
}
