#include "reading.h"
#include "texts.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void ht_complain(struct reading *reading, const struct node *node,
                 enum ht_status status, const char *format, ...)
{
    char text[400];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    size_t width = ht_node_width(node);
    if (reading->path[0])
        ht_problem_note(&reading->noter, node->place, width, status, "%s: %s",
                        reading->path, text);
    else
        ht_problem_note(&reading->noter, node->place, width, status, "%s",
                        text);
}

static size_t path_append(struct reading *reading, const char *text)
{
    size_t before = strlen(reading->path), length = strlen(text);
    size_t room = sizeof reading->path - before - 1;
    if (length > room)
        length = room;
    memcpy(reading->path + before, text, length);
    reading->path[before + length] = '\0';
    return before;
}

size_t ht_path_add(struct reading *reading, const char *name)
{
    size_t before = strlen(reading->path);
    if (before > 0)
        (void)path_append(reading, ".");
    (void)path_append(reading, name);
    return before;
}

size_t ht_path_add_number(struct reading *reading, size_t number)
{
    char text[32];
    (void)snprintf(text, sizeof text, "[%zu]", number);
    return path_append(reading, text);
}

void ht_path_cut(struct reading *reading, size_t length)
{
    reading->path[length] = '\0';
}

const char *ht_node_shown(const struct node *node, char *buffer, size_t size)
{
    if (node->kind == NODE_LIST)
        return DOCUMENT_A_LIST;
    if (node->kind == NODE_MAP)
        return DOCUMENT_A_MAPPING;
    if (node->length == 0)
        return DOCUMENT_NOTHING;
    size_t length = node->length, most = size - 6;
    if (length > most) {
        length = most;
        while (length > 0 && ((unsigned char)node->text[length] & 0xc0) == 0x80)
            length--;
    }
    (void)snprintf(buffer, size, "'%.*s%s'", (int)length, node->text,
                   length < node->length ? "..." : "");
    return buffer;
}

void *ht_get_memory(struct reading *reading, size_t count, size_t size)
{
    void *memory = ht_arena_get(reading->arena, count, size);
    if (!memory)
        reading->no_memory = true;
    return memory;
}

const char *ht_get_text(struct reading *reading, const struct node *node)
{
    const char *text = ht_arena_text(reading->arena, node->text, node->length);
    if (!text)
        reading->no_memory = true;
    return text;
}

static bool is_json(const struct text_source *source)
{
    size_t at = 0;
    while (at < source->length && strchr(" \t\r\n", source->bytes[at]))
        at++;
    return at < source->length && source->bytes[at] == '{';
}

/* A YAML file may begin with '{' too, in flow form with bare keys: JSON has a
 * quote (or the end) after its brace. */
static bool is_flow_yaml(const struct text_source *source)
{
    const char *brace = memchr(source->bytes, '{', source->length);
    const char *end = source->bytes + source->length;
    for (brace++; brace < end && strchr(" \t\r\n", *brace); brace++)
        ;
    return brace < end && *brace != '"' && *brace != '}' && *brace != '\'';
}

enum ht_status ht_problems_as_error(const struct ht_problems *problems,
                                    struct ht_error *err)
{
    if (problems->found == 0)
        return HT_OK;
    const struct ht_error *first = &problems->problem[0].error;
    bool several = problems->found > 1;
    if (several)
        return ht_fail_at_line(err, first->line, first->column,
                               DOCUMENT_PROBLEM_AT_OF, problems->file,
                               first->line, first->column, first->text,
                               problems->found);
    return ht_fail_at_line(err, first->line, first->column, DOCUMENT_PROBLEM_AT,
                           problems->file, first->line, first->column,
                           first->text);
}

static enum ht_status out_of_memory(const struct reading *reading,
                                    struct ht_error *err)
{
    return ht_fail(err, DOCUMENT_NO_MEMORY, reading->noter.problems->file);
}

static enum ht_status nodes_of(struct reading *reading)
{
    struct node *root = NULL;
    enum ht_status status;
    if (is_json(&reading->source) && !is_flow_yaml(&reading->source))
        status = ht_json_nodes(&root, &reading->nodes, &reading->source,
                               &reading->noter);
    else
        status = ht_yaml_nodes(&root, &reading->nodes, &reading->source,
                               &reading->noter);
    reading->root = root;
    return status;
}

enum ht_status ht_reading_open(struct reading *reading,
                               const struct ht_source *source,
                               struct ht_problems *problems,
                               struct ht_error *err)
{
    *reading = (struct reading){ .noter = { .problems = problems } };
    problems->found = problems->kept = 0;
    ht_problems_of(problems, source->name ? source->name : "text");
    enum ht_status status =
        ht_source_open(&reading->source, source, &reading->noter, err);
    if (status == HT_OK)
        status = nodes_of(reading);
    if (status == HT_BAD_FILE)
        return ht_problems_as_error(problems, err);
    if (status == HT_NO_MEMORY)
        return out_of_memory(reading, err);
    return status;
}

enum ht_status ht_reading_fill(struct reading *reading,
                               const struct ht_schema *schema, void *record,
                               struct ht_error *err)
{
    if (reading->root)
        ht_read_map(reading, schema, reading->root, record,
                    &ht_quantity_of(HT_QUANTITY_PLAIN)->unit[0]);
    else
        ht_problem_note(&reading->noter, (struct place){ 1, 1 }, 1,
                        DOCUMENT_EMPTY, schema->name);
    if (reading->no_memory)
        return out_of_memory(reading, err);
    return ht_problems_as_error(reading->noter.problems, err);
}

void ht_reading_close(struct reading *reading)
{
    ht_arena_free(&reading->nodes);
    ht_source_close(&reading->source);
}

enum ht_status ht_document_read(void *record, void **memory,
                                const struct ht_schema *schema,
                                const struct ht_source *source,
                                struct ht_problems *problems,
                                struct ht_error *err)
{
    struct reading reading;
    struct ht_problems own;
    ht_record_clear(record, schema);
    struct ht_arena *arena = ht_allocate(1, sizeof *arena);
    if (memory)
        *memory = NULL;
    enum ht_status status =
        ht_reading_open(&reading, source, problems ? problems : &own, err);
    reading.arena = arena;
    if (!arena)
        status = out_of_memory(&reading, err);
    if (status == HT_OK)
        status = ht_reading_fill(&reading, schema, record, err);
    ht_reading_close(&reading);
    void *held = arena;
    if (status != HT_OK)
        ht_record_clear(record, schema);
    if (status == HT_OK && memory)
        *memory = held;
    else
        ht_document_free(&held);
    return status;
}

void ht_document_free(void **memory)
{
    struct ht_arena *arena = *memory;
    if (arena)
        ht_arena_free(arena);
    ht_release(arena);
    *memory = NULL;
}
