/* jansson checks the syntax and undoes the escapes; a walk over the text it
 * has accepted adds the places and keeps numbers as they were written. */
#include "node.h"
#include "texts.h"

#include "common/limits.h"

#include <jansson.h>
#include <string.h>

struct walk {
    struct ht_arena *arena;
    const struct text_source *source;
    size_t at;
    size_t counted;       /* bytes that `place` stands at */
    struct place place;
};

static struct node *build(struct walk *walk, json_t *value);

static char here(const struct walk *walk)
{
    return walk->source->bytes[walk->at];
}

static void skip_blanks(struct walk *walk)
{
    while (walk->at < walk->source->length &&
           memchr(" \t\r\n", here(walk), 4))
        walk->at++;
}

static struct place place_now(struct walk *walk)
{
    for (; walk->counted < walk->at; walk->counted++) {
        char c = walk->source->bytes[walk->counted];
        if (c == '\n')
            walk->place = (struct place){ walk->place.line + 1, 1 };
        else if (((unsigned char)c & 0xc0) != 0x80)
            walk->place.column++;
    }
    return walk->place;
}

/* Past the closing quote of the string that starts here. */
static void skip_string(struct walk *walk)
{
    for (walk->at++; here(walk) != '"'; walk->at++)
        if (here(walk) == '\\')
            walk->at++;
    walk->at++;
}

static struct node *string_node(struct walk *walk, const char *text,
                                size_t length)
{
    struct node *node =
        ht_node_create(walk->arena, NODE_SCALAR, place_now(walk));
    if (!node || !ht_node_set_text(walk->arena, node, text, length))
        return NULL;
    node->quoted = true;
    skip_string(walk);
    return node;
}

/* A number or one of true, false, null, as written. */
static struct node *bare_node(struct walk *walk, const json_t *value)
{
    struct node *node =
        ht_node_create(walk->arena, NODE_SCALAR, place_now(walk));
    size_t from = walk->at;
    while (walk->at < walk->source->length &&
           !memchr(",]} \t\r\n", here(walk), 7))
        walk->at++;
    if (!node)
        return NULL;
    if (!json_is_null(value) &&
        !ht_node_set_text(walk->arena, node, walk->source->bytes + from,
                          walk->at - from))
        return NULL;
    return node;
}

static struct node *list_node(struct walk *walk, const json_t *array)
{
    struct node *list = ht_node_create(walk->arena, NODE_LIST, place_now(walk));
    walk->at++;
    for (size_t i = 0; list && i < json_array_size(array); i++) {
        struct node *item = build(walk, json_array_get(array, i));
        if (!item)
            return NULL;
        ht_node_append(list, item);
        skip_blanks(walk);
        walk->at += i + 1 < json_array_size(array); /* the comma */
    }
    skip_blanks(walk);
    walk->at++;
    return list;
}

static struct node *map_node(struct walk *walk, json_t *object)
{
    struct node *map = ht_node_create(walk->arena, NODE_MAP, place_now(walk));
    size_t left = json_object_size(object);
    walk->at++;
    for (void *i = json_object_iter(object); map && i;
         i = json_object_iter_next(object, i)) {
        skip_blanks(walk);
        const char *name = json_object_iter_key(i);
        struct node *key = string_node(walk, name, strlen(name));
        if (!key)
            return NULL;
        skip_blanks(walk);
        walk->at++; /* the colon */
        struct node *value = build(walk, json_object_iter_value(i));
        if (!value)
            return NULL;
        value->key = key;
        ht_node_append(map, value);
        skip_blanks(walk);
        walk->at += --left > 0; /* the comma */
    }
    skip_blanks(walk);
    walk->at++;
    return map;
}

/* jansson keeps the members of an object in the order of the text. */
static struct node *build(struct walk *walk, json_t *value)
{
    skip_blanks(walk);
    if (json_is_object(value))
        return map_node(walk, value);
    if (json_is_array(value))
        return list_node(walk, value);
    if (json_is_string(value))
        return string_node(walk, json_string_value(value),
                           json_string_length(value));
    return bare_node(walk, value);
}

static bool too_deep(const struct text_source *source, size_t *at)
{
    size_t depth = 0;
    bool inside = false;
    for (size_t i = 0; i < source->length; i++) {
        char c = source->bytes[i];
        if (inside && c == '\\')
            i++;
        else if (c == '"')
            inside = !inside;
        else if (!inside && (c == '[' || c == '{') &&
                 ++depth > HT_DOCUMENT_DEPTH_MAX) {
            *at = i;
            return true;
        } else if (!inside && (c == ']' || c == '}') && depth > 0)
            depth--;
    }
    return false;
}

/* jansson's kinds of mistake in our words; it finds no others in a text that
 * is UTF-8 and not too deep. */
static void note_syntax(enum json_error_code code, struct noter *noter,
                        struct place place)
{
    switch (code) {
    case json_error_premature_end_of_input:
        ht_problem_note(noter, place, 1, DOCUMENT_JSON_ENDS);
        return;
    case json_error_end_of_input_expected:
        ht_problem_note(noter, place, 1, DOCUMENT_JSON_GOES_ON);
        return;
    case json_error_duplicate_key:
        ht_problem_note(noter, place, 1, DOCUMENT_JSON_KEY_TWICE);
        return;
    case json_error_null_character:
    case json_error_null_byte_in_key:
        ht_problem_note(noter, place, 1, DOCUMENT_JSON_ZERO);
        return;
    case json_error_numeric_overflow:
        ht_problem_note(noter, place, 1, DOCUMENT_JSON_NUMBER);
        return;
    default:
        ht_problem_note(noter, place, 1, DOCUMENT_NOT_JSON);
    }
}

static enum ht_status syntax_problem(const json_error_t *error,
                                     struct noter *noter)
{
    if (json_error_code(error) == json_error_out_of_memory)
        return HT_NO_MEMORY;
    struct place place = { error->line > 0 ? (size_t)error->line : 1,
                           error->column > 0 ? (size_t)error->column : 1 };
    note_syntax(json_error_code(error), noter, place);
    return HT_BAD_FILE;
}

enum ht_status ht_json_nodes(struct node **root, struct ht_arena *arena,
                             const struct text_source *source,
                             struct noter *noter)
{
    size_t at = 0;
    json_error_t error;
    *root = NULL;
    if (too_deep(source, &at)) {
        ht_problem_note(noter, ht_source_place(source, at), 1,
                        DOCUMENT_TOO_DEEP, HT_DOCUMENT_DEPTH_MAX);
        return HT_BAD_FILE;
    }
    json_t *value = json_loadb(source->bytes, source->length,
                               JSON_REJECT_DUPLICATES | JSON_DECODE_INT_AS_REAL,
                               &error);
    if (!value)
        return syntax_problem(&error, noter);
    struct walk walk = { .arena = arena, .source = source,
                         .place = { 1, 1 } };
    *root = build(&walk, value);
    json_decref(value);
    return *root ? HT_OK : HT_NO_MEMORY;
}
