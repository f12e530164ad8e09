// SPDX-License-Identifier: GPL-3.0-or-later
// What a field that is chosen, not typed, can be.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

// The names to show; `ids` (of strings it frees) gets what is stored for each. The first is left
// to the default and stored as "". Unref.
GtkStringList *fw_field_choices(Desk *desk, const Field *field, GPtrArray *ids);

G_END_DECLS
