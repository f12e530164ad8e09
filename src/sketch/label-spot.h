// SPDX-License-Identifier: GPL-3.0-or-later
// The search for a text's place: places are tried one after another, each with how little it is
// liked, and the cheapest stays. All in device units of the field's view. Private to sketch/.
#pragma once

#include "sketch/label-field.h"

G_BEGIN_DECLS

typedef struct {
    SolidPoint at; // where the text is aligned to, at half its height
    ShapeAlign align;
    gboolean led; // by a line from `lead` to `end`
    SolidPoint lead, end;
    double cost;
} LabelSpot;

typedef struct {
    const LabelField *field;
    const LabelInk *ink;             // the field's, for short
    const char *own;                 // the part the text should lie on unless it is led, or NULL
    double grain;                    // SCENE_GRAIN_PX, here for short
    double width, height;            // of the text
    const BrushDimension *dimension; // whose text it is, though its lines are not taken; or NULL
    double more_right, more_down;    // what stands beside and below it
    LabelSpot best;                  // its cost is INFINITY until there is one
} LabelSearch;

LabelSearch label_search(const LabelField *field, const char *text, double size, gboolean strong,
                         const char *own);

// At a place, level and without a leader; `dislike` in the field's costs.
void label_search_try(LabelSearch *search, SolidPoint at, ShapeAlign align, double dislike);
// Close round a circle, over it first.
void label_search_around(LabelSearch *search, SolidPoint middle, double radius);
// Within the part it should lie on, which there has to be, near `home` first.
void label_search_inside(LabelSearch *search, SolidPoint home);
// A point of its part, as near `home` as any; FALSE when none of it is seen.
gboolean label_search_heart(const LabelSearch *search, SolidPoint home, SolidPoint *heart);
// At the end of a leader, in all directions from `from`: it starts at `radius` from there or, with
// `own`, where it leaves that part.
void label_search_led(LabelSearch *search, SolidPoint from, double radius, double dislike);

// The middle of the text at its best place.
SolidPoint label_search_middle(const LabelSearch *search);
LabelBox label_search_box(const LabelSearch *search);

G_END_DECLS
