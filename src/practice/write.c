/* write.c - practice drives as the tables a phone or logger writes. */
#include "halfturn/practice.h"

#include "common/constants.h"

void ht_practice_write_table(struct ht_text *text,
                             const struct ht_practice *practice)
{
    ht_text_add(text, "time_s,x_m_s2,y_m_s2,z_m_s2\n");
    for (size_t i = 0; i < practice->frames; i++) {
        ht_text_number(text, (double)i / practice->rate_hz, 4);
        for (int a = 0; a < HT_PRACTICE_AXES; a++) {
            ht_text_add(text, ",");
            ht_text_number(text, (double)practice->samples[a][i], 3);
        }
        ht_text_add(text, "\n");
    }
}

void ht_practice_write_log(struct ht_text *text,
                           const struct ht_practice *practice)
{
    ht_text_add(text, "time_s,speed_kmh\n");
    for (size_t i = 0; i < practice->log_rows; i++) {
        ht_text_number(text, practice->log_time_s[i], 1);
        ht_text_add(text, ",");
        ht_text_number(text, practice->log_speed_m_s[i] * HT_KM_H_PER_M_S, 1);
        ht_text_add(text, "\n");
    }
}
