// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "pattern": turns the part so that it is drawn along z, fills it out to the rough casting
// and puts the parting at z = 0.
#include "part/pattern.h"

#include <glib/gi18n-lib.h>

#include "part/envelope.h"
#include "part/pattern-figures.h"
#include "part/pull.h"

// The most cells a casting's grid may have, for memory: about half a gigabyte in all.
#define MOST_CELLS 24e6

const char *const pattern_reads[] = {"job.allowance",   "job.draft",           "job.pull",
                                     "job.contraction", "job.stub_diameter",   "job.stub_height",
                                     "job.cells",       "job.close_holes",     "job.fillet",
                                     "job.min_wall",    "metal.density_solid", NULL};

// The shape hangs on these.
static const char *const needed[] = {"job.allowance",   "job.draft",       "job.stub_diameter",
                                     "job.stub_height", "job.close_holes", "job.fillet",
                                     "job.min_wall",    "job.cells",       NULL};

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

static EnvelopeOptions
read_options(const Inputs *inputs)
{
    return (EnvelopeOptions){.allowance = inputs_number(inputs, "job.allowance"),
                             .draft = inputs_number(inputs, "job.draft"),
                             .stub_diameter = inputs_number(inputs, "job.stub_diameter"),
                             .stub_height = inputs_number(inputs, "job.stub_height"),
                             .close_holes = inputs_number(inputs, "job.close_holes"),
                             .fillet = inputs_number(inputs, "job.fillet"),
                             .min_wall = inputs_number(inputs, "job.min_wall"),
                             .cells = (int)inputs_number(inputs, "job.cells")};
}

// The pull as typed, else the best; FALSE with an error.
static gboolean
find_pull(const Inputs *inputs, const PartResult *part, const EnvelopeOptions *o, Vec3 *pull,
          Progress *progress, GError **error)
{
    const char *typed = inputs_text(inputs, "job.pull");
    double v[3];
    if (!typed || !*typed) {
        progress_set_words(progress, _("Choosing the pull"));
        return pull_choose(part->mesh, o, pull, progress, error);
    }
    if (!field_vector(typed, v, error))
        return FALSE;
    *pull = vec3_unit(vec3(v[0], v[1], v[2]));
    return TRUE;
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
    g_autoptr(SolidOutline) shadow = solid_section_shadow(e->casting, 0);
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
    // Both halves widen towards the parting, so the shadow is also the outline there.
    r->shadow = solid_section_shadow(r->casting, 0);
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

static PatternResult *
make_pattern(const PartResult *part, const EnvelopeOptions *o, Vec3 pull, EnvelopeResult *e,
             Progress *progress, GError **error)
{
    g_autoptr(PatternResult) r = g_atomic_rc_box_new0(PatternResult);
    r->pull = pull;
    pull_rotation(pull, r->rotation);
    g_autoptr(SolidMesh) turned = solid_mesh_transformed(part->mesh, r->rotation, vec3(0, 0, 0));
    double cell = pull_cell(turned, o, MOST_CELLS), reach = envelope_reach(o, cell);
    progress_set_words(progress, _("Measuring distances"));
    g_autoptr(SolidGrid)
                  distance = solid_grid_distance(turned, cell, reach, reach, progress, error);
    if (!distance)
        return NULL;
    progress_set_fraction(progress, 0.7);
    progress_set_words(progress, _("Filling out the casting"));
    if (!envelope_make(distance, o, NAN, e, progress, error))
        return NULL;
    settle(r, e, distance, part->mesh);
    // The mesh's own volume is exact unless shells overlap, where the cells know better.
    double exact = part->measure.volume;
    r->overlaps = fabs(e->part_volume - exact) > 0.005 * exact;
    if (fabs(e->part_volume - exact) <= 0.02 * exact)
        e->part_volume = exact;
    // Far below what cells can tell; what is left there is rounding.
    double *added[] = {&e->undercut_volume, &e->draft_volume,  &e->stub_volume,
                       &e->wall_volume,     &e->fillet_volume, &e->closed_volume};
    for (guint i = 0; i < G_N_ELEMENTS(added); i++)
        if (fabs(*added[i]) < 1e-8 * exact)
            *added[i] = 0;
    e->volume = e->part_volume + e->allowance_volume + e->wall_volume + e->fillet_volume +
                e->closed_volume + e->stub_volume + e->undercut_volume + e->draft_volume;
    r->volume = e->volume;
    r->area = e->area;
    r->draft = o->draft;
    name_causes(r, e);
    r->thinnest = fmax(part->min_wall + 2 * o->allowance, o->min_wall);
    if (!face_draft(part->mesh, NULL, pull, e->parting, o->draft, &r->faces, progress, error))
        return NULL;
    return g_steal_pointer(&r);
}

PatternResult *
pattern_make(const PartResult *part, const EnvelopeOptions *options, const Vec3 *pull,
             EnvelopeResult *envelope, Progress *progress, GError **error)
{
    Vec3 way;
    if (pull)
        way = vec3_unit(*pull);
    else if (!pull_choose(part->mesh, options, &way, progress, error))
        return NULL;
    return make_pattern(part, options, way, envelope, progress, error);
}

PatternResult *
pattern_stage(const Inputs *inputs, const PartResult *part, FigureList *figures, Progress *progress,
              GError **error)
{
    inputs_give(inputs, figures);
    if (!part || !part->check.closed) {
        pattern_figures_unknown(figures, "part.closed");
        return NULL;
    }
    for (int i = 0; needed[i]; i++)
        if (isnan(inputs_number(inputs, needed[i]))) {
            pattern_figures_unknown(figures, needed[i]);
            return NULL;
        }
    EnvelopeOptions o = read_options(inputs);
    Vec3 pull;
    if (!find_pull(inputs, part, &o, &pull, progress, error)) {
        pattern_figures_unknown(figures, "job.pull");
        return NULL;
    }
    EnvelopeResult e = {0};
    g_autoptr(PatternResult) r = pattern_make(part, &o, &pull, &e, progress, error);
    if (!r) {
        pattern_figures_unknown(figures, "part.volume");
        return NULL;
    }
    pattern_figures_add(figures, inputs, part, r, &e);
    envelope_result_clear(&e);
    progress_set_fraction(progress, 1);
    return g_steal_pointer(&r);
}
