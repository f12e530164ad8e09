// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces of metal a pull adds because the sand could not leave: holes across it, hollows behind
// ears. Inside part/ only.
#pragma once

#include "part/search.h"

G_BEGIN_DECLS

// `turned` is the part's distance with the pull along z, `level` the allowance, `parting` a height.
// Finds what lies outside the metal but between it along the pull, or between it and the parting,
// in connected pieces of at least `least` m3. Fills n_fills, all_fills and fills of the answer, the
// places still in the turned axes.
void fill_find(const SolidGrid *turned, double level, double parting, double least,
               SearchAnswer *answer);

G_END_DECLS
