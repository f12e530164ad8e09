// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "part": reads the finished part, checks its skin and measures it.
#include "part/part.h"

#include <glib/gi18n-lib.h>

#include "base/digest.h"
#include "base/error.h"
#include "part/findings.h"
#include "part/wall.h"
#include "solid/read.h"

const char *const part_reads[] = {"mesh", "job.mesh_unit", NULL};

static const FigureSpec spec_closed = {"part.closed",
                                       N_("Closed skin"),
                                       QUANTITY_COUNT,
                                       NULL,
                                       N_("1 when every edge of the mesh has two triangles that "
                                          "run along it in opposite ways, so that "
                                          "it bounds a solid, and it holds something; else 0."),
                                       "definition",
                                       FIGURE_AT_LEAST};
static const FigureSpec spec_volume = {
    "part.volume",
    N_("Volume of the part"),
    QUANTITY_VOLUME,
    NULL,
    N_("Sum of the signed tetrahedra between each triangle and the middle of the box, less what "
       "lies in several shells at once."),
    "geometry"};
static const FigureSpec spec_overlap = {
    "part.overlap_volume",
    N_("In more than one shell"),
    QUANTITY_VOLUME,
    NULL,
    N_("What lies within several shells, or twice within one, by counting skins along some 65,000 "
       "lines each of x, y and z. It is metal, and counts once."),
    "geometry"};
static const FigureSpec spec_area = {"part.area", N_("Surface of the part"),   QUANTITY_AREA,
                                     NULL,        N_("Sum of the triangles."), "geometry"};
static const FigureSpec spec_size[3] = {{"part.size.x", N_("Length along x"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"},
                                        {"part.size.y", N_("Length along y"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"},
                                        {"part.size.z", N_("Length along z"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"}};
static const FigureSpec spec_wall = {
    "part.min_wall",
    N_("Thinnest wall of the part"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least way straight in from one face to another that looks away from it (within 30 "
       "degrees), "
       "from some 8000 places spread over the surface: a thin place smaller than their spacing may "
       "be missed."),
    "geometry"};

static void
clear_result(gpointer data)
{
    PartResult *result = data;
    solid_mesh_unref(result->mesh);
    g_strfreev(result->findings);
    g_free(result->digest);
}

PartResult *
part_result_ref(const PartResult *result)
{
    return g_atomic_rc_box_acquire((PartResult *)result);
}

void
part_result_unref(const PartResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((PartResult *)result, clear_result);
}

static char *
digest_mesh(const SolidMesh *mesh)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_bytes(digest, mesh->vertices, (gsize)mesh->n_vertices * sizeof *mesh->vertices);
    digest_add_bytes(digest, mesh->triangles, (gsize)mesh->n_triangles * sizeof *mesh->triangles);
    return digest_end(digest);
}

static void
add_unknown(FigureList *figures, const char *missing, gboolean all)
{
    if (all) {
        figure_add_unknown(figures, &spec_closed, missing);
        figure_add_unknown(figures, &spec_area, missing);
        for (int i = 0; i < 3; i++)
            figure_add_unknown(figures, &spec_size[i], missing);
    }
    figure_add_unknown(figures, &spec_volume, missing);
    figure_add_unknown(figures, &spec_overlap, missing);
    figure_add_unknown(figures, &spec_wall, missing);
}

static void
add_closed(const PartResult *r, const PartFindings *f, FigureList *figures)
{
    Figure *closed = figure_add(figures, &spec_closed, f->solid ? 1 : 0, "mesh", NULL);
    g_autofree char *words = solid_check_words(&r->check);
    g_autofree char *found = g_strjoinv(" ", r->findings);
    figure_limit(closed, 1, NULL);
    if (!r->findings[0])
        figure_set_note(closed, "%s", words);
    else if (f->check.closed)
        figure_set_note(closed, "%s. %s", words, found);
    else
        figure_set_note(closed, "%s", found);
}

static void
add_figures(const PartResult *r, const PartFindings *f, FigureList *figures)
{
    const SolidMeasure *m = &r->measure;
    double size[3] = {m->max.x - m->min.x, m->max.y - m->min.y, m->max.z - m->min.z};
    add_closed(r, f, figures);
    Figure *area = figure_add(figures, &spec_area, m->area, "mesh", NULL);
    if (f->overlap.excess != 0)
        figure_set_note(area, _("With the faces that lie within the metal."));
    for (int i = 0; i < 3; i++)
        figure_add(figures, &spec_size[i], size[i], "mesh", NULL);
    if (!f->solid) {
        add_unknown(figures, "part.closed", FALSE);
        return;
    }
    figure_add(figures, &spec_volume, m->volume, "mesh", NULL);
    figure_add(figures, &spec_overlap, f->overlap.doubled, "mesh", NULL);
    if (isnan(r->min_wall))
        figure_set_note(figure_add_unknown(figures, &spec_wall, "mesh"),
                        _("No two faces look away from each other."));
    else
        figure_add(figures, &spec_wall, r->min_wall, "mesh", NULL);
}

static PartResult *
measure_part(const SolidMesh *mesh, const UnitSet *units, FigureList *figures, Progress *progress,
             GError **error)
{
    g_auto(PartFindings) f = {0};
    if (!part_find(mesh, &f, progress, error))
        return NULL;
    g_autoptr(PartResult) result = g_atomic_rc_box_new0(PartResult);
    result->mesh = solid_mesh_ref(f.mesh);
    result->check = f.check;
    result->solid = f.solid;
    result->measure = f.measure;
    result->findings = part_findings_words(&f, units);
    result->min_wall = NAN;
    if (f.solid) {
        GError *stopped = NULL;
        result->min_wall = wall_thinnest(result->mesh, progress, &stopped);
        if (stopped) {
            g_propagate_error(error, stopped);
            return NULL;
        }
    }
    result->digest = digest_mesh(result->mesh);
    add_figures(result, &f, figures);
    return g_steal_pointer(&result);
}

PartResult *
part_stage(const Inputs *inputs, FigureList *figures, Progress *progress, GError **error)
{
    inputs_give(inputs, figures);
    const char *path = inputs_mesh_path(inputs);
    if (!path) {
        add_unknown(figures, "job.mesh", TRUE);
        base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no finished part is chosen"),
                       _("choose its mesh file"));
        return NULL;
    }
    progress_set_words(progress, _("Reading the part"));
    g_autoptr(SolidMesh)
                  mesh = solid_read(path, inputs_text(inputs, "job.mesh_unit"), progress, error);
    if (!mesh) {
        add_unknown(figures, "job.mesh", TRUE);
        return NULL;
    }
    UnitSet units = inputs_units(inputs);
    return measure_part(mesh, &units, figures, progress, error);
}

PartResult *
part_measure(const SolidMesh *mesh, FigureList *figures, Progress *progress, GError **error)
{
    UnitSet units = unit_set_default();
    return measure_part(mesh, &units, figures, progress, error);
}
