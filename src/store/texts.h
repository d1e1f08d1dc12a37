/* texts.h - every sentence this room says. A row is a status and a sentence,
 * and stands in the place of both arguments of ht_fail. */
#ifndef HALFTURN_STORE_TEXTS_H
#define HALFTURN_STORE_TEXTS_H

#include "halfturn/status.h"

/* The folder. */

#define STORE_NO_MEMORY                                                        \
    HT_NO_MEMORY, "There is not enough memory for the store %s. End other "    \
                  "programs, or try again later."
#define STORE_FOLDER_NOT_MADE                                                  \
    HT_CANNOT_WRITE, "The folder %s cannot be made: %s. The folder above it "  \
                     "must be there and may be written to."
#define STORE_FOLDER_NOT_OPENED                                                \
    HT_CANNOT_READ, "The folder %s cannot be opened: %s. Name a folder of "    \
                    "your own for the cases."
#define STORE_IN_USE                                                           \
    HT_CANNOT_WRITE, "Another program has the store %s open. Close it there, " \
                     "or name another folder."
#define STORE_NO_BASE                                                          \
    HT_BAD_FILE, "The folder %s holds attachments and no cases.db. Put "       \
                 "cases.db back from a backup, or name another folder."

/* The database. */

#define STORE_NOT_OPENED                                                       \
    HT_CANNOT_WRITE, "%s/cases.db cannot be opened for writing (%s). It must " \
                     "be a file of your own, in a folder that you may write "  \
                     "to."
#define STORE_NOT_OURS                                                         \
    HT_BAD_FILE, "%s/cases.db belongs to another program. It was left as it "  \
                 "is; name another folder."
#define STORE_NEWER                                                            \
    HT_BAD_FILE, "%s/cases.db has form %d, and this version of halfturn "      \
                 "knows forms up to %d. It was left as it is; use the newer "  \
                 "version that wrote it."
#define STORE_OTHER_FORM                                                       \
    HT_BAD_FILE, "%s/cases.db says that it has form %d, and its tables are "   \
                 "others. It was left as it is; put it back from a backup."
#define STORE_CHECK_FAILED                                                     \
    HT_BAD_FILE, "%s/cases.db is damaged: %.200s. Keep a copy of the folder, " \
                 "then put cases.db back from a backup."
#define STORE_DAMAGED                                                          \
    HT_BAD_FILE, "%s/cases.db is damaged, or is no database (%s). Keep a "     \
                 "copy of the folder, then put cases.db back from a backup."
#define STORE_DISK_FULL                                                        \
    HT_CANNOT_WRITE, "Nothing was saved: the disk that holds %s is full. "     \
                     "Make room there."
#define STORE_DISK_FAILED                                                      \
    HT_CANNOT_WRITE, "Nothing was saved: reading or writing %s/cases.db "      \
                     "failed (%s). See to the disk before you go on."
#define STORE_BUSY                                                             \
    HT_CANNOT_WRITE, "Another program holds %s/cases.db. Close it there."
#define STORE_BUG                                                              \
    HT_BUG, "The database %s/cases.db did not take a statement: %.200s."

/* Cases. */

#define STORE_NO_CASE                                                          \
    HT_NOT_THERE, "There is no case %lld in the store. It may have been "      \
                  "removed."
#define STORE_OTHER_REVISION                                                   \
    HT_BAD_USE, "Case %lld is at revision %lld, and this change was made to "  \
                "revision %lld. Load the case again and repeat the change."
#define STORE_NOTHING_TO_UNDO                                                  \
    HT_BAD_USE, "Case %lld has no earlier revision to go back to."
#define STORE_NOTHING_TO_REDO                                                  \
    HT_BAD_USE, "Case %lld has no later revision to go forth to."
#define STORE_KEY_LENGTH                                                       \
    HT_BAD_USE, "The key of a save is 1 to %d printable ASCII characters."
#define STORE_KEY_OF_OTHER                                                     \
    HT_BAD_USE, "The key %s was used for a save of something else. Every "     \
                "save gets a key of its own."
#define STORE_NAME_NOT_PLAIN                                                   \
    HT_BAD_FILE, "\"%.120s\" is no plain name of a file. In a store a file "   \
                 "is named by 1 to %d bytes of UTF-8 without '/', '\\', "      \
                 "\"..\" and control characters, and no '.' in front."

/* Attachments. */

#define STORE_ARRIVAL_NOT_MADE                                                 \
    HT_CANNOT_WRITE, "No file can be made in %s/arriving: %s."
#define STORE_ARRIVAL_STOPPED                                                  \
    HT_CANNOT_WRITE, "The file could not be written to the store: %s. "        \
                     "Nothing of it was kept."
#define STORE_ARRIVAL_CUT                                                      \
    HT_BAD_USE, "Nothing was kept of the file: it did not arrive whole. Send " \
                "it again."
#define STORE_STOPPED                                                          \
    HT_STOPPED, "It was stopped before its end. Nothing of it was kept."
