#include "temper.h"

#include "figure.h"
#include "texts.h"

#include "common/memory.h"

#include <math.h>
#include <png.h>
#include <string.h>

enum { NOT_DRIVEN = MAP_CLASSES, COLOURS = MAP_CLASSES + 1 };

/* Lightness falls (light) or rises (dark) without a turn. */
static const unsigned light_rgb[MAP_CLASSES] = {
    0xF1F3F3, 0xF5E6B3, 0xEAC665, 0xD0923C, 0xAF6833,
    0x8C435A, 0x5F3478, 0x292D72, 0x0D1842,
};
static const unsigned dark_rgb[MAP_CLASSES] = {
    0x151D25, 0x1C2A58, 0x453180, 0x773F78, 0xA5505A,
    0xC47441, 0xE0A24B, 0xF2D07C, 0xFFF4D2,
};

unsigned map_class(double level, double first_edge)
{
    unsigned found = 0;
    for (double edge = first_edge; found + 1 < MAP_CLASSES && level >= edge;
         edge *= 2)
        found++;
    return found;
}

static unsigned char cell_class(const struct ht_order_map *map, size_t row,
                                size_t from, size_t to, double first_edge)
{
    double level = -1;
    for (size_t x = from; x < to; x++) {
        double cell = (double)map->level[row * map->across + x];
        if (cell > level)
            level = cell;
    }
    return level < 0 ? NOT_DRIVEN
                     : (unsigned char)map_class(level, first_edge);
}

static void fill_pixels(unsigned char *pixel, const struct ht_order_map *map,
                        double first_edge, size_t columns)
{
    for (size_t y = 0; y < map->up; y++)
        for (size_t x = 0; x < columns; x++)
            *pixel++ = cell_class(map, map->up - 1 - y,
                                  x * map->across / columns,
                                  (x + 1) * map->across / columns, first_edge);
}

static void fill_palette(png_byte palette[COLOURS][4], bool dark)
{
    const unsigned *rgb = dark ? dark_rgb : light_rgb;
    memset(palette, 0, COLOURS * 4);
    for (size_t i = 0; i < MAP_CLASSES; i++) {
        palette[i][0] = (png_byte)(rgb[i] >> 16);
        palette[i][1] = (png_byte)(rgb[i] >> 8 & 255);
        palette[i][2] = (png_byte)(rgb[i] & 255);
        palette[i][3] = 255;
    }
}

/* RFC 4648, section 4. */
static void put_base64(struct ht_text *out, const unsigned char *bytes,
                       size_t count)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnop"
                                 "qrstuvwxyz0123456789+/";
    for (size_t i = 0; i < count; i += 3) {
        size_t here = count - i < 3 ? count - i : 3;
        unsigned word = 0;
        char four[4];
        for (size_t j = 0; j < 3; j++)
            word = word << 8 | (j < here ? bytes[i + j] : 0U);
        for (size_t j = 0; j < 4; j++)
            four[j] = j <= here ? digits[word >> (18 - 6 * j) & 63] : '=';
        ht_text_add_bytes(out, four, 4);
    }
}

static enum ht_status encode(struct ht_text *out, png_image *image,
                             const unsigned char *pixels,
                             png_byte palette[COLOURS][4],
                             struct ht_error *err)
{
    enum ht_status status = HT_OK;
    png_alloc_size_t size = 0;
    if (!png_image_write_to_memory(image, NULL, &size, 0, pixels, 0, palette))
        return ht_fail(err, REPORT_MAP_NOT_ENCODED, image->message);
    unsigned char *bytes = ht_allocate(size, 1);
    if (!bytes)
        return ht_fail(err, REPORT_NO_MEMORY_MAP);
    if (png_image_write_to_memory(image, bytes, &size, 0, pixels, 0, palette)) {
        ht_text_add(out, "data:image/png;base64,");
        put_base64(out, bytes, size);
    } else {
        status = ht_fail(err, REPORT_MAP_NOT_ENCODED, image->message);
    }
    ht_release(bytes);
    return status;
}

enum ht_status temper_png(struct ht_text *out, const struct ht_order_map *map,
                          double first_edge, size_t columns, bool dark,
                          struct ht_error *err)
{
    if (columns > map->across)
        columns = map->across;
    png_image image = { .version = PNG_IMAGE_VERSION,
                        .width = (png_uint_32)columns,
                        .height = (png_uint_32)map->up,
                        .format = PNG_FORMAT_RGBA_COLORMAP,
                        .colormap_entries = COLOURS };
    png_byte palette[COLOURS][4];
    unsigned char *pixels = ht_allocate(columns * map->up, 1);
    if (!pixels)
        return ht_fail(err, REPORT_NO_MEMORY_MAP);
    fill_pixels(pixels, map, first_edge, columns);
    fill_palette(palette, dark);
    enum ht_status status = encode(out, &image, pixels, palette, err);
    ht_release(pixels);
    return status;
}
