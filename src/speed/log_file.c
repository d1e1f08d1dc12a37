#include "log.h"

enum ht_status ht_speed_log_read(struct ht_speed_log *log, const char *path,
                                 const struct ht_sheet_speed *how,
                                 struct ht_error *err)
{
    *log = (struct ht_speed_log){ .rows = 0 };
    struct ht_table table = { .rows = 0 };
    enum ht_status status = ht_table_read(&table, path, 0, NULL, err);
    if (status == HT_OK)
        status = ht_speed_log_from_table(log, &table, path, how, err);
    ht_table_free(&table);
    return status;
}
