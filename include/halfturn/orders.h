/* orders.h - which named orders a drive holds, how strong, at which speed.
 *
 * Joint least squares on the decimated signal; every level is a peak
 * amplitude in the channel's unit with 95 % limits. Methods, sources,
 * accuracy: docs/orders.md.
 */
#ifndef HALFTURN_ORDERS_H
#define HALFTURN_ORDERS_H

#include "halfturn/recording.h"
#include "halfturn/rotation.h"
#include "halfturn/speed.h"
#include "halfturn/status.h"

enum ht_order_state { /* JSON: seen not_seen could_not_be_seen */
    HT_COULD_NOT_BE_SEEN, HT_NOT_SEEN, HT_SEEN
};

struct ht_level {
    double value, low, high;
};

struct ht_order_bin {
    double from_m_s, to_m_s;
    double turns;               /* wheel turns driven in it */
    enum ht_order_state state;
    struct ht_level level;
    double least_seen;          /* smallest level that would have been seen */
};

enum { HT_BINS_MAX = 64 };

struct ht_order_result {
    struct ht_order order;
    double wheel_order;         /* cycles per wheel turn */
    int channel;                /* index; -1: "all", sum over axes, first */
    enum ht_order_state state;
    char reason[200];           /* why it could not be seen */
    double at_m_s;              /* strongest bin's middle */
    struct ht_level level;      /* strongest bin's */
    double least_seen;          /* when not seen: what would have been */
    double exponent, exponent_u;/* level ~ speed^exponent; NAN unknown */
    double pull_db, pull_u_db;  /* pull over overrun; NAN unknown */
    size_t bins;
    struct ht_order_bin bin[HT_BINS_MAX];
};

/* Level over order (across) and speed (up), channel "all": what stands above
 * the road noise. Per row the running median across orders is taken off in
 * power, and what noise alone reaches is 0. `whole` has the noise in it. */
struct ht_order_map {
    size_t across, up;
    double order_from, order_to;   /* wheel orders of the outer cell edges */
    double from_m_s, to_m_s;
    float *level;                  /* up * across; NAN: not driven */
    float *whole;                  /* likewise; NULL: not kept */
};

struct ht_cannot_separate {
    char a[48], b[48];
    char way_out[200];          /* the drive that parts them; "" if none */
    bool never;                 /* same frequency in this gear */
};

struct ht_orders {
    size_t results;
    struct ht_order_result *result;
    size_t cannot_separate_count;
    struct ht_cannot_separate cannot_separate[32];
    struct ht_order_map map;
    char unit[16];              /* "m/s2" or "full scale" */
    enum ht_place place;        /* of the accelerometer; UNKNOWN: sound too */
    bool calibrated;            /* levels may be held against figures */
    size_t notes;
    char note[16][240];
    void *memory;
};

/* `turns` must not be refused. healthy_m_s2: the level a healthy vehicle may
 * show at this place; "not seen" is claimed only when that would have been
 * seen; NAN: no band, then not seen is claimed against 3 times the floor. */
enum ht_status ht_orders_find(struct ht_orders *orders,
                              const struct ht_recording *recording,
                              const struct ht_rotation *rotation,
                              const struct ht_turns *turns,
                              double healthy_m_s2, const struct ht_ask *ask,
                              struct ht_error *err);
void ht_orders_free(struct ht_orders *orders);

/* The result for an order of a part on channel "all"; NULL if not asked. */
const struct ht_order_result *ht_orders_get(const struct ht_orders *orders,
                                            const char *part,
                                            double multiple);

#endif
