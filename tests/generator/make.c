/* make.c - writes made-up drives as files:
 *
 *     generate-drives FOLDER FAULT SEED [COUNT] [wav|table]
 *
 * FAULT is one of the names of drive_fault_name, for instance
 * shaft-unbalance; the folder must exist. */
#include "drive_maker.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int fault_named(const char *name)
{
    for (int i = 0; i < DRIVE_FAULTS; i++)
        if (strcmp(drive_fault_name((enum drive_fault)i), name) == 0)
            return i;
    return -1;
}

static bool write_one(const char *folder, int fault, uint64_t seed, bool table)
{
    struct drive_request request =
        drive_request_for(seed, (enum drive_fault)fault);
    struct drive *drive = drive_make(&request);
    if (!drive)
        return false;
    char stem[512], recording[560], log[560], sheet[560];
    snprintf(stem, sizeof stem, "%s/%s-%llu", folder,
             drive_fault_name((enum drive_fault)fault),
             (unsigned long long)seed);
    snprintf(recording, sizeof recording, "%s.%s", stem, table ? "csv" : "wav");
    snprintf(log, sizeof log, "%s-speed.csv", stem);
    snprintf(sheet, sizeof sheet, "%s.yaml", stem);
    bool fine = (table ? drive_write_table(drive, recording)
                       : drive_write_wav(drive, recording)) &&
                drive_write_log(drive, log) &&
                drive_write_sheet(drive, sheet, recording, log);
    if (fine)
        printf("%s\n", sheet);
    drive_free(drive);
    return fine;
}

int main(int count, char **words)
{
    int fault = count >= 4 ? fault_named(words[2]) : -1;
    if (fault < 0) {
        fprintf(stderr, "usage: %s FOLDER FAULT SEED [COUNT] [wav|table]\n",
                words[0]);
        return 64;
    }
    uint64_t seed = strtoull(words[3], NULL, 10);
    uint64_t drives = count >= 5 ? strtoull(words[4], NULL, 10) : 1;
    bool table = count >= 6 && strcmp(words[5], "table") == 0;
    for (uint64_t i = 0; i < drives; i++) {
        if (!write_one(words[1], fault, seed + i, table)) {
            fprintf(stderr, "%s: cannot write there\n", words[1]);
            return 74;
        }
    }
    return 0;
}
