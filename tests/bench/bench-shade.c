// SPDX-License-Identifier: GPL-3.0-or-later
// The shaded picture of a bumpy part: making its model, a whole picture, one
// while turning, and finding areas.
// Prints times and asserts nothing. Arguments: triangle counts in thousands; default 100 and 1000.
#include <stdio.h>
#include <stdlib.h>

#include "bumpy.h"
#include "part/area.h"
#include "sketch/shade.h"
#include "solid/spread.h"

#define RUNS 5

static double
time_picture(const ShadeModel *model, const ShadeView *view)
{
    double best = INFINITY;
    for (int i = 0; i < RUNS; i++) {
        gint64 start = g_get_monotonic_time();
        cairo_surface_t *surface = shade_render(model, view, NULL, NULL);
        best = fmin(best, (double)(g_get_monotonic_time() - start) / 1000);
        cairo_surface_destroy(surface);
    }
    return best;
}

// Areas of a skin on which every side steeper than some angle counts as low.
static double
time_areas(const SolidMesh *mesh, guint *n)
{
    FaceDraft f = {.n = mesh->n_triangles};
    f.draft = g_new0(float, f.n + 1);
    f.hidden = g_new0(guint8, f.n + 1);
    f.low = g_new0(guint8, f.n + 1);
    for (guint32 t = 0; t < f.n; t++) {
        f.draft[t] = (float)asin(fabs(solid_normal(mesh, t, NULL).z));
        f.low[t] = f.draft[t] < 0.1f;
    }
    gint64 start = g_get_monotonic_time();
    g_autoptr(AreaList) list = area_list_new(mesh, &f);
    double took = (double)(g_get_monotonic_time() - start) / 1000;
    *n = list->n;
    face_draft_clear(&f);
    return took;
}

static void
bench(guint32 thousands)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(1000 * thousands, 0.0385);
    gint64 start = g_get_monotonic_time();
    g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, 0.003);
    double making = (double)(g_get_monotonic_time() - start) / 1000;
    ShadeView view = {
        .width = 620, .height = 480, .pixels = 1, .turn = 0.6, .tilt = 0.45, .zoom = 1};
    double whole = time_picture(model, &view);
    view.rough = TRUE;
    double turning = time_picture(model, &view);
    guint n;
    double areas = time_areas(mesh, &n);
    printf("%7u thousand: model %7.1f ms, picture %6.1f ms, while turning %6.1f ms, %u areas in "
           "%.1f ms\n",
           thousands, making, whole, turning, n, areas);
}

int
main(int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        bench((guint32)atoi(argv[i]));
    for (int i = 0; argc < 2 && i < 2; i++)
        bench(i ? 1000 : 100);
    return 0;
}
