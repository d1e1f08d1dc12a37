#include "questions.h"

#include "answer.h"
#include "texts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* An answer cut up: tokens, and of them the words of two keys. */
struct cut {
    struct token token[TOKENS_MAX];
    size_t count;
    const char *number[TOKENS_MAX];
    size_t numbers;
    struct word_list list[2];
};

/* Numbers apart from words; `a` and `b` are the keys that take words. */
static enum ht_status cut_up(struct cut *cut, const char *answer, const char *a,
                             const char *b, struct ht_error *err)
{
    size_t lists = a ? b ? 2 : 1 : 0;
    *cut = (struct cut){ 0 };
    if (lists > 0)
        cut->list[0].row = answer_row(a);
    if (lists > 1)
        cut->list[1].row = answer_row(b);
    if (!answer_tokens(cut->token, &cut->count, answer))
        return ht_fail(err, ANSWER_TOO_LONG);
    for (size_t i = 0; i < cut->count;) {
        const char *text = cut->token[i].text;
        if (cut->token[i].is_number) {
            cut->number[cut->numbers++] = text;
            i++;
        } else if (lists > 0) {
            i += answer_word(cut->list, lists, cut->token, i, cut->count);
        } else
            return ht_fail(err, ANSWER_WORD, text);
    }
    return HT_OK;
}

static void put_numbers(struct ht_json *json, const char *key,
                        const char *const *number, size_t count)
{
    if (count == 0)
        return;
    if (count == 1) {
        ht_json_text(json, key, number[0]);
        return;
    }
    ht_json_open_list(json, key);
    for (size_t i = 0; i < count; i++)
        ht_json_text(json, NULL, number[i]);
    ht_json_close(json);
}

/* ---- the vehicle ------------------------------------------------------- */

static enum ht_status put_class(struct ht_json *json,
                                const struct ht_sheet *sheet,
                                const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status =
        cut_up(&cut, answer, "vehicle.class", "vehicle.drive", err);
    if (status == HT_OK && cut.numbers)
        status = ht_fail(err, ANSWER_NUMBER, cut.number[0]);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "vehicle");
    answer_put_words(json, &cut.list[0]);
    answer_put_words(json, &cut.list[1]);
    ht_json_close(json);
    return HT_OK;
}

/* A number alone is wheel turns per km. */
static enum ht_status put_tyre(struct ht_json *json,
                               const struct ht_sheet *sheet,
                               const char *answer, struct ht_error *err)
{
    (void)sheet;
    (void)err;
    bool turns = answer[strspn(answer, "0123456789.")] == '\0';
    ht_json_open_map(json, "vehicle");
    ht_json_text(json, turns ? "tyre_turns_per_km" : "tyre", answer);
    ht_json_close(json);
    return HT_OK;
}

/* Ratio, ratio to 1 (3.73:1), or ring and pinion (41/11). */
static enum ht_status put_axle(struct ht_json *json,
                               const struct ht_sheet *sheet,
                               const char *answer, struct ht_error *err)
{
    struct cut cut;
    char plain[ANSWER_BYTES];
    (void)sheet;
    (void)snprintf(plain, sizeof plain, "%s", answer);
    for (char *c = plain; *c; c++)
        *c = *c == ':' || *c == '/' ? ' ' : *c;
    enum ht_status status = cut_up(&cut, plain, NULL, NULL, err);
    if (status != HT_OK)
        return status;
    bool to_one = cut.numbers == 2 && strcmp(cut.number[1], "1") == 0;
    bool ratio = cut.numbers == 1 || to_one;
    ht_json_open_map(json, "vehicle");
    put_numbers(json, ratio ? "axle_ratio" : "axle_teeth", cut.number,
                ratio ? 1 : cut.numbers);
    ht_json_close(json);
    return HT_OK;
}

