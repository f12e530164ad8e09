// SPDX-License-Identifier: GPL-3.0-or-later
// Words every test uses: comparing with a source named, and meshes and folders made by code.
#pragma once

#include <glib.h>
#include <math.h>

#include "base/error.h"
#include "figure/figure.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

// Fails with the source in the message unless |value - expected| <= relative * |expected|
// (for expected 0: |value| <= relative).
#define check_close(value, expected, relative, source)                                             \
    check_close_at(#value, (value), (expected), (relative), (source), __FILE__, __LINE__)
void check_close_at(const char *what, double value, double expected, double relative,
                    const char *source, const char *file, int line);

// Fails unless error is of BASE_ERROR, one line, and contains `words`; then clears it.
#define check_error(error, code, words)                                                            \
    check_error_at(&(error), (code), (words), __FILE__, __LINE__)
void check_error_at(GError **error, BaseError code, const char *words, const char *file, int line);

// A figure's formula uses exactly the inputs recorded with it and gives its value (to 1e-9); it has
// a label, a source that can be looked up, and a finite value or a word on what is missing.
void check_figure(const Figure *figure);
// One or more ids joined by '+' that can be looked up, or words that say more.
void check_figure_source(const Figure *figure);
// check_figure() of all but the given ones.
void check_figures(const FigureList *figures);

// Meshes in metres, welded and outward.
SolidMesh *check_mesh_box(double x, double y, double z);                 // one corner at the origin
SolidMesh *check_mesh_cylinder(double radius, double height, int sides); // axis z, base at z = 0
SolidMesh *check_mesh_frustum(double radius_base, double radius_top, double height, int sides);
SolidMesh *check_mesh_sphere(double radius, int rings, int sides); // centre at the origin
SolidMesh *check_mesh_torus(double major, double minor, int around, int sides);
// A plate x by y by z with a round blind hole from the top in its middle.
SolidMesh *check_mesh_blind_plate(double x, double y, double z, double hole_radius,
                                  double hole_depth, int sides);
// Any mesh turned by an odd rotation (not close to an axis) and moved.
SolidMesh *check_mesh_turned(const SolidMesh *mesh);

// A fresh folder below the temporary folder; removed by check_folder_remove.
char *check_folder(void);
void check_folder_remove(const char *folder);

G_END_DECLS
