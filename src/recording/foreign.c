#include "foreign.h"

#include "texts.h"

#include "common/shell.h"

#include <string.h>

/* Marks as their formats define them: ISO/IEC 14496-12 (a `ftyp` box; older
 * QuickTime files begin with another), RFC 8794 (EBML), RFC 4867 section 5,
 * ISO/IEC 14496-3 (ADIF); the header object of ASF is from memory. */
static const struct kind {
    size_t at;
    const char *bytes;
    size_t length;
    const char *name;
} kinds[] = {
    { 4, "ftyp", 4, "MPEG-4 (m4a, mp4, 3gp)" },
    { 4, "moov", 4, "QuickTime (mov)" },
    { 4, "mdat", 4, "QuickTime (mov)" },
    { 4, "wide", 4, "QuickTime (mov)" },
    { 0, "\x1a\x45\xdf\xa3", 4, "Matroska (webm, mkv)" },
    { 0, "#!AMR", 5, "AMR voice" },
    { 0, "\x30\x26\xb2\x75\x8e\x66\xcf\x11", 8, "Windows Media (wma)" },
    { 0, "ADIF", 4, "AAC" },
};

/* Four bytes of size stand before the name of a box; in a table, text. */
static bool may_be_box(const unsigned char *head)
{
    return head[0] < 0x20 && head[0] != '\t' && head[0] != '\n' &&
           head[0] != '\r';
}

static const char *kind_of(const unsigned char *head, size_t length)
{
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
        if (length >= kinds[k].at + kinds[k].length &&
            (kinds[k].at == 0 || may_be_box(head)) &&
            memcmp(head + kinds[k].at, kinds[k].bytes, kinds[k].length) == 0)
            return kinds[k].name;
    /* an ADTS frame: twelve set bits, layer 0 (ISO/IEC 13818-7, 6.2) */
    if (length >= 7 && head[0] == 0xff && (head[1] & 0xf6) == 0xf0)
        return "AAC";
    return NULL;
}

/* Without its ending; a name that ends in .wav gets a new one, so that the
 * old file is not written over. */
static void add_new_name(struct ht_text *name, const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *base = slash ? slash + 1 : path;
    const char *dot = strrchr(base, '.');
    size_t length = dot && dot > base ? (size_t)(dot - path) : strlen(path);
    bool same = strcmp(path + length, ".wav") == 0;
    ht_text_add_bytes(name, path, length);
    ht_text_add(name, same ? "-converted.wav" : ".wav");
}

/* "12:30.m4a" would be taken for an address of the kind "12". */
static void add_word(struct ht_text *line, const char *path)
{
    struct ht_text word = { 0 };
    ht_text_add(&word, strchr(path, ':') ? "file:" : "");
    ht_text_add(&word, path);
    ht_text_shell_word(line, ht_text_get(&word));
    ht_text_end(line, &word);
}

void ht_foreign_line(struct ht_text *line, const char *path)
{
    struct ht_text name = { 0 };
    add_new_name(&name, path);
    ht_text_add(line, "ffmpeg -n -i "); /* -n: writes over nothing */
    add_word(line, path);
    ht_text_add(line, " ");
    add_word(line, ht_text_get(&name));
    ht_text_end(line, &name);
}

enum ht_status ht_foreign_refuse(const char *path, const unsigned char *head,
                                 size_t length, struct ht_error *err)
{
    enum { SENTENCE = 140 }; /* bytes around the two texts of a path */
    const char *kind = kind_of(head, length);
    struct ht_text line = { 0 };
    if (!kind)
        return HT_OK;
    ht_foreign_line(&line, path);
    bool fits = ht_text_ok(&line) &&
                strlen(path) + line.length + SENTENCE < sizeof err->text;
    enum ht_status status =
        fits ? ht_fail(err, RECORDING_KIND_NOT_READ, path, kind,
                       ht_text_get(&line))
             : ht_fail(err, RECORDING_KIND_NOT_READ_LONG, path, kind);
    ht_text_free(&line);
    return status;
}