static enum ht_status put_gearbox(struct ht_json *json,
                                  const struct ht_sheet *sheet,
                                  const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status = cut_up(&cut, answer, "vehicle.gearbox", NULL, err);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "vehicle");
    answer_put_words(json, &cut.list[0]);
    put_numbers(json, "gear_ratios", cut.number, cut.numbers);
    ht_json_close(json);
    return HT_OK;
}

static enum ht_status put_engine(struct ht_json *json,
                                 const struct ht_sheet *sheet,
                                 const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    const char *rest = strncmp(answer, "electric", 8) == 0 ? answer + 8 : NULL;
    enum ht_status status = cut_up(&cut, rest ? rest : answer, NULL, NULL, err);
    if (status == HT_OK &&
        (cut.numbers == 0 || cut.numbers > (rest ? 1u : 2u)))
        status = ht_fail(err, ANSWER_ENGINE);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "vehicle");
    ht_json_open_map(json, rest ? "motor" : "engine");
    ht_json_text(json, rest ? "ratio" : "cylinders", cut.number[0]);
    if (cut.numbers == 2)
        ht_json_text(json, "strokes", cut.number[1]);
    ht_json_close(json);
    ht_json_close(json);
    return HT_OK;
}

/* ---- the driveline and its angles -------------------------------------- */

static bool is_joint(const char *text)
{
    char word[TOKEN_BYTES];
    answer_as_word(word, sizeof word, text);
    for (const struct ht_word *w = answer_row("driveline.joints")->words;
         w->text; w++)
        if (strcmp(w->text, word) == 0)
            return true;
    return false;
}

/* Members alone, or members and joints in turn. */
static void put_chain(struct ht_json *json, const struct token *piece,
                      size_t count)
{
    bool chain = false;
    for (size_t i = 0; i < count; i++)
        chain = chain || is_joint(piece[i].text);
    ht_json_open_list(json, chain ? "chain" : "members");
    for (size_t i = 0; i < count; i++) {
        char word[TOKEN_BYTES];
        answer_as_word(word, sizeof word, piece[i].text);
        bool joint = is_joint(piece[i].text);
        if (chain)
            ht_json_open_map(json, NULL);
        ht_json_text(json, chain ? joint ? "joint" : "member" : NULL,
                     joint ? word : piece[i].text);
        if (chain)
            ht_json_close(json);
    }
    ht_json_close(json);
}

static enum ht_status put_driveline(struct ht_json *json,
                                    const struct ht_sheet *sheet,
                                    const char *answer, struct ht_error *err)
{
    struct token piece[TOKENS_MAX];
    size_t count;
    (void)sheet;
    if (!answer_pieces(piece, &count, answer))
        return ht_fail(err, ANSWER_TOO_LONG);
    if (count < 2)
        return ht_fail(err, ANSWER_ONE_MEMBER);
    ht_json_open_map(json, "driveline");
    put_chain(json, piece, count);
    ht_json_close(json);
    return HT_OK;
}

static enum ht_status put_suspension(struct ht_json *json,
                                     const struct ht_sheet *sheet,
                                     const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status =
        cut_up(&cut, answer, "angles.suspension", NULL, err);
    if (status == HT_OK && cut.numbers)
        status = ht_fail(err, ANSWER_NUMBER, cut.number[0]);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "angles");
    answer_put_words(json, &cut.list[0]);
    ht_json_close(json);
    return HT_OK;
}

/* A slope's sign: + where the rear end is lower; 0 where none is said. */
static int sign_of(const char *text)
{
    static const char *const ends[] = { "rear", "r", "front", "f" };
    char word[TOKEN_BYTES];
    answer_as_word(word, sizeof word, text);
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++)
        if (strcmp(word, ends[i]) == 0)
            return i < 2 ? 1 : -1;
    return 0;
}

static bool is_level(const char *number)
{
    return number[strspn(number, "0.")] == '\0';
}

