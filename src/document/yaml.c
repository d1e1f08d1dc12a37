#include "node.h"
#include "texts.h"

#include "common/limits.h"

#include <stdio.h>
#include <string.h>
#include <yaml.h>

struct walk {
    yaml_parser_t parser;
    yaml_event_t event;
    struct ht_arena *arena;
    struct noter *noter;
    enum ht_status status; /* HT_OK until something ends the walk */
};

static struct place place_of(yaml_mark_t mark)
{
    return (struct place){ mark.line + 1, mark.column + 1 };
}

/* The place of a refusal, which ends the walk. */
static struct place ends_at(struct walk *walk, yaml_mark_t mark)
{
    walk->status = HT_BAD_FILE;
    return place_of(mark);
}

/* libyaml's terms, and what they mean to somebody who writes a sheet; NULL:
 * not in the table. */
static const char *in_our_words(const char *problem)
{
    static const char *const words[][2] = {
        { "mapping values are not allowed", DOCUMENT_YAML_COLON },
        { "did not find expected key", DOCUMENT_YAML_KEY },
        { "did not find expected '-' indicator", DOCUMENT_YAML_ITEM },
        { "did not find expected ',' or ']'", DOCUMENT_YAML_LIST_OPEN },
        { "did not find expected ',' or '}'", DOCUMENT_YAML_MAPPING_OPEN },
        { "could not find expected ':'", DOCUMENT_YAML_NO_COLON },
        { "found unexpected end of stream", DOCUMENT_YAML_QUOTE_OPEN },
        { "found unexpected document indicator", DOCUMENT_YAML_QUOTE_END },
        { "block sequence entries are not allowed", DOCUMENT_YAML_ITEM_HERE },
        { "block collections are not allowed", DOCUMENT_YAML_BLOCK_HERE },
        { "control characters are not allowed", DOCUMENT_YAML_CONTROL },
        { "found unknown escape character", DOCUMENT_YAML_ESCAPE },
        { "cannot start any token", DOCUMENT_YAML_START },
        { "did not find expected node content", DOCUMENT_YAML_VALUE },
        { "did not find expected <document start>", DOCUMENT_YAML_GOES_ON },
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strstr(problem, words[i][0]))
            return words[i][1];
    return NULL;
}

/* Its term for a quote that nothing closes. */
static const char end_of_file[] = "end of stream";

static bool has_tab_indent(const char *line, size_t length)
{
    size_t at = 0;
    while (at < length && line[at] == ' ')
        at++;
    return at < length && line[at] == '\t';
}

/* The character at a place is a tab; bytes before it may be many. */
static bool is_tab(const struct text_source *source, struct place place)
{
    size_t length = 0, column = 0;
    const char *line = ht_source_line(source, place.line, &length);
    for (size_t i = 0; line && i < length; i++) {
        column += ((unsigned char)line[i] & 0xc0) != 0x80;
        if (column == place.column)
            return line[i] == '\t';
    }
    return false;
}

/* Every line whose indentation holds a tab; false when there is none. */
static bool note_tabs(struct walk *walk)
{
    const struct text_source *source = walk->noter->source;
    const char *end = source->bytes + source->length, *line = source->bytes;
    bool found = false;
    for (size_t number = 1; line && line < end; number++) {
        const char *stop = memchr(line, '\n', (size_t)(end - line));
        size_t length = (size_t)((stop ? stop : end) - line);
        if (has_tab_indent(line, length)) {
            size_t column = (size_t)((const char *)memchr(line, '\t', length) -
                                     line) + 1;
            ht_problem_note(walk->noter, (struct place){ number, column }, 1,
                            DOCUMENT_TAB_INDENT);
            found = true;
        }
        line = stop ? stop + 1 : NULL;
    }
    return found;
}

/* A bracket of an earlier line that nothing closes. */
static bool note_open_bracket(struct walk *walk, struct place place)
{
    struct place start = place_of(walk->parser.context_mark);
    const char *problem = walk->parser.problem;
    if (start.line >= place.line)
        return false;
    if (strstr(problem, "',' or ']'"))
        ht_problem_note(walk->noter, place, 1, DOCUMENT_LIST_OPEN_FROM,
                        start.line);
    else if (strstr(problem, "',' or '}'"))
        ht_problem_note(walk->noter, place, 1, DOCUMENT_MAPPING_OPEN_FROM,
                        start.line);
    else
        return false;
    return true;
}

static void note_syntax(struct walk *walk)
{
    const yaml_parser_t *parser = &walk->parser;
    const struct text_source *source = walk->noter->source;
    struct place place = place_of(parser->problem_mark);
    const char *ours = in_our_words(parser->problem);
    if (parser->error == YAML_READER_ERROR)
        place = ht_source_place(source, parser->problem_offset);
    else if (strstr(parser->problem, end_of_file))
        place = place_of(parser->context_mark); /* the open quote */
    if (is_tab(source, place))
        ht_problem_note(walk->noter, place, 1, DOCUMENT_TAB);
    else if (note_open_bracket(walk, place))
        return;
    else if (ours)
        ht_problem_note(walk->noter, place, 1, HT_BAD_FILE, "%s", ours);
    else
        ht_problem_note(walk->noter, place, 1, DOCUMENT_NOT_YAML,
                        parser->problem);
}

static void syntax_problem(struct walk *walk)
{
    if (walk->parser.error == YAML_MEMORY_ERROR || !walk->parser.problem) {
        walk->status = HT_NO_MEMORY;
        return;
    }
    walk->status = HT_BAD_FILE;
    if (!note_tabs(walk))
        note_syntax(walk);
}

