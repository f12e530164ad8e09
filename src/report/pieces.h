// SPDX-License-Identifier: GPL-3.0-or-later
// The list of pieces to print, as text: a piece a line.
#pragma once

#include "board/board.h"

G_BEGIN_DECLS

// Under a heading: name, how many, kind, volume and filament of one, size; the sums; what the
// caster must know. Every line begins with `indent` blanks. Free.
char *report_pieces(const BoardResult *boards, const UnitSet *units, int indent);

G_END_DECLS
