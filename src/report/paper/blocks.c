#include "blocks.h"

#include "common/memory.h"

#include <string.h>

/* The first that fits. */
static const struct look looks[] = {
    { "p", "shop", "P", 13, 0, true, false, false, false },
    { "p", "meta", "P", 8.5, 0.5, false, true, false, false },
    { "p", "title", "P", 10, 3, false, true, true, false },
    { "h1", "", "H1", 17, 2, true, false, false, true },
    { "p", "sure", "P", 13, 1, false, false, false, false },
    { "p", "reason", "P", 9.5, 1.5, false, false, false, false },
    { "h2", "", "H2", 12, 6, true, false, true, true },
    { "h3", "", "H3", 10, 3.5, true, false, false, true },
    { "p", "small", "P", 8.5, 1.8, false, true, false, false },
    { "p", "", "P", 9.5, 2, false, false, false, false },
    { "li", "", "LBody", 9, 1.2, false, false, false, false },
    { "span", "", "P", 8.5, 2, false, false, false, false },
    { "tr", "", "TR", 8.5, 0, false, false, false, false },
    { "svg", "", "Figure", 0, 1.5, false, false, false, false },
};

static bool has_word(const struct piece *classes, const char *word)
{
    size_t length = strlen(word);
    for (size_t i = 0; i + length <= classes->length; i++)
        if (memcmp(classes->at + i, word, length) == 0 &&
            (i == 0 || classes->at[i - 1] == ' ') &&
            (i + length == classes->length || classes->at[i + length] == ' '))
            return true;
    return length == 0;
}

static const struct look *look_of(const struct tag *tag)
{
    struct piece classes = tag_value(tag, "class");
    for (size_t i = 0; i < sizeof looks / sizeof *looks; i++)
        if (piece_is(&tag->name, looks[i].element) &&
            has_word(&classes, looks[i].word))
            return &looks[i];
    return NULL;
}

/* ---- the list ----------------------------------------------------------- */

static struct block *add(struct blocks *to, enum block_kind kind,
                         const struct look *look, enum block_frame frame)
{
    static struct block nowhere;
    if (to->count == to->room) {
        size_t room = to->room ? 2 * to->room : 64;
        struct block *more = ht_allocate(room, sizeof *more);
        if (!more) {
            to->lost = true;
            return &nowhere;
        }
        if (to->count)
            memcpy(more, to->block, to->count * sizeof *more);
        ht_release(to->block);
        to->block = more;
        to->room = room;
    }
    struct block *block = &to->block[to->count++];
    *block = (struct block){ .kind = kind, .look = look, .frame = frame,
                             .keeps = look && look->keeps };
    return block;
}

void blocks_free(struct blocks *blocks)
{
    ht_release(blocks->block);
    *blocks = (struct blocks){ 0 };
}

/* ---- pieces ------------------------------------------------------------- */

/* From behind a begin tag to the end tag of that name; such elements do not
 * hold one another. Returns what follows, or NULL. */
static const char *up_to_end(struct piece *inner, const char *at,
                             const struct piece *name)
{
    inner->at = at;
    for (; (at = strstr(at, "</")); at += 2)
        if (strncmp(at + 2, name->at, name->length) == 0 &&
            at[2 + name->length] == '>') {
            inner->length = (size_t)(at - inner->at);
            return at + 3 + name->length;
        }
    return NULL;
}

/* Where the text behind a tag begins. */
static const char *behind(const struct tag *tag)
{
    return tag->text.at;
}

const char *block_figure(struct block *block, const char *at)
{
    struct tag tag;
    const char *next = tag_read(&tag, at);
    if (!next || !piece_is(&tag.name, "svg"))
        return NULL;
    struct piece hidden = tag_value(&tag, "aria-hidden");
    struct piece width = tag_value(&tag, "width");
    bool stretches = width.length == 0 || width.at[width.length - 1] == '%';
    block->beside = tag_value(&tag, "aria-label");
    if (hidden.length)
        block->beside.length = 0;
    block->width = stretches ? 0 : tag_number(&tag, "width", 0);
    block->height = tag_number(&tag, "height", 0);
    block->text.at = next;
    for (int depth = 1; depth > 0;) {
        at = next;
        next = *at ? tag_read(&tag, at) : NULL;
        if (!next)
            return NULL;
        if (piece_is(&tag.name, "svg") && !tag.empty)
            depth += tag.closes ? -1 : 1;
    }
    block->text.length = (size_t)(at - block->text.at);
    return behind(&tag);
}

bool cell_figure(struct block *figure, const struct cell *cell)
{
    const char *at = cell->text.at;
    return cell->text.length > 4 && strncmp(at, "<svg", 4) == 0 &&
           block_figure(figure, at);
}

/* ---- element by element ------------------------------------------------- */

enum { DEEPEST = 16 };
struct reader {
    struct blocks *to;
    enum block_frame frame[DEEPEST]; /* of every open box */
    size_t depth;
};

static enum block_frame frame_now(const struct reader *reader)
{
    return reader->depth ? reader->frame[reader->depth - 1] : FRAME_NONE;
}

static struct block *last_block(const struct reader *reader)
{
    return reader->to->count ? &reader->to->block[reader->to->count - 1]
                             : NULL;
}

/* What stands right before a figure, a list or a table belongs to it. */
static void keep_last(const struct reader *reader)
{
    struct block *last = last_block(reader);
    if (last && (last->kind == BLOCK_TEXT || last->kind == BLOCK_SIDES) &&
        !last->item)
        last->keeps = true;
}

