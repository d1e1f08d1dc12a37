/* document.h - one table of keys reads, writes and documents a plain struct.
 *
 * A schema is a table of rows: key, kind, quantity, plausible range, help,
 * and where in the struct the value lives. The same table reads YAML and
 * JSON (every problem at once, with line, column and a hint), writes JSON
 * (halfturn/json.h) and writes the reference page. Tables are constant data:
 * safe from any thread.
 *
 * Every scalar of a file is text, converted by its row alone: `no`, `012`
 * and `12:30` mean what the row says. An empty value, `~` and JSON null mean
 * "not said". What is not said: a number is NAN, a count 0, a word 0, a text
 * NULL, characters "". Sizes, nesting and UTF-8 are checked before anything
 * is built; anchors, tags and several documents in one file are refused.
 */
#ifndef HALFTURN_DOCUMENT_H
#define HALFTURN_DOCUMENT_H

#include "halfturn/status.h"
#include "halfturn/text.h"

#include <stdbool.h>
#include <stddef.h>

/* ---- what a value is -------------------------------------------------- */

enum ht_kind {
    HT_IS_NUMBER,       /* double; NAN: not said */
    HT_IS_COUNT,        /* size_t, 0 or more */
    HT_IS_UNSIGNED,     /* unsigned */
    HT_IS_INT,          /* int */
    HT_IS_BOOL,         /* bool: yes or no */
    HT_IS_WORD,         /* enum, by `words` */
    HT_IS_WORD_SET,     /* unsigned bits, by `words`: one word or a list */
    HT_IS_TEXT,         /* const char *; with `words`: one of them */
    HT_IS_CHARS,        /* char[most], 0-terminated */
    HT_IS_NUMBERS,      /* struct { double *value; size_t count; }: a number
                           or a list */
    HT_IS_NUMBER_ARRAY, /* double[most]; how many: count_at */
    HT_IS_WORDS,        /* enum *; how many: count_at */
    HT_IS_TEXTS,        /* struct { const char **text; size_t count; }: a
                           text or a list; with `words`: of them */
    HT_IS_CHARS_ARRAY,  /* char[most][item_size]; how many: count_at */
    HT_IS_TEXT_ARRAY,   /* const char *[most]; how many: count_at */
    HT_IS_MAP,          /* a struct inside, by `child` */
    HT_IS_MAPS,         /* struct *; how many: count_at; by `child` */
    HT_IS_MAP_ARRAY,    /* struct[most]; how many: count_at; by `child` */
    HT_IS_NAMED,        /* struct { const char *name; double number; } *, how
                           many: count_at: a mapping of any names */
    HT_IS_NAMED_LISTS,  /* struct { const char *name; struct { double *value;
                           size_t count; } list; } *, as above */
    HT_KINDS
};

/* A quantity is SI inside and written in its first unit; the key ends in the
 * unit (top_speed_km_h) and may be given with another of its units
 * (top_speed_mph). A key without the ending is in the first unit. */
enum ht_quantity {
    HT_QUANTITY_PLAIN,
    HT_QUANTITY_SAME,         /* the unit of the mapping it stands in */
    HT_QUANTITY_ANGLE,        /* _deg (also 20d30); rad inside */
    HT_QUANTITY_SPEED,        /* _km_h, _mph; m/s inside */
    HT_QUANTITY_LENGTH,       /* _mm, _in, _thou; m inside */
    HT_QUANTITY_DISTANCE,     /* _km, _mile; m inside */
    HT_QUANTITY_PER_DISTANCE, /* per_km, per_mile; 1/m inside */
    HT_QUANTITY_TORQUE,       /* _n_m, _lb_ft; N m inside */
    HT_QUANTITY_MASS,         /* _kg, _lb; kg inside */
    HT_QUANTITIES
};

struct ht_word {
    const char *text;
    int value;                /* the enum's; for a set the bit */
    const char *help;         /* for the page; NULL: plain from the word */
};
/* A list ends with a row whose text is NULL. The first text of a value is
 * written; later ones are read too and not documented. */
extern const struct ht_word ht_words_yes_no[]; /* 1 yes, 2 no; true, false */

enum ht_row_flag {
    HT_REQUIRED = 1,   /* reader: must be given */
    HT_WHOLE = 2,      /* numbers without a fraction */
    HT_OR_ONE = 4,     /* maps: the page says that one mapping may stand for
                          the list (it may for every list) */
    HT_READ_ONLY = 8,  /* never written */
    HT_NULL = 16,      /* writer: null instead of leaving it out */
    HT_KEEP_EMPTY = 32,/* writer: [] or {} instead of leaving it out */
    HT_WHEN_MARKED = 64, /* reading sets the bool at mark_at; written only
                            when that is set */
    HT_UNLESS_MARKED = 128 /* reading clears it; written only when clear */
};

