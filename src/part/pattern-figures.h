// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of stage "pattern". Inside part/ only.
#pragma once

#include "part/envelope.h"
#include "part/pattern.h"

G_BEGIN_DECLS

// All of them unknown for want of `missing`.
void pattern_figures_unknown(FigureList *figures, const char *missing);

void pattern_figures_add(FigureList *figures, const Inputs *inputs, const PartResult *part,
                         const PatternResult *pattern, const EnvelopeResult *envelope);

G_END_DECLS
