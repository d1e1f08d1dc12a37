/* The reader of tables row by row: blocks of the file, plain rows beside odd
 * ones, and the line on which each row stands. */
#include "close.h"
#include "random.h"
#include "scratch.h"

#include "halfturn/recording.h"
#include "halfturn/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ROWS = 30000, COLUMNS = 3 };

/* What one kind of row looks like: plain to the quick reader or not, all say
 * the same three numbers; and lines that are no row. */
static const struct {
    const char *format;
    bool row;
} kinds[] = {
    { "%.3f,%.5f,%.17g\n", true },
    { "%.3f, %.5f , %.17g\r\n", true },
    { "%.3f,%.5f,%.17g,\n", true },
    { "\"%.3f\",%.5f,%.17g\n", true },
    { "%.3f,+%.5f,%.17g\n", true },
    { "%.6e,%.17e,%.17g\n", true },
    { "\t%.3f,%.5f,\"%.17g\"  \n", true },
    { "# a comment, %.3f,%.5f,%.17g\n", false },
    { "\n", false },
    { "  \r\n", false },
};

struct truth {
    double value[ROWS][COLUMNS];
    size_t line[ROWS];
    size_t rows, lines;
};

static struct truth truth;

static size_t below(struct random_source *random, size_t n)
{
    return (size_t)(random_bits(random) % n);
}

/* About 1.3 MB: ten blocks of the reader, cut wherever they are cut. Every
 * third line is any of the kinds, the others are plain. */
static const char *write_rows(struct random_source *random, const char *head)
{
    struct ht_text text = { 0 };
    ht_text_add(&text, head);
    truth.rows = 0;
    truth.lines = *head ? 1 : 0;
    while (truth.rows < ROWS) {
        size_t most = sizeof kinds / sizeof kinds[0];
        size_t kind = below(random, 3) ? 0 : below(random, most);
        double *value = truth.value[truth.rows];
        value[0] = (double)truth.rows / 1000;
        value[1] = (double)below(random, 100000) / 100000;
        value[2] = random_normal(random);
        truth.lines++;
        if (kind == 0 && below(random, 5) == 0)
            ht_text_add(&text, "  ");
        ht_text_addf(&text, kinds[kind].format, value[0], value[1], value[2]);
        if (kinds[kind].row)
            truth.line[truth.rows++] = truth.lines;
    }
    assert_true(ht_text_ok(&text));
    const char *path = scratch_file("rows.csv", text.bytes, text.length);
    ht_text_free(&text);
    return path;
}

static void read_or_fail(struct ht_table *table, const char *path)
{
    struct ht_error err = { 0 };
    if (ht_table_read(table, path, 0, NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
}

/* Nothing is lost: the first two columns have as few digits as are written,
 * 17 give back any double. */
static void every_row_is_read_whatever_stands_around_it(void **state)
{
    (void)state;
    static const char *const heads[] = { "t,a,b\n", "" };
    for (size_t h = 0; h < 2; h++) {
        struct random_source random = { 11 + h };
        struct ht_table table;
        read_or_fail(&table, write_rows(&random, heads[h]));
        assert_int_equal(table.rows, truth.rows);
        assert_int_equal(table.columns, COLUMNS);
        for (size_t r = 0; r < table.rows; r++) {
            const double *row = table.value + r * COLUMNS;
            for (size_t c = 0; c < COLUMNS; c++)
                assert_close(row[c], truth.value[r][c], 0);
        }
        ht_table_free(&table);
    }
}

static void the_line_of_every_row_is_known(void **state)
{
    (void)state;
    struct random_source random = { 21 };
    struct ht_table table;
    read_or_fail(&table, write_rows(&random, "t,a,b\n"));
    for (size_t r = 0; r < table.rows; r++)
        assert_int_equal(ht_table_line(&table, r), truth.line[r]);
    ht_table_free(&table);
}

enum { MANY = 400000, WIDTH = 14 }; /* 5.6 MB: six blocks, five seams */

/* Rows that say their number; remarks of `remark` bytes in place of those
 * around each seam, and none where that is 0. No end of the last line. */
static struct ht_text many_rows(size_t remark, size_t *rows)
{
    struct ht_text text = { 0 };
    *rows = 0;
    ht_text_add(&text, "n,ten times\n");
    for (size_t i = 0; i < MANY; i++) {
        size_t behind = (text.length + remark / 2) % (1024 * 1024);
        if (remark > 0 && behind < WIDTH && text.length > remark) {
            ht_text_add(&text, "#");
            for (size_t n = 2; n < remark; n++)
                ht_text_add(&text, "-");
            ht_text_add(&text, "\n");
        }
        ht_text_addf(&text, "%06zu,%zu\n", i % 100000, i % 100000 * 10);
        ++*rows;
    }
    assert_true(ht_text_ok(&text));
    text.length--;
    return text;
}

/* A row, a remark that fits before a block, and one that does not, lie across
 * the seams of the blocks. */
static void nothing_is_lost_where_blocks_meet(void **state)
{
    (void)state;
    static const size_t remarks[] = { 0, 40, 3000, 9000, 300000 };
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0]; i++) {
        size_t rows;
        struct ht_table table;
        struct ht_text text = many_rows(remarks[i], &rows);
        read_or_fail(&table, scratch_file("many.csv", text.bytes,
                                          text.length));
        ht_text_free(&text);
        assert_int_equal(table.rows, rows);
        for (size_t r = 0; r < rows; r++) {
            assert_close(table.value[2 * r], (double)(r % 100000), 0);
            assert_close(table.value[2 * r + 1], (double)(r % 100000) * 10, 0);
        }
        ht_table_free(&table);
    }
}