#define STORE_FILE_TOO_BIG                                                     \
    HT_TOO_BIG, "The file is larger than %llu bytes, the most that is kept "   \
                "of one file. Cut the recording to the stretch that matters."
#define STORE_ALL_TOO_BIG                                                      \
    HT_TOO_BIG, "There is room for %llu bytes more in this store, and the "    \
                "file is larger. Remove cases that are done with."
#define STORE_TOO_MANY_FILES                                                   \
    HT_TOO_BIG, "Case %lld has %d files already, the most that is kept. "      \
                "Remove one."
#define STORE_NOT_PUT                                                          \
    HT_CANNOT_WRITE, "An attachment could not be put into %s/attachments: %s."
#define STORE_NO_FILE                                                          \
    HT_NOT_THERE, "Case %lld has no file \"%s\"."
#define STORE_FILE_GONE                                                        \
    HT_CANNOT_READ, "%s/attachments/%s cannot be read: %s. Put it back from "  \
                    "a backup, or attach the file anew."
#define STORE_FILE_SPOILT                                                      \
    HT_BAD_FILE, "%s/attachments/%s is not what was attached. Put it back "    \
                 "from a backup, or attach the file anew."
#define STORE_NOT_LAID_OUT                                                     \
    HT_CANNOT_WRITE, "The files of the case cannot be laid out in %s: %s."
#define STORE_PATH_TOO_LONG                                                    \
    HT_TOO_BIG, "The path of the store %s is too long: there is room for "     \
                "%zu bytes. Take a folder with a shorter path."

/* Results. */

#define STORE_RESULT_OF_NOTHING                                                \
    HT_BAD_USE, "A result of revision %lld was given for case %lld, which is " \
                "at revision %lld."
#define STORE_RESULT_TOO_BIG                                                   \
    HT_TOO_BIG, "A result of %zu bytes was given, and up to %d are kept."
#define STORE_NO_RESULT                                                        \
    HT_NOT_THERE, "There is no such result of case %lld yet."

/* Backup. */

#define STORE_BACKUP_NOT_MADE                                                  \
    HT_CANNOT_WRITE, "The backup's folder %s cannot be made: %s. Name a "      \
                     "folder that is not there yet."
#define STORE_BACKUP_STOPPED                                                   \
    HT_CANNOT_WRITE, "The backup could not be written to %s: %s. Nothing of "  \
                     "it was left there."

/* Archives. */

#define STORE_EXPORT_TOO_BIG                                                   \
    HT_TOO_BIG, "The files of case %lld have more than %llu bytes, the most "  \
                "that goes into one archive. Copy the whole store instead."
#define STORE_EXPORT_STOPPED                                                   \
    HT_CANNOT_WRITE, "The archive %s could not be written: %s."
#define STORE_ARCHIVE_NOT_OPENED                                               \
    HT_CANNOT_READ, "The archive %s cannot be read: %s."
#define STORE_ARCHIVE_NO_END                                                   \
    HT_BAD_FILE, "The archive %s is no zip, was cut off, or has something "    \
                 "else before or behind it. Export the case again and copy "   \
                 "the whole file."
#define STORE_ARCHIVE_ENTRIES                                                  \
    HT_BAD_FILE, "The archive %s has %u entries. A case has 1 to %d: "         \
                 "case.json, and its files under files/."
#define STORE_ARCHIVE_DAMAGED                                                  \
    HT_BAD_FILE, "The archive %s is damaged: %s. Export the case again and "   \
                 "copy the whole file."
#define STORE_ARCHIVE_NAME                                                     \
    HT_BAD_FILE, "The archive %s holds \"%.160s\". A case has case.json, and " \
                 "files with plain names under files/, and nothing else."
#define STORE_ARCHIVE_TWICE                                                    \
    HT_BAD_FILE, "The archive %s holds two entries of one name. Pack it anew."
#define STORE_ARCHIVE_KIND                                                     \
    HT_BAD_FILE, "The archive %s holds \"%.160s\" as a link, a folder or a "   \
                 "device. A case has plain files only."
#define STORE_ARCHIVE_LOCKED                                                   \
    HT_BAD_FILE, "The archive %s holds \"%.160s\" encrypted. Pack it anew "    \
                 "without a password."
#define STORE_ARCHIVE_METHOD                                                   \
    HT_BAD_FILE, "The archive %s holds \"%.160s\" packed by a method that is " \
                 "not read. Pack it anew, stored or deflated."
#define STORE_ARCHIVE_RATIO                                                    \
    HT_BAD_FILE, "The archive %s holds \"%.160s\", which would grow from "     \
                 "%llu to %llu bytes. More than %d times is not unpacked."
#define STORE_ARCHIVE_TOO_BIG                                                  \
    HT_TOO_BIG, "The archive %s holds more than %llu bytes in all, the most "  \
                "that is unpacked."
#define STORE_ARCHIVE_NO_SHEET                                                 \
    HT_BAD_FILE, "The archive %s holds no case.json."
#define STORE_ARCHIVE_SHEET_BIG                                                \
    HT_TOO_BIG, "The case.json of the archive %s has %llu bytes. A sheet has " \
                "up to %d."

#endif
