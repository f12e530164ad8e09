// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of the shaded picture share.
#pragma once

#include "sketch/shade.h"

G_BEGIN_DECLS

typedef struct {
    float x, y, z;
} ShadeNormal;

struct ShadeModel {
    SolidMesh *mesh;
    guint8 *classes;      // per triangle
    guint32 *areas;       // per triangle, or NULL
    ShadeNormal *facets;  // per triangle
    ShadeNormal *corners; // three per triangle, smoothed across all but sharp edges
    double parting;       // z, m, or NAN
    Vec3 middle;          // of the box
    Vec3 low, high;       // box
    double round;         // m, radius of the circle about the middle's z axis
    double whole;         // m, radius of the ball about the middle, the pull's arrow in it
    ShadeModel *coarse;   // the same with fewer triangles, or NULL when it has few
};

// A view worked out: where things fall on the finest raster.
typedef struct {
    int width, height; // fine pixels
    int fine;          // of them to a screen unit
    double scale;      // of them to a metre
    Vec3 right, up, away;
    Vec3 middle;
} ShadeCamera;

typedef struct {
    double x, y, depth; // fine pixels, y down; depth grows away from the eye
} ShadePlace;

#define SHADE_NOTHING G_MAXUINT32

// One fine pixel for each place of the raster.
typedef struct {
    float *depth;      // fine pixels
    guint32 *triangle; // or SHADE_NOTHING
    guint8 *light;     // 0 to 255
    guint8 *line;      // 1: the parting line crosses here, 2: the frame of the parting plane,
                       // 3: the outline of the marked area
} ShadeRaster;

ShadeCamera shade_camera(const ShadeModel *model, const ShadeView *view);
ShadePlace shade_place(const ShadeCamera *camera, Vec3 at);

// FALSE with an error when stopped.
gboolean shade_fill(const ShadeModel *model, const ShadeCamera *camera, ShadeRaster *raster,
                    Progress *progress, GError **error);
void shade_parting(const ShadeModel *model, const ShadeCamera *camera, ShadeRaster *raster);

// The outline of what is seen of an area.
void shade_mark(const ShadeModel *model, const ShadeCamera *camera, guint32 area,
                ShadeRaster *raster);

// A mesh of about the same shape with few triangles. `from`: for each of them one of the mesh's;
// free with g_free.
SolidMesh *shade_coarse(const SolidMesh *mesh, Vec3 low, Vec3 high, guint32 **from);

// How the pull's arrow stands: from its foot to its tip, m.
void shade_arrow(const ShadeModel *model, Vec3 *foot, Vec3 *tip);

G_END_DECLS
