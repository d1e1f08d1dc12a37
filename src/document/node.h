/* node.h - a YAML or JSON text as a tree of texts with their places.
 *
 * Scalars stay text; the schema converts them. Lives in an arena.
 */
#ifndef HALFTURN_DOCUMENT_NODE_H
#define HALFTURN_DOCUMENT_NODE_H

#include "common/memory.h"
#include "source.h"

enum node_kind { NODE_SCALAR, NODE_LIST, NODE_MAP };

struct node {
    enum node_kind kind;
    bool quoted;          /* a scalar in quotes */
    bool flow;            /* a list in brackets */
    const char *text;     /* 0-terminated; scalars only */
    size_t length;
    struct place place;
    struct node *key;     /* in a mapping: the scalar before this value */
    struct node *first, *last, *next;
    size_t count;
};

/* NULL: out of memory. */
struct node *ht_node_create(struct ht_arena *arena, enum node_kind kind,
                            struct place place);
bool ht_node_set_text(struct ht_arena *arena, struct node *node,
                      const char *text, size_t length);
void ht_node_append(struct node *parent, struct node *child);

/* An empty value ("" too), `~` or JSON null. */
bool ht_node_is_not_said(const struct node *node);

/* By a path such as "angles/2/slopes_deg"; NULL when it is not there. */
const struct node *ht_node_find(const struct node *root, const char *path);

/* How many columns the value takes for a caret; at least 1. */
size_t ht_node_width(const struct node *node);

/* Both return HT_OK with *root, HT_BAD_FILE with problems noted, or
 * HT_NO_MEMORY. *root is NULL for a text without any value. */
enum ht_status ht_yaml_nodes(struct node **root, struct ht_arena *arena,
                             const struct text_source *source,
                             struct noter *noter);
enum ht_status ht_json_nodes(struct node **root, struct ht_arena *arena,
                             const struct text_source *source,
                             struct noter *noter);

#endif
