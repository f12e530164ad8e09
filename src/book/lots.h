// SPDX-License-Identifier: GPL-3.0-or-later
// The metal a shop has in stock, as text of one line: mass, metal, form and state of each lot, a
// semicolon between: "12 kg a356 ingot; 6.5 kg a356 returns; 3 kg a356 castings oily". Without a
// word for its state a lot is clean. A mass names its unit, so that it stays what it is when the
// shop changes units.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

typedef enum {
    LOT_INGOT,
    LOT_CASTINGS, // old castings of a known alloy
    LOT_RETURNS,  // the shop's own gates, risers and scrapped castings
    LOT_CHIPS,
    LOT_FORM_COUNT
} LotForm;

typedef enum {
    LOT_CLEAN,
    LOT_OILY,
    LOT_PAINTED,
    LOT_COATED,  // plated, anodised or galvanised
    LOT_UNKNOWN, // nobody knows the alloy
    LOT_MIXED,   // of several alloys
    LOT_STATE_COUNT
} LotState;

typedef struct {
    double mass; // kg
    char *metal; // id of the table of metals
    LotForm form;
    LotState state;
} Lot;

#define LOTS_MOST 100

// An array of Lot that frees what they hold; one that is empty for a text without any. NULL with a
// message that says which lot is wrong. Metals are checked against `tables`, unless it is NULL.
GArray *lots_read(const char *text, const UnitSet *units, const Tables *tables, GError **error);

// The word of a form or state, as it stands in the text: "ingot", "oily". Static.
const char *lots_form_word(LotForm form);
const char *lots_state_word(LotState state);

G_END_DECLS
