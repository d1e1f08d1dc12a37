/* What the commands print for people. */
#include "close.h"
#include "workup_fixture.h"

#include "halfturn/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef enum ht_status (*writer)(struct ht_text *, const struct ht_workup *,
                                 struct ht_error *);
static const struct {
    const char *name;
    writer write;
} writers[] = {
    { "angles", ht_report_angles_text },
    { "orders", ht_report_orders_text },
    { "rank", ht_report_rank_text },
};

static struct ht_text text_of(writer write, enum fixture_case which)
{
    struct fixture *fixture = fixture_create(which);
    struct ht_text text = { 0 };
    assert_int_equal(write(&text, fixture_workup(fixture), NULL), HT_OK);
    fixture_free(fixture);
    return text;
}

static void show(const char *name, const char *fixture,
                 const struct ht_text *text)
{
    char path[400];
    const char *folder = getenv("HALFTURN_SHOW");
    if (!folder)
        return;
    (void)snprintf(path, sizeof path, "%s/%s-%s.txt", folder, fixture, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    (void)fwrite(text->bytes, 1, text->length, file);
    (void)fclose(file);
}

static size_t columns_of(const char *line, size_t length)
{
    size_t columns = 0;
    for (size_t i = 0; i < length; i++)
        columns += ((unsigned char)line[i] & 0xC0) != 0x80;
    return columns;
}

static void no_line_is_wider_than_80_columns_and_none_holds_a_control(
    void **state)
{
    (void)state;
    for (int i = 0; i < FIXTURE_CASES; i++)
        for (size_t w = 0; w < 3; w++) {
            struct ht_text text = text_of(writers[w].write,
                                          (enum fixture_case)i);
            show(writers[w].name, fixture_names[i], &text);
            for (const char *p = text.bytes; *p;) {
                size_t length = strcspn(p, "\n");
                if (columns_of(p, length) > 80)
                    fail_msg("%s %s: %.*s", fixture_names[i], writers[w].name,
                             (int)length, p);
                for (size_t c = 0; c < length; c++)
                    assert_true((unsigned char)p[c] >= 0x20);
                p += length + 1;
            }
            ht_text_free(&text);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            no_line_is_wider_than_80_columns_and_none_holds_a_control),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
