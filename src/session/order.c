// SPDX-License-Identifier: GPL-3.0-or-later
// Orders of loads, each by a simple rule.
#include "session/order.h"

#include <math.h>

static gboolean
goes_before(const SessionFloor *floor, const SessionLoad *a, const SessionLoad *b,
            SessionOrder order)
{
    double x = session_load_kg(floor, a), y = session_load_kg(floor, b);
    return order == SESSION_ORDER_HEAVY_FIRST ? x > y : x < y;
}

// Shares of what there is of each kind of box and of each metal.
typedef struct {
    double box[SESSION_MOST_BOX_KINDS], metal[SESSION_MOST_METALS];
} Shares;

static void
add_shares(const SessionFloor *floor, const SessionLoad *load, Shares *shares)
{
    for (int k = 0; k < floor->n_kinds; k++) {
        shares->box[floor->kinds[k].box] += load->count[k];
        shares->metal[load->metal] += load->count[k] * floor->kinds[k].kg;
    }
}

// How uneven it is to have come to `so_far` and take the load next.
static double
rate_load(const SessionFloor *floor, const SessionLoad *load, const Shares *so_far,
          const Shares *all, double at)
{
    Shares then = *so_far;
    double uneven = 0.0;
    add_shares(floor, load, &then);
    for (int i = 0; i < floor->n_boxes; i++)
        if (all->box[i] > 0.0)
            uneven += (then.box[i] / all->box[i] - at) * (then.box[i] / all->box[i] - at);
    for (int i = 0; i < floor->n_metals; i++)
        if (all->metal[i] > 0.0)
            uneven += (then.metal[i] / all->metal[i] - at) * (then.metal[i] / all->metal[i] - at);
    return uneven;
}

static void
spread_loads(const SessionFloor *floor, GArray *loads)
{
    Shares so_far = {{0}, {0}}, all = {{0}, {0}};
    for (guint i = 0; i < loads->len; i++)
        add_shares(floor, &g_array_index(loads, SessionLoad, i), &all);
    for (guint i = 0; i + 1 < loads->len; i++) {
        guint best = i;
        double least = INFINITY;
        for (guint j = i; j < loads->len; j++) {
            double uneven = rate_load(floor, &g_array_index(loads, SessionLoad, j), &so_far, &all,
                                      (i + 1.0) / loads->len);
            if (uneven >= least - 1e-12)
                continue;
            best = j;
            least = uneven;
        }
        SessionLoad load = g_array_index(loads, SessionLoad, best);
        g_array_index(loads, SessionLoad, best) = g_array_index(loads, SessionLoad, i);
        g_array_index(loads, SessionLoad, i) = load;
        add_shares(floor, &load, &so_far);
    }
}

// By insertion, so that loads alike keep their order.
GArray *
session_order_loads(const SessionFloor *floor, const GArray *packed, SessionOrder order)
{
    g_return_val_if_fail(floor && packed, NULL);
    GArray *loads = g_array_sized_new(FALSE, FALSE, sizeof(SessionLoad), packed->len);
    for (guint i = 0; i < packed->len; i++) {
        guint from = order == SESSION_ORDER_REVERSED ? packed->len - 1 - i : i, at = loads->len;
        const SessionLoad *load = &g_array_index(packed, SessionLoad, from);
        while (order >= SESSION_ORDER_HEAVY_FIRST && at > 0 &&
               goes_before(floor, load, &g_array_index(loads, SessionLoad, at - 1), order))
            at--;
        g_array_insert_val(loads, at, *load);
    }
    if (order == SESSION_ORDER_SPREAD)
        spread_loads(floor, loads);
    return loads;
}
