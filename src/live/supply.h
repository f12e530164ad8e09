// SPDX-License-Identifier: GPL-3.0-or-later
// What a day used up of what the shop says it has: metal in stock and firings of the crucible. Only
// what was typed is changed; a blank field is nobody's count.
#pragma once

#include "book/edit.h"
#include "live/day.h"

G_BEGIN_DECLS

typedef struct {
    char *stock, *stock_place;     // the new text of shop.stock and its place; NULL: unchanged
    char *firings, *firings_place; // the same of crucible.firings
    char *words;                   // what changes, or could not be, for a person; NULL: nothing
} LiveSupply;

// Of each load charged or poured its charge is taken out, as noted, else as planned, and what was
// poured less the castings is put back as returns; what stays in the crucible is not counted.
LiveSupply live_supply_of(const Book *book, const LiveDay *day);
void live_supply_clear(LiveSupply *supply);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(LiveSupply, live_supply_clear)

G_END_DECLS
