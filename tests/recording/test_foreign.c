/* The line that converts a file can be typed as it is printed. */
#include "close.h"

#include "recording/foreign.h"

#include "common/shell.h"

#include <string.h>

static void assert_line(const char *path, const char *wanted)
{
    struct ht_text line = { 0 };
    ht_foreign_line(&line, path);
    assert_string_equal(ht_text_get(&line), wanted);
    ht_text_free(&line);
}

/* POSIX shell command language, 2.2.2: nothing is special in single quotes
 * but the quote itself. */
static void names_are_quoted_as_a_shell_wants_them(void **state)
{
    (void)state;
    assert_line("drive.m4a", "ffmpeg -n -i drive.m4a drive.wav");
    assert_line("van/my drive.m4a",
                "ffmpeg -n -i 'van/my drive.m4a' 'van/my drive.wav'");
    assert_line("it's.m4a", "ffmpeg -n -i 'it'\\''s.m4a' 'it'\\''s.wav'");
    assert_line("a$b.m4a", "ffmpeg -n -i 'a$b.m4a' 'a$b.wav'");
    assert_line("-x.m4a", "ffmpeg -n -i ./-x.m4a ./-x.wav");
    assert_line("-x y.m4a", "ffmpeg -n -i './-x y.m4a' './-x y.wav'");
    assert_line("v1.2/drive", "ffmpeg -n -i v1.2/drive v1.2/drive.wav");
    assert_line("12:30.m4a", "ffmpeg -n -i file:12:30.m4a file:12:30.wav");
}

/* POSIX 2024, 2.2.4: a backslash and three octal digits within $'...'. */
static void a_name_with_control_characters_stays_in_its_line(void **state)
{
    (void)state;
    assert_line("a\nb.m4a", "ffmpeg -n -i $'a\\012b.m4a' $'a\\012b.wav'");
    assert_line("-\x1b[2J'\\.m4a",
                "ffmpeg -n -i $'./-\\033[2J\\'\\\\.m4a' "
                "$'./-\\033[2J\\'\\\\.wav'");
    assert_line("\xc2\x9b\x7f\xc3\x9c",
                "ffmpeg -n -i $'\\302\\233\\177\xc3\x9c' "
                "$'\\302\\233\\177\xc3\x9c.wav'");
}

static void a_converted_file_never_takes_the_place_of_the_old(void **state)
{
    (void)state;
    assert_line("drive.wav", "ffmpeg -n -i drive.wav drive-converted.wav");
    assert_line(".m4a", "ffmpeg -n -i .m4a .m4a.wav");
}

static void a_path_too_long_for_a_line_is_not_cut_short(void **state)
{
    (void)state;
    static const unsigned char head[] = "\0\0\0\x20" "ftypM4A ";
    char path[600];
    struct ht_error err = { 0 };
    for (size_t length = 1; length < sizeof path; length++) {
        memset(path, 'a', length);
        path[length] = '\0';
        assert_int_equal(ht_foreign_refuse(path, head, sizeof head, &err),
                         HT_BAD_FILE);
        const char *line = strstr(err.text, "ffmpeg -n -i ");
        assert_true(strlen(err.text) + 1 < sizeof err.text);
        if (line)
            assert_string_equal(err.text + strlen(err.text) - 4, ".wav");
        else
            assert_non_null(strstr(err.text, "too long"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_quoted_as_a_shell_wants_them),
        cmocka_unit_test(a_name_with_control_characters_stays_in_its_line),
        cmocka_unit_test(a_converted_file_never_takes_the_place_of_the_old),
        cmocka_unit_test(a_path_too_long_for_a_line_is_not_cut_short),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
