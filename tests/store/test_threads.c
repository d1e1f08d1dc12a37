/* A file arrives in one thread while another one saves. ThreadSanitizer looks
 * on in tests/run. */
#include "close.h"
#include "given_store.h"

#include <pthread.h>
#include <string.h>

enum { ARRIVALS = 4, PIECES = 200, PIECE_BYTES = 1000, SAVES = 60 };

struct job {
    struct ht_arrival *arrival;
    char fill;
    enum ht_status status;
};

static void *write_pieces(void *context)
{
    struct job *job = context;
    struct ht_error err;
    char piece[PIECE_BYTES];
    memset(piece, job->fill, sizeof piece);
    for (int i = 0; i < PIECES && job->status == HT_OK; i++)
        job->status = ht_arrival_write(job->arrival, piece, sizeof piece,
                                       &err);
    return NULL;
}

static void files_arrive_while_cases_are_saved(void **state)
{
    (void)state;
    struct ht_error err = { 0 };
    struct ht_store *store = given_open();
    struct ht_store_case now = given_case(store, "one");
    struct job jobs[ARRIVALS] = { 0 };
    pthread_t threads[ARRIVALS];
    for (int i = 0; i < ARRIVALS; i++) {
        jobs[i].fill = (char)('a' + i);
        assert_int_equal(ht_store_begin(store, &jobs[i].arrival, &err),
                         HT_OK);
        assert_int_equal(pthread_create(&threads[i], NULL, write_pieces,
                                        &jobs[i]),
                         0);
    }
    for (int i = 0; i < SAVES; i++)
        assert_int_equal(ht_store_save(store, now.id, now.revision,
                                       given_sheet("saved", ""), NULL, &now,
                                       &err),
                         HT_OK);
    for (int i = 0; i < ARRIVALS; i++) {
        struct ht_store_file kept;
        char name[] = { jobs[i].fill, 0 };
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        assert_int_equal(jobs[i].status, HT_OK);
        assert_int_equal(ht_store_keep(store, jobs[i].arrival, now.id, name,
                                       &kept, &err),
                         HT_OK);
        assert_int_equal(kept.bytes, PIECES * PIECE_BYTES);
    }
    assert_int_equal(now.revision, SAVES + 1);
    assert_int_equal(given_count(given_path("store/attachments")), ARRIVALS);
    ht_store_close(store);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(files_arrive_while_cases_are_saved,
                                        given_begin, given_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
