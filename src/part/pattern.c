// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "pattern": turns the part so that it is drawn along z, fills it out to the rough casting
// and puts the parting at z = 0.
#include "part/pattern.h"

#include <glib/gi18n-lib.h>

#include "part/envelope.h"
#include "part/pattern-figures.h"
#include "part/pull-stage.h"
#include "part/pull.h"
#include "solid/spread.h"

// The most cells a casting's grid may have, for memory: about half a gigabyte in all.
#define MOST_CELLS 24e6
#define STRAIGHT 1e-7 // m; points of the shadow that lie nearer to a line are left out

const char *const pattern_reads[] = {
    "job.allowance",   "job.draft",           "job.contraction",     "job.stub_diameter",
    "job.stub_height", "job.cells",           "job.close_holes",     "job.fillet",
    "job.min_wall",    "job.peg_slenderness", "metal.density_solid", NULL};

static void
clear_result(gpointer data)
{
    PatternResult *r = data;
    solid_mesh_unref(r->part);
    solid_grid_unref(r->part_distance);
    solid_grid_unref(r->casting);
    solid_mesh_unref(r->mesh);
    solid_outline_unref(r->shadow);
    solid_outline_unref(r->parting_outline);
    face_draft_clear(&r->faces);
    cause_bodies_unref(r->bodies);
    solid_outline_unref(r->side[0]);
    solid_outline_unref(r->side[1]);
}

PatternResult *
pattern_result_ref(const PatternResult *result)
{
    return g_atomic_rc_box_acquire((PatternResult *)result);
}

void
pattern_result_unref(const PatternResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((PatternResult *)result, clear_result);
}

static void
move_grid(SolidGrid *grid, Vec3 shift)
{
    grid->origin = vec3_add(grid->origin, shift);
}

static SolidMesh *
move_mesh(const SolidMesh *mesh, Vec3 shift)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    return solid_mesh_transformed(mesh, same, shift);
}

// Puts everything into mould axes: parting at z = 0, plan box in the middle. Nothing has been
// handed on yet, so the grids may still be moved.
static void
settle(PatternResult *r, EnvelopeResult *e, SolidGrid *distance, const SolidMesh *part)
{
    SolidPoint low, high;
    g_autoptr(SolidOutline) cut = solid_section_shadow(e->casting, 0);
    // Cells cut corners; sand is measured to the skin, which has them.
    g_autoptr(SolidOutline) held = solid_outline_holding(cut, e->mesh, e->casting->cell);
    SolidOutline *shadow = solid_outline_simplified(held, STRAIGHT);
    solid_outline_box(shadow, &low, &high);
    r->shift = vec3(-0.5 * (low.x + high.x), -0.5 * (low.y + high.y), -e->parting);
    r->part = solid_mesh_transformed(part, r->rotation, r->shift);
    r->mesh = move_mesh(e->mesh, r->shift);
    move_grid(distance, r->shift);
    move_grid(e->casting, r->shift);
    r->part_distance = solid_grid_ref(distance);
    r->casting = solid_grid_ref(e->casting);
    e->bodies->origin = r->casting->origin;
    r->bodies = cause_bodies_ref(e->bodies);
    r->height_cope = e->depth_cope;
    r->height_drag = e->depth_drag;
    r->min = vec3(low.x + r->shift.x, low.y + r->shift.y, -r->height_drag);
    r->max = vec3(high.x + r->shift.x, high.y + r->shift.y, r->height_cope);
    for (guint i = 0; i < shadow->n_points; i++) {
        shadow->points[i].x += r->shift.x;
        shadow->points[i].y += r->shift.y;
    }
    // Both halves widen towards the parting, so the shadow is also the outline there.
    r->shadow = shadow;
    r->parting_outline = solid_outline_ref(r->shadow);
    r->projected_area = solid_outline_area(r->shadow);
    for (int axis = 0; axis < 2; axis++)
        r->side[axis] = cause_side(r->casting, axis);
}

// Whatever a cause adds nothing to needs no body of its own.
static void
name_causes(PatternResult *r, const EnvelopeResult *e)
{
    const double volume[CAUSE_COUNT] = {e->part_volume,   e->allowance_volume, e->wall_volume,
                                        e->fillet_volume, e->closed_volume,    e->undercut_volume,
                                        e->stub_volume,   e->draft_volume};
    for (int c = 0; c < CAUSE_COUNT; c++) {
        r->cause_volume[c] = volume[c];
        if (volume[c] == 0)
            cause_bodies_drop(r->bodies, (Cause)c);
    }
}

