/* Readings of one member, and headings from offsets: keys that must fit each
 * other. */
#include "sheet_tables.h"
#include "texts.h"

#include "common/constants.h"

#include <math.h>

/* A face across the axis is read near upright, a slope near level. */
static void check_face(struct ht_finish *finish,
                       const struct ht_sheet_slope *slope)
{
    for (size_t i = 0; slope->is_face && i < slope->readings_rad.count; i++) {
        double degrees = slope->readings_rad.value[i] * HT_DEG_PER_RAD;
        char shown[40];
        if (degrees > 44.999999)
            continue;
        ht_format_number(shown, sizeof shown, degrees, 1);
        ht_finish_problem(finish, "face", DOCUMENT_FACE_NOT_ACROSS, shown);
        return;
    }
}

static void check_slope(struct ht_finish *finish,
                        const struct ht_sheet_slope *slope)
{
    check_face(finish, slope);
    if (slope->read_on == HT_SURFACE_STRAP)
        ht_finish_problem(finish, "read_on", DOCUMENT_STRAP);
    if (slope->is_face && slope->crosswise_rad.count > 0)
        ht_finish_problem(finish, "crosswise_deg", DOCUMENT_CROSSWISE_FACE);
}

void ht_sheet_slope_finish(struct ht_finish *finish, void *record)
{
    check_slope(finish, record);
}

void ht_sheet_read_finish(struct ht_finish *finish, void *record)
{
    const struct read_item *item = record;
    check_slope(finish, &item->slope);
}

static bool needs_gauge(const struct ht_sheet_slope *slope)
{
    return !isnan(slope->flip_a_rad) || slope->opposite_rad.count > 0 ||
           slope->is_face || slope->crosswise_rad.count > 0;
}

static void check_drawing(struct ht_finish *finish,
                          const struct ht_sheet_angles *angles)
{
    for (size_t i = 0; i < angles->slope_count; i++)
        if (angles->slopes_are == HT_SLOPES_DRAWING &&
            needs_gauge(&angles->slopes[i])) {
            ht_finish_problem(finish, "slopes_are", DOCUMENT_DRAWING_READ,
                              i + 1);
            return;
        }
}

static void check_offsets(struct ht_finish *finish,
                          const struct ht_sheet_angles *angles)
{
    size_t offsets = angles->offsets_m.count, slopes = angles->slope_count;
    if (offsets == 0 && angles->end_headings_rad.count > 0)
        ht_finish_problem(finish, "end_headings_deg", DOCUMENT_END_HEADINGS);
    if (offsets > 0 && slopes > 0 && offsets != slopes - 1)
        ht_finish_problem(finish, "offsets_mm", DOCUMENT_OFFSET_COUNT, offsets,
                          slopes - 1);
}

void ht_sheet_readings_check(struct ht_finish *finish,
                             const struct ht_sheet_angles *angles)
{
    if (angles->read_on == HT_SURFACE_STRAP)
        ht_finish_problem(finish, "read_on", DOCUMENT_STRAP);
    check_drawing(finish, angles);
    check_offsets(finish, angles);
}

/* With offsets only the end members have a heading of their own. */
bool ht_sheet_read_ends(struct ht_finish *finish,
                        struct angles_scratch *scratch)
{
    struct ht_sheet_angles *angles = &scratch->angles;
    size_t last = scratch->read_count - 1;
    double ends[2] = { scratch->read[0].heading_rad,
                       scratch->read[last].heading_rad };
    for (size_t i = 1; i < last; i++)
        if (!isnan(scratch->read[i].heading_rad)) {
            ht_finish_problem(finish, "read", DOCUMENT_OFFSETS_AND_HEADING,
                              scratch->read[i].member ? scratch->read[i].member
                                                      : "");
            return false;
        }
    if (isnan(ends[0]) && isnan(ends[1]))
        return true;
    double *kept = ht_finish_get(finish, 2, sizeof *kept);
    for (size_t i = 0; kept && i < 2; i++)
        kept[i] = isnan(ends[i]) ? 0 : ends[i];
    angles->end_headings_rad = (struct ht_numbers){ kept, kept ? 2 : 0 };
    return true;
}
