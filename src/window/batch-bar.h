// SPDX-License-Identifier: GPL-3.0-or-later
// How far a batch is, as a bar of castings: good ones filled, scrapped ones outlined, the rest
// open.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_BATCH_BAR (fw_batch_bar_get_type())
G_DECLARE_FINAL_TYPE(FwBatchBar, fw_batch_bar, FW, BATCH_BAR, GtkWidget)

// `words` say the same to a screen reader.
void fw_batch_bar_set(FwBatchBar *bar, double good, double scrapped, double wanted,
                      const char *words);

G_END_DECLS
