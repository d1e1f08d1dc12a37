/* A case sheet in YAML. */
#include "sheet.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    return fuzz_run(sheet_read, data, size);
}
