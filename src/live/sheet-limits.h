// SPDX-License-Identifier: GPL-3.0-or-later
// Sand, daylight and pins of a session in the first line of a journal, and back. Private to live/.
#pragma once

#include "book/node.h"
#include "session/limits.h"

G_BEGIN_DECLS

Node *live_limits_node(const SessionLimits *limits); // NULL gives NULL
// What is absent or cannot be is no limit; NULL for none at all.
const SessionLimits *live_limits_read(const Node *node);

G_END_DECLS
