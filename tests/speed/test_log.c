#include "close.h"

#include "speed/log.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Names and rows as a table reader leaves them. */
static void fill(struct ht_table *t, char (*names)[64], double *values,
                 size_t rows, const char *time_name, const char *speed_name)
{
    strcpy(names[0], time_name);
    strcpy(names[1], speed_name);
    *t = (struct ht_table){ .columns = 2,
                            .rows = rows,
                            .name = names,
                            .value = values,
                            .separator = ',',
                            .decimal = '.',
                            .first_row_line = 2 };
}

static const struct ht_sheet_speed nothing_said;

static void the_unit_comes_from_the_header(void **state)
{
    (void)state;
    static const struct {
        const char *time, *speed;
        double m_s_per_unit, s_per_unit;
    } rows[] = { { "time_s", "speed_kmh", 1 / 3.6, 1 },
                 { "Time [s]", "Speed (km/h)", 1 / 3.6, 1 },
                 { "t_ms", "v_mps", 1, 1e-3 },
                 { "timestamp", "GPS_speed_mph", 0.44704, 1 },
                 { "time", "kmh", 1 / 3.6, 1 } };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double step = rows[i].s_per_unit < 0.5 ? 1000 : 1;
        double values[] = { 0,    50,       step, 51.3,     2 * step,
                            52.1, 3 * step, 53.7, 4 * step, 54.9 };
        char names[2][64];
        struct ht_table t;
        struct ht_speed_log log;
        struct ht_error err = { 0 };
        fill(&t, names, values, 5, rows[i].time, rows[i].speed);
        assert_int_equal(
            ht_speed_log_from_table(&log, &t, "log.csv", &nothing_said, &err),
            HT_OK);
        assert_int_equal(log.rows, 5);
        /* 1e-12: a few roundings of a double near 25 */
        assert_close(log.speed_m_s[4], 54.9 * rows[i].m_s_per_unit, 1e-12);
        assert_close(log.time_s[4], 4, 1e-12);
        ht_speed_log_free(&log);
    }
}

static void expect_refusal(const char *time_name, const char *speed_name,
                           double *values, size_t rows, const char *words)
{
    char names[2][64];
    struct ht_table t;
    struct ht_speed_log log;
    struct ht_error err = { 0 };
    fill(&t, names, values, rows, time_name, speed_name);
    assert_int_equal(
        ht_speed_log_from_table(&log, &t, "log.csv", &nothing_said, &err),
        HT_BAD_FILE);
    if (!strstr(err.text, words))
        fail_msg("\"%s\" does not say \"%s\"", err.text, words);
    assert_null(log.memory);
    assert_int_equal(log.rows, 0);
}

static void a_log_that_cannot_be_read_right_is_refused_in_words(void **state)
{
    (void)state;
    double fine[] = { 0, 50, 1, 51, 2, 52, 3, 53 };
    double back[] = { 0, 50, 1, 51, 0.5, 52, 3, 53 };
    double fast[] = { 0, 50, 1, 51, 2, 320, 3, 53 };
    expect_refusal("time", "speed", fine, 4, "unit of column \"speed\"");
    expect_refusal("time", "height", fine, 4, "no speed column among: time");
    expect_refusal("time", "speed_kmh", back, 4, "line 4: the time goes back");
    expect_refusal("time", "speed_kmh", fast, 4, "line 4: 320 km/h");
    expect_refusal("time", "speed_kmh", fine, 1, "many rows");
}

static void the_sheet_overrides_column_and_unit(void **state)
{
    (void)state;
    double values[] = { 0, 50, 1, 51, 2, 52, 3, 53 };
    char names[2][64];
    struct ht_table t;
    struct ht_speed_log log;
    struct ht_error err = { 0 };
    struct ht_sheet_speed how = { .column = "wheel", .unit = "mph" };
    fill(&t, names, values, 4, "time", "wheel");
    assert_int_equal(ht_speed_log_from_table(&log, &t, "log.csv", &how, &err),
                     HT_OK);
    assert_close(log.speed_m_s[0], 50 * 0.44704, 1e-12);
    ht_speed_log_free(&log);
    how.column = "speed";
    assert_int_equal(ht_speed_log_from_table(&log, &t, "log.csv", &how, &err),
                     HT_BAD_FILE);
}

static void slips_empty_rows_and_steps_are_left_out_or_said(void **state)
{
    (void)state;
    double values[] = { 0, 50, 1, 51, 2, NAN, 3, 99, 4, 53, 4, 53, 5, 54 };
    char names[2][64];
    struct ht_table t;
    struct ht_speed_log log;
    struct ht_error err = { 0 };
    fill(&t, names, values, 7, "time_s", "speed_kmh");
    assert_int_equal(
        ht_speed_log_from_table(&log, &t, "log.csv", &nothing_said, &err),
        HT_OK);
    assert_int_equal(log.rows, 4);
    assert_int_equal(log.notes, 4);
    assert_non_null(strstr(log.note[3], "steps of 1.0 km/h"));
    ht_speed_log_free(&log);
}

/* As a European logger writes: semicolons, decimal commas. */
static void a_file_with_decimal_commas_is_read(void **state)
{
    (void)state;
    char path[] = "/tmp/halfturn-log-XXXXXX";
    int handle = mkstemp(path);
    assert_true(handle >= 0);
    FILE *file = fdopen(handle, "w");
    assert_non_null(file);
    fputs("time;speed (km/h)\n0,0;50,1\n1,5;51,2\n3,0;52,3\n4,5;53,4\n", file);
    fclose(file);
    struct ht_speed_log log;
    struct ht_error err = { 0 };
    assert_int_equal(ht_speed_log_read(&log, path, &nothing_said, &err), HT_OK);
    assert_int_equal(log.rows, 4);
    assert_close(log.time_s[1], 1.5, 1e-12);
    assert_close(log.speed_m_s[3], 53.4 / 3.6, 1e-12);
    ht_speed_log_free(&log);
    remove(path);
    assert_int_equal(ht_speed_log_read(&log, path, &nothing_said, &err),
                     HT_CANNOT_READ);
    assert_null(log.memory);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_unit_comes_from_the_header),
        cmocka_unit_test(a_log_that_cannot_be_read_right_is_refused_in_words),
        cmocka_unit_test(the_sheet_overrides_column_and_unit),
        cmocka_unit_test(a_file_with_decimal_commas_is_read),
        cmocka_unit_test(slips_empty_rows_and_steps_are_left_out_or_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
