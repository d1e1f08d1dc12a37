/* rules.h - which figures of a limit set apply to a driveline. */
#ifndef HALFTURN_ANGLES_RULES_H
#define HALFTURN_ANGLES_RULES_H

#include "model.h"

/* Of the maker's own figures and, where those are silent, of the named set;
 * either may be NULL. Without a shaft speed the shakes are left out. */
void ht_rules_collect(struct ht_rules *rules, const struct ht_model *model,
                      const struct ht_limit_set *named,
                      const struct ht_limit_set *own, double shaft_rad_s);

bool ht_rule_is_shake(enum ht_rule_about about);

/* A value of ht_rules_values in the unit of the rule's limit. */
double ht_rule_in_limit_unit(const struct ht_rule *rule, double value,
                             double shaft_rad_s);

#endif
