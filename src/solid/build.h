// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: collects the vertices and polygons of a format that numbers its vertices, cuts
// the polygons into triangles and welds.
#pragma once

#include "solid/read-job.h"

G_BEGIN_DECLS

typedef struct {
    const SolidReadJob *job;
    gboolean by_line;  // places are lines, else bytes
    GArray *vertices;  // Vec3
    GArray *triangles; // guint32[3]
    GArray *fans;      // where polygons of more than three corners lie among the triangles
    guint64 highest;   // highest vertex number used by a face before that vertex was read
    guint64 highest_place;
} SolidBuild;

void solid_build_init(SolidBuild *build, const SolidReadJob *job, gboolean by_line);
void solid_build_clear(SolidBuild *build);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(SolidBuild, solid_build_clear)

// Coordinates in the file's unit.
gboolean solid_build_vertex(SolidBuild *build, double x, double y, double z, guint64 place,
                            GError **error);
// Corners are vertex numbers from 0; they may name vertices still to come.
gboolean solid_build_polygon(SolidBuild *build, const guint32 *corners, guint n, guint64 place,
                             GError **error);
// Checks the numbers, turns fans that would fold over, welds.
SolidMesh *solid_build_end(SolidBuild *build, GError **error);

G_END_DECLS
