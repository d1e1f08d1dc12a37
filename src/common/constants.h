/* constants.h - exact factors between the edges' units and SI.
 * Inch, pound-force, mile: international yard and pound, 1959 (exact). */
#ifndef HALFTURN_COMMON_CONSTANTS_H
#define HALFTURN_COMMON_CONSTANTS_H

#define HT_PI 3.14159265358979323846
#define HT_RAD_PER_DEG (HT_PI / 180)
#define HT_DEG_PER_RAD (180 / HT_PI)
#define HT_M_S_PER_KM_H (1 / 3.6)
#define HT_KM_H_PER_M_S 3.6
#define HT_M_PER_INCH 0.0254
#define HT_M_PER_MILE 1609.344
#define HT_M_S_PER_MPH 0.44704
#define HT_N_M_PER_LB_FT (4.4482216152605 * 0.3048)
#define HT_M_S2_PER_G 9.80665 /* CGPM 1901 */

#endif
