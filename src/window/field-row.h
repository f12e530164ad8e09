// SPDX-License-Identifier: GPL-3.0-or-later
// One input of the inspector: label, entry or choice, and what stands in for it while it is blank.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_FIELD_ROW (fw_field_row_get_type())
G_DECLARE_FINAL_TYPE(FwFieldRow, fw_field_row, FW, FIELD_ROW, GtkBox)

GtkWidget *fw_field_row_new(Desk *desk, const Field *field);
const Field *fw_field_row_get_field(FwFieldRow *row);
gboolean fw_field_row_is_set(FwFieldRow *row); // somebody gave it a value
// Reads book and plan again. Text being typed is left alone.
void fw_field_row_update(FwFieldRow *row);
void fw_field_row_focus(FwFieldRow *row);

G_END_DECLS
