/* texts.h - every sentence this room says.
 *
 * A refusal is a row of a status and a sentence, in the place of both
 * arguments of ht_fail; the other rows are sentences alone.
 */
#ifndef HALFTURN_PAGE_TEXTS_H
#define HALFTURN_PAGE_TEXTS_H

#include "halfturn/status.h"

/* Starting. */

#define PAGE_PORT_TAKEN                                                        \
    HT_PORT_TAKEN, "Port %u is taken by another program. Try --port 0 for a "  \
                   "free one, or another number."
#define PAGE_PORT_NOT_OURS                                                     \
    HT_PORT_TAKEN, "Port %u cannot be used: %s. Try --port 0 for a free one."
#define PAGE_NO_SERVER                                                         \
    HT_BUG, "The server could not be started: %s. Try again; if it stays so, " \
            "report it."
#define PAGE_NO_CHANCE                                                         \
    HT_CANNOT_READ, "This system gives no random numbers for the key in the "  \
                    "address: %s. Nothing is served without one."
#define PAGE_NO_MEMORY_TEXT "There is not enough memory. Close other programs."
#define PAGE_NO_MEMORY HT_NO_MEMORY, PAGE_NO_MEMORY_TEXT

/* Requests: work. */

#define PAGE_BUSY                                                              \
    HT_BUSY, "%zu things wait to be worked out. Wait for some of them."
#define PAGE_STOPPED HT_STOPPED, "The work was stopped."
#define PAGE_SHEET_NAMES_FILES                                                 \
    HT_BAD_FILE, "This sheet names the file '%.60s'. A sheet that is sent by " \
                 "itself has no files: make a case, then add it."

/* Requests: the address and the body. */

#define PAGE_NUMBER_OFF                                                        \
    HT_BAD_USE, "%s: '%.40s' is no number between %s and %s, written with a "  \
                "decimal point."
#define PAGE_WHOLE_OFF                                                         \
    HT_BAD_USE, "%s: '%.40s' is no whole number from 1 on."
#define PAGE_WHOLE_OVER                                                        \
    HT_BAD_USE, "%s: '%.40s' is no whole number from 1 to %d."
#define PAGE_KEY_OFF                                                           \
    HT_BAD_USE, "key: wanted are 1 to %d letters, digits and '-'."
#define PAGE_WORD_OFF HT_BAD_USE, "%s: '%.40s' is not one of %s."
#define PAGE_NO_SPEED                                                          \
    HT_BAD_USE, "speed_km_h is not given, and the sheet names no speed of the "\
                "complaint. Give one."
#define PAGE_NO_FILE                                                           \
    HT_CANNOT_READ, "The zip could not be opened again: %s."

#define PAGE_MOVED_ON                                                          \
    "The case was changed in another window. Nothing was saved here: look at " \
    "it as it is now."
#define PAGE_NO_HOST                                                           \
    "This server answers to 127.0.0.1 and localhost with its port, and to no " \
    "other name."
#define PAGE_TWICE                                                             \
    "A header that may stand once stands twice, or the length is given in two "\
    "ways."
#define PAGE_ADDRESS_OFF                                                       \
    "The address is no UTF-8, or holds a '%' without two digits behind it."
#define PAGE_NO_ADDRESS "There is nothing at this address."
#define PAGE_NO_METHOD "This address does not take that method."
#define PAGE_NO_TOKEN                                                          \
    "The key of this server is missing or wrong. Open the address that it "    \
    "printed when it started."
#define PAGE_FOREIGN "A page of another site may not do that."
#define PAGE_TOO_BIG_TEXT "What was sent is over the limit of %llu bytes."
#define PAGE_NO_BODY "This address takes no body."
#define PAGE_NUL "The sheet holds a byte 0, which no text does."
#define PAGE_TOO_MANY_LISTEN "Too many windows follow the work."

/* Names. */

/* "The archive ... is damaged" */
#define PAGE_ARCHIVE_TAKEN "that was sent"
#define PAGE_ARCHIVE_SENT "to be sent"
#define PAGE_SHEET_NAME "sheet"
#define PAGE_CASE_NAME "case %lld"
#define PAGE_SAMPLE_NAME "the sample"

#endif
