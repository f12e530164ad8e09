// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities placed by hand, as text of one line: "x, y, turn" each, a semicolon between, "locked"
// after one that is to stay: "-82 mm, 40 mm, 90 deg; 82 mm, 40 mm, 90 deg locked". A comma that
// parts two numbers has a space after it, since "82,5 mm" is one number. "rest auto" as one of them
// asks for all that are not locked to be placed anew by the program, as many as fit. "guest"
// (before "locked") makes it a casting of the other job that shares the flask.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

typedef struct {
    double x, y, turn; // m from the middle of the flask; rad
    gboolean locked;
    gboolean guest; // of the other job that shares the flask
} PlacementSpot;

#define PLACEMENT_MOST 200 // cavities

// An array of PlacementSpot, guests last; one that is empty for a text without any. NULL with a
// message that says which cavity is wrong.
GArray *placement_read(const char *text, const UnitSet *units, GError **error);

// Does the text ask for the rest to be placed by the program?
gboolean placement_rest(const char *text);

// The locked one of an array of PlacementSpot that stands at (x, y), to a thousandth of a
// millimetre; NULL: none.
const PlacementSpot *placement_locked_at(const GArray *spots, double x, double y);

// The text that reads back to the same to a thousandth of a millimetre and of a degree. Free.
char *placement_write(const PlacementSpot *spots, guint n, const UnitSet *units);
// The same, asking for the rest to be placed by the program. Free.
char *placement_write_rest(const PlacementSpot *spots, guint n, const UnitSet *units);

G_END_DECLS
