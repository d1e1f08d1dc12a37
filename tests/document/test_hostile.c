/* Files that were not written to be read: too big, too deep, damaged,
 * mutated; and a machine without memory. */
#include "sheet_case.h"

#include "common/limits.h"
#include "common/memory.h"
#include "random.h"

#include <time.h>
#include <unistd.h>

static enum ht_status read_bytes(const char *bytes, size_t length,
                                 struct ht_error *err)
{
    struct ht_sheet sheet;
    enum ht_status status =
        ht_sheet_read_text(&sheet, "x.yaml", bytes, length, NULL, err);
    ht_sheet_free(&sheet);
    return status;
}

static void a_sheet_over_64_kb_is_too_big(void **state)
{
    (void)state;
    char *bytes = malloc(HT_SHEET_BYTES_MAX + 1);
    struct ht_error err = { 0 };
    assert_non_null(bytes);
    memset(bytes, '#', HT_SHEET_BYTES_MAX + 1);
    memcpy(bytes, "halfturn: 1\n", 12);
    assert_int_equal(read_bytes(bytes, HT_SHEET_BYTES_MAX, &err), HT_OK);
    assert_int_equal(read_bytes(bytes, HT_SHEET_BYTES_MAX + 1, &err),
                     HT_TOO_BIG);
    assert_non_null(strstr(err.text, "larger than 64 kB"));
    free(bytes);
}

static void a_file_over_64_kb_is_too_big_and_one_less_is_read(void **state)
{
    (void)state;
    char path[] = "/tmp/halfturn-big-XXXXXX";
    int handle = mkstemp(path);
    assert_true(handle >= 0);
    FILE *file = fdopen(handle, "wb");
    assert_non_null(file);
    assert_true(fputs("halfturn: 1\n#", file) >= 0);
    for (size_t i = 13; i < HT_SHEET_BYTES_MAX; i++)
        (void)fputc('x', file);
    struct ht_sheet sheet;
    assert_int_equal(fflush(file), 0);
    assert_int_equal(ht_sheet_read(&sheet, path, NULL, NULL), HT_OK);
    ht_sheet_free(&sheet);
    (void)fputc('x', file);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(ht_sheet_read(&sheet, path, NULL, NULL), HT_TOO_BIG);
    ht_sheet_free(&sheet);
    (void)unlink(path);
}

static void nesting_over_32_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *open, *close;
        size_t depth;
        bool fine;
    } rows[] = { { "[", "]", 31, true },
                 { "[", "]", 32, false },
                 { "{a: ", "}", 32, false } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_text text = { 0 };
        struct ht_error err = { 0 };
        ht_text_add(&text, "halfturn: 1\ntitle: ");
        for (size_t d = 0; d < rows[i].depth; d++)
            ht_text_add(&text, rows[i].open);
        for (size_t d = 0; d < rows[i].depth; d++)
            ht_text_add(&text, rows[i].close);
        ht_text_add(&text, "\n");
        assert_int_equal(read_bytes(text.bytes, text.length, &err),
                         HT_BAD_FILE);
        assert_int_equal(strstr(err.text, "32 deep") == NULL, rows[i].fine);
        ht_text_free(&text);
    }
    struct ht_error err = { 0 };
    char json[200] = "{\"title\": ";
    memset(json + 10, '[', 32);
    assert_int_equal(read_bytes(json, 42, &err), HT_BAD_FILE);
    assert_non_null(strstr(err.text, "32 deep"));
}

/* libyaml takes a time that grows with the square of open brackets; 1 s is
 * the limit on any input. */
static void brackets_without_end_take_no_time(void **state)
{
    (void)state;
    static const char *const pieces[] = { "[",     "{",    "- ",
                                          "? ",    "[[],", "\"a\": {",
                                          "a:\n ", "&a [", "!" };
    char *bytes = malloc(HT_SHEET_BYTES_MAX);
    assert_non_null(bytes);
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
        size_t n = strlen(pieces[i]), length = 0;
        while (length + n <= HT_SHEET_BYTES_MAX) {
            memcpy(bytes + length, pieces[i], n);
            length += n;
        }
        clock_t start = clock();
        assert_int_equal(read_bytes(bytes, length, NULL), HT_BAD_FILE);
        double used_s = (double)(clock() - start) / CLOCKS_PER_SEC;
        if (used_s > 1)
            fail_msg("'%s' took %.1f s", pieces[i], used_s);
    }
    free(bytes);
}

