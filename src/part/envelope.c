// SPDX-License-Identifier: GPL-3.0-or-later
// The drawable envelope of a part, and what each cause adds to it. The bodies are, in turn: the
// part; with its allowance; what leaves the sand without taper; the same with the stub; and with
// the draft. Each is measured on the same grid in the same way, so that what they add is not lost
// in the error of what they share.
#include "part/envelope.h"

#include <string.h>

#include "base/error.h"
#include "part/hold.h"
#include "part/overhang.h"
#include "part/shape.h"
#include "part/sweep.h"

#define LEAST_ADDED 1e-5 // of a body; less is rounding

void
envelope_result_clear(EnvelopeResult *result)
{
    g_clear_pointer(&result->casting, solid_grid_unref);
    g_clear_pointer(&result->mesh, solid_mesh_unref);
    g_clear_pointer(&result->bodies, cause_bodies_unref);
}

// Middle of the part in plan, the stub's axis.
static SolidPoint
find_axis(const SolidGrid *part)
{
    double n = 0, x = 0, y = 0;
    for (int k = 0; k < part->nz; k++)
        for (int j = 0; j < part->ny; j++)
            for (int i = 0; i < part->nx; i++) {
                double v = part->value[solid_grid_index(part, i, j, k)];
                double share = CLAMP(0.5 - v / part->cell, 0.0, 1.0);
                n += share;
                x += share * i;
                y += share * j;
            }
    if (n > 0) {
        x /= n;
        y /= n;
    }
    return (SolidPoint){part->origin.x + x * part->cell, part->origin.y + y * part->cell};
}

// Cells to add on each side, so that the metal ends well inside the grid.
typedef struct {
    int plan, below, above;
} Pad;

// How far (m) the stub reaches out of the part's grid in plan.
static double
find_overhang(const SolidGrid *part, double radius)
{
    SolidPoint axis = find_axis(part);
    double x = axis.x - part->origin.x, y = axis.y - part->origin.y;
    double left = fmin(x, (part->nx - 1) * part->cell - x);
    double front = fmin(y, (part->ny - 1) * part->cell - y);
    return fmax(0, radius - fmin(left, front));
}

static Pad
find_pad(const SolidGrid *part, const EnvelopeOptions *o)
{
    double stub = o->stub_diameter > 0 ? o->stub_height : 0;
    double height = (part->nz - 1) * part->cell + stub;
    double plan = o->allowance + height * tan(o->draft);
    if (stub > 0)
        plan += find_overhang(part, o->stub_diameter / 2);
    double grown = o->allowance + o->min_wall / 2;
    plan += o->min_wall / 2;
    // The part's own margin holds what a fillet needs.
    return (Pad){(int)ceil(plan / part->cell) + 2, (int)ceil(grown / part->cell) + 2,
                 (int)ceil((grown + stub) / part->cell) + 3};
}

double
envelope_reach(const EnvelopeOptions *o, double cell)
{
    return o->allowance + o->fillet + o->min_wall / 2 + 3 * cell;
}

double
envelope_cells(const SolidGrid *part, const EnvelopeOptions *options)
{
    Pad pad = find_pad(part, options);
    return (part->nx + 2.0 * pad.plan) * (part->ny + 2.0 * pad.plan) *
           (part->nz + (double)pad.below + pad.above);
}

// The part's distance less `allowance` on the wider grid.
static SolidGrid *
widen_part(const SolidGrid *part, Pad pad, double allowance, GError **error)
{
    double cell = part->cell;
    Vec3 origin = vec3(part->origin.x - pad.plan * cell, part->origin.y - pad.plan * cell,
                       part->origin.z - pad.below * cell);
    SolidGrid *g = solid_grid_new(part->nx + 2 * pad.plan, part->ny + 2 * pad.plan,
                                  part->nz + pad.below + pad.above, cell, origin);
    if (!g) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the casting's grid has too many cells",
                       "choose a coarser resolution or less draft");
        return NULL;
    }
#pragma omp parallel for schedule(static)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                int x = i - pad.plan, y = j - pad.plan, z = k - pad.below;
                int hx = CLAMP(x, 0, part->nx - 1), hy = CLAMP(y, 0, part->ny - 1);
                int hz = CLAMP(z, 0, part->nz - 1);
                double away = sqrt((double)(x - hx) * (x - hx) + (double)(y - hy) * (y - hy) +
                                   (double)(z - hz) * (z - hz));
                g->value[solid_grid_index(g, i, j, k)] =
                    (float)(part->value[solid_grid_index(part, hx, hy, hz)] + cell * away -
                            allowance);
            }
    return g;
}

// Joins an upright cylinder from z = low to z = high to the body.
static void
add_stub(SolidGrid *g, SolidPoint axis, double radius, double low, double high)
{
#pragma omp parallel for schedule(static)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                double z = g->origin.z + k * g->cell;
                double side = hypot(g->origin.x + i * g->cell - axis.x,
                                    g->origin.y + j * g->cell - axis.y) -
                              radius;
                double d = fmax(side, fmax(low - z, z - high));
                float *value = &g->value[solid_grid_index(g, i, j, k)];
                *value = (float)fmin(*value, d);
            }
}

