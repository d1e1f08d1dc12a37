/* Answers about the complaint and the road test. */
#include "put.h"

#include "answer.h"

#include "command/texts.h"

#include <stdio.h>
#include <string.h>

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

enum ht_status put_complaint(struct ht_json *json,
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
    answer_put_numbers(json, speeds.mph ? "speed_mph" : "speed_km_h", number,
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

enum ht_status put_drive(struct ht_json *json,
                         const struct ht_sheet *sheet,
                         const char *answer, struct ht_error *err)
{
    struct token piece[TOKENS_MAX];
    struct drive_words words = {
        .place.row = answer_row("drive.sensor.place")
    };
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
