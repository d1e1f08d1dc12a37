#include "answer.h"

#include "command/texts.h"
#include "halfturn/sheet.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool starts_number(const char *at)
{
    at += *at == '+' || *at == '-';
    at += *at == '.';
    return is_digit(*at);
}

/* A comma between digits belongs to the number: it is a decimal comma. */
static bool is_between(const char *start, const char *at)
{
    if (*at == ' ' || *at == '\t' || *at == ';')
        return true;
    return *at == ',' && !(at > start && is_digit(at[-1]) && is_digit(at[1]));
}

/* How much of a number's text is the number; the rest is its unit or end. */
static size_t number_length(const char *text, size_t length)
{
    while (length > 0 && !is_digit(text[length - 1]) &&
           text[length - 1] != '.')
        length--;
    return length;
}

static bool add_token(struct token *token, size_t *count, const char *text,
                      size_t length)
{
    static const char degree[] = "\xc2\xb0";
    if (length >= 2 && memcmp(text, degree, 2) == 0) {
        text += 2;
        length -= 2;
    }
    if (length == 0)
        return true;
    if (*count == TOKENS_MAX || length >= sizeof token->text)
        return false;
    struct token *to = &token[(*count)++];
    memcpy(to->text, text, length);
    to->text[length] = '\0';
    to->is_number = starts_number(to->text);
    return true;
}

bool answer_tokens(struct token *token, size_t *count, const char *answer)
{
    bool fine = true;
    *count = 0;
    for (const char *at = answer; *at && fine;) {
        const char *start = at;
        while (*at && !is_between(start, at))
            at++;
        size_t length = (size_t)(at - start);
        size_t head = starts_number(start) ? number_length(start, length)
                                           : length;
        fine = add_token(token, count, start, head) &&
               add_token(token, count, start + head, length - head);
        at += *at != '\0';
    }
    return fine;
}

bool answer_pieces(struct token *piece, size_t *count, const char *answer)
{
    *count = 0;
    for (const char *at = answer;;) {
        size_t length = strcspn(at, ","), from = 0, to = length;
        while (from < to && (at[from] == ' ' || at[from] == '\t'))
            from++;
        while (to > from && (at[to - 1] == ' ' || at[to - 1] == '\t'))
            to--;
        if (to > from && !add_token(piece, count, at + from, to - from))
            return false;
        if (at[length] == '\0')
            return true;
        at += length + 1;
    }
}

const struct ht_row *answer_row(const char *path)
{
    const struct ht_schema *schema = ht_sheet_schema();
    const struct ht_row *row = NULL;
    while (schema && *path) {
        size_t length = strcspn(path, ".");
        row = NULL;
        for (size_t r = 0; r < schema->row_count && !row; r++)
            if (strncmp(schema->rows[r].key, path, length) == 0 &&
                schema->rows[r].key[length] == '\0')
                row = &schema->rows[r];
        schema = row ? row->child : NULL;
        path += length + (path[length] == '.');
    }
    return row;
}

void answer_as_word(char *word, size_t size, const char *text)
{
    size_t n = 0;
    for (; *text && n + 1 < size; text++)
        word[n++] = *text == ' ' || *text == '-'
                        ? '_'
                        : (char)tolower((unsigned char)*text);
    word[n] = '\0';
}

static bool knows(const struct ht_row *row, const char *word)
{
    for (const struct ht_word *w = row->words; w->text; w++)
        if (strcmp(w->text, word) == 0)
            return true;
    return false;
}

/* The list that holds the nearest word; the first when none is near. */
static size_t nearest_list(const struct word_list *list, size_t lists,
                           const char *word)
{
    const char *names[64] = { NULL };
    size_t count = 0;
    for (size_t i = 0; i < lists; i++)
        for (const struct ht_word *w = list[i].row->words;
             w->text && count < 63; w++)
            names[count++] = w->text;
    const char *near = ht_nearest_name(word, names);
    for (size_t i = 0; near && i < lists; i++)
        if (knows(list[i].row, near))
            return i;
    return 0;
}

/* The tokens from `at`, joined to one word. */
static void join(char *word, size_t size, const struct token *token, size_t at,
                 size_t length)
{
    size_t n = 0;
    word[0] = '\0';
    for (size_t i = 0; i < length; i++) {
        if (i && n + 1 < size)
            word[n++] = '_';
        answer_as_word(word + n, size - n, token[at + i].text);
        n += strlen(word + n);
    }
}

static void take(struct word_list *list, const char *word)
{
    enum { MOST = sizeof list->found / sizeof list->found[0] };
    if (list->count == MOST)
        return;
    (void)snprintf(list->room[list->count], sizeof list->room[0], "%.79s",
                   word);
    list->found[list->count] = list->room[list->count];
    list->count++;
}

size_t answer_word(struct word_list *list, size_t lists,
                   const struct token *token, size_t at, size_t count)
{
    char word[WORD_TOKENS * TOKEN_BYTES];
    for (size_t length = WORD_TOKENS; length > 0; length--) {
        if (at + length > count)
            continue;
        join(word, sizeof word, token, at, length);
        for (size_t i = 0; i < lists; i++)
            if (knows(list[i].row, word)) {
                take(&list[i], word);
                return length;
            }
    }
    join(word, sizeof word, token, at, 1);
    take(&list[nearest_list(list, lists, word)], word);
    return 1;
}

void answer_put_words(struct ht_json *json, const struct word_list *list)
{
    char several[TOKEN_BYTES] = "";
    if (list->count == 0)
        return;
    if (list->row->kind == HT_IS_WORD_SET) {
        ht_json_open_list(json, list->row->key);
        for (size_t i = 0; i < list->count; i++)
            ht_json_text(json, NULL, list->found[i]);
        ht_json_close(json);
        return;
    }
    /* two words where one is wanted are shown as they were given */
    for (size_t i = 0, n = 0; i < list->count && n < sizeof several; i++)
        n += (size_t)snprintf(several + n, sizeof several - n, "%s%s",
                              i ? " " : "", list->found[i]);
    ht_json_text(json, list->row->key, several);
}

enum ht_status answer_cut(struct cut *cut, const char *answer, const char *a,
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

void answer_put_numbers(struct ht_json *json, const char *key,
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
