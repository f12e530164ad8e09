// SPDX-License-Identifier: GPL-3.0-or-later
// From the part's axes to the mould's, and how fine to look.
#include "part/pull.h"

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
