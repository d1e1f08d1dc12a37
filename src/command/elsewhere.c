#include "elsewhere.h"
#include "texts.h"

#include <unistd.h>

enum ht_status elsewhere_run(const char *const *places, size_t count,
                             char **line, struct ht_error *err)
{
    for (size_t i = 0; i < count; i++)
        (void)execv(places[i], line);
    return ht_fail(err, ELSEWHERE_ABSENT, places[count - 1]);
}
