#include "option_table.h"

static const struct option_word suspensions[] = {
    { "wheels_on_ground", HT_SUSPENSION_WHEELS_ON_GROUND },
    { "axle_on_stands_at_ride_height", HT_SUSPENSION_STANDS_AT_RIDE_HEIGHT },
    { "hanging", HT_SUSPENSION_HANGING },
    { NULL, 0 }
};
static const struct option_word surfaces[] = {
    { "cap", HT_SURFACE_CAP },
    { "machined_flange", HT_SURFACE_MACHINED_FLANGE },
    { "yoke", HT_SURFACE_YOKE },
    { NULL, 0 }
};
static const struct option_word ends[] = {
    { "front", HT_END_FRONT },
    { "rear", HT_END_REAR },
    { NULL, 0 }
};

static const struct option_word papers[] = {
    { "a4", HT_PAPER_A4 },
    { "letter", HT_PAPER_LETTER },
    { NULL, 0 }
};

#define AT(field) offsetof(struct options, field)

const struct option_row option_rows[] = {
    { "json", 'j', FLAG, FOR_ALL, AT(json), 0, 0, NULL, NULL,
      "print one JSON object instead of text" },
    { "output", 'o', PATH, FOR_ALL, AT(output), 0, 0, NULL, "FILE",
      "write there instead of to the terminal; the file takes its place when "
      "it is complete; -o - is standard output" },
    { "figures", 0, PATH, FOR_ALL & ~FOR_PARTS, AT(figures), 0, 0, NULL,
      "FOLDER",
      "also write every figure into this folder, as SVG and as PNG; the folder "
      "is made when it is not there" },
    { "speed", 's', SPEED, FOR_PARTS, AT(speed_m_s), 0.27, 100, NULL, "SPEED",
      "road speed: 95 is km/h, 60mph is miles per hour" },
    { "gear", 'g', WHOLE, FOR_PARTS, AT(gear), 1, 16, NULL, "N",
      "the gear, counted from 1" },
    { "hz", 'f', NUMBER, FOR_PARTS, AT(hz), 0.1, 2000, NULL, "F",
      "which parts could shake at this frequency" },
    { "suspension", 0, WORD, FOR_ANGLES, AT(suspension), 0, 0, suspensions,
      "STATE",
      "wheels_on_ground, axle_on_stands_at_ride_height or hanging; without "
      "it: numbers, no verdict" },
    { "gauge", 0, ANGLE, FOR_ANGLES, AT(gauge_rad), 0, 0, NULL, "DEG",
      "accuracy of the gauge, plus or minus" },
    { "step", 0, ANGLE, FOR_ANGLES, AT(step_rad), 0, 0, NULL, "DEG",
      "smallest step the gauge shows" },
    { "set-up", 0, ANGLE, FOR_ANGLES, AT(set_up_rad), 0, 0, NULL, "DEG",
      "uncertainty of setting yoke and gauge: 0.15 when the yoke was set by "
      "laying the gauge crosswise, 0.4 by eye" },
    { "read-on", 0, WORD, FOR_ANGLES, AT(read_on), 0, 0, surfaces, "SURFACE",
      "what the gauge stood on: cap, machined_flange or yoke" },
    { "headings", 0, TEXT, FOR_ANGLES, AT(headings), 0, 0, NULL, "DEG,...",
      "heading of each member, + to the left going rearward" },
    { "zeroed", 0, FLAG, FOR_ANGLES, AT(zeroed), 0, 0, NULL, NULL,
      "the readings are one signed difference for each joint: gauge zeroed on "
      "one cap, read on the next" },
    { "drawing", 0, FLAG, FOR_ANGLES, AT(drawing), 0, 0, NULL, NULL,
      "the slopes are those of a drawing's side view, not inclinations" },
    { "crosswise", 0, ANGLE, FOR_ANGLES, AT(crosswise_rad), 0, 0, NULL, "DEG",
      "the most that the gauge showed laid crosswise on the caps when the "
      "yokes were set; takes the place of --set-up" },
    { "offsets", 0, TEXT, FOR_ANGLES, AT(offsets), 0, 0, NULL, "MM,...",
      "how far each joint centre lies to the left (+), instead of --headings; "
      "wants --lengths" },
    { "lengths", 0, TEXT, FOR_ANGLES, AT(lengths), 0, 0, NULL, "MM,...",
      "length of each shaft between its joint centres" },
    { "yokes", 0, TEXT, FOR_ANGLES, AT(yokes), 0, 0, NULL, "DEG,...",
      "clocking of each shaft section, 0 in line" },
    { "driven-from", 0, WORD, FOR_ANGLES, AT(driven_from), 0, 0, ends, "END",
      "which end the torque enters: front or rear" },
    { "rpm", 0, NUMBER, FOR_ANGLES, AT(shaft_rpm), 1, 20000, NULL, "N",
      "shaft speed at which the accelerations are worked out" },
    { "blank", 0, FLAG, FOR_ANGLES, AT(blank), 0, 0, NULL, NULL,
      "write the measuring sheet to fill in beside the vehicle, as PDF; on a "
      "terminal without -o into CASE-sheet.pdf in this folder" },
    { "explain", 0, FLAG, FOR_ANGLES, AT(explain), 0, 0, NULL, NULL,
      "show the calculation instead, step by step, for a calculator" },
    { "pdf", 0, FLAG, FOR_REPORT, AT(pdf), 0, 0, NULL, NULL,
      "write a PDF instead of HTML; so does an output that ends in .pdf" },
    { "paper", 0, WORD, FOR_ANGLES | FOR_REPORT, AT(paper), 0, 0, papers,
      "SIZE", "size of a PDF's pages: a4, or letter (inches beside "
      "millimetres)" },
    { "limits", 0, SET, FOR_ALL & ~FOR_PARTS, AT(limits), 0, 0, NULL, "SET",
      "judge by this limit set: car, light_truck, ..." },
    { "limits-file", 0, PATH, FOR_ALL & ~FOR_PARTS, AT(limits_file), 0, 0,
      NULL, "FILE", "an edited copy of the limits" },
    { "catalogue-file", 0, PATH, FOR_RANK | FOR_REPORT, AT(catalogue_file), 0,
      0, NULL, "FILE", "an edited copy of the catalogue of causes" },
    { "port", 0, WHOLE, FOR_SERVE, AT(port), 0, 65535, NULL, "N",
      "where it is served; 0 takes a free one; 4290 without it" },
    { "folder", 0, PATH, FOR_SERVE, AT(folder), 0, 0, NULL, "FOLDER",
      "where the cases are kept; without it halfturn/ in $XDG_DATA_HOME or in "
      "~/.local/share" },
    { "shop", 0, TEXT, FOR_REPORT | FOR_SERVE, AT(shop), 0, 0, NULL, "NAME",
      "name of the workshop at the head of the page" },
    { "from", 0, PATH, FOR_NEW, AT(from), 0, 0, NULL, "FILE",
      "start from a case sheet (its vehicle, driveline and limits are taken "
      "over) or from a recording; which one is found by reading it" },
    { "quiet", 'q', FLAG, FOR_DRIVES | FOR_NEW, AT(quiet), 0, 0, NULL, NULL,
      "no progress on the terminal; questions are not printed" },
    { "help", 'h', FLAG, FOR_ALL | FOR_NEW | FOR_SERVE, AT(help), 0, 0,
      NULL, NULL,
      "show this help" },
};
_Static_assert(sizeof option_rows / sizeof option_rows[0] == OPTIONS,
               "the number of options");
