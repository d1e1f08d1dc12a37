/* The table of commands, with the words of --help and of the man pages. */
#include "commands.h"

#include "halfturn/document.h"

#include <string.h>

static const struct command commands[] = {
    { .name = "new",
      .summary = "asks ten short questions and writes a case sheet",
      .use = { "[CASE.yaml]", "--from FILE [CASE.yaml]" },
      .about = {
          "Asks what can be answered standing beside the vehicle. Enter alone "
          "means: I do not know; the key is then left out, and nothing is "
          "made up for it. An answer that does not fit is explained and asked "
          "again. Ctrl-D or Ctrl-C stops, and nothing is written.",
          "The sheet is written with comments: what each line is, and what "
          "else could be added, behind a '#'. A file that is there is never "
          "written over. Without a name the sheet is case.yaml; '-' prints it.",
          "Without a terminal the answers are read line by line, an empty "
          "line for what is not known; what is missing at the end is not "
          "known either.",
          "--from takes an existing case sheet (vehicle, driveline and limits "
          "are copied; readings, complaint and recording are asked) or a "
          "recording (WAV, FLAC, CSV, ...).",
      },
      .example = {
          { "A new case in this folder:", "halfturn new case-17.yaml" },
          { "The same vehicle type as last time:",
            "halfturn new --from case.yaml case-18.yaml" },
          { "Starting from the recording of a drive:",
            "halfturn new --from drive.flac case-19.yaml" },
          { "From a script: kind, tyre and axle ratio, the rest unknown:",
            "printf '%s\\n' 'van rear' 235/65R16 3.73 |\n"
            "    halfturn new --quiet case-20.yaml" },
      },
      .bit = FOR_NEW, .cautions = CAUTION_STANDING, .run = command_new },
    { .name = "parts",
      .summary = "what turns how fast; needs no recording",
      .use = { "CASE --speed SPEED", "CASE --speed SPEED --hz F" },
      .about = {
          "Lists wheel, shaft, engine and everything else that turns: how "
          "often at this road speed, in hertz and in turns a minute. The "
          "sheet wants a tyre size and an axle ratio; for the engine the gear "
          "ratios too.",
          "With --hz it answers the other way round: which of them could "
          "shake at that frequency. Without --speed the list is for the "
          "complaint's highest speed, and --hz looks over all its speeds and "
          "says at which one each would be met.",
      },
      .example = {
          { "What turns how fast at 95 km/h in fifth gear:",
            "halfturn parts case.yaml --speed 95 --gear 5" },
          { "What could shake at 42 Hz at 60 miles an hour:",
            "halfturn parts case.yaml --speed 60mph --hz 42" },
          { "The same list for another program:",
            "halfturn parts case.yaml --speed 95 --json -o parts.json" },
      },
      .bit = FOR_PARTS, .run = command_parts },
    { .name = "angles",
      .summary = "working angles (operating angles), what they do, verdicts",
      .use = { "CASE",
               "[options] -- READING READING [/ READING READING]...",
               "--blank [CASE] -o sheet.pdf" },
      .about = {
          "Turns gauge readings of the universal joints into working angles "
          "(also called operating angles), the leftover angle of the whole "
          "line, the shake it causes, and a verdict that knows how accurate "
          "the gauge is.",
          "Without a sheet, the readings stand on the line: the member before "
          "and the member after each joint, front to rear, '/' between "
          "joints. A slope is positive when the rear end is lower. Readings "
          "stand after '--', so that a minus sign is not taken for an option.",
          "Without --suspension (or `suspension` in the sheet) there are "
          "numbers and no verdict: angles count only with the axle carrying "
          "the vehicle's weight.",
          "A sheet may hold several drivelines and several sets of readings "
          "(ride heights, before and after). Each is worked out and judged, "
          "at its own shaft's speed; the answer is about the worst of the "
          "sets to go by.",
          "--explain shows how the figures come about with the case's own "
          "numbers. --blank writes the measuring sheet: which cap to read, "
          "how far to roll the vehicle to the next, and cells for everything "
          "else that a verdict wants. Print it at full size.",
      },
      .example = {
          { "The readings of a case sheet:", "halfturn angles case.yaml" },
          { "Without a sheet: two joints, read on the caps, the yoke set "
            "crosswise, judged by one limit set:",
            "halfturn angles --suspension wheels_on_ground --gauge 0.1 \\\n"
            "    --read-on cap --set-up 0.15 --headings 0,0,0 \\\n"
            "    --limits light_truck -- 2.1 4.3 / 4.3 2.4" },
          { "Gauge zeroed on one cap and read on the next:",
            "halfturn angles --zeroed --gauge 0.1 -- 0.4 / 1.5 / -1.6" },
          { "The calculation, step by step, for a student:",
            "halfturn angles --explain case.yaml" },
          { "The measuring sheet of a case, to print:",
            "halfturn angles --blank case.yaml -o sheet.pdf" },
      },
      .bit = FOR_ANGLES, .cautions = CAUTION_STANDING, .run = command_angles },
    { .name = "shims",
      .summary = "which wedges and plates put the joint angles right",
      .use = { "CASE" },
      .about = {
          "Tries every combination of the wedges and plates that the sheet "
          "lists under `shims` (and one tooth of the slip spline either way "
          "where spline_teeth is given) on the joint centres of the "
          "driveline: a wedge moves the pinion's joint and so turns the shaft "
          "too. Prints the few that are worth their work, the readings to "
          "expect, and how likely every limit is then kept.",
          "First the ride height must be within 10 mm of the maker's figure, "
          "and springs, bushes and mounts be looked at and found sound: a "
          "shim over a sagging spring is the wrong repair. Lengths that the "
          "sheet does not give widen the answer.",
          "After the repair, add the new readings as a second set with "
          "`when: after` and what was put in under `fitted`: the readings are "
          "held against the prediction.",
      },
      .example = {
          { "Shims for a case:", "halfturn shims case.yaml" },
          { "Kept to another limit set:",
            "halfturn shims case.yaml --limits car" },
          { "For another program:", "halfturn shims case.yaml --json" },
      },
      .bit = FOR_SHIMS, .cautions = CAUTION_STANDING, .run = command_shims },
    { .name = "orders",
      .summary = "what the road test holds: which turns, how strong",
      .use = { "CASE" },
      .about = {
          "Reads the recording that the sheet names under `drive`, finds its "
          "speed from the log or the steady speed, and says which turns of "
          "wheel, shaft and engine it holds: seen and how strong, not seen "
          "although it would have been, or could not be seen and why.",
          "Sound files (WAV, FLAC, Ogg, MP3, AIFF, CAF) and accelerometer "
          "tables (CSV) are read. File names are relative to the sheet.",
      },
      .example = {
          { "The road test of a case:", "halfturn orders case.yaml" },
          { "The same as JSON, into a file:",
            "halfturn orders case.yaml --json -o orders.json" },
          { "Without progress on the terminal:",
            "halfturn orders case.yaml --quiet" },
      },
      .bit = FOR_ORDERS, .cautions = CAUTION_ROAD, .run = command_orders },
    { .name = "rank",
      .summary = "likely causes, why, and the next check",
      .use = { "CASE" },
      .about = {
          "Takes all that the sheet holds (complaint, angles, checks, road "
          "test) and ranks what could cause the shake: how likely, what "
          "raised and lowered it, what could not be told apart, and the check "
          "that would tell most.",
          "Safety findings stand above the ranking. It works with as little "
          "as a complaint, and says what it could not do for want of what.",
      },
      .example = {
          { "The likely causes:", "halfturn rank case.yaml" },
          { "Judged by another limit set:",
            "halfturn rank case.yaml --limits heavy_truck_a" },
          { "The same as JSON, for a script:",
            "halfturn rank case.yaml --json --quiet" },
          { "With a workshop's own copy of the catalogue of causes:",
            "halfturn rank case.yaml --catalogue-file catalogue.yaml" },
      },
      .bit = FOR_RANK, .cautions = CAUTION_STANDING | CAUTION_ROAD,
      .run = command_rank },
    { .name = "report",
      .summary = "one page for customer and colleague",
      .use = { "CASE -o report.html", "CASE -o report.pdf" },
      .about = {
          "Writes one HTML page with the answer, the next check, the figures "
          "and the cautions. It holds no script and fetches nothing; it can "
          "be mailed, and prints on paper.",
          "A name that ends in .pdf, or --pdf, makes the same report a PDF to "
          "print or to file, on A4 or Letter, tagged for screen readers.",
          "--figures also writes each figure into a folder, as SVG and as PNG, "
          "for slides and for letters. angles, shims, orders and rank take it "
          "too, and write the figures of what they work out.",
      },
      .example = {
          { "The page:", "halfturn report case.yaml -o report.html" },
          { "With the workshop's name at its head:",
            "halfturn report case.yaml --shop 'Mill Lane' -o report.html" },
          { "As PDF, on Letter paper:",
            "halfturn report case.yaml -o report.pdf --paper letter" },
          { "The figures too, as files to put on slides:",
            "halfturn report case.yaml -o report.html --figures figures" },
          { "Through a pipe:",
            "halfturn report case.yaml -o - | gzip > report.html.gz" },
      },
      .bit = FOR_REPORT, .cautions = CAUTION_STANDING | CAUTION_ROAD,
      .run = command_report },
    { .name = "serve",
      .summary = "the whole job as a page in a browser, cases kept",
      .use = { "[--port N] [--folder FOLDER]" },
      .about = {
          "Prints an address to open in a browser on this computer, and keeps "
          "every case in a folder until it is ended with Ctrl-C. Nothing is "
          "fetched from the internet, nobody else on the network can reach "
          "it, and nothing but this program needs to be installed.",
          "What is typed is saved at once. A case can be saved as one zip "
          "file, and taken in again here or on another computer. "
          "What the page asks for, scripts can ask for too: docs/http.md.",
      },
      .example = {
          { "The page:", "halfturn serve" },
          { "On a free port, with the cases in a folder of their own:",
            "halfturn serve --port 0 --folder cases" },
      },
      .bit = FOR_SERVE, .cautions = CAUTION_STANDING | CAUTION_ROAD,
      .run = command_serve },
};
enum { COMMANDS = sizeof commands / sizeof commands[0] };

const struct command *commands_list(size_t *count)
{
    *count = COMMANDS;
    return commands;
}

const struct command *commands_find(const char *name)
{
    for (size_t i = 0; i < COMMANDS; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    return NULL;
}

const char *commands_nearest(const char *name)
{
    const char *names[COMMANDS + 1] = { NULL };
    for (size_t i = 0; i < COMMANDS; i++)
        names[i] = commands[i].name;
    return ht_nearest_name(name, names);
}
