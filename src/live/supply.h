// SPDX-License-Identifier: GPL-3.0-or-later
// What a day used up of what the shop says it has: metal in stock and firings of the crucibles.
// Only what was typed is changed; a blank field is nobody's count.
#pragma once

#include "book/edit.h"
#include "live/day.h"

G_BEGIN_DECLS

// One field of the book with its new text; "" clears it.
typedef struct {
    char *place, *text;
} LiveChange;

typedef struct {
    GArray *changes; // of LiveChange: of shop.stock and of crucible.firings
    char *words;     // what changes, or could not be, for a person; NULL: nothing
} LiveSupply;

// Of each load charged or poured its charge is taken out, as noted, else as planned, and what was
// poured less the castings is put back as returns; what stays in the crucible is not counted.
LiveSupply live_supply_of(const Book *book, const LiveDay *day);
void live_supply_clear(LiveSupply *supply);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(LiveSupply, live_supply_clear)

G_END_DECLS
