// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces of work put to a time by hand, as text of one line: "KEY TIME; KEY TIME", TIME a time from
// the start of the session: "pour-3 4 h 10 min; close 7 h 30 min". Such a task does not start
// before its time; it may start later.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

#define PINS_MOST 200

typedef struct {
    char *key; // of a task of the session
    double at; // s
} Pin;

// An array of Pin, which frees what they hold; empty for a text without any. The last of several
// for one key counts. NULL with a message that says which one is wrong.
GArray *pins_read(const char *text, const UnitSet *units, GError **error);

G_END_DECLS
