/* Keys: the published hash, the bytes that go into it, and that every word of
 * a sheet does. */
#include "close.h"
#include "scratch.h"

#include "document/field.h"
#include "workup/digest.h"
#include "workup/slice.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void assert_key(const struct ht_key *key, const char *wanted)
{
    char hex[HT_KEY_HEX];
    ht_key_write(hex, key);
    assert_string_equal(hex, wanted);
}

/* xxHash's own self-test, XSUM_XXH128_testdata (cli/xsum_sanity_check.c): no
 * byte, and the one byte 0; seed 0. */
static void a_content_has_the_published_hash(void **state)
{
    (void)state;
    struct ht_key nothing = ht_key_of_bytes("", 0);
    struct ht_key zero = ht_key_of_bytes("\0", 1);
    assert_key(&nothing, "99aa06d3014798d86001c324468d497f");
    assert_key(&zero, "a6cd5e9392000f6ac44bdff4074eecdb");
}

static void a_file_has_the_key_of_its_bytes(void **state)
{
    (void)state;
    static unsigned char bytes[100003]; /* several blocks, the last not full */
    struct ht_key key, again = ht_key_of_bytes(bytes, sizeof bytes);
    struct ht_error err = { 0 };
    const char *path = scratch_file("bytes", bytes, sizeof bytes);
    assert_int_equal(ht_key_of_file(&key, path, &err), HT_OK);
    assert_memory_equal(&key, &again, sizeof key);
    bytes[100002] = 1;
    again = ht_key_of_bytes(bytes, sizeof bytes);
    assert_memory_not_equal(&key, &again, sizeof key);
    assert_int_equal(ht_key_of_file(&key, "/nowhere/gone", &err),
                     HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "/nowhere/gone"));
    assert_int_equal(ht_key_of_file(&key, scratch_path("."), &err),
                     HT_CANNOT_READ); /* a folder opens, and does not read */
    assert_non_null(strstr(err.text, "cannot be read to its end"));
}

/* ---- fields ------------------------------------------------------------ */

struct fields {
    double number[2];
    const char *text[2];
    size_t count;
};

static bool fill(struct ht_digest *digest, const void *context)
{
    const struct fields *fields = context;
    for (int i = 0; i < 2; i++)
        ht_digest_number(digest, fields->number[i]);
    for (int i = 0; i < 2; i++)
        ht_digest_text(digest, fields->text[i]);
    ht_digest_count(digest, fields->count);
    return true;
}

static struct ht_key key_of(const char *version, const char *stage,
                            struct fields fields)
{
    struct ht_key key;
    assert_true(ht_digest_make(&key, version, stage, fill, &fields));
    return key;
}

/* docs/workup.md gives the bytes; here they are written out by hand. */
static void the_fields_go_in_as_the_page_says(void **state)
{
    (void)state;
    static const unsigned char bytes[] =
        "t\1\0\0\0\0\0\0\0" "1"           /* version */
        "t\3\0\0\0\0\0\0\0" "abc"         /* stage */
        "n\0\0\0\0\0\0\xf8\x3f"           /* 1.5 */
        "-"                               /* not a number: absent */
        "t\2\0\0\0\0\0\0\0" "\xc2\xb0"    /* a degree sign */
        "-"
        "c\1\2\0\0\0\0\0\0";              /* 513 */
    struct fields fields = { { 1.5, NAN }, { "\u00b0", NULL }, 513 };
    struct ht_key key = key_of("1", "abc", fields);
    struct ht_key wanted = ht_key_of_bytes(bytes, sizeof bytes - 1);
    assert_memory_equal(&key, &wanted, sizeof key);
}

