// SPDX-License-Identifier: GPL-3.0-or-later
// The outlines of a drawing in the order of painting, made quick to ask: what is seen at a point,
// and which edges come near a box. Private to sketch/.
#pragma once

#include "sketch/brush.h"

G_BEGIN_DECLS

typedef struct LabelInk LabelInk;

LabelInk *label_ink_new(void);
void label_ink_free(LabelInk *ink); // NULL is harmless

// Paths and circles, over what is there; others are left out. The shape has to outlive the ink.
void label_ink_take(LabelInk *ink, const Scene *scene, const PaintView *view, const Shape *shape);

// What is seen at a point and the part it belongs to, which may be NULL; ROLE_PAPER where nothing
// is filled. Device units, as everywhere here.
SceneRole label_ink_at(const LabelInk *ink, SolidPoint p, const char **part);
// Is there ground of a role at a point, seen or painted over?
gboolean label_ink_has(const LabelInk *ink, SolidPoint p, SceneRole role);
// Is something filled over outline `i` at the point?
gboolean label_ink_covered(const LabelInk *ink, guint i, SolidPoint p);
SceneRole label_ink_role(const LabelInk *ink, guint i);
// Box of the filled shapes of a part; FALSE when there are none.
gboolean label_ink_extent(const LabelInk *ink, const char *part, SolidPoint *min, SolidPoint *max);

// Cost of the edge from `a` to `b` of outline `i`.
typedef double (*LabelEdgeCost)(const LabelInk *ink, guint i, SolidPoint a, SolidPoint b,
                                gconstpointer data);
// Over the stroked edges that come into the box from `min` to `max`, until it is more than `most`.
double label_ink_sum(const LabelInk *ink, SolidPoint min, SolidPoint max, double most,
                     LabelEdgeCost cost, gconstpointer data);

G_END_DECLS
