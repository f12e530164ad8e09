// SPDX-License-Identifier: GPL-3.0-or-later
// The metal in stock as a day changes it: charges are taken out, returns are put back. Lots that
// are not touched keep the words they were typed in.
#pragma once

#include "book/lots.h"

G_BEGIN_DECLS

typedef struct LiveShelf LiveShelf;

// NULL when the text cannot be read as lots.
LiveShelf *live_shelf_new(const char *text, const UnitSet *units);
void live_shelf_free(LiveShelf *shelf); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveShelf, live_shelf_free)

// Takes `mass` kg of `metal` out as a charge is made up (melt/makeup.h): returns and chips up to
// `returns_share` of it, then castings, the rest ingot, the least losing lots first; with `any`
// also lots that are not clean. Returns what the shelf did not have, kg.
double live_shelf_take(LiveShelf *shelf, const char *metal, double mass, double returns_share,
                       gboolean any);
// Puts `mass` kg of clean returns on it, to those it has of the metal.
void live_shelf_give(LiveShelf *shelf, const char *metal, double mass);

// The text of the lots, "" for none; NULL when there are more than a book holds. Free.
char *live_shelf_text(const LiveShelf *shelf);

G_END_DECLS
