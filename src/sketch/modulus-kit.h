// SPDX-License-Identifier: GPL-3.0-or-later
// What the pieces of the modulus view have in common. Private to sketch/.
#pragma once

#include "sketch/casting-kit.h"

G_BEGIN_DECLS

#define MODULUS_LABEL 10.0 // size of small text
#define MODULUS_ROW 5.4    // grains

// The riser in the cold casting's axes, m; radius 0 without one, or without a place for it.
typedef struct {
    double x, y, radius, low, high, growth;
    gboolean beside;
    double joint_x, joint_y, neck_width, neck_up, neck_down;
} ModulusPost;

typedef struct {
    CastingDraft d;
    const FeedResult *feed;
    CastingPlane plane;
    ModulusPost post;
    SolidGrid *smooth; // the map without its signs
} ModulusDraft;

// From the plane's coordinates, m, to the sheet, mm; and from space to the plane.
SolidPoint modulus_place(const ModulusDraft *draft, double u, double v);
SolidPoint modulus_in_plane(const CastingPlane *plane, Vec3 p);

// As the layout's first cavity has it; `layout` may be NULL, and then one beside has no place.
ModulusPost modulus_post(const FeedResult *feed, const MouldLayout *layout);
// With room beside the casting for the riser.
CastingSheet modulus_sheet(const PatternResult *pattern, const CastingPlane *plane,
                           const ModulusPost *post);

void modulus_draw_chill(ModulusDraft *draft);
// Riser and neck: filled where the plane cuts them, else as hidden edges.
void modulus_draw_post(ModulusDraft *draft);
// A row of the table with the riser's modulus, below `y` (mm).
void modulus_tell_post(ModulusDraft *draft, double y);

G_END_DECLS
