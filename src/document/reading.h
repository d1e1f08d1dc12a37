/* reading.h - one reading: a tree of texts into a struct by its schema.
 *
 * Problems are noted and reading goes on; what ends it is memory.
 */
#ifndef HALFTURN_DOCUMENT_READING_H
#define HALFTURN_DOCUMENT_READING_H

#include "node.h"
#include "quantity.h"

enum { ROWS_MAX = 64 };

struct reading {
    struct text_source source;
    struct noter noter;
    struct ht_arena nodes;    /* the tree; gone after the reading */
    struct ht_arena *arena;   /* the record's texts and lists */
    const struct node *root;  /* NULL: nothing in the file */
    char path[200];           /* "angles[2].slopes_deg", for messages */
    bool over;                /* keys add to what the record holds already */
    bool no_memory;
};

/* Source, checks and tree. On failure err is filled; always close. */
enum ht_status ht_reading_open(struct reading *reading,
                               const struct ht_source *source,
                               struct ht_problems *problems,
                               struct ht_error *err);
/* Fills the record; HT_NO_MEMORY or HT_BAD_FILE with err filled. */
enum ht_status ht_reading_fill(struct reading *reading,
                               const struct ht_schema *schema, void *record,
                               struct ht_error *err);
void ht_reading_close(struct reading *reading);

/* The first problem as err, with file and place. */
enum ht_status ht_problems_as_error(const struct ht_problems *problems,
                                    struct ht_error *err);

/* ---- inside ----------------------------------------------------------- */

/* One value on its way into one field. */
struct slot {
    const struct ht_row *row;
    const struct node *node;
    char *record;
    const struct unit *unit;  /* of the file's number */
};

struct ht_finish {
    struct reading *reading;
    const struct ht_schema *schema;
    const struct node *node;
};

/* "angles[2].slopes_deg: " and the text, at the node. */
void ht_complain(struct reading *reading, const struct node *node,
                 enum ht_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Length of the path before; ht_path_cut goes back to it. */
size_t ht_path_add(struct reading *reading, const char *name);
size_t ht_path_add_number(struct reading *reading, size_t number);
void ht_path_cut(struct reading *reading, size_t length);

/* What stands there, for a message: the text cut to a few words, "a list". */
const char *ht_node_shown(const struct node *node, char *buffer, size_t size);

void *ht_get_memory(struct reading *reading, size_t count, size_t size);
const char *ht_get_text(struct reading *reading, const struct node *node);

bool ht_value_number(struct reading *reading, const struct slot *slot,
                     const struct node *node, double *value);
bool ht_value_word(struct reading *reading, const struct slot *slot,
                   const struct node *node, const struct ht_word **word);
bool ht_value_text(struct reading *reading, const struct slot *slot,
                   const struct node *node, const char **text);

/* A value alone is a list of one; walk it by count. */
struct items {
    const struct node *first;
    size_t count;
};
/* False, with the problem noted, when the number of items is not that of the
 * row or when they look like decimal commas. */
bool ht_value_items(struct reading *reading, const struct slot *slot,
                    struct items *items);

void ht_read_row(struct reading *reading, const struct slot *slot);
void ht_read_scalar(struct reading *reading, const struct slot *slot);
void ht_read_list(struct reading *reading, const struct slot *slot);
void ht_read_maps(struct reading *reading, const struct slot *slot);
void ht_read_named(struct reading *reading, const struct slot *slot);
void ht_read_map(struct reading *reading, const struct ht_schema *schema,
                 const struct node *node, void *record,
                 const struct unit *unit);

/* One row's field back to "not said". */
void ht_row_clear(const struct ht_row *row, void *record);

#endif
