/* pages.h - a hint for large arrays that are about to be filled.
 *
 * A fresh array is given to the program page by page, as it is touched; that
 * costs more than filling it. In larger pages, where the system has them, it
 * happens five hundred times less often. Contents and addresses stay.
 */
#ifndef HALFTURN_COMMON_PAGES_H
#define HALFTURN_COMMON_PAGES_H

#include <stddef.h>

void ht_pages_will_be_filled(void *memory, size_t bytes);

#endif
