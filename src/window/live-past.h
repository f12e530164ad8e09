// SPDX-License-Identifier: GPL-3.0-or-later
// What was ticked so far, the last first, with its times; typing another time corrects it.
#pragma once

#include <gtk/gtk.h>

#include "live/live.h"

G_BEGIN_DECLS

#define FW_TYPE_LIVE_PAST (fw_live_past_get_type())
G_DECLARE_FINAL_TYPE(FwLivePast, fw_live_past, FW, LIVE_PAST, GtkBox)

// Signal: "changed" (a time was corrected; it is in the journal).

// Whose ticks are listed, borrowed until the next call; NULL: none. Call again after every tick.
void fw_live_past_set(FwLivePast *past, Live *live);

G_END_DECLS
