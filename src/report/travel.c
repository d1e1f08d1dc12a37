#include "travel.h"

#include "markup.h"
#include "sets.h"
#include "shown.h"
#include "texts.h"
#include "words.h"

#include <math.h>
#include <string.h>

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_time(const struct ht_line_angles *a,
                      const struct ht_line_angles *b)
{
    return a->driveline_index == b->driveline_index &&
           same_text(a->when, b->when) && a->angles.joints == b->angles.joints;
}

/* By height, stable; the sheet's order where one is not known. */
static void sort_by_height(struct travel *travel)
{
    for (size_t i = 0; i < travel->heights; i++)
        if (isnan(travel->at[i]->height_m))
            return;
    for (size_t i = 1; i < travel->heights; i++) {
        const struct ht_line_angles *line = travel->at[i];
        size_t at = i;
        for (; at > 0 && travel->at[at - 1]->height_m > line->height_m; at--)
            travel->at[at] = travel->at[at - 1];
        travel->at[at] = line;
    }
}

bool travel_from(struct travel *travel, const struct ht_workup *workup,
                 const struct ht_line_angles *deciding)
{
    *travel = (struct travel){ .deciding = deciding,
                               .joints = deciding->angles.joints };
    for (size_t i = 0; i < workup->line_count; i++)
        if (same_time(&workup->lines[i], deciding) &&
            travel->heights < TRAVEL_HEIGHTS_MAX)
            travel->at[travel->heights++] = &workup->lines[i];
    sort_by_height(travel);
    return travel->heights > 1;
}

static double angle_of(const struct travel *travel,
                       const struct ht_line_angles *line, size_t joint)
{
    return joint < travel->joints ? line->angles.joint[joint].angle_rad.value
                                  : line->angles.leftover_rad.value;
}

struct travel_range travel_range(const struct travel *travel, size_t joint)
{
    struct travel_range range = { NAN, NAN, NULL, NULL };
    for (size_t i = 0; i < travel->heights; i++) {
        double angle = angle_of(travel, travel->at[i], joint);
        if (!(angle >= range.lowest_rad)) {
            range.lowest_rad = angle;
            range.lowest = travel->at[i];
        }
        if (!(angle <= range.highest_rad)) {
            range.highest_rad = angle;
            range.highest = travel->at[i];
        }
    }
    return range;
}

/* ---- words -------------------------------------------------------------- */

const char *travel_height(struct ht_text *room,
                          const struct ht_line_angles *line)
{
    room->length = 0;
    if (line->set && *line->set)
        clean_text(room, line->set);
    else
        ht_text_addf(room, REPORT_SET, line->set_index + 1);
    if (!isnan(line->height_m)) {
        ht_text_add(room, ", ");
        ht_text_addf(room, REPORT_MM,
                     shown_number(1000 * line->height_m, 0).text);
    }
    return ht_text_get(room);
}

void travel_caption(struct ht_text *out, const struct ht_workup *workup,
                    const struct travel *travel)
{
    struct ht_text line = { 0 }, height = { 0 };
    (void)travel_height(&height, travel->deciding);
    if (several_drivelines(workup))
        ht_text_addf(out, REPORT_TRAVEL_OF,
                     driveline_name(&line, workup,
                                    travel->deciding->driveline_index),
                     ht_text_get(&height));
    else
        ht_text_addf(out, REPORT_TRAVEL, ht_text_get(&height));
    ht_text_end(out, &line);
    ht_text_end(out, &height);
}

/* ---- the table ---------------------------------------------------------- */

static size_t joints_across(const struct travel *travel, size_t first)
{
    size_t left = travel->joints - first;
    return left < TRAVEL_JOINTS_ACROSS ? left : TRAVEL_JOINTS_ACROSS;
}

static bool is_last(const struct travel *travel, size_t first)
{
    return first + joints_across(travel, first) == travel->joints;
}

size_t travel_columns(const struct travel *travel, size_t first)
{
    return 1 + joints_across(travel, first) + is_last(travel, first);
}

static void put_head(const struct travel *travel, size_t first,
                     travel_cell cell, void *context)
{
    struct ht_text text = { 0 };
    cell(context, REPORT_HEAD_HEIGHT);
    for (size_t j = 0; j < joints_across(travel, first); j++) {
        text.length = 0;
        ht_text_addf(&text, REPORT_TRAVEL_JOINT, first + j + 1);
        cell(context, ht_text_get(&text));
    }
    if (is_last(travel, first))
        cell(context, REPORT_HEAD_LEFT_OVER);
    ht_text_free(&text);
}

static void put_row(const struct travel *travel, size_t first,
                    const struct ht_line_angles *line, travel_cell cell,
                    void *context)
{
    struct ht_text name = { 0 };
    cell(context, travel_height(&name, line));
    for (size_t c = 0; c + 1 < travel_columns(travel, first); c++)
        cell(context,
             shown_degrees(angle_of(travel, line, first + c), 2).text);
    ht_text_free(&name);
}

static void put_range(const struct travel *travel, size_t first, bool highest,
                      travel_cell cell, void *context)
{
    cell(context, highest ? REPORT_HIGHEST : REPORT_LOWEST);
    for (size_t c = 0; c + 1 < travel_columns(travel, first); c++) {
        struct travel_range range = travel_range(travel, first + c);
        cell(context, shown_degrees(highest ? range.highest_rad
                                            : range.lowest_rad,
                                    2)
                          .text);
    }
}

void travel_cells(const struct travel *travel, size_t first, travel_cell cell,
                  void *context)
{
    put_head(travel, first, cell, context);
    for (size_t i = 0; i < travel->heights; i++)
        put_row(travel, first, travel->at[i], cell, context);
    put_range(travel, first, false, cell, context);
    put_range(travel, first, true, cell, context);
}
