/* drive_files.c - a made-up drive as the files a technician would have. */
#include "drive_parts.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void put(FILE *file, uint32_t value, int bytes)
{
    for (int i = 0; i < bytes; i++)
        fputc((int)(value >> (8 * i) & 255), file);
}

/* RIFF WAVE, 16 bit, three channels; full scale is full_scale_m_s2. */
bool drive_write_wav(const struct drive *drive, const char *path)
{
    FILE *file = fopen(path, "wb");
    if (!file)
        return false;
    uint32_t bytes = (uint32_t)(drive->frames * DRIVE_AXES * 2);
    uint32_t rate = (uint32_t)round(drive->rate_hz);
    fputs("RIFF", file);
    put(file, 36 + bytes, 4);
    fputs("WAVEfmt ", file);
    put(file, 16, 4);
    put(file, 1, 2);
    put(file, DRIVE_AXES, 2);
    put(file, rate, 4);
    put(file, rate * DRIVE_AXES * 2, 4);
    put(file, DRIVE_AXES * 2, 2);
    put(file, 16, 2);
    fputs("data", file);
    put(file, bytes, 4);
    double step = drive->request.full_scale_m_s2 / 32768;
    for (size_t i = 0; i < drive->frames; i++)
        for (int a = 0; a < DRIVE_AXES; a++) {
            double counts = round((double)drive->samples[a][i] / step);
            counts = fmax(-32768, fmin(32767, counts));
            put(file, (uint32_t)(int32_t)counts & 0xffff, 2);
        }
    bool fine = !ferror(file);
    return fclose(file) == 0 && fine;
}

bool drive_write_table(const struct drive *drive, const char *path)
{
    FILE *file = fopen(path, "w");
    if (!file)
        return false;
    fputs("time_s,x_m_s2,y_m_s2,z_m_s2\n", file);
    for (size_t i = 0; i < drive->frames; i++)
        fprintf(file, "%.4f,%.4f,%.4f,%.4f\n", (double)i / drive->rate_hz,
                (double)drive->samples[0][i], (double)drive->samples[1][i],
                (double)drive->samples[2][i]);
    bool fine = !ferror(file);
    return fclose(file) == 0 && fine;
}

bool drive_write_log(const struct drive *drive, const char *path)
{
    FILE *file = fopen(path, "w");
    if (!file)
        return false;
    fputs("time_s,speed_kmh\n", file);
    for (size_t i = 0; i < drive->log_rows; i++)
        fprintf(file, "%.3f,%.2f\n", drive->log_time_s[i],
                drive->log_speed_m_s[i] * 3.6);
    bool fine = !ferror(file);
    return fclose(file) == 0 && fine;
}

static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void write_vehicle(FILE *file, const struct drive *drive)
{
    const struct drive_vehicle *vehicle = &drive->vehicle;
    bool independent = drive->request.fault == DRIVE_HALF_SHAFT_JOINT;
    fprintf(file,
            "vehicle:\n  class: car\n  tyre: %s\n  drive: rear\n"
            "  gearbox: %s\n  axle_teeth: [%d, %d]\n  gear_ratios: [",
            vehicle->tyre, drive->request.shifts ? "automatic" : "manual",
            vehicle->ring, vehicle->pinion);
    for (size_t i = 0; i < vehicle->gears; i++)
        fprintf(file, "%s%.3f", i ? ", " : "", vehicle->gear_ratio[i]);
    fprintf(file,
            "]\n  engine: {cylinders: %d, strokes: 4}\n"
            "  top_speed_km_h: 150\n  axle: {kind: %s}\n",
            vehicle->cylinders, independent ? "independent" : "rigid");
}

static void write_driveline(FILE *file, const struct drive_vehicle *vehicle)
{
    fprintf(file,
            "driveline:\n  members: [gearbox, shaft, pinion]\n"
            "  joints: [cardan, cardan]\n  yokes_deg: [0]\n"
            "angles:\n  suspension: wheels_on_ground\n"
            "  gauge: {accuracy_deg: 0.1, step_deg: 0.05, set_up_deg: 0.15}\n"
            "  read_on: cap\n  slopes_deg: [%.2f, %.2f, %.2f]\n"
            "  headings_deg: [0, 0, 0]\n",
            vehicle->slope_deg[0], vehicle->slope_deg[1],
            vehicle->slope_deg[2]);
}

bool drive_write_sheet(const struct drive *drive, const char *path,
                       const char *recording, const char *speed)
{
    FILE *file = fopen(path, "w");
    if (!file)
        return false;
    fprintf(file,
            "halfturn: 1\ntitle: made-up drive, seed %llu\n"
            "setting: complaint\n"
            "safety: {clips_refitted: yes, walk_round: done}\n",
            (unsigned long long)drive->request.seed);
    write_vehicle(file, drive);
    write_driveline(file, &drive->vehicle);
    fprintf(file,
            "complaint: {speed_km_h: [80, 110]}\n"
            "drive:\n  recording: %s\n  unit: m/s2\n",
            last_part(recording));
    if (strstr(recording, ".wav"))
        fprintf(file,
                "  channels:\n"
                "    - {name: x, unit: m/s2, scale: %.6f, axis: forward}\n"
                "    - {name: y, unit: m/s2, scale: %.6f, axis: left}\n"
                "    - {name: z, unit: m/s2, scale: %.6f, axis: up}\n",
                drive->request.full_scale_m_s2, drive->request.full_scale_m_s2,
                drive->request.full_scale_m_s2);
    fprintf(file, "  sensor: {place: seat_rail}\n  speed: %s\n",
            last_part(speed));
    if (!drive->request.shifts)
        fprintf(file, "  gear: %u\n", drive->vehicle.gear);
    fputs("limits: car\n", file);
    bool fine = !ferror(file);
    return fclose(file) == 0 && fine;
}
