// SPDX-License-Identifier: GPL-3.0-or-later
// In which order loads are poured: rules worth trying. Private to session/.
#pragma once

#include "session/floor.h"

G_BEGIN_DECLS

typedef enum {
    SESSION_ORDER_AS_PACKED, // full loads first
    SESSION_ORDER_REVERSED,
    SESSION_ORDER_SPREAD, // so that all kinds of box and all metals come along evenly
    SESSION_ORDER_HEAVY_FIRST,
    SESSION_ORDER_LIGHT_FIRST,
    SESSION_ORDER_COUNT
} SessionOrder;

// The loads (of SessionLoad) in that order; those alike keep theirs.
GArray *session_order_loads(const SessionFloor *floor, const GArray *packed, SessionOrder order);

G_END_DECLS