static void no_two_lists_of_fields_are_one(void **state)
{
    (void)state;
    static const struct {
        const char *version, *stage;
        struct fields fields;
    } lists[] = {
        { "1", "abc", { { 0, 1 }, { "ab", "c" }, 0 } },
        { "1.1", "abc", { { 0, 1 }, { "ab", "c" }, 0 } },
        { "1", "abd", { { 0, 1 }, { "ab", "c" }, 0 } },
        { "1a", "bc", { { 0, 1 }, { "ab", "c" }, 0 } },
        { "1", "abc", { { 0, 1 }, { "a", "bc" }, 0 } },
        { "1", "abc", { { 0, 1 }, { "abc", "" }, 0 } },
        { "1", "abc", { { 0, 1 }, { "abc", NULL }, 0 } },
        { "1", "abc", { { 1, 0 }, { "ab", "c" }, 0 } },
        { "1", "abc", { { -0.0, 1 }, { "ab", "c" }, 0 } },
        { "1", "abc", { { NAN, 1 }, { "ab", "c" }, 0 } },
        { "1", "abc", { { 0, 1 }, { "ab", "c" }, 1 } },
    };
    enum { LISTS = sizeof lists / sizeof lists[0] };
    struct ht_key key[LISTS];
    for (size_t i = 0; i < LISTS; i++) {
        key[i] = key_of(lists[i].version, lists[i].stage, lists[i].fields);
        for (size_t j = 0; j < i; j++)
            if (memcmp(&key[i], &key[j], sizeof key[i]) == 0)
                fail_msg("list %zu has the key of list %zu", i, j);
    }
}

static void every_nan_is_one(void **state)
{
    (void)state;
    struct fields one = { { NAN, 1 }, { 0 }, 0 }, other = { { -NAN, 1 },
                                                            { 0 }, 0 };
    struct ht_key a = key_of("1", "x", one), b = key_of("1", "x", other);
    assert_memory_equal(&a, &b, sizeof a);
}

/* ---- the sheet --------------------------------------------------------- */

/* Every key of the sheet, every list with something in it. */
static const char full_sheet[] =
    "halfturn: 1\ntitle: t\nsetting: complaint\n"
    "identity: {unit: u, odometer_km: 1, date: 2026-11-20, load: l, "
    "measured_by: m}\n"
    "safety: {clips_refitted: yes, walk_round: done}\n"
    "vehicle: {class: van, tyre: 235/65R16, drive: rear, gearbox: manual, "
    "axle_teeth: [41, 11], gear_ratios: [4, 2], "
    "engine: {cylinders: 4, strokes: 4}, "
    "transfer: {high: 1, low: 2, in: high}, accessories: {fan: 1.1}, "
    "top_speed_km_h: 120, mass_kg: 2400, torque_n_m: 900, hub_ratio: 1, "
    "axle: {kind: rigid, steered: no, pinion_to_axle_mm: 250}}\n"
    "driveline: {name: n, from: f, to: t, members: [a, b, c], "
    "joints: [cardan, cardan], yokes_deg: [0], driven_from: front, "
    "engaged: yes, turns_per_wheel_turn: 3.7, "
    "tubes: [{joint_to_joint_mm: 1000, outer_mm: 70, wall_mm: "
    "2, material: steel}], spline_teeth: 31, bearing_spacings_mm: {a: [200, "
    "150]}, mount_spacing_mm: 900, mount_to_joint_mm: 400, "
    "support_to_joint_mm: 80, centring_error_mm: 0.1, cross_to_cross_mm: 80}\n"
    "angles: {name: n, driveline: n, height_mm: 90, "
    "normal_height: no, when: w, date: 2026-11-20, suspension: hanging, "
    "gauge: {accuracy_deg: 0.1, step_deg: 0.05, set_up_deg: 0.15}, "
    "read_on: cap, slopes_deg: [1, [2, 2.1], {flip: [3, 3.1]}], "
    "headings_deg: [0, 0, 0]}\n"
    "complaint: {speed_km_h: [85, 100], felt: [seat], throttle: same, "
    "neutral_coast: stays, gear_change: same, braking: same, began_after: "
    "tyres, note: n, measured: [{hz: 91, speed_km_h: 95}]}\n"
    "checks: {runout_mm: {shaft_front: 0.2, shaft_middle: 0.2, shaft_rear: "
    "0.2, pinion_flange: 0.1, tyre_radial: 0.1, tyre_lateral: 0.1, "
    "wheel_radial: 0.1, wheel_lateral: 0.1}, seen: [dent], sound: [mounts], "
    "ride_height_mm: {measured: [382, 401], maker: [380, 400]}}\n"
    "drive: {name: n, when: w, recording: r, unit: m/s2, channels: [{name: "
    "x, unit: g, scale: 2, axis: up, place: floor, pulses: {per_turn: 8, of: "
    "shaft}}], sensor: {place: dash}, speed: {file: s, column: c, unit: u, "
    "clock: k}, gear: 2}\n"
    "limits: {name: car, joint_max_deg: 3, joint_min_deg: 1, "
    "difference_max_deg: 1, odd_max_deg: 1, alone_max_deg: 1, "
    "double_joint_max_deg: 1, leftover_max_deg: 1, "
    "axle_rad_s2: 400, shaft_rad_s2: 1000}\n"
    "next: {tools: [lamp], lawful_km_h: 100}\n"
    "shims: [{at: axle, kind: wedge, steps_deg: [1], steps_mm: [2]}]\n"
    "fitted: [{at: axle, turn_deg: 2}, {at: centre_support, support: 1, "
    "lift_mm: 3}, {at: slip_spline, teeth: 1}]\n";

