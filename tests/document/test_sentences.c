/* Each kind of slip in a sheet and its sentence. */
#include "sheet_case.h"

#define H "halfturn: 1\n"

static const struct {
    const char *sheet, *first;
} sentences[] = {
    /* decimal commas in every shape they come in */
    { H "vehicle: {mass_kg: \"2,4\"}\n",
      "vehicle.mass_kg: Wanted is a number with a decimal point, not a comma. "
      "Found: '2,4'." },
    { H "vehicle:\n  axle_ratio: 3,73\n",
      "vehicle.axle_ratio: Wanted is a number with a decimal point, not a "
      "comma. Found: '3,73'." },
    { H "driveline: {members: [a, b, c]}\n"
        "angles: {slopes_deg: [2,1,2,5,4,0]}\n",
      "angles.slopes_deg: Values given: 6. Wanted: 3. Are these decimal "
      "commas? Write 2.1, not 2,1." },
    { H "driveline: {members: [a, b, c]}\nangles: {joints_deg: [0,4,1,5]}\n",
      "angles.joints_deg: Values given: 4. Wanted: 2. Are these decimal "
      "commas? Write 2.1, not 2,1." },
    { H "vehicle: {gear_ratios: [4,9, 2,6]}\n",
      "vehicle.gear_ratios: The 4 values are written in pairs. Are these "
      "decimal commas? Write 2.1, not 2,1." },
    { H "angles: {slopes_deg: [1, {flip: [2,1,2,5]}]}\n",
      "angles.slopes_deg[2].flip: Values given: 4. Wanted: 2. Are these "
      "decimal commas? Write 2.1, not 2,1." },
    { H "vehicle: {axle_ratio: 3,73}\n",
      "vehicle: The name '73' is not known here. Are these decimal commas? "
      "Write 2.1, not 2,1." },
    /* several drivelines */
    { H "driveline: [{name: front shaft}, {name: rear shaft}]\n"
        "angles: {driveline: rear shafd, slopes_deg: [1, 2, 3]}\n",
      "angles.driveline: No driveline of this sheet is called 'rear shafd'. Is "
      "it 'rear shaft'?" },
    { H "driveline: {members: [a, b, c]}\n"
        "angles: [{driveline: rear, slopes_deg: [1, 2, 3]}]\n",
      "angles[1].driveline: No driveline of this sheet is called 'rear'. Write "
      "one of the names under driveline." },
    { H "driveline: {name: rear shaft}\n"
        "shims: [{at: axle}, {driveline: rear shaf, at: axle}]\n",
      "shims[2].driveline: No driveline of this sheet is called 'rear shaf'. "
      "Is it 'rear shaft'?" },
    { H "driveline: {name: rear}\nfitted: {driveline: nose, at: axle, "
        "turn_deg: 1}\n",
      "fitted.driveline: No driveline of this sheet is called 'nose'. Write "
      "one of the names under driveline." },
    { H "driveline: [{name: rear, members: [a, b, c]}, {name: front, members: "
        "[a, b, c, d]}]\nangles: [{slopes_deg: [1, 2, 3]}, {slopes_deg: [1, "
        "2, 3, 4]}]\n",
      "angles[2]: The set names no driveline, and its readings do not fit "
      "'rear' with its 3 members. They fit 'front': write driveline: front "
      "into the set." },
    { H "driveline: [{name: rear, members: [a, b, c]}, {name: front, members: "
        "[a, b, c, d]}]\nangles: [{driveline: front, slopes_deg: [1, 2, 3]}]\n",
      "angles[1].slopes_deg: Values given: 3. Wanted: 4, one for each member "
      "of the driveline." },
    { H "driveline: [{name: rear}, {name: rear}]\n",
      "driveline: Two drivelines are called 'rear'. Give each its own name." },
    /* numbers */
    { H "vehicle: {mass_kg: heavy}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: 'heavy'." },
    { H "vehicle: {mass_kg: .nan}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: '.nan'." },
    { H "vehicle: {mass_kg: inf}\n",
      "vehicle.mass_kg: Wanted is a number. Found: 'inf'. Leave the key out "
      "when the value is not known." },
    { H "vehicle: {mass_kg: [1]}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: a list." },
    { H "vehicle: {mass_kg: 0x10}\n",
      "vehicle.mass_kg: Wanted is a number in kg. Found: '0x10'." },
    { H "vehicle: {engine: {cylinders: 4.5}}\n",
      "vehicle.engine.cylinders: Wanted is a whole number. Found: '4.5'." },
    { H "vehicle: {top_speed_mph: 300}\n",
      "vehicle.top_speed_mph: '300' is outside the plausible range 6.2137 to "
      "217.4799 mph. Is it in this unit?" },
    { H "angles: {slopes_deg: [2, 20d75]}\n",
      "angles.slopes_deg[2]: Wanted is a number in degrees, as 2.1 or 2d06. "
      "Found: '20d75'." },
    { H "angles: {slopes_deg: [2, 111]}\n",
      "angles.slopes_deg[2]: '111' is outside the plausible range -45° to "
      "45°." },
    { H "vehicle: {axle_teeth: [41]}\n",
      "vehicle.axle_teeth: Values given: 1. Wanted: 2." },
    { H "complaint: {speed_km_h: [1, 2, 3]}\n",
      "complaint.speed_km_h: Values given: 3. Wanted: 2 at most." },
    /* words */
    { H "angles: {suspension: on_ground}\n",
      "angles.suspension: 'on_ground' is not one of: wheels_on_ground, "
      "axle_on_stands_at_ride_height, hanging." },
    { H "complaint: {felt: [seat, flor]}\n",
      "complaint.felt: 'flor' is not one of: seat, floor, steering_wheel, "
      "whole, heard. Did you mean 'floor'?" },
    { H "driveline: {members: [a, b], joints: [cardn]}\n",
      "driveline.joints[1]: 'cardn' is not one of: cardan, double_cardan, "
      "constant_velocity, rubber_disc. Did you mean 'cardan'?" },
    { H "safety: {clips_refitted: perhaps}\n",
      "safety.clips_refitted: 'perhaps' is not one of: yes, no." },
    { H "complaint: {throtle: same}\n",
      "complaint: The name 'throtle' is not known here. Did you mean "
      "'throttle'?" },
    { H "vehicle: {top_speed: 90}\n",
      "vehicle: The name 'top_speed' is not known here. Did you mean "
      "'top_speed_km_h'?" },
    /* shapes */
    { "- a\n- b\n",
      "Wanted is a mapping (lines of 'key: value'). Found: a list." },
    { "halfturn\n",
      "Wanted is a mapping (lines of 'key: value'). Found: 'halfturn'." },
    { H "vehicle: car\n",
      "vehicle: Wanted is a mapping (lines of 'key: value'). Found: 'car'." },
    { H "driveline: none\n",
      "driveline: Wanted is a list of mappings. Found: 'none'." },
    { H "title: [a]\n", "title: Wanted is a text. Found: a list." },
    { H "title: a\ntitle: b\n",
      "title: This is given twice, first on line 2. Keep one." },
    { H "vehicle: {accessories: {fan: 1, fan: 2}}\n",
      "vehicle.accessories.fan: This is given twice, first on line 2. Keep "
      "one." },
    { H "vehicle: {accessories: [1]}\n",
      "vehicle.accessories: Wanted is a mapping of names to numbers. Found: a "
      "list." },
    { H "title: a: b\n",
      "A ': ' stands where no key can be. Indent the keys of one mapping "
      "alike, and put a text that holds ': ' in quotes." },
    { H "title: \"a\n",
      "The file ends inside a quoted text. The closing quote is missing." },
    { H "checks:\n  seen:\n  -\ta\n", "A tab stands here. Use blanks." },
    { H "checks: {seen: [a, , b]}\n",
      "A value is wanted here. There is a comma too many, or a bracket that is "
      "not closed." },
    { H "title: @home\n",
      "This character cannot begin a value. Put the text in quotes." },
    /* keys that must fit each other */
    { H "vehicle: {axle_teeth: [41, 11], axle_ratio: 3.9}\n",
      "vehicle: 'axle_ratio' and 'axle_teeth' on line 2 say the same thing. "
      "Keep one." },
    { H "vehicle: {axle_teeth: [11, 41]}\n",
      "vehicle.axle_teeth: The teeth are given as 11 and 41. The ring gear "
      "stands first, as in [41, 11]." },
    { H "vehicle: {engine: {cylinders: 4, strokes: 3}}\n",
      "vehicle.engine.strokes: An engine has 2 or 4 strokes. Found: 3." },
    { H "identity: {date: 20.11.2026}\n",
      "identity.date: Wanted is a day of the calendar, year first, as "
      "2026-11-20. Found: '20.11.2026'." },
    { H "driveline: {members: [a, b, c], joints: [cardan]}\n",
      "driveline.joints: Joints given: 1. Wanted: 2, one between each pair of "
      "members." },
    { H "driveline: {members: [a, b, c], yokes_deg: [0, 0]}\n",
      "driveline.yokes_deg: Values given: 2. Wanted: 1, one for each shaft "
      "(the members between the two ends)." },
    { H "driveline: {chain: [{member: a}, {member: b}, {member: c}]}\n",
      "driveline.chain: Entry 2 must be a joint. Members and joints stand in "
      "turn, front to rear." },
    { H "driveline: {chain: [{member: a}, {joint: cardan}, {member: b}, "
        "{joint: cardan}]}\n",
      "driveline.chain: The last entry is a joint. A member (pinion, axle) "
      "must follow it." },
    { H "driveline: {chain: [{member: a}, {joint: cardan}, {member: b}], "
        "joints: [cardan]}\n",
      "driveline.joints: 'chain' holds this already. Put it into the entries "
      "of the chain." },
    { H "driveline: [{name: a}, {to: b}]\n",
      "driveline: There are several drivelines, and entry 2 has no name. Give "
      "each of them a name." },
    { H "driveline: {members: [a, b]}\n"
        "angles: {read: [{member: a, slope_deg: 1}, {member: c, "
        "slope_deg: 2}]}\n",
      "angles.read[2].member: 'c' stands where the driveline has 'b'. Members "
      "are listed front to rear." },
    { H "angles: {read: [{member: a, slope_deg: 1}, {member: b}]}\n",
      "angles.read: There is no reading for 'b'. Give slope_deg, flip, "
      "opposite or face." },
    { H "angles: {slopes_deg: [1, {face: 3.1}]}\n",
      "angles.slopes_deg[2].face: A face across the axis reads near 90 "
      "degrees. Found: 3.1. If the gauge lay along the shaft, it is a slope. "
      "If it was zeroed upright, add 90." },
    { H "angles: {read_on: strap}\n",
      "angles.read_on: A strap bends as its bolts are tightened and lies "
      "square to nothing. Take it off and read on the cap: cap, "
      "machined_flange or yoke." },
    { H "angles: {slopes_deg: [1, {face: 87, crosswise_deg: 1}]}\n",
      "angles.slopes_deg[2].crosswise_deg: A face across the axis has no cap "
      "to lay the gauge crosswise on. Give set_up_deg instead." },
    { H "angles: {slopes_deg: [1, {readings_deg: 2, crosswise_deg: 1, "
        "set_up_deg: 0.2}]}\n",
      "angles.slopes_deg[2]: 'set_up_deg' and 'crosswise_deg' on line 2 say "
      "the same thing. Keep one." },
    { H "angles: {slopes_are: drawing, slopes_deg: [1, {flip: [2, -1.9]}]}\n",
      "angles.slopes_are: Slope 2 was read with a gauge (flip, opposite, face "
      "or crosswise_deg) and so is an inclination. Leave out 'slopes_are: "
      "drawing'." },
    { H "angles: {slopes_deg: [1, 2, 3], offsets_mm: [0, 1], headings_deg: "
        "[0, 0, 0]}\n",
      "angles: 'headings_deg' and 'offsets_mm' on line 2 say the same thing. "
      "Keep one." },
    { H "angles: {offsets_mm: [0, 1], read: [{member: a, slope_deg: 1}, "
        "{member: b, slope_deg: 2, heading_deg: 1}, {member: c, slope_deg: "
        "1}]}\n",
      "angles.read: offsets_mm says where 'b' runs, and its heading_deg says "
      "it too. Keep one." },
    { H "angles: {slopes_deg: [1, 2, 3], offsets_mm: [0, 1, 2]}\n",
      "angles.offsets_mm: Values given: 3. Wanted: 2, one for each joint "
      "centre, front to rear." },
    { H "angles: {slopes_deg: [1, 2], end_headings_deg: [0, 1]}\n",
      "angles.end_headings_deg: end_headings_deg goes with offsets_mm. "
      "Without offsets give headings_deg, one for each member." },
    { H "angles: {read: [{member: a, slope_deg: 1, heading_deg: 0}, "
        "{member: b, slope_deg: 1}]}\n",
      "angles.read: heading_deg is given for 1 of 2 members. Give it for all "
      "or for none." },
    { H "angles: {read: [{slope_deg: 1}, {member: b, slope_deg: 1}]}\n",
      "angles.read[1]: The key 'member' is missing. Add it." },
    { H "angles: {slopes_deg: [1, 2], headings_deg: [1, 2, 3]}\n",
      "angles.headings_deg: Values given: 3. Wanted: 2, one for each slope." },
    { H "angles: {slopes_deg: [1, 2], joints_deg: [1]}\n",
      "angles: 'joints_deg' and 'slopes_deg' on line 2 say the same thing. "
      "Keep one." },
    { H "complaint: {speed_km_h: [100, 85]}\n",
      "complaint.speed_km_h: The speeds run from the higher to the lower. "
      "Write the lower first, as in [85, 100]." },
    { H "drive: {speed: {from_km_h: 50}}\n",
      "drive.speed.from_km_h: A run has a speed it starts from and one it goes "
      "to. Give both." },
    { H "drive: {speed: {steady_km_h: 50, from_km_h: 1, to_km_h: 2}}\n",
      "drive.speed.from_km_h: The speed is given in two ways. Give a log, or a "
      "steady speed, or from and to." },
    { H "vehicle: {gear_ratios: [3, 2, 1]}\ndrive: {gear: 5}\n",
      "drive.gear: The drive was in gear 5, but gear_ratios holds only 3. "
      "Correct the gear or the list." },
    { "halfturn: 0\n",
      "halfturn: There is no such version. Write 'halfturn: 1'." },
    /* JSON */
    { "{\"halfturn\": 1, \"title\": }",
      "This is not JSON. Look for a missing comma, colon, quote or bracket "
      "here or just before." },
    { "{\"halfturn\": 1, \"halfturn\": 1}",
      "The key just before this place stands in its object already. Keep "
      "one." },
    { "{\"halfturn\": 1, \"vehicle\": {\"mass_kg\": true}}",
      "vehicle.mass_kg: Wanted is a number in kg. Found: 'true'." },
    { "{\"halfturn\": 1, \"title\": \"a\\u0000b\"}",
      "A text holds \\u0000, the character 0. Remove it." },
    { "{\"halfturn\": 1e999}", "This number is too large to be read." },
    { "{\"halfturn\": 1, \"title\": [1, 2",
      "The file ends before its JSON does. A bracket or a quote is not "
      "closed." },
    { "{\"halfturn\": 1} x", "The file goes on after the end of its JSON. One "
                             "file holds one object." },
    /* texts and members */
    { H "title: \"a\\0b\"\n", "The text holds the character 0. Remove it." },
    { H "driveline: {chain: [{member: a}, {joint: cardan, yoke_deg: 0}, "
        "{member: b}]}\n",
      "driveline.chain: Entry 2 is a joint and has a yoke, a tube or bearings. "
      "Give these to the shaft beside it." },
    { H "driveline: {chain: [{joint: cardan}, {member: a}, {joint: cardan}]}\n",
      "driveline.chain: Entry 1 must be a member. Members and joints stand in "
      "turn, front to rear." },
    { H "driveline: {chain: [{member: a}, {joint: cardan}, {member: b, "
        "yoke_deg: 0}, {joint: cardan}, {member: c}, {joint: cardan}, "
        "{member: d}]}\n",
      "driveline.chain: yoke_deg is given for 1 of 2 shafts. Give it for all "
      "or for none." },
    { H "angles: {read: [{member: a, slope_deg: 1}, {member: b, slope_deg: "
        "1}], headings_deg: [0, 0]}\n",
      "angles.headings_deg: With 'read' the headings stand beside the slopes. "
      "Give each entry its heading_deg." },
    /* values that do not fit each other */
    { H "driveline: {members: [a, b, c], tubes: [{outer_mm: 76, wall_mm: "
        "40}]}\n",
      "driveline.tubes[1]: The wall is half the tube's diameter or more. Give "
      "wall thickness and outer diameter." },
    { H "driveline: {members: [a, b, c], tubes: [{outer_mm: 76, "
        "joint_to_joint_mm: 60}]}\n",
      "driveline.tubes[1]: The tube is as thick as it is long. Give its outer "
      "diameter, and the length between joint centres." },
    { H "driveline: {members: [a, b, c], tubes: [{outer_mm: 76}, {outer_mm: "
        "76}]}\n",
      "driveline.tubes: Tubes given: 2. Wanted: 1, one for each shaft (the "
      "members between the two ends)." },
    { H "limits: {joint_min_deg: 3, joint_max_deg: 0.5}\n",
      "limits.joint_min_deg: The smallest angle allowed lies above the "
      "largest. Change the two round." },
    { H "drive: {recording: a.wav, channels: [{scale: 0}]}\n",
      "drive.channels[1].scale: A scale of 0 turns every value into 0. Give "
      "units in one of the file's." },
    { H "vehicle: {accessories: {'': 2.6}}\n",
      "vehicle.accessories.: A name is missing before this value. Add it." },
};

static void each_kind_of_slip_has_its_sentence(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sentences / sizeof sentences[0]; i++)
        assert_first_problem(sentences[i].sheet, sentences[i].first);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_of_slip_has_its_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