/* One member's number and the end that is lower; returns the tokens taken. */
static size_t put_slope(struct ht_json *json, const struct token *token,
                        size_t left, enum ht_status *status,
                        struct ht_error *err)
{
    char signed_text[TOKEN_BYTES + 2];
    const char *number = token[0].text;
    bool said = left > 1 && !token[1].is_number;
    int sign = said ? sign_of(token[1].text) : 0;
    if (!token[0].is_number)
        *status = ht_fail(err, SLOPE_NO_NUMBER, number);
    else if (number[0] == '-' || number[0] == '+')
        *status = ht_fail(err, SLOPE_SIGN, number, number + 1);
    else if (said && sign == 0)
        *status = ht_fail(err, SLOPE_NO_END, token[1].text);
    else if (!said && !is_level(number))
        *status = ht_fail(err, SLOPE_WHICH_END, number, number, number);
    (void)snprintf(signed_text, sizeof signed_text, "%s%s",
                   sign < 0 ? "-" : "", number);
    ht_json_text(json, NULL, signed_text);
    return said ? 2 : 1;
}

static enum ht_status put_slopes(struct ht_json *json,
                                 const struct ht_sheet *sheet,
                                 const char *answer, struct ht_error *err)
{
    struct token token[TOKENS_MAX];
    size_t count;
    enum ht_status status = HT_OK;
    (void)sheet;
    if (!answer_tokens(token, &count, answer))
        return ht_fail(err, ANSWER_TOO_LONG);
    ht_json_open_map(json, "angles");
    ht_json_text(json, "read_on", "cap");
    ht_json_open_list(json, "slopes_deg");
    for (size_t i = 0; i < count && status == HT_OK;)
        i += put_slope(json, token + i, count - i, &status, err);
    ht_json_close(json);
    ht_json_close(json);
    return status;
}

/* ---- complaint and road test ------------------------------------------- */

/* A speed, or from and to: "85-100", "85 to 100", "60 65 mph". */
struct speeds {
    struct token token[TOKENS_MAX];
    size_t count;           /* of the tokens that are no speed */
    char number[3][TOKEN_BYTES];
    size_t numbers;
    bool mph;
};

static bool is_unit(const char *text)
{
    return strcmp(text, "mph") == 0 || strcmp(text, "km/h") == 0 ||
           strcmp(text, "kmh") == 0 || strcmp(text, "km_h") == 0 ||
           strcmp(text, "to") == 0 || strcmp(text, "and") == 0;
}

static void take_speed(struct speeds *speeds, const char *number)
{
    enum { MOST = sizeof speeds->number / sizeof speeds->number[0] };
    const char *dash = number[0] ? strchr(number + 1, '-') : NULL;
    size_t length = dash ? (size_t)(dash - number) : strlen(number);
    if (speeds->numbers < MOST)
        (void)snprintf(speeds->number[speeds->numbers++],
                       sizeof speeds->number[0], "%.*s", (int)length, number);
    if (dash && dash[1])
        take_speed(speeds, dash + 1);
}

static bool find_speeds(struct speeds *speeds, const char *answer)
{
    struct token all[TOKENS_MAX];
    size_t count;
    *speeds = (struct speeds){ 0 };
    if (!answer_tokens(all, &count, answer))
        return false;
    for (size_t i = 0; i < count; i++) {
        bool unit = is_unit(all[i].text);
        speeds->mph = speeds->mph || strcmp(all[i].text, "mph") == 0;
        if (all[i].is_number)
            take_speed(speeds, all[i].text);
        else if (!unit && strcmp(all[i].text, "-") != 0)
            speeds->token[speeds->count++] = all[i];
    }
    return true;
}