// The mesh's own volume is better than that of the cells. Where walls are lost between cells the
// two are far apart; the allowance, if there is one, found them again.
static void
take_exact(EnvelopeResult *e, double exact, gboolean grown)
{
    gboolean lost = fabs(e->part_volume - exact) > 0.02 * exact;
    if (lost && grown)
        e->allowance_volume += e->part_volume - exact;
    if (!lost || grown)
        e->part_volume = exact;
}

// Places on the skin, each with the same share, that lie more than a cell less deep than they
// should.
static double
find_outside(const SolidMesh *part, const SolidGrid *casting, double allowance)
{
    g_autoptr(GArray) places = solid_spread(part, 8000);
    guint outside = 0;
    for (guint i = 0; i < places->len; i++) {
        const SolidPlace *place = &g_array_index(places, SolidPlace, i);
        outside += solid_grid_sample(casting, place->at) > casting->cell - allowance;
    }
    return places->len > 0 ? (double)outside / places->len : 0;
}

PatternResult *
pattern_make(const PartResult *part, const EnvelopeOptions *o, Vec3 pull, EnvelopeResult *e,
             Progress *progress, GError **error)
{
    g_autoptr(PatternResult) r = g_atomic_rc_box_new0(PatternResult);
    r->pull = vec3_unit(pull);
    pull_rotation(r->pull, r->rotation);
    g_autoptr(SolidMesh) turned = solid_mesh_transformed(part->mesh, r->rotation, vec3(0, 0, 0));
    double cell = pull_cell(turned, o, MOST_CELLS), reach = envelope_reach(o, cell);
    progress_set_words(progress, _("Measuring distances"));
    g_autoptr(SolidGrid)
                  distance = solid_grid_distance(turned, cell, reach, reach, progress, error);
    if (!distance)
        return NULL;
    progress_set_fraction(progress, 0.7);
    progress_set_words(progress, _("Filling out the casting"));
    EnvelopeOptions held = *o;
    held.part = turned;
    if (!envelope_make(distance, &held, NAN, e, progress, error))
        return NULL;
    settle(r, e, distance, part->mesh);
    double skin = solid_measure(part->mesh).volume; // counts what lies in two shells twice
    r->overlaps = fabs(skin - part->measure.volume) > 0.005 * part->measure.volume;
    take_exact(e, part->measure.volume, o->allowance > 0);
    // Far below what cells can tell; what is left there is rounding.
    double *added[] = {&e->undercut_volume, &e->draft_volume,  &e->stub_volume,
                       &e->wall_volume,     &e->fillet_volume, &e->closed_volume};
    for (guint i = 0; i < G_N_ELEMENTS(added); i++)
        if (fabs(*added[i]) < 1e-8 * part->measure.volume)
            *added[i] = 0;
    e->volume = e->part_volume + e->allowance_volume + e->wall_volume + e->fillet_volume +
                e->closed_volume + e->stub_volume + e->undercut_volume + e->draft_volume;
    r->volume = e->volume;
    r->area = e->area;
    r->outside = find_outside(r->part, r->casting, o->allowance);
    r->draft = o->draft;
    name_causes(r, e);
    r->thinnest = fmax(part->min_wall + 2 * o->allowance, o->min_wall);
    if (!face_draft(part->mesh, NULL, r->pull, e->parting, o->draft, &r->faces, progress, error))
        return NULL;
    return g_steal_pointer(&r);
}

PatternResult *
pattern_stage(const Inputs *inputs, const PartResult *part, const PullResult *pull,
              FigureList *figures, Progress *progress, GError **error)
{
    inputs_give(inputs, figures);
    const char *missing = NULL;
    EnvelopeOptions o = pull_options(inputs, &missing);
    double cells = inputs_number(inputs, "job.cells");
    if (!part || !part->solid)
        missing = "part.closed";
    else if (!missing && isnan(cells))
        missing = "job.cells";
    else if (!missing && !pull)
        missing = "job.pull";
    if (missing) {
        pattern_figures_unknown(figures, missing);
        return NULL;
    }
    o.cells = (int)cells;
    o.peg_slenderness = inputs_number(inputs, "job.peg_slenderness");
    EnvelopeResult e = {0};
    g_autoptr(PatternResult) r = pattern_make(part, &o, pull->pull, &e, progress, error);
    if (!r) {
        pattern_figures_unknown(figures, "part.volume");
        return NULL;
    }
    pattern_figures_add(figures, inputs, part, r, &e);
    envelope_result_clear(&e);
    progress_set_fraction(progress, 1);
    return g_steal_pointer(&r);
}
