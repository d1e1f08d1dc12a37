/* A program outside the project that has functions of its own under names that
 * the report uses within, and gets both right. */
#include <halfturn/report.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static int called;

void clean_text(struct ht_text *out, const char *text);
void clean_text(struct ht_text *out, const char *text)
{
    (void)out;
    called += *text != '\0';
}

const char *cleaned(struct ht_text *room, const char *text);
const char *cleaned(struct ht_text *room, const char *text)
{
    clean_text(room, text);
    return "not the report's";
}

int main(void)
{
    struct ht_sheet sheet;
    struct ht_rotation rotation;
    struct ht_text text = { 0 };
    struct ht_error err;
    static const char keys[] = "halfturn: 1\nvehicle: {tyre_turns_per_km: 500}";
    struct ht_parts_request request = { .rotation = &rotation, .hz = NAN,
                                        .from_m_s = NAN, .speed_m_s = 25 };
    if (ht_sheet_read_text(&sheet, "keys", keys, strlen(keys), NULL, &err) !=
            HT_OK ||
        ht_rotation_from_vehicle(&rotation, &sheet.vehicle, 0, &err) != HT_OK ||
        ht_report_parts_text(&text, &request, &err) != HT_OK)
        return fprintf(stderr, "%s\n", err.text), 1;
    if (called || !strstr(ht_text_get(&text), "1\xc3\x97 wheel"))
        return fprintf(stderr, "%s", ht_text_get(&text)), 1;
    printf("%.2f m a turn\n", rotation.circumference_m);
    ht_text_free(&text);
    ht_sheet_free(&sheet);
    return 0;
}
