// SPDX-License-Identifier: GPL-3.0-or-later
// What the index costs and leaves: the sand beside the tabs, and the mismatch of each cavity.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

#define MOULD_TAB_ROOM 0.001 // m; thinner sand beside a socket breaks out (common practice)

// Least sand, m, from any tab's socket to the flask's wall and to what is hollow: cavities by
// `outline` (NULL: not looked at), risers, gates, runners, well. 0 where they overlap.
double mould_tab_room(const MouldLayout *layout, const SolidOutline *outline);

// Sets `mismatch` of every cavity: the furthest any of its corners can be out of register. 0
// without tabs.
void mould_find_mismatch(MouldLayout *layout, const SolidOutline *outline);

G_END_DECLS