/* What is wrong with a block that is fetched is said after what is wrong
 * before it. */
static void the_first_fault_is_the_one_that_is_named(void **state)
{
    (void)state;
    for (size_t both = 0; both < 2; both++) {
        size_t rows;
        struct ht_table table;
        struct ht_error err = { 0 };
        struct ht_text text = many_rows(0, &rows);
        text.bytes[text.length / 2] = '\0';
        if (both)
            memcpy(strchr(text.bytes + text.length / 3, ',') + 1, "x", 1);
        const char *path = scratch_file("many.csv", text.bytes, text.length);
        ht_text_free(&text);
        assert_int_equal(ht_table_read(&table, path, 0, NULL, &err),
                         HT_BAD_FILE);
        assert_true((strstr(err.text, "line ") != NULL) == (both == 1));
    }
}

/* A file that ends without the end of a line, or with half a row. */
static void the_last_line_needs_no_end(void **state)
{
    (void)state;
    struct ht_table table;
    struct ht_error err = { 0 };
    read_or_fail(&table, scratch_text("end.csv", "t,a\n1,2\n3,4"));
    assert_int_equal(table.rows, 2);
    assert_close(table.value[3], 4, 0);
    ht_table_free(&table);
    assert_int_equal(ht_table_read(&table,
                                   scratch_text("end.csv", "t,a\n1,2\n3"), 0,
                                   NULL, &err),
                     HT_BAD_FILE);
    assert_non_null(strstr(err.text, "line 3: 1 value, the header has"));
}

static void a_line_without_end_is_refused_where_it_stands(void **state)
{
    (void)state;
    static const size_t lengths[] = { 4097, 200000, 600000 };
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        struct ht_text text = { 0 };
        struct ht_table table;
        struct ht_error err = { 0 };
        ht_text_add(&text, "t,a\n1,2\n");
        for (size_t n = 0; n < lengths[i]; n++)
            ht_text_add(&text, "x");
        ht_text_add(&text, "\n3,4\n");
        enum ht_status status = ht_table_read(
            &table, scratch_file("long.csv", text.bytes, text.length), 0,
            NULL, &err);
        ht_text_free(&text);
        assert_int_equal(status, HT_BAD_FILE);
        assert_int_equal(err.line, 3);
        assert_non_null(strstr(err.text, "line 3: longer than 4096"));
    }
}

/* The marks that the quick reader is given must not be one: between commas,
 * with a comma as the decimal mark, a row has as many values as commas say. */
static void a_comma_cannot_be_both_marks(void **state)
{
    (void)state;
    struct ht_table table;
    struct ht_error err = { 0 };
    enum ht_status status = ht_table_read(
        &table, scratch_text("both.csv", "a,b\n1,2,3,4\n"), ',', NULL, &err);
    assert_int_equal(status, HT_BAD_FILE);
    assert_non_null(strstr(err.text, "4 values"));
}

/* Lines of a phone's table that are found wrong only after the reading. */
static void a_late_error_names_its_line_behind_comments(void **state)
{
    (void)state;
    static const struct {
        const char *row, *words;
    } rows[] = { { "0.01,1,2\n", "the time does not rise" },
                 { ",1,2\n", "the time is missing" },
                 { "0.9,2e9,2\n", "cannot be an acceleration" },
                 { "99999,1,2\n", "after the first row" } };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        struct ht_text text = { 0 };
        struct ht_recording r;
        struct ht_recording_options options = { .highest_hz = NAN };
        struct ht_error err = { 0 };
        ht_text_add(&text, "# made up\ntime_s,x,y\n\n");
        for (int i = 0; i < 500; i++) {
            if (i % 100 == 50)
                ht_text_add(&text, "# pause\n\n");
            if (i == 401) /* line 3 + 401 + 4 * 2 + 1 */
                ht_text_add(&text, rows[k].row);
            else
                ht_text_addf(&text, "%d.%02d,%d,2\n", i / 100, i % 100, i % 7);
        }
        enum ht_status status = ht_recording_read(
            &r, scratch_file("late.csv", text.bytes, text.length), &options,
            &err);
        ht_text_free(&text);
        assert_int_not_equal(status, HT_OK);
        if (!strstr(err.text, "line 413:") || !strstr(err.text, rows[k].words))
            fail_msg("'%s': %s", rows[k].words, err.text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_is_read_whatever_stands_around_it),
        cmocka_unit_test(the_line_of_every_row_is_known),
        cmocka_unit_test(nothing_is_lost_where_blocks_meet),
        cmocka_unit_test(the_first_fault_is_the_one_that_is_named),
        cmocka_unit_test(the_last_line_needs_no_end),
        cmocka_unit_test(a_line_without_end_is_refused_where_it_stands),
        cmocka_unit_test(a_comma_cannot_be_both_marks),
        cmocka_unit_test(a_late_error_names_its_line_behind_comments),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