static bool is_box(const struct piece *name)
{
    static const char *const boxes[] = { "div", "section", "header",
                                         "footer" };
    for (size_t i = 0; i < sizeof boxes / sizeof *boxes; i++)
        if (piece_is(name, boxes[i]))
            return true;
    return false;
}

static bool open_box(struct reader *reader, const struct tag *tag)
{
    static const struct {
        const char *word;
        enum block_frame frame;
    } frames[] = { { "next", FRAME_NEXT },
                   { "safety", FRAME_SAFETY },
                   { "caution", FRAME_CAUTION } };
    struct piece classes = tag_value(tag, "class");
    enum block_frame frame = frame_now(reader);
    for (size_t i = 0; i < sizeof frames / sizeof *frames; i++)
        if (has_word(&classes, frames[i].word))
            frame = frames[i].frame;
    if (reader->depth == DEEPEST)
        return false;
    reader->frame[reader->depth++] = frame;
    return true;
}

static void close_tag(struct reader *reader, const struct tag *tag)
{
    struct block *last = last_block(reader);
    if (last && (piece_is(&tag->name, "ul") || piece_is(&tag->name, "table")))
        last->last = true;
    if (is_box(&tag->name) && reader->depth)
        reader->depth--;
}

static const char *read_text(struct reader *reader, const struct tag *tag)
{
    struct piece inner;
    const char *next = up_to_end(&inner, behind(tag), &tag->name);
    if (!next || inner.length == 0)
        return next;
    bool item = piece_is(&tag->name, "li");
    if (item)
        keep_last(reader);
    struct block *block =
        add(reader->to, BLOCK_TEXT, look_of(tag), frame_now(reader));
    block->text = inner;
    block->item = item;
    return next;
}

/* <div class="row"><h3>...</h3><span class="end">...</span></div> */
static const char *read_sides(struct reader *reader, const struct tag *tag)
{
    static const struct piece div = { "div", 3 };
    struct piece inner, left, right;
    struct tag first, second;
    const char *next = up_to_end(&inner, behind(tag), &div);
    if (!next || !tag_read(&first, inner.at))
        return NULL;
    const char *at = up_to_end(&left, behind(&first), &first.name);
    if (!at || !tag_read(&second, at) ||
        !up_to_end(&right, behind(&second), &second.name))
        return NULL;
    struct block *block =
        add(reader->to, BLOCK_SIDES, look_of(&first), frame_now(reader));
    block->text = left;
    block->beside = right;
    return next;
}

/* Of the same drawing in two widths, the wide one. */
static const char *read_svg(struct reader *reader, const struct tag *tag,
                            const char *at)
{
    struct piece classes = tag_value(tag, "class");
    struct block figure = { .width = 0 };
    const char *next = block_figure(&figure, at);
    if (!next || has_word(&classes, "narrow") || has_word(&classes, "edge"))
        return next;
    keep_last(reader);
    struct block *block =
        add(reader->to, BLOCK_FIGURE, look_of(tag), frame_now(reader));
    block->text = figure.text;
    block->beside = figure.beside;
    block->width = figure.width;
    block->height = figure.height;
    return next;
}

static bool read_cells(struct block *row, const struct piece *inner)
{
    const char *at = inner->at, *end = inner->at + inner->length;
    row->heads = true;
    while (at < end) {
        struct tag tag;
        if (!tag_read(&tag, at) || row->cells == BLOCK_CELLS_MAX)
            return false;
        struct cell *cell = &row->cell[row->cells++];
        cell->head = piece_is(&tag.name, "th");
        row->heads = row->heads && cell->head;
        at = up_to_end(&cell->text, behind(&tag), &tag.name);
        if (!at)
            return false;
    }
    return true;
}

static const char *read_row(struct reader *reader, const struct tag *tag)
{
    struct piece inner;
    struct block row = { .cells = 0 };
    const char *next = up_to_end(&inner, behind(tag), &tag->name);
    if (!next || !read_cells(&row, &inner))
        return NULL;
    const struct block *above = last_block(reader);
    bool begins = !above || above->kind != BLOCK_ROW || above->last;
    row.numbered = begins ? row.cells && row.cell[0].text.length == 0
                          : above->numbered;
    if (row.heads)
        keep_last(reader);
    struct block *block =
        add(reader->to, BLOCK_ROW, look_of(tag), frame_now(reader));
    row.kind = block->kind;
    row.look = block->look;
    row.frame = block->frame;
    row.keeps = row.heads;
    *block = row;
    return next;
}

static const char *read_element(struct reader *reader, const char *at)
{
    struct tag tag;
    const char *next = tag_read(&tag, at);
    if (!next)
        return NULL;
    struct piece classes = tag_value(&tag, "class");
    if (tag.closes)
        close_tag(reader, &tag);
    else if (piece_is(&tag.name, "div") && has_word(&classes, "row"))
        next = read_sides(reader, &tag);
    else if (is_box(&tag.name))
        next = open_box(reader, &tag) ? next : NULL;
    else if (piece_is(&tag.name, "svg"))
        next = read_svg(reader, &tag, at);
    else if (piece_is(&tag.name, "tr"))
        next = read_row(reader, &tag);
    else if (look_of(&tag))
        next = read_text(reader, &tag);
    return next;
}

bool blocks_read(struct blocks *blocks, const char *markup)
{
    struct reader reader = { .to = blocks };
    *blocks = (struct blocks){ 0 };
    const char *at = strchr(markup, '<');
    while (at && *at) {
        at = read_element(&reader, at);
        if (at && *at && *at != '<') /* the line's end behind an element */
            at += strcspn(at, "<");
    }
    return at || !*markup;
}
