/* wide.h - loops compiled twice: as everywhere, and for wider vectors.
 *
 * The processor's own is picked when the program starts. Sums in such loops
 * keep their partial sums in a fixed order and products are never fused into
 * them (-ffp-contract=off), so both give the same bytes.
 */
#ifndef HALFTURN_SIGNAL_WIDE_H
#define HALFTURN_SIGNAL_WIDE_H

#include <features.h> /* __GLIBC__ */

#if defined(__x86_64__) && defined(__GLIBC__) && !defined(__clang__) && \
    !defined(HALFTURN_NARROW)
#define HT_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define HT_WIDE
#endif

/* A part of such a loop: must become part of both. */
#if defined(__GNUC__)
#define HT_WIDE_PART static inline __attribute__((always_inline))
#else
#define HT_WIDE_PART static inline
#endif

#endif
