#include "given.h"

#include "close.h"
#include "drive_maker.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct given given;

static const char other_sheet[] =
    "halfturn: 1\n"
    "title: Hums\n"
    "setting: complaint\n"
    "vehicle: {class: van, tyre: 235/65R16, axle_teeth: [41, 11],\n"
    "          gear_ratios: [4.9, 2.6, 1.0], top_speed_km_h: 120,\n"
    "          accessories: {alternator: 2.3}}\n"
    "driveline: {members: [gearbox, shaft, pinion],\n"
    "            joints: [cardan, cardan]}\n"
    "complaint: {speed_km_h: [85, 100], felt: [seat, floor]}\n"
    "checks: {seen: [dents], runout_mm: {shaft_front: 0.4}}\n";

static bool name_files(void)
{
    static const char name[] = "/tmp/halfturn-memory-XXXXXX";
    memcpy(given.folder, name, sizeof name);
    if (!mkdtemp(given.folder))
        return false;
    const struct {
        char *path;
        const char *name;
    } file[] = { { given.sheet_path, "case.yaml" },
                 { given.wav_path, "drive.wav" },
                 { given.log_path, "speed.csv" },
                 { given.table_path, "drive.csv" },
                 { given.other_path, "other.yaml" } };
    for (size_t i = 0; i < sizeof file / sizeof file[0]; i++)
        (void)snprintf(file[i].path, sizeof given.wav_path, "%s/%s",
                       given.folder, file[i].name);
    return true;
}

/* Short and slow: the way is the same, the time is not. */
static bool write_drive(void)
{
    struct drive_request request = drive_request_for(5, DRIVE_ANGLE_MISMATCH);
    request.duration_s = 40;
    request.rate_hz = 100;
    request.log_rate_hz = 1;
    struct drive *drive = drive_make(&request);
    bool made = drive && drive_write_wav(drive, given.wav_path) &&
                drive_write_log(drive, given.log_path) &&
                drive_write_table(drive, given.table_path) &&
                drive_write_sheet(drive, given.sheet_path, given.wav_path,
                                  given.log_path);
    drive_free(drive);
    return made;
}

static bool write_other(void)
{
    FILE *file = fopen(given.other_path, "wb");
    bool written = file && fputs(other_sheet, file) >= 0;
    return file && fclose(file) == 0 && written;
}

static void make_request(void)
{
    given.practice = (struct ht_practice_request){
        .seed = 1, .rate_hz = 50, .circumference_m = 2, .start_m_s = 10,
        .reference_m_s = 25, .legs = 1, .leg = { { 20, 5, 5 } },
        .road_noise_m_s2 = 0.05, .sensor_noise_m_s2 = 0.01,
        .log_step_s = 1
    };
}

static enum ht_status work_up(struct ht_error *err)
{
    enum ht_status status =
        ht_sheet_read(&given.sheet, given.sheet_path, NULL, err);
    given.options = (struct ht_workup_options){ .folder = given.folder,
                                                .drive = true,
                                                .causes = true };
    if (status == HT_OK)
        status = ht_workup_run(&given.workup, &given.sheet, &given.options,
                               err);
    if (status == HT_OK)
        status = ht_driveline_from_sheet(&given.driveline, &given.sheet, 0, 0,
                                         err);
    if (status == HT_OK)
        status = ht_speed_log_read(&given.log, given.log_path, NULL, err);
    return status;
}

int given_make(void **state)
{
    struct ht_error err = { 0 };
    (void)state;
    if (!name_files() || !write_drive() || !write_other())
        return -1;
    given.sheet_text = strdup(other_sheet);
    given.sheet_length = sizeof other_sheet - 1;
    make_request();
    if (given.sheet_text && work_up(&err) == HT_OK)
        return 0;
    print_error("%s\n", err.text);
    return -1;
}

int given_remove(void **state)
{
    (void)state;
    ht_speed_log_free(&given.log);
    ht_workup_free(&given.workup);
    ht_sheet_free(&given.sheet);
    free(given.sheet_text);
    const char *path[] = { given.sheet_path, given.wav_path, given.log_path,
                           given.table_path, given.other_path };
    for (size_t i = 0; i < sizeof path / sizeof path[0]; i++)
        (void)unlink(path[i]);
    return rmdir(given.folder);
}