static void
measure_mesh(const SolidMesh *mesh, double *volume, double *area)
{
    Vec3 o = mesh->n_vertices > 0 ? mesh->vertices[0] : vec3(0, 0, 0);
    *volume = *area = 0;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Vec3 v[3];
        for (int c = 0; c < 3; c++)
            v[c] = vec3_sub(mesh->vertices[mesh->triangles[t][c]], o);
        *volume += vec3_dot(v[0], vec3_cross(v[1], v[2])) / 6;
        *area += 0.5 * vec3_length(vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0])));
    }
}

static gboolean
measure_body(const SweepBody *body, double *volume, Progress *progress, GError **error)
{
    double area;
    g_autoptr(SolidMesh) mesh = sweep_body_mesh(body, progress, error);
    if (!mesh)
        return FALSE;
    measure_mesh(mesh, volume, &area);
    return TRUE;
}

// Distance of an envelope from its surface, within two cells of it.
static SolidGrid *
measure_distance(const SweepEnvelope *e, const SolidMesh *mesh, Progress *progress, GError **error)
{
    gsize n = (gsize)e->layers->nx * e->layers->ny * e->layers->nz;
    g_autofree guint8 *inside = g_new(guint8, n);
    for (gsize i = 0; i < n; i++)
        inside[i] = e->layers->value[i] <= 0;
    return solid_grid_distance_as(mesh, inside, e->layers, 2 * e->layers->cell, progress, error);
}

// What leaves the sand without taper, kept as the body of `cause` when bodies are kept and it is
// more than `before` by enough to be worth the work.
static gboolean
measure_undrafted(const SweepBody *body, double parting, double before, CauseBodies *bodies,
                  Cause cause, double *volume, Progress *progress, GError **error)
{
    SweepEnvelope e;
    double area;
    if (!sweep_envelope(body, 0, parting, &e, progress, error))
        return FALSE;
    g_autoptr(SolidMesh) mesh = sweep_envelope_mesh(&e, progress, error);
    gboolean ok = mesh != NULL;
    if (ok)
        measure_mesh(mesh, volume, &area);
    if (ok && bodies && *volume > before * (1 + LEAST_ADDED)) {
        g_autoptr(SolidGrid) distance = measure_distance(&e, mesh, progress, error);
        ok = distance != NULL;
        if (ok)
            cause_bodies_keep(bodies, cause, distance);
    }
    sweep_envelope_clear(&e);
    return ok;
}

// Volume above the parting by the share of each layer's cells, scaled to the mesh's volume.
static double
measure_cope(const SweepEnvelope *e, double volume)
{
    const SolidGrid *g = e->layers;
    gsize layer = (gsize)g->nx * g->ny;
    double cope = 0, all = 0;
    for (int k = 0; k < g->nz; k++) {
        double sum = 0;
        for (gsize p = 0; p < layer; p++)
            sum += CLAMP(0.5 - g->value[(gsize)k * layer + p] / g->cell, 0.0, 1.0);
        double share = (g->origin.z + (k + 0.5) * g->cell - e->parting) / g->cell;
        cope += CLAMP(share, 0.0, 1.0) * sum;
        all += sum;
    }
    return all > 0 ? volume * cope / all : 0;
}

// The drafted envelope: its volume and, unless quick, surface and distance.
static gboolean
finish_envelope(const SweepBody *body, const EnvelopeOptions *o, EnvelopeResult *r,
                Progress *progress, GError **error)
{
    SweepEnvelope e;
    if (!sweep_envelope(body, tan(o->draft), r->parting, &e, progress, error))
        return FALSE;
    g_autoptr(SolidMesh) mesh = sweep_envelope_mesh(&e, progress, error);
    gboolean ok = mesh != NULL;
    double cell = body->rough->cell;
    if (ok && !o->quick && o->part)
        ok = hold_vertices(mesh, o->part, o->allowance, cell, progress, error);
    if (ok && !o->quick)
        ok = overhang_fill(mesh, r->parting, tan(o->draft), cell, progress, error);
    if (ok) {
        measure_mesh(mesh, &r->volume, &r->area);
        r->cope_volume = measure_cope(&e, r->volume);
    }
    if (ok && !o->quick) {
        PegSand sand = {e.layers, body->section, e.parting, e.below};
        peg_find(&sand, &r->peg, progress);
        double cure = o->peg_slenderness > 0 ? peg_cure(&sand, o->peg_slenderness, progress) : 0;
        r->close_holes = cure > 0 ? cure + 2 * o->allowance : 0;
        r->casting = measure_distance(&e, mesh, progress, error);
        r->mesh = g_steal_pointer(&mesh);
        ok = r->casting != NULL;
    }
    sweep_envelope_clear(&e);
    return ok;
}

static gboolean
measure_part(const SolidGrid *part, Pad pad, double *volume, Progress *progress, GError **error)
{
    SweepBody body = {.rough = widen_part(part, pad, 0, error)};
    gboolean ok = body.rough && sweep_sections(&body, progress, error) &&
                  measure_body(&body, volume, progress, error);
    sweep_body_clear(&body);
    return ok;
}

