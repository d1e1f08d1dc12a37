/* yaml_value.h - one value on one line of YAML, as a person would write it. */
#ifndef HALFTURN_DOCUMENT_YAML_VALUE_H
#define HALFTURN_DOCUMENT_YAML_VALUE_H

#include "quantity.h"

#include "halfturn/text.h"

#include <jansson.h>

/* The number with the fewest digits that is read back as the same SI value. */
void ht_yaml_number(struct ht_text *out, double value,
                    const struct unit *unit);

/* Bare where YAML takes it for a text alone, else in quotes. */
void ht_yaml_text(struct ht_text *out, const char *text);

/* The unit of a row's numbers; `same` is that of the mapping it stands in. */
const struct unit *ht_yaml_unit(const struct ht_row *row,
                                const struct unit *same);

/* The value of a row: a scalar, [a, b] or {key: value}. A list that would
 * pass column 80 goes on in the next line, `indent` columns in. */
void ht_yaml_flow(struct ht_text *out, const struct ht_row *row,
                  const json_t *value, const struct unit *unit,
                  size_t column, size_t indent);

#endif
