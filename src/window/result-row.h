// SPDX-License-Identifier: GPL-3.0-or-later
// One casting of a session: good or scrap, for which cause, and what it weighs.
#pragma once

#include <gtk/gtk.h>

#include "live/log.h"
#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_RESULT_ROW (fw_result_row_get_type())
G_DECLARE_FINAL_TYPE(FwResultRow, fw_result_row, FW, RESULT_ROW, GtkBox)

GtkWidget *fw_result_row_new(Desk *desk);
// What it shows and edits; `casting` is copied in part. `planned` kg, NAN: unknown.
void fw_result_row_set(FwResultRow *row, const LiveCasting *casting, double planned);

G_END_DECLS
