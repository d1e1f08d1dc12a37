/* A case sheet in JSON: what begins with another byte is the other target's
 * and is given the brace. */
#include "sheet.h"

static void read_braced(const char *bytes, size_t length)
{
    if (length > 0 && bytes[0] == '{') {
        sheet_read(bytes, length);
        return;
    }
    char *braced = ht_allocate(length + 1, 1);
    if (!braced)
        return;
    braced[0] = '{';
    if (length > 0)
        memcpy(braced + 1, bytes, length);
    sheet_read(braced, length + 1);
    ht_release(braced);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(read_braced, data, size);
}
