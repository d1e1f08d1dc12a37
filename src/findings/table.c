/* The one table of findings. To add one: a row here, a leak and links in
 * src/causes/catalogue.yaml, and nothing else if a function fits. Minutes and
 * tools are common practice, no source. */
#include "findings/weigh.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define TIMES "\xc3\x97 "

/* An order of a part, from a drive. */
#define LINE(name_, id_, part_, multiple_)                                     \
    {                                                                          \
        .id = id_,                                                             \
        .question = "Record a sweep of speed. How strong is " name_ "?",       \
        .answers = 3,                                                          \
        .answer = { "not seen", "seen", "stronger than healthy" },             \
        .statement = { name_ " is not seen", name_ " is seen",                 \
                       name_ " is stronger than healthy" },                    \
        .minutes = 20, .needs_drive = true, .tool = "recorder",                \
        .is_line = true, .weigh = ht_weigh_line, .subject = part_,             \
        .figure = multiple_                                                    \
    }
#define GROWTH(name_, id_, part_, multiple_)                                   \
    {                                                                          \
        .id = id_, .answers = 2,                                               \
        .answer = { "hardly grows with speed", "grows as speed squared" },     \
        .statement = { name_ " hardly grows with speed",                       \
                       name_ " grows about as speed squared" },                \
        .minutes = NAN, .needs_drive = true, .weigh = ht_weigh_growth,         \
        .subject = part_, .figure = multiple_                                  \
    }
#define PULL(name_, id_, part_, multiple_)                                     \
    {                                                                          \
        .id = id_, .answers = 2,                                               \
        .answer = { "same on pull and overrun", "stronger under pull" },       \
        .statement = { name_ " is the same on pull and overrun",               \
                       name_ " is stronger under pull" },                      \
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
#define RUNOUT(id_, subject_, limit_m_, minutes_, what_)                       \
    {                                                                          \
        .id = id_, .answers = 2, .tool = "dial_gauge", .minutes = minutes_,    \
        .question = "Measure the run-out of " what_ ". Is it over?",           \
        .answer = { "within", "over" },                                        \
        .statement = { "Run-out of " what_ " is within",                       \
                       "Run-out of " what_ " is over" },                       \
        .weigh = ht_weigh_runout, .subject = subject_, .figure = limit_m_,     \
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
    LINE("1" TIMES "wheel", "wheel-1x", "wheel", 1),
    LINE("2" TIMES "wheel", "wheel-2x", "wheel", 2),
    LINE("3" TIMES "wheel", "wheel-3x", "wheel", 3),
    LINE("1" TIMES "shaft", "shaft-1x", "shaft", 1),
    LINE("2" TIMES "shaft", "shaft-2x", "shaft", 2),
    LINE("3" TIMES "shaft", "shaft-3x", "shaft", 3),
    LINE("4" TIMES "shaft", "shaft-4x", "shaft", 4),
    LINE("0.5" TIMES "engine", "engine-half", "engine", 0.5),
    LINE("1" TIMES "engine", "engine-1x", "engine", 1),
    LINE("the firing order", "engine-firing", "engine", 0),
    LINE("an accessory", "accessory-1x", "accessory", 1),
    LINE("1" TIMES "electric motor", "motor-1x", "electric motor", 1),
    LINE("the axle gear mesh", "axle-mesh", "axle mesh", 1),
    GROWTH("1" TIMES "wheel", "wheel-1x-growth", "wheel", 1),
    GROWTH("1" TIMES "shaft", "shaft-1x-growth", "shaft", 1),
    GROWTH("2" TIMES "shaft", "shaft-2x-growth", "shaft", 2),
    PULL("3" TIMES "wheel", "wheel-3x-pull", "wheel", 3),
    PULL("1" TIMES "shaft", "shaft-1x-pull", "shaft", 1),
    PULL("2" TIMES "shaft", "shaft-2x-pull", "shaft", 2),
    PULL("The axle gear mesh", "axle-mesh-pull", "axle mesh", 1),

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
#define BEGAN(id_, subject_, what_)                                            \
    ASKED(id_, ht_weigh_began, "Did it begin after " what_ "?", .answers = 2,  \
          .answer = { "no", "yes" },                                           \
          .statement = { "It did not begin after " what_,                      \
                         "It began after " what_ },                            \
          .minutes = 1, .group = "began", .subject = subject_)
    BEGAN("began-shaft-work", "shaft", "the shaft was off"),
    BEGAN("began-engine-work", "engine", "gearbox or engine were out"),
    BEGAN("began-height-change", "height",
          "a lift, a load or suspension work"),
    BEGAN("began-wheel-work", "wheels", "tyre or wheel work"),
    BEGAN("began-body-work", "body", "a body or tow bar was fitted"),
    BEGAN("began-impact", "impact", "an accident"),

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
    RUNOUT("runout-shaft", "shaft", 0.6e-3, 15, "the shaft"),
    RUNOUT("runout-flange", "pinion flange", 0.15e-3, 20,
           "the pinion flange"),
    RUNOUT("runout-tyre-radial", "tyre radial", 1.3e-3, 20, "the tyre"),
    RUNOUT("runout-tyre-lateral", "tyre lateral", 1.5e-3, 20,
           "the tyre's side"),
    RUNOUT("runout-wheel", "wheel", 0.6e-3, 20, "the bare wheel"),
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

size_t ht_finding_index(const char *id)
{
    for (size_t i = 0; i < KINDS; i++)
        if (strcmp(kinds[i].id, id) == 0)
            return i;
    return SIZE_MAX;
}

static bool is_word(const struct ht_finding_kind *kind, const char *word,
                    bool sound)
{
    if (kind->weigh != ht_weigh_word && kind->weigh != ht_weigh_yokes)
        return false;
    return strcmp(kind->subject, word) == 0 ||
           (sound && kind->sound_word && strcmp(kind->sound_word, word) == 0);
}

bool ht_finding_word_known(const char *word, bool sound)
{
    for (size_t i = 0; i < KINDS; i++)
        if (is_word(&kinds[i], word, sound))
            return true;
    return false;
}
