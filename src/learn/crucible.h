// SPDX-License-Identifier: GPL-3.0-or-later
// What the log says of one crucible.
#pragma once

#include "book/node.h"
#include "metal/tables.h"

G_BEGIN_DECLS

typedef struct {
    guint starts;   // sessions that used it
    guint melts;    // loads melted in it
    char *families; // metal families melted in it, in the order met, a space between; "" for none
} LearnCrucible;

// Reads the log for the crucible of this id (NULL: none). Metals `tables` does not know belong to
// no family; it may be NULL. Clear with learn_crucible_clear().
LearnCrucible learn_crucible_read(const Node *log, const char *id, const Tables *tables);
void learn_crucible_clear(LearnCrucible *crucible);

G_END_DECLS
