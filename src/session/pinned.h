// SPDX-License-Identifier: GPL-3.0-or-later
// Work put to a time by hand, as the floor takes it.
#pragma once

#include "session/floor.h"
#include "units/quantity.h"

G_BEGIN_DECLS

// An array of SessionPin of the text of job.pins (NULL or "": empty). Keys that name no piece of
// work of any session are left out. NULL with an error when it cannot be read.
GArray *session_pins_read(const char *text, const UnitSet *units, GError **error);

// How many of the pins name no task among these.
guint session_pins_count_idle(const SessionPin *pins, guint n_pins, const SessionTask *tasks,
                              guint n_tasks);

G_END_DECLS