static void bytes_that_are_no_text_are_named_with_their_place(void **state)
{
    (void)state;
    static const struct {
        const char *bytes;
        size_t length, line, column;
        const char *part;
    } rows[] = {
        { "halfturn: 1\ntitle: a\0b\n", 23, 2, 9, "A byte 0" },
        { "halfturn: 1\ntitle: M\xfcller\n", 27, 2, 9, "0xfc is not UTF-8" },
        { "title: \xed\xa0\x80", 10, 1, 8, "0xed is not UTF-8" },
        { "title: \xc0\x80", 9, 1, 8, "0xc0 is not UTF-8" },
        { "title: \xf4\x90\x80\x80", 11, 1, 8, "0xf4 is not UTF-8" },
        { "title: \xe2\x82", 9, 1, 8, "0xe2 is not UTF-8" },
        { "\xff\xfeh\0a\0", 6, 1, 1, "UTF-16" },
        { "", 0, 1, 1, "text of the sheet" },
        { "# only a remark\n", 16, 1, 1, "empty" },
        { "halfturn: 1\ntitle: a\x07\n", 22, 2, 9, "control character" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_error err = { 0 };
        assert_int_equal(read_bytes(rows[i].bytes, rows[i].length, &err),
                         HT_BAD_FILE);
        if (!strstr(err.text, rows[i].part))
            fail_msg("row %zu: %s", i, err.text);
        assert_int_equal(err.line, rows[i].line);
        assert_int_equal(err.column, rows[i].column);
    }
    assert_int_equal(
        read_bytes("\xef\xbb\xbfhalfturn: 1\r\ntitle: \xc3\xa4\r\n", 27, NULL),
        HT_OK);
}

static void anchors_aliases_tags_and_second_documents_are_refused(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        { "halfturn: 1\ntitle: &a x\n", "Anchors" },
        { "halfturn: &a 1\ntitle: *a\n", "Anchors" },
        { "halfturn: 1\nvehicle: &v {class: car}\n", "Anchors" },
        { "halfturn: 1\ntitle: !!str x\n", "Tags" },
        { "halfturn: 1\nchecks: !x [a]\n", "Tags" },
        { "halfturn: 1\n---\nhalfturn: 1\n", "second document" },
        { "halfturn: 1\n? [a, b]\n: c\n", "one word" },
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct ht_error err = { 0 };
        assert_int_equal(read_bytes(rows[i][0], strlen(rows[i][0]), &err),
                         HT_BAD_FILE);
        if (!strstr(err.text, rows[i][1]))
            fail_msg("%s gave %s", rows[i][0], err.text);
    }
}

static void of_many_problems_the_first_fifty_are_kept(void **state)
{
    (void)state;
    static struct ht_problems problems;
    struct ht_sheet sheet;
    struct ht_text text = { 0 }, out = { 0 };
    ht_text_add(&text, "halfturn: 1\n");
    for (int i = 0; i < 80; i++)
        ht_text_addf(&text, "key%d: 1\n", i);
    assert_int_equal(ht_sheet_read_text(&sheet, "many.yaml", text.bytes,
                                        text.length, &problems, NULL),
                     HT_BAD_FILE);
    assert_int_equal(problems.found, 80);
    assert_int_equal(problems.kept, HT_PROBLEMS_MAX);
    ht_problems_write(&out, &problems);
    assert_non_null(strstr(out.bytes,
                           "many.yaml: problems found: 80; the first 50 are "
                           "shown. Nothing was worked out."));
    ht_text_free(&text);
    ht_text_free(&out);
}

/* ---- mutations -------------------------------------------------------- */

static size_t mutate(struct random_source *source, char *bytes, size_t length,
                     size_t room)
{
    static const char spice[] = "{}[],:-#&*!|>'\"%@`~ \n\t\\\0\xff\xc3"
                                "019.";
    size_t at = random_bits(source) % length;
    char c = spice[random_bits(source) % (sizeof spice - 1)];
    size_t run = 1 + random_bits(source) % 40;
    if (run > length - at)
        run = length - at;
    switch (random_bits(source) % 5) {
    case 0: /* another byte */
        bytes[at] = c;
        return length;
    case 1: /* a byte flipped */
        bytes[at] = (char)(bytes[at] ^ (1 << random_bits(source) % 8));
        return length;
    case 2: /* cut out */
        memmove(bytes + at, bytes + at + run, length - at - run);
        return length - run;
    case 3: /* doubled */
        if (length + run > room)
            return length;
        memmove(bytes + at + run, bytes + at, length - at);
        return length + run;
    default: /* cut off */
        return random_bits(source) % 20 ? length : at + 1;
    }
}

/* Whatever is accepted can be stored and read again. */
static void must_come_back(const struct ht_sheet *sheet)
{
    struct ht_text first = { 0 }, second = { 0 };
    struct ht_sheet again;
    struct ht_error err = { 0 };
    assert_int_equal(ht_sheet_write_json(&first, sheet, &err), HT_OK);
    if (ht_sheet_read_text(&again, "again.json", first.bytes, first.length,
                           NULL, &err) != HT_OK)
        fail_msg("%s in %s", err.text, first.bytes);
    assert_int_equal(ht_sheet_write_json(&second, &again, &err), HT_OK);
    assert_string_equal(first.bytes, second.bytes);
    ht_text_free(&first);
    ht_text_free(&second);
    ht_sheet_free(&again);
}

