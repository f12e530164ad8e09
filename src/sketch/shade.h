// SPDX-License-Identifier: GPL-3.0-or-later
// A part as a shaded picture: seen along parallel rays, near hides far, and every face says by
// colour and by hatching whether it draws. Fixed arithmetic without a graphics card, so that the
// same part and view give the same bytes on any machine, in any thread.
#pragma once

#include <cairo.h>

#include "base/progress.h"
#include "part/face.h"
#include "sketch/theme.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef enum {
    SHADE_PLAIN,  // nothing is known of it
    SHADE_DRAWS,  // leaves the sand with the wanted draft
    SHADE_LOW,    // leaves it with less
    SHADE_HIDDEN, // the sand on its side cannot leave past the part
    SHADE_CLASSES
} ShadeClass;

// A ShadeClass for every triangle. Free with g_free.
guint8 *shade_classes(const FaceDraft *faces);

// What is looked at: mesh, classes, smoothed normals. Immutable.
typedef struct ShadeModel ShadeModel;

// `mesh` in mould axes: z along the pull, m. `classes`: a ShadeClass for every triangle, NULL for
// all plain. `parting`: z of the parting, m; NAN for none, and then no pull is shown either.
ShadeModel *shade_model_new(const SolidMesh *mesh, const guint8 *classes, double parting);
// The same with areas that can be marked: for every triangle the number of its area, any number for
// none. NULL for no areas.
ShadeModel *shade_model_new_areas(const SolidMesh *mesh, const guint8 *classes,
                                  const guint32 *areas, double parting);
ShadeModel *shade_model_ref(const ShadeModel *model);
void shade_model_unref(const ShadeModel *model); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(ShadeModel, shade_model_unref)

typedef struct {
    int width, height; // units of the screen
    int pixels;        // to a unit, 1 or more: lines and hatching keep their width on any screen
    double turn;       // rad, the eye's way round the pull; 0: it looks along +y
    double tilt;       // rad, its height above the parting, -pi/2 to pi/2
    double zoom;       // 1: the whole part is in sight, whichever way it is turned
    ThemeKind theme;
    gboolean rough; // quickly, while it moves: fewer pixels, and fewer triangles of a large mesh
    guint32 marked; // 1 + number of the area that stands out; 0 for none
} ShadeView;

// As a part is first looked at, rad: from the front left, somewhat from above.
#define SHADE_TURN 0.6
#define SHADE_TILT 0.45

// Screen units to a metre in this view.
double shade_scale(const ShadeModel *model, const ShadeView *view);

// An ARGB32 image of width*pixels by height*pixels, half of that each way when rough, clear where
// nothing is. NULL with an error when
// stopped or when the picture is too large. Destroy with cairo_surface_destroy.
cairo_surface_t *shade_render(const ShadeModel *model, const ShadeView *view, Progress *progress,
                              GError **error);

// A small sample of a class, for a key to the picture.
cairo_surface_t *shade_sample(ShadeClass class, ThemeKind theme, int width, int height, int pixels);

G_END_DECLS