// Allowance, thicker walls, fillets and closed holes, each measured.
static gboolean
make_rough(const SolidGrid *part, Pad pad, const EnvelopeOptions *o, SweepBody *body,
           EnvelopeResult *r, double *volume, Progress *progress, GError **error)
{
    body->rough = widen_part(part, pad, o->allowance, error);
    if (!body->rough || !sweep_sections(body, progress, error))
        return FALSE;
    if (body->first > body->last)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                              "the part is thinner than the cells everywhere",
                              "choose a finer resolution");
    if (!measure_body(body, volume, progress, error))
        return FALSE;
    r->part_volume = *volume;
    if (o->allowance > 0 && !measure_part(part, pad, &r->part_volume, progress, error))
        return FALSE;
    r->allowance_volume = *volume - r->part_volume;
    if (!o->quick)
        r->bodies = cause_bodies_new(body->rough);
    if (r->bodies && o->allowance > 0)
        cause_bodies_keep(r->bodies, CAUSE_ALLOWANCE, body->rough);
    const struct {
        double size;
        gboolean (*change)(SolidGrid *, double, Progress *, GError **);
        double *added;
        Cause cause;
    } steps[3] = {
        {o->min_wall, shape_thicken, &r->wall_volume, CAUSE_WALL},
        {o->fillet, shape_fillet, &r->fillet_volume, CAUSE_FILLET},
        {o->close_holes - 2 * o->allowance, shape_close_holes, &r->closed_volume, CAUSE_CLOSED}};
    for (int i = 0; i < 3; i++) {
        if (!(steps[i].size > 0))
            continue;
        double before = *volume;
        SolidGrid *rough = g_steal_pointer(&body->rough);
        SweepBody next = {.rough = rough};
        body->rough = solid_grid_ref(rough); // its layers still count the old reaches
        sweep_body_clear(body);
        *body = next;
        if (!steps[i].change(rough, steps[i].size, progress, error) ||
            !sweep_sections(body, progress, error) || !measure_body(body, volume, progress, error))
            return FALSE;
        *steps[i].added = *volume - before;
        if (r->bodies)
            cause_bodies_keep(r->bodies, steps[i].cause, body->rough);
    }
    return TRUE;
}

static SolidGrid *
copy_grid(const SolidGrid *g, GError **error)
{
    SolidGrid *out = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    if (out)
        memcpy(out->value, g->value, (gsize)g->nx * g->ny * g->nz * sizeof *g->value);
    else
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the casting's grid has too many cells",
                       "choose a coarser resolution");
    return out;
}

static gboolean
make_bodies(const SolidGrid *part, const EnvelopeOptions *o, double parting, SweepBody *body,
            EnvelopeResult *r, Progress *progress, GError **error)
{
    Pad pad = find_pad(part, o);
    double tangent = tan(o->draft), rough_volume, drawn, stubbed;
    if (!make_rough(part, pad, o, body, r, &rough_volume, progress, error))
        return FALSE;
    double top = body->high;
    gboolean stub = o->stub_diameter > 0 && o->stub_height > 0;
    if (stub) {
        SweepBody bare = *body;
        *body = (SweepBody){.rough = copy_grid(bare.rough, error)};
        gboolean ok = body->rough != NULL;
        if (ok)
            add_stub(body->rough, find_axis(part), o->stub_diameter / 2, top - part->cell,
                     top + o->stub_height);
        ok = ok && sweep_sections(body, progress, error);
        if (ok && isnan(parting))
            parting = sweep_best_parting(body, tangent, top, progress);
        ok = ok && measure_undrafted(&bare, parting, rough_volume, r->bodies, CAUSE_UNDERCUT,
                                     &drawn, progress, error);
        sweep_body_clear(&bare);
        if (!ok || !measure_undrafted(body, parting, drawn, r->bodies, CAUSE_STUB, &stubbed,
                                      progress, error))
            return FALSE;
    } else {
        if (isnan(parting))
            parting = sweep_best_parting(body, tangent, top, progress);
        if (!measure_undrafted(body, parting, rough_volume, r->bodies, CAUSE_UNDERCUT, &drawn,
                               progress, error))
            return FALSE;
        stubbed = drawn;
    }
    r->parting = parting;
    r->undercut_volume = drawn - rough_volume;
    r->stub_volume = stubbed - drawn;
    r->depth_cope = fmax(0, body->high - parting);
    r->depth_drag = fmax(0, parting - body->low);
    if (!finish_envelope(body, o, r, progress, error))
        return FALSE;
    r->draft_volume = r->volume - stubbed;
    return TRUE;
}

gboolean
envelope_make(const SolidGrid *part, const EnvelopeOptions *options, double parting,
              EnvelopeResult *result, Progress *progress, GError **error)
{
    g_return_val_if_fail(options->allowance >= 0 && options->draft >= 0, FALSE);
    SweepBody body = {0};
    EnvelopeResult r = {0};
    gboolean ok = make_bodies(part, options, parting, &body, &r, progress, error);
    sweep_body_clear(&body);
    if (ok)
        *result = r;
    else
        envelope_result_clear(&r);
    return ok;
}
