// SPDX-License-Identifier: GPL-3.0-or-later
// Castings of two jobs in rows along one straight runner, as close as their true outlines let them
// stand and turned as the jobs allow, round those that stay where a person locked them.
#pragma once

#include "mould/rest.h"

G_BEGIN_DECLS

// What ends both jobs in fewer flasks than `rest` (which may be NULL), or holds more castings in as
// many, with all gates and with the sand from locked ones to the gating; NULL when nothing found
// does, or when stopped. `task` shares its flask (fixed->guest).
MouldRest *mould_mixed_place(const MouldRestTask *task, const MouldRest *rest,
                             const Progress *progress);

G_END_DECLS
