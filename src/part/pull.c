// SPDX-License-Identifier: GPL-3.0-or-later
// Choosing among the six axis directions. The distance field is made once, coarse, and its axes
// exchanged for each direction.
#include "part/pull.h"

#include "base/error.h"

#define COARSE 48
#define COARSE_CELLS 3e6

void
pull_rotation(Vec3 pull, double rotation[9])
{
    Vec3 z = vec3_unit(pull);
    Vec3 e = fabs(z.x) > 0.9 ? vec3(0, 1, 0) : vec3(1, 0, 0);
    Vec3 x = vec3_unit(vec3_sub(e, vec3_scale(z, vec3_dot(e, z))));
    Vec3 y = vec3_cross(z, x);
    double rows[9] = {x.x, x.y, x.z, y.x, y.y, y.z, z.x, z.y, z.z};
    for (int i = 0; i < 9; i++)
        rotation[i] = rows[i];
}

void
pull_box(const SolidMesh *mesh, Vec3 *low, Vec3 *high)
{
    *low = vec3(INFINITY, INFINITY, INFINITY);
    *high = vec3(-INFINITY, -INFINITY, -INFINITY);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        *low = vec3(fmin(low->x, v.x), fmin(low->y, v.y), fmin(low->z, v.z));
        *high = vec3(fmax(high->x, v.x), fmax(high->y, v.y), fmax(high->z, v.z));
    }
}

double
pull_cell(const SolidMesh *mesh, const EnvelopeOptions *o, double most)
{
    Vec3 low, high;
    pull_box(mesh, &low, &high);
    Vec3 size = vec3_sub(high, low);
    double stub = o->stub_diameter > 0 ? o->stub_height : 0;
    double longest = fmax(size.x, fmax(size.y, size.z + stub)) + 2 * o->allowance;
    double shortest = fmin(size.x, fmin(size.y, size.z)) + 2 * o->allowance;
    double cell = fmin(longest / o->cells, shortest / 4);
    // The widened box as envelope_make will have it, about.
    double wide = 2 * (o->allowance + (size.z + 2 * o->allowance + stub) * tan(o->draft));
    if (stub > 0)
        wide += fmax(0, o->stub_diameter - fmin(size.x, size.y) / 2);
    for (int round = 0; round < 200; round++) {
        double n = ((size.x + wide) / cell + 12) * ((size.y + wide) / cell + 12) *
                   ((size.z + 2 * o->allowance + stub) / cell + 12);
        if (n <= most)
            break;
        cell *= 1.05;
    }
    return cell;
}

// The grid with its axes exchanged by a rotation of zeros, ones and minus ones.
static SolidGrid *
turn_grid(const SolidGrid *g, const double rotation[9])
{
    int n[3] = {g->nx, g->ny, g->nz}, from[3], sign[3], size[3];
    double origin[3] = {g->origin.x, g->origin.y, g->origin.z}, start[3];
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    for (int row = 0; row < 3; row++)
        for (int axis = 0; axis < 3; axis++)
            if (rotation[3 * row + axis] != 0) {
                from[row] = axis;
                sign[row] = rotation[3 * row + axis] > 0 ? 1 : -1;
                size[row] = n[axis];
                start[row] = sign[row] > 0 ? origin[axis]
                                           : -(origin[axis] + (n[axis] - 1) * g->cell);
            }
    SolidGrid *out = solid_grid_new(size[0], size[1], size[2], g->cell,
                                    vec3(start[0], start[1], start[2]));
    if (!out)
        return NULL;
    for (int k = 0; k < size[2]; k++)
        for (int j = 0; j < size[1]; j++)
            for (int i = 0; i < size[0]; i++) {
                int at[3] = {i, j, k};
                gsize source = 0;
                for (int row = 0; row < 3; row++)
                    source += step[from[row]] *
                              (gsize)(sign[row] > 0 ? at[row] : size[row] - 1 - at[row]);
                out->value[solid_grid_index(out, i, j, k)] = g->value[source];
            }
    return out;
}

// What one direction costs.
typedef struct {
    Vec3 pull;
    double added, depth; // m3, m
    double part;         // m3
} Cost;

static gboolean
judge_pull(const SolidGrid *field, const EnvelopeOptions *o, Vec3 pull, Cost *cost,
           Progress *progress, GError **error)
{
    double rotation[9];
    EnvelopeResult r;
    pull_rotation(pull, rotation);
    g_autoptr(SolidGrid) turned = turn_grid(field, rotation);
    if (!turned)
        return base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                              "choose a coarser resolution");
    if (!envelope_make(turned, o, NAN, &r, progress, error))
        return FALSE;
    gboolean top_heavy = r.cope_volume > 0.5005 * r.volume;
    if (top_heavy && !(o->stub_diameter > 0 && o->stub_height > 0))
        pull = vec3_scale(pull, -1);
    *cost = (Cost){pull, r.volume - r.part_volume, fmax(r.depth_cope, r.depth_drag), r.part_volume};
    envelope_result_clear(&r);
    return TRUE;
}

gboolean
pull_choose(const SolidMesh *mesh, const EnvelopeOptions *options, Vec3 *pull, Progress *progress,
            GError **error)
{
    EnvelopeOptions o = *options;
    o.quick = TRUE;
    o.cells = MIN(o.cells, COARSE);
    double cell = pull_cell(mesh, &o, COARSE_CELLS), reach = envelope_reach(&o, cell);
    g_autoptr(SolidGrid) field = solid_grid_distance(mesh, cell, reach, reach, progress, error);
    if (!field)
        return FALSE;
    const Vec3 ways[6] = {{0, 0, 1}, {0, 1, 0}, {1, 0, 0}, {0, 0, -1}, {0, -1, 0}, {-1, 0, 0}};
    int n = o.stub_diameter > 0 && o.stub_height > 0 ? 6 : 3;
    Cost best = {0};
    for (int i = 0; i < n; i++) {
        Cost cost = {0};
        if (!judge_pull(field, &o, ways[i], &cost, progress, error))
            return FALSE;
        double equal = 0.002 * cost.part;
        if (i == 0 || cost.added < best.added - equal ||
            (cost.added < best.added + equal && cost.depth < best.depth - 0.5 * cell))
            best = cost;
        progress_set_fraction(progress, 0.4 * (i + 1) / n);
    }
    *pull = vec3(best.pull.x + 0.0, best.pull.y + 0.0, best.pull.z + 0.0); // no minus zero
    return TRUE;
}
