/* Manual pages as scdoc source, from the tables of commands and options. */
#include "help.h"

#include <string.h>

void manual_escape(struct ht_text *text, const char *plain)
{
    for (; *plain; plain++) {
        if (strchr("\\*_`#-[]|<>~.", *plain))
            ht_text_add(text, "\\");
        ht_text_add_bytes(text, plain, 1);
    }
}

bool manual_write(struct ht_text *text, const char *page)
{
    (void)text;
    (void)page;
    return false;
}
