// SPDX-License-Identifier: GPL-3.0-or-later
// What words must keep clear of in a drawing: the outlines that are seen in it and the words that
// stand already, at the size the drawing is laid out for. Says what a text or a line would cost at
// a place; whoever has words to place asks for each place it knows and takes the cheapest. Private
// to sketch/.
#pragma once

#include "sketch/label-box.h"
#include "sketch/label-ink.h"

G_BEGIN_DECLS

typedef struct LabelField LabelField;

// Of the shapes `scene` has by now; it has to outlive the field. Words outside the box from `min`
// to `max` (scene units) cost more than any outline. `scene` has a grain.
LabelField *label_field_new(const Scene *scene, SolidPoint min, SolidPoint max);
void label_field_free(LabelField *field); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabelField, label_field_free)

// The view of the size the drawing is laid out for; a grain is SCENE_GRAIN_PX.
const PaintView *label_field_view(const LabelField *field);

// Sizes of a text in that view, as brush_text_place has them.
void label_field_measure(const LabelField *field, const char *text, double size, gboolean strong,
                         double *width, double *height);
// Where a dimension goes whose text is measured, in that view.
void label_field_dimension(const LabelField *field, const Shape *shape, double width, double height,
                           BrushDimension *d);

// What it costs to lie in the box: about the length of ink that is covered, weighed by what it
// means. With `own` the box should lie on that part. Here and below, what costs more than `most` is
// not reckoned to the end.
double label_field_box(const LabelField *field, const LabelBox *box, const char *own, double most);
// The same over the lines of a dimension alone.
double label_field_box_over(const LabelBox *box, const BrushDimension *d);
// What it costs a line to run from `a` to `b`, across outlines and beside them.
double label_field_line(const LabelField *field, SolidPoint a, SolidPoint b, double most);
double label_field_dimension_lines(const LabelField *field, const BrushDimension *d, double most);

const LabelInk *label_field_ink(const LabelField *field);

// From now on in the way.
void label_field_take_box(LabelField *field, const LabelBox *box);
void label_field_take_line(LabelField *field, SolidPoint a, SolidPoint b);
void label_field_take_dimension(LabelField *field, const BrushDimension *d);

G_END_DECLS
