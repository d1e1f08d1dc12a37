/* A command that another program carries out: it gets the same words, and
 * where there is none, that is said. */
#include "close.h"

#include "command/elsewhere.h"

#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static char name[] = "halfturn", word[] = "two words", dash[] = "-x";
static char *line[] = { name, word, dash, NULL };

static void the_first_program_that_is_there_gets_the_words(void **state)
{
    (void)state;
    static const char *const places[] = { "/nowhere/echo", "/bin/echo",
                                          "/bin/false" };
    char said[64] = "";
    int end[2], code;
    assert_int_equal(pipe(end), 0);
    pid_t child = fork();
    if (child == 0) {
        struct ht_error err;
        (void)dup2(end[1], 1);
        (void)elsewhere_run(places, 3, line, &err);
        _exit(99);
    }
    (void)close(end[1]);
    size_t length = 0;
    for (ssize_t got = 1; got > 0; length += got > 0 ? (size_t)got : 0)
        got = read(end[0], said + length, sizeof said - 1 - length);
    (void)close(end[0]);
    assert_int_equal(waitpid(child, &code, 0), child);
    assert_int_equal(code, 0);
    assert_string_equal(said, "two words -x\n");
}

static void a_program_that_is_missing_is_named(void **state)
{
    (void)state;
    static const char *const places[] = { "/nowhere/one", "/nowhere/two" };
    struct ht_error err = { 0 };
    assert_int_equal(elsewhere_run(places, 2, line, &err), HT_CANNOT_READ);
    assert_non_null(strstr(err.text, "/nowhere/two"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_program_that_is_there_gets_the_words),
        cmocka_unit_test(a_program_that_is_missing_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
