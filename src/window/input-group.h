// SPDX-License-Identifier: GPL-3.0-or-later
// The inputs of one topic under a heading that folds them away.
#pragma once

#include <gtk/gtk.h>

#include "book/field-group.h"
#include "window/field-row.h"

G_BEGIN_DECLS

#define FW_TYPE_INPUT_GROUP (fw_input_group_get_type())
G_DECLARE_FINAL_TYPE(FwInputGroup, fw_input_group, FW, INPUT_GROUP, GtkBox)

// `topic` NULL: rows without a heading, which cannot be folded.
GtkWidget *fw_input_group_new(const FieldGroup *topic, gboolean open);
const FieldGroup *fw_input_group_get_topic(FwInputGroup *group);
// What the rows added after it concern ("This job").
void fw_input_group_add_caption(FwInputGroup *group, const char *caption);
void fw_input_group_add_row(FwInputGroup *group, GtkWidget *field_row);
gboolean fw_input_group_is_open(FwInputGroup *group); // how a person left it
void fw_input_group_unfold(FwInputGroup *group);
// Reads book and plan again.
void fw_input_group_update(FwInputGroup *group);
// Shows only rows that are called so (field_is_called()), unfolded for as long. "": all again, and
// folded as before. Returns how many are shown.
guint fw_input_group_filter(FwInputGroup *group, const char *words);
// The row of a field; NULL if it is not in this group.
FwFieldRow *fw_input_group_find(FwInputGroup *group, const char *path);

G_END_DECLS
