#include "node.h"

#include <stdlib.h>
#include <string.h>

struct node *ht_node_create(struct ht_arena *arena, enum node_kind kind,
                            struct place place)
{
    struct node *node = ht_arena_get(arena, 1, sizeof *node);
    if (node) {
        node->kind = kind;
        node->place = place;
        node->text = "";
    }
    return node;
}

bool ht_node_set_text(struct ht_arena *arena, struct node *node,
                      const char *text, size_t length)
{
    const char *copy = ht_arena_text(arena, text, length);
    if (copy) {
        node->text = copy;
        node->length = length;
    }
    return copy != NULL;
}

void ht_node_append(struct node *parent, struct node *child)
{
    if (parent->last)
        parent->last->next = child;
    else
        parent->first = child;
    parent->last = child;
    parent->count++;
}

bool ht_node_is_not_said(const struct node *node)
{
    return node->kind == NODE_SCALAR &&
           (node->length == 0 ||
            (!node->quoted && strcmp(node->text, "~") == 0));
}

static const struct node *child_named(const struct node *parent,
                                      const char *name, size_t length)
{
    size_t number = 0;
    if (parent->kind == NODE_LIST)
        number = (size_t)strtoul(name, NULL, 10);
    for (const struct node *child = parent->first; child; child = child->next)
        if (parent->kind == NODE_LIST ? --number == 0
                                      : child->key->length == length &&
                    memcmp(child->key->text, name, length) == 0)
            return child;
    return NULL;
}

/* "angles/1" is also the mapping itself where no list was written. */
const struct node *ht_node_find(const struct node *root, const char *path)
{
    while (root && *path) {
        size_t length = strcspn(path, "/");
        bool itself = root->kind == NODE_MAP && length == 1 && *path == '1';
        if (!itself)
            root = child_named(root, path, length);
        path += length + (path[length] == '/');
    }
    return root;
}

size_t ht_node_width(const struct node *node)
{
    if (node->kind != NODE_SCALAR || node->length == 0)
        return 1;
    size_t width = 0;
    for (size_t i = 0; i < node->length && node->text[i] != '\n'; i++)
        width += ((unsigned char)node->text[i] & 0xc0) != 0x80;
    return width + (node->quoted ? 2 : 0);
}
