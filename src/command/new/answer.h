/* answer.h - a typed answer cut into numbers and words, and put under the keys
 * of the sheet. What a key takes is judged by the sheet's own reader. */
#ifndef HALFTURN_COMMAND_ANSWER_H
#define HALFTURN_COMMAND_ANSWER_H

#include "halfturn/document.h"
#include "halfturn/json.h"
#include "halfturn/status.h"

#include <stdbool.h>
#include <stddef.h>

enum { ANSWER_BYTES = 1024, TOKENS_MAX = 64, TOKEN_BYTES = 256,
       WORD_TOKENS = 6 /* axle on stands at ride height */ };

struct token {
    char text[TOKEN_BYTES];
    bool is_number;     /* begins like one */
};

/* Blanks, ';' and commas part tokens; a comma between digits stays, so that a
 * decimal comma can be named. A number and the letters behind it (2.1r, 60mph)
 * are two. False: too many, or one that is too long. */
bool answer_tokens(struct token *token, size_t *count, const char *answer);

/* Pieces between commas, with the blanks around them taken off. */
bool answer_pieces(struct token *piece, size_t *count, const char *answer);

/* The words that a key takes, where several keys share one answer. */
struct word_list {
    const struct ht_row *row;
    const char *found[16];  /* as they are put into the sheet */
    size_t count;
    char room[16][80];
};

/* A row of the sheet's table by its path, such as "complaint.felt". */
const struct ht_row *answer_row(const char *path);

/* Takes the word that begins at token[at] into the list that knows it (two or
 * more tokens where those make one word: steering wheel), else into the one
 * that has the nearest name, else into the first. Returns the tokens taken. */
size_t answer_word(struct word_list *list, size_t lists,
                   const struct token *token, size_t at, size_t count);

/* The words under their key; nothing where there are none. */
void answer_put_words(struct ht_json *json, const struct word_list *list);

/* Lower case, '_' for blanks and '-'. */
void answer_as_word(char *word, size_t size, const char *text);

/* An answer cut up: tokens, and of them the words of two keys. */
struct cut {
    struct token token[TOKENS_MAX];
    size_t count;
    const char *number[TOKENS_MAX];
    size_t numbers;
    struct word_list list[2];
};

/* Numbers apart from words; `a` and `b` are the paths of the keys that take
 * words, or NULL. */
enum ht_status answer_cut(struct cut *cut, const char *answer, const char *a,
                          const char *b, struct ht_error *err);

/* One number, or a list, as typed. */
void answer_put_numbers(struct ht_json *json, const char *key,
                        const char *const *number, size_t count);

#endif
