/* The one table of findings, and of all that they say: whole sentences, one
 * for each variant, so that they can be translated. To add a finding: a row
 * here, a leak and links in src/causes/catalogue.yaml, and nothing else if a
 * function fits. Minutes and tools are common practice, no source. */
#include "findings/weigh.h"

#include <math.h>

/* An order of a part, from a drive. */
#define LINE(id_, part_, multiple_, question_, not_seen_, seen_, stronger_)    \
    {                                                                          \
        .id = id_, .question = question_, .answers = 3,                        \
        .answer = { "not seen", "seen", "stronger than healthy" },             \
        .statement = { not_seen_, seen_, stronger_ },                          \
        .minutes = 20, .needs_drive = true, .tool = "recorder",                \
        .is_line = true, .weigh = ht_weigh_line, .subject = part_,             \
        .figure = multiple_                                                    \
    }
#define GROWTH(id_, part_, multiple_, hardly_, grows_)                         \
    {                                                                          \
        .id = id_, .answers = 2,                                               \
        .answer = { "hardly grows with speed", "grows as speed squared" },     \
        .statement = { hardly_, grows_ },                                      \
        .minutes = NAN, .needs_drive = true, .weigh = ht_weigh_growth,         \
        .subject = part_, .figure = multiple_                                  \
    }
#define PULL(id_, part_, multiple_, same_, stronger_)                          \
    {                                                                          \
        .id = id_, .answers = 2,                                               \
        .answer = { "same on pull and overrun", "stronger under pull" },       \
        .statement = { same_, stronger_ },                                     \
        .minutes = NAN, .needs_drive = true, .weigh = ht_weigh_pull,           \
        .subject = part_, .figure = multiple_                                  \
    }
/* Looked at on the standing vehicle: a word of checks.seen or checks.sound. */
#define LOOK(word_, sound_, minutes_, tool_, question_, no_, yes_)             \
    {                                                                          \
        .id = word_, .question = question_, .answers = 2,                      \
        .answer = { "no", "yes" }, .statement = { no_, yes_ },                 \
        .minutes = minutes_, .tool = tool_, .weigh = ht_weigh_word,            \
        .subject = word_, .sound_word = sound_                                 \
    }
/* Asked of the driver. */
#define ASKED(id_, weigh_, question_, ...)                                     \
    {                                                                          \
        .id = id_, .question = question_, .weigh = weigh_,                     \
        .of_complaint = true, __VA_ARGS__                                      \
    }
#define RUNOUT(id_, subject_, limit_m_, minutes_, question_, no_, yes_)        \
    {                                                                          \
        .id = id_, .question = question_, .answers = 2,                        \
        .answer = { "within", "over" }, .statement = { no_, yes_ },            \
        .tool = "dial_gauge", .minutes = minutes_, .weigh = ht_weigh_runout,   \
        .subject = subject_, .figure = limit_m_,                               \
        .caution = "Vehicle on rated stands, never on a jack alone. Engine "   \
                   "off: turn by hand."                                        \
    }
#define ANGLES(id_, weigh_, group_, question_, no_, yes_)                      \
    {                                                                          \
        .id = id_, .question = question_, .answers = 2,                        \
        .answer = { "within", "over" }, .statement = { no_, yes_ },            \
        .group = group_, .minutes = 20, .tool = "angle_gauge",                 \
        .weigh = weigh_,                                                       \
        .caution = "Weight on the wheels, or the axle at ride height on "      \
                   "rated stands."                                             \
    }

