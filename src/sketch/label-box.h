// SPDX-License-Identifier: GPL-3.0-or-later
// The place a text takes on a surface: a rectangle, turned as the text is. Private to sketch/.
#pragma once

#include "sketch/brush.h"

G_BEGIN_DECLS

// Device units: half its sizes along and across the text, and the way it runs, a unit long.
typedef struct {
    SolidPoint middle;
    double along, across;
    SolidPoint way;
} LabelBox;

// Of the letters and a little round them, not of the whole line.
LabelBox label_box_of(const BrushText *text);
// The corners in turn.
void label_box_corners(const LabelBox *box, SolidPoint corners[4]);
gboolean label_box_meets(const LabelBox *a, const LabelBox *b);
// How much of the line from `a` to `b` lies in the box, device units, and the middle of that.
double label_box_covers(const LabelBox *box, SolidPoint a, SolidPoint b, SolidPoint *middle);

G_END_DECLS
