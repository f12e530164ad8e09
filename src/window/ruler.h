// SPDX-License-Identifier: GPL-3.0-or-later
// Measuring in a drawing of the flask: press, drag, and the distance stands there, in full and
// along both axes. Ends snap to the points of outlines.
#pragma once

#include "units/quantity.h"
#include "window/sketch-view.h"

G_BEGIN_DECLS

#define FW_TYPE_RULER (fw_ruler_get_type())
G_DECLARE_FINAL_TYPE(FwRuler, fw_ruler, FW, RULER, GObject)

// Signals: "said" (const char *words), what was measured.
FwRuler *fw_ruler_new(FwSketchView *sketch);

void fw_ruler_set_units(FwRuler *ruler, const UnitSet *units);
gboolean fw_ruler_is_active(FwRuler *ruler);
void fw_ruler_set_active(FwRuler *ruler, gboolean active); // inactive: what was measured goes

// What the mouse calls: from (x, y) in the sketch, to (x + dx, y + dy).
gboolean fw_ruler_begin(FwRuler *ruler, double x, double y);
void fw_ruler_move(FwRuler *ruler, double dx, double dy);

G_END_DECLS