static const struct ht_finding_kind kinds[] = {
    LINE("wheel-1x", "wheel", 1,
         "Record a sweep of speed. How strong is 1× wheel?",
         "1× wheel is not seen", "1× wheel is seen",
         "1× wheel is stronger than healthy"),
    LINE("wheel-2x", "wheel", 2,
         "Record a sweep of speed. How strong is 2× wheel?",
         "2× wheel is not seen", "2× wheel is seen",
         "2× wheel is stronger than healthy"),
    LINE("wheel-3x", "wheel", 3,
         "Record a sweep of speed. How strong is 3× wheel?",
         "3× wheel is not seen", "3× wheel is seen",
         "3× wheel is stronger than healthy"),
    LINE("shaft-1x", "shaft", 1,
         "Record a sweep of speed. How strong is 1× shaft?",
         "1× shaft is not seen", "1× shaft is seen",
         "1× shaft is stronger than healthy"),
    LINE("shaft-2x", "shaft", 2,
         "Record a sweep of speed. How strong is 2× shaft?",
         "2× shaft is not seen", "2× shaft is seen",
         "2× shaft is stronger than healthy"),
    LINE("shaft-3x", "shaft", 3,
         "Record a sweep of speed. How strong is 3× shaft?",
         "3× shaft is not seen", "3× shaft is seen",
         "3× shaft is stronger than healthy"),
    LINE("shaft-4x", "shaft", 4,
         "Record a sweep of speed. How strong is 4× shaft?",
         "4× shaft is not seen", "4× shaft is seen",
         "4× shaft is stronger than healthy"),
    LINE("engine-half", "engine", 0.5,
         "Record a sweep of speed. How strong is 0.5× engine?",
         "0.5× engine is not seen", "0.5× engine is seen",
         "0.5× engine is stronger than healthy"),
    LINE("engine-1x", "engine", 1,
         "Record a sweep of speed. How strong is 1× engine?",
         "1× engine is not seen", "1× engine is seen",
         "1× engine is stronger than healthy"),
    LINE("engine-firing", "engine", 0,
         "Record a sweep of speed. How strong is the firing order?",
         "The firing order is not seen", "The firing order is seen",
         "The firing order is stronger than healthy"),
    LINE("accessory-1x", "accessory", 1,
         "Record a sweep of speed. How strong is an accessory?",
         "An accessory is not seen", "An accessory is seen",
         "An accessory is stronger than healthy"),
    LINE("motor-1x", "electric motor", 1,
         "Record a sweep of speed. How strong is 1× electric motor?",
         "1× electric motor is not seen", "1× electric motor is seen",
         "1× electric motor is stronger than healthy"),
    LINE("axle-mesh", "axle mesh", 1,
         "Record a sweep of speed. How strong is the axle gear mesh?",
         "The axle gear mesh is not seen", "The axle gear mesh is seen",
         "The axle gear mesh is stronger than healthy"),

    GROWTH("wheel-1x-growth", "wheel", 1,
           "1× wheel hardly grows with speed",
           "1× wheel grows about as speed squared"),
    GROWTH("shaft-1x-growth", "shaft", 1,
           "1× shaft hardly grows with speed",
           "1× shaft grows about as speed squared"),
    GROWTH("shaft-2x-growth", "shaft", 2,
           "2× shaft hardly grows with speed",
           "2× shaft grows about as speed squared"),

    PULL("wheel-3x-pull", "wheel", 3,
         "3× wheel is the same on pull and overrun",
         "3× wheel is stronger under pull"),
    PULL("shaft-1x-pull", "shaft", 1,
         "1× shaft is the same on pull and overrun",
         "1× shaft is stronger under pull"),
    PULL("shaft-2x-pull", "shaft", 2,
         "2× shaft is the same on pull and overrun",
         "2× shaft is stronger under pull"),
    PULL("axle-mesh-pull", "axle mesh", 1,
         "The axle gear mesh is the same on pull and overrun",
         "The axle gear mesh is stronger under pull"),

    ASKED("neutral-coast", ht_weigh_neutral_coast,
          "Coast out of gear at the complaint speed, engine running. Does it "
          "stay?",
          .answers = 3, .answer = { "goes", "changes", "stays" },
          .statement = { "It goes when coasting out of gear",
                         "It changes when coasting out of gear",
                         "It stays when coasting out of gear" },
          .minutes = 5, .needs_drive = true, .coasting = true,
          .caution = "Level, closed or empty road, where the law allows it."),
    ASKED("gear-change", ht_weigh_gear_change,
          "Hold the complaint speed one gear lower. Does it follow the "
          "engine?",
          .answers = 2, .answer = { "same at that speed", "follows engine" },
          .statement = { "It stays at the same road speed in another gear",
                         "It follows engine speed in every gear" },
          .minutes = 5, .needs_drive = true),
    ASKED("throttle", ht_weigh_throttle,
          "At the complaint speed: light throttle against overrun. Does it "
          "change?",
          .answers = 3, .answer = { "same", "better or gone", "worse" },
          .statement = { "Throttle makes no difference",
                         "It is better under throttle",
                         "It is worse under throttle" },
          .minutes = 5, .needs_drive = true),
    ASKED("braking", ht_weigh_braking,
          "Brake gently from the complaint speed. Is it worse?",
          .answers = 2, .answer = { "no", "worse" },
          .statement = { "Braking does not make it worse",
                         "It is worse when braking" },
          .minutes = 5, .needs_drive = true),
    ASKED("felt-steering", ht_weigh_felt_steering,
          "Is it felt in the steering wheel?", .answers = 2,
          .answer = { "no", "yes" },
          .statement = { "It is not felt in the steering wheel",
                         "It is felt in the steering wheel" },
          .minutes = 1, .group = "felt"),
    ASKED("felt-body", ht_weigh_felt_body,
          "Is it felt in the seat or the floor?", .answers = 2,
          .answer = { "no", "yes" },
          .statement = { "It is not felt in seat or floor",
                         "It is felt in seat or floor" },
          .minutes = 1, .group = "felt"),
    ASKED("speed-range", ht_weigh_speed_range,
          "At what speed does it begin?", .answers = 3,
          .answer = { "above 60 km/h", "below 60 km/h", "pulling away" },
          .statement = { "It is felt above 60 km/h only",
                         "It is felt below 60 km/h already",
                         "It is felt when pulling away" },
          .minutes = 1),
#define BEGAN(id_, subject_, question_, no_, yes_)                             \
    ASKED(id_, ht_weigh_began, question_, .answers = 2,                        \
          .answer = { "no", "yes" }, .statement = { no_, yes_ },               \
          .minutes = 1, .group = "began", .subject = subject_)
    BEGAN("began-shaft-work", "shaft",
          "Did it begin after the shaft was off?",
          "It did not begin after the shaft was off",
          "It began after the shaft was off"),
    BEGAN("began-engine-work", "engine",
          "Did it begin after the gearbox or the engine was out?",
          "It did not begin after gearbox or engine work",
          "It began after the gearbox or the engine was out"),
    BEGAN("began-height-change", "height",
          "Did it begin after a lift, a load or suspension work?",
          "It did not begin after a lift, a load or suspension work",
          "It began after a lift, a load or suspension work"),
    BEGAN("began-wheel-work", "wheels",
          "Did it begin after tyre or wheel work?",
          "It did not begin after tyre or wheel work",
          "It began after tyre or wheel work"),
    BEGAN("began-body-work", "body",
          "Did it begin after a body or tow bar was fitted?",
          "It did not begin after a body or tow bar was fitted",
          "It began after a body or tow bar was fitted"),
    BEGAN("began-impact", "impact", "Did it begin after an accident?",
          "It did not begin after an accident",
          "It began after an accident"),

    ANGLES("leftover-over", ht_weigh_axle_shake, "angles-cancel",
           "Measure the slopes on the bearing caps. Is the shake passed to "
           "the axle over?",
           "The shake passed to the axle is within the limit",
           "The shake passed to the axle is over the limit"),
    ANGLES("joints-differ", ht_weigh_joint_difference, "angles-cancel",
           "Measure the slopes on the bearing caps. Do paired joints differ?",
           "Paired joint angles agree", "Paired joint angles differ"),
    ANGLES("joint-over", ht_weigh_joint_maximum, "angles-size",
           "Measure the slopes on the bearing caps. Is a joint angle over?",
           "Every joint angle is within the limit",
           "A joint angle is over the limit"),
    ANGLES("shaft-shake-over", ht_weigh_shaft_shake, "angles-size",
           "Measure the slopes on the bearing caps. Is the shaft's own shake "
           "over?",
           "The shaft's own shake is within the limit",
           "The shaft's own shake is over the limit"),
    ANGLES("joint-too-straight", ht_weigh_joint_minimum, NULL,
           "Measure the slopes on the bearing caps. Does a joint run "
           "straight?",
           "Every joint bends enough to turn its needles",
           "A joint runs too straight for its needles"),
    { .id = "yokes-out-of-line",
      .question = "Look along each shaft. Are its two yokes in line?",
      .answers = 2, .answer = { "in line", "out of line" },
      .statement = { "The yokes of each shaft are in line",
                     "The yokes of a shaft are out of line" },
      .minutes = 5, .tool = "lamp", .weigh = ht_weigh_yokes,
      .subject = "yokes_out_of_line" },

    /* Published limits: tube 0.4 to 0.8, flange 0.15, tyre 0.76 to 1.59
     * radial and 0.76 to 2.0 lateral, bare wheel 0.3 to 0.8 mm (published
     * service literature, 1983 to 2013; list in docs/findings.md). */
    RUNOUT("runout-shaft", "shaft", 0.6e-3, 15,
           "Measure the run-out of the shaft. Is it over the limit?",
           "Run-out of the shaft is within the limit",
           "Run-out of the shaft is over the limit"),
    RUNOUT("runout-flange", "pinion flange", 0.15e-3, 20,
           "Measure the run-out of the pinion flange. Is it over the limit?",
           "Run-out of the pinion flange is within the limit",
           "Run-out of the pinion flange is over the limit"),
    RUNOUT("runout-tyre-radial", "tyre radial", 1.3e-3, 20,
           "Measure the run-out of the tread. Is it over the limit?",
           "Run-out of the tread is within the limit",
           "Run-out of the tread is over the limit"),
    RUNOUT("runout-tyre-lateral", "tyre lateral", 1.5e-3, 20,
           "Measure the run-out of the tyre's side. Is it over the limit?",
           "Run-out of the tyre's side is within the limit",
           "Run-out of the tyre's side is over the limit"),
    RUNOUT("runout-wheel", "wheel", 0.6e-3, 20,
           "Measure the run-out of the bare wheel. Is it over the limit?",
           "Run-out of the bare wheel is within the limit",
           "Run-out of the bare wheel is over the limit"),
    { .id = "ride-height-off",
      .question = "Measure the ride height. Is it off the maker's figure?",
      .answers = 2, .answer = { "as the maker says", "off" },
      .statement = { "Ride height is as the maker says",
                     "Ride height is off the maker's figure" },
      .minutes = 5, .tool = "tape", .weigh = ht_weigh_ride_height,
      .figure = 0.010 },

    LOOK("dent", "tube", 3, "lamp", "Is the shaft tube dented?",
         "The shaft tube has no dent", "The shaft tube is dented"),
    LOOK("missing_weight", "shaft_weights", 3, "lamp",
         "Is there a spot where a shaft weight came off?",
         "No shaft weight is missing", "A shaft weight is missing"),
    LOOK("undercoating", "tube", 3, "lamp",
         "Is there undercoating or mud on the shaft?",
         "The shaft is clean", "There is undercoating or mud on the shaft"),
    LOOK("loose_joint", "joints", 5, "lever",
         "Lever each joint. Is there play, roughness or rust dust?",
         "The joints have no play", "A joint has play, roughness or rust dust"),
    LOOK("worn_slip_spline", "slip_spline", 5, "lever",
         "Lift the slip joint. Is there play in the spline?",
         "The slip spline has no play", "The slip spline has play"),
    LOOK("loose_flange", "flange", 5, "torque_wrench",
         "Check the flange and strap bolts. Is any loose?",
         "The flange bolts are tight", "Flange bolts are loose"),
    LOOK("rough_centre_bearing", "centre_bearing", 8, "hands",
         "Turn the shaft by hand. Is the centre bearing rough?",
         "The centre bearing runs smoothly", "The centre bearing is rough"),
    LOOK("torn_centre_rubber", "centre_rubber", 4, "lamp",
         "Is the rubber of the centre support torn or sagging?",
         "The centre support's rubber is sound",
         "The centre support's rubber is torn"),
    LOOK("sagging_spring", "springs", 3, "lamp",
         "Look at the springs. Is one broken or sagging?",
         "The springs are sound", "A spring is broken or sags"),
    LOOK("collapsed_mount", "mounts", 6, "lever",
         "Lever engine and gearbox mounts. Is one collapsed?",
         "The mounts are sound", "A mount has collapsed"),
    LOOK("worn_bush", "bushes", 8, "lever",
         "Lever the axle's arms. Is a bush worn?",
         "The axle's bushes are sound", "A bush of the axle's arms is worn"),
    LOOK("cupped_tyre", "tyres", 4, "hands",
         "Stroke the treads. Is a tyre cupped, flat-spotted or bulged?",
         "The tyres are even", "A tyre is cupped, flat-spotted or bulged"),
    LOOK("mud_in_wheel", "wheels", 3, "lamp",
         "Is there mud, snow or a lost weight inside a wheel?",
         "The wheels are clean and hold their weights",
         "There is mud in a wheel, or a weight is lost"),
    LOOK("wheel_face_dirty", "wheel_faces", 15, "wheel_wrench",
         "Take the wheels off. Is there rust or paint on the seat?",
         "The wheel seats are clean", "A wheel seat is dirty or damaged"),
    LOOK("loose_wheel_nuts", "wheel_nuts", 4, "torque_wrench",
         "Check the wheel nuts. Is any loose?",
         "The wheel nuts are tight", "Wheel nuts are loose"),
    LOOK("wheel_bearing_play", "wheel_bearings", 8, "hands",
         "Rock and spin each wheel. Is there play or a growl?",
         "The wheel bearings are sound", "A wheel bearing has play or growls"),
    LOOK("worn_half_shaft_joint", "half_shafts", 6, "hands",
         "Twist each half-shaft. Is there play, or a torn boot?",
         "The half-shaft joints are sound",
         "A half-shaft joint has play or a torn boot"),
    LOOK("exhaust_touching", "exhaust", 4, "lamp",
         "Does the exhaust touch body or frame?",
         "The exhaust hangs free", "The exhaust touches the body"),
    LOOK("misfire_codes", "engine", 6, "code_reader",
         "Are there misfire codes, or is the idle uneven?",
         "The engine runs on all cylinders", "The engine misfires"),
    LOOK("shakes_standing", "smooth_standing", 3, "hands",
         "Stand, out of gear, and rev to the same engine speed. Does it "
         "shake?",
         "Standing and revving is smooth", "It shakes standing and revving"),
    LOOK("accessory_wobble", "accessories", 5, "lamp",
         "Does a pulley wobble or its belt flap?",
         "The pulleys run true", "A pulley wobbles"),
    LOOK("metal_in_axle_oil", "axle_oil", 15, "spanner",
         "Open the axle's filler. Is there metal in the oil?",
         "The axle oil is clean", "There is metal in the axle oil"),
    { .id = "binds_in_turns",
      .question = "Roll slowly on full lock. Does the driveline bind?",
      .answers = 2, .answer = { "no", "yes" },
      .statement = { "It rolls freely on full lock",
                     "It binds on full lock" },
      .minutes = 5, .needs_drive = true, .weigh = ht_weigh_word,
      .subject = "binds_in_turns", .sound_word = "free_in_turns" },
};

#define KINDS (sizeof kinds / sizeof kinds[0])
_Static_assert(KINDS <= (size_t)HT_FINDINGS_MAX, "raise HT_FINDINGS_MAX");

const struct ht_finding_kind *ht_finding_kinds(size_t *count)
{
    *count = KINDS;
    return kinds;
}
