#include "tagged.h"

#include "report/texts_paper.h"

#include <qpdf/qpdf-c.h>

#include <stdlib.h>
#include <string.h>

struct tree {
    qpdf_data pdf;
    const char *alternative;    /* of the next figure */
    bool lost;                  /* no memory */
};

/* ---- structure elements ------------------------------------------------- */

static bool is_kind(struct tree *tree, qpdf_oh element, const char *kind)
{
    qpdf_oh name = qpdf_oh_get_key_if_dict(tree->pdf, element, "/S");
    return qpdf_oh_is_name_and_equals(tree->pdf, name, kind);
}

static void put_alternative(struct tree *tree, qpdf_oh figure)
{
    size_t length = strcspn(tree->alternative, "\n");
    qpdf_oh text = qpdf_oh_new_binary_unicode_string(
        tree->pdf, tree->alternative, length);
    qpdf_oh_replace_key(tree->pdf, figure, "/Alt", text);
    tree->alternative += length + (tree->alternative[length] == '\n');
}

/* Table 349: which cells it is the head of. */
static void put_scope(struct tree *tree, qpdf_oh head, const char *scope)
{
    qpdf_oh of = qpdf_oh_new_dictionary(tree->pdf);
    qpdf_oh_replace_key(tree->pdf, of, "/O",
                        qpdf_oh_new_name(tree->pdf, "/Table"));
    qpdf_oh_replace_key(tree->pdf, of, "/Scope",
                        qpdf_oh_new_name(tree->pdf, scope));
    qpdf_oh_replace_key(tree->pdf, head, "/A", of);
}

/* In a row of heads alone they are of columns, else of their row. */
static void put_scopes(struct tree *tree, qpdf_oh cells)
{
    int count = qpdf_oh_get_array_n_items(tree->pdf, cells), heads = 0;
    for (int i = 0; i < count; i++)
        heads += is_kind(tree, qpdf_oh_get_array_item(tree->pdf, cells, i),
                         "/TH");
    for (int i = 0; i < count; i++) {
        qpdf_oh cell = qpdf_oh_get_array_item(tree->pdf, cells, i);
        if (is_kind(tree, cell, "/TH"))
            put_scope(tree, cell, heads == count ? "/Column" : "/Row");
    }
}

/* No deeper than our own tags: Document, L, LI, LBody. */
static void visit(struct tree *tree, qpdf_oh element, int depth)
{
    enum { DEEPEST = 16 };
    if (depth > DEEPEST || !qpdf_oh_is_dictionary(tree->pdf, element))
        return;
    qpdf_oh kids = qpdf_oh_get_key(tree->pdf, element, "/K");
    if (is_kind(tree, element, "/Figure"))
        put_alternative(tree, element);
    if (!qpdf_oh_is_array(tree->pdf, kids))
        return;
    if (is_kind(tree, element, "/TR"))
        put_scopes(tree, kids);
    int count = qpdf_oh_get_array_n_items(tree->pdf, kids);
    for (int i = 0; i < count; i++)
        visit(tree, qpdf_oh_get_array_item(tree->pdf, kids, i), depth + 1);
}

/* ---- pages and catalogue ------------------------------------------------ */

static void mark_page(struct tree *tree, size_t number)
{
    unsigned char *content = NULL;
    size_t length = 0;
    struct ht_text marked = { 0 };
    qpdf_data pdf = tree->pdf;
    qpdf_oh page = qpdf_get_page_n(pdf, number);
    if (qpdf_oh_get_page_content_data(pdf, page, &content, &length) ==
        QPDF_SUCCESS)
        mark_artifacts(&marked, (const char *)content, length);
    free(content);
    tree->lost = tree->lost || marked.failed;
    qpdf_oh_replace_stream_data(
        pdf, qpdf_oh_get_key(pdf, page, "/Contents"),
        (const unsigned char *)ht_text_get(&marked), marked.length,
        qpdf_oh_new_null(pdf), qpdf_oh_new_null(pdf));
    ht_text_free(&marked);
}

/* The title, not the file's name, stands at the head of a viewer's window. */
static void put_in_catalogue(qpdf_data pdf)
{
    qpdf_oh root = qpdf_get_root(pdf), seen = qpdf_oh_new_dictionary(pdf);
    qpdf_oh_replace_key(pdf, seen, "/DisplayDocTitle",
                        qpdf_oh_new_bool(pdf, QPDF_TRUE));
    qpdf_oh_replace_key(pdf, root, "/ViewerPreferences", seen);
    qpdf_oh_replace_key(pdf, root, "/Lang", qpdf_oh_new_string(pdf, "en"));
}

static void finish(struct tree *tree)
{
    qpdf_data pdf = tree->pdf;
    qpdf_oh root = qpdf_oh_get_key(pdf, qpdf_get_root(pdf),
                                   "/StructTreeRoot");
    qpdf_oh top = qpdf_oh_get_key_if_dict(pdf, root, "/K");
    int pages = qpdf_get_num_pages(pdf);
    if (qpdf_oh_is_array(pdf, top))
        top = qpdf_oh_get_array_item(pdf, top, 0);
    visit(tree, top, 0);
    for (int i = 0; i < pages; i++)
        mark_page(tree, (size_t)i);
    put_in_catalogue(pdf);
}

/* ---- the whole ---------------------------------------------------------- */

static void write_out(struct tree *tree, struct ht_text *out)
{
    qpdf_data pdf = tree->pdf;
    if (qpdf_init_write_memory(pdf) != QPDF_SUCCESS)
        return;
    qpdf_set_deterministic_ID(pdf, QPDF_TRUE);
    qpdf_set_object_stream_mode(pdf, qpdf_o_preserve);
    if (qpdf_write(pdf) == QPDF_SUCCESS)
        ht_text_add_bytes(out, (const char *)qpdf_get_buffer(pdf),
                          qpdf_get_buffer_length(pdf));
}

enum ht_status tagged_finish(struct ht_text *out, const struct ht_text *pdf,
                             const struct ht_text *alternatives,
                             struct ht_error *err)
{
    struct tree tree = { .pdf = qpdf_init(),
                         .alternative = ht_text_get(alternatives) };
    enum ht_status status = HT_OK;
    qpdf_silence_errors(tree.pdf);
    qpdf_set_suppress_warnings(tree.pdf, QPDF_TRUE);
    if (qpdf_read_memory(tree.pdf, "", ht_text_get(pdf), pdf->length, NULL) ==
        QPDF_SUCCESS) {
        finish(&tree);
        write_out(&tree, out);
    }
    if (tree.lost || out->failed)
        status = ht_fail(err, PAPER_NO_MEMORY);
    else if (qpdf_has_error(tree.pdf))
        status = ht_fail(err, PAPER_NOT_DRAWN,
                         qpdf_get_error_full_text(
                             tree.pdf, qpdf_get_error(tree.pdf)));
    qpdf_cleanup(&tree.pdf);
    return status;
}