struct ht_row {
    const char *key;
    enum ht_kind kind;
    enum ht_quantity quantity;
    size_t at;          /* offsetof the field */
    size_t count_at;    /* offsetof its size_t count; for arrays of a fixed
                           number HT_ALL */
    size_t least, most; /* items; `most` is the size of inline arrays */
    size_t item_size;   /* of HT_IS_CHARS_ARRAY */
    double low, high;   /* plausible, in the first unit; both 0: any */
    const struct ht_word *words;
    const struct ht_schema *child;
    unsigned flags;     /* enum ht_row_flag */
    unsigned group;     /* rows of one group exclude each other; 0: none */
    size_t mark_at;     /* offsetof a bool, see the flags */
    const char *help;   /* one sentence for the page, no full stop needed */
    int since;          /* version of the format; 0: the first */
};
#define HT_ALL ((size_t)-1)

struct ht_finish;

struct ht_schema {
    const char *name;   /* "vehicle": in messages and as heading */
    const char *help;   /* a paragraph for the page; may be NULL */
    const struct ht_row *rows;
    size_t row_count;   /* at most 64 */
    size_t size;        /* of the struct */
    size_t scratch_size;/* a larger struct that begins with it, filled while
                           reading and cut off after `finish`; 0: none */
    const char *bare;   /* the key that a value which is not a mapping stands
                           for: `speed: log.csv` is {file: log.csv} */
    void (*finish)(struct ht_finish *finish, void *record);
};
/* { HT_SCHEMA("gauge", "Help.", gauge_rows, struct gauge), .bare = ... } */
#define HT_SCHEMA(name_, help_, rows_, type_)                                  \
    .name = (name_), .help = (help_), .rows = (rows_),                         \
    .row_count = sizeof(rows_) / sizeof((rows_)[0]), .size = sizeof(type_)

/* For `finish`, which runs when a mapping has been read and looks at several
 * keys together. `key` is a key of that mapping, or a path from it such as
 * "angles/2/slopes_deg" (counted from 1); NULL: the mapping itself. The
 * status is that of the problem, as a rule HT_BAD_FILE. */
void ht_finish_problem(struct ht_finish *finish, const char *key,
                       enum ht_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* True when the key stands in the mapping that was read. */
bool ht_finish_has(const struct ht_finish *finish, const char *key);
/* Zeroed memory that lives as long as the record; NULL (also for nothing):
 * out of memory, which the reader reports by itself. */
void *ht_finish_get(struct ht_finish *finish, size_t count, size_t size);

/* ---- problems --------------------------------------------------------- */

enum { HT_PROBLEMS_MAX = 50 };

struct ht_problem {
    struct ht_error error;  /* text without file and place */
    char excerpt[100];      /* the line, or the part of it around the place */
    size_t caret, width;    /* columns of the excerpt, from 0 */
};
struct ht_problems {
    char file[200];
    size_t found, kept;     /* kept: at most HT_PROBLEMS_MAX, in the order of
                               the file */
    struct ht_problem problem[HT_PROBLEMS_MAX];
};

/* For people: each as "file:line:column: text", the line, a caret; then how
 * many. Nothing when there are none. */
void ht_problems_write(struct ht_text *out, const struct ht_problems *problems);

/* ---- reading ---------------------------------------------------------- */

struct ht_source {
    const char *name;       /* for messages; the path when bytes is NULL */
    const char *bytes;      /* or NULL: read the file */
    size_t length;
    size_t most_bytes;      /* ceiling; 0: 64 KiB */
};

/* Fills *record (of schema->size) from YAML, or from JSON when the first
 * non-blank byte is '{'. *memory then owns its texts and lists; memory may be
 * NULL when the schema has no pointers. All problems go to *problems (may be
 * NULL), the first one with file and place to *err, with HT_BAD_FILE; then,
 * and after HT_CANNOT_READ, HT_TOO_BIG, HT_NO_MEMORY, the record is empty and
 * *memory NULL. */
enum ht_status ht_document_read(void *record, void **memory,
                                const struct ht_schema *schema,
                                const struct ht_source *source,
                                struct ht_problems *problems,
                                struct ht_error *err);
void ht_document_free(void **memory);

/* Everything "not said", as before reading. */
void ht_record_clear(void *record, const struct ht_schema *schema);

/* ---- the reference page ----------------------------------------------- */

/* Markdown: a heading and a table for each mapping, words with their help. */
void ht_schema_page(struct ht_text *out, const struct ht_schema *schema);

/* Nearest name of a list ending in NULL (two edits, or one in three letters,
 * or a beginning), or NULL. For options and sub-commands too. */
const char *ht_nearest_name(const char *name, const char *const *names);

#endif
