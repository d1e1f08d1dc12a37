/* Answers about the vehicle, its driveline and its angles. */
#include "put.h"

#include "answer.h"

#include "command/texts.h"

#include <stdio.h>
#include <string.h>

/* Where words alone are wanted. */
static enum ht_status without_numbers(const struct cut *cut,
                                      struct ht_error *err)
{
    if (cut->numbers == 0)
        return HT_OK;
    const char *first = cut->number[0];
    return first[strspn(first, "+-0123456789.,")]
               ? ht_fail(err, ANSWER_NOT_WORDS, first)
               : ht_fail(err, ANSWER_NUMBER, first);
}

/* ---- the vehicle ------------------------------------------------------- */

enum ht_status put_class(struct ht_json *json,
                         const struct ht_sheet *sheet,
                         const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status =
        answer_cut(&cut, answer, "vehicle.class", "vehicle.drive", err);
    if (status == HT_OK)
        status = without_numbers(&cut, err);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "vehicle");
    answer_put_words(json, &cut.list[0]);
    answer_put_words(json, &cut.list[1]);
    ht_json_close(json);
    return HT_OK;
}

/* A number alone is wheel turns per km. */
enum ht_status put_tyre(struct ht_json *json,
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
enum ht_status put_axle(struct ht_json *json,
                        const struct ht_sheet *sheet,
                        const char *answer, struct ht_error *err)
{
    struct cut cut;
    char plain[ANSWER_BYTES];
    (void)sheet;
    (void)snprintf(plain, sizeof plain, "%s", answer);
    for (char *c = plain; *c; c++)
        *c = *c == ':' || *c == '/' ? ' ' : *c;
    enum ht_status status = answer_cut(&cut, plain, NULL, NULL, err);
    if (status != HT_OK)
        return status;
    bool to_one = cut.numbers == 2 && strcmp(cut.number[1], "1") == 0;
    bool ratio = cut.numbers == 1 || to_one;
    ht_json_open_map(json, "vehicle");
    answer_put_numbers(json, ratio ? "axle_ratio" : "axle_teeth", cut.number,
                ratio ? 1 : cut.numbers);
    ht_json_close(json);
    return HT_OK;
}

enum ht_status put_gearbox(struct ht_json *json,
                           const struct ht_sheet *sheet,
                           const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status =
        answer_cut(&cut, answer, "vehicle.gearbox", NULL, err);
    if (status != HT_OK)
        return status;
    ht_json_open_map(json, "vehicle");
    answer_put_words(json, &cut.list[0]);
    answer_put_numbers(json, "gear_ratios", cut.number, cut.numbers);
    ht_json_close(json);
    return HT_OK;
}

enum ht_status put_engine(struct ht_json *json,
                          const struct ht_sheet *sheet,
                          const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    const char *rest = strncmp(answer, "electric", 8) == 0 ? answer + 8 : NULL;
    enum ht_status status =
        answer_cut(&cut, rest ? rest : answer, NULL, NULL, err);
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

enum ht_status put_driveline(struct ht_json *json,
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

enum ht_status put_suspension(struct ht_json *json,
                              const struct ht_sheet *sheet,
                              const char *answer, struct ht_error *err)
{
    struct cut cut;
    (void)sheet;
    enum ht_status status =
        answer_cut(&cut, answer, "angles.suspension", NULL, err);
    if (status == HT_OK)
        status = without_numbers(&cut, err);
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

enum ht_status put_slopes(struct ht_json *json,
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
