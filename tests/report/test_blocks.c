/* The report's markup as blocks: kinds, what is kept together, what is left
 * out. */
#include "close.h"

#include "report/paper/blocks.h"

#include <string.h>

static void expect(const struct piece *piece, const char *text)
{
    assert_int_equal(piece->length, strlen(text));
    assert_memory_equal(piece->at, text, piece->length);
}

static struct blocks read(const char *markup, size_t count)
{
    struct blocks blocks;
    assert_true(blocks_read(&blocks, markup));
    assert_false(blocks.lost);
    assert_int_equal(blocks.count, count);
    return blocks;
}

static void a_heading_is_kept_with_its_paragraph(void **state)
{
    struct blocks blocks = read("<section><h2>Causes</h2>\n<p class=\"small\">"
                                "a <b>b</b> &amp; c</p>\n<p></p></section>\n",
                                2);
    (void)state;
    assert_string_equal(blocks.block[0].look->tag, "H2");
    assert_true(blocks.block[0].keeps);
    assert_false(blocks.block[1].keeps);
    expect(&blocks.block[1].text, "a <b>b</b> &amp; c");
    blocks_free(&blocks);
}

static void lists_end_and_stand_in_their_frame(void **state)
{
    struct blocks blocks = read("<div class=\"next\"><p>lead</p>\n<ul class=\""
                                "small\">\n<li>one</li>\n<li>two</li>\n</ul>\n"
                                "</div>\n<ul class=\"\">\n<li>three</li>\n"
                                "</ul>\n", 4);
    (void)state;
    assert_true(blocks.block[0].keeps); /* what leads in */
    assert_int_equal(blocks.block[2].frame, FRAME_NEXT);
    assert_true(blocks.block[2].item && blocks.block[2].last);
    assert_false(blocks.block[1].last || blocks.block[1].keeps);
    assert_int_equal(blocks.block[3].frame, FRAME_NONE);
    blocks_free(&blocks);
}

static void of_two_widths_the_wide_figure_is_taken(void **state)
{
    struct blocks blocks = read(
        "<p class=\"small\">caption</p>\n<div class=\"plate\">\n"
        "<svg class=\"narrow\" role=\"img\" aria-label=\"x\" width=\"328\" "
        "height=\"9\"><line/></svg>\n"
        "<svg class=\"wide\" role=\"img\" aria-label=\"says &amp; it\" "
        "width=\"560\" height=\"200\"><svg x=\"5%\"><rect/></svg><g></g></svg>"
        "\n</div>\n", 2);
    const struct block *figure = &blocks.block[1];
    (void)state;
    assert_true(blocks.block[0].keeps);
    assert_int_equal(figure->kind, BLOCK_FIGURE);
    assert_close(figure->width, 560, 0);
    assert_close(figure->height, 200, 0);
    expect(&figure->text, "<svg x=\"5%\"><rect/></svg><g></g>");
    expect(&figure->beside, "says &amp; it");
    blocks_free(&blocks);
}

static void a_hidden_figure_has_no_words(void **state)
{
    struct blocks blocks = read("<svg aria-hidden=\"true\" height=\"12\">"
                                "<line/></svg>\n", 1);
    (void)state;
    assert_int_equal(blocks.block[0].beside.length, 0);
    assert_close(blocks.block[0].width, 0, 0); /* as wide as its place */
    blocks_free(&blocks);
}

static void words_at_both_ends_are_one_block(void **state)
{
    struct blocks blocks = read("<div class=\"row\"><h3>Cause</h3><span class="
                                "\"likely end\">even <b>50</b></span></div>\n",
                                1);
    (void)state;
    assert_int_equal(blocks.block[0].kind, BLOCK_SIDES);
    expect(&blocks.block[0].text, "Cause");
    expect(&blocks.block[0].beside, "even <b>50</b>");
    blocks_free(&blocks);
}

static void rows_know_their_heads_and_their_end(void **state)
{
    struct blocks blocks = read(
        "<p>about</p><table class=\"joints\">\n<tr><th></th><th>Joint</th>"
        "</tr>\n<tr><th>1</th><td>a<svg></svg></td></tr>\n</table>\n"
        "<table><tr><th>x</th></tr></table>", 4);
    (void)state;
    assert_true(blocks.block[0].keeps && blocks.block[1].heads);
    assert_true(blocks.block[1].numbered && blocks.block[2].numbered);
    assert_int_equal(blocks.block[2].cells, 2);
    assert_true(blocks.block[2].cell[0].head);
    assert_false(blocks.block[2].cell[1].head || blocks.block[2].heads);
    assert_true(blocks.block[2].last && !blocks.block[1].last);
    assert_false(blocks.block[3].numbered);
    blocks_free(&blocks);
}

static void what_is_cut_short_is_refused(void **state)
{
    static const char *const cut[] = {
        "<p", "<p>no end", "<p class=\"small>x</p>",
        "<svg height=\"1\"><line/>",
        "<table><tr><td>x</tr>", "<div class=\"row\"><h3>x</h3></div>",
        "<svg", "<ul><li>",
    };
    (void)state;
    for (size_t i = 0; i < sizeof cut / sizeof *cut; i++) {
        struct blocks blocks;
        if (blocks_read(&blocks, cut[i]))
            fail_msg("%s was read", cut[i]);
        blocks_free(&blocks);
    }
}

static void nothing_is_no_block(void **state)
{
    (void)state;
    struct blocks blocks = read("", 0);
    blocks_free(&blocks);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_heading_is_kept_with_its_paragraph),
        cmocka_unit_test(lists_end_and_stand_in_their_frame),
        cmocka_unit_test(of_two_widths_the_wide_figure_is_taken),
        cmocka_unit_test(a_hidden_figure_has_no_words),
        cmocka_unit_test(words_at_both_ends_are_one_block),
        cmocka_unit_test(rows_know_their_heads_and_their_end),
        cmocka_unit_test(what_is_cut_short_is_refused),
        cmocka_unit_test(nothing_is_no_block),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
