// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting a placed cavity lengthwise. The casting's grid is cut directly when the cavity stands as
// the pattern does; else three layers about the plane are sampled from the turned grid first.
#include "sketch/flask-cut.h"

#include <math.h>

#define STRAIGHT 1e-6 // rad
#define MOST_SIDE 1024

static SolidOutline *
keep_if_cut(SolidOutline *outline)
{
    if (outline && outline->n_points == 0)
        g_clear_pointer(&outline, solid_outline_unref);
    return outline;
}

// Half the plan diagonal: no turned casting reaches further from its middle.
static double
reach_of(const SolidGrid *grid)
{
    double x = fmax(fabs(grid->origin.x), fabs(grid->origin.x + (grid->nx - 1) * grid->cell));
    double y = fmax(fabs(grid->origin.y), fabs(grid->origin.y + (grid->ny - 1) * grid->cell));
    return hypot(x, y);
}

// Three layers of the grid turned by `turn`, with the plane y = offset in the middle one.
static SolidGrid *
sample_turned(const SolidGrid *grid, double turn, double offset)
{
    double cell = grid->cell, reach = reach_of(grid);
    int nx = MIN(MOST_SIDE, (int)ceil(2.0 * reach / cell) + 3);
    Vec3 origin = vec3(-(nx - 1) * cell / 2.0, offset - cell, grid->origin.z);
    SolidGrid *slab = solid_grid_new(nx, 3, grid->nz, cell, origin);
    if (!slab)
        return NULL;
    double c = cos(turn), s = sin(turn);
    for (int k = 0; k < grid->nz; k++) {
        for (int j = 0; j < 3; j++) {
            for (int i = 0; i < nx; i++) {
                double x = origin.x + i * cell, y = origin.y + j * cell;
                Vec3 local = vec3(c * x + s * y, -s * x + c * y, origin.z + k * cell);
                slab->value[solid_grid_index(slab, i, j, k)] = (float)solid_grid_sample(grid,
                                                                                        local);
            }
        }
    }
    return slab;
}

static SolidOutline *
cut_casting(const SolidGrid *grid, double turn, double offset)
{
    if (fabs(offset) > reach_of(grid) + grid->cell)
        return NULL;
    if (fabs(turn) < STRAIGHT)
        return solid_section_grid(grid, 1, offset, 0.0);
    g_autoptr(SolidGrid) slab = sample_turned(grid, turn, offset);
    return slab ? solid_section_grid(slab, 1, offset, 0.0) : NULL;
}

static SolidOutline *
cut_part(const SolidMesh *mesh, double turn, double offset)
{
    if (fabs(turn) < STRAIGHT)
        return solid_section_mesh(mesh, 1, offset);
    double c = cos(turn), s = sin(turn);
    const double rotation[9] = {c, -s, 0, s, c, 0, 0, 0, 1};
    g_autoptr(SolidMesh) turned = solid_mesh_transformed(mesh, rotation, vec3(0, 0, 0));
    return solid_section_mesh(turned, 1, offset);
}

FlaskCut
flask_cut(const PatternResult *pattern, const MouldCavity *cavity, double growth, double at)
{
    FlaskCut cut = {NULL, NULL};
    double turn = remainder(cavity->turn, 2.0 * G_PI);
    double offset = (at - cavity->y) / growth;
    if (!isfinite(turn) || !isfinite(offset) || !isfinite(cavity->x))
        return cut;
    if (pattern->casting)
        cut.casting = keep_if_cut(cut_casting(pattern->casting, turn, offset));
    if (cut.casting && pattern->part)
        cut.part = keep_if_cut(cut_part(pattern->part, turn, offset));
    return cut;
}

void
flask_cut_clear(FlaskCut *cut)
{
    g_clear_pointer(&cut->casting, solid_outline_unref);
    g_clear_pointer(&cut->part, solid_outline_unref);
}
