// SPDX-License-Identifier: GPL-3.0-or-later
// The surfaces of a body and of its envelope over their layers: where metal ends between two layers
// and how the surface leans there.
#include "part/sweep.h"
#include "solid/net.h"

#define RIM 0.2  // of a cell a layer; a flatter wall makes no rim between layers
#define OWN 0.15 // of a cell; so near the body's own surface, a layer's wall is the body's

// How far the body's metal goes on from the cell of one layer to that of the next, as a share of
// the way. The outlines of two layers may differ from the body's own by a rounding, or by a wall
// carried on to its end: what is metal at both goes all the way; what is at neither, as far as the
// slope at the next layer, carried back, says that a rim between the two does.
static double
reach_body(const SolidGrid *rough, int i, int j, int k, gboolean low_in)
{
    const float *low = rough->value + solid_grid_index(rough, i, j, k);
    const float *high = low + (gsize)rough->nx * rough->ny;
    double in = low_in ? *low : *high, out = low_in ? *high : *low;
    if (in > 0) {
        double slope = solid_net_slope(rough, i, j, low_in ? k + 1 : k).z * (low_in ? 1 : -1);
        return slope > RIM * rough->cell ? fmax(0, 1 - out / slope) : 0;
    }
    if (out <= 0)
        return 1;
    double share = solid_net_share(rough, i, j, k, 2);
    return low_in ? share : 1 - share;
}

// The outward normal of a drafted wall by the outline's way out at a cell of its layer.
static Vec3
find_wall(const SolidGrid *layers, int i, int j, int k, double up)
{
    if (i < 1 || j < 1 || i + 1 >= layers->nx || j + 1 >= layers->ny)
        return vec3(0, 0, 0);
    const float *p = layers->value + solid_grid_index(layers, i, j, k);
    double x = (double)p[1] - p[-1], y = (double)p[layers->nx] - p[-layers->nx];
    double flat = hypot(x, y);
    // Halfway between two walls the outline has no way out.
    if (flat < layers->cell)
        return vec3(0, 0, 0);
    return vec3_unit(vec3(x / flat, y / flat, up));
}

// What ends the metal between two layers.
typedef enum {
    END_BODY,
    END_WALL,
    END_PARTING,
} End;

// Where the surface lies between two layers. The metal of the layer that has some reaches towards
// the other as far as the body itself does, as the taper of the other's surroundings does, and,
// across the parting, as far as the parting; the furthest counts. Its share of the way.
static double
find_end(const SweepEnvelope *e, int i, int j, int k, End *end)
{
    const SolidGrid *layers = e->layers;
    gsize lower = solid_grid_index(layers, i, j, k);
    gsize upper = lower + (gsize)layers->nx * layers->ny;
    gboolean low_in = layers->value[lower] <= 0;
    double taper = e->tangent * layers->cell, reach = reach_body(e->body->rough, i, j, k, low_in);
    *end = END_BODY;
    double tapered = taper > 0 ? 1 - layers->value[low_in ? upper : lower] / taper : 0;
    if (tapered > reach) {
        reach = tapered;
        *end = END_WALL;
    }
    double share = (e->parting - layers->origin.z) / layers->cell - k;
    double parted = k == e->below ? CLAMP(low_in ? share : 1 - share, 0.0, 1.0) : 0;
    if (parted > reach) {
        reach = parted;
        *end = END_PARTING;
    }
    return low_in ? reach : 1 - reach;
}

static double
rise_envelope(gconstpointer data, int i, int j, int k)
{
    End end;
    return find_end(data, i, j, k, &end);
}

// Does the body's own surface cross between a cell and the next along an axis?
static gboolean
crosses(const SolidGrid *g, int i, int j, int k, int axis)
{
    const gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    const float *p = g->value + solid_grid_index(g, i, j, k);
    return (p[0] <= 0) != (p[step[axis]] <= 0);
}

// The body's normal where `layers` have its own surface, which knows more of it than layers do;
// else theirs.
static Vec3
lean_layers(const SolidGrid *rough, const SolidGrid *layers, int i, int j, int k, int axis)
{
    if (crosses(rough, i, j, k, axis) &&
        fabs(solid_net_share(rough, i, j, k, axis) - solid_net_share(layers, i, j, k, axis)) < OWN)
        return solid_net_normal(rough, i, j, k, axis);
    return solid_net_normal(layers, i, j, k, axis);
}

static Vec3
lean_envelope(gconstpointer data, int i, int j, int k, int axis)
{
    const SweepEnvelope *e = data;
    const SolidGrid *rough = e->body->rough, *layers = e->layers;
    if (axis < 2)
        return lean_layers(rough, layers, i, j, k, axis);
    gboolean low_in = layers->value[solid_grid_index(layers, i, j, k)] <= 0;
    double up = low_in ? 1 : -1;
    End end;
    find_end(e, i, j, k, &end);
    if (end == END_PARTING)
        return vec3(0, 0, up);
    if (end == END_WALL)
        return find_wall(layers, i, j, low_in ? k + 1 : k, up * e->tangent);
    if (crosses(rough, i, j, k, 2))
        return solid_net_normal(rough, i, j, k, 2);
    return vec3_unit(solid_net_slope(rough, i, j, low_in ? k + 1 : k));
}

static double
rise_body(gconstpointer data, int i, int j, int k)
{
    const SweepBody *body = data;
    gboolean low_in = body->section->value[solid_grid_index(body->section, i, j, k)] <= 0;
    double reach = reach_body(body->rough, i, j, k, low_in);
    return low_in ? reach : 1 - reach;
}

static Vec3
lean_body(gconstpointer data, int i, int j, int k, int axis)
{
    const SweepBody *body = data;
    if (axis < 2)
        return lean_layers(body->rough, body->section, i, j, k, axis);
    return crosses(body->rough, i, j, k, 2) ? solid_net_normal(body->rough, i, j, k, 2)
                                            : vec3(0, 0, 0);
}

SolidMesh *
sweep_body_mesh(const SweepBody *body, Progress *progress, GError **error)
{
    SolidNetForm form = {.sharp = TRUE, .rise = rise_body, .lean = lean_body, .data = body};
    return solid_net(body->section, &form, progress, error);
}

SolidMesh *
sweep_envelope_mesh(const SweepEnvelope *envelope, Progress *progress, GError **error)
{
    SolidNetForm form = {
        .sharp = TRUE, .rise = rise_envelope, .lean = lean_envelope, .data = envelope};
    return solid_net(envelope->layers, &form, progress, error);
}
