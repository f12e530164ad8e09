// SPDX-License-Identifier: GPL-3.0-or-later
// Tasks a person put at a time by hand, as the text the book keeps: "KEY TIME; KEY TIME", each time
// from the start of the session, before which the task does not begin.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

// `old` (may be NULL) with `key` put at `seconds` (0 or more), or without it when `seconds` is NAN.
// Other pins stay as they were typed, also those that cannot be read. "" when none is left. Free.
char *timeline_pin_text(const char *old, const char *key, double seconds, const UnitSet *units);

// The time (s) a key is put at in `text` (may be NULL). FALSE, and *seconds untouched, if it is not
// there or its time cannot be read.
gboolean timeline_pin_find(const char *text, const char *key, const UnitSet *units,
                           double *seconds);

// How many pins the text holds.
guint timeline_pin_count(const char *text);

G_END_DECLS