struct whole {
    const void *record;
    const struct ht_schema *schema;
};

static bool hash_whole(struct ht_digest *digest, const void *context)
{
    const struct whole *whole = context;
    ht_slice_hash(digest, whole->record, whole->schema);
    return true;
}

/* The page again, for a record: each value after the name of its key, in the
 * order of the table. */
static void a_record_goes_in_as_the_page_says(void **state)
{
    (void)state;
    static const unsigned char bytes[] =
        "t\1\0\0\0\0\0\0\0" "1"
        "t\4\0\0\0\0\0\0\0" "tool"
        "t\5\0\0\0\0\0\0\0" "tools"
        "c\2\0\0\0\0\0\0\0"
        "t\4\0\0\0\0\0\0\0" "lamp"
        "t\5\0\0\0\0\0\0\0" "lever"
        "t\13\0\0\0\0\0\0\0" "lawful_km_h"
        "n\0\0\0\0\0\0\x34\x40"; /* 20 m/s */
    const char *tools[] = { "lamp", "lever" };
    struct ht_sheet_next next = { { tools, 2 }, 20 };
    struct whole whole = { &next,
                           ht_slice_child(ht_sheet_schema(), "next") };
    struct ht_key key, wanted = ht_key_of_bytes(bytes, sizeof bytes - 1);
    assert_true(ht_digest_make(&key, "1", "tool", hash_whole, &whole));
    assert_memory_equal(&key, &wanted, sizeof key);
}

static struct ht_key key_of_sheet(const struct ht_sheet *sheet)
{
    struct ht_key key;
    struct whole whole = { sheet, ht_sheet_schema() };
    assert_true(ht_digest_make(&key, "1", "sheet", hash_whole, &whole));
    return key;
}

/* What a field's own bytes are when it says something else. */
static void change(unsigned char *bytes, const struct ht_row *row)
{
    double number;
    const char *text = "other";
    switch (row->kind) {
    case HT_IS_NUMBER:
    case HT_IS_NUMBERS:
    case HT_IS_NUMBER_ARRAY:
        memcpy(&number, bytes, sizeof number);
        number = isnan(number) ? 1 : nextafter(number, INFINITY);
        memcpy(bytes, &number, sizeof number);
        break;
    case HT_IS_TEXT:
    case HT_IS_TEXTS:
    case HT_IS_NAMED:
    case HT_IS_NAMED_LISTS:
        memcpy(bytes, &text, sizeof text);
        break;
    default:
        bytes[0] ^= 1; /* a word */
    }
}

struct walk {
    const struct ht_sheet *sheet;
    struct ht_key plain;
    size_t fields;
};

