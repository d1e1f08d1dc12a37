/* Every task runs once, whatever the number of threads. */
#include "close.h"

#include "common/parallel.h"

#include <stdatomic.h>

enum { TASKS = 1000 };

static void add_square(void *context, size_t index)
{
    atomic_uint *ran = context;
    atomic_fetch_add(&ran[index], (unsigned)(index * index) + 1);
}

static void every_task_runs_once(void **state)
{
    (void)state;
    static atomic_uint ran[TASKS + 1];
    for (size_t count = 0; count <= TASKS; count += count < 10 ? 1 : 330) {
        for (size_t i = 0; i <= TASKS; i++)
            atomic_store(&ran[i], 0);
        ht_parallel(count, add_square, ran);
        for (size_t i = 0; i <= TASKS; i++)
            assert_int_equal(atomic_load(&ran[i]),
                             i < count ? i * i + 1 : 0);
    }
}

struct inner {
    atomic_uint sum;
};

static void add_inner(void *context, size_t index)
{
    struct inner *inner = context;
    atomic_fetch_add(&inner->sum, (unsigned)index);
}

static void run_inner(void *context, size_t index)
{
    struct inner *inner = context;
    (void)index;
    ht_parallel(10, add_inner, inner);
}

static void a_task_may_share_out_its_own_work(void **state)
{
    (void)state;
    struct inner inner = { 0 };
    ht_parallel(4, run_inner, &inner);
    assert_int_equal(atomic_load(&inner.sum), 4 * 45);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_task_runs_once),
        cmocka_unit_test(a_task_may_share_out_its_own_work),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
