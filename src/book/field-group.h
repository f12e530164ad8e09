// SPDX-License-Identifier: GPL-3.0-or-later
// The topics a long form is divided into. Which rows belong to one is said in the field table.
#pragma once

#include "book/field.h"

G_BEGIN_DECLS

typedef struct {
    const char *id;    // Field.group
    const char *label; // N_("Gating")
    gboolean open;     // unfolded until a person folds it
} FieldGroup;

// In the order forms show them.
guint field_group_count(void);
const FieldGroup *field_group_at(guint index);

// Whether every word of `words` begins a word of the field's label or its topic's, as they are
// shown, without regard to case. "" fits all.
gboolean field_is_called(const Field *field, const char *words);

G_END_DECLS
