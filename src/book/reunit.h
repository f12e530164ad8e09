// SPDX-License-Identifier: GPL-3.0-or-later
// Changing the unit a bare number means without changing what was typed before.
#pragma once

#include "book/edit.h"

G_BEGIN_DECLS

// Whether a field decides what bare numbers mean (shop.lengths, shop.masses, shop.temperatures).
gboolean reunit_concerns(const Field *field);
// The edit that sets such a field and gives every bare number typed before ("25" under mm) its unit
// ("25 mm"), so that no part of the book comes to mean something else.
Edit *reunit_edit(const Book *book, const Field *field, const Node *value);

G_END_DECLS