static enum ht_status put_complaint(struct ht_json *json,
                                    const struct ht_sheet *sheet,
                                    const char *answer, struct ht_error *err)
{
    struct speeds speeds;
    struct word_list felt = { .row = answer_row("complaint.felt") };
    (void)sheet;
    if (!find_speeds(&speeds, answer))
        return ht_fail(err, ANSWER_TOO_LONG);
    for (size_t i = 0; i < speeds.count;)
        i += answer_word(&felt, 1, speeds.token, i, speeds.count);
    const char *number[] = { speeds.number[0], speeds.number[1],
                             speeds.number[2] };
    ht_json_open_map(json, "complaint");
    put_numbers(json, speeds.mph ? "speed_mph" : "speed_km_h", number,
                speeds.numbers);
    answer_put_words(json, &felt);
    ht_json_close(json);
    return HT_OK;
}

/* What the pieces after the recording say. */
struct drive_words {
    const char *speed;      /* a log's name, or speeds as they were typed */
    const char *gear;
    struct word_list place;
};

static enum ht_status put_speed(struct ht_json *json, const char *text,
                                struct ht_error *err)
{
    struct speeds speeds;
    if (!text)
        return HT_OK;
    if (!find_speeds(&speeds, text))
        return ht_fail(err, ANSWER_TOO_LONG);
    if (speeds.numbers == 0 || speeds.count > 0) {
        ht_json_text(json, "speed", text);
        return HT_OK;
    }
    if (speeds.numbers > 2)
        return ht_fail(err, DRIVE_SPEEDS, text);
    bool mph = speeds.mph;
    ht_json_open_map(json, "speed");
    if (speeds.numbers == 1)
        ht_json_text(json, mph ? "steady_mph" : "steady_km_h",
                     speeds.number[0]);
    else {
        ht_json_text(json, mph ? "from_mph" : "from_km_h", speeds.number[0]);
        ht_json_text(json, mph ? "to_mph" : "to_km_h", speeds.number[1]);
    }
    ht_json_close(json);
    return HT_OK;
}

static bool is_place(struct drive_words *words, const char *text)
{
    char word[TOKEN_BYTES];
    answer_as_word(word, sizeof word, text);
    for (const struct ht_word *w = words->place.row->words; w->text; w++)
        if (strcmp(w->text, word) == 0) {
            struct token token = { "", false };
            (void)snprintf(token.text, sizeof token.text, "%s", text);
            (void)answer_word(&words->place, 1, &token, 0, 1);
            return true;
        }
    return false;
}

static enum ht_status sort_piece(struct drive_words *words, const char *text,
                                 struct ht_error *err)
{
    if (strncmp(text, "gear ", 5) == 0)
        words->gear = text + 5 + strspn(text + 5, " ");
    else if (is_place(words, text))
        return HT_OK;
    else if (words->speed)
        return ht_fail(err, DRIVE_MORE, words->speed, text);
    else
        words->speed = text;
    return HT_OK;
}

static enum ht_status put_drive(struct ht_json *json,
                                const struct ht_sheet *sheet,
                                const char *answer, struct ht_error *err)
{
    struct token piece[TOKENS_MAX];
    struct drive_words words = { .place.row = answer_row("drive.sensor.place") };
    bool recorded = sheet->drive_count > 0 && sheet->drives[0].recording;
    enum ht_status status = HT_OK;
    size_t count;
    if (!answer_pieces(piece, &count, answer))
        return ht_fail(err, ANSWER_TOO_LONG);
    for (size_t i = recorded ? 0 : 1; i < count && status == HT_OK; i++)
        status = sort_piece(&words, piece[i].text, err);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "drive");
    if (!recorded)
        ht_json_text(json, "recording", piece[0].text);
    if (words.place.count) {
        ht_json_open_map(json, "sensor");
        answer_put_words(json, &words.place);
        ht_json_close(json);
    }
    status = put_speed(json, words.speed, err);
    if (words.gear)
        ht_json_text(json, "gear", words.gear);
    ht_json_close(json);
    return status;
}

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
    return sheet->vehicle.gear_ratios.count || !isnan(sheet->vehicle.motor_ratio);
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
