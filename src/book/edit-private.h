// SPDX-License-Identifier: GPL-3.0-or-later
// Changing a tree without judging the result, for edits made of several steps.
#pragma once

#include "book/edit.h"

G_BEGIN_DECLS

// The tree with the edit made, or NULL with an error if its place is not there.
Node *edit_root(const Node *root, const Edit *edit, GError **error);

G_END_DECLS
