// SPDX-License-Identifier: GPL-3.0-or-later
// Area and centre of shapes laid over one another, where what overlaps counts once. Exact for
// polygons: the plane is cut into strips between the corners and crossings of their edges, and in a
// strip everything is a trapezium.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct MouldUnion MouldUnion;

typedef struct {
    double area;       // m2
    SolidPoint centre; // of the area, m; NAN without any
} MouldUnionArea;

MouldUnion *mould_union_new(void);
void mould_union_free(MouldUnion *u); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldUnion, mould_union_free)

// A closed polygon, either way round, as one shape of its own.
void mould_union_add(MouldUnion *u, const SolidPoint *points, guint n);
// A disc, as a polygon of the same area; nothing when `diameter` is not above 0.
void mould_union_add_disc(MouldUnion *u, double x, double y, double diameter);
// A bar about its centre line, ends square.
void mould_union_add_channel(MouldUnion *u, const MouldChannel *channel);
// An outline set at a cavity and made larger by `scale`; its holes stay open.
void mould_union_add_outline(MouldUnion *u, const SolidOutline *outline, double scale,
                             const MouldCavity *cavity);

MouldUnionArea mould_union_measure(const MouldUnion *u);

G_END_DECLS
