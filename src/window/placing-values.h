// SPDX-License-Identifier: GPL-3.0-or-later
// Where a cavity or the sprue stands, to be typed: x, y and turn in the shop's units.
#pragma once

#include "window/placing.h"

G_BEGIN_DECLS

#define FW_TYPE_PLACING_VALUES (fw_placing_values_get_type())
G_DECLARE_FINAL_TYPE(FwPlacingValues, fw_placing_values, FW, PLACING_VALUES, GtkPopover)

// Filled with what is chosen; Enter in any entry puts it there. What cannot be used stays, with
// the reason below. What was not touched keeps its value, not the digits shown.
GtkWidget *fw_placing_values_new(FwPlacing *placing);

G_END_DECLS