static void try_field(struct walk *walk, void *field, size_t size,
                      const struct ht_row *row)
{
    unsigned char before[16];
    assert_true(size <= sizeof before);
    memcpy(before, field, size);
    change(field, row);
    struct ht_key key = key_of_sheet(walk->sheet);
    if (memcmp(&key, &walk->plain, sizeof key) == 0)
        fail_msg("another '%s' gives the same key", row->key);
    memcpy(field, before, size);
    walk->fields++;
}

static void try_record(struct walk *walk, void *record,
                       const struct ht_schema *schema)
{
    for (size_t r = 0; r < schema->row_count; r++) {
        const struct ht_row *row = &schema->rows[r];
        char *field = (char *)record + row->at;
        if (row->at >= schema->size)
            continue; /* scratch */
        if (row->kind == HT_IS_MAP)
            try_record(walk, field, row->child);
        else if (row->kind == HT_IS_MAPS) {
            char *item = (char *)(uintptr_t)ht_field_items(row, record);
            if (ht_field_count(row, record) == 0)
                fail_msg("the full sheet has no '%s'", row->key);
            try_record(walk, item, row->child);
        } else if (row->kind == HT_IS_NUMBERS || row->kind == HT_IS_TEXTS ||
                   row->kind == HT_IS_WORDS || row->kind == HT_IS_NAMED ||
                   row->kind == HT_IS_NAMED_LISTS) {
            void *item = (void *)(uintptr_t)ht_field_items(row, record);
            if (ht_field_count(row, record) > 0)
                try_field(walk, item,
                          row->kind == HT_IS_WORDS ? sizeof(int)
                                                   : sizeof(double),
                          row);
        } else
            try_field(walk, field, ht_field_size(row), row);
    }
}

static void every_word_of_the_sheet_is_hashed(void **state)
{
    (void)state;
    struct ht_sheet sheet;
    struct ht_error err = { 0 };
    if (ht_sheet_read_text(&sheet, "full", full_sheet, strlen(full_sheet),
                           NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    struct walk walk = { &sheet, key_of_sheet(&sheet), 0 };
    try_record(&walk, &sheet, ht_sheet_schema());
    struct ht_key after = key_of_sheet(&sheet);
    assert_memory_equal(&after, &walk.plain, sizeof after);
    assert_true(walk.fields > 100); /* else the walk missed whole mappings */
    ht_sheet_free(&sheet);
}

static void a_slice_says_only_what_it_was_asked_for(void **state)
{
    (void)state;
    static const char *const asked[] = { "checks", "next", "complaint", NULL };
    struct ht_sheet sheet, slice, blank;
    struct ht_error err = { 0 };
    if (ht_sheet_read_text(&sheet, "full", full_sheet, strlen(full_sheet),
                           NULL, &err) != HT_OK)
        fail_msg("%s", err.text);
    ht_sheet_clear(&blank);
    ht_slice(&slice, &sheet, ht_sheet_schema(), asked);
    assert_true(slice.complaint.given);
    assert_int_equal(slice.checks.seen.count, 1);
    assert_int_equal(slice.checks.ride_measured_m.count, 2);
    assert_true(slice.next.lawful_m_s > 0);
    assert_null(slice.title);
    assert_int_equal(slice.drive_count, 0);
    assert_true(isnan(slice.vehicle.mass_kg));
    slice.complaint = blank.complaint;
    slice.checks = blank.checks;
    slice.next = blank.next;
    struct ht_key left = key_of_sheet(&slice), none = key_of_sheet(&blank);
    assert_memory_equal(&left, &none, sizeof left);
    ht_sheet_free(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_content_has_the_published_hash),
        cmocka_unit_test(a_file_has_the_key_of_its_bytes),
        cmocka_unit_test(the_fields_go_in_as_the_page_says),
        cmocka_unit_test(no_two_lists_of_fields_are_one),
        cmocka_unit_test(every_nan_is_one),
        cmocka_unit_test(a_record_goes_in_as_the_page_says),
        cmocka_unit_test(every_word_of_the_sheet_is_hashed),
        cmocka_unit_test(a_slice_says_only_what_it_was_asked_for),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
