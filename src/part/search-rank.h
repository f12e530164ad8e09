// SPDX-License-Identifier: GPL-3.0-or-later
// The order of answers. Inside part/ only.
#pragma once

#include "part/search.h"

G_BEGIN_DECLS

// By added metal alone.
void search_sort(SearchAnswer *answers, guint n);

// Least metal first; among the next that cost as much as the best left, the shallowest by more than
// a cell (m), then the one with the smaller parting.
void search_rank(SearchResult *result, double cell);

G_END_DECLS
