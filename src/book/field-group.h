// SPDX-License-Identifier: GPL-3.0-or-later
// The topics a long form is divided into. Which rows belong to one is said in the field table.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
    const char *id;    // Field.group
    const char *label; // N_("Gating")
    gboolean open;     // unfolded until a person folds it
} FieldGroup;

// In the order forms show them.
guint field_group_count(void);
const FieldGroup *field_group_at(guint index);

G_END_DECLS
