#include "questions.h"

#include "put.h"

#include <math.h>

/* ---- what a template has said already ---------------------------------- */

static bool knows_class(const struct ht_sheet *sheet)
{
    return sheet->vehicle.class != HT_CLASS_UNKNOWN;
}
static bool knows_tyre(const struct ht_sheet *sheet)
{
    return sheet->vehicle.tyre || !isnan(sheet->vehicle.tyre_turns_per_m);
}
static bool knows_axle(const struct ht_sheet *sheet)
{
    return sheet->vehicle.axle_teeth.count || !isnan(sheet->vehicle.axle_ratio);
}
static bool knows_gearbox(const struct ht_sheet *sheet)
{
    return sheet->vehicle.gear_ratios.count ||
           !isnan(sheet->vehicle.motor_ratio);
}
static bool knows_engine(const struct ht_sheet *sheet)
{
    return !isnan(sheet->vehicle.engine_cylinders) ||
           !isnan(sheet->vehicle.motor_ratio);
}
static bool knows_driveline(const struct ht_sheet *sheet)
{
    return sheet->driveline_count && (sheet->drivelines[0].members.count ||
                                      sheet->drivelines[0].joint_count);
}
static bool knows_nothing(const struct ht_sheet *sheet)
{
    (void)sheet;
    return false;
}

const struct question questions[QUESTIONS] = {
    { .text = "What kind of vehicle, and which wheels are driven?",
      .example = "car, van, light truck, heavy truck or bus; front, rear or "
                 "all. For instance: van rear",
      .known = knows_class, .put = put_class },
    { .text = "Tyre size on the driven wheels, as on the sidewall?",
      .example = "For instance: 235/65R16. Or wheel turns per km: 462",
      .known = knows_tyre, .put = put_tyre },
    { .text = "Axle ratio, or the teeth of ring and pinion?",
      .example = "For instance: 3.73, or 41 11",
      .known = knows_axle, .put = put_axle },
    { .text = "Gearbox: automatic or manual, and its ratios, gear 1 first?",
      .example = "For instance: manual 4.9 2.6 1.55 1 0.78",
      .known = knows_gearbox, .put = put_gearbox },
    { .text = "Engine: how many cylinders, and 2 or 4 strokes?",
      .example = "For instance: 4 4. Or a motor, with its turns per wheel "
                 "turn: electric 9.1",
      .known = knows_engine, .put = put_engine },
    { .text = "The driveline, front to rear?",
      .example = "A joint stands between neighbours. For instance: gearbox, "
                 "front shaft, rear shaft, pinion. Or with the joints: "
                 "gearbox, cardan, shaft, double_cardan, pinion",
      .known = knows_driveline, .put = put_driveline },
    { .text = "How does the vehicle stand while the angles are read?",
      .example = "wheels on ground, axle on stands at ride height, or hanging",
      .standing = true, .known = knows_nothing, .put = put_suspension },
    { .text = "Slopes read on the bearing caps, one for each member, with the "
              "end that is lower?",
      .example = "Degrees, front to rear. For instance: 2.1 rear, 4.3 rear, "
                 "0.4 front",
      .known = knows_nothing, .put = put_slopes },
    { .text = "At which speed does it shake, and where is it felt?",
      .example = "km/h, or mph; seat, floor, steering wheel, whole, heard. For "
                 "instance: 85-100 seat floor",
      .known = knows_nothing, .put = put_complaint },
    { .text = "The recording of the road test, and how fast it went?",
      .example = "A file beside the sheet, then a speed log, a steady speed or "
                 "from-to; gear and place of the sensor. For instance: "
                 "drive.wav, speed.csv, gear 5, seat rail",
      .recorded_text = "How fast was it driven, and in which gear?",
      .recorded_example = "A speed log, a steady speed or from-to; gear and "
                          "place of the sensor. For instance: speed.csv, gear "
                          "5, seat rail",
      .drive = true, .known = knows_nothing, .put = put_drive },
};
