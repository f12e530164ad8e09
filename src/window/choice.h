// SPDX-License-Identifier: GPL-3.0-or-later
// A drop-down that stays narrow.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

// A GtkDropDown for a GtkStringList: a long choice is broken into lines, so that the form does not
// grow wide, and stands on one line in the list.
GtkWidget *fw_choice_new(void);

G_END_DECLS