static void read_mutated(const char *bytes, size_t length, size_t *fine)
{
    static struct ht_problems problems;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    struct ht_text out = { 0 };
    enum ht_status status =
        ht_sheet_read_text(&sheet, "m.yaml", bytes, length, &problems, &err);
    *fine += status == HT_OK;
    if (status == HT_OK) {
        assert_int_equal(problems.found, 0);
        must_come_back(&sheet);
    } else {
        assert_int_equal(status, HT_BAD_FILE);
        assert_true(problems.found > 0 && err.text[0]);
        assert_null(sheet.memory);
        ht_problems_write(&out, &problems);
        assert_true(ht_text_ok(&out));
    }
    ht_text_free(&out);
    ht_sheet_free(&sheet);
}

static void mutate_many(const char *good, size_t length, uint64_t seed)
{
    enum { TIMES = 2500 };
    size_t room = length + 4096, fine = 0;
    char *bytes = malloc(room);
    struct random_source source = { seed };
    assert_non_null(bytes);
    for (int i = 0; i < TIMES; i++) {
        size_t now = length, changes = 1 + random_bits(&source) % 4;
        memcpy(bytes, good, length);
        for (size_t c = 0; c < changes && now > 1; c++)
            now = mutate(&source, bytes, now, room);
        read_mutated(bytes, now, &fine);
    }
    /* Some mutations hit a remark or a text: a reader that refuses all of
     * them, or none, would be wrong. */
    assert_in_range(fine, 10, TIMES - 1000);
    free(bytes);
}

static void a_mutated_sheet_is_read_or_explained(void **state)
{
    (void)state;
    size_t length;
    char *good = file_bytes(FULL_SHEET, &length);
    struct ht_sheet sheet;
    struct ht_text json = { 0 };
    mutate_many(good, length, 1);
    assert_int_equal(ht_sheet_read(&sheet, FULL_SHEET, NULL, NULL), HT_OK);
    assert_int_equal(ht_sheet_write_json(&json, &sheet, NULL), HT_OK);
    mutate_many(json.bytes, json.length, 2);
    ht_text_free(&json);
    ht_sheet_free(&sheet);
    free(good);
}

/* ---- memory ----------------------------------------------------------- */

static size_t asked, failing;
static bool for_good;

static bool permit(size_t bytes)
{
    (void)bytes;
    asked++;
    return for_good ? asked < failing : asked != failing;
}

static enum ht_status read_with(size_t fail_at, bool stays)
{
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    asked = 0;
    failing = fail_at;
    for_good = stays;
    ht_memory_permit = permit;
    enum ht_status status = ht_sheet_read(&sheet, FULL_SHEET, NULL, &err);
    ht_memory_permit = NULL;
    if (status != HT_OK) {
        assert_null(sheet.memory);
        assert_int_equal(sheet.angles_count, 0);
        assert_non_null(strstr(err.text, "memory"));
    }
    ht_sheet_free(&sheet);
    return status;
}

static void every_allocation_can_fail(void **state)
{
    (void)state;
    assert_int_equal(read_with(0, false), HT_OK);
    size_t count = asked;
    assert_true(count >= 5);
    for (size_t i = 1; i <= count; i++) {
        assert_int_equal(read_with(i, false), HT_NO_MEMORY);
        assert_int_equal(read_with(i, true), HT_NO_MEMORY);
    }
}

static void every_allocation_in_writing_can_fail(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    assert_int_equal(ht_sheet_read(&sheet, FULL_SHEET, NULL, NULL), HT_OK);
    size_t count = 1;
    for (size_t i = 0; i <= count; i++) {
        struct ht_text out = { 0 };
        asked = 0;
        failing = i;
        for_good = false;
        ht_memory_permit = permit;
        enum ht_status status = ht_sheet_write_json(&out, &sheet, NULL);
        ht_memory_permit = NULL;
        assert_int_equal(status, i == 0 ? HT_OK : HT_NO_MEMORY);
        assert_true(i == 0 || out.length == 0);
        count = i == 0 ? asked : count;
        ht_text_free(&out);
    }
    assert_true(count >= 3);
    ht_sheet_free(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sheet_over_64_kb_is_too_big),
        cmocka_unit_test(a_file_over_64_kb_is_too_big_and_one_less_is_read),
        cmocka_unit_test(nesting_over_32_is_refused),
        cmocka_unit_test(brackets_without_end_take_no_time),
        cmocka_unit_test(bytes_that_are_no_text_are_named_with_their_place),
        cmocka_unit_test(anchors_aliases_tags_and_second_documents_are_refused),
        cmocka_unit_test(of_many_problems_the_first_fifty_are_kept),
        cmocka_unit_test(a_mutated_sheet_is_read_or_explained),
        cmocka_unit_test(every_allocation_can_fail),
        cmocka_unit_test(every_allocation_in_writing_can_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
