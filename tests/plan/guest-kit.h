// SPDX-License-Identifier: GPL-3.0-or-later
// Two jobs that share a flask, for tests: a plate "part" whose flask it is and a cup "other", both
// without risers.
#pragma once

#include "make.h"
#include "plan/cache.h"

G_BEGIN_DECLS

typedef struct {
    Tables *tables;
    Cache *cache;
    char *folder, *mesh, *other_mesh;
    Book *alone, *shared; // the second: "part" shares with "other"
} GuestFixture;

void guest_set_up(GuestFixture *f, gconstpointer data);
void guest_tear_down(GuestFixture *f, gconstpointer data);

// Value of a figure that has to be known.
double guest_value(const Plan *plan, const char *id);
// Fails when a figure is unknown or beyond its limit.
void guest_check_holds(const Plan *plan, const char *id);

G_END_DECLS
