// SPDX-License-Identifier: GPL-3.0-or-later
// A part's distances seen along a pull: taken from the field where that is far from the surface,
// asked for again near it.
#include "part/turned.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

typedef struct {
    const SolidGrid *field;
    const SolidBvh *bvh;
    const guint8 *inside; // of each cell of the turned grid
    Vec3 row[3];          // the turned axes in the field's
    double allowance;     // m
} Turn;

// Near the surface and near the allowance's the distance is asked for again, since between its
// cells the field rounds edges.
static void
fill_row(const Turn *s, int j, int k, SolidGrid *out)
{
    guint32 hint = SOLID_NO_TRIANGLE;
    double near = 2 * out->cell, level = s->allowance;
    const Vec3 *row = s->row;
    Vec3 p = vec3_scale(row[0], out->origin.x);
    p = vec3_add(p, vec3_scale(row[1], out->origin.y + j * out->cell));
    p = vec3_add(p, vec3_scale(row[2], out->origin.z + k * out->cell));
    for (int i = 0; i < out->nx; i++) {
        Vec3 at = vec3_add(p, vec3_scale(row[0], i * out->cell));
        double d = fabs(solid_grid_sample(s->field, at));
        if (d < near || fabs(d - level) < near) {
            SolidNearest nearest = solid_bvh_nearest(s->bvh, at, hint);
            hint = nearest.triangle;
            d = nearest.distance;
        }
        gsize cell = solid_grid_index(out, i, j, k);
        out->value[cell] = (float)(s->inside[cell] ? -d : d);
    }
}

// The field's cells, or coarser ones where a thin part lies so askew to the pull that its box is
// mostly air.
static double
choose_cell(double cell, const double size[3], double margin, double most)
{
    for (;; cell *= 1.05) {
        double n = 1;
        for (int a = 0; a < 3; a++)
            n *= (size[a] + 2 * margin) / cell + 5;
        if (n <= most)
            return cell;
    }
}

// An empty grid round the part, its axes the rows of a rotation.
static SolidGrid *
make_grid(const SolidMesh *mesh, const Vec3 row[3], double margin, double most, double cell)
{
    double low[3] = {INFINITY, INFINITY, INFINITY}, high[3] = {-INFINITY, -INFINITY, -INFINITY};
    double size[3], origin[3];
    int n[3];
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        for (int a = 0; a < 3; a++) {
            double at = vec3_dot(row[a], mesh->vertices[i]);
            low[a] = fmin(low[a], at);
            high[a] = fmax(high[a], at);
        }
    for (int a = 0; a < 3; a++)
        size[a] = high[a] - low[a];
    cell = choose_cell(cell, size, margin, most);
    // Faces square to the pull come to lie half-way between layers where they can.
    for (int a = 0; a < 3; a++) {
        n[a] = (int)(floor(size[a] / cell + 1e-9) + 4 + 2 * ceil(margin / cell - 1e-9));
        origin[a] = 0.5 * (low[a] + high[a]) - 0.5 * (n[a] - 1) * cell;
    }
    return solid_grid_new(n[0], n[1], n[2], cell, vec3(origin[0], origin[1], origin[2]));
}

SolidGrid *
turned_field(const SolidMesh *mesh, const SolidGrid *field, const SolidBvh *bvh,
             const EnvelopeOptions *options, const double rotation[9], double most,
             Progress *progress, GError **error)
{
    Turn s = {.field = field, .bvh = bvh, .allowance = options->allowance};
    for (int a = 0; a < 3; a++)
        s.row[a] = vec3(rotation[3 * a], rotation[3 * a + 1], rotation[3 * a + 2]);
    g_autoptr(SolidGrid)
                  out = make_grid(mesh, s.row, envelope_reach(options, 0), most, field->cell);
    if (!out) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, _("the grid has too many cells"),
                       _("choose a coarser resolution"));
        return NULL;
    }
    g_autoptr(SolidMesh) turned = solid_mesh_transformed(mesh, rotation, vec3(0, 0, 0));
    g_autofree guint8 *inside = solid_grid_inside(turned, out, progress, error);
    if (!inside)
        return NULL;
    s.inside = inside;
    for (int k = 0; k < out->nz && !progress_stopped(progress); k++)
        for (int j = 0; j < out->ny; j++)
            fill_row(&s, j, k, out);
    return g_steal_pointer(&out);
}