static bool next(struct walk *walk)
{
    yaml_event_delete(&walk->event);
    if (walk->status == HT_BAD_FILE || walk->status == HT_OK) {
        if (yaml_parser_parse(&walk->parser, &walk->event))
            return true;
        syntax_problem(walk);
    }
    return false;
}

static void refuse_extras(struct walk *walk, const yaml_char_t *anchor,
                          const yaml_char_t *tag)
{
    if (anchor)
        ht_problem_note(walk->noter, ends_at(walk, walk->event.start_mark), 1,
                        DOCUMENT_ANCHOR);
    if (tag)
        ht_problem_note(walk->noter, ends_at(walk, walk->event.start_mark), 1,
                        DOCUMENT_TAG);
}

static struct node *build(struct walk *walk, size_t depth);

static struct node *out_of_memory(struct walk *walk)
{
    walk->status = HT_NO_MEMORY;
    return NULL;
}

static struct node *build_scalar(struct walk *walk)
{
    const yaml_event_t *event = &walk->event;
    struct node *node =
        ht_node_create(walk->arena, NODE_SCALAR, place_of(event->start_mark));
    if (event->type == YAML_ALIAS_EVENT) {
        ht_problem_note(walk->noter, ends_at(walk, event->start_mark), 1,
                        DOCUMENT_ALIAS);
        return node ? node : out_of_memory(walk);
    }
    refuse_extras(walk, event->data.scalar.anchor, event->data.scalar.tag);
    if (!node || !ht_node_set_text(walk->arena, node,
                                   (const char *)event->data.scalar.value,
                                   event->data.scalar.length))
        return out_of_memory(walk);
    node->quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE;
    if (memchr(node->text, 0, node->length))
        ht_problem_note(walk->noter, ends_at(walk, event->start_mark), 1,
                        DOCUMENT_CHARACTER_ZERO);
    return node;
}

static struct node *build_list(struct walk *walk, size_t depth)
{
    struct node *list = ht_node_create(walk->arena, NODE_LIST,
                                       place_of(walk->event.start_mark));
    if (!list)
        return out_of_memory(walk);
    list->flow = walk->event.data.sequence_start.style ==
                 YAML_FLOW_SEQUENCE_STYLE;
    refuse_extras(walk, walk->event.data.sequence_start.anchor,
                  walk->event.data.sequence_start.tag);
    for (;;) {
        if (!next(walk))
            return NULL;
        if (walk->event.type == YAML_SEQUENCE_END_EVENT)
            return list;
        struct node *item = build(walk, depth + 1);
        if (!item)
            return NULL;
        ht_node_append(list, item);
    }
}

static struct node *build_map(struct walk *walk, size_t depth)
{
    struct node *map =
        ht_node_create(walk->arena, NODE_MAP, place_of(walk->event.start_mark));
    if (!map)
        return out_of_memory(walk);
    refuse_extras(walk, walk->event.data.mapping_start.anchor,
                  walk->event.data.mapping_start.tag);
    for (;;) {
        if (!next(walk))
            return NULL;
        if (walk->event.type == YAML_MAPPING_END_EVENT)
            return map;
        yaml_mark_t mark = walk->event.start_mark;
        struct node *key = build(walk, depth + 1);
        if (!key || !next(walk))
            return NULL;
        struct node *value = build(walk, depth + 1);
        if (!value)
            return NULL;
        if (key->kind != NODE_SCALAR)
            ht_problem_note(walk->noter, ends_at(walk, mark), 1,
                            DOCUMENT_KEY_NOT_A_WORD);
        value->key = key;
        ht_node_append(map, value);
    }
}

/* The value whose first event is at hand; depth counts from 1. */
static struct node *build(struct walk *walk, size_t depth)
{
    bool nests = walk->event.type == YAML_SEQUENCE_START_EVENT ||
                 walk->event.type == YAML_MAPPING_START_EVENT;
    if (!nests)
        return build_scalar(walk);
    if (depth > HT_DOCUMENT_DEPTH_MAX) {
        ht_problem_note(walk->noter, ends_at(walk, walk->event.start_mark), 1,
                        DOCUMENT_TOO_DEEP, HT_DOCUMENT_DEPTH_MAX);
        return NULL;
    }
    if (walk->event.type == YAML_SEQUENCE_START_EVENT)
        return build_list(walk, depth);
    return build_map(walk, depth);
}

static struct node *build_stream(struct walk *walk)
{
    struct node *root = NULL;
    if (!next(walk)) /* the start of the stream */
        return NULL;
    if (!next(walk) || walk->event.type == YAML_STREAM_END_EVENT)
        return NULL;
    if (!next(walk)) /* the first event of the document */
        return NULL;
    root = build(walk, 1);
    if (!root || !next(walk) || !next(walk)) /* document end, stream end */
        return NULL;
    if (walk->event.type != YAML_STREAM_END_EVENT)
        ht_problem_note(walk->noter, ends_at(walk, walk->event.start_mark), 1,
                        DOCUMENT_SECOND);
    return root;
}

enum ht_status ht_yaml_nodes(struct node **root, struct ht_arena *arena,
                             const struct text_source *source,
                             struct noter *noter)
{
    struct walk walk = { .arena = arena, .noter = noter };
    *root = NULL;
    if (!yaml_parser_initialize(&walk.parser))
        return HT_NO_MEMORY;
    yaml_parser_set_encoding(&walk.parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&walk.parser,
                                 (const unsigned char *)source->bytes,
                                 source->length);
    *root = build_stream(&walk);
    yaml_event_delete(&walk.event);
    yaml_parser_delete(&walk.parser);
    if (walk.status != HT_OK)
        *root = NULL;
    return walk.status;
}
